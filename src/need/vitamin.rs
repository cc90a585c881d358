//! Vitamins asked for, per kg of diet dry matter.

use crate::source::{Cite, Origin};

/// Vitamins per kg of diet dry matter.
pub const VITAMINS: Cite = Cite::new("msd_vitamins", "from nasem2016", Origin::Published);
/// Vitamin A a day for 1200-lb cows.
pub const VITAMIN_A_PER_DAY: Cite = Cite::new("okstate_ansi3036", "cow requirements", Origin::Published);

/// Vitamin A of growing cattle, IU per kg of dry matter.
pub const A_GROWING_IU: f64 = 2200.0;
/// Vitamin A of pregnant heifers and cows, IU per kg of dry matter.
pub const A_PREGNANT_IU: f64 = 2800.0;
/// Vitamin A of cows in milk and breeding bulls, IU per kg of dry matter.
pub const A_MILKING_OR_BULL_IU: f64 = 3900.0;
/// Vitamin D, IU per kg of dry matter.
pub const D_IU: f64 = 275.0;
/// Vitamin E, IU per kg of dry matter.
pub const E_IU: f64 = 35.0;
/// Vitamin E of stressed, newly received calves, IU per kg of dry matter.
pub const E_STRESSED_CALVES_IU: f64 = 500.0;
/// Months a full liver lasts on feed without vitamin A. Source: [`LIVER`].
pub const LIVER_MONTHS: (f64, f64) = (2.0, 4.0);
/// Where the months of the liver come from.
pub const LIVER: Cite = Cite::new("selk_okstate", "vitamin A", Origin::Published);

/// Vitamin A asked for, IU a day: IU per kg of dry matter times dry matter eaten.
#[must_use]
pub fn vitamin_a_iu(iu_per_kg_dm: f64, dmi_kg: f64) -> f64 {
    iu_per_kg_dm * dmi_kg
}
