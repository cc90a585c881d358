//! Steady rations: people feed the same thing for months, so after the least cost is known a second programme makes
//! the change between periods least, for no more than a stated share of the cost.

use super::Case;
use super::assemble::Cells;
use super::plan::add_tangents;
use super::program::Program;
use crate::lp::{self, Certified};
use crate::quantity::lb_from_kg;

/// The steadiest plan within the cost allowed; `None` if nothing can change (one period) or none is wanted.
///
/// # Errors
/// That the second programme could not be solved and proved.
pub fn steady(case: &Case, cells: &Cells<'_>, program: &Program, best: &Certified) -> Result<Option<Vec<f64>>, String> {
    if case.periods.len() < 2 || case.settings.steady_pct <= 0.0 {
        return Ok(None);
    }
    let mut second = program.clone();
    let ceiling = best.objective + best.objective.abs() * case.settings.steady_pct / 100.0;
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
    for g in 0..second.blocks.len() {
        for t in 1..second.blocks[g].len() {
            for f in 0..case.offers.len() {
                let (Some(before), Some(now)) = (second.blocks[g][t - 1].amounts[f], second.blocks[g][t].amounts[f])
                else {
                    continue;
                };
                let change = second.lp.col(format!("change {g} {t} {f}"), 1.0, 0.0, f64::INFINITY);
                second.lp.row("change up", 0.0, f64::INFINITY, [(change, 1.0), (now, -1.0), (before, 1.0)]);
                second.lp.row("change down", 0.0, f64::INFINITY, [(change, 1.0), (now, 1.0), (before, -1.0)]);
            }
        }
    }
    for _ in 0..40 {
        match lp::solve(&second.lp) {
            Ok(found) => {
                if !add_tangents(&mut second, cells, &found.x) {
                    return Ok(Some(found.x[..program.lp.cols.len()].to_vec()));
                }
            }
            Err(failure) => return Err(format!("steady rations: {failure}")),
        }
    }
    Err("steady rations: the split between maintenance and gain did not settle".to_owned())
}

/// Pounds of dry matter per head and day that change between one period and the next, summed over groups, periods and
/// feeds that can be given in both.
#[must_use]
pub fn changes_lb(program: &Program, x: &[f64]) -> f64 {
    let mut kg = 0.0;
    for row in &program.blocks {
        for pair in row.windows(2) {
            for (before, now) in pair[0].amounts.iter().zip(&pair[1].amounts) {
                if let (Some(before), Some(now)) = (before, now) {
                    kg += (x[before.0] - x[now.0]).abs();
                }
            }
        }
    }
    lb_from_kg(kg)
}
