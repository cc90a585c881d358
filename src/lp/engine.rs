//! The one place that calls the solver: numbers in, a point or a reason out. Nothing here is trusted.

use std::panic::{AssertUnwindSafe, catch_unwind};

use good_lp::{Expression, ProblemVariables, ResolutionError, Solution, SolverModel, WithTimeLimit, microlp, variable};

use super::body::Body;

/// Longest time for one programme; far beyond any honest case, it ends a solver that goes in circles.
const LONGEST_S: f64 = 60.0;

/// Why there is no point.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Stop {
    /// The solver says that no point satisfies all rows.
    Infeasible,
    /// The solver says that cost falls without end.
    Unbounded,
    /// The solver gave up.
    Broken(String),
}

/// The point the solver calls optimal.
pub(super) fn optimum(body: &Body) -> Result<Vec<f64>, Stop> {
    if body.is_crossed() {
        return Err(Stop::Infeasible);
    }
    if body.width() == 0 {
        return Ok(Vec::new());
    }
    // The solver asserts some of its own invariants; a numerical accident there must not take the program down.
    catch_unwind(AssertUnwindSafe(|| call(body))).unwrap_or_else(|_| Err(Stop::Broken("internal assertion".into())))
}

fn call(body: &Body) -> Result<Vec<f64>, Stop> {
    let mut variables = ProblemVariables::new();
    let mut cost = Expression::with_capacity(body.width());
    let mut names = Vec::with_capacity(body.width());
    for ((&price, &lower), &upper) in body.cost.iter().zip(&body.lower).zip(&body.upper) {
        let name = variables.add(variable().clamp(lower, upper));
        if price != 0.0 {
            cost.add_mul(price, name);
        }
        names.push(name);
    }
    let mut model = variables.minimise(cost).using(microlp).with_time_limit(LONGEST_S);
    for ((terms, &lower), &upper) in body.rows.iter().zip(&body.row_lower).zip(&body.row_upper) {
        if terms.is_empty() {
            continue;
        }
        let left = || {
            let mut left = Expression::with_capacity(terms.len());
            for &(j, value) in terms {
                left.add_mul(value, names[j]);
            }
            left
        };
        #[allow(clippy::float_cmp)] // equal as written, not nearly
        if lower == upper {
            model.add_constraint(left().eq(lower));
            continue;
        }
        if lower.is_finite() {
            model.add_constraint(left().geq(lower));
        }
        if upper.is_finite() {
            model.add_constraint(left().leq(upper));
        }
    }
    match model.solve() {
        Ok(solution) => Ok(names.into_iter().map(|name| solution.value(name)).collect()),
        Err(ResolutionError::Infeasible) => Err(Stop::Infeasible),
        Err(ResolutionError::Unbounded) => Err(Stop::Unbounded),
        Err(other) => Err(Stop::Broken(other.to_string())),
    }
}
