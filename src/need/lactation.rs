//! Milk: how much, and the energy and protein in it.

use super::pregnancy::MP_EFFICIENCY;
use crate::source::{Cite, Origin};

/// The milk curve: form and week of the peak were read, its numbers reproduce printed milk.
pub const CURVE: Cite =
    Cite::new("jenkins_ferrell1984", "as used by nrc1996 p. 45, Eqs 4-11 to 4-15", Origin::MemoryChecked);
/// Energy of milk.
pub const ENERGY: Cite = Cite::new("tyrrell_reid1965", "kcal per lb from fat and solids-not-fat", Origin::Published);
/// Energy of milk in the 1984 edition.
pub const ENERGY_1984: Cite = Cite::new("nrc1984", "lactation", Origin::MemoryChecked);
/// Age factors on peak milk.
pub const AGE: Cite = Cite::new("nrc1996", "chapter 10", Origin::Memory);

/// Week of the peak.
pub const PEAK_WEEK: f64 = 8.5;
/// Length of a beef lactation in printed tables, weeks.
pub const WEEKS: f64 = 30.0;
/// Fat, solids-not-fat and protein of milk behind the printed beef tables, percent.
pub const TABLE_MILK_PCT: (f64, f64, f64) = (4.0, 8.3, 3.4);

/// Milk on one day, kg: PKYD · (n/T) · e^(1 − n/T), n weeks since calving (0 to about 40), T = 8.5. Source: [`CURVE`].
#[must_use]
pub fn milk_kg(peak_kg: f64, weeks: f64) -> f64 {
    let n = (weeks / PEAK_WEEK).max(0.0);
    peak_kg * n * (1.0 - n).exp()
}

/// Share of grown-cow peak milk that a cow gives at her age in years: 0.74 at two, 0.88 at three, 1.00 from four.
/// Source: [`AGE`], from memory.
#[must_use]
pub fn age_factor(age_years: u32) -> f64 {
    match age_years {
        0..=2 => 0.74,
        3 => 0.88,
        _ => 1.00,
    }
}

/// Energy of milk, Mcal per kg: 0.092 fat % + 0.049 SNF % − 0.0569. Source: [`ENERGY`]; its metric form as `nrc1996` has
/// it is 0.4 % under the printed equation in kcal per lb.
#[must_use]
pub fn energy_mcal_per_kg(fat_pct: f64, snf_pct: f64) -> f64 {
    0.092 * fat_pct + 0.049 * snf_pct - 0.0569
}

/// Energy of milk as the 1984 edition counts it, Mcal per kg: 0.1 fat % + 0.35. Source: [`ENERGY_1984`].
#[must_use]
pub fn energy_1984_mcal_per_kg(fat_pct: f64) -> f64 {
    0.1 * fat_pct + 0.35
}

/// Metabolizable protein for milk, g a day: milk · protein % / 100 · 1000 / 0.65.
#[must_use]
pub fn mp_g(milk_kg: f64, protein_pct: f64) -> f64 {
    milk_kg * protein_pct * 10.0 / MP_EFFICIENCY
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_peak_is_in_week_eight_and_a_half() {
        assert!((milk_kg(8.0, PEAK_WEEK) - 8.0).abs() < 1e-12);
        assert!(milk_kg(8.0, PEAK_WEEK - 1.0) < 8.0 && milk_kg(8.0, PEAK_WEEK + 1.0) < 8.0);
        assert!(milk_kg(8.0, 0.0).abs() < 1e-12);
    }

    #[test]
    fn metric_energy_is_the_printed_equation_in_pounds_rounded() {
        // 41.84 fat % + 22.29 SNF % − 25.58 kcal per lb.
        let kcal_per_lb: f64 = 41.84 * 4.0 + 22.29 * 8.3 - 25.58;
        let ours = energy_mcal_per_kg(4.0, 8.3) * 1000.0 * crate::quantity::KG_PER_LB;
        assert!((ours / kcal_per_lb - 0.9964).abs() < 0.0005, "{ours} {kcal_per_lb}");
    }
}
