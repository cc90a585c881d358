//! How the cotton was harvested, and what follows from that: trash, motes, loss, modules.

use crate::source::{Cite, Origin};

/// Net lint of a bale as statistics count it, lb.
pub const STATISTICAL_BALE_LB: f64 = 480.0;

/// How the cotton was taken off the plant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Harvest {
    /// Spindle picker.
    Picker,
    /// Stripper with a field cleaner on it.
    StripperWithFieldCleaner,
    /// Stripper without.
    StripperWithoutFieldCleaner,
}

/// A usual figure with the range it is found in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Usual {
    /// Lowest usually found.
    pub low: f64,
    /// Taken where nothing is given.
    pub usual: f64,
    /// Highest usually found.
    pub high: f64,
    /// Where it comes from.
    pub cite: Cite,
}

impl Harvest {
    /// Each, in the order of trash.
    pub const ALL: [Self; 3] = [Self::Picker, Self::StripperWithFieldCleaner, Self::StripperWithoutFieldCleaner];

    /// Key in gin files.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Picker => "picker",
            Self::StripperWithFieldCleaner => "stripper_with_field_cleaner",
            Self::StripperWithoutFieldCleaner => "stripper_without_field_cleaner",
        }
    }
    /// Words for people.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Picker => "picker cotton",
            Self::StripperWithFieldCleaner => "stripper cotton, field cleaner on",
            Self::StripperWithoutFieldCleaner => "stripper cotton, no field cleaner",
        }
    }
    /// Whether it was stripped.
    #[must_use]
    pub fn is_stripped(self) -> bool {
        self != Self::Picker
    }
    /// Row of the feed table its trash is as it leaves the gin.
    #[must_use]
    pub fn trash_row(self) -> &'static str {
        if self.is_stripped() { "gin_trash_stripper" } else { "gin_trash_picker" }
    }
    /// Trash, lb for each bale of 480 lb of lint.
    #[must_use]
    pub fn trash_lb(self) -> Usual {
        match self {
            Self::Picker => Usual {
                low: 75.0,
                usual: 120.0,
                high: 200.0,
                cite: Cite::new("holt_dfp", "75 to 125; 75 to 200 in myer_an177; 120 lies between", Origin::Computed),
            },
            Self::StripperWithFieldCleaner => Usual {
                low: 300.0,
                usual: 375.0,
                high: 450.0,
                cite: Cite::new("holt_dfp", "middle of 300 to 450", Origin::Computed),
            },
            Self::StripperWithoutFieldCleaner => Usual {
                low: 600.0,
                usual: 700.0,
                high: 1000.0,
                cite: Cite::new("holt_dfp", "about 700; the ends, 600 and 1,000, are from memory", Origin::Published),
            },
        }
    }
    /// Bales in one round module.
    #[must_use]
    pub fn bales_per_round_module(self) -> Usual {
        if self.is_stripped() {
            Usual {
                low: 3.0,
                usual: 3.25,
                high: 3.5,
                cite: Cite::new("", "three to three and a half; 2.5 was seen in Kansas", Origin::CommonPractice),
            }
        } else {
            Usual {
                low: 4.0,
                usual: 4.2,
                high: 5.0,
                cite: Cite::new(
                    "nevius",
                    "4.2 the mean of the Southeast in 2009; 4 to 5 in cottonworks",
                    Origin::Published,
                ),
            }
        }
    }
}

/// Seed, lb for each bale of 480 lb of lint.
pub const SEED_LB: Usual = Usual {
    low: 600.0,
    usual: 640.0,
    high: 700.0,
    cite: Cite::new("cotton_farming2010", "600 to 700 by variety; 640 is judgement within it", Origin::Judgement),
};
/// Motes, lb for each bale.
pub const MOTES_LB: Usual =
    Usual { low: 10.0, usual: 15.0, high: 30.0, cite: Cite::new("", "10 to 30 lb a bale", Origin::Memory) };
/// Moisture dried off and dust, percent of the seed cotton.
pub const LOSS_PCT: Usual =
    Usual { low: 1.0, usual: 1.5, high: 3.0, cite: Cite::new("", "1 to 3 % of seed cotton", Origin::Memory) };
/// The same after a wet harvest.
pub const WET_LOSS_PCT: Usual =
    Usual { low: 3.0, usual: 4.0, high: 5.0, cite: Cite::new("", "up to 5 % of wet seed cotton", Origin::Memory) };
