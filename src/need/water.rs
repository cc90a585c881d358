//! Drinking water.

use super::energy::metabolic_weight;
use crate::quantity::{f_from_c, kg_from_lb};
use crate::source::{Cite, Origin};

/// Water by class at 40 and 50 °F.
pub const WATER: Cite = Cite::new("cole_missouri2012", "gallons per head and day at 40 and 50 °F", Origin::Published);
/// What carries the table beyond its two columns.
pub const BEYOND: Cite = Cite::judgement(
    "below 40 °F as at 40 °F (as printed); above 50 °F on at the same slope; growing cattle by metabolic weight from the 600-lb row",
);

/// Kind of drinker.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Drinker {
    /// Growing cattle of a weight in kg; printed for 600 lb.
    Growing(f64),
    /// Dry pregnant cow or heifer.
    DryCow,
    /// Cow in milk.
    MilkingCow,
    /// Grown bull.
    Bull,
}

/// Water a day, US gallons, at a mean air temperature in °C. Sources: [`WATER`], [`BEYOND`].
///
/// On dry winter feed the whole of it comes from the trough.
#[must_use]
pub fn gallons(drinker: Drinker, mean_c: f64) -> f64 {
    let (at_40_f, at_50_f) = match drinker {
        Drinker::Growing(_) => (5.3, 5.8),
        Drinker::DryCow => (6.0, 6.5),
        Drinker::MilkingCow => (11.5, 12.6),
        Drinker::Bull => (8.5, 9.4),
    };
    let size = match drinker {
        Drinker::Growing(weight_kg) => metabolic_weight(weight_kg) / metabolic_weight(kg_from_lb(600.0)),
        _ => 1.0,
    };
    let above = ((f_from_c(mean_c) - 40.0) / 10.0).max(0.0);
    size * (at_40_f + (at_50_f - at_40_f) * above)
}
