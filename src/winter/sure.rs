//! Needs met as surely as asked: cuts that hold mean − z·√Σ(sd·x)² ≥ need, added where a point misses it.
//!
//! The root is convex and grows with the ration, so at any point it has a tangent through nothing, a plain row. A cut is
//! true of every ration; enough of them and the need itself holds.

use super::assemble::Cells;
use super::program::{Program, ration, terms};
use crate::lp::{Certified, Lp, RowId};

/// A need is held surely to this share of what its row adds up, a hundred times as closely as the plan is checked.
pub(super) const HELD: f64 = 1e-8;

/// Adds a cut for every need that a point does not meet as surely as asked, to a share of what its row adds up; tells
/// whether any was added.
pub fn add_cuts(program: &mut Program, cells: &Cells<'_>, x: &[f64], to: f64) -> bool {
    let mut added = false;
    let Program { lp, blocks, .. } = program;
    for (cell, block) in cells.iter().flatten().zip(blocks.iter_mut().flatten()) {
        let z = cell.demands.z;
        if z <= 0.0 {
            continue;
        }
        let kg_dm = ration(&block.amounts, x);
        for (index, rule) in cell.demands.rules.iter().enumerate() {
            if rule.spread.is_none() {
                continue;
            }
            let (mean, side) = rule.row();
            let slope = rule.spread.slope(&kg_dm);
            let cut: Vec<f64> = mean.iter().zip(&slope).map(|(mean, slope)| mean - z * slope).collect();
            let value: f64 = cut.iter().zip(&kg_dm).map(|(a, x)| a * x).sum();
            // What the row adds up, signs aside: rows are held to a share of that.
            let size: f64 = mean.iter().zip(&kg_dm).map(|(a, x)| (a * x).abs()).fold(side.abs(), f64::max);
            if side - value <= to * size {
                continue;
            }
            let row = |row: &RowId| {
                lp.rows[row.0].terms.iter().all(|(col, a)| {
                    let f = block.amounts.iter().position(|one| *one == Some(*col));
                    f.is_some_and(|f| ((a - cut[f]) * kg_dm[f]).abs() <= to * size)
                })
            };
            // The same cut again would not move the answer: it holds as closely as rows are held at all.
            if block.cuts.iter().any(|(of, one)| *of == index && row(one)) {
                continue;
            }
            let name = format!("{} {} {} surely", cell.block.group.name, cell.block.period.label, rule.name());
            let row = lp.row(name, side, f64::INFINITY, terms(&block.amounts, &cut));
            block.cuts.push((index, row));
            added = true;
        }
    }
    added
}

/// Empties the cuts and tangents of blocks with a certainty that pay nothing and have room at an answer: they led to it
/// and would only be in the way of what is asked next. The answer stays what it is.
pub(super) fn let_go(program: &mut Program, cells: &Cells<'_>, best: &Certified) {
    let Program { lp, blocks, .. } = program;
    for (cell, block) in cells.iter().flatten().zip(blocks.iter_mut().flatten()) {
        if cell.demands.z <= 0.0 {
            continue;
        }
        block.cuts.retain(|(_, row)| pays(lp, best, *row) || !empty(lp, *row));
        if let Some(rows) = &mut block.growth {
            // Those it starts with stay, so that no block is ever without any.
            let mut place = 0;
            rows.tangents.retain(|(_, keep, grow)| {
                place += 1;
                let stays = place <= 3 || pays(lp, best, *keep) || pays(lp, best, *grow);
                stays || !(empty(lp, *keep) && empty(lp, *grow))
            });
        }
    }
}

/// Whether a row has a price at an answer, or no room.
fn pays(lp: &Lp, best: &Certified, row: RowId) -> bool {
    let value = lp.row_value(row, &best.x);
    let size = lp.rows[row.0].terms.iter().map(|(col, a)| (a * best.x[col.0]).abs()).fold(1e-3, f64::max);
    best.row_dual[row.0] != 0.0 || value - lp.rows[row.0].lower <= 1e-6 * size
}

fn empty(lp: &mut Lp, row: RowId) -> bool {
    let row = &mut lp.rows[row.0];
    row.terms.clear();
    row.lower = f64::NEG_INFINITY;
    true
}
