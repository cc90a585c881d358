//! Answers in which some columns take whole numbers (truckloads, bales).
//!
//! Once the whole numbers stand, everything else is solved again and certified at them. That no other whole numbers
//! cost less is proved down to a bound: the certified optimum in fractions, or the solver's own where that is better.

use std::panic::{AssertUnwindSafe, catch_unwind};

use good_lp::solvers::SolutionStatus;

use super::body::Body;
use super::engine::{Stop, Whole as Ask, optimum_in_whole};
use super::model::{ColId, Lp};
use super::simplex::Basis;
use super::solve::{Failure, solve_body, solve_body_from};

/// The search takes a number this near a whole one for whole.
const WHOLE: f64 = 1e-6;

/// How a search in whole numbers ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ended {
    /// Nothing cheaper exists.
    Proved,
    /// Nothing cheaper exists by more than the gap that was asked for.
    WithinGap,
    /// Time ran out; the gap says how good the answer is at least.
    OutOfTime,
}

/// An answer in whole numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct WholeAnswer {
    /// Amount of each column; whole where asked.
    pub x: Vec<f64>,
    /// Its cost.
    pub objective: f64,
    /// No answer costs less than this: the certified optimum in fractions, or by the word of the search, which is not
    /// certified, more.
    pub bound: f64,
    /// `(objective − bound)` over the larger of `|objective|` and `|bound|`.
    pub gap: f64,
    /// How the search ended.
    pub ended: Ended,
}

/// Searches for the least cost with `cols` in whole numbers.
///
/// `start` holds an amount for every column, such as the optimum rounded up, of which the whole numbers are kept and
/// the rest is solved again; if nothing fits them it is not used. The search may end at the relative `gap` (0 for the
/// optimum) and must end after `seconds`.
///
/// # Errors
///
/// [`Failure::Infeasible`] if there is no answer even in fractions or, by the solver's word, none in whole numbers;
/// [`Failure::Solver`] if time ran out with no answer and `start` is none; else as [`super::solve`].
pub fn solve_whole(
    lp: &Lp,
    cols: &[ColId],
    start: Option<&[f64]>,
    gap: f64,
    seconds: f64,
) -> Result<WholeAnswer, Failure> {
    let body = Body::of(lp).map_err(Failure::Invalid)?;
    let invalid = |why: &str| Failure::Invalid(why.to_owned());
    if cols.iter().any(|col| col.0 >= body.width()) {
        return Err(invalid("a column does not exist"));
    }
    if !(gap >= 0.0 && gap.is_finite() && seconds >= 0.0 && seconds.is_finite()) {
        return Err(invalid("the gap or the time is not a number above 0"));
    }
    let numbers: Vec<usize> = cols.iter().map(|col| col.0).collect();
    let fractions = solve_body(&body, lp.constant)?;
    let near = fractions.basis.as_ref();
    let start = start.and_then(|start| settle(&body, start, &numbers, near));

    #[allow(clippy::cast_possible_truncation)] // a gap needs no more digits
    let ask = Ask { cols: &numbers, start: start.as_deref(), gap: gap as f32, seconds };
    let found = catch_unwind(AssertUnwindSafe(|| optimum_in_whole(&body, &ask)))
        .unwrap_or_else(|_| Err(Stop::Broken("internal assertion".to_owned())));
    let (x, ended, bound) = match (found, start) {
        (Ok(found), start) => {
            let ended = match found.status {
                SolutionStatus::Optimal => Ended::Proved,
                SolutionStatus::GapLimit => Ended::WithinGap,
                SolutionStatus::TimeLimit => Ended::OutOfTime,
            };
            let bound = found.bound.map(|bound| bound + lp.constant);
            match (settle(&body, &found.x, &numbers, near), start) {
                (Some(x), _) => (x, ended, bound),
                // What the solver gave does not hold; the start does, with the bound of the fractions.
                (None, Some(start)) => (start, Ended::OutOfTime, None),
                (None, None) => return Err(Failure::Solver("its whole numbers leave no answer".to_owned())),
            }
        }
        (Err(_), Some(start)) => (start, Ended::OutOfTime, None),
        (Err(Stop::Infeasible), None) => return Err(Failure::Infeasible),
        (Err(Stop::Unbounded), None) => return Err(Failure::Unbounded),
        (Err(Stop::Broken(why)), None) => return Err(Failure::Solver(why)),
    };
    let objective = lp.cost(&x);
    let bound = bound.filter(|bound| bound.is_finite()).unwrap_or(fractions.objective).max(fractions.objective);
    let bound = bound.min(objective);
    let size = objective.abs().max(bound.abs());
    let gap = if size == 0.0 { 0.0 } else { (objective - bound) / size };
    Ok(WholeAnswer { x, objective, bound, gap, ended })
}

/// The certified least cost at the whole numbers of `x`, if they are whole and anything fits them.
fn settle(body: &Body, x: &[f64], whole: &[usize], near: Option<&Basis>) -> Option<Vec<f64>> {
    if x.len() != body.width() {
        return None;
    }
    let mut fixed = body.clone();
    for &j in whole {
        let round = x[j].round();
        let near = (round - x[j]).abs() <= WHOLE;
        if !near || round < body.lower[j] || round > body.upper[j] {
            return None;
        }
        (fixed.lower[j], fixed.upper[j]) = (round, round);
    }
    solve_body_from(&fixed, 0.0, near).ok().map(|answer| answer.x)
}
