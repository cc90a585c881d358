//! The one place that calls the solver: numbers in, a point or a reason out. Nothing here is trusted.

use std::panic::{AssertUnwindSafe, catch_unwind};

use good_lp::solvers::SolutionStatus;
use good_lp::{
    Expression, ProblemVariables, ResolutionError, Solution, SolverModel, WithMipGap, WithTimeLimit, microlp, variable,
};

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
    let whole = Whole { cols: &[], start: None, gap: 0.0, seconds: LONGEST_S };
    optimum_in_whole(body, &whole).map(|found| found.x)
}

/// What is asked of a search in whole numbers.
pub(super) struct Whole<'a> {
    /// Columns that take whole numbers.
    pub(super) cols: &'a [usize],
    /// A known answer to start from.
    pub(super) start: Option<&'a [f64]>,
    /// Relative gap at which the search may end.
    pub(super) gap: f32,
    /// Time at which it must end.
    pub(super) seconds: f64,
}

/// A point, and how the search for it ended.
pub(super) struct Found {
    pub(super) x: Vec<f64>,
    pub(super) status: SolutionStatus,
    /// Cost that the solver says no answer can beat.
    pub(super) bound: Option<f64>,
}

/// The point the solver calls optimal, or the best it found in time.
pub(super) fn optimum_in_whole(body: &Body, whole: &Whole<'_>) -> Result<Found, Stop> {
    let mut variables = ProblemVariables::new();
    let mut cost = Expression::with_capacity(body.width());
    let mut names = Vec::with_capacity(body.width());
    let mut is_whole = vec![false; body.width()];
    for &j in whole.cols {
        is_whole[j] = true;
    }
    for (j, &price) in body.cost.iter().enumerate() {
        let mut definition = variable().clamp(body.lower[j], body.upper[j]);
        if is_whole[j] {
            definition = definition.integer();
        }
        if let Some(start) = whole.start {
            definition = definition.initial(start[j]);
        }
        let name = variables.add(definition);
        if price != 0.0 {
            cost.add_mul(price, name);
        }
        names.push(name);
    }
    let model = variables.minimise(cost).using(microlp).with_time_limit(whole.seconds);
    let mut model = model.with_mip_gap(whole.gap).map_err(|why| Stop::Broken(why.to_string()))?;
    for ((terms, &lower), &upper) in body.rows.iter().zip(&body.row_lower).zip(&body.row_upper) {
        if terms.is_empty() {
            if lower > 0.0 || upper < 0.0 {
                return Err(Stop::Infeasible);
            }
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
        Ok(solution) => Ok(Found {
            x: names.into_iter().map(|name| solution.value(name)).collect(),
            status: solution.status(),
            bound: solution.into_inner().stats().best_bound,
        }),
        Err(ResolutionError::Infeasible) => Err(Stop::Infeasible),
        Err(ResolutionError::Unbounded) => Err(Stop::Unbounded),
        Err(other) => Err(Stop::Broken(other.to_string())),
    }
}
