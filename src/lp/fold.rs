//! Folds a column that stands alone in an equation into the range of that equation, and undoes it.
//!
//! Such a column (a purchase in the stock row of its feed) is what is left over: `x_j = (b − Σ q x) / a`.
//! Its bounds become the range of the row, its cost moves to the other columns of the row. The solver then
//! meets a smaller programme in which the other columns carry costs, and drifts far less.

use super::body::Body;
use super::simplex::{At, Basis};

/// A coefficient this much smaller than the largest of its row would blow up rounding when undone.
const SMALLEST_SHARE: f64 = 1e-3;

/// What was folded, to be undone in one pass; folded columns stay in place, fixed at zero.
#[derive(Debug)]
pub(super) struct Unfold {
    folds: Vec<Fold>,
}

#[derive(Debug)]
struct Fold {
    row: usize,
    col: usize,
    coefficient: f64,
    right: f64,
    cost: f64,
    lower: f64,
    upper: f64,
}

impl Fold {
    /// The side of the column at a side of the row, and the reverse: what the others leave over is its amount.
    fn turned(&self, at: At) -> At {
        match at {
            At::Lower if self.coefficient > 0.0 => At::Upper,
            At::Upper if self.coefficient > 0.0 => At::Lower,
            other => other,
        }
    }
}

impl Unfold {
    /// Folds `body` in place.
    pub(super) fn apply(body: &mut Body) -> Self {
        let mut count = vec![0_u32; body.width()];
        for &(j, _) in body.rows.iter().flatten() {
            count[j] += 1;
        }
        let mut folds = Vec::new();
        for row in 0..body.height() {
            let right = body.row_lower[row];
            // Exactly an equation, as written; a narrow range is not one.
            #[allow(clippy::float_cmp)]
            if right != body.row_upper[row] || body.rows[row].len() < 2 {
                continue;
            }
            let most = body.rows[row].iter().fold(0.0_f64, |most, (_, value)| most.max(value.abs()));
            let single = body.rows[row].iter().position(|&(j, value)| {
                count[j] == 1 && value.abs() >= SMALLEST_SHARE * most && body.lower[j] < body.upper[j]
            });
            let Some(position) = single else { continue };
            let (col, coefficient) = body.rows[row].swap_remove(position);
            let (lower, upper, cost) = (body.lower[col], body.upper[col], body.cost[col]);
            let at = [right - coefficient * upper, right - coefficient * lower];
            (body.row_lower[row], body.row_upper[row]) =
                if coefficient > 0.0 { (at[0], at[1]) } else { (at[1], at[0]) };
            let terms = &body.rows[row];
            for &(k, value) in terms {
                body.cost[k] -= cost / coefficient * value;
            }
            (body.cost[col], body.lower[col], body.upper[col]) = (0.0, 0.0, 0.0);
            folds.push(Fold { row, col, coefficient, right, cost, lower, upper });
        }
        Self { folds }
    }

    /// Forgets the amounts of folded columns, as the folded programme does.
    pub(super) fn refold(&self, x: &mut [f64]) {
        for fold in &self.folds {
            x[fold.col] = 0.0;
        }
    }

    /// Where the folded programme stands if the programme as written stands at `basis`: the value of a folded row moves
    /// with the column that was folded into it.
    pub(super) fn refold_basis(&self, basis: &Basis) -> Basis {
        let mut folded = basis.clone();
        for fold in &self.folds {
            let (Some(col), Some(row)) = (folded.cols.get_mut(fold.col), folded.rows.get_mut(fold.row)) else {
                continue;
            };
            if *row != At::Basic {
                *row = fold.turned(*col);
            }
            *col = At::Lower;
        }
        folded
    }

    /// Turns a basis of the folded programme into one of the programme as written.
    pub(super) fn undo_basis(&self, basis: &mut Basis) {
        for fold in &self.folds {
            basis.cols[fold.col] = fold.turned(basis.rows[fold.row]);
            basis.rows[fold.row] = At::Lower;
        }
    }

    /// Gives the folded columns their amounts and the folded rows their prices.
    pub(super) fn undo(&self, folded: &Body, x: &mut [f64], y: &mut [f64]) {
        for fold in &self.folds {
            let rest: f64 = folded.rows[fold.row].iter().map(|&(j, value)| value * x[j]).sum();
            let amount = (fold.right - rest) / fold.coefficient;
            // Rounding may leave a hair outside the bounds; the certificate judges what that does to the row.
            x[fold.col] = amount.max(fold.lower).min(fold.upper);
            y[fold.row] += fold.cost / fold.coefficient;
        }
    }
}
