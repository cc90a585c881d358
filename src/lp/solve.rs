//! From a programme to a certified answer: scale, fold, solve, refine, price, prove.

use std::fmt;

use super::body::Body;
use super::certify::{Certificate, Refused, TOLERANCE, measure};
use super::dual::{Side, Stand, prices_at};
use super::engine::{Stop, optimum};
use super::fold::Unfold;
use super::model::Lp;
use super::scale::Scale;
use super::tight::Tight;

/// A proved optimum; only this module makes one, and only from a certificate that holds.
#[derive(Debug, Clone, PartialEq)]
#[allow(clippy::manual_non_exhaustive)] // sealed within the crate too
pub struct Certified {
    /// Amount of each column.
    pub x: Vec<f64>,
    /// Price of each row: d(cost)/d(right-hand side) of the side that is tight. At least 0 where the lower side is
    /// tight, at most 0 where the upper one is, 0 where none is.
    pub row_dual: Vec<f64>,
    /// Reduced cost of each column: its cost less what the rows pay for one unit of it.
    pub reduced_cost: Vec<f64>,
    /// Cost, the constant included.
    pub objective: f64,
    /// The proof.
    pub certificate: Certificate,
    sealed: (),
}

/// Why there is no certified answer.
#[derive(Debug, Clone, PartialEq)]
pub enum Failure {
    /// No point satisfies all rows and bounds.
    Infeasible,
    /// Cost falls without end.
    Unbounded,
    /// A point was found but not proved optimal; it is not shown.
    Refused(Refused),
    /// The programme itself cannot be meant: a number that is none, a column twice in a row.
    Invalid(String),
    /// The solver gave up.
    Solver(String),
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Infeasible => f.write_str("no answer satisfies all rows"),
            Self::Unbounded => f.write_str("cost falls without end"),
            Self::Refused(refused) => refused.fmt(f),
            Self::Invalid(why) => write!(f, "not a programme: {why}"),
            Self::Solver(why) => write!(f, "the solver gave up: {why}"),
        }
    }
}

impl std::error::Error for Failure {}

/// Solves and proves.
///
/// # Errors
///
/// See [`Failure`]. Nothing is returned that the certificate does not prove on the numbers as written.
pub fn solve(lp: &Lp) -> Result<Certified, Failure> {
    let body = Body::of(lp).map_err(Failure::Invalid)?;
    solve_body(&body, lp.constant)
}

/// One way to put the programme to the solver.
struct Attempt {
    passes: usize,
    fold: bool,
}

/// Ways in the order of merit; the later ones are second opinions for the rare programme on which the solver drifts.
const ATTEMPTS: [Attempt; 3] =
    [Attempt { passes: 4, fold: true }, Attempt { passes: 1, fold: true }, Attempt { passes: 4, fold: false }];

/// A scaled price this small is the rounding of others.
const ROUNDING: f64 = 1e-14;

/// How close to a side counts as on it, in the order tried.
const NEAR: [f64; 3] = [1e-9, 1e-7, 1e-11];

/// Solves, proves, and checks the solver's word where it gave no point.
pub(super) fn solve_body(body: &Body, constant: f64) -> Result<Certified, Failure> {
    let mut best = Certificate::NONE;
    let mut broken = None;
    let mut settled = Settled::default();
    for attempt in &ATTEMPTS {
        let mut task = Task::new(body, constant, attempt);
        match task.run() {
            Ok(certified) => return Ok(certified),
            Err(Some(stop)) => {
                settled.look(body, &stop)?;
                broken = broken.or(Some(stop));
            }
            Err(None) => {}
        }
        if task.best.worst() < best.worst() {
            best = task.best;
        }
    }
    if best.worst().is_infinite() {
        let why = match broken {
            Some(Stop::Broken(why)) => why,
            Some(Stop::Infeasible) => "it found no answer, and the shortage is no larger than rounding".to_owned(),
            Some(Stop::Unbounded) => "it found no end to the cost, and no direction in which it falls".to_owned(),
            None => "its point is not a number".to_owned(),
        };
        return Err(Failure::Solver(why));
    }
    settled.look(body, &Stop::Infeasible)?;
    Err(Failure::Refused(Refused { certificate: best }))
}

/// A certified answer by whichever attempt gives one, with the solver's "no" taken at its word.
pub(super) fn quick(body: &Body) -> Option<Certified> {
    ATTEMPTS.iter().find_map(|attempt| Task::new(body, 0.0, attempt).run().ok())
}

/// What has been proved so far about a programme without a point.
#[derive(Default)]
struct Settled {
    feasible: Option<bool>,
}

impl Settled {
    /// Turns the solver's word into a proof, or lets the search go on.
    fn look(&mut self, body: &Body, stop: &Stop) -> Result<(), Failure> {
        if body.is_crossed() || self.feasible.is_none() && least_shortage(body).is_some_and(|least| least > TOLERANCE) {
            return Err(Failure::Infeasible);
        }
        self.feasible = Some(true);
        if *stop == Stop::Unbounded && falls_forever(body) {
            return Err(Failure::Unbounded);
        }
        Ok(())
    }
}

/// The least sum of relative shortfalls over all rows, certified; above nothing, it proves that no point exists.
fn least_shortage(body: &Body) -> Option<f64> {
    let mut relaxed = body.clone();
    relaxed.cost.fill(0.0);
    for i in 0..body.height() {
        let unit = body.rows[i].iter().fold(0.0_f64, |most, term| most.max(term.1.abs())).min(1.0);
        let (low, high) = (body.row_lower[i], body.row_upper[i]);
        let side = |side: f64| if side.is_finite() { side.abs() } else { 0.0 };
        let size = unit.max(side(low)).max(side(high));
        if size == 0.0 {
            continue;
        }
        if low.is_finite() {
            let slack = relaxed.col(1.0, 0.0, f64::INFINITY);
            relaxed.rows[i].push((slack, size));
        }
        if high.is_finite() {
            let slack = relaxed.col(1.0, 0.0, f64::INFINITY);
            relaxed.rows[i].push((slack, -size));
        }
    }
    quick(&relaxed).map(|certified| certified.objective)
}

/// Whether some direction, open at both rows and bounds, lowers the cost.
fn falls_forever(body: &Body) -> bool {
    let mut cone = body.clone();
    Scale::apply(&mut cone, ATTEMPTS[0].passes);
    let open = |side: &mut f64, end: f64| *side = if side.is_finite() { 0.0 } else { end };
    cone.lower.iter_mut().for_each(|low| open(low, -1.0));
    cone.upper.iter_mut().for_each(|high| open(high, 1.0));
    cone.row_lower.iter_mut().for_each(|low| open(low, f64::NEG_INFINITY));
    cone.row_upper.iter_mut().for_each(|high| open(high, f64::INFINITY));
    let unit = cone.cost.iter().fold(0.0_f64, |most, cost| most.max(cost.abs()));
    quick(&cone).is_some_and(|certified| certified.objective < -TOLERANCE * unit)
}

/// A programme on its way: as written, and as the solver gets it.
struct Task<'a> {
    written: &'a Body,
    constant: f64,
    inner: Body,
    scale: Scale,
    unfold: Option<Unfold>,
    best: Certificate,
}

impl<'a> Task<'a> {
    fn new(written: &'a Body, constant: f64, &Attempt { passes, fold }: &Attempt) -> Self {
        let mut inner = written.clone();
        let scale = Scale::apply(&mut inner, passes);
        let unfold = fold.then(|| Unfold::apply(&mut inner));
        Self { written, constant, inner, scale, unfold, best: Certificate::NONE }
    }

    /// A certified answer, or the solver's reason if it had one.
    fn run(&mut self) -> Result<Certified, Option<Stop>> {
        let point = optimum(&self.inner).map_err(Some)?;
        for near in NEAR {
            if let Some(certified) = self.at_vertex(&point, near) {
                return Ok(certified);
            }
        }
        Err(None)
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
        let certificate = measure(self.written, self.constant, &x, &row_dual);
        if !certificate.holds() {
            if certificate.worst() < self.best.worst() {
                self.best = certificate;
            }
            return None;
        }
        let objective = self.constant + self.written.cost.iter().zip(&x).map(|(c, value)| c * value).sum::<f64>();
        let reduced_cost = self.written.reduced_cost(&row_dual);
        Some(Certified { x, row_dual, reduced_cost, objective, certificate, sealed: () })
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
