//! The question in domain terms: a place, a winter, groups, offers, and what the user changes.

use crate::feed::Offer;
use crate::herd::{Group, Period, Place};
pub use crate::limit::LimitChange;
pub use crate::need::NeedsOverride;
use crate::quantity::KgAsFed;
use indexmap::IndexMap;

/// A ration to be judged: kg as fed per head and day by feed id.
pub type HandRation = IndexMap<String, KgAsFed>;

/// Choices for the whole winter.
#[derive(Debug, Clone, PartialEq)]
pub struct Settings {
    /// Cost that may be given up for steadier rations, percent.
    pub steady_pct: f64,
    /// Roughage a pound of supplement displaces when roughage is eaten at will, lb per lb.
    pub substitution: f64,
    /// Wanted certainty, percent; 50 is the averages.
    pub certainty_pct: f64,
    /// The scoop rations are rounded to where practical amounts are wanted, lb as fed.
    pub scoop_lb: f64,
    /// What a mixer holds, lb as fed; `None`: nothing is mixed.
    pub mixer_lb: Option<f64>,
    /// Fixed intake of minerals with no amount of their own, oz as fed a day.
    pub mineral_oz: f64,
}

impl Default for Settings {
    fn default() -> Self {
        Self { steady_pct: 0.5, substitution: 0.3, certainty_pct: 50.0, scoop_lb: 0.5, mixer_lb: None, mineral_oz: 3.0 }
    }
}

/// Everything a plan or a check needs.
#[derive(Debug, Clone, PartialEq)]
pub struct Case {
    /// The place.
    pub place: Place,
    /// Periods, in order, without gaps.
    pub periods: Vec<Period>,
    /// Groups, in the order of the file.
    pub groups: Vec<Group>,
    /// Feeds, in the order of the file.
    pub offers: Vec<Offer>,
    /// Needs replaced, by group name.
    pub needs_override: IndexMap<String, NeedsOverride>,
    /// Limits changed.
    pub limits: Vec<LimitChange>,
    /// Rations to judge: by group name, one per period (`None`: not given for that period).
    pub fed: IndexMap<String, Vec<Option<HandRation>>>,
    /// Choices for the whole winter.
    pub settings: Settings,
}
