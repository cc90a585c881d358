//! One attempt at a certified answer: scale, fold, solve, sharpen, price, judge.

use super::body::Body;
use super::certify::Certificate;
use super::dual::{Side, Stand, amounts_at, prices, prices_at};
use super::engine::{Stop, optimum};
use super::fold::Unfold;
use super::scale::Scale;
use super::simplex::{self, Basis};
use super::solve::Certified;
use super::tight::Tight;

/// One way to an answer.
pub(super) struct Attempt {
    pub(super) passes: usize,
    fold: bool,
    road: Road,
}

/// Who looks for the point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Road {
    /// Our simplex method, which can start from a basis.
    Simplex,
    /// The general solver.
    Solver,
    /// The general solver: prices first, from the dual programme, then amounts.
    PricesFirst,
}

/// Ways in the order of merit; the later ones are second opinions for the rare programme on which the first drifts.
pub(super) const ATTEMPTS: [Attempt; 7] = [
    Attempt { passes: 4, fold: true, road: Road::Simplex },
    Attempt { passes: 1, fold: true, road: Road::Simplex },
    Attempt { passes: 4, fold: false, road: Road::Simplex },
    Attempt { passes: 4, fold: true, road: Road::Solver },
    Attempt { passes: 4, fold: true, road: Road::PricesFirst },
    Attempt { passes: 1, fold: true, road: Road::Solver },
    Attempt { passes: 4, fold: false, road: Road::Solver },
];

/// A scaled price this small is the rounding of others.
const ROUNDING: f64 = 1e-14;

/// How close to a side counts as on it, in the order tried.
const NEAR: [f64; 3] = [1e-9, 1e-7, 1e-11];

/// A programme on its way: as written, and as the solver gets it.
pub(super) struct Task<'a> {
    written: &'a Body,
    constant: f64,
    pub(super) inner: Body,
    pub(super) scale: Scale,
    unfold: Option<Unfold>,
    road: Road,
    pub(super) best: Certificate,
}

impl<'a> Task<'a> {
    pub(super) fn new(written: &'a Body, constant: f64, &Attempt { passes, fold, road }: &Attempt) -> Self {
        let mut inner = written.clone();
        let scale = Scale::apply(&mut inner, passes);
        let unfold = fold.then(|| Unfold::apply(&mut inner));
        Self { written, constant, inner, scale, unfold, road, best: Certificate::NONE }
    }

    /// A certified answer, or the reason there is none if one was given. `start` is where an answer of a programme like
    /// this one stands.
    pub(super) fn run(&mut self, start: Option<&Basis>) -> Result<Certified, Option<Stop>> {
        let point = match self.road {
            Road::Simplex => return self.by_simplex(start),
            Road::Solver => optimum(&self.inner).map_err(Some)?,
            Road::PricesFirst => {
                let y = prices(&self.inner).map_err(Some)?;
                // The prices are proved; that no amounts fit them is no proof that there are none.
                let x = amounts_at(&self.inner, &y).map_err(|_| None)?;
                if let Some(certified) = self.judge(&x, &y) {
                    return Ok(certified);
                }
                x
            }
        };
        self.at_point(&point).ok_or(None)
    }

    fn by_simplex(&mut self, start: Option<&Basis>) -> Result<Certified, Option<Stop>> {
        let start = start.map(|start| match &self.unfold {
            Some(unfold) => unfold.refold_basis(start),
            None => start.clone(),
        });
        let vertex = simplex::optimum(&self.inner, start.as_ref()).map_err(|why| Some(why.into()))?;
        let certified = self.judge(&vertex.x, &vertex.y).or_else(|| self.at_point(&vertex.x));
        let mut certified = certified.ok_or(None)?;
        let mut basis = vertex.basis;
        if let Some(unfold) = &self.unfold {
            unfold.undo_basis(&mut basis);
        }
        certified.basis = Some(basis);
        Ok(certified)
    }

    /// A certified answer from a point in the numbers of the solver.
    pub(super) fn at_point(&mut self, point: &[f64]) -> Option<Certified> {
        NEAR.into_iter().find_map(|near| self.at_vertex(point, near))
    }

    /// A certified answer from amounts in the units of the programme as written.
    pub(super) fn at_amounts(&mut self, x: &[f64]) -> Option<Certified> {
        let mut point = self.scale.scale_x(x);
        if let Some(unfold) = &self.unfold {
            unfold.refold(&mut point);
        }
        self.at_point(&point)
    }

    /// Takes the solver's point for a vertex, sharpens it, prices it.
    fn at_vertex(&mut self, point: &[f64], near: f64) -> Option<Certified> {
        let stand = Stand::of(&self.inner, point, near);
        let tight = Tight::factor(&self.inner.rows, stand.tight_rows(), stand.inside_cols(), self.inner.width());
        let mut y = vec![0.0; self.inner.height()];
        let mut x = point.to_vec();
        if let Some(tight) = &tight {
            sharpen_x(&self.inner, &stand, tight, &mut x);
            sharpen_y(&self.inner, tight, &mut y);
            if let Some(certified) = self.judge(&x, &y) {
                return Some(certified);
            }
        }
        let mut y = prices_at(&self.inner, &stand).ok()?;
        let rough = y.clone();
        if let Some(tight) = priced(&self.inner, &y) {
            sharpen_y(&self.inner, &tight, &mut y);
        }
        let pairs = [(x.as_slice(), y.as_slice()), (x.as_slice(), rough.as_slice()), (point, rough.as_slice())];
        pairs.into_iter().find_map(|(x, y)| self.judge(x, y))
    }

    /// Undoes fold and scale and asks for the certificate.
    fn judge(&mut self, x: &[f64], y: &[f64]) -> Option<Certified> {
        let (mut x, mut y) = (x.to_vec(), y.to_vec());
        for ((value, &low), &high) in x.iter_mut().zip(&self.inner.lower).zip(&self.inner.upper) {
            *value = value.max(low).min(high);
        }
        if let Some(unfold) = &self.unfold {
            unfold.undo(&self.inner, &mut x, &mut y);
        }
        let (x, row_dual) = (self.scale.unscale_x(&x), self.scale.unscale_y(&y));
        match Certified::new(self.written, self.constant, x, row_dual) {
            Ok(certified) => Some(certified),
            Err(figures) => {
                if figures.worst() < self.best.worst() {
                    self.best = figures;
                }
                None
            }
        }
    }
}

/// Puts `x` exactly on the sides where it stands, then solves the tight rows for the columns inside.
fn sharpen_x(body: &Body, stand: &Stand, tight: &Tight, x: &mut [f64]) {
    for (j, side) in stand.cols.iter().enumerate() {
        match side {
            Side::Inside => {}
            Side::Lower | Side::Both => x[j] = body.lower[j],
            Side::Upper => x[j] = body.upper[j],
        }
    }
    for _ in 0..2 {
        let value = body.activity(x);
        let residual: Vec<f64> = (0..body.height())
            .map(|i| match stand.rows[i] {
                Side::Inside => 0.0,
                Side::Lower | Side::Both => body.row_lower[i] - value[i],
                Side::Upper => body.row_upper[i] - value[i],
            })
            .collect();
        tight.move_columns(&residual, x);
    }
}

/// Solves for the prices of the rows so that the columns of `tight` have no reduced cost.
fn sharpen_y(body: &Body, tight: &Tight, y: &mut [f64]) {
    for _ in 0..2 {
        let reduced = body.reduced_cost(y);
        tight.move_prices(&reduced, y);
    }
    // Costs are near 1 here: what is left of a price that cancelled is rounding.
    let most = y.iter().fold(1.0_f64, |most, price| most.max(price.abs()));
    for price in y.iter_mut().filter(|price| price.abs() <= ROUNDING * most) {
        *price = 0.0;
    }
}

/// The equations that known prices stand on: rows with a price, columns without a reduced cost.
fn priced(body: &Body, y: &[f64]) -> Option<Tight> {
    let rows = (0..body.height()).filter(|&i| y[i] != 0.0).collect();
    let reduced = body.reduced_cost(y);
    let cols = (0..body.width()).filter(|&j| reduced[j].abs() <= 1e-9).collect();
    Tight::factor(&body.rows, rows, cols, body.width())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lp::model::Lp;

    /// Stocks of three feeds over four weeks, two needs a week.
    fn stocks(seed: u32) -> Lp {
        let mut dice = seed;
        let mut real = |low: f64, high: f64| {
            dice = dice.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            low + (high - low) * f64::from(dice >> 8) / f64::from(1 << 24)
        };
        let mut lp = Lp::default();
        let mut kept = [None; 3];
        for week in 0..4 {
            let fed: Vec<_> = (0..3).map(|k| lp.col(format!("feed {week} {k}"), 0.0, 0.0, f64::INFINITY)).collect();
            for need in 0..2 {
                let terms: Vec<_> = fed.iter().map(|&col| (col, real(0.1, 1.0))).collect();
                lp.row(format!("need {week} {need}"), real(5.0, 9.0), f64::INFINITY, terms);
            }
            for k in 0..3 {
                let buy = lp.col(format!("buy {week} {k}"), real(0.5, 2.0), 0.0, real(10.0, 40.0));
                let keep = lp.col(format!("keep {week} {k}"), 0.01, 0.0, 1e4);
                let mut terms = vec![(buy, 1.0), (keep, -1.0), (fed[k], -1.05)];
                terms.extend(kept[k].map(|last| (last, 0.98)));
                lp.row(format!("stock {week} {k}"), 0.0, 0.0, terms);
                kept[k] = Some(keep);
            }
        }
        lp
    }

    #[test]
    fn every_attempt_certifies_the_same_cost() {
        for seed in 0..100 {
            let lp = stocks(seed);
            let body = Body::of(&lp).unwrap();
            let mut costs = Vec::new();
            for attempt in &ATTEMPTS {
                let mut task = Task::new(&body, lp.constant, attempt);
                let folds = task.inner.rows.iter().zip(&body.rows).filter(|(new, old)| new.len() < old.len()).count();
                assert_eq!(folds, if attempt.fold { 12 } else { 0 });
                let answer = task.run(None).unwrap_or_else(|stop| panic!("seed {seed}: {stop:?} {:?}", task.best));
                costs.push(answer.objective);
                // From its own amounts the answer is found again without the solver's first step.
                let again = Task::new(&body, lp.constant, attempt).at_amounts(&answer.x);
                assert!(again.is_some_and(|again| (again.objective - answer.objective).abs() < 1e-9));
            }
            for cost in &costs {
                assert!((cost - costs[0]).abs() <= 1e-10 * costs[0], "seed {seed}: {costs:?}");
            }
        }
    }

    /// A start is only a start: with other costs and sides, one more row and one more column, the cost is that of a
    /// solve from nothing, and our own method finds it.
    #[test]
    fn a_start_changes_no_cost() {
        for seed in 0..200 {
            let mut lp = stocks(seed);
            let first = crate::lp::solve(&lp).unwrap();
            let mut dice = seed.wrapping_mul(2_654_435_761).wrapping_add(17);
            let mut real = |low: f64, high: f64| {
                dice = dice.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                low + (high - low) * f64::from(dice >> 8) / f64::from(1 << 24)
            };
            for col in &mut lp.cols {
                col.cost *= real(0.7, 1.4);
            }
            for row in lp.rows.iter_mut().filter(|row| row.lower > 0.0) {
                row.lower *= real(0.8, 1.0);
            }
            let spare = lp.col("spare", real(0.1, 3.0), 0.0, 5.0);
            lp.row("cut", real(1.0, 4.0), f64::INFINITY, [(crate::lp::ColId(0), 1.0), (spare, 1.0)]);
            let cold = crate::lp::solve(&lp).unwrap();
            let warm = crate::lp::solve_from(&lp, &first).unwrap();
            assert!(warm.basis.is_some() && cold.basis.is_some(), "seed {seed}: not by our own method");
            assert!((warm.objective - cold.objective).abs() <= 1e-10 * cold.objective, "seed {seed}");
            // From its own basis nothing is left to do, and the same amounts come out.
            let again = crate::lp::solve_from(&lp, &warm).unwrap();
            for (a, b) in again.x.iter().zip(&warm.x) {
                assert!((a - b).abs() <= 1e-9 * b.abs().max(1.0), "seed {seed}");
            }
        }
    }
}
