//! Where an answer stands, by the names of columns and rows: a start for programmes that share some of them.

use std::collections::BTreeMap;

use super::body::Body;
use super::model::Lp;
use super::simplex::{At, Basis};
use super::solve::{Certified, Failure, solve_body_from};

/// Where an answer stands.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Start {
    cols: BTreeMap<String, At>,
    rows: BTreeMap<String, At>,
}

impl Start {
    /// Of the answer of a programme. Of names that stand there twice the last counts: a start need not be right.
    #[must_use]
    pub fn of(lp: &Lp, answer: &Certified) -> Self {
        let Some(basis) = &answer.basis else { return Self::default() };
        Self {
            cols: lp.cols.iter().map(|col| col.name.clone()).zip(basis.cols.iter().copied()).collect(),
            rows: lp.rows.iter().map(|row| row.name.clone()).zip(basis.rows.iter().copied()).collect(),
        }
    }

    fn basis(&self, lp: &Lp) -> Option<Basis> {
        if self.cols.is_empty() {
            return None;
        }
        let col = |name: &String| self.cols.get(name).copied().unwrap_or(At::Lower);
        let row = |name: &String| self.rows.get(name).copied().unwrap_or(At::Basic);
        Some(Basis {
            cols: lp.cols.iter().map(|one| col(&one.name)).collect(),
            rows: lp.rows.iter().map(|one| row(&one.name)).collect(),
        })
    }
}

/// As [`super::solve`], starting from what the programme shares with another that was solved before.
///
/// # Errors
///
/// As [`super::solve`].
pub fn solve_near(lp: &Lp, start: &Start) -> Result<Certified, Failure> {
    let body = Body::of(lp).map_err(Failure::Invalid)?;
    solve_body_from(&body, lp.constant, start.basis(lp).as_ref())
}
