//! The equations that hold at a vertex: sparse elimination over tight rows and columns inside their bounds.
//!
//! The solver's point carries its rounding; solving the equations that the point stands on takes it out, and the
//! same elimination, transposed, gives the row prices.

/// Entries below this are rounding of the elimination (coefficients are near 1).
const NOTHING: f64 = 1e-13;
/// A pivot is at least this share of the largest entry of its row, which bounds the growth of rounding.
const PIVOT_SHARE: f64 = 0.05;
/// Fill beyond this many entries costs more time than the solver itself.
const MOST_FILL: usize = 4_000_000;

/// An elimination of `rows × cols` of a matrix.
#[derive(Debug)]
pub(super) struct Tight {
    rows: Vec<usize>,
    cols: Vec<usize>,
    steps: Vec<Step>,
}

#[derive(Debug)]
struct Step {
    row: usize,
    col: usize,
    pivot: f64,
    /// Rest of the pivot row: column and value.
    rest: Vec<(usize, f64)>,
    /// Rows from which a multiple of the pivot row was taken.
    taken: Vec<(usize, f64)>,
}

impl Tight {
    /// Eliminates the part of `matrix` in `rows` and `cols`; `None` where it fills up too much.
    pub(super) fn factor(
        matrix: &[Vec<(usize, f64)>],
        rows: Vec<usize>,
        cols: Vec<usize>,
        width: usize,
    ) -> Option<Self> {
        let mut local = vec![usize::MAX; width];
        for (k, &j) in cols.iter().enumerate() {
            local[j] = k;
        }
        let part = rows.iter().map(|&i| {
            let terms = matrix[i].iter().filter(|(j, _)| local[*j] != usize::MAX);
            terms.map(|&(j, value)| (local[j], value)).collect()
        });
        let mut work = Work::new(part.collect(), cols.len());
        let mut steps = Vec::with_capacity(rows.len().min(cols.len()));
        while let Some((row, col)) = work.choose() {
            steps.push(work.eliminate(row, col));
            if work.filled > MOST_FILL {
                return None;
            }
        }
        Some(Self { rows, cols, steps })
    }

    /// Whether every column found a row, so that the equations fix all of them.
    pub(super) fn is_full(&self) -> bool {
        self.steps.len() == self.cols.len()
    }

    /// Solves `A dx = residual` (given for every row of the matrix) and adds `dx`; rows left over are not looked at.
    pub(super) fn move_columns(&self, residual: &[f64], x: &mut [f64]) {
        let mut right: Vec<f64> = self.rows.iter().map(|&i| residual[i]).collect();
        for step in &self.steps {
            for &(row, factor) in &step.taken {
                right[row] -= factor * right[step.row];
            }
        }
        let mut change = vec![0.0; self.cols.len()];
        for step in self.steps.iter().rev() {
            let rest: f64 = step.rest.iter().map(|&(col, value)| value * change[col]).sum();
            change[step.col] = (right[step.row] - rest) / step.pivot;
        }
        for (&j, by) in self.cols.iter().zip(change) {
            x[j] += by;
        }
    }

    /// Solves `Aᵀ dy = residual` (given for every column of the matrix) and adds `dy`; rows left over keep their price.
    pub(super) fn move_prices(&self, residual: &[f64], y: &mut [f64]) {
        let mut right: Vec<f64> = self.cols.iter().map(|&j| residual[j]).collect();
        let mut change = vec![0.0; self.rows.len()];
        for step in &self.steps {
            let price = right[step.col] / step.pivot;
            for &(col, value) in &step.rest {
                right[col] -= value * price;
            }
            change[step.row] = price;
        }
        for step in self.steps.iter().rev() {
            let taken: f64 = step.taken.iter().map(|&(row, factor)| factor * change[row]).sum();
            change[step.row] -= taken;
        }
        for (&i, by) in self.rows.iter().zip(change) {
            y[i] += by;
        }
    }
}

/// The matrix while it is being eliminated.
struct Work {
    rows: Vec<Vec<(usize, f64)>>,
    /// Rows that hold a column, some of them no more.
    holders: Vec<Vec<usize>>,
    row_done: Vec<bool>,
    col_done: Vec<bool>,
    count: Vec<usize>,
    single_cols: Vec<usize>,
    single_rows: Vec<usize>,
    /// Position of a column in the row being rewritten.
    place: Vec<usize>,
    filled: usize,
}

impl Work {
    fn new(rows: Vec<Vec<(usize, f64)>>, width: usize) -> Self {
        let mut holders = vec![Vec::new(); width];
        for (i, terms) in rows.iter().enumerate() {
            for &(j, _) in terms {
                holders[j].push(i);
            }
        }
        let count: Vec<usize> = holders.iter().map(Vec::len).collect();
        Self {
            single_cols: (0..width).filter(|&j| count[j] == 1).collect(),
            single_rows: (0..rows.len()).filter(|&i| rows[i].len() == 1).collect(),
            row_done: vec![false; rows.len()],
            col_done: vec![false; width],
            place: vec![usize::MAX; width],
            filled: 0,
            rows,
            holders,
            count,
        }
    }

    /// The next pivot: what needs no arithmetic first, then the shortest row.
    fn choose(&mut self) -> Option<(usize, usize)> {
        while let Some(col) = self.single_cols.pop() {
            if self.col_done[col] || self.count[col] != 1 {
                continue;
            }
            let holds = |i: &&usize| !self.row_done[**i] && self.rows[**i].iter().any(|(j, _)| *j == col);
            if let Some(&row) = self.holders[col].iter().find(holds) {
                return Some((row, col));
            }
        }
        while let Some(row) = self.single_rows.pop() {
            if !self.row_done[row] && self.rows[row].len() == 1 {
                return Some((row, self.rows[row][0].0));
            }
        }
        let open = (0..self.rows.len()).filter(|&i| !self.row_done[i] && !self.rows[i].is_empty());
        let row = open.min_by_key(|&i| self.rows[i].len())?;
        let most = self.rows[row].iter().fold(0.0_f64, |most, (_, value)| most.max(value.abs()));
        let large = self.rows[row].iter().filter(|(_, value)| value.abs() >= PIVOT_SHARE * most);
        large.min_by_key(|(j, _)| self.count[*j]).map(|&(col, _)| (row, col))
    }

    fn eliminate(&mut self, row: usize, col: usize) -> Step {
        let mut rest = std::mem::take(&mut self.rows[row]);
        self.row_done[row] = true;
        self.col_done[col] = true;
        let pivot = rest.iter().find(|(j, _)| *j == col).map_or(1.0, |(_, value)| *value);
        rest.retain(|(j, _)| *j != col);
        for &(j, _) in &rest {
            self.less(j);
        }
        let mut taken = Vec::new();
        for i in std::mem::take(&mut self.holders[col]) {
            if self.row_done[i] {
                continue;
            }
            let Some(position) = self.rows[i].iter().position(|(j, _)| *j == col) else { continue };
            let factor = self.rows[i].swap_remove(position).1 / pivot;
            taken.push((i, factor));
            self.take(i, factor, &rest);
        }
        self.filled += taken.len() + rest.len();
        Step { row, col, pivot, rest, taken }
    }

    /// Takes `factor` times `rest` from row `i`.
    fn take(&mut self, i: usize, factor: f64, rest: &[(usize, f64)]) {
        let mut terms = std::mem::take(&mut self.rows[i]);
        for (position, (j, _)) in terms.iter().enumerate() {
            self.place[*j] = position;
        }
        let before = terms.len();
        for &(j, value) in rest {
            match self.place[j] {
                usize::MAX => {
                    terms.push((j, -factor * value));
                    self.holders[j].push(i);
                    self.count[j] += 1;
                }
                position => {
                    let old = terms[position].1;
                    let new = old - factor * value;
                    // What cancels to rounding is nothing.
                    terms[position].1 = if new.abs() <= NOTHING * old.abs() { 0.0 } else { new };
                }
            }
        }
        for (j, _) in &terms[..before] {
            self.place[*j] = usize::MAX;
        }
        for &(j, value) in &terms {
            if value.abs() <= NOTHING {
                self.less(j);
            }
        }
        terms.retain(|(_, value)| value.abs() > NOTHING);
        self.filled += terms.len().saturating_sub(before);
        if terms.len() == 1 {
            self.single_rows.push(i);
        }
        self.rows[i] = terms;
    }

    fn less(&mut self, col: usize) {
        self.count[col] -= 1;
        if self.count[col] == 1 {
            self.single_cols.push(col);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn solves_both_ways() {
        let matrix = vec![
            vec![(0, 2.0), (1, 1.0), (2, -1.0)],
            vec![(0, -3.0), (1, -1.0), (2, 2.0)],
            vec![(0, -2.0), (1, 1.0), (2, 2.0)],
        ];
        let tight = Tight::factor(&matrix, vec![0, 1, 2], vec![0, 1, 2], 3).expect("small");
        assert!(tight.is_full());
        let mut x = vec![0.0; 3];
        tight.move_columns(&[8.0, -11.0, -3.0], &mut x);
        for (found, truth) in x.iter().zip([2.0, 3.0, -1.0]) {
            assert!((found - truth).abs() < 1e-12);
        }
        // Aᵀ (1, 2, 3) = (2 - 6 - 6, 1 - 2 + 3, -1 + 4 + 6)
        let mut y = vec![0.0; 3];
        tight.move_prices(&[-10.0, 2.0, 9.0], &mut y);
        for (found, truth) in y.iter().zip([1.0, 2.0, 3.0]) {
            assert!((found - truth).abs() < 1e-12);
        }
    }

    #[test]
    fn a_repeated_column_stays_without_a_row() {
        let matrix = vec![vec![(0, 1.0), (1, 1.0)], vec![(0, 2.0), (1, 2.0)]];
        let tight = Tight::factor(&matrix, vec![0, 1], vec![0, 1], 2).expect("small");
        assert!(!tight.is_full());
    }
}
