//! Calcium and phosphorus by what asks for them; the other minerals as shares of the diet; ceilings; sulfur.

use crate::source::{Cite, Origin};

/// Calcium and phosphorus equations; they reproduce the printed tables.
pub const CALCIUM_PHOSPHORUS: Cite = Cite::new("nrc1996", "chapter 5", Origin::MemoryChecked);
/// Needs and 1996 ceilings of the other minerals.
pub const NEEDS_AND_1996_CEILINGS: Cite =
    Cite::new("uark_mp391", "Table 1, adapted from nrc1996 Table 5-1", Origin::Published);
/// Ceilings of the 2016 edition.
pub const CEILINGS_2016: Cite =
    Cite::new("merck_minerals", "dietary mineral requirements and maximum tolerable amounts", Origin::Published);
/// Sulfur ceilings by forage share: the 0.3 clause and the 40 % boundary were read, the 0.5 is from memory.
pub const SULFUR: Cite =
    Cite::new("nrc2005_minerals", "sulfur; 0.50 from memory, agrees with merck_minerals", Origin::Memory);
/// A ceiling on sulfur a day for grazing cows.
pub const SULFUR_PER_DAY: Cite = Cite::new("arthington_ufl2013", "", Origin::Published);

/// Share of dietary calcium that is absorbed.
pub const CA_ABSORBED: f64 = 0.50;
/// Share of dietary phosphorus that is absorbed.
pub const P_ABSORBED: f64 = 0.68;
/// Days before calving over which the fetus is charged.
pub const FETAL_DAYS: f64 = 90.0;
/// Sulfur a grazing cow should not exceed, g a day, all sources. Source: [`SULFUR_PER_DAY`].
pub const SULFUR_MOST_G: f64 = 32.0;

/// What asks for a mineral, g of diet a day.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct MineralNeed {
    /// Maintenance.
    pub maintenance_g: f64,
    /// The calf she carries, in the last 90 days.
    pub pregnancy_g: f64,
    /// Milk.
    pub milk_g: f64,
    /// Growth.
    pub gain_g: f64,
}

/// Calcium, g a day: `[0.0154 SBW + 0.071 NPg + 1.23 milk + 13.7 CBW / 90 (last 90 days)] / 0.50`.
///
/// Weights and milk in kg, `NPg` net protein in gain, g. Source: [`CALCIUM_PHOSPHORUS`].
#[must_use]
pub fn calcium(sbw_kg: f64, net_protein_g: f64, milk_kg: f64, fetus_of_kg: Option<f64>) -> MineralNeed {
    parts([0.0154, 0.071, 1.23, 13.7], CA_ABSORBED, sbw_kg, net_protein_g, milk_kg, fetus_of_kg)
}

/// Phosphorus, g a day: `[0.016 SBW + 0.039 NPg + 0.95 milk + 7.6 CBW / 90 (last 90 days)] / 0.68`.
///
/// As [`calcium`]; `fetus_of_kg` is the calf's birth weight when she is in the last 90 days.
#[must_use]
pub fn phosphorus(sbw_kg: f64, net_protein_g: f64, milk_kg: f64, fetus_of_kg: Option<f64>) -> MineralNeed {
    parts([0.016, 0.039, 0.95, 7.6], P_ABSORBED, sbw_kg, net_protein_g, milk_kg, fetus_of_kg)
}

fn parts(
    [body, gain, milk, fetus]: [f64; 4],
    absorbed: f64,
    sbw_kg: f64,
    net_protein_g: f64,
    milk_kg: f64,
    fetus_of_kg: Option<f64>,
) -> MineralNeed {
    MineralNeed {
        maintenance_g: body * sbw_kg / absorbed,
        pregnancy_g: fetus * fetus_of_kg.unwrap_or(0.0) / FETAL_DAYS / absorbed,
        milk_g: milk * milk_kg / absorbed,
        gain_g: gain * net_protein_g / absorbed,
    }
}

/// Need and ceilings of one mineral, in its own unit on dry matter. `None`: the source gives none.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MineralLevel {
    /// Chemical symbol.
    pub symbol: &'static str,
    /// `%` or `ppm` of dry matter.
    pub unit: &'static str,
    /// Growing and finishing cattle.
    pub growing: Option<f64>,
    /// Gestating cows.
    pub gestating: Option<f64>,
    /// Cows in early lactation.
    pub milking: Option<f64>,
    /// Most that is tolerated, 1996. Source: [`NEEDS_AND_1996_CEILINGS`].
    pub most_1996: Option<f64>,
    /// Most that is tolerated, 2016; where it is a range, the low and the high end. Source: [`CEILINGS_2016`].
    pub most_2016: Option<(f64, f64)>,
}

const fn level(
    symbol: &'static str,
    unit: &'static str,
    needs: [f64; 3],
    most_1996: Option<f64>,
    most_2016: Option<(f64, f64)>,
) -> MineralLevel {
    MineralLevel {
        symbol,
        unit,
        growing: Some(needs[0]),
        gestating: Some(needs[1]),
        milking: Some(needs[2]),
        most_1996,
        most_2016,
    }
}

const fn ceiling_only(symbol: &'static str, most_1996: f64) -> MineralLevel {
    MineralLevel {
        symbol,
        unit: "ppm",
        growing: None,
        gestating: None,
        milking: None,
        most_1996: Some(most_1996),
        most_2016: None,
    }
}

/// Needs and ceilings of every mineral but calcium and phosphorus.
///
/// Sodium is printed as 0.06 to 0.08 % for growing and gestating cattle; the upper end stands here. Cobalt is 0.15 ppm
/// in the 2016 edition. Selenium tolerated is not selenium wanted.
pub static LEVELS: &[MineralLevel] = &[
    level("Mg", "%", [0.10, 0.12, 0.20], Some(0.40), Some((0.40, 0.40))),
    level("K", "%", [0.60, 0.60, 0.70], Some(3.0), Some((2.0, 2.0))),
    level("Na", "%", [0.08, 0.08, 0.10], None, None),
    level("S", "%", [0.15, 0.15, 0.15], Some(0.40), Some((0.30, 0.50))),
    level("Co", "ppm", [0.10, 0.10, 0.10], Some(10.0), Some((25.0, 25.0))),
    level("Cu", "ppm", [10.0, 10.0, 10.0], Some(100.0), Some((40.0, 40.0))),
    level("I", "ppm", [0.50, 0.50, 0.50], Some(50.0), Some((50.0, 50.0))),
    level("Fe", "ppm", [50.0, 50.0, 50.0], Some(1000.0), Some((500.0, 500.0))),
    level("Mn", "ppm", [20.0, 40.0, 40.0], Some(1000.0), Some((1000.0, 1000.0))),
    level("Se", "ppm", [0.10, 0.10, 0.10], Some(2.0), Some((5.0, 5.0))),
    level("Zn", "ppm", [30.0, 30.0, 30.0], Some(500.0), Some((500.0, 500.0))),
    ceiling_only("Mo", 5.0),
    ceiling_only("Ni", 50.0),
    ceiling_only("Cr", 1000.0),
];

/// Cobalt wanted in the 2016 edition, ppm of dry matter. Source: [`CEILINGS_2016`].
pub const COBALT_2016_PPM: f64 = 0.15;

/// The level of a mineral by its symbol.
#[must_use]
pub fn level_of(symbol: &str) -> Option<&'static MineralLevel> {
    LEVELS.iter().find(|level| level.symbol == symbol)
}

/// Share of forage up to which [`sulfur_most_pct`] is flat.
pub const SULFUR_FLAT_TO_SHARE: f64 = 0.15;

/// Most sulfur, feed and water together, % of dry matter, by the share of forage in it (0 to 1).
///
/// 0.30 under 15 % forage, 0.50 over 40 %, a straight line between (our own). Source: [`SULFUR`].
#[must_use]
pub fn sulfur_most_pct(forage_share: f64) -> f64 {
    let (low, high) = (SULFUR_FLAT_TO_SHARE, 0.40);
    0.30 + 0.20 * ((forage_share - low) / (high - low)).clamp(0.0, 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sulfur_follows_the_share_of_forage() {
        for (share, most) in [(0.0, 0.30), (0.15, 0.30), (0.275, 0.40), (0.40, 0.50), (1.0, 0.50)] {
            assert!((sulfur_most_pct(share) - most).abs() < 1e-12, "{share}");
        }
    }

    #[test]
    fn every_need_is_below_every_ceiling() {
        for level in LEVELS {
            let need = level.growing.unwrap_or(0.0).max(level.milking.unwrap_or(0.0));
            assert!(level.most_1996.is_none_or(|most| most > need), "{}", level.symbol);
            assert!(level.most_2016.is_none_or(|(most, _)| most > need), "{}", level.symbol);
        }
    }
}
