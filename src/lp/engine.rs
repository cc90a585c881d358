//! The one place that calls the solver: numbers in, a point or a reason out. Nothing here is trusted.

use std::panic::{AssertUnwindSafe, catch_unwind};

use good_lp::solvers::SolutionStatus;
use good_lp::{
    Expression, ProblemVariables, ResolutionError, Solution, SolverModel, Variable, WithMipGap, WithTimeLimit, microlp,
    variable,
};

use super::body::Body;
use super::simplex::{self, NoPoint};

/// Longest time for one programme; far beyond any honest case, it ends a solver that goes in circles.
const LONGEST_S: f64 = 60.0;

/// Stands for an infinite bound. Where cost falls without end the solver can step to infinity and never come back; with
/// this it steps here. It starts no column from a bound this large, so nothing else changes.
const BOX: f64 = 9_007_199_254_740_992.0; // 2^53
/// An amount this large came from [`BOX`].
const ENDLESS: f64 = 1e13;

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

impl From<NoPoint> for Stop {
    fn from(why: NoPoint) -> Self {
        match why {
            NoPoint::Infeasible => Self::Infeasible,
            NoPoint::Unbounded => Self::Unbounded,
            NoPoint::Lost => Self::Broken("too many steps".to_owned()),
        }
    }
}

/// A point called optimal: by our simplex method, or where that loses its way by the general solver.
pub(super) fn nearest(body: &Body) -> Result<Vec<f64>, Stop> {
    match simplex::optimum(body, None) {
        Ok(vertex) => Ok(vertex.x),
        Err(NoPoint::Lost) => optimum(body),
        Err(why) => Err(why.into()),
    }
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
    let x = optimum_in_whole(body, &whole)?.x;
    if x.iter().any(|value| value.abs() >= ENDLESS) { Err(Stop::Unbounded) } else { Ok(x) }
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

/// A column as the solver knows it. It goes in circles, or to infinity, over columns without any bound, so these are the
/// difference of two that have one.
struct Name {
    above: Variable,
    below: Option<Variable>,
}

impl Name {
    fn add_to(&self, expression: &mut Expression, value: f64) {
        expression.add_mul(value, self.above);
        if let Some(below) = self.below {
            expression.add_mul(-value, below);
        }
    }

    fn value(&self, solution: &impl Solution) -> f64 {
        solution.value(self.above) - self.below.map_or(0.0, |below| solution.value(below))
    }
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
        let (lower, upper) = (body.lower[j], body.upper[j]);
        let start = whole.start.map(|start| start[j]);
        let mut add = |lower: f64, upper: f64, start: Option<f64>| {
            let definition = variable().clamp(lower, upper);
            let definition = if is_whole[j] { definition.integer() } else { definition };
            variables.add(match start {
                Some(start) => definition.initial(start),
                None => definition,
            })
        };
        let name = if is_whole[j] {
            Name { above: add(lower, upper, start), below: None }
        } else if lower.is_finite() || upper.is_finite() {
            Name { above: add(lower.max(-BOX), upper.min(BOX), start), below: None }
        } else {
            let above = add(0.0, BOX, start.map(|start| start.max(0.0)));
            Name { above, below: Some(add(0.0, BOX, start.map(|start| (-start).max(0.0)))) }
        };
        if price != 0.0 {
            name.add_to(&mut cost, price);
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
                names[j].add_to(&mut left, value);
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
            x: names.iter().map(|name| name.value(&solution)).collect(),
            status: solution.status(),
            bound: solution.into_inner().stats().best_bound,
        }),
        Err(ResolutionError::Infeasible) => Err(Stop::Infeasible),
        Err(ResolutionError::Unbounded) => Err(Stop::Unbounded),
        Err(other) => Err(Stop::Broken(other.to_string())),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// With free columns left to the solver it goes in circles on this one.
    #[test]
    fn comes_back_from_free_columns() {
        const INF: f64 = f64::INFINITY;
        let body = Body {
            cost: vec![0.0, 0.0, 0.0, 0.0, -1.0],
            lower: vec![-INF, -INF, 0.0, -INF, -INF],
            upper: vec![0.0, INF, INF, 0.0, INF],
            row_lower: vec![0.0, -1.125, -INF, -1.234_375],
            row_upper: vec![INF, INF, 0.0, INF],
            rows: vec![vec![(4, -1.0)], vec![], vec![], vec![(1, -0.75), (2, -1.0)]],
        };
        let x = optimum(&body).unwrap();
        assert!(x[4].abs() < 1e-9);
    }

    #[test]
    fn says_when_cost_falls_without_end() {
        let mut body = Body::default();
        body.col(-1.0, 0.0, f64::INFINITY);
        body.col(1.0, 0.0, f64::INFINITY);
        body.row(-3.0, f64::INFINITY, vec![(0, 1.0), (1, -1.0)]);
        assert_eq!(optimum(&body), Err(Stop::Unbounded));
    }
}
