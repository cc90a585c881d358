//! Row prices by linear programming, where the equations at the vertex leave a choice.
//!
//! The solver gives none. Prices that fit a known optimum obey complementary slackness: no price on a slack row, no
//! reduced cost on a column inside its bounds, and the right signs elsewhere. That is itself a linear programme.

use super::body::Body;
use super::certify::reduced_with_sizes;
use super::engine::{Stop, nearest, optimum};

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

/// The conditions on row prices that make a point standing at `stand` optimal: one column per tight row, one row per
/// column of `body` that is not fixed. Also gives the tight rows and, for each row made, its column of `body`.
pub(super) fn conditions(body: &Body, stand: &Stand) -> (Body, Vec<usize>, Vec<usize>) {
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
    let mut of = Vec::new();
    for (j, terms) in by_column.into_iter().enumerate() {
        let cost = body.cost[j];
        let (low, high) = match stand.cols[j] {
            Side::Inside => (cost, cost),
            Side::Lower => (f64::NEG_INFINITY, cost),
            Side::Upper => (cost, f64::INFINITY),
            Side::Both => continue,
        };
        dual.row(low, high, terms);
        of.push(j);
    }
    (dual, tight, of)
}

/// Row prices that make a point standing at `stand` optimal.
pub(super) fn prices_at(body: &Body, stand: &Stand) -> Result<Vec<f64>, Stop> {
    let (dual, tight, _) = conditions(body, stand);
    let found = nearest(&dual)?;
    let mut y = vec![0.0; body.height()];
    for (&i, price) in tight.iter().zip(found) {
        y[i] = price;
    }
    Ok(y)
}

/// Row prices from the dual programme as a whole: another road to the same answer, for when the solver loses its way
/// on the first. It starts from prices of zero, which most programmes allow, where the first road starts outside.
pub(super) fn prices(body: &Body) -> Result<Vec<f64>, Stop> {
    let mut dual = Body::default();
    // Amounts count from a finite bound, so that a reduced cost earns nothing there.
    let base: Vec<f64> = body.lower.iter().zip(&body.upper).map(|(&low, &high)| finite_or(low, high)).collect();
    let at_base = body.activity(&base);
    let mut by_column = vec![Vec::new(); body.width()];
    let mut of = Vec::new();
    for (i, terms) in body.rows.iter().enumerate() {
        let (low, high) = (body.row_lower[i] - at_base[i], body.row_upper[i] - at_base[i]);
        let mut add = |earns: f64, least: f64, most: f64| {
            let k = dual.col(-earns, least, most);
            of.push(i);
            for &(j, a) in terms {
                by_column[j].push((k, a));
            }
        };
        if low.total_cmp(&high).is_eq() {
            add(low, f64::NEG_INFINITY, f64::INFINITY);
            continue;
        }
        if low.is_finite() {
            add(low, 0.0, f64::INFINITY);
        }
        if high.is_finite() {
            add(high, f64::NEG_INFINITY, 0.0);
        }
    }
    for (j, mut terms) in by_column.into_iter().enumerate() {
        let (low, high, cost) = (body.lower[j], body.upper[j], body.cost[j]);
        let (least, most) = match (low.is_finite(), high.is_finite()) {
            (true, true) if high <= low => continue,
            (true, true) => {
                let above = dual.col(high - low, 0.0, f64::INFINITY);
                terms.push((above, -1.0));
                (f64::NEG_INFINITY, cost)
            }
            (true, false) => (f64::NEG_INFINITY, cost),
            (false, true) => (cost, f64::INFINITY),
            (false, false) => (cost, cost),
        };
        dual.row(least, most, terms);
    }
    let found = optimum(&dual).map_err(|stop| match stop {
        Stop::Unbounded => Stop::Infeasible,
        Stop::Infeasible => Stop::Unbounded,
        Stop::Broken(why) => Stop::Broken(why),
    })?;
    let mut y = vec![0.0; body.height()];
    for (&i, price) in of.iter().zip(found) {
        y[i] += price;
    }
    Ok(y)
}

/// Amounts that fit row prices: a column with a reduced cost stands on its bound, a row with a price on its side.
pub(super) fn amounts_at(body: &Body, y: &[f64]) -> Result<Vec<f64>, Stop> {
    let mut face = face_of(body, y);
    face.cost.fill(0.0);
    optimum(&face)
}

/// A price this small against its terms is none.
const NO_PRICE: f64 = 1e-9;

/// All answers that fit optimal row prices.
pub(super) fn face_of(body: &Body, y: &[f64]) -> Body {
    let mut face = body.clone();
    let (reduced, sizes) = reduced_with_sizes(body, y);
    for (j, (d, size)) in reduced.iter().zip(&sizes).enumerate() {
        let side = if *d > 0.0 { body.lower[j] } else { body.upper[j] };
        if d.abs() > NO_PRICE * size && side.is_finite() {
            (face.lower[j], face.upper[j]) = (side, side);
        }
    }
    for (i, &price) in y.iter().enumerate() {
        let counts = body.rows[i].iter().any(|&(j, a)| (a * price).abs() > NO_PRICE * sizes[j]);
        let side = if price > 0.0 { body.row_lower[i] } else { body.row_upper[i] };
        if price != 0.0 && counts && side.is_finite() {
            (face.row_lower[i], face.row_upper[i]) = (side, side);
        }
    }
    face
}

/// The lower bound, else the upper, else zero.
fn finite_or(low: f64, high: f64) -> f64 {
    if low.is_finite() {
        low
    } else if high.is_finite() {
        high
    } else {
        0.0
    }
}

/// Signs allowed to a price by the side its row stands on.
fn price_range(side: Side) -> (f64, f64) {
    match side {
        Side::Inside => (0.0, 0.0),
        Side::Lower => (0.0, f64::INFINITY),
        Side::Upper => (f64::NEG_INFINITY, 0.0),
        Side::Both => (f64::NEG_INFINITY, f64::INFINITY),
    }
}
