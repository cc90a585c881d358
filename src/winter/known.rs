//! A solved winter as a start for winters like it: without a feed, with a poorer one, with other cattle at will.

use super::assemble::Cells;
use super::plan::settled;
use super::program::Program;
use crate::lp::{self, Certified, Start};

/// What of a solved winter is worth knowing for the next.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Known {
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
        Self { start: Start::of(&program.lp, best), splits: splits.collect() }
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
        let found = lp::solve_near(&program.lp, &self.start)?;
        settled(program, cells, found)
    }
}
