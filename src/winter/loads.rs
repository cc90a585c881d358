//! Whole loads: the winter again with loads as whole numbers, its loads then fixed and all else solved and proved anew.

use super::Case;
use super::assemble::Cells;
use super::plan::{add_tangents_within, solve_growing};
use super::program::Program;
use crate::lp::{self, Certified, ColId, Ended};
use std::time::Instant;

/// Relative distance from the least cost at which the search may stop.
pub const GAP: f64 = 0.003;
/// Longest search, seconds.
pub const LONGEST_S: f64 = 10.0;

/// While loads are looked for, needs are held surely to this share; once they stand, as closely as always.
const ROUGHLY: f64 = 1e-4;

/// How whole loads were found.
#[derive(Debug, Clone, PartialEq)]
pub enum WholeLoads {
    /// A plan in whole loads.
    Found {
        /// No plan in whole loads costs less than this by the word of the search, US dollars. What is proved is the cost of
        /// part loads.
        bound_usd: f64,
        /// `(cost − bound) / cost` of the least-cost plan found, before steadiness.
        gap: f64,
        /// Cost if part loads could be hauled, US dollars.
        part_loads_usd: f64,
        /// The search ran out of time.
        out_of_time: bool,
    },
    /// None was found; the plan is that of part loads.
    Failed(String),
}

/// A winter whose loads are settled.
pub(super) struct Settled {
    /// How they were found.
    pub(super) how: WholeLoads,
    /// The programme with the loads fixed.
    pub(super) program: Program,
    /// Its certified answer.
    pub(super) best: Certified,
}

/// Columns that count loads.
fn load_columns(case: &Case, program: &Program) -> Vec<Vec<ColId>> {
    let stores = case.offers.iter().zip(&program.stores);
    stores
        .filter(|(offer, _)| offer.whole_loads)
        .filter_map(|(_, store)| store.as_ref().map(|store| store.bought.iter().flatten().copied().collect()))
        .collect()
}

/// The loads rounded up so that by the end of every period at least as much has come as in part loads.
fn rounded_up(columns: &[Vec<ColId>], x: &[f64]) -> Vec<f64> {
    let mut rounded = x.to_vec();
    for feed in columns {
        let (mut wanted, mut hauled) = (0.0, 0.0);
        for col in feed {
            wanted += x[col.0].max(0.0);
            let loads = (wanted - hauled - 1e-9_f64).ceil().max(0.0);
            hauled += loads;
            rounded[col.0] = loads;
        }
    }
    rounded
}

/// The winter in whole loads; `None` if no feed is hauled in whole loads only.
pub(super) fn in_whole(
    case: &Case,
    cells: &Cells<'_>,
    program: &mut Program,
    best: &Certified,
) -> Option<Result<Settled, String>> {
    let columns = load_columns(case, program);
    let cols: Vec<ColId> = columns.iter().flatten().copied().collect();
    if cols.is_empty() {
        return None;
    }
    let begun = Instant::now();
    let mut start = rounded_up(&columns, &best.x);
    let mut bound = best.objective;
    loop {
        let left = (LONGEST_S - begun.elapsed().as_secs_f64()).max(0.1);
        let answer = match lp::solve_whole(&program.lp, &cols, Some(&start), GAP, left) {
            Ok(answer) => answer,
            Err(failure) => return Some(Err(failure.to_string())),
        };
        bound = bound.max(answer.bound);
        let out_of_time = answer.ended == Ended::OutOfTime;
        start = answer.x;
        // A growth curve that does not hold yet gets its tangent, and the loads are looked for again.
        if add_tangents_within(program, cells, &start, (1e-9, ROUGHLY)) && begun.elapsed().as_secs_f64() < LONGEST_S {
            continue;
        }
        let mut fixed = program.clone();
        for col in &cols {
            let loads = start[col.0].round();
            (fixed.lp.cols[col.0].lower, fixed.lp.cols[col.0].upper) = (loads, loads);
        }
        return Some(match solve_growing(&mut fixed, cells) {
            Ok(settled) => {
                let bound_usd = bound.min(settled.objective);
                let gap = (settled.objective - bound_usd) / settled.objective.abs().max(1e-9);
                let part_loads_usd = best.objective;
                let how = WholeLoads::Found { bound_usd, gap, part_loads_usd, out_of_time };
                Ok(Settled { how, program: fixed, best: settled })
            }
            Err(failure) => Err(failure.to_string()),
        });
    }
}
