//! A solved winter as a start for winters like it: without a feed, with a poorer one, with other cattle at will.

use super::assemble::Cells;
use super::plan::{ROUNDS, add_tangents_within};
use super::program::Program;
use crate::lp::{self, Certified, Start};

/// How far short of a curve counts as held where only the cost is told, as a share: far below a cent.
const CURVE: f64 = 1e-7;

/// What of a solved winter is worth knowing for the next.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Known {
    /// Its least cost, US dollars.
    pub cost_usd: f64,
    start: Start,
    /// Share of the mix for maintenance, by group, then by period, where cattle grow.
    splits: Vec<Vec<Option<f64>>>,
}

impl Known {
    /// Of a solved winter.
    #[must_use]
    pub fn of(program: &Program, best: &Certified) -> Self {
        let split = |rows: &super::program::GrowthRows| best.x[rows.split.0];
        let splits =
            program.blocks.iter().map(|row| row.iter().map(|block| block.growth.as_ref().map(split)).collect());
        Self { cost_usd: best.objective, start: Start::of(&program.lp, best), splits: splits.collect() }
    }

    /// The least cost of a winter like it, proved like any other.
    ///
    /// # Errors
    /// Whatever the engine says.
    pub fn solve(&self, program: &mut Program, cells: &Cells<'_>) -> Result<Certified, lp::Failure> {
        let Program { lp, blocks, .. } = &mut *program;
        let known = self.splits.iter().flatten();
        for ((cell, block), split) in cells.iter().flatten().zip(blocks.iter_mut().flatten()).zip(known) {
            if let (Some(growth), Some(rows), Some(split)) = (&cell.demands.growth, &mut block.growth, split) {
                let place = format!("{} {}", cell.block.group.name, cell.block.period.label);
                // The curve is hit where the other winter stood, and a little to each side.
                for split in [0.998 * split, *split, 1.002 * split] {
                    rows.add_tangent(lp, growth, &block.amounts, &place, split.clamp(0.01, 0.99));
                }
            }
        }
        let mut found = lp::solve_near(&program.lp, &self.start)?;
        for _ in 0..ROUNDS {
            if !add_tangents_within(program, cells, &found.x, (CURVE, CURVE)) {
                return Ok(found);
            }
            found = lp::solve_from(&program.lp, &found)?;
        }
        Err(lp::Failure::Solver("the split between maintenance and gain did not settle".to_owned()))
    }
}
