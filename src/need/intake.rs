//! How much dry matter cattle will eat, by the printed equations, and where need and intake meet.

use super::energy::metabolic_weight;
use crate::feed::energy::{me_mcal_per_kg, neg_mcal_per_kg, nem_mcal_per_kg};
use crate::source::{Cite, Origin};

/// The cow equation; the same in both editions.
pub const COWS: Cite = Cite::new("nrc1996", "chapter 7; unchanged in nasem2016, see gross2024", Origin::MemoryChecked);
/// The equations of growing cattle.
pub const GROWING: Cite = Cite::new("nrc1996", "chapter 7; reproduces msstate_p2564", Origin::MemoryChecked);
/// The growing curve of the 1984 edition.
pub const GROWING_1984: Cite = Cite::new("nrc1984", "growing cattle", Origin::Memory);

/// Constant of the cow equation from conception on, as the printed monthly tables use it.
pub const COW_IN_CALF: f64 = 0.046_31;
/// Constant of the cow equation for open cows (in print also called the first third of gestation).
pub const COW_OPEN: f64 = 0.038_40;
/// Constant of the growing equation under a year.
pub const CALF: f64 = 0.1128;
/// Constant of the growing equation from a year on; also pregnant heifers and grown bulls.
pub const YEARLING: f64 = 0.0869;
/// Density of the diet between which the meeting of need and intake is looked for, TDN % of dry matter.
pub const TDN_RANGE_PCT: (f64, f64) = (40.0, 95.0);
/// What bred heifers eat at most, % of body weight as dry matter.
pub const BRED_HEIFER_MOST_PCT: f64 = 2.4;
/// Why bred heifers are held there.
pub const BRED_HEIFER_MOST: Cite =
    Cite::judgement("late in gestation the yearling equation gives 2.5 % of body weight, more than heifers eat");
/// How far over the predicted intake decent forage may be eaten (judgement): trials find the cow equation 14 to 17 % low.
pub const OVER_PREDICTED: f64 = 1.10;
/// Where that comes from.
pub const OVER_PREDICTED_CITE: Cite = Cite::new(
    "gross2024",
    "the intake equation runs 14 to 17 % low; 1.10 times it is the end we believe (judgement)",
    Origin::Judgement,
);

/// Crude protein of the diet at which nothing of the roughage is left for want of protein, % of dry matter.
pub const ENOUGH_PROTEIN_PCT: f64 = 7.0;
/// Crude protein at which a printed intake is known, % of dry matter.
pub const POOR_PROTEIN_PCT: f64 = 4.0;
/// Roughage eaten there, % of body weight as dry matter.
pub const POOR_PROTEIN_INTAKE_PCT: f64 = 1.2;
/// Where the two points come from, and the line between them.
pub const POOR_PROTEIN: Cite = Cite::new(
    "sprinkle_az9523",
    "printed: 7 % for rumen microbes, about 1.2 % of body weight eaten at 4 %; the straight line through both, and on below 4 %, is judgement",
    Origin::Judgement,
);

/// Share of a roughage at will that is still eaten on a diet short of protein, 0 to 1.
///
/// A straight line through two printed points: all of it at 7 % crude protein of the diet (`cp_pct`, % of dry matter),
/// 1.2 % of body weight at 4 %. `full_pct` is what would be eaten with enough protein, % of body weight. The same page
/// has intake falling sharply from 6.25 % on; the line is gentler and begins sooner, by 11 % a point at 1.8 % of body
/// weight. Source: [`POOR_PROTEIN`].
#[must_use]
pub fn share_eaten_on_poor_protein(cp_pct: f64, full_pct: f64) -> f64 {
    let lost_at_poor = (1.0 - POOR_PROTEIN_INTAKE_PCT / full_pct.max(1e-9)).max(0.0);
    let points_short = (ENOUGH_PROTEIN_PCT - cp_pct).max(0.0);
    (1.0 - lost_at_poor * points_short / (ENOUGH_PROTEIN_PCT - POOR_PROTEIN_PCT)).clamp(0.0, 1.0)
}

/// An equation of dry matter intake.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Curve {
    /// Cows: `SBW^0.75 · (0.04997 NEm² + b) / NEm + 0.2 · milk`. Source: [`COWS`].
    Cow {
        /// [`COW_IN_CALF`], [`COW_OPEN`], or a mean of the two over a period.
        b: f64,
        /// Milk, kg a day.
        milk_kg: f64,
    },
    /// Growing cattle: `SBW^0.75 · (0.2435 NEm − 0.0466 NEm² − c) / NEm`. Source: [`GROWING`].
    Growing {
        /// [`CALF`] or [`YEARLING`].
        c: f64,
    },
    /// Growing heifers in the 1984 edition: `0.95 · W^0.75 · (0.1493 NEm − 0.046 NEm² − 0.0196)`. Source: [`GROWING_1984`].
    Growing1984,
}

impl Curve {
    /// Dry matter eaten a day, kg, at a diet density in Mcal NEm per kg of dry matter (0.6 to 2.4).
    ///
    /// Below 0.96 Mcal (about 50 % TDN) the cow curve turns upward, which is no property of cows: poor roughage is held
    /// by the thumb rules and by fiber.
    #[must_use]
    pub fn dmi_kg(&self, sbw_kg: f64, nem_mcal_per_kg: f64) -> f64 {
        let x = nem_mcal_per_kg.max(1e-6);
        let s = metabolic_weight(sbw_kg);
        let dmi = match *self {
            Self::Cow { b, milk_kg } => s * (0.049_97 * x * x + b) / x + 0.2 * milk_kg,
            Self::Growing { c } => s * (0.2435 * x - 0.0466 * x * x - c) / x,
            Self::Growing1984 => 0.95 * s * (0.1493 * x - 0.046 * x * x - 0.0196),
        };
        dmi.max(0.0)
    }
}

/// Where need and intake meet: the poorest diet on which the animal can eat what it needs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Meeting {
    /// Predicted intake there, kg of dry matter a day.
    pub dmi_kg: f64,
    /// Density there, Mcal NEm per kg of dry matter.
    pub nem_mcal_per_kg: f64,
    /// The same as TDN, % of dry matter.
    pub tdn_pct: f64,
    /// Metabolizable energy eaten when exactly the need is eaten at that density, Mcal a day.
    pub me_mcal: f64,
    /// They do not meet between 40 and 95 % TDN, and this is the nearer end: at 40 she eats more than she needs, at 95
    /// she cannot eat enough.
    pub at_bound: bool,
}

impl Meeting {
    /// Efficiency of ME for maintenance at that density, NEm / ME.
    #[must_use]
    pub fn km(&self) -> f64 {
        self.nem_mcal_per_kg / me_mcal_per_kg(self.tdn_pct)
    }
}

/// Dry matter that holds a need at a density, kg: M / NEm + G / NEg.
fn needed_kg(nem_mcal: f64, neg_mcal: f64, tdn_pct: f64) -> f64 {
    let growth = if neg_mcal > 0.0 { neg_mcal / neg_mcal_per_kg(tdn_pct).max(1e-9) } else { 0.0 };
    nem_mcal.max(0.0) / nem_mcal_per_kg(tdn_pct).max(1e-9) + growth
}

/// Finds where need and intake meet, by bisection on TDN.
///
/// `nem_mcal` is all that is asked at the efficiency of maintenance, `neg_mcal` what growth asks; the same mix serves
/// both, so M / NEm + G / NEg = DMI. For cows that do not grow it is the root of a quadratic, see [`cow_root`].
#[must_use]
pub fn meet(curve: &Curve, sbw_kg: f64, nem_mcal: f64, neg_mcal: f64) -> Meeting {
    let short = |tdn| needed_kg(nem_mcal, neg_mcal, tdn) - curve.dmi_kg(sbw_kg, nem_mcal_per_kg(tdn));
    let (mut low, mut high) = TDN_RANGE_PCT;
    let (tdn_pct, at_bound) = if short(low) <= 0.0 {
        (low, true)
    } else if short(high) > 0.0 {
        (high, true)
    } else {
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if short(middle) > 0.0 { low = middle } else { high = middle }
        }
        (0.5 * (low + high), false)
    };
    let density = nem_mcal_per_kg(tdn_pct);
    Meeting {
        dmi_kg: curve.dmi_kg(sbw_kg, density),
        nem_mcal_per_kg: density,
        tdn_pct,
        me_mcal: needed_kg(nem_mcal, neg_mcal, tdn_pct) * me_mcal_per_kg(tdn_pct),
        at_bound,
    }
}

/// The same for cows that do not grow, in closed form: the positive root of
/// 0.04997 S x² + 0.2 Y x + S b − R = 0, S = SBW^0.75. Mcal NEm per kg; `None` if the need R is too small to have one.
#[must_use]
pub fn cow_root(sbw_kg: f64, b: f64, milk_kg: f64, nem_mcal: f64) -> Option<f64> {
    let s = metabolic_weight(sbw_kg);
    let (p, q, r) = (0.049_97 * s, 0.2 * milk_kg, s * b - nem_mcal);
    (r < 0.0 && p > 0.0).then(|| ((q * q - 4.0 * p * r).sqrt() - q) / (2.0 * p))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bisection_finds_the_closed_form() {
        for (need, milk) in [(9.5, 0.0), (12.0, 0.0), (16.0, 9.0)] {
            let met = meet(&Curve::Cow { b: COW_IN_CALF, milk_kg: milk }, 544.0, need, 0.0);
            let root = cow_root(544.0, COW_IN_CALF, milk, need).unwrap();
            assert!((met.nem_mcal_per_kg - root).abs() < 1e-9);
            assert!((met.dmi_kg * root - need).abs() < 1e-6);
            assert!(!met.at_bound);
        }
    }

    /// Arizona AZ9523: enough at 7 %, 1.2 % of body weight at 4 %. A thousand-pound cow on range: 18 lb, then 12.
    #[test]
    fn little_protein_cuts_intake_through_the_printed_points() {
        for full in [1.6, 1.8, 2.2] {
            assert!((share_eaten_on_poor_protein(7.0, full) - 1.0).abs() < 1e-12);
            assert!((share_eaten_on_poor_protein(9.0, full) - 1.0).abs() < 1e-12);
            assert!((full * share_eaten_on_poor_protein(4.0, full) - 1.2).abs() < 1e-12);
        }
        assert!((1.8 * share_eaten_on_poor_protein(5.5, 1.8) - 1.5).abs() < 1e-12, "half way down");
        assert!((share_eaten_on_poor_protein(4.0, 1.0) - 1.0).abs() < 1e-12, "who eats less anyway is not cut");
    }

    #[test]
    fn the_bound_is_told() {
        let curve = Curve::Growing { c: CALF };
        let much = meet(&curve, 200.0, 4.0, 20.0);
        assert!(much.at_bound && (much.tdn_pct - 95.0).abs() < 1e-9);
        let cow = Curve::Cow { b: COW_IN_CALF, milk_kg: 0.0 };
        let little = meet(&cow, 544.0, 3.0, 0.0);
        assert!(little.at_bound && (little.tdn_pct - 40.0).abs() < 1e-9);
    }

    #[test]
    fn growth_and_maintenance_are_served_by_one_mix() {
        let met = meet(&Curve::Growing { c: YEARLING }, 300.0, 5.55, 3.0);
        let share = 5.55 / met.nem_mcal_per_kg + 3.0 / neg_mcal_per_kg(met.tdn_pct);
        assert!((share - met.dmi_kg).abs() < 1e-6);
    }
}
