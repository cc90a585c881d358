//! What the calf she carries takes: energy, protein, and the weight of the gravid uterus.

use crate::source::{Cite, Origin};

/// Energy of pregnancy: the efficiencies were read; the coefficients of the exponent are from memory and reproduce the
/// printed table.
pub const ENERGY: Cite = Cite::new("nrc1996", "p. 43, Eqs 4-4 to 4-7", Origin::MemoryChecked);
/// Protein of pregnancy and weight of the conceptus.
pub const PROTEIN: Cite = Cite::new("nrc1996", "chapter 4", Origin::MemoryChecked);

/// Share of metabolizable energy that ends in the conceptus.
pub const EFFICIENCY_OF_ME: f64 = 0.13;
/// Efficiency of ME for maintenance on forage of 2.0 Mcal ME per kg, held constant in the printed equation.
pub const KM_FORAGE: f64 = 0.576;
/// Efficiency of metabolizable protein for the conceptus, and for milk.
pub const MP_EFFICIENCY: f64 = 0.65;

/// Net energy for pregnancy as diet NEm, Mcal a day.
///
/// CBW · (km / 0.13) · (0.05855 − 0.0000996 t) · e^((0.03233 − 0.0000275 t) t) / 1000, t days in calf (0 to 290; 0
/// means not in calf), CBW calf birth weight, kg (20 to 60). Source: [`ENERGY`].
#[must_use]
pub fn nem_mcal(birth_weight_kg: f64, t: f64) -> f64 {
    if t <= 0.0 {
        return 0.0;
    }
    let curve = (0.058_55 - 0.000_099_6 * t) * ((0.032_33 - 0.000_027_5 * t) * t).exp();
    birth_weight_kg * (KM_FORAGE / EFFICIENCY_OF_ME) * curve / 1000.0
}

/// The part of that energy that stays in the conceptus, Mcal a day; the rest is heat.
#[must_use]
pub fn retained_mcal(birth_weight_kg: f64, t: f64) -> f64 {
    nem_mcal(birth_weight_kg, t) * EFFICIENCY_OF_ME / KM_FORAGE
}

/// Metabolizable protein for pregnancy, g a day.
///
/// CBW · (0.001669 − 0.00000211 t) · e^((0.0278 − 0.0000176 t) t) · 6.25 / 0.65. Source: [`PROTEIN`].
#[must_use]
pub fn mp_g(birth_weight_kg: f64, t: f64) -> f64 {
    if t <= 0.0 {
        return 0.0;
    }
    let curve = (0.001_669 - 0.000_002_11 * t) * ((0.0278 - 0.000_017_6 * t) * t).exp();
    birth_weight_kg * curve * 6.25 / MP_EFFICIENCY
}

/// Weight of the gravid uterus, kg: CBW · 0.01828 · e^(0.02 t − 0.0000143 t²). Source: [`PROTEIN`].
#[must_use]
pub fn conceptus_kg(birth_weight_kg: f64, t: f64) -> f64 {
    if t <= 0.0 { 0.0 } else { birth_weight_kg * 0.018_28 * (0.02 * t - 0.000_014_3 * t * t).exp() }
}

/// Gain of the gravid uterus, kg a day: CBW · (0.3656 − 0.000523 t) · e^(0.02 t − 0.0000143 t²) / 1000.
#[must_use]
pub fn conceptus_gain_kg(birth_weight_kg: f64, t: f64) -> f64 {
    if t <= 0.0 {
        return 0.0;
    }
    birth_weight_kg * (0.3656 - 0.000_523 * t) * (0.02 * t - 0.000_014_3 * t * t).exp() / 1000.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn gain_is_the_slope_of_weight() {
        for t in [100.0, 200.0, 270.0] {
            let slope = conceptus_kg(38.0, t + 0.5) - conceptus_kg(38.0, t - 0.5);
            assert!((conceptus_gain_kg(38.0, t) / slope - 1.0).abs() < 0.01, "day {t}");
        }
    }

    #[test]
    fn an_open_cow_asks_nothing() {
        for value in [nem_mcal(38.0, 0.0), mp_g(38.0, 0.0), conceptus_kg(38.0, 0.0), conceptus_gain_kg(38.0, 0.0)] {
            assert!(value.abs() < 1e-12);
        }
    }
}
