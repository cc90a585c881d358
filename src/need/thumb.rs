//! Intake by rule of thumb, and fiber ceilings.

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
}
