//! How far one price or one requirement can move before the answer changes, and what changes then.
//!
//! The ends come from linear programmes of their own, so they are exact and need no basis: the prices of a column at
//! which the same amounts stay optimal, and the sides of a row at which the same row prices stay optimal. What comes
//! in beyond an end is found by solving there, and believed only if the new answer ties with the old one at the end.

use super::body::Body;
use super::dual::{Side, Stand, conditions, face_of};
use super::model::{ColId, Lp, RowId};
use super::solve::{Certified, Failure, solve_body, solve_body_from};

/// How near a side counts as on it.
const NEAR: f64 = 1e-9;
/// An amount this small is none.
const NO_AMOUNT: f64 = 1e-9;
/// How far beyond an end to look, relative; the first step that ties at the end is taken.
const STEPS: [f64; 3] = [1e-3, 1e-5, 1e-7];
/// Nothing feasible this little beyond an end means that nothing is.
const NOTHING_BEYOND: f64 = 1e-5;
/// Relative difference within which two costs tie.
const TIE: f64 = 1e-9;

/// What changes from one answer to the next.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Change {
    /// Columns that were zero and are not.
    pub enters: Vec<ColId>,
    /// Columns that were not zero and are.
    pub leaves: Vec<ColId>,
    /// Rows that had room and have none.
    pub binds: Vec<RowId>,
    /// Rows that had no room and have some.
    pub frees: Vec<RowId>,
}

/// One end of the prices of a column at which its answer stays.
#[derive(Debug, Clone, PartialEq)]
pub struct PriceEnd {
    /// The price; infinite where no price changes the answer.
    pub price: f64,
    /// Cost at that price; infinite with it unless none of the column is used.
    pub cost: f64,
    /// What changes beyond it; `None` at an infinite end, or where it could not be told.
    pub change: Option<Change>,
    /// Amounts beyond it, under the same condition.
    pub next: Option<Vec<f64>>,
}

/// The prices of a column at which the same amounts stay cheapest.
#[derive(Debug, Clone, PartialEq)]
pub struct PriceRange {
    /// The lower end.
    pub down: PriceEnd,
    /// The upper end.
    pub up: PriceEnd,
}

/// One end of the sides of a row at which its price stays.
#[derive(Debug, Clone, PartialEq)]
pub struct SideEnd {
    /// The side; infinite where it can move without end.
    pub side: f64,
    /// Cost at that side.
    pub cost: f64,
    /// Price of the row beyond it; `None` where nothing is feasible beyond, at an infinite end, or where it could not
    /// be told.
    pub price: Option<f64>,
    /// Whether nothing is feasible beyond it.
    pub is_last: bool,
    /// What changes beyond it.
    pub change: Option<Change>,
}

/// The sides of a row between which its price holds.
#[derive(Debug, Clone, PartialEq)]
pub struct SideRange {
    /// The lower end.
    pub down: SideEnd,
    /// The upper end.
    pub up: SideEnd,
}

/// The prices of `col` at which the amounts of `answer` stay cheapest, one price at a time.
///
/// # Errors
///
/// As [`super::solve`]; [`Failure::Invalid`] for a column that does not exist.
pub fn price_range(lp: &Lp, answer: &Certified, col: ColId) -> Result<PriceRange, Failure> {
    let body = Body::of(lp).map_err(Failure::Invalid)?;
    if col.0 >= body.width() {
        return Err(Failure::Invalid("the column does not exist".to_owned()));
    }
    let stand = Stand::of(&body, &answer.x, NEAR);
    let (mut dual, _, of) = conditions(&body, &stand);
    let at = of.iter().position(|&j| j == col.0);
    if let Some(k) = at {
        // The price becomes an unknown of its own.
        let price = dual.col(0.0, f64::NEG_INFINITY, f64::INFINITY);
        dual.rows[k].push((price, -1.0));
        let open = |side: f64| if side.is_finite() { 0.0 } else { side };
        (dual.row_lower[k], dual.row_upper[k]) = (open(dual.row_lower[k]), open(dual.row_upper[k]));
    }
    let side = stand.cols[col.0];
    let mut end = |sign: f64| -> Result<PriceEnd, Failure> {
        let is_open = matches!((side, sign > 0.0), (Side::Both, _) | (Side::Lower, true) | (Side::Upper, false));
        let price = if is_open { sign * f64::INFINITY } else { extreme(&mut dual, sign)? };
        let amount = answer.x[col.0];
        let by = price - body.cost[col.0];
        let cost = if amount == 0.0 { answer.objective } else { answer.objective + by * amount };
        let beyond = || beyond_price(&body, lp.constant, answer, col.0, price, sign);
        let next = price.is_finite().then(beyond).flatten();
        let change = next.as_ref().map(|next| change(&body, &answer.x, next));
        Ok(PriceEnd { price, cost, change, next })
    };
    Ok(PriceRange { down: end(-1.0)?, up: end(1.0)? })
}

/// The least or greatest value of the last column.
fn extreme(body: &mut Body, sign: f64) -> Result<f64, Failure> {
    let last = body.width() - 1;
    body.cost[last] = -sign;
    match solve_body(body, 0.0) {
        Ok(found) => Ok(found.x[last]),
        Err(Failure::Unbounded) => Ok(sign * f64::INFINITY),
        // The answer itself shows that there is a value.
        Err(Failure::Infeasible) => Err(Failure::Solver("the answer lost its own proof".to_owned())),
        Err(other) => Err(other),
    }
}

/// The answer just beyond an end of a price range, if it ties with the old one at the end.
fn beyond_price(body: &Body, constant: f64, answer: &Certified, col: usize, end: f64, sign: f64) -> Option<Vec<f64>> {
    let mut moved = body.clone();
    let dearest = body.cost.iter().fold(0.0_f64, |most, cost| most.max(cost.abs()));
    let unit = match end.abs().max(body.cost[col].abs()) {
        0.0 if dearest == 0.0 => 1.0,
        0.0 => dearest,
        size => size,
    };
    for step in STEPS {
        moved.cost[col] = end + sign * step * unit;
        let next = solve_body_from(&moved, constant, answer.basis.as_ref()).ok()?.x;
        let cost = |x: &[f64]| -> (f64, f64) {
            let terms = (0..body.width()).map(|j| x[j] * if j == col { end } else { body.cost[j] });
            terms.fold((0.0, 0.0), |(sum, most): (f64, f64), term| (sum + term, most.max(term.abs())))
        };
        let ((old, old_size), (new, new_size)) = (cost(&answer.x), cost(&next));
        if (old - new).abs() <= TIE * old_size.max(new_size) {
            return Some(next);
        }
    }
    None
}

/// Between which values the side of `row` that counts can move before the price of the row changes: the tight side, or
/// the lower side (the upper if there is no lower) of a row that has room.
///
/// # Errors
///
/// As [`super::solve`]; [`Failure::Invalid`] for a row that does not exist or has no side.
pub fn side_range(lp: &Lp, answer: &Certified, row: RowId) -> Result<SideRange, Failure> {
    let body = Body::of(lp).map_err(Failure::Invalid)?;
    let bad = |why: &str| Err(Failure::Invalid(why.to_owned()));
    if row.0 >= body.height() {
        return bad("the row does not exist");
    }
    let i = row.0;
    let (low, high, price) = (body.row_lower[i], body.row_upper[i], answer.row_dual[i]);
    if low.is_infinite() && high.is_infinite() {
        return bad("the row has no side");
    }
    let is_equation = low.total_cmp(&high).is_eq();
    let is_lower = price > 0.0 || price == 0.0 && low.is_finite();
    let side = if is_lower { low } else { high };

    let mut face = face_of(&body, &answer.row_dual);
    face.cost.fill(0.0);
    let terms = face.rows[i].clone();
    // The other side of a range stays where it is.
    face.row(low, high, terms);
    (face.row_lower[i], face.row_upper[i]) = (0.0, 0.0);
    let last = face.height() - 1;
    if is_equation {
        (face.row_lower[last], face.row_upper[last]) = (f64::NEG_INFINITY, f64::INFINITY);
    } else if is_lower {
        face.row_lower[last] = f64::NEG_INFINITY;
        face.row_upper[i] = if price == 0.0 { f64::INFINITY } else { 0.0 };
    } else {
        face.row_upper[last] = f64::INFINITY;
        face.row_lower[i] = if price == 0.0 { f64::NEG_INFINITY } else { 0.0 };
    }
    let unknown = face.col(0.0, f64::NEG_INFINITY, f64::INFINITY);
    face.rows[i].push((unknown, -1.0));

    let mut end = |sign: f64| -> Result<SideEnd, Failure> {
        let is_open = price == 0.0 && !is_equation && (is_lower == (sign < 0.0));
        let at = if is_open { sign * f64::INFINITY } else { extreme(&mut face, sign)? };
        let cost = if price == 0.0 { answer.objective } else { answer.objective + price * (at - side) };
        let mut end = SideEnd { side: at, cost, price: None, is_last: false, change: None };
        if at.is_finite() {
            let set = |moved: &mut Body, to: f64| {
                if is_equation || is_lower {
                    moved.row_lower[i] = to;
                }
                if is_equation || !is_lower {
                    moved.row_upper[i] = to;
                }
            };
            beyond_side(&body, lp.constant, answer, (i, sign), &mut end, set);
        }
        Ok(end)
    };
    Ok(SideRange { down: end(-1.0)?, up: end(1.0)? })
}

/// Fills in what is beyond an end of a side range, if the new piece of cost starts at the end.
fn beyond_side(
    body: &Body,
    constant: f64,
    answer: &Certified,
    (row, sign): (usize, f64),
    end: &mut SideEnd,
    set: impl Fn(&mut Body, f64),
) {
    let mut moved = body.clone();
    let unit = end.side.abs().max(moved.rows[row].iter().fold(0.0, |most, &(j, a)| (a * answer.x[j]).abs().max(most)));
    let unit = if unit == 0.0 { 1.0 } else { unit };
    for step in STEPS {
        let to = end.side + sign * step * unit;
        set(&mut moved, to);
        match solve_body_from(&moved, constant, answer.basis.as_ref()) {
            Ok(next) => {
                let back = next.objective - next.row_dual[row] * (to - end.side);
                if (back - end.cost).abs() <= TIE * back.abs().max(next.objective.abs()).max(end.cost.abs()) {
                    end.price = Some(next.row_dual[row]);
                    end.change = Some(change(&moved, &answer.x, &next.x));
                    return;
                }
            }
            Err(Failure::Infeasible) => {
                end.is_last = step <= NOTHING_BEYOND;
                continue;
            }
            // The end stands by its own proof; what lies beyond it is then not told.
            Err(_) => return,
        }
        end.is_last = false;
    }
}

/// The price of a row to the left and to the right: what one unit less saves and one unit more costs. They differ
/// where prices are not unique. −∞ or +∞ where nothing is feasible on that side.
///
/// # Errors
///
/// As [`super::solve`]; [`Failure::Invalid`] for a row that does not exist.
pub fn price_sides(lp: &Lp, answer: &Certified, row: RowId) -> Result<(f64, f64), Failure> {
    let body = Body::of(lp).map_err(Failure::Invalid)?;
    if row.0 >= body.height() {
        return Err(Failure::Invalid("the row does not exist".to_owned()));
    }
    let stand = Stand::of(&body, &answer.x, NEAR);
    let (mut dual, tight, _) = conditions(&body, &stand);
    let Some(k) = tight.iter().position(|&i| i == row.0) else { return Ok((0.0, 0.0)) };
    // A copy of the price goes last, where the extreme is taken.
    let copy = dual.col(0.0, f64::NEG_INFINITY, f64::INFINITY);
    dual.row(0.0, 0.0, vec![(k, 1.0), (copy, -1.0)]);
    Ok((extreme(&mut dual, -1.0)?, extreme(&mut dual, 1.0)?))
}

fn change(body: &Body, old: &[f64], new: &[f64]) -> Change {
    let used = |value: f64| value.abs() > NO_AMOUNT;
    let cols = |is: fn(bool, bool) -> bool| {
        let picked = (0..old.len()).filter(|&j| is(used(old[j]), used(new[j])));
        picked.map(ColId).collect()
    };
    let (before, after) = (Stand::of(body, old, NEAR), Stand::of(body, new, NEAR));
    let rows = |is: fn(bool, bool) -> bool| {
        let tight = |stand: &Stand, i: usize| stand.rows[i] != Side::Inside;
        (0..body.height()).filter(|&i| is(tight(&before, i), tight(&after, i))).map(RowId).collect()
    };
    Change {
        enters: cols(|before, after| !before && after),
        leaves: cols(|before, after| before && !after),
        binds: rows(|before, after| !before && after),
        frees: rows(|before, after| before && !after),
    }
}
