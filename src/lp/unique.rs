//! Whether another answer costs the same.

use super::body::Body;
use super::certify::measure;
use super::dual::{Side, Stand, face_of};
use super::model::Lp;
use super::proof::quick;
use super::scale::Scale;
use super::solve::{Certified, Failure};
use super::tight::Tight;

/// How near a side counts as on it.
const NEAR: f64 = 1e-9;
/// A move smaller than this, in the unit of the column, is rounding.
const NO_MOVE: f64 = 1e-7;

/// How many answers there are at the least cost.
#[derive(Debug, Clone, PartialEq)]
pub enum Uniqueness {
    /// Only this one.
    Unique,
    /// Another one costs the same.
    Tied {
        /// Amounts of another optimal answer.
        other: Vec<f64>,
    },
    /// Could not be told.
    Unknown,
}

/// Looks for another answer of the same cost: columns that have a price to move and rows that have a price stay where
/// they are, everything else moves away from its side as far as it can.
///
/// # Errors
///
/// [`Failure::Invalid`] if the programme cannot be read.
pub fn uniqueness(lp: &Lp, answer: &Certified) -> Result<Uniqueness, Failure> {
    let body = Body::of(lp).map_err(Failure::Invalid)?;
    let stand = Stand::of(&body, &answer.x, NEAR);
    if !is_vertex(&body, &stand) {
        return Ok(Uniqueness::Unknown);
    }
    let mut face = face_of(&body, &answer.row_dual);
    face.cost.fill(0.0);
    for (j, side) in stand.cols.iter().enumerate() {
        // Any other answer of a convex set has one nearby, so a box is enough and nothing can run away.
        let reach = answer.x[j].abs().max(1.0);
        face.lower[j] = face.lower[j].max(answer.x[j] - reach);
        face.upper[j] = face.upper[j].min(answer.x[j] + reach);
        face.cost[j] += match side {
            Side::Lower => -1.0,
            Side::Upper => 1.0,
            Side::Inside | Side::Both => 0.0,
        };
    }
    for (i, side) in stand.rows.iter().enumerate() {
        let size = face.rows[i].iter().fold(0.0_f64, |most, term| most.max(term.1.abs()));
        let sign = match side {
            Side::Lower => -1.0,
            Side::Upper => 1.0,
            Side::Inside | Side::Both => continue,
        };
        if face.row_lower[i] < face.row_upper[i] {
            for &(j, a) in &face.rows[i] {
                face.cost[j] += sign * a / size;
            }
        }
    }
    let Some(moved) = quick(&face, answer.basis.as_ref()) else { return Ok(Uniqueness::Unknown) };
    let far = moved.x.iter().zip(&answer.x).map(|(new, old)| (new - old).abs()).fold(0.0, f64::max);
    if far <= NO_MOVE {
        return Ok(Uniqueness::Unique);
    }
    let same = measure(&body, lp.constant, &moved.x, &answer.row_dual).holds();
    Ok(if same { Uniqueness::Tied { other: moved.x } } else { Uniqueness::Unknown })
}

/// Whether the tight rows fix every column inside its bounds.
fn is_vertex(body: &Body, stand: &Stand) -> bool {
    let mut scaled = body.clone();
    Scale::apply(&mut scaled, 3);
    let tight = Tight::factor(&scaled.rows, stand.tight_rows(), stand.inside_cols(), scaled.width());
    tight.is_some_and(|tight| tight.is_full())
}
