//! A bounded simplex method that starts where an answer of a near programme stands.
//!
//! The programme is `A x − r = 0` with bounds on the columns `x` and on the row values `r`; a basis is as many of these as
//! there are rows. A start that holds its rows goes on with the primal method, any other with the dual method, on costs
//! shifted so that no price has the wrong sign, and the primal method then makes good for the shifts. Nothing here is
//! trusted: the certificate judges what comes out, and what does not come out goes to the general solver.

mod dual;
mod factor;
mod primal;

use self::factor::{Factor, Lists};
use super::body::Body;

/// Where a column or a row value stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum At {
    /// In the basis: its value follows from the others.
    Basic,
    /// On its lower side.
    Lower,
    /// On its upper side.
    Upper,
    /// On neither, at zero: it has no sides.
    Free,
}

/// Where every column and every row value of a programme stands.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Basis {
    pub(super) cols: Vec<At>,
    pub(super) rows: Vec<At>,
}

/// Why there is no point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum NoPoint {
    /// The dual method found a row that nothing can mend.
    Infeasible,
    /// The primal method found a column that nothing stops.
    Unbounded,
    /// Too many steps, or rounding took over.
    Lost,
}

/// An optimal vertex.
#[derive(Debug, Clone)]
pub(super) struct Vertex {
    pub(super) x: Vec<f64>,
    pub(super) y: Vec<f64>,
    pub(super) basis: Basis,
}

/// How far outside its sides a value may lie; how wrong the sign of a price may be. Numbers are near 1 here.
const PRIMAL: f64 = 1e-9;
const DUAL: f64 = 1e-9;
/// What is left of a value that cancelled.
const DUST: f64 = 1e-14;
/// The same for prices at the end.
const FINE: f64 = 1e-12;
/// A pivot below this is not taken.
const LEAST_PIVOT: f64 = 1e-7;

/// The method at work.
struct Simplex<'a> {
    body: &'a Body,
    /// Number of columns; row `i` is variable `width + i`.
    width: usize,
    height: usize,
    columns: Lists,
    /// The column of each row value: −1 in its row.
    logicals: Vec<[(usize, f64); 1]>,
    cost: Vec<f64>,
    lower: Vec<f64>,
    upper: Vec<f64>,
    at: Vec<At>,
    /// Variable at each place of the basis.
    basic: Vec<usize>,
    x: Vec<f64>,
    /// Reduced costs; 0 in the basis.
    reduced: Vec<f64>,
    factor: Factor,
    steps: usize,
    most_steps: usize,
    dice: u64,
}

/// The optimal vertex of a programme, started from a basis of a programme like it if there is one.
pub(super) fn optimum(body: &Body, start: Option<&Basis>) -> Result<Vertex, NoPoint> {
    if body.is_crossed() {
        return Err(NoPoint::Infeasible);
    }
    let mut simplex = Simplex::new(body);
    simplex.stand(start);
    simplex.refactor()?;
    if let Some(start) = start {
        simplex.mend(start)?;
    }
    simplex.run(start.is_none())?;
    simplex.vertex()
}

impl<'a> Simplex<'a> {
    fn new(body: &'a Body) -> Self {
        let (width, height) = (body.width(), body.height());
        let join = |first: &[f64], second: &[f64]| first.iter().chain(second).copied().collect::<Vec<f64>>();
        let mut cost = body.cost.clone();
        cost.resize(width + height, 0.0);
        Self {
            body,
            width,
            height,
            columns: Lists::transposed(&body.rows, width),
            logicals: (0..height).map(|i| [(i, -1.0)]).collect(),
            cost,
            lower: join(&body.lower, &body.row_lower),
            upper: join(&body.upper, &body.row_upper),
            at: vec![At::Lower; width + height],
            basic: Vec::with_capacity(height),
            x: vec![0.0; width + height],
            reduced: vec![0.0; width + height],
            factor: Factor::default(),
            steps: 0,
            most_steps: 2000 + 20 * (width + height),
            dice: 0x9E37_79B9_7F4A_7C15,
        }
    }

    /// Takes up the start: what it does not know stands on a side if it is a column, in the basis if it is a row.
    fn stand(&mut self, start: Option<&Basis>) {
        for k in 0..self.width + self.height {
            let known = match start {
                Some(start) if k < self.width => start.cols.get(k),
                Some(start) => start.rows.get(k - self.width),
                None => None,
            };
            let wanted = known.copied().unwrap_or(if k < self.width { At::Lower } else { At::Basic });
            self.at[k] = self.side_for(k, wanted);
        }
        // As many as there are rows: too many leave by standing on a side, too few are made up with row values.
        let mut many: Vec<usize> = (0..self.at.len()).filter(|&k| self.at[k] == At::Basic).collect();
        while many.len() > self.height {
            let Some(k) = many.pop() else { break };
            self.at[k] = self.side_for(k, At::Lower);
        }
        for k in self.width..self.at.len() {
            if many.len() == self.height {
                break;
            }
            if self.at[k] != At::Basic {
                self.at[k] = At::Basic;
                many.push(k);
            }
        }
        self.basic = many;
    }

    /// A standing that the sides of `k` allow, the nearest to the one wanted.
    fn side_for(&self, k: usize, wanted: At) -> At {
        match (wanted, self.lower[k].is_finite(), self.upper[k].is_finite()) {
            (At::Basic, ..) => At::Basic,
            (_, false, false) => At::Free,
            (At::Upper, _, true) | (_, false, true) => At::Upper,
            _ => At::Lower,
        }
    }

    /// A row that the start did not know and that does not hold gets a column of its own into the basis, if the start did
    /// not know that column either and it can make good what is missing.
    fn mend(&mut self, start: &Basis) -> Result<(), NoPoint> {
        let mut own: Vec<Option<(usize, f64)>> = vec![None; self.height];
        for place in 0..self.height {
            let k = self.basic[place];
            if k < self.width + start.rows.len() || self.outside(k) <= PRIMAL {
                continue;
            }
            // A x − r = 0: the row value must fall by so much, or a column of its own take its part.
            let row = k - self.width;
            let over = if self.x[k] > self.upper[k] { self.x[k] - self.upper[k] } else { self.x[k] - self.lower[k] };
            own[row] = self.body.rows[row].iter().copied().find(|&(j, a)| {
                let is_new = j >= start.cols.len() && self.at[j] != At::Basic && self.columns.get(j).len() == 1;
                let to = self.x[j] - over / a;
                is_new && to >= self.lower[j] && to <= self.upper[j]
            });
            if let Some((j, _)) = own[row] {
                self.at[k] = if over > 0.0 { self.side_for(k, At::Upper) } else { self.side_for(k, At::Lower) };
                self.at[j] = At::Basic;
                self.basic[place] = j;
            }
        }
        if own.iter().any(Option::is_some) { self.refactor() } else { Ok(()) }
    }

    fn column(&self, k: usize) -> &[(usize, f64)] {
        if k < self.width { self.columns.get(k) } else { &self.logicals[k - self.width] }
    }

    /// Factors the basis anew; columns that add nothing to it give way to row values.
    fn refactor(&mut self) -> Result<(), NoPoint> {
        for _ in 0..3 {
            let columns: Vec<_> = self.basic.iter().map(|&k| self.column(k)).collect();
            let found = Factor::new(&columns);
            match found {
                Ok(factor) => {
                    self.factor = factor;
                    self.values();
                    self.prices();
                    return Ok(());
                }
                Err(missing) => {
                    for (place, row) in missing {
                        let out = self.basic[place];
                        self.at[out] = self.side_for(out, At::Lower);
                        self.basic[place] = self.width + row;
                        self.at[self.width + row] = At::Basic;
                    }
                }
            }
        }
        Err(NoPoint::Lost)
    }

    /// Values of all variables from where they stand.
    fn values(&mut self) {
        for k in 0..self.at.len() {
            self.x[k] = match self.at[k] {
                At::Lower => self.lower[k],
                At::Upper => self.upper[k],
                At::Free | At::Basic => 0.0,
            };
        }
        // Twice: the second pass takes out the rounding of the first.
        for _ in 0..2 {
            let mut right: Vec<f64> = (0..self.height)
                .map(|i| {
                    let sum: f64 = self.body.rows[i].iter().map(|&(j, a)| a * self.x[j]).sum();
                    self.x[self.width + i] - sum
                })
                .collect();
            let mut change = vec![0.0; self.height];
            self.factor.solve(&mut right, &mut change);
            for (&k, by) in self.basic.iter().zip(change) {
                self.x[k] += by;
            }
        }
    }

    /// Row prices at the costs as they stand.
    fn row_prices(&self) -> Vec<f64> {
        let mut y = vec![0.0; self.height];
        for _ in 0..2 {
            let mut right: Vec<f64> = self
                .basic
                .iter()
                .map(|&k| self.cost[k] - self.column(k).iter().map(|&(i, a)| a * y[i]).sum::<f64>())
                .collect();
            let mut change = vec![0.0; self.height];
            self.factor.solve_transposed(&mut right, &mut change);
            for (price, by) in y.iter_mut().zip(change) {
                *price += by;
            }
        }
        y
    }

    /// Reduced costs of all variables.
    fn prices(&mut self) {
        let y = self.row_prices();
        self.reduced.copy_from_slice(&self.cost);
        for (i, &price) in y.iter().enumerate() {
            self.reduced[self.width + i] += price;
            if price != 0.0 {
                for &(j, a) in &self.body.rows[i] {
                    self.reduced[j] -= a * price;
                }
            }
        }
        for &k in &self.basic {
            self.reduced[k] = 0.0;
        }
    }

    /// How much the reduced cost of a variable has the wrong sign for where it stands.
    fn wrong(&self, k: usize) -> f64 {
        match self.at[k] {
            At::Basic => 0.0,
            _ if self.lower[k] >= self.upper[k] => 0.0,
            At::Lower => -self.reduced[k],
            At::Upper => self.reduced[k],
            At::Free => self.reduced[k].abs(),
        }
    }

    /// How far a value lies outside its sides.
    fn outside(&self, k: usize) -> f64 {
        (self.lower[k] - self.x[k]).max(self.x[k] - self.upper[k])
    }

    fn holds_rows(&self) -> bool {
        self.basic.iter().all(|&k| self.outside(k) <= PRIMAL)
    }

    fn run(&mut self, cold: bool) -> Result<(), NoPoint> {
        for round in 0..8 {
            if !self.holds_rows() {
                self.dual(cold && round == 0)?;
                self.cost[..self.width].copy_from_slice(&self.body.cost);
                self.cost[self.width..].fill(0.0);
                self.refactor()?;
            }
            if self.holds_rows() {
                // The certificate measures a price by its own column, which may be far below 1.
                let moved = self.primal(DUAL)?;
                let fine = self.primal(FINE);
                if fine == Ok(false) && !moved {
                    return Ok(());
                }
                self.refactor()?;
                // Where rounding is coarser than fine, the certificate says whether it matters.
                let within = if fine.is_err() || round > 2 { DUAL } else { FINE };
                if self.holds_rows() && (0..self.at.len()).all(|k| self.wrong(k) <= within) {
                    return Ok(());
                }
            }
        }
        Err(NoPoint::Lost)
    }

    /// The row of the tableau at a place: `eₚ B⁻¹` by row, and its product with every column, with the columns it meets.
    fn tableau_row(&self, place: usize, space: &mut Space) {
        space.clear();
        space.unit[place] = 1.0;
        self.factor.solve_transposed(&mut space.unit, &mut space.rho);
        for i in 0..self.height {
            let by = space.rho[i];
            if by.abs() <= 1e-14 {
                space.rho[i] = 0.0;
                continue;
            }
            space.rho_at.push(i);
            let logical = self.width + i;
            if self.at[logical] != At::Basic {
                space.row[logical] = -by;
                space.row_at.push(logical);
            }
            for &(j, a) in &self.body.rows[i] {
                if self.at[j] != At::Basic {
                    if space.row[j] == 0.0 {
                        space.row_at.push(j);
                        // Marks the column as met even where terms cancel.
                        space.row[j] = f64::MIN_POSITIVE;
                    }
                    space.row[j] += by * a;
                }
            }
        }
    }

    /// A column solved with the basis.
    fn tableau_column(&self, k: usize, space: &mut Space) {
        space.column.fill(0.0);
        for &(i, a) in self.column(k) {
            space.right[i] = a;
        }
        self.factor.solve(&mut space.right, &mut space.column);
    }

    /// A number between 0 and 1, the same in every run.
    fn roll(&mut self) -> f64 {
        self.dice = self.dice.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.dice >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Puts a variable into the basis in place of the one there, which then stands on a side.
    fn exchange(&mut self, place: usize, incoming: usize, side: At, column: &[f64]) {
        let out = self.basic[place];
        self.at[out] = side;
        self.at[incoming] = At::Basic;
        self.basic[place] = incoming;
        self.factor.exchange(place, column);
        self.steps += 1;
    }

    fn vertex(&self) -> Result<Vertex, NoPoint> {
        let mut x = self.x[..self.width].to_vec();
        for (j, value) in x.iter_mut().enumerate() {
            for side in [self.lower[j], self.upper[j]].into_iter().filter(|side| side.is_finite()) {
                if (*value - side).abs() <= DUST * side.abs().max(1.0) {
                    *value = side;
                }
            }
        }
        let mut y = self.row_prices();
        let most = y.iter().fold(1.0_f64, |most, price| most.max(price.abs()));
        for price in y.iter_mut().filter(|price| price.abs() <= DUST * most) {
            *price = 0.0;
        }
        if x.iter().chain(&y).any(|value| !value.is_finite()) {
            return Err(NoPoint::Lost);
        }
        let basis = Basis { cols: self.at[..self.width].to_vec(), rows: self.at[self.width..].to_vec() };
        Ok(Vertex { x, y, basis })
    }
}

/// Vectors used again from step to step.
struct Space {
    unit: Vec<f64>,
    rho: Vec<f64>,
    rho_at: Vec<usize>,
    row: Vec<f64>,
    row_at: Vec<usize>,
    right: Vec<f64>,
    column: Vec<f64>,
}

impl Space {
    fn new(width: usize, height: usize) -> Self {
        Self {
            unit: vec![0.0; height],
            rho: vec![0.0; height],
            rho_at: Vec::new(),
            row: vec![0.0; width + height],
            row_at: Vec::new(),
            right: vec![0.0; height],
            column: vec![0.0; height],
        }
    }

    fn clear(&mut self) {
        for k in self.row_at.drain(..) {
            self.row[k] = 0.0;
        }
        self.rho_at.clear();
        self.rho.fill(0.0);
    }
}
