//! The gin's question in domain terms.

use super::balance::Balance;
use super::harvest::Harvest;
use super::process::Choice;
use super::product::{Kind, Product};
use super::ticket::Ticket;
use super::yard::Yard;
use crate::feed::SupplyCurve;
use crate::herd::AnimalClass;
use crate::winter::Case;

/// A neighbor's winter in which the byproduct can be bought delivered: the case, and which offer it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Herd {
    /// The winter.
    pub case: Case,
    /// The offer that is this gin's byproduct.
    pub offer: usize,
    /// The herd file does not name the byproduct; it was added.
    pub added: bool,
}

/// Who a neighbor is.
#[derive(Debug, Clone, PartialEq)]
pub enum Who {
    /// A herd file.
    HerdFile {
        /// Its name as written.
        file: String,
        /// Head in it.
        head: u32,
    },
    /// A line of screening: so many head like the reference herd.
    Screening {
        /// Head in reach.
        head: f64,
        /// Their class.
        class: AnimalClass,
        /// Density and radius they were counted from, if they were: cows per square mile, miles.
        counted: Option<(f64, f64)>,
    },
}

/// A neighbor with cattle.
#[derive(Debug, Clone, PartialEq)]
pub struct Neighbor {
    /// Name.
    pub name: String,
    /// Loaded miles one way.
    pub miles: f64,
    /// Share of those cattle that would be fed it, 0 to 1.
    pub share: f64,
    /// Who.
    pub who: Who,
    /// His winter for trash; `None` where it is not to be asked.
    pub trash: Option<Herd>,
    /// His winter for seed.
    pub seed: Option<Herd>,
}

impl Neighbor {
    /// His winter for a byproduct.
    #[must_use]
    pub fn herd(&self, kind: Kind) -> Option<&Herd> {
        match kind {
            Kind::Trash => self.trash.as_ref(),
            Kind::Seed => self.seed.as_ref(),
        }
    }
    /// How many times the cattle of his winter he stands for.
    #[must_use]
    pub fn scale(&self) -> f64 {
        match &self.who {
            Who::HerdFile { .. } => self.share,
            Who::Screening { head, .. } => head * self.share / f64::from(super::reference::HEAD),
        }
    }
    /// Head that would be fed it.
    #[must_use]
    pub fn head(&self) -> f64 {
        match &self.who {
            Who::HerdFile { head, .. } => f64::from(*head) * self.share,
            Who::Screening { head, .. } => head * self.share,
        }
    }
}

/// Everything asked of a gin.
#[derive(Debug, Clone, PartialEq)]
pub struct Gin {
    /// Its name.
    pub name: String,
    /// Name of the region whose season is taken, if one is.
    pub season_of: Option<String>,
    /// Weeks it runs behind that region.
    pub behind_weeks: f64,
    /// How the cotton was harvested.
    pub harvest: Harvest,
    /// A wet harvest.
    pub wet: bool,
    /// Bales of the season.
    pub bales: f64,
    /// The season's bales by date.
    pub ginned: SupplyCurve,
    /// Where the seed cotton of a bale goes.
    pub balance: Balance,
    /// Modules on the yard, if counted.
    pub yard: Option<Yard>,
    /// Its trash.
    pub trash: Product,
    /// Its seed.
    pub seed: Product,
    /// Price of hay in the reference herd, US dollars per ton delivered.
    pub reference_hay_usd_per_ton: f64,
    /// Neighbors.
    pub neighbors: Vec<Neighbor>,
    /// Ways of handling the trash that are looked at.
    pub choices: Vec<Choice>,
    /// What the slip and the sheet can say.
    pub ticket: Ticket,
    /// What was taken because the file does not say, in words.
    pub assumed: Vec<String>,
}

impl Gin {
    /// One of the two byproducts.
    #[must_use]
    pub fn product(&self, kind: Kind) -> &Product {
        match kind {
            Kind::Trash => &self.trash,
            Kind::Seed => &self.seed,
        }
    }
    /// Pounds of a byproduct for each bale.
    #[must_use]
    pub fn lb_per_bale(&self, kind: Kind) -> f64 {
        match kind {
            Kind::Trash => self.balance.trash.lb,
            Kind::Seed => self.balance.seed.lb,
        }
    }
    /// Short tons of a byproduct over the season.
    #[must_use]
    pub fn season_tons(&self, kind: Kind) -> f64 {
        super::weeks::tons(self.bales, self.lb_per_bale(kind))
    }
}
