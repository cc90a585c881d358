//! Body condition score (1 to 9): what the body is made of, what a score weighs and holds, and what it takes or gives.

use crate::source::{Cite, Origin};

/// Composition of the empty body by score; the same in both editions, fat read as a table.
pub const COMPOSITION: Cite = Cite::new("nrc1996", "chapter 3; fat by score read at rasby_unl", Origin::MemoryChecked);
/// Weight by score, 1996: constant ash.
pub const WEIGHT_1996: Cite =
    Cite::new("nrc2000", "reserves; reproduces the printed energy between scores", Origin::MemoryChecked);
/// Weight by score, 2016.
pub const WEIGHT_2016: Cite = Cite::new("nasem2016_abstracts", "no. 1023, body reserves", Origin::Abstract);
/// Use of reserves; the one-to-one of gain was read in a worked example of `rasby_unl`.
pub const RESERVES: Cite = Cite::new("nrc1996", "chapter 3; the same in nasem2016", Origin::Memory);
/// First-calf females.
pub const FIRST_CALF: Cite = Cite::new("nasem2016_abstracts", "no. 1023, body reserves", Origin::Abstract);

/// Empty weight as a share of shrunk weight in grown cows.
pub const EMPTY_SHARE: f64 = 0.851;
/// Diet NEm that one Mcal of reserve replaces.
pub const LOSS_EFFICIENCY: f64 = 0.8;
/// Change of weight by one score, % of the empty weight at score 5, 2016. Source: [`WEIGHT_2016`].
pub const WEIGHT_STEP_2016_PCT: f64 = 7.105;
/// Weight first-calf females put on for a score, against a cow. Source: [`FIRST_CALF`].
pub const FIRST_CALF_GAIN: f64 = 1.6;
/// Weight first-calf females lose with a score, against a cow. Source: [`FIRST_CALF`].
pub const FIRST_CALF_LOSS: f64 = 0.4;

/// Which edition gives the weight by score.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Edition {
    /// Ash stays constant.
    Nrc1996,
    /// 7.105 % of the weight at score 5 for each score.
    #[default]
    Nasem2016,
}

/// Fat, share of empty weight: 0.037683 · score.
#[must_use]
pub fn fat_share(score: f64) -> f64 {
    0.037_683 * score
}
/// Protein, share of empty weight: 0.200886 − 0.0066762 · score.
#[must_use]
pub fn protein_share(score: f64) -> f64 {
    0.200_886 - 0.006_676_2 * score
}
/// Ash, share of empty weight: 0.078982 − 0.00438 · score.
#[must_use]
pub fn ash_share(score: f64) -> f64 {
    0.078_982 - 0.004_38 * score
}
/// Water, share of empty weight: 0.766637 − 0.034506 · score.
#[must_use]
pub fn water_share(score: f64) -> f64 {
    0.766_637 - 0.034_506 * score
}

/// Weight at a score as a share of the weight at score 5.
#[must_use]
pub fn weight_share(score: f64, edition: Edition) -> f64 {
    match edition {
        Edition::Nrc1996 => ash_share(5.0) / ash_share(score),
        Edition::Nasem2016 => 1.0 + WEIGHT_STEP_2016_PCT / 100.0 * (score - 5.0),
    }
}

/// Weight the animal would have at score 5, kg, from its weight and score now.
#[must_use]
pub fn weight_at_five_kg(weight_kg: f64, score: f64, edition: Edition) -> f64 {
    weight_kg / weight_share(score, edition)
}

/// Energy held in the body, Mcal: EBW · (9.4 fat + 5.7 protein), EBW = 0.851 · SBW at that score.
#[must_use]
pub fn body_mcal(weight_at_five_kg: f64, score: f64, edition: Edition) -> f64 {
    let empty = EMPTY_SHARE * weight_at_five_kg * weight_share(score, edition);
    empty * (9.4 * fat_share(score) + 5.7 * protein_share(score))
}

/// Energy from one score to another, Mcal; above 0 when the second is higher. Scores 1 to 9, parts of a score allowed.
#[must_use]
pub fn energy_between_mcal(weight_at_five_kg: f64, from: f64, to: f64, edition: Edition) -> f64 {
    body_mcal(weight_at_five_kg, to, edition) - body_mcal(weight_at_five_kg, from, edition)
}

/// Body energy that goes with a change of score, Mcal, counting that first-calf females put on 1.6 times, and lose
/// 0.4 times, what a cow does.
#[must_use]
pub fn reserve_change_mcal(weight_at_five_kg: f64, from: f64, to: f64, first_calf: bool, edition: Edition) -> f64 {
    let cow = energy_between_mcal(weight_at_five_kg, from, to, edition);
    match (first_calf, cow >= 0.0) {
        (false, _) => cow,
        (true, true) => cow * FIRST_CALF_GAIN,
        (true, false) => cow * FIRST_CALF_LOSS,
    }
}

/// Diet NEm that a change of reserves asks for (above 0) or spares (below 0), Mcal: one for one to gain, 0.8 to lose.
/// Source: [`RESERVES`].
#[must_use]
pub fn diet_nem_mcal(reserve_change_mcal: f64) -> f64 {
    if reserve_change_mcal >= 0.0 { reserve_change_mcal } else { LOSS_EFFICIENCY * reserve_change_mcal }
}

/// Days in which a daily deficit of diet NEm takes one score off, or a surplus puts one on: energy of the score, times
/// 0.8 for a deficit, over the daily Mcal. `None` when there is neither.
#[must_use]
pub fn days_for_one_score(
    weight_at_five_kg: f64,
    score: f64,
    surplus_nem_mcal: f64,
    first_calf: bool,
    edition: Edition,
) -> Option<f64> {
    let to = if surplus_nem_mcal > 0.0 { score + 1.0 } else { score - 1.0 };
    let asked = diet_nem_mcal(reserve_change_mcal(weight_at_five_kg, score, to, first_calf, edition));
    (surplus_nem_mcal.abs() > 1e-9).then(|| asked / surplus_nem_mcal)
}

/// The score after a surplus (above 0) or deficit (below 0) of diet NEm summed over some days, held to 1 and 9.
#[must_use]
pub fn score_after(
    weight_at_five_kg: f64,
    score: f64,
    surplus_nem_mcal: f64,
    first_calf: bool,
    edition: Edition,
) -> f64 {
    let asked = |to| diet_nem_mcal(reserve_change_mcal(weight_at_five_kg, score, to, first_calf, edition));
    let (mut low, mut high) = (1.0, 9.0);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if asked(middle) < surplus_nem_mcal { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

/// A rule on how far condition may move.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SafeLoss {
    /// Id.
    pub id: &'static str,
    /// Who it speaks of.
    pub who: &'static str,
    /// Scores that may be lost from weaning to calving.
    pub may_lose: f64,
    /// Lowest score at calving.
    pub at_calving_least: f64,
    /// Most that may be lost from calving to breeding.
    pub calving_to_breeding_most: f64,
    /// Days before calving in which no loss is planned.
    pub no_loss_days_before_calving: f64,
    /// Where it comes from.
    pub cite: Cite,
}

/// Safe loss of condition, from memory. Targets at calving, 5 for cows and 6 for first-calf heifers, were read.
pub static SAFE_LOSS: &[SafeLoss] = &[
    SafeLoss {
        id: "fleshy_cow",
        who: "grown cow at score 6 or better",
        may_lose: 1.0,
        at_calving_least: 5.0,
        calving_to_breeding_most: 1.0,
        no_loss_days_before_calving: 60.0,
        cite: Cite::new("", "safe loss of condition", Origin::Memory),
    },
    SafeLoss {
        id: "moderate_cow",
        who: "grown cow under score 6",
        may_lose: 0.0,
        at_calving_least: 5.0,
        calving_to_breeding_most: 1.0,
        no_loss_days_before_calving: 60.0,
        cite: Cite::new("", "safe loss of condition", Origin::Memory),
    },
    SafeLoss {
        id: "heifer",
        who: "bred heifer and first-calf cow",
        may_lose: 0.0,
        at_calving_least: 5.0,
        calving_to_breeding_most: 1.0,
        no_loss_days_before_calving: 60.0,
        cite: Cite::new("", "safe loss of condition", Origin::Memory),
    },
];

/// Score wanted at calving, grown cows.
pub const TARGET_COW: f64 = 5.0;
/// Score wanted at calving, first-calf heifers.
pub const TARGET_HEIFER: f64 = 6.0;
/// Where the targets come from.
pub const TARGETS: Cite = Cite::new("rasby_unl", "condition at calving", Origin::Published);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_body_adds_up_as_well_as_four_regressions_do() {
        for score in 1..=9 {
            let b = f64::from(score);
            let sum = fat_share(b) + protein_share(b) + ash_share(b) + water_share(b);
            assert!((sum - 1.0).abs() < 0.04, "score {score}: {sum}");
        }
    }

    #[test]
    fn score_after_is_the_inverse_of_energy_between() {
        for (from, to) in [(5.0, 6.0), (5.0, 4.0), (6.3, 5.1), (4.2, 4.7)] {
            for first_calf in [false, true] {
                let change = reserve_change_mcal(500.0, from, to, first_calf, Edition::Nasem2016);
                let back = score_after(500.0, from, diet_nem_mcal(change), first_calf, Edition::Nasem2016);
                assert!((back - to).abs() < 1e-6, "{from} to {to}: {back}");
            }
        }
    }

    #[test]
    fn heifers_gain_dear_and_lose_fast() {
        let days = |young| days_for_one_score(500.0, 5.0, -2.0, young, Edition::Nasem2016).unwrap();
        assert!((days(true) / days(false) - FIRST_CALF_LOSS).abs() < 1e-9);
        let days = |young| days_for_one_score(500.0, 5.0, 2.0, young, Edition::Nasem2016).unwrap();
        assert!((days(true) / days(false) - FIRST_CALF_GAIN).abs() < 1e-9);
        assert!(days_for_one_score(500.0, 5.0, 0.0, false, Edition::Nasem2016).is_none());
    }
}
