//! Protein: what is asked for, and what microbes can make.

use super::energy::metabolic_weight;
use crate::source::{Cite, Origin};

/// Metabolizable protein for maintenance.
pub const MAINTENANCE: Cite = Cite::new("nrc1996", "chapter 3; both editions", Origin::MemoryChecked);
/// Crude protein from metabolizable protein.
pub const CP_FROM_MP: Cite = Cite::new("uark_mp391", "crude protein column", Origin::Published);
/// The factorial crude protein of the 1984 edition.
pub const FACTORIAL_1984: Cite =
    Cite::new("nrc1984", "factorial crude protein; reproduces its Table 10", Origin::MemoryChecked);
/// Microbial protein, 1996.
pub const MICROBIAL_1996: Cite =
    Cite::new("nrc1996", "13 % of TDN; the fiber adjustment is that of p. 17", Origin::Memory);
/// What little effective fiber takes from microbial protein.
pub const FIBER_ADJUSTMENT: Cite =
    Cite::new("nrc1996", "p. 17: 2.2 % for each % of effective NDF under 20 % of dry matter", Origin::Published);
/// Microbial protein, 2016.
pub const MICROBIAL_2016: Cite = Cite::new(
    "galyean_tedeschi2014",
    "TDN and fat-free TDN from the abstract; coefficients from memory",
    Origin::Memory,
);
/// The floor on crude protein of the whole diet.
pub const CP_FLOOR: Cite = Cite::new("sprinkle_az9523", "floor for rumen microbes", Origin::Published);

/// Metabolizable protein as a share of crude protein.
pub const MP_PER_CP: f64 = 0.67;
/// Crude protein the rumen needs, % of diet dry matter.
pub const RUMEN_FLOOR_PCT_DM: f64 = 7.0;
/// Effective NDF under which microbes make less protein, % of dry matter. Source: [`FIBER_ADJUSTMENT`].
pub const LEAST_EFFECTIVE_NDF_PCT: f64 = 20.0;
/// Share of microbial protein lost for each percent of effective NDF under that. Source: [`FIBER_ADJUSTMENT`]; 0.025 is
/// also remembered.
pub const LOST_PER_PCT_OF_FIBER: f64 = 0.022;
/// Fat above which fat-free TDN predicts microbial protein in the 2016 edition, % of dry matter.
pub const FAT_SWITCH_PCT_DM: f64 = 3.9;
/// Digestible true protein in microbial crude protein.
pub const MICROBIAL_TO_MP: f64 = 0.64;
/// Digestibility of undegraded protein, 1996.
pub const RUP_DIGESTIBILITY: f64 = 0.80;
/// Digestibility of undegraded protein of forages, 2016 (from memory).
pub const RUP_DIGESTIBILITY_FORAGE_2016: f64 = 0.60;

/// Metabolizable protein for maintenance, g a day: 3.8 · SBW^0.75. Source: [`MAINTENANCE`].
#[must_use]
pub fn mp_maintenance_g(sbw_kg: f64) -> f64 {
    3.8 * metabolic_weight(sbw_kg)
}

/// Crude protein that holds a requirement of metabolizable protein, g: MP / 0.67. Source: [`CP_FROM_MP`].
#[must_use]
pub fn cp_g(mp_g: f64) -> f64 {
    mp_g / MP_PER_CP
}

/// Crude protein by the factorial method of the 1984 edition, g a day.
///
/// (33.4 · DMI + 2.75 · W^0.5 + 0.2 · W^0.6 + 55 in the last third + 33.5 · milk) / 0.594, all kg.
/// Source: [`FACTORIAL_1984`].
#[must_use]
pub fn cp_1984_g(weight_kg: f64, dmi_kg: f64, last_third: bool, milk_kg: f64) -> f64 {
    let conceptus = if last_third { 55.0 } else { 0.0 };
    (33.4 * dmi_kg + 2.75 * weight_kg.sqrt() + 0.2 * weight_kg.powf(0.6) + conceptus + 33.5 * milk_kg) / 0.594
}

/// Microbial crude protein that energy allows, g a day, 1996: 0.13 · TDN, less 2.2 % for each percent of effective NDF
/// under 20 % of dry matter. `tdn_g` is TDN eaten a day. Source: [`MICROBIAL_1996`].
#[must_use]
pub fn microbial_1996_g(tdn_g: f64, endf_pct_dm: f64) -> f64 {
    0.13 * tdn_g * (1.0 - LOST_PER_PCT_OF_FIBER * (LEAST_EFFECTIVE_NDF_PCT - endf_pct_dm).max(0.0)).max(0.0)
}

/// Microbial crude protein that energy allows, g a day, 2016: 42.73 + 0.087 · TDN, and 53.33 + 0.096 · fat-free TDN
/// when fat is over 3.9 % of dry matter, fat-free TDN being TDN − 2.25 · fat. A stress test, not the requirement: on
/// ordinary hay it is a quarter lower than [`microbial_1996_g`], and the recycled nitrogen that edition credits is not
/// counted here. Source: [`MICROBIAL_2016`].
#[must_use]
pub fn microbial_2016_g(dm_g: f64, tdn_pct_dm: f64, fat_pct_dm: f64) -> f64 {
    if fat_pct_dm > FAT_SWITCH_PCT_DM {
        53.33 + 0.096 * dm_g * fat_free_tdn_pct(tdn_pct_dm, fat_pct_dm) / 100.0
    } else {
        42.73 + 0.087 * dm_g * tdn_pct_dm / 100.0
    }
}

/// Fat-free TDN, % of dry matter: TDN − 2.25 · fat; never below 0.
#[must_use]
pub fn fat_free_tdn_pct(tdn_pct_dm: f64, fat_pct_dm: f64) -> f64 {
    (tdn_pct_dm - 2.25 * fat_pct_dm).max(0.0)
}

/// Metabolizable protein supplied, g a day: 0.64 · min(microbial by energy, degraded protein) + 0.80 · undegraded.
#[must_use]
pub fn mp_supply_g(microbial_g: f64, degraded_g: f64, undegraded_g: f64) -> f64 {
    MICROBIAL_TO_MP * microbial_g.min(degraded_g) + RUP_DIGESTIBILITY * undegraded_g
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_later_prediction_is_a_quarter_lower_on_hay() {
        let tdn_g = 6000.0;
        assert!((microbial_1996_g(tdn_g, 60.0) - 780.0).abs() < 0.5);
        assert!((microbial_2016_g(12_000.0, 50.0, 2.0) - 565.0).abs() < 0.5);
    }

    #[test]
    fn the_fiber_adjustment_starts_at_twenty_percent() {
        assert!((microbial_1996_g(1000.0, 20.0) - 130.0).abs() < 1e-9);
        assert!((microbial_1996_g(1000.0, 10.0) - 101.4).abs() < 1e-9);
    }

    #[test]
    fn degraded_protein_can_hold_microbes_back() {
        assert!((mp_supply_g(800.0, 500.0, 100.0) - 400.0).abs() < 1e-9);
    }
}
