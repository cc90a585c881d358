//! What the gin has to sell: seed or trash, its form, its truck, its store, and where it goes if nobody buys it.

use super::harvest::Usual;
use crate::feed::offer::StorageLoss;
use crate::feed::{Feed, Freight};
use crate::quantity::LB_PER_TON;
use crate::source::{Cite, Origin};
use jiff::civil::Date;

/// Trash or seed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Gin trash.
    Trash,
    /// Whole cottonseed.
    Seed,
}

impl Kind {
    /// Its name in files and tables.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Trash => "trash",
            Self::Seed => "seed",
        }
    }
    /// Its class of feed.
    #[must_use]
    pub fn class(self) -> crate::feed::FeedClass {
        match self {
            Self::Trash => crate::feed::FeedClass::GinTrash,
            Self::Seed => crate::feed::FeedClass::WholeCottonseed,
        }
    }
}

/// How it lies, and so how it fills a trailer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// Loose trash.
    Loose,
    /// Trash pressed by a module builder.
    Module,
    /// Trash in dense bales.
    Baled,
    /// Ground trash.
    Ground,
    /// Gin-run seed in bulk.
    Seed,
}

impl Form {
    /// The forms of trash.
    pub const TRASH: [Self; 4] = [Self::Loose, Self::Module, Self::Baled, Self::Ground];

    /// Key in gin files.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Loose => "loose",
            Self::Module => "module",
            Self::Baled => "baled",
            Self::Ground => "ground",
            Self::Seed => "seed",
        }
    }
    /// The way of handling that makes it of loose trash, as files name it; `None`: nothing need be done.
    #[must_use]
    pub fn made_by(self) -> Option<&'static str> {
        match self {
            Self::Module => Some("module"),
            Self::Baled => Some("bale"),
            Self::Ground => Some("grind"),
            Self::Loose | Self::Seed => None,
        }
    }
    /// Weight of a cubic foot, lb.
    #[must_use]
    pub fn density(self) -> Usual {
        let of = |low, usual, high, cite| Usual { low, usual, high, cite };
        match self {
            Self::Loose => of(4.0, 6.0, 7.0, Cite::new("", "loose trash 4 to 7", Origin::Memory)),
            Self::Module => of(10.0, 12.0, 14.0, Cite::new("", "module-built trash 10 to 14, unsure", Origin::Memory)),
            Self::Baled => {
                of(28.7, 30.0, 31.4, Cite::new("adams_morgan2015", "575 lb in 24 x 24 x 55 to 60 in", Origin::Computed))
            }
            Self::Ground => of(8.0, 9.0, 10.0, Cite::new("", "ground trash 8 to 10", Origin::Memory)),
            Self::Seed => of(
                20.0,
                25.0,
                27.0,
                Cite::new("willcut_storage", "gin-run seed, 80 cubic feet a ton", Origin::Published),
            ),
        }
    }
    /// Most a truck may carry of it, short tons.
    #[must_use]
    pub fn most_tons(self) -> Usual {
        if self == Self::Module {
            let cite = Cite::new("", "a 32-foot module of trash, 8 to 12 tons, unsure", Origin::Memory);
            Usual { low: 8.0, usual: 10.0, high: 12.0, cite }
        } else if self == Self::Seed {
            let cite = Cite::new("", "22 to 24 tons in live-bottom trailers", Origin::Memory);
            Usual { low: 22.0, usual: 24.0, high: 25.0, cite }
        } else {
            let cite = Cite::new(
                "haytalk2008",
                "42,000 to 44,000 lb at 80,000 lb gross; baled trash 42,000 to 46,000",
                Origin::Published,
            );
            Usual { low: 21.0, usual: 22.0, high: 23.0, cite }
        }
    }
}

/// Room of a long trailer, cubic feet: from memory, the figure behind 12 tons of loose trash.
pub const TRAILER_FT3: f64 = 4000.0;

/// Tons on a truck: what fills it or what it may carry, whichever is less.
#[must_use]
pub fn tons_per_load(trailer_ft3: f64, lb_per_ft3: f64, most_tons: f64) -> f64 {
    (trailer_ft3 * lb_per_ft3 / LB_PER_TON).min(most_tons)
}

/// Cubic feet some tons take.
#[must_use]
pub fn room_ft3(tons: f64, lb_per_ft3: f64) -> f64 {
    tons * LB_PER_TON / lb_per_ft3
}

/// The outlet of what has none: it stays at the gin and brings nothing.
pub const NOWHERE: &str = "left over";

/// Where it can go besides the neighbors.
#[derive(Debug, Clone, PartialEq)]
pub struct Outlet {
    /// What: `crush`, `export`, `compost`, `spread`, `haul_off`.
    pub name: String,
    /// What a ton nets at the gin, US dollars; below 0: what it costs to be rid of it.
    pub usd_per_ton: f64,
    /// Most it takes, short tons a week; `None`: any.
    pub tons_per_week: Option<f64>,
    /// Whether the file gives it.
    pub given: bool,
}

/// What a truck costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rate {
    /// US dollars per loaded mile.
    pub usd_per_loaded_mile: f64,
    /// Least charge for a load, US dollars.
    pub minimum_usd: f64,
    /// Room of the trailer, cubic feet.
    pub trailer_ft3: f64,
}

/// Room to keep it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Room {
    /// As much as comes.
    Any,
    /// Short tons.
    Tons(f64),
    /// Cubic feet, whatever the form weighs.
    CubicFeet(f64),
}

/// A byproduct of this gin.
#[derive(Debug, Clone, PartialEq)]
pub struct Product {
    /// Trash or seed.
    pub kind: Kind,
    /// What it is as a feed, the gin's own tests laid over the table.
    pub feed: Feed,
    /// Date of the test, if given.
    pub tested_on: Option<Date>,
    /// Whether there is a test.
    pub tested: bool,
    /// How it lies.
    pub form: Form,
    /// Weight of a cubic foot as it lies, lb.
    pub lb_per_ft3: f64,
    /// Tons on a load, if given.
    pub own_tons_per_load: Option<f64>,
    /// What the truck costs.
    pub rate: Rate,
    /// Room at the gin.
    pub room: Room,
    /// What is lost in the pile.
    pub loss: StorageLoss,
    /// Cost of keeping, US dollars per ton and month of 30.4 days.
    pub keep_usd_per_ton_month: f64,
    /// Cost of loading at the gin, US dollars per ton sold.
    pub loading_usd_per_ton: f64,
    /// The price asked now, US dollars per ton at the gin, if any.
    pub asked_usd_per_ton: Option<f64>,
    /// No price above this is asked, US dollars per ton at the gin.
    pub ceiling_usd_per_ton: f64,
    /// First day it is sold; `None`: as it comes.
    pub from: Option<Date>,
    /// Last day it is sold; `None`: while there is any.
    pub to: Option<Date>,
    /// What a ton would be worth by one price of energy and one of protein, those of corn and distillers grain in the
    /// reference herd, US dollars.
    pub two_prices_usd_per_ton: Option<f64>,
    /// Where it can go besides, best first.
    pub outlets: Vec<Outlet>,
}

impl Product {
    /// Tons on a load in a form.
    #[must_use]
    pub fn tons_per_load_as(&self, form: Form) -> f64 {
        match self.own_tons_per_load {
            Some(own) if form == self.form => own,
            _ => tons_per_load(self.rate.trailer_ft3, self.density_as(form), form.most_tons().usual),
        }
    }
    /// Weight of a cubic foot in a form, lb.
    #[must_use]
    pub fn density_as(&self, form: Form) -> f64 {
        if form == self.form { self.lb_per_ft3 } else { form.density().usual }
    }
    /// Room in tons in a form; `None`: any.
    #[must_use]
    pub fn room_tons_as(&self, form: Form) -> Option<f64> {
        match self.room {
            Room::Any => None,
            Room::Tons(tons) if form == self.form => Some(tons),
            Room::Tons(tons) => Some(tons * self.density_as(form) / self.lb_per_ft3),
            Room::CubicFeet(room) => Some(room * self.density_as(form) / LB_PER_TON),
        }
    }
    /// The haul of so many miles in a form.
    #[must_use]
    pub fn freight_as(&self, form: Form, miles: f64) -> Freight {
        Freight {
            miles,
            usd_per_loaded_mile: self.rate.usd_per_loaded_mile,
            tons_per_load: self.tons_per_load_as(form),
            minimum_usd: self.rate.minimum_usd,
        }
    }
    /// The best outlet that takes any quantity, US dollars per ton.
    #[must_use]
    pub fn fallback_usd_per_ton(&self) -> f64 {
        let any = self.outlets.iter().filter(|one| one.tons_per_week.is_none()).map(|one| one.usd_per_ton);
        let best = any.fold(f64::NEG_INFINITY, f64::max);
        if best.is_finite() { best } else { 0.0 }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn loose_trash_fills_a_trailer_before_it_loads_it() {
        assert!((tons_per_load(4000.0, 6.0, 22.0) - 12.0).abs() < 1e-12);
        assert!((tons_per_load(4000.0, 30.0, 22.0) - 22.0).abs() < 1e-12);
    }
}
