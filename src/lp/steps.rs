//! How much is used at which price: the steps of the total use of some columns as their common price moves.
//!
//! Least cost as a function of one price is a chain of straight pieces whose slope is the use. Solving at both ends,
//! then where the two pieces would meet, finds every piece exactly, with about two programmes for each.

use super::body::Body;
use super::model::{ColId, Lp};
use super::solve::{Failure, solve_body_from};

/// Relative difference within which two costs or two uses are the same.
const SAME: f64 = 1e-9;
/// More pieces than this are not a table.
const MOST_SOLVES: usize = 20_000;

/// A column whose cost follows the price: `fixed + per_price × price`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Priced {
    /// The column.
    pub col: ColId,
    /// Part of its cost that stays (freight, handling).
    pub fixed: f64,
    /// Units of what is priced in one unit of the column.
    pub per_price: f64,
}

/// Prices between which the use stays the same.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// Lowest price.
    pub from: f64,
    /// Highest price.
    pub to: f64,
    /// Use: the sum of `per_price × amount` over the priced columns.
    pub quantity: f64,
    /// Least cost at the lowest price.
    pub cost_at_from: f64,
    /// Amounts that give it (one of several, where they tie).
    pub x: Vec<f64>,
}

/// A straight piece of cost: `base + quantity × price`.
struct Piece {
    price: f64,
    quantity: f64,
    base: f64,
    size: f64,
    x: Vec<f64>,
}

/// All steps of the use of `priced` between two prices, by rising price.
///
/// # Errors
///
/// As [`super::solve`]; [`Failure::Invalid`] for a column that does not exist or prices that are not two finite
/// numbers in order.
pub fn step_table(lp: &Lp, priced: &[Priced], from: f64, to: f64) -> Result<Vec<Step>, Failure> {
    let mut body = Body::of(lp).map_err(Failure::Invalid)?;
    if priced.iter().any(|one| one.col.0 >= body.width()) {
        return Err(Failure::Invalid("a priced column does not exist".to_owned()));
    }
    if !(from.is_finite() && to.is_finite() && from <= to) {
        return Err(Failure::Invalid(format!("prices from {from} to {to}")));
    }
    let mut solves = 0;
    let mut near = None;
    let mut at = |price: f64| -> Result<Piece, Failure> {
        solves += 1;
        if solves > MOST_SOLVES {
            return Err(Failure::Solver("more steps than a table can hold".to_owned()));
        }
        for one in priced {
            body.cost[one.col.0] = one.fixed + one.per_price * price;
        }
        let answer = solve_body_from(&body, lp.constant, near.as_ref())?;
        near.clone_from(&answer.basis);
        let quantity: f64 = priced.iter().map(|one| one.per_price * answer.x[one.col.0]).sum();
        let size = (quantity * price).abs().max(answer.objective.abs());
        Ok(Piece { price, quantity, base: answer.objective - quantity * price, size, x: answer.x })
    };
    // Pieces to the right of the last one settled, nearest last.
    let mut right = vec![at(to)?];
    let mut last = at(from)?;
    let mut start = from;
    let mut steps = Vec::new();
    while let Some(next) = right.pop() {
        let meeting = meeting(&last, &next);
        if let Some(price) = meeting {
            let between = at(price)?;
            let line = last.base + last.quantity * price;
            let best = between.base + between.quantity * price;
            let is_lower = best < line - SAME * between.size.max(last.size).max(next.size);
            let is_new = !same(between.quantity, last.quantity) && !same(between.quantity, next.quantity);
            if is_lower && is_new {
                right.push(next);
                right.push(between);
                continue;
            }
            push(&mut steps, &last, start, price);
            start = price;
            last = next;
        }
    }
    push(&mut steps, &last, start, to);
    Ok(steps)
}

/// Where two pieces meet, if they are two.
fn meeting(left: &Piece, right: &Piece) -> Option<f64> {
    if same(left.quantity, right.quantity) {
        return None;
    }
    let price = (right.base - left.base) / (left.quantity - right.quantity);
    Some(price.max(left.price).min(right.price))
}

fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= SAME * a.abs().max(b.abs()).max(1.0)
}

/// Adds a step, unless it has no width: at a break point either of two answers may have come.
fn push(steps: &mut Vec<Step>, piece: &Piece, from: f64, to: f64) {
    if to - from > SAME * from.abs().max(to.abs()) || steps.is_empty() && from.total_cmp(&to).is_eq() {
        let cost_at_from = piece.base + piece.quantity * from;
        steps.push(Step { from, to, quantity: piece.quantity, cost_at_from, x: piece.x.clone() });
    }
}
