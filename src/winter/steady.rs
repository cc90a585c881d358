//! Steady rations: people feed the same thing for months, so after the least cost is known a second programme makes
//! the change between periods least, for no more than a stated share of the cost.

use super::Case;
use super::assemble::Cells;
use super::plan::{ROUNDS, add_tangents};
use super::program::{BlockRows, Program};
use crate::lp::{self, Certified};
use crate::quantity::lb_from_kg;

/// The steadiest plan within the cost allowed; `None` if nothing can change (one period) or none is wanted.
///
/// # Errors
/// That the second programme could not be solved and proved.
pub fn steady(
    case: &Case,
    cells: &Cells<'_>,
    program: &Program,
    best: &Certified,
    percent: f64,
) -> Result<Option<Vec<f64>>, String> {
    if case.periods.len() < 2 || percent <= 0.0 {
        return Ok(None);
    }
    let mut second = program.clone();
    let ceiling = best.objective + best.objective.abs() * percent / 100.0;
    let costs: Vec<_> = second.lp.cols.iter().map(|col| col.cost).collect();
    let per_dollar = 1.0 / best.objective.abs().max(1.0);
    // The ceiling is a row in shares of the least cost, so that it stands beside rows near 1.
    let terms: Vec<_> = costs
        .iter()
        .enumerate()
        .filter(|(_, cost)| **cost != 0.0)
        .map(|(j, cost)| (lp::ColId(j), cost * per_dollar))
        .collect();
    second.lp.row("cost ceiling", f64::NEG_INFINITY, (ceiling - second.lp.constant) * per_dollar, terms);
    // Among equally steady plans take the cheaper: a dollar counts for a thousandth of the least cost's share.
    for (col, cost) in second.lp.cols.iter_mut().zip(&costs) {
        col.cost = cost * per_dollar * 1e-3;
    }
    second.lp.constant = 0.0;
    let feeds = by_feed(case);
    for g in 0..second.blocks.len() {
        for t in 1..second.blocks[g].len() {
            for lots in &feeds {
                let of = |t: usize| lots.iter().filter_map(|f| second.blocks[g][t].amounts[*f]).collect::<Vec<_>>();
                let (before, now) = (of(t - 1), of(t));
                if before.is_empty() || now.is_empty() {
                    continue;
                }
                let [more, less] =
                    ["more", "less"].map(|word| second.lp.col(format!("{word} {g} {t}"), 1.0, 0.0, f64::INFINITY));
                let terms = now.iter().map(|col| (*col, 1.0)).chain(before.iter().map(|col| (*col, -1.0)));
                second.lp.row("change", 0.0, 0.0, terms.chain([(more, -1.0), (less, 1.0)]));
            }
        }
    }
    let mut near = best.clone();
    for _ in 0..ROUNDS {
        match lp::solve_from(&second.lp, &near) {
            Ok(found) => {
                if !add_tangents(&mut second, cells, &found.x) {
                    return Ok(Some(found.x[..program.lp.cols.len()].to_vec()));
                }
                near = found;
            }
            Err(failure) => return Err(format!("steady rations: {failure}")),
        }
    }
    Err("steady rations: the split between maintenance and gain did not settle".to_owned())
}

/// Offers by feed: to cattle the lots of a feed that test alike are one feed.
fn by_feed(case: &Case) -> Vec<Vec<usize>> {
    let mut feeds: Vec<Vec<usize>> = Vec::new();
    for (f, offer) in case.offers.iter().enumerate() {
        let alike = |lots: &&mut Vec<usize>| {
            let first = &case.offers[lots[0]];
            first.feed_name() == offer.feed_name() && first.feed.values == offer.feed.values
        };
        match feeds.iter_mut().find(alike) {
            Some(lots) => lots.push(f),
            None => feeds.push(vec![f]),
        }
    }
    feeds
}

/// Pounds of dry matter per head and day that change between one period and the next, summed over groups, periods and
/// feeds that can be given in both.
#[must_use]
pub fn changes_lb(case: &Case, program: &Program, x: &[f64]) -> f64 {
    let feeds = by_feed(case);
    let mut kg = 0.0;
    for row in &program.blocks {
        for pair in row.windows(2) {
            for lots in &feeds {
                let of = |block: &BlockRows| -> Option<f64> {
                    let cols: Vec<_> = lots.iter().filter_map(|f| block.amounts[*f]).collect();
                    (!cols.is_empty()).then(|| cols.iter().map(|col| x[col.0]).sum())
                };
                if let (Some(before), Some(now)) = (of(&pair[0]), of(&pair[1])) {
                    kg += (before - now).abs();
                }
            }
        }
    }
    lb_from_kg(kg)
}

/// What one degree of steadiness costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Steadiness {
    /// Cost that may be given up, percent of the least cost.
    pub percent: f64,
    /// Pounds of dry matter per head and day that change hands between periods, all groups.
    pub changes_lb: f64,
    /// More than the least cost, US dollars for the winter.
    pub more_usd: f64,
}

/// Degrees of steadiness that are told.
const TOLD: [f64; 3] = [0.0, 0.5, 2.0];

/// What steadiness costs at a few degrees; those that could not be solved and proved are left out. `known` is a degree
/// that was solved already, with its point.
#[must_use]
pub fn table(
    case: &Case,
    cells: &Cells<'_>,
    program: &Program,
    best: &Certified,
    known: (f64, &[f64]),
) -> Vec<Steadiness> {
    if case.periods.len() < 2 {
        return Vec::new();
    }
    let of = |percent: f64| {
        let found = if (percent - known.0).abs() < f64::EPSILON {
            Some(known.1.to_vec())
        } else {
            steady(case, cells, program, best, percent).ok()?
        };
        let x = found.as_ref().unwrap_or(&best.x);
        let more_usd = (program.lp.cost(x) - best.objective).max(0.0);
        Some(Steadiness { percent, changes_lb: changes_lb(case, program, x), more_usd })
    };
    TOLD.into_iter().filter_map(of).collect()
}
