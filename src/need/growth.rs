//! Growth: energy and protein of gain, gain from energy, and the target weights of young females.

use super::energy::metabolic_weight;
use crate::source::{Cite, Origin};

/// The growth equations; they reproduce the printed table of growing cattle.
pub const GROWTH: Cite =
    Cite::new("nrc1996", "chapter 3; table of growing and finishing cattle", Origin::MemoryChecked);
/// The 1984 equations, still behind many heifer tables.
pub const GROWTH_1984: Cite = Cite::new("nrc1984", "gain equations by frame and sex", Origin::Memory);
/// First-calving share of mature weight.
pub const AT_CALVING: Cite = Cite::new("uark_mp391", "2018 revision, title of the heifer table", Origin::Published);
/// Breeding shares of mature weight, unchanged between editions.
pub const AT_BREEDING: Cite = Cite::new("nasem2016_abstracts", "no. 1023, heifer target weights", Origin::Abstract);
/// Share of mature weight at second calving (also given in one extension talk).
pub const AT_SECOND_CALVING: Cite = Cite::new("nrc1996", "heifer target weights", Origin::Memory);

/// The shares together, by the weakest of them.
pub const TARGETS: Cite = Cite::new(
    "nrc1996",
    "0.92 at second calving from memory; 0.85 at first calving read in uark_mp391, shares at breeding in nasem2016_abstracts",
    Origin::Memory,
);

/// Standard reference weight, kg: small marbling (28 % fat), and all breeding heifers.
pub const SRW_SMALL_MARBLING_KG: f64 = 478.0;
/// Standard reference weight, kg: slight marbling (26.8 % fat).
pub const SRW_SLIGHT_MARBLING_KG: f64 = 462.0;
/// Standard reference weight, kg: trace marbling (25.2 % fat).
pub const SRW_TRACE_MARBLING_KG: f64 = 435.0;
/// Empty weight as a share of shrunk weight in growing cattle.
pub const EMPTY_SHARE: f64 = 0.891;
/// Empty gain as a share of shrunk gain.
pub const EMPTY_GAIN_SHARE: f64 = 0.956;

/// Share of mature weight wanted at first breeding, *Bos taurus*.
pub const BREEDING_TAURUS: f64 = 0.60;
/// Share of mature weight wanted at first breeding, *Bos indicus*.
pub const BREEDING_INDICUS: f64 = 0.65;
/// Share of mature weight wanted at first breeding, dairy and dual-purpose.
pub const BREEDING_DAIRY: f64 = 0.55;
/// Share of mature weight wanted after first calving.
pub const FIRST_CALVING: f64 = 0.85;
/// Share of mature weight wanted after second calving.
pub const SECOND_CALVING: f64 = 0.92;

/// Weight equivalent in the reference animal, kg: SBW · SRW / FSBW. `final_sbw_kg` is the shrunk weight at the fatness
/// of the reference, or the mature weight of a breeding animal. Source: [`GROWTH`].
#[must_use]
pub fn equivalent_weight_kg(sbw_kg: f64, final_sbw_kg: f64) -> f64 {
    sbw_kg * SRW_SMALL_MARBLING_KG / final_sbw_kg.max(1.0)
}

/// Energy retained by gain, Mcal NEg a day.
///
/// 0.0635 · (0.891 EQSBW)^0.75 · (0.956 SWG)^1.097, SWG shrunk gain, kg a day (0 to 3). No gain needs none.
/// Source: [`GROWTH`].
#[must_use]
pub fn neg_mcal(eqsbw_kg: f64, gain_kg: f64) -> f64 {
    0.0635 * metabolic_weight(EMPTY_SHARE * eqsbw_kg) * (EMPTY_GAIN_SHARE * gain_kg.max(0.0)).powf(1.097)
}

/// Shrunk gain that retained energy makes, kg a day: 13.91 · RE^0.9116 · EQSBW^−0.6837. The printed inverse of
/// [`neg_mcal`]; it comes out 0.44 % low everywhere. Source: [`GROWTH`].
#[must_use]
pub fn gain_kg(eqsbw_kg: f64, neg_mcal: f64) -> f64 {
    13.91 * neg_mcal.max(0.0).powf(0.9116) * eqsbw_kg.powf(-0.6837)
}

/// Net protein in gain, g a day: SWG · (268 − 29.4 · RE / SWG). Source: [`GROWTH`].
#[must_use]
pub fn net_protein_g(gain_kg: f64, neg_mcal: f64) -> f64 {
    (268.0 * gain_kg.max(0.0) - 29.4 * neg_mcal.max(0.0)).max(0.0)
}

/// Metabolizable protein for gain, g a day: `NPg / (0.834 − 0.00114 EQSBW)`, 0.492 above 300 kg. Source: [`GROWTH`].
#[must_use]
pub fn mp_g(eqsbw_kg: f64, net_protein_g: f64) -> f64 {
    net_protein_g / (0.834 - 0.001_14 * eqsbw_kg.min(300.0))
}

/// Frame and sex of the 1984 gain equations.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Frame1984 {
    /// Medium-frame steer.
    MediumSteer,
    /// Large-frame steer.
    LargeSteer,
    /// Medium-frame heifer.
    MediumHeifer,
    /// Large-frame heifer.
    LargeHeifer,
}

/// Energy retained by gain in the 1984 edition, Mcal NEg a day: a · W^0.75 · G^b. Source: [`GROWTH_1984`].
#[must_use]
pub fn neg_1984_mcal(weight_kg: f64, gain_kg: f64, frame: Frame1984) -> f64 {
    let (a, b) = match frame {
        Frame1984::MediumSteer => (0.0557, 1.097),
        Frame1984::LargeSteer => (0.0493, 1.097),
        Frame1984::MediumHeifer => (0.0686, 1.119),
        Frame1984::LargeHeifer => (0.0608, 1.119),
    };
    a * metabolic_weight(weight_kg) * gain_kg.max(0.0).powf(b)
}

/// Even daily gain from one weight to another, kg; never negative, nothing when no day is left.
#[must_use]
pub fn even_gain_kg(from_kg: f64, to_kg: f64, days: f64) -> f64 {
    if days > 0.0 { ((to_kg - from_kg) / days).max(0.0) } else { 0.0 }
}

/// Daily gain of a heifer in calf from her breeding weight to 0.85 of mature weight, kg, over 280 days; the calf she
/// carries comes on top.
#[must_use]
pub fn pregnant_heifer_gain_kg(breeding_weight_kg: f64, mature_weight_kg: f64) -> f64 {
    even_gain_kg(breeding_weight_kg, FIRST_CALVING * mature_weight_kg, crate::herd::stage::GESTATION_DAYS)
}

/// Daily gain of a first-calf cow on her way to second calving, kg: (0.92 − 0.85) · MW / 365.
#[must_use]
pub fn first_calf_gain_kg(mature_weight_kg: f64) -> f64 {
    (SECOND_CALVING - FIRST_CALVING) * mature_weight_kg / crate::herd::stage::CALVING_INTERVAL_DAYS
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_gain_needs_nothing() {
        assert!(neg_mcal(300.0, 0.0).abs() < 1e-12);
        assert!(net_protein_g(0.0, 0.0).abs() < 1e-12);
        assert!(gain_kg(300.0, 0.0).abs() < 1e-12);
    }

    #[test]
    fn the_printed_inverse_is_a_constant_share_low() {
        for weight in [150.0, 250.0, 350.0, 450.0] {
            for gain in [0.25, 0.5, 1.0, 1.5, 2.0] {
                let back = gain_kg(weight, neg_mcal(weight, gain));
                assert!((back / gain - 0.9956).abs() < 0.0002, "{weight} kg, {gain} kg a day: {back}");
            }
        }
    }

    #[test]
    fn protein_efficiency_is_continuous_at_300_kg() {
        assert!((mp_g(299.999, 100.0) / mp_g(300.001, 100.0) - 1.0).abs() < 1e-4);
    }
}
