//! The certificate: an answer is proved optimal from the numbers as written, whoever found it.
//!
//! Three figures, each relative, each at most [`TOLERANCE`]:
//!
//! * **primal**: how far a row lies outside its range, over the largest of the side it breaks, its own largest term
//!   `|a x|`, and the smaller of 1 and its largest coefficient; how far a column lies outside its bounds, over the
//!   largest of the bound and 1.
//! * **dual**: a row price or reduced cost with the sign of a side that does not exist, over the largest of the cost
//!   of the column, its largest term `|a y|`, and the smaller of 1 and the largest cost of the programme.
//! * **gap**: cost of the answer less the cost that the row prices prove nobody can beat, over the largest of both,
//!   the largest single term `|c x|`, and the smaller of 1 and the largest cost of the programme.

use std::fmt;

use super::body::Body;
use super::model::Lp;

/// Largest figure of a certificate that is accepted.
pub const TOLERANCE: f64 = 1e-9;

/// A reduced cost this small against its terms is the rounding of their sum.
const ROUNDING: f64 = 1e-12;

/// How far an answer is from being proved optimal; each figure is relative and at least 0.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Certificate {
    /// Largest relative violation of a row or bound.
    pub primal: f64,
    /// Largest relative violation of a price's sign.
    pub dual: f64,
    /// Relative difference between the cost and the proved lower bound of the cost.
    pub relative_gap: f64,
}

impl Certificate {
    /// No answer at all.
    pub(super) const NONE: Self = Self { primal: f64::INFINITY, dual: f64::INFINITY, relative_gap: f64::INFINITY };

    /// The largest of the three figures.
    #[must_use]
    pub fn worst(&self) -> f64 {
        self.primal.max(self.dual).max(self.relative_gap)
    }

    /// Whether all three figures are within [`TOLERANCE`].
    #[must_use]
    pub fn holds(&self) -> bool {
        self.worst() <= TOLERANCE
    }
}

/// An answer whose certificate does not hold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Refused {
    /// The figures that were found.
    pub certificate: Certificate,
}

impl fmt::Display for Refused {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Certificate { primal, dual, relative_gap } = self.certificate;
        write!(f, "not proved optimal: primal {primal:.1e}, dual {dual:.1e}, gap {relative_gap:.1e}")
    }
}

impl std::error::Error for Refused {}

/// Judges amounts `x` and row prices `y` by the numbers of `lp` as written.
///
/// # Errors
///
/// [`Refused`] where a figure is above [`TOLERANCE`], where the lengths do not fit, and for numbers that are not finite.
pub fn certify(lp: &Lp, x: &[f64], y: &[f64]) -> Result<Certificate, Refused> {
    let certificate = Body::of(lp).map_or(Certificate::NONE, |body| measure(&body, lp.constant, x, y));
    if certificate.holds() { Ok(certificate) } else { Err(Refused { certificate }) }
}

/// The figures of an answer.
pub(super) fn measure(body: &Body, constant: f64, x: &[f64], y: &[f64]) -> Certificate {
    let finite = |values: &[f64]| values.iter().all(|value| value.is_finite());
    if x.len() != body.width() || y.len() != body.height() || !finite(x) || !finite(y) {
        return Certificate::NONE;
    }
    let unit_cost = unit_cost(body);
    let mut worst = Certificate { primal: 0.0, dual: 0.0, relative_gap: 0.0 };
    let mut bound = constant;

    for (i, terms) in body.rows.iter().enumerate() {
        let value: f64 = terms.iter().map(|&(j, a)| a * x[j]).sum();
        let size = largest(terms.iter().map(|&(j, a)| a * x[j])).max(largest(terms.iter().map(|t| t.1)).min(1.0));
        let (side, outside) = nearest_broken(value, body.row_lower[i], body.row_upper[i]);
        worst.primal = worst.primal.max(ratio(outside, size.max(side.abs())));
        let paid = if y[i] > 0.0 { body.row_lower[i] } else { body.row_upper[i] };
        if y[i] != 0.0 && paid.is_infinite() {
            worst.dual = worst.dual.max(ratio(y[i].abs(), unit_cost));
        } else if y[i] != 0.0 {
            bound += y[i] * paid;
        }
    }
    let (reduced, sizes) = reduced_with_sizes(body, y);
    for (j, (&d, &size)) in reduced.iter().zip(&sizes).enumerate() {
        let (side, outside) = nearest_broken(x[j], body.lower[j], body.upper[j]);
        worst.primal = worst.primal.max(ratio(outside, side.abs().max(1.0)));
        let paid = if d > 0.0 { body.lower[j] } else { body.upper[j] };
        if d.abs() <= ROUNDING * size {
            bound += d * x[j];
        } else if paid.is_infinite() {
            worst.dual = worst.dual.max(ratio(d.abs(), size));
            bound += d * x[j];
        } else {
            bound += d * paid;
        }
    }
    let cost = constant + body.cost.iter().zip(x).map(|(c, value)| c * value).sum::<f64>();
    let terms = largest(body.cost.iter().zip(x).map(|(c, value)| c * value));
    let size = terms.max(cost.abs()).max(bound.abs()).max(unit_cost);
    worst.relative_gap = ratio((cost - bound).abs(), size);
    worst
}

/// The smaller of 1 and the largest cost of the programme: the least that a price is measured by.
fn unit_cost(body: &Body) -> f64 {
    largest(body.cost.iter().copied()).min(1.0)
}

/// Reduced costs and, for each, the largest number that went into it, at least the unit of cost.
pub(super) fn reduced_with_sizes(body: &Body, y: &[f64]) -> (Vec<f64>, Vec<f64>) {
    let unit = unit_cost(body);
    let mut sizes: Vec<f64> = body.cost.iter().map(|c| c.abs().max(unit)).collect();
    for (terms, &price) in body.rows.iter().zip(y) {
        for &(j, a) in terms {
            sizes[j] = sizes[j].max((a * price).abs());
        }
    }
    (body.reduced_cost(y), sizes)
}

fn largest(values: impl Iterator<Item = f64>) -> f64 {
    values.fold(0.0, |most, value| most.max(value.abs()))
}

/// The side that is broken and by how much.
fn nearest_broken(value: f64, lower: f64, upper: f64) -> (f64, f64) {
    if value < lower {
        (lower, lower - value)
    } else if value > upper {
        (upper, value - upper)
    } else if value.is_finite() {
        (0.0, 0.0)
    } else {
        (0.0, f64::INFINITY)
    }
}

/// A violation over its size; what is not a number is as bad as can be.
fn ratio(violation: f64, size: f64) -> f64 {
    if violation == 0.0 {
        return 0.0;
    }
    let ratio = violation / size;
    if ratio.is_nan() { f64::INFINITY } else { ratio }
}
