//! The basis as a product of triangles: sparse elimination, two kinds of solve, and an exchange of one column at a time.
//!
//! Singletons are taken first, since a winter's basis is all but triangular; what is left is eliminated row by row, the
//! shortest first, with a pivot of fair size. Exchanges are kept as a list of column steps until the next elimination.

/// A pivot is at least this share of the largest entry of its row.
const PIVOT_SHARE: f64 = 0.1;
/// Entries below this are rounding of the elimination (coefficients are near 1).
const NOTHING: f64 = 1e-14;
/// A pivot below this is none: the basis is singular.
const LEAST_PIVOT: f64 = 1e-10;

/// Lists of `(index, value)` one after another.
#[derive(Debug, Clone, Default)]
pub(super) struct Lists {
    starts: Vec<usize>,
    terms: Vec<(usize, f64)>,
}

impl Lists {
    pub(super) fn new() -> Self {
        Self { starts: vec![0], terms: Vec::new() }
    }

    /// The transpose of row lists over `width` columns.
    pub(super) fn transposed(rows: &[Vec<(usize, f64)>], width: usize) -> Self {
        Self::turned(rows.iter().map(Vec::as_slice).enumerate(), width)
    }

    /// Numbered lists turned about: for each of `width` indices, the numbers of the lists that hold it, with its values.
    fn turned<'a>(lists: impl Iterator<Item = (usize, &'a [(usize, f64)])> + Clone, width: usize) -> Self {
        let mut starts = vec![0; width + 1];
        for &(j, _) in lists.clone().flat_map(|(_, list)| list) {
            starts[j + 1] += 1;
        }
        for j in 0..width {
            starts[j + 1] += starts[j];
        }
        let mut next = starts.clone();
        let mut terms = vec![(0, 0.0); starts[width]];
        for (i, list) in lists {
            for &(j, value) in list {
                terms[next[j]] = (i, value);
                next[j] += 1;
            }
        }
        Self { starts, terms }
    }

    fn push(&mut self, list: impl IntoIterator<Item = (usize, f64)>) {
        self.terms.extend(list);
        self.starts.push(self.terms.len());
    }

    pub(super) fn get(&self, k: usize) -> &[(usize, f64)] {
        &self.terms[self.starts[k]..self.starts[k + 1]]
    }

    fn len(&self) -> usize {
        self.starts.len() - 1
    }
}

/// One pivot of the elimination.
#[derive(Debug, Clone, Copy)]
struct Pivot {
    row: usize,
    place: usize,
    value: f64,
}

/// A factored basis of as many columns as rows. A *place* is the position of a column in the basis.
#[derive(Debug, Clone, Default)]
pub(super) struct Factor {
    pivots: Vec<Pivot>,
    /// By elimination step: rows from which a multiple of the pivot row was taken. Only steps that took any.
    taken: Lists,
    taken_of: Vec<usize>,
    /// By pivot: rest of the pivot row, by place.
    across: Lists,
    /// By place: entries of the column in the rows of earlier pivots.
    down: Lists,
    /// Exchanges since: place and the column that came in, in terms of the basis before.
    exchanges: Vec<(usize, f64)>,
    exchanged: Lists,
}

impl Factor {
    /// Factors the columns given by place; or the places without a pivot, each with a row that has none.
    pub(super) fn new(columns: &[&[(usize, f64)]]) -> Result<Self, Vec<(usize, usize)>> {
        let height = columns.len();
        let mut work = Work::new(columns);
        work.singles();
        work.kernel();
        if work.pivots.len() < height {
            let rows = (0..height).filter(|&i| !work.row_done[i]);
            let places = (0..height).filter(|&p| !work.place_done[p]);
            return Err(places.zip(rows).collect());
        }
        let Work { pivots, taken, taken_of, across, .. } = work;
        let down = Lists::turned(pivots.iter().enumerate().map(|(k, pivot)| (pivot.row, across.get(k))), height);
        Ok(Self { pivots, taken, taken_of, across, down, exchanges: Vec::new(), exchanged: Lists::new() })
    }

    /// Solves `B out = v`; `v` by row is used up and left at zero, `out` by place must come in at zero.
    pub(super) fn solve(&self, v: &mut [f64], out: &mut [f64]) {
        for (k, &row) in self.taken_of.iter().enumerate() {
            let by = v[row];
            if by != 0.0 {
                for &(i, factor) in self.taken.get(k) {
                    v[i] -= factor * by;
                }
            }
        }
        for pivot in self.pivots.iter().rev() {
            let right = v[pivot.row];
            if right != 0.0 {
                let value = right / pivot.value;
                v[pivot.row] = 0.0;
                out[pivot.place] = value;
                for &(i, a) in self.down.get(pivot.place) {
                    v[i] -= a * value;
                }
            }
        }
        for (k, &(place, pivot)) in self.exchanges.iter().enumerate() {
            let right = out[place];
            if right != 0.0 {
                let value = right / pivot;
                out[place] = value;
                for &(i, a) in self.exchanged.get(k) {
                    out[i] -= a * value;
                }
            }
        }
    }

    /// Solves `Bᵀ out = v`; `v` by place is used up and left at zero, `out` by row must come in at zero.
    pub(super) fn solve_transposed(&self, v: &mut [f64], out: &mut [f64]) {
        for (k, &(place, pivot)) in self.exchanges.iter().enumerate().rev() {
            let rest: f64 = self.exchanged.get(k).iter().map(|&(i, a)| a * v[i]).sum();
            v[place] = (v[place] - rest) / pivot;
        }
        for (k, pivot) in self.pivots.iter().enumerate() {
            let right = v[pivot.place];
            if right != 0.0 {
                let value = right / pivot.value;
                v[pivot.place] = 0.0;
                out[pivot.row] = value;
                for &(place, a) in self.across.get(k) {
                    v[place] -= a * value;
                }
            }
        }
        for (k, &row) in self.taken_of.iter().enumerate().rev() {
            let rest: f64 = self.taken.get(k).iter().map(|&(i, factor)| factor * out[i]).sum();
            out[row] -= rest;
        }
    }

    /// Puts a new column at a place; `column` is that column solved with the basis as it was.
    pub(super) fn exchange(&mut self, place: usize, column: &[f64]) {
        self.exchanges.push((place, column[place]));
        let rest = column.iter().enumerate().filter(|&(i, &a)| i != place && a.abs() > NOTHING);
        self.exchanged.push(rest.map(|(i, &a)| (i, a)));
    }

    /// Whether a new elimination would pay.
    pub(super) fn is_worn(&self) -> bool {
        self.exchanges.len() >= 100
            || (self.exchanges.len() >= 20
                && self.exchanged.terms.len()
                    > 3 * (self.across.terms.len() + self.taken.terms.len() + self.pivots.len()))
    }

    pub(super) fn is_fresh(&self) -> bool {
        self.exchanged.len() == 0
    }
}

/// The matrix while it is being eliminated.
struct Work<'a> {
    columns: &'a [&'a [(usize, f64)]],
    /// Entries of each row by place, as given.
    rows: Lists,
    row_done: Vec<bool>,
    place_done: Vec<bool>,
    row_count: Vec<usize>,
    place_count: Vec<usize>,
    pivots: Vec<Pivot>,
    taken: Lists,
    taken_of: Vec<usize>,
    across: Lists,
}

impl<'a> Work<'a> {
    fn new(columns: &'a [&'a [(usize, f64)]]) -> Self {
        let height = columns.len();
        let rows = Lists::turned(columns.iter().copied().enumerate(), height);
        let row_count = (0..height).map(|i| rows.get(i).len()).collect();
        let place_count = columns.iter().map(|column| column.len()).collect();
        Self {
            columns,
            rows,
            row_done: vec![false; height],
            place_done: vec![false; height],
            row_count,
            place_count,
            pivots: Vec::with_capacity(height),
            taken: Lists::new(),
            taken_of: Vec::new(),
            across: Lists::new(),
        }
    }

    /// Takes columns with one open row and rows with one open column: no arithmetic, no fill.
    fn singles(&mut self) {
        let mut columns: Vec<usize> = (0..self.place_count.len()).filter(|&p| self.place_count[p] == 1).collect();
        let mut rows: Vec<usize> = (0..self.row_count.len()).filter(|&i| self.row_count[i] == 1).collect();
        loop {
            if let Some(place) = columns.pop() {
                if self.place_done[place] || self.place_count[place] != 1 {
                    continue;
                }
                let open = self.columns[place].iter().find(|(i, _)| !self.row_done[*i]);
                let Some(&(row, value)) = open else { continue };
                if value.abs() < LEAST_PIVOT {
                    continue;
                }
                self.pivot(row, place, value);
                let rest = self.rows.get(row).iter().copied().filter(|(p, _)| !self.place_done[*p]);
                self.across.push(rest);
                for k in self.rows.starts[row]..self.rows.starts[row + 1] {
                    let other = self.rows.terms[k].0;
                    if !self.place_done[other] {
                        self.place_count[other] -= 1;
                        if self.place_count[other] == 1 {
                            columns.push(other);
                        }
                    }
                }
            } else if let Some(row) = rows.pop() {
                if self.row_done[row] || self.row_count[row] != 1 {
                    continue;
                }
                let open = self.rows.get(row).iter().find(|(p, _)| !self.place_done[*p]);
                let Some(&(place, value)) = open else { continue };
                if value.abs() < LEAST_PIVOT {
                    continue;
                }
                self.pivot(row, place, value);
                self.across.push([]);
                let below = self.columns[place].iter().filter(|(i, _)| !self.row_done[*i]);
                let before = self.taken.terms.len();
                self.taken.terms.extend(below.map(|&(i, a)| (i, a / value)));
                if self.taken.terms.len() > before {
                    self.taken.starts.push(self.taken.terms.len());
                    self.taken_of.push(row);
                }
                for &(i, _) in self.columns[place] {
                    if !self.row_done[i] {
                        self.row_count[i] -= 1;
                        if self.row_count[i] == 1 {
                            rows.push(i);
                        }
                    }
                }
            } else {
                return;
            }
        }
    }

    fn pivot(&mut self, row: usize, place: usize, value: f64) {
        self.row_done[row] = true;
        self.place_done[place] = true;
        self.pivots.push(Pivot { row, place, value });
    }

    /// Eliminates what has no singletons.
    fn kernel(&mut self) {
        let height = self.row_done.len();
        let mut open: Vec<usize> = (0..height).filter(|&i| !self.row_done[i]).collect();
        if open.is_empty() {
            return;
        }
        let mut rows: Vec<Vec<(usize, f64)>> = vec![Vec::new(); height];
        let mut holders: Vec<Vec<usize>> = vec![Vec::new(); height];
        let mut count = vec![0_usize; height];
        for &i in &open {
            rows[i] = self.rows.get(i).iter().copied().filter(|(p, _)| !self.place_done[*p]).collect();
            for &(p, _) in &rows[i] {
                holders[p].push(i);
                count[p] += 1;
            }
        }
        let mut spot = vec![usize::MAX; height];
        while !open.is_empty() {
            let Some((at, pivot)) = choose(&open, &rows, &count) else { return };
            let row = open.swap_remove(at);
            // A row of rounding is none; it shows up as a row without a pivot.
            let Some((place, value)) = pivot else { continue };
            self.row_done[row] = true;
            self.place_done[place] = true;
            self.pivots.push(Pivot { row, place, value });
            let mut rest = std::mem::take(&mut rows[row]);
            rest.retain(|(p, _)| *p != place);
            for &(p, _) in &rest {
                count[p] -= 1;
            }
            let before = self.taken.terms.len();
            for i in std::mem::take(&mut holders[place]) {
                if self.row_done[i] {
                    continue;
                }
                let Some(position) = rows[i].iter().position(|(p, _)| *p == place) else { continue };
                let factor = rows[i].swap_remove(position).1 / value;
                self.taken.terms.push((i, factor));
                take(&mut rows[i], i, factor, &rest, &mut spot, &mut holders, &mut count);
            }
            if self.taken.terms.len() > before {
                self.taken.starts.push(self.taken.terms.len());
                self.taken_of.push(row);
            }
            self.across.push(rest);
        }
    }
}

/// Of the open rows the place of the shortest, and in it the pivot of fair size whose column is shortest, if there is one.
fn choose(open: &[usize], rows: &[Vec<(usize, f64)>], count: &[usize]) -> Option<(usize, Option<(usize, f64)>)> {
    let (at, &row) = open.iter().enumerate().min_by_key(|(_, i)| rows[**i].len())?;
    let most = rows[row].iter().fold(LEAST_PIVOT, |most, (_, value)| most.max(value.abs()));
    let fair = rows[row].iter().filter(|(_, value)| value.abs() >= LEAST_PIVOT.max(PIVOT_SHARE * most));
    Some((at, fair.min_by_key(|(p, _)| count[*p]).copied()))
}

/// Takes `factor` times `rest` from row `i`.
fn take(
    terms: &mut Vec<(usize, f64)>,
    i: usize,
    factor: f64,
    rest: &[(usize, f64)],
    spot: &mut [usize],
    holders: &mut [Vec<usize>],
    count: &mut [usize],
) {
    for (position, (p, _)) in terms.iter().enumerate() {
        spot[*p] = position;
    }
    let before = terms.len();
    for &(p, value) in rest {
        match spot[p] {
            usize::MAX => {
                terms.push((p, -factor * value));
                holders[p].push(i);
                count[p] += 1;
            }
            position => {
                let old = terms[position].1;
                let new = old - factor * value;
                // What cancels to rounding is nothing.
                terms[position].1 = if new.abs() <= NOTHING * old.abs() { 0.0 } else { new };
            }
        }
    }
    for (p, _) in &terms[..before] {
        spot[*p] = usize::MAX;
    }
    for &(p, value) in terms.iter() {
        if value.abs() <= NOTHING {
            count[p] -= 1;
        }
    }
    terms.retain(|(_, value)| value.abs() > NOTHING);
}

#[cfg(test)]
mod tests {
    use super::*;

    struct Dice(u64);

    impl Dice {
        fn roll(&mut self) -> f64 {
            self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (self.0 >> 11) as f64 / (1_u64 << 53) as f64
        }
        fn column(&mut self, height: usize, place: usize) -> Vec<(usize, f64)> {
            let mut column = vec![(place, 1.0 + self.roll())];
            for i in 0..height {
                if i != place && self.roll() < 3.0 / height as f64 {
                    column.push((i, self.roll() - 0.5));
                }
            }
            column
        }
    }

    fn factor(columns: &[Vec<(usize, f64)>]) -> Result<Factor, Vec<(usize, usize)>> {
        Factor::new(&columns.iter().map(Vec::as_slice).collect::<Vec<_>>())
    }

    /// Both solves against the columns themselves, before and after every exchange.
    #[test]
    fn solves_both_ways_through_exchanges() {
        for (seed, height) in (0..40).zip([3, 8, 20, 45].into_iter().cycle()) {
            let mut dice = Dice(seed);
            let mut columns: Vec<_> = (0..height).map(|place| dice.column(height, place)).collect();
            let mut basis = factor(&columns).expect("large on its diagonal");
            for exchange in 0..12 {
                let truth: Vec<f64> = (0..height).map(|_| dice.roll() - 0.5).collect();
                let mut right = vec![0.0; height];
                for (column, value) in columns.iter().zip(&truth) {
                    for (i, a) in column {
                        right[*i] += a * value;
                    }
                }
                let mut found = vec![0.0; height];
                basis.solve(&mut right, &mut found);
                let mut across: Vec<f64> =
                    columns.iter().map(|column| column.iter().map(|(i, a)| a * truth[*i]).sum()).collect();
                let mut prices = vec![0.0; height];
                basis.solve_transposed(&mut across, &mut prices);
                for ((a, b), truth) in found.iter().zip(&prices).zip(&truth) {
                    assert!((a - truth).abs() < 1e-9 && (b - truth).abs() < 1e-9, "seed {seed}, exchange {exchange}");
                }
                let place = exchange % height;
                let new = dice.column(height, place);
                let mut right = vec![0.0; height];
                for (i, a) in &new {
                    right[*i] = *a;
                }
                let mut column = vec![0.0; height];
                basis.solve(&mut right, &mut column);
                if column[place].abs() > 1e-3 {
                    basis.exchange(place, &column);
                    columns[place] = new;
                }
            }
        }
    }

    #[test]
    fn names_columns_that_add_nothing() {
        let one = vec![(0, 1.0), (1, 2.0), (2, 1.0)];
        let twice = vec![(0, 2.0), (1, 4.0), (2, 2.0)];
        let other = vec![(0, 1.0), (1, -1.0), (2, 3.0)];
        let missing = factor(&[one, other, twice]).expect_err("one column is twice another");
        assert_eq!(missing.len(), 1);
        assert!(missing[0].0 != 1, "the other column is needed");
    }
}
