//! Needs met as surely as asked: cuts that hold mean − z·√Σ(sd·x)² ≥ need, added where a point misses it.
//!
//! The root is convex and grows with the ration, so at any point it has a tangent through nothing, a plain row. A cut is
//! true of every ration; enough of them and the need itself holds.

use super::assemble::Cells;
use super::program::{Program, ration, terms};

/// A need is held surely to this share of what its row adds up.
pub(super) const HELD: f64 = 1e-9;

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
            let row = |row: &crate::lp::RowId| {
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
