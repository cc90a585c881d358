//! What is short when no answer satisfies all rows.
//!
//! First the least weighted shortfall, with cost out of sight, so that no price can buy a requirement off; then the
//! least cost at that shortfall. The proof of the first step names the rows that cannot hold together.

use super::attempt::{ATTEMPTS, Task};
use super::body::Body;
use super::certify::Certificate;
use super::dual::face_of;
use super::model::{ColId, Lp, RowId};
use super::proof::guided;
use super::solve::{Certified, Failure, solve_body};

/// A weighted shortfall below this share of a requirement is none.
const NO_SHORTFALL: f64 = 1e-9;

/// A row that may fall short.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Relax {
    /// The row.
    pub row: RowId,
    /// What one unit of the row counts: 1 over the requirement makes a whole requirement count 1. Above 0.
    pub weight_per_unit: f64,
}

/// The side of a row that is missed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Missed {
    /// The row is below its lower side.
    Below,
    /// The row is above its upper side.
    Above,
}

/// By how much a row is missed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shortfall {
    /// The row.
    pub row: RowId,
    /// Its side.
    pub missed: Missed,
    /// By how much, in the unit of the row; above 0.
    pub amount: f64,
    /// The same times its weight.
    pub weighted: f64,
}

/// The nearest there is to an answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Elastic {
    /// Rows missed, the heaviest first; empty if nothing is short.
    pub shortfalls: Vec<Shortfall>,
    /// Amount of each column, at least cost among all with the least shortfall.
    pub x: Vec<f64>,
    /// Cost of those amounts.
    pub cost: f64,
    /// Rows that take part in the proof that something is short, whether relaxable or not; empty if nothing is. They
    /// cannot all hold together; [`conflict`] finds the fewest among them.
    pub conflict: Vec<RowId>,
    /// Columns whose bound, other than zero, takes part in the conflict.
    pub conflict_bounds: Vec<ColId>,
    /// Proof that no smaller weighted shortfall exists.
    pub certificate: Certificate,
}

/// The least shortfall, and the least cost at it.
///
/// # Errors
///
/// [`Failure::Infeasible`] if the rows that may not fall short contradict each other, and the others of
/// [`Failure`] as for [`super::solve`]; [`Failure::Invalid`] for a weight that is not above 0 or a row that does not
/// exist.
pub fn elastic(lp: &Lp, relax: &[Relax]) -> Result<Elastic, Failure> {
    let written = checked(lp, relax)?;
    let mut short = written.clone();
    short.cost.fill(0.0);
    let slacks = add_slacks(&mut short, relax);
    for slack in &slacks {
        short.cost[slack.col] = slack.weight;
    }
    // The costs only show the way to a point, which is then proved without them.
    let least = match guided(&short, &written.cost) {
        Some(least) => least,
        None => solve_body(&short, 0.0)?,
    };
    let found = |answer: &Certified| -> Vec<Shortfall> {
        let mut list: Vec<Shortfall> = slacks.iter().filter_map(|slack| slack.shortfall(&answer.x)).collect();
        list.sort_by(|a, b| b.weighted.total_cmp(&a.weighted));
        list
    };
    if found(&least).is_empty() {
        let answer = solve_body(&written, lp.constant)?;
        return Ok(Elastic {
            shortfalls: Vec::new(),
            cost: answer.objective,
            x: answer.x,
            conflict: Vec::new(),
            conflict_bounds: Vec::new(),
            certificate: least.certificate,
        });
    }
    let mut cheap = face_of(&short, &least.row_dual);
    cheap.cost[..written.width()].copy_from_slice(&written.cost);
    for slack in &slacks {
        cheap.cost[slack.col] = 0.0;
    }
    // Where cost falls without end, or will not certify at the edge, the first step's own answer stands.
    let on_the_way = Task::new(&cheap, lp.constant, &ATTEMPTS[0]).at_amounts(&least.x).map(Ok);
    let answer = on_the_way.unwrap_or_else(|| solve_body(&cheap, lp.constant)).unwrap_or_else(|_| least.clone());
    let x = answer.x[..written.width()].to_vec();
    let in_conflict = |j: &usize| {
        let d = least.reduced_cost[*j];
        let bound = if d > 0.0 { written.lower[*j] } else { written.upper[*j] };
        d.abs() > NO_SHORTFALL * largest_weighted(&short, *j, &least.row_dual) && bound.is_finite() && bound != 0.0
    };
    Ok(Elastic {
        shortfalls: found(&answer),
        cost: lp.cost(&x),
        x,
        conflict: (0..written.height()).filter(|&i| least.row_dual[i] != 0.0).map(RowId).collect(),
        conflict_bounds: (0..written.width()).filter(in_conflict).map(ColId).collect(),
        certificate: least.certificate,
    })
}

/// Rows that cannot hold together, none of which could be left out: [`Elastic::conflict`] with all rows taken away
/// that the contradiction does not need. Meant for one ration; over a whole winter a shortage has hundreds of such rows
/// and names nothing.
///
/// # Errors
///
/// As [`elastic`].
pub fn conflict(lp: &Lp, found: &Elastic) -> Result<Vec<RowId>, Failure> {
    let written = Body::of(lp).map_err(Failure::Invalid)?;
    if found.conflict.iter().any(|row| row.0 >= written.height()) {
        return Err(Failure::Invalid("the shortfall is of another programme".to_owned()));
    }
    let contradict = |rows: &[RowId]| {
        let mut part = Body { cost: vec![0.0; written.width()], ..written.clone() };
        part.rows = rows.iter().map(|row| written.rows[row.0].clone()).collect();
        part.row_lower = rows.iter().map(|row| written.row_lower[row.0]).collect();
        part.row_upper = rows.iter().map(|row| written.row_upper[row.0]).collect();
        match solve_body(&part, 0.0) {
            Ok(_) => Ok(false),
            Err(Failure::Infeasible) => Ok(true),
            Err(other) => Err(other),
        }
    };
    let mut rows = found.conflict.clone();
    for row in &found.conflict {
        let without: Vec<RowId> = rows.iter().copied().filter(|other| other != row).collect();
        if contradict(&without)? {
            rows = without;
        }
    }
    Ok(rows)
}

/// One way out: this row alone relaxed by this amount makes everything else fit.
///
/// # Errors
///
/// As [`elastic`]. An empty list means that no single row is the way out, or that nothing is short.
pub fn single_relief(lp: &Lp, relax: &[Relax]) -> Result<Vec<Shortfall>, Failure> {
    let written = checked(lp, relax)?;
    let tried = elastic(lp, relax)?;
    let mut ways = Vec::new();
    // A row outside one proof of the conflict cannot undo that proof.
    for one in relax.iter().filter(|one| tried.conflict.contains(&one.row)) {
        let mut alone = written.clone();
        alone.cost.fill(0.0);
        let slacks = add_slacks(&mut alone, &[*one]);
        for slack in &slacks {
            alone.cost[slack.col] = slack.weight;
        }
        match solve_body(&alone, 0.0) {
            Ok(answer) => ways.extend(slacks.iter().filter_map(|slack| slack.shortfall(&answer.x))),
            Err(Failure::Infeasible) => {}
            Err(other) => return Err(other),
        }
    }
    ways.sort_by(|a, b| a.weighted.total_cmp(&b.weighted));
    Ok(ways)
}

fn checked(lp: &Lp, relax: &[Relax]) -> Result<Body, Failure> {
    let written = Body::of(lp).map_err(Failure::Invalid)?;
    for one in relax {
        if one.row.0 >= written.height() {
            return Err(Failure::Invalid("a row to relax does not exist".to_owned()));
        }
        if !(one.weight_per_unit > 0.0 && one.weight_per_unit.is_finite()) {
            let name = &lp.rows[one.row.0].name;
            return Err(Failure::Invalid(format!("the weight of {name} is {}", one.weight_per_unit)));
        }
    }
    Ok(written)
}

/// A column that fills up what a row misses.
struct Slack {
    row: RowId,
    missed: Missed,
    col: usize,
    weight: f64,
    side: f64,
}

impl Slack {
    fn shortfall(&self, x: &[f64]) -> Option<Shortfall> {
        let amount = x[self.col];
        let weighted = amount * self.weight;
        let size = (self.weight * self.side.abs()).max(1.0);
        let counts = weighted > NO_SHORTFALL * size;
        counts.then_some(Shortfall { row: self.row, missed: self.missed, amount, weighted })
    }
}

fn add_slacks(body: &mut Body, relax: &[Relax]) -> Vec<Slack> {
    let mut slacks = Vec::new();
    for &Relax { row, weight_per_unit: weight } in relax {
        let sides = [(body.row_lower[row.0], Missed::Below, 1.0), (body.row_upper[row.0], Missed::Above, -1.0)];
        for (side, missed, sign) in sides {
            if side.is_finite() {
                let col = body.col(0.0, 0.0, f64::INFINITY);
                body.rows[row.0].push((col, sign));
                slacks.push(Slack { row, missed, col, weight, side });
            }
        }
    }
    slacks
}

/// The largest thing a column brings to the rows at these prices.
fn largest_weighted(body: &Body, col: usize, y: &[f64]) -> f64 {
    let terms = body.rows.iter().zip(y).flat_map(|(terms, &price)| terms.iter().map(move |&(j, a)| (j, a * price)));
    terms.filter(|(j, _)| *j == col).fold(0.0, |most, (_, value)| most.max(value.abs()))
}
