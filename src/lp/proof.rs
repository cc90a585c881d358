//! Proofs that there is no answer, and short roads to programmes made only to prove something.

use super::attempt::{ATTEMPTS, Task};
use super::body::Body;
use super::certify::TOLERANCE;
use super::engine::{Stop, nearest};
use super::scale::Scale;
use super::simplex::Basis;
use super::solve::{Certified, Failure};

/// Shares of other costs tried in turn, against one unit of cost.
const GUIDE_SHARES: [f64; 2] = [1e-3, 1e-6];

/// What has been proved so far about a programme without a point.
#[derive(Default)]
pub(super) struct Settled {
    shortage: Option<Shortage>,
}

#[derive(Clone, Copy, PartialEq)]
enum Shortage {
    None,
    /// No proof either way.
    Unknown,
}

impl Settled {
    /// Turns the solver's word into a proof, or lets the search go on.
    pub(super) fn look(&mut self, body: &Body, stop: &Stop) -> Result<(), Failure> {
        if body.is_crossed() {
            return Err(Failure::Infeasible);
        }
        let shortage = match self.shortage {
            Some(known) => known,
            None => match least_shortage(body) {
                Some(least) if least > TOLERANCE => return Err(Failure::Infeasible),
                Some(_) => Shortage::None,
                None => Shortage::Unknown,
            },
        };
        self.shortage = Some(shortage);
        if *stop == Stop::Unbounded && shortage == Shortage::None && falls_forever(body) {
            return Err(Failure::Unbounded);
        }
        Ok(())
    }
}

/// The least sum of relative shortfalls, certified; above nothing, it proves that no point exists.
///
/// Rows that are no equations may fall short first, which leaves the equations to be folded; only if they contradict
/// each other may they fall short too.
fn least_shortage(body: &Body) -> Option<f64> {
    let inequalities = relaxed(body, false);
    guided(&inequalities, &body.cost)
        .or_else(|| guided(&relaxed(body, true), &body.cost))
        .map(|certified| certified.objective)
}

/// The programme with a costly way out of its rows, and no other cost.
fn relaxed(body: &Body, equations_too: bool) -> Body {
    let mut relaxed = body.clone();
    relaxed.cost.fill(0.0);
    for i in 0..body.height() {
        let (low, high) = (body.row_lower[i], body.row_upper[i]);
        if low.total_cmp(&high).is_eq() && !equations_too {
            continue;
        }
        let unit = body.rows[i].iter().fold(0.0_f64, |most, term| most.max(term.1.abs())).min(1.0);
        let side = |side: f64| if side.is_finite() { side.abs() } else { 0.0 };
        let size = unit.max(side(low)).max(side(high));
        if size == 0.0 {
            continue;
        }
        for (side, sign) in [(low, size), (high, -size)] {
            if side.is_finite() {
                let slack = relaxed.col(1.0, 0.0, f64::INFINITY);
                relaxed.rows[i].push((slack, sign));
            }
        }
    }
    relaxed
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
    quick(&cone, None).is_some_and(|certified| certified.objective < -TOLERANCE * unit)
}

/// A certified answer by whichever attempt gives one, with the solver's "no" taken at its word.
pub(super) fn quick(body: &Body, start: Option<&Basis>) -> Option<Certified> {
    ATTEMPTS.iter().find_map(|attempt| Task::new(body, 0.0, attempt).run(start).ok())
}

/// As [`quick`], on a road several times shorter where many answers tie because most costs are zero: a little of other
/// costs is added to find a point, which then has to be proved optimal without them. `None` also where there is no point.
pub(super) fn guided(body: &Body, guide: &[f64]) -> Option<Certified> {
    let mut task = Task::new(body, 0.0, &ATTEMPTS[0]);
    let usual = task.scale.unscale_x(&vec![1.0; body.width()]);
    let total: f64 = guide.iter().zip(&usual).map(|(cost, amount)| (cost * amount).abs()).sum();
    if total > 0.0 && total.is_finite() {
        for share in GUIDE_SHARES {
            let mut mixed = body.clone();
            for (cost, guide) in mixed.cost.iter_mut().zip(guide) {
                *cost += share * guide / total;
            }
            // Scale and fold do not look at costs, so the point is one of `task` too.
            match nearest(&Task::new(&mixed, 0.0, &ATTEMPTS[0]).inner) {
                Ok(point) => {
                    if let Some(certified) = task.at_point(&point) {
                        return Some(certified);
                    }
                }
                // Costs have no part in that; whoever asked has it proved.
                Err(Stop::Infeasible) => return None,
                Err(_) => {}
            }
        }
    }
    quick(body, None)
}
