//! Named columns and rows; `lower <= row <= upper`, `lower <= x <= upper`, minimize.

/// A column of one [`Lp`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct ColId(pub usize);

/// A row of one [`Lp`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct RowId(pub usize);

/// A column.
#[derive(Debug, Clone, PartialEq)]
pub struct Col {
    /// Name, for messages.
    pub name: String,
    /// Cost of one unit.
    pub cost: f64,
    /// Lower bound, may be −∞.
    pub lower: f64,
    /// Upper bound, may be +∞.
    pub upper: f64,
}

/// A row.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Name, for messages.
    pub name: String,
    /// Lower side, may be −∞.
    pub lower: f64,
    /// Upper side, may be +∞; equal to `lower` for an equation.
    pub upper: f64,
    /// Coefficients; each column at most once.
    pub terms: Vec<(ColId, f64)>,
}

/// A linear programme: minimize `constant + Σ cost·x`.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Lp {
    /// Columns.
    pub cols: Vec<Col>,
    /// Rows.
    pub rows: Vec<Row>,
    /// Cost that no column carries.
    pub constant: f64,
}

impl Lp {
    /// Adds a column.
    pub fn col(&mut self, name: impl Into<String>, cost: f64, lower: f64, upper: f64) -> ColId {
        self.cols.push(Col { name: name.into(), cost, lower, upper });
        ColId(self.cols.len() - 1)
    }
    /// Adds a row; terms with the same column are added together, zeros dropped.
    pub fn row(
        &mut self,
        name: impl Into<String>,
        lower: f64,
        upper: f64,
        terms: impl IntoIterator<Item = (ColId, f64)>,
    ) -> RowId {
        let mut terms: Vec<(ColId, f64)> = terms.into_iter().collect();
        let mut cols: Vec<ColId> = terms.iter().map(|(col, _)| *col).collect();
        cols.sort_unstable();
        if cols.windows(2).any(|pair| pair[0] == pair[1]) {
            let mut merged: indexmap::IndexMap<ColId, f64> = indexmap::IndexMap::new();
            for (col, value) in terms {
                *merged.entry(col).or_insert(0.0) += value;
            }
            terms = merged.into_iter().collect();
        }
        terms.retain(|(_, value)| *value != 0.0);
        self.rows.push(Row { name: name.into(), lower, upper, terms });
        RowId(self.rows.len() - 1)
    }
    /// Value of a row at `x`.
    #[must_use]
    pub fn row_value(&self, row: RowId, x: &[f64]) -> f64 {
        self.rows[row.0].terms.iter().map(|(col, value)| value * x[col.0]).sum()
    }
    /// Cost at `x`.
    #[must_use]
    pub fn cost(&self, x: &[f64]) -> f64 {
        self.constant + self.cols.iter().zip(x).map(|(col, value)| col.cost * value).sum::<f64>()
    }
}
