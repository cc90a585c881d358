//! The numbers of a programme without its names: what the solving steps pass to each other.

use super::model::Lp;

/// A bound at least this large is no bound: the solver and the certificate could not tell it from infinity.
const INFINITE: f64 = 1e20;

/// `row_lower <= A x <= row_upper`, `lower <= x <= upper`, minimize `cost · x`.
#[derive(Debug, Clone, Default)]
pub(super) struct Body {
    pub(super) cost: Vec<f64>,
    pub(super) lower: Vec<f64>,
    pub(super) upper: Vec<f64>,
    pub(super) row_lower: Vec<f64>,
    pub(super) row_upper: Vec<f64>,
    /// Coefficients of each row; each column at most once, no zeros.
    pub(super) rows: Vec<Vec<(usize, f64)>>,
}

impl Body {
    /// Takes the numbers of a programme, or says in words which of them cannot be meant.
    pub(super) fn of(lp: &Lp) -> Result<Self, String> {
        let mut body = Self::default();
        for col in &lp.cols {
            if !col.cost.is_finite() {
                return Err(format!("the cost of {} is {}", col.name, col.cost));
            }
            let (lower, upper) = side_pair(col.lower, col.upper).map_err(|why| format!("{}: {why}", col.name))?;
            body.col(col.cost, lower, upper);
        }
        let mut last_row_of = vec![usize::MAX; lp.cols.len()];
        for (number, row) in lp.rows.iter().enumerate() {
            let (lower, upper) = side_pair(row.lower, row.upper).map_err(|why| format!("{}: {why}", row.name))?;
            let mut terms = Vec::with_capacity(row.terms.len());
            for &(col, value) in &row.terms {
                match last_row_of.get_mut(col.0) {
                    None => return Err(format!("{} uses a column that does not exist", row.name)),
                    Some(last) if *last == number => {
                        return Err(format!("{} uses {} twice", row.name, lp.cols[col.0].name));
                    }
                    Some(last) => *last = number,
                }
                if !value.is_finite() {
                    return Err(format!("{} has {value} for {}", row.name, lp.cols[col.0].name));
                }
                if value != 0.0 {
                    terms.push((col.0, value));
                }
            }
            body.row(lower, upper, terms);
        }
        if !lp.constant.is_finite() {
            return Err(format!("the constant cost is {}", lp.constant));
        }
        Ok(body)
    }

    /// Adds a column and gives its number.
    pub(super) fn col(&mut self, cost: f64, lower: f64, upper: f64) -> usize {
        self.cost.push(cost);
        self.lower.push(lower);
        self.upper.push(upper);
        self.cost.len() - 1
    }

    /// Adds a row and gives its number.
    pub(super) fn row(&mut self, lower: f64, upper: f64, terms: Vec<(usize, f64)>) -> usize {
        self.row_lower.push(lower);
        self.row_upper.push(upper);
        self.rows.push(terms);
        self.rows.len() - 1
    }

    /// Number of columns.
    pub(super) fn width(&self) -> usize {
        self.cost.len()
    }

    /// Number of rows.
    pub(super) fn height(&self) -> usize {
        self.rows.len()
    }

    /// Value of every row at `x`.
    pub(super) fn activity(&self, x: &[f64]) -> Vec<f64> {
        self.rows.iter().map(|terms| terms.iter().map(|&(j, a)| a * x[j]).sum()).collect()
    }

    /// Reduced cost of every column: its cost less what its rows pay for it.
    pub(super) fn reduced_cost(&self, y: &[f64]) -> Vec<f64> {
        let mut reduced = self.cost.clone();
        for (terms, &price) in self.rows.iter().zip(y) {
            if price != 0.0 {
                for &(j, a) in terms {
                    reduced[j] -= a * price;
                }
            }
        }
        reduced
    }

    /// Whether some row or column asks for more than it allows.
    pub(super) fn is_crossed(&self) -> bool {
        let crossed = |lower: &[f64], upper: &[f64]| lower.iter().zip(upper).any(|(low, high)| low > high);
        crossed(&self.lower, &self.upper) || crossed(&self.row_lower, &self.row_upper)
    }
}

/// Reads a pair of sides; magnitudes beyond 1e20 become infinite.
fn side_pair(lower: f64, upper: f64) -> Result<(f64, f64), String> {
    if lower.is_nan() || upper.is_nan() || lower == f64::INFINITY || upper == f64::NEG_INFINITY {
        return Err(format!("its sides are {lower} and {upper}"));
    }
    let lower = if lower <= -INFINITE { f64::NEG_INFINITY } else { lower };
    let upper = if upper >= INFINITE { f64::INFINITY } else { upper };
    Ok((lower, upper))
}
