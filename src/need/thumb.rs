//! Intake by rule of thumb, fiber ceilings, and what weather, mud and breed do to intake.

use crate::source::{Cite, Origin};

/// A printed rule of thumb: dry matter eaten, % of body weight.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ThumbRule {
    /// The forage it speaks of.
    pub forage: &'static str,
    /// Lowest and highest TDN of that forage, % of dry matter, where the rule goes by TDN.
    pub tdn_pct: Option<(f64, f64)>,
    /// Dry cow.
    pub dry_pct: f64,
    /// Cow in milk, if printed.
    pub milking_pct: Option<f64>,
    /// Where it comes from.
    pub cite: Cite,
}

const HIBBERD: Cite = Cite::new("lalman_okstate2024", "after hibberd_thrift1992", Origin::Published);
const RASBY: Cite = Cite::new("rasby_unl", "intake of forage", Origin::Published);
const LLEWELLYN: Cite = Cite::new("llewellyn_wsu2022", "dry pregnant cows", Origin::Published);
const KICHLER: Cite = Cite::new("kichler_uga2023", "hay; middle of the printed range", Origin::Published);

/// Every rule read. The best forage row overestimates dry cows by about 6 lb a day (`gross2024`).
pub static RULES: &[ThumbRule] = &[
    rule("poor: under 52 % TDN", Some((0.0, 52.0)), 1.8, Some(2.2), HIBBERD),
    rule("fair: 53 to 59 % TDN", Some((53.0, 59.0)), 2.2, Some(2.5), HIBBERD),
    rule("good: over 59 % TDN", Some((59.0, 100.0)), 2.5, Some(2.7), HIBBERD),
    rule("poor: to 52 % TDN", Some((0.0, 52.0)), 1.8, None, RASBY),
    rule("fair: 52 to 59 % TDN", Some((52.0, 59.0)), 2.0, Some(2.3), RASBY),
    rule("under 7 % crude protein", None, 1.5, None, LLEWELLYN),
    rule("8 to 10 % crude protein", None, 2.0, None, LLEWELLYN),
    rule("high crude protein", None, 2.5, None, LLEWELLYN),
    rule("hay", None, 1.95, Some(2.45), KICHLER),
];

const fn rule(
    forage: &'static str,
    tdn_pct: Option<(f64, f64)>,
    dry_pct: f64,
    milking_pct: Option<f64>,
    cite: Cite,
) -> ThumbRule {
    ThumbRule { forage, tdn_pct, dry_pct, milking_pct, cite }
}

/// Dry matter eaten of a forage alone, % of body weight, by its TDN (% of dry matter): 1.8 under 52.5, 2.2 to 59, 2.5
/// above, dry; 2.2, 2.5, 2.7 in milk. Source: `lalman_okstate2024`.
#[must_use]
pub fn forage_intake_pct(tdn_pct: f64, milking: bool) -> f64 {
    match (tdn_pct, milking) {
        (tdn, false) if tdn < 52.5 => 1.8,
        (tdn, true) if tdn < 52.5 => 2.2,
        (tdn, false) if tdn <= 59.0 => 2.2,
        (tdn, true) if tdn <= 59.0 => 2.5,
        (_, false) => 2.5,
        (_, true) => 2.7,
    }
}

/// Forage NDF eaten at most, % of body weight, as printed by one state. Ours by class are 1.3 dry, 1.5 milking, 1.2
/// bred heifers and bulls, 1.0 growing (judgement, within the 1.2 to 1.5 of `boyles_osu2019`).
pub const NDF_PRINTED_PCT: f64 = 1.2;
/// Where [`NDF_PRINTED_PCT`] comes from.
pub const NDF: Cite = Cite::new("missouri_ndf", "forage NDF intake", Origin::Published);
/// Forage eaten at least, % of body weight: 5 to 6 lb for 1000 to 1200 lb.
pub const ROUGHAGE_FLOOR_PCT: f64 = 0.5;
/// Where [`ROUGHAGE_FLOOR_PCT`] comes from.
pub const ROUGHAGE_FLOOR: Cite = Cite::new("rankins_auburn2000", "least roughage", Origin::Published);

/// Multipliers on intake by weather, mud and breed.
pub const MULTIPLIERS: Cite = Cite::new("nrc1996", "intake multipliers, after nrc1981", Origin::Memory);

/// Multiplier on intake by air temperature, °C: 1.16 below −15, 1.07, 1.05, 1.03, 1.00 from 15 to 25, 0.90 to 35, 0.65
/// above with hot nights. Do not count on the winter increase with bulky feed. Source: [`MULTIPLIERS`].
#[must_use]
pub fn temperature_multiplier(air_c: f64) -> f64 {
    match air_c {
        c if c < -15.0 => 1.16,
        c if c < -5.0 => 1.07,
        c if c < 5.0 => 1.05,
        c if c < 15.0 => 1.03,
        c if c < 25.0 => 1.00,
        c if c <= 35.0 => 0.90,
        _ => 0.65,
    }
}

/// Multiplier on intake by depth of mud, inches: 1.00 under 4, 0.85 from 4 to 8, 0.70 from 12. A straight line between
/// 8 and 12. Source: [`MULTIPLIERS`].
#[must_use]
pub fn mud_multiplier(depth_in: f64) -> f64 {
    if depth_in < 4.0 { 1.0 } else { 0.85 - 0.15 * ((depth_in - 8.0) / 4.0).clamp(0.0, 1.0) }
}

/// Multiplier on intake of Holsteins and of Holstein crosses.
pub const HOLSTEIN: (f64, f64) = (1.08, 1.04);
/// Multiplier without an implant, and with monensin.
pub const NO_IMPLANT_AND_MONENSIN: (f64, f64) = (0.94, 0.97);

/// Multiplier on intake of growing cattle by body fat, % of empty weight; straight lines between the printed points.
/// Source: [`MULTIPLIERS`].
#[must_use]
pub fn fatness_multiplier(body_fat_pct: f64) -> f64 {
    const POINTS: [(f64, f64); 5] = [(21.3, 1.00), (23.8, 0.97), (26.5, 0.90), (29.0, 0.82), (31.5, 0.73)];
    let (first, last) = (POINTS[0], POINTS[4]);
    if body_fat_pct <= first.0 {
        return first.1;
    }
    POINTS.windows(2).find(|pair| body_fat_pct <= pair[1].0).map_or(last.1, |pair| {
        pair[0].1 + (pair[1].1 - pair[0].1) * (body_fat_pct - pair[0].0) / (pair[1].0 - pair[0].0)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_function_gives_the_printed_rows() {
        for rule in RULES.iter().filter(|rule| rule.cite == HIBBERD) {
            let (low, high) = rule.tdn_pct.unwrap();
            let middle = 0.5 * (low + high);
            assert!((forage_intake_pct(middle, false) - rule.dry_pct).abs() < 1e-12, "{}", rule.forage);
            assert!((forage_intake_pct(middle, true) - rule.milking_pct.unwrap()).abs() < 1e-12, "{}", rule.forage);
        }
    }

    #[test]
    fn colder_air_raises_appetite_and_mud_lowers_it() {
        assert!(temperature_multiplier(-20.0) > temperature_multiplier(0.0));
        assert!((mud_multiplier(6.0) - 0.85).abs() < 1e-12);
        assert!((mud_multiplier(20.0) - 0.70).abs() < 1e-12);
        assert!((fatness_multiplier(25.15) - 0.935).abs() < 1e-9);
    }
}
