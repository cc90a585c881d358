//! From a programme to a certified answer, and the reasons there may be none.

use std::fmt;

use super::attempt::{ATTEMPTS, Task};
use super::body::Body;
use super::certify::{Certificate, Refused, measure};
use super::engine::Stop;
use super::model::Lp;
use super::proof::Settled;
use super::simplex::Basis;

/// A proved optimum; made only from a certificate that holds.
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
    /// Where the answer stands, if our simplex method found it: a start for programmes like this one.
    pub(super) basis: Option<Basis>,
    sealed: (),
}

impl Certified {
    /// The answer, if its certificate holds on the numbers as written; else the figures.
    pub(super) fn new(body: &Body, constant: f64, x: Vec<f64>, row_dual: Vec<f64>) -> Result<Self, Certificate> {
        let certificate = measure(body, constant, &x, &row_dual);
        if !certificate.holds() {
            return Err(certificate);
        }
        let objective = constant + body.cost.iter().zip(&x).map(|(c, value)| c * value).sum::<f64>();
        let reduced_cost = body.reduced_cost(&row_dual);
        Ok(Self { x, row_dual, reduced_cost, objective, certificate, basis: None, sealed: () })
    }
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

/// As [`solve`], starting where an answer of a programme like this one stands: the same columns and rows in the same
/// order with other numbers, or with more columns and rows after them. The answer is as certain as any; it is found
/// sooner.
///
/// # Errors
///
/// As [`solve`].
pub fn solve_from(lp: &Lp, near: &Certified) -> Result<Certified, Failure> {
    let body = Body::of(lp).map_err(Failure::Invalid)?;
    solve_body_from(&body, lp.constant, near.basis.as_ref())
}

/// Solves, proves, and checks the solver's word where it gave no point.
pub(super) fn solve_body(body: &Body, constant: f64) -> Result<Certified, Failure> {
    solve_body_from(body, constant, None)
}

/// As [`solve_body`], from where an answer of a programme like it stands.
pub(super) fn solve_body_from(body: &Body, constant: f64, start: Option<&Basis>) -> Result<Certified, Failure> {
    let mut best = Certificate::NONE;
    let mut broken = None;
    let mut settled = Settled::default();
    for attempt in &ATTEMPTS {
        let mut task = Task::new(body, constant, attempt);
        match task.run(start) {
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
            Some(Stop::Infeasible) => {
                "it found no answer, and no shortage larger than rounding could be proved".to_owned()
            }
            Some(Stop::Unbounded) => "it found no end to the cost, and no direction in which it falls".to_owned(),
            None => "its point is not a number".to_owned(),
        };
        return Err(Failure::Solver(why));
    }
    settled.look(body, &Stop::Infeasible)?;
    Err(Failure::Refused(Refused { certificate: best }))
}
