//! Row prices by linear programming, where the equations at the vertex leave a choice.
//!
//! The solver gives none. Prices that fit a known optimum obey complementary slackness: no price on a slack row, no
//! reduced cost on a column inside its bounds, and the right signs elsewhere. That is itself a linear programme.

use super::body::Body;
use super::engine::{Stop, optimum};

/// Where a point stands: on which sides of its rows and columns.
#[derive(Debug, Clone)]
pub(super) struct Stand {
    pub(super) rows: Vec<Side>,
    pub(super) cols: Vec<Side>,
}

/// On which side a value stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Side {
    /// On neither.
    Inside,
    /// On the lower one.
    Lower,
    /// On the upper one.
    Upper,
    /// On both: an equation or a fixed column.
    Both,
}

impl Stand {
    /// Finds the sides within `tolerance`: of a row relative to its terms (to its coefficients where the terms are
    /// smaller), of a column relative to its bound, at least 1.
    pub(super) fn of(body: &Body, x: &[f64], tolerance: f64) -> Self {
        let cols = x.iter().zip(&body.lower).zip(&body.upper);
        let cols = cols.map(|((&value, &low), &high)| side(value, low, high, tolerance, 1.0)).collect();
        let rows = body.rows.iter().zip(&body.row_lower).zip(&body.row_upper).map(|((terms, &low), &high)| {
            let unit = terms.iter().fold(0.0_f64, |most, term| most.max(term.1.abs())).min(1.0);
            let (value, size) = terms.iter().fold((0.0, unit), |(sum, size), &(j, a)| {
                let term = a * x[j];
                (sum + term, size.max(term.abs()))
            });
            side(value, low, high, tolerance, size)
        });
        Self { cols, rows: rows.collect() }
    }

    pub(super) fn tight_rows(&self) -> Vec<usize> {
        (0..self.rows.len()).filter(|&i| self.rows[i] != Side::Inside).collect()
    }

    pub(super) fn inside_cols(&self) -> Vec<usize> {
        (0..self.cols.len()).filter(|&j| self.cols[j] == Side::Inside).collect()
    }
}

fn side(value: f64, low: f64, high: f64, tolerance: f64, size: f64) -> Side {
    let near = |bound: f64| bound.is_finite() && (value - bound).abs() <= tolerance * bound.abs().max(size);
    match (near(low), near(high)) {
        (true, true) => Side::Both,
        (true, false) => Side::Lower,
        (false, true) => Side::Upper,
        (false, false) => Side::Inside,
    }
}

/// Row prices that make a point standing at `stand` optimal.
pub(super) fn prices_at(body: &Body, stand: &Stand) -> Result<Vec<f64>, Stop> {
    let tight = stand.tight_rows();
    let mut dual = Body::default();
    let mut by_column = vec![Vec::new(); body.width()];
    for &i in &tight {
        let (low, high) = price_range(stand.rows[i]);
        let k = dual.col(0.0, low, high);
        for &(j, a) in &body.rows[i] {
            by_column[j].push((k, a));
        }
    }
    for (j, terms) in by_column.into_iter().enumerate() {
        let cost = body.cost[j];
        match stand.cols[j] {
            Side::Inside => dual.row(cost, cost, terms),
            Side::Lower => dual.row(f64::NEG_INFINITY, cost, terms),
            Side::Upper => dual.row(cost, f64::INFINITY, terms),
            Side::Both => continue,
        };
    }
    let found = optimum(&dual)?;
    let mut y = vec![0.0; body.height()];
    for (&i, price) in tight.iter().zip(found) {
        y[i] = price;
    }
    Ok(y)
}

/// Signs allowed to a price by the side its row stands on.
pub(super) fn price_range(side: Side) -> (f64, f64) {
    match side {
        Side::Inside => (0.0, 0.0),
        Side::Lower => (0.0, f64::INFINITY),
        Side::Upper => (f64::NEG_INFINITY, 0.0),
        Side::Both => (f64::NEG_INFINITY, f64::INFINITY),
    }
}
