//! The mass balance of a bale: seed cotton = lint + seed + motes + trash + what is lost unseen.

use super::harvest::{Harvest, LOSS_PCT, MOTES_LB, SEED_LB, STATISTICAL_BALE_LB, Usual, WET_LOSS_PCT};
use crate::source::{Cite, Origin};

/// Most of the seed cotton that may be lost unseen before something is missing in the figures, percent. Judgement: wet
/// cotton loses up to 5 from memory.
pub const MOST_LOSS_PCT: f64 = 8.0;
/// How closely figures that are all given must add up, as a share of the seed cotton. Judgement: a scale ticket is not
/// nearer.
const CLOSE: f64 = 0.01;

/// A figure the user gives, with its range if he gives one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GivenFigure {
    /// Low end.
    pub low: f64,
    /// The figure to go by.
    pub usual: f64,
    /// High end.
    pub high: f64,
}

impl GivenFigure {
    /// One figure without a range.
    #[must_use]
    pub fn only(value: f64) -> Self {
        Self { low: value, usual: value, high: value }
    }
}

/// What the user gives of a bale.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct GivenBale {
    /// Lint, lb a bale.
    pub lint_lb: Option<f64>,
    /// Seed, lb a bale.
    pub seed_lb: Option<GivenFigure>,
    /// Motes, lb a bale.
    pub motes_lb: Option<GivenFigure>,
    /// Trash, lb a bale.
    pub trash_lb: Option<GivenFigure>,
    /// Lost unseen, percent of the seed cotton.
    pub loss_pct: Option<f64>,
    /// Seed cotton, lb a bale.
    pub seed_cotton_lb: Option<f64>,
}

/// One part of the seed cotton of a bale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Part {
    /// What it is.
    pub name: &'static str,
    /// lb a bale.
    pub lb: f64,
    /// Low end, lb a bale.
    pub low_lb: f64,
    /// High end, lb a bale.
    pub high_lb: f64,
    /// Where it comes from.
    pub cite: Cite,
}

/// Where the seed cotton of a bale goes.
#[derive(Debug, Clone, PartialEq)]
pub struct Balance {
    /// Lint.
    pub lint: Part,
    /// Seed.
    pub seed: Part,
    /// Motes.
    pub motes: Part,
    /// Trash.
    pub trash: Part,
    /// Lost unseen.
    pub loss: Part,
    /// Seed cotton, lb a bale.
    pub seed_cotton_lb: f64,
    /// Seed cotton when every part is at its low end, lb a bale.
    pub seed_cotton_low_lb: f64,
    /// Seed cotton when every part is at its high end, lb a bale.
    pub seed_cotton_high_lb: f64,
    /// The part that was found as the rest, if one was.
    pub rest: Option<&'static str>,
}

impl Balance {
    /// Lint out of seed cotton, 0 to 1.
    #[must_use]
    pub fn turnout(&self) -> f64 {
        self.lint.lb / self.seed_cotton_lb
    }
    /// Every part.
    #[must_use]
    pub fn parts(&self) -> [&Part; 5] {
        [&self.lint, &self.seed, &self.motes, &self.trash, &self.loss]
    }
    /// Seed for each pound of lint.
    #[must_use]
    pub fn seed_to_lint(&self) -> f64 {
        self.seed.lb / self.lint.lb
    }
}

/// Why a balance cannot be.
#[derive(Debug, Clone, PartialEq)]
pub enum Impossible {
    /// The parts add up to more than the seed cotton; which parts, in lb a bale.
    PartsExceed {
        /// Seed cotton, lb a bale.
        seed_cotton_lb: f64,
        /// Name and lb a bale of each part that is known.
        parts: Vec<(&'static str, f64)>,
    },
    /// More of the seed cotton is in no part than can be lost.
    Unaccounted {
        /// Seed cotton, lb a bale.
        seed_cotton_lb: f64,
        /// In no part, lb a bale.
        lb: f64,
    },
}

const YOURS: Cite = Cite::new("", "", Origin::Given);
const REST: Cite = Cite::new("", "the rest of the seed cotton", Origin::Computed);

fn part(name: &'static str, given: Option<GivenFigure>, usual: &Usual, scale: f64) -> Part {
    match given {
        Some(own) => Part { name, lb: own.usual, low_lb: own.low, high_lb: own.high, cite: YOURS },
        None => Part {
            name,
            lb: usual.usual * scale,
            low_lb: usual.low * scale,
            high_lb: usual.high * scale,
            cite: usual.cite,
        },
    }
}

/// Balances a bale: what is given stands; if the seed cotton is given, the first of trash, seed and unseen loss that is
/// not given is the rest; otherwise the seed cotton is the sum of its parts.
///
/// # Errors
/// The figures that cannot all be right.
pub fn balance(harvest: Harvest, wet: bool, given: &GivenBale) -> Result<Balance, Impossible> {
    let lint_lb = given.lint_lb.unwrap_or(STATISTICAL_BALE_LB);
    let scale = lint_lb / STATISTICAL_BALE_LB;
    let lint_cite = if given.lint_lb.is_some() {
        YOURS
    } else {
        Cite::new("nass_ginnings", "statistical bale, 480 lb net", Origin::CommonPractice)
    };
    let lint = Part { name: "lint", lb: lint_lb, low_lb: lint_lb, high_lb: lint_lb, cite: lint_cite };
    let mut seed = part("seed", given.seed_lb, &SEED_LB, scale);
    let motes = part("motes", given.motes_lb, &MOTES_LB, scale);
    let mut trash = part("trash", given.trash_lb, &harvest.trash_lb(), scale);
    let usual_loss = if wet { WET_LOSS_PCT } else { LOSS_PCT };
    let own_loss = given.loss_pct.map(GivenFigure::only);
    let mut loss = part("unseen loss", own_loss, &usual_loss, 1.0);
    let share = loss.lb / 100.0;
    let mut rest = None;
    let seed_cotton_lb = match given.seed_cotton_lb {
        None => (lint.lb + seed.lb + motes.lb + trash.lb) / (1.0 - share),
        Some(total) => {
            let exceed = |parts: Vec<(&'static str, f64)>| Impossible::PartsExceed { seed_cotton_lb: total, parts };
            if given.trash_lb.is_none() || given.seed_lb.is_none() {
                let filled = if given.trash_lb.is_none() { &mut trash } else { &mut seed };
                rest = Some(filled.name);
                filled.lb = 0.0;
                filled.cite = REST;
                let name = filled.name;
                let known: Vec<(&'static str, f64)> = [&lint, &seed, &motes, &trash]
                    .map(|one| (one.name, one.lb))
                    .into_iter()
                    .filter(|one| one.0 != name)
                    .chain([("unseen loss", share * total)])
                    .collect();
                let lb = total - known.iter().map(|one| one.1).sum::<f64>();
                if lb <= 0.0 {
                    return Err(exceed(known));
                }
                // The rest is least where all the others are most, and the other way round.
                let other = if name == "trash" { &seed } else { &trash };
                let low = (1.0 - loss.high_lb / 100.0) * total - lint.lb - other.high_lb - motes.high_lb;
                let high = (1.0 - loss.low_lb / 100.0) * total - lint.lb - other.low_lb - motes.low_lb;
                let filled = if name == "trash" { &mut trash } else { &mut seed };
                (filled.lb, filled.low_lb, filled.high_lb) = (lb, low.max(0.0), high);
            } else {
                let known = [&lint, &seed, &motes, &trash].map(|one| (one.name, one.lb));
                let over = total - known.iter().map(|one| one.1).sum::<f64>();
                let stated = given.loss_pct.map(|pct| pct / 100.0 * total);
                if over < -CLOSE * total || stated.is_some_and(|lb| over < lb - CLOSE * total) {
                    return Err(exceed(known.into_iter().chain(stated.map(|lb| ("unseen loss", lb))).collect()));
                }
                let most = stated.map_or(MOST_LOSS_PCT / 100.0 * total, |lb| lb + CLOSE * total);
                if over > most {
                    return Err(Impossible::Unaccounted { seed_cotton_lb: total, lb: over });
                }
                if stated.is_none() {
                    rest = Some("unseen loss");
                    let pct = over.max(0.0) / total * 100.0;
                    loss = Part { lb: pct, low_lb: pct, high_lb: pct, cite: REST, ..loss };
                }
            }
            total
        }
    };
    let sum = |pick: fn(&Part) -> f64| [&lint, &seed, &motes, &trash].map(pick).iter().sum::<f64>();
    let fixed = given.seed_cotton_lb;
    let seed_cotton_low_lb = fixed.unwrap_or(sum(|one| one.low_lb) / (1.0 - loss.low_lb / 100.0));
    let seed_cotton_high_lb = fixed.unwrap_or(sum(|one| one.high_lb) / (1.0 - loss.high_lb / 100.0));
    // From percent of the seed cotton to pounds.
    loss.lb *= seed_cotton_lb / 100.0;
    loss.low_lb *= seed_cotton_low_lb / 100.0;
    loss.high_lb *= seed_cotton_high_lb / 100.0;
    Ok(Balance { lint, seed, motes, trash, loss, seed_cotton_lb, seed_cotton_low_lb, seed_cotton_high_lb, rest })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn given(seed_cotton: f64) -> GivenBale {
        GivenBale { seed_cotton_lb: Some(seed_cotton), ..GivenBale::default() }
    }

    #[test]
    fn what_is_not_given_is_the_rest() {
        let found = balance(Harvest::Picker, false, &given(1400.0)).unwrap();
        assert_eq!(found.rest, Some("trash"));
        assert!((found.parts().iter().map(|one| one.lb).sum::<f64>() - 1400.0).abs() < 1e-9);
        assert!((found.trash.lb - (1400.0 * 0.985 - 480.0 - 640.0 - 15.0)).abs() < 1e-9);
        let both = GivenBale { trash_lb: Some(GivenFigure::only(150.0)), ..given(1400.0) };
        let found = balance(Harvest::Picker, false, &both).unwrap();
        assert_eq!(found.rest, Some("seed"));
        assert!((found.parts().iter().map(|one| one.lb).sum::<f64>() - 1400.0).abs() < 1e-9);
        let all = GivenBale { seed_lb: Some(GivenFigure::only(700.0)), ..both };
        let found = balance(Harvest::Picker, false, &all).unwrap();
        assert_eq!(found.rest, Some("unseen loss"));
        assert!((found.loss.lb - 55.0).abs() < 1e-9);
    }

    /// 1400 lb of seed cotton less 480 of lint, the most and least of seed (600 to 700), motes (10 to 30), loss (1 to 3 %).
    #[test]
    fn the_rest_has_the_range_that_the_others_leave() {
        let found = balance(Harvest::Picker, false, &given(1400.0)).unwrap();
        assert!((found.trash.low_lb - (1400.0 * 0.97 - 480.0 - 700.0 - 30.0)).abs() < 1e-9, "{:?}", found.trash);
        assert!((found.trash.high_lb - (1400.0 * 0.99 - 480.0 - 600.0 - 10.0)).abs() < 1e-9, "{:?}", found.trash);
        assert!(found.trash.low_lb < found.trash.lb && found.trash.lb < found.trash.high_lb);
    }

    #[test]
    fn figures_that_cannot_be_are_named() {
        let small = balance(Harvest::Picker, false, &given(1000.0)).unwrap_err();
        let Impossible::PartsExceed { seed_cotton_lb, parts } = small else { panic!("{small:?}") };
        assert_eq!((seed_cotton_lb, parts.len()), (1000.0, 4));
        let all = GivenBale {
            trash_lb: Some(GivenFigure::only(150.0)),
            seed_lb: Some(GivenFigure::only(700.0)),
            ..given(1600.0)
        };
        assert!(matches!(balance(Harvest::Picker, false, &all), Err(Impossible::Unaccounted { .. })));
    }
}
