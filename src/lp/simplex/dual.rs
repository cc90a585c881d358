//! The dual method: prices always have the right signs, rows come to hold one by one.

use super::{At, DUAL, LEAST_PIVOT, NoPoint, PRIMAL, Simplex, Space};

/// Share of a cost by which it is moved at a cold start, so that ties between prices do not stall the method.
const NUDGE: f64 = 1e-6;
/// Steps after which a warm start is nudged too: it was not as near as hoped.
const PATIENCE: usize = 300;

/// A column that may come in: its place in the order of prices.
struct Entry {
    k: usize,
    /// Tableau entry, signed so that positive ones rise from their lower side.
    pull: f64,
}

impl Simplex<'_> {
    /// Goes on until all rows hold. Costs may be shifted afterwards.
    pub(super) fn dual(&mut self, nudged: bool) -> Result<(), NoPoint> {
        if nudged {
            self.nudge();
        }
        self.right_signs();
        let mut space = Space::new(self.width, self.height);
        let mut weight = vec![1.0; self.height];
        let mut tau = vec![0.0; self.height];
        let mut flipped: Vec<usize> = Vec::new();
        let mut entries: Vec<Entry> = Vec::new();
        let begun = self.steps;
        let mut is_nudged = nudged;
        let mut doubted = 0;
        loop {
            if self.steps > self.most_steps {
                return Err(NoPoint::Lost);
            }
            if !is_nudged && self.steps > begun + PATIENCE {
                is_nudged = true;
                self.nudge();
                self.right_signs();
            }
            if self.factor.is_worn() {
                self.refactor()?;
                self.right_signs();
            }
            let Some(place) = self.worst_row(&weight) else {
                if self.factor.is_fresh() {
                    return Ok(());
                }
                self.refactor()?;
                self.right_signs();
                if self.holds_rows() {
                    return Ok(());
                }
                continue;
            };
            let out = self.basic[place];
            let below = self.x[out] < self.lower[out];
            let (short, target) = if below {
                (self.lower[out] - self.x[out], self.lower[out])
            } else {
                (self.x[out] - self.upper[out], self.upper[out])
            };
            self.tableau_row(place, &mut space);
            let sign = if below { -1.0 } else { 1.0 };
            let found = self.entering(&space, sign, short, &mut entries, &mut flipped);
            let Some(incoming) = found else {
                if self.factor.is_fresh() {
                    return Err(NoPoint::Infeasible);
                }
                self.refactor()?;
                self.right_signs();
                continue;
            };
            self.tableau_column(incoming, &mut space);
            let (across, down) = (space.row[incoming], space.column[place]);
            if (across - down).abs() > 1e-7 * (1.0 + down.abs()) || down.abs() < 1e-9 {
                doubted += 1;
                if self.factor.is_fresh() && doubted > 20 {
                    return Err(NoPoint::Lost);
                }
                if !self.factor.is_fresh() {
                    self.refactor()?;
                    self.right_signs();
                    continue;
                }
                if down.abs() < 1e-9 {
                    return Err(NoPoint::Lost);
                }
            }
            self.flip(&flipped, &mut space);
            self.move_prices(incoming, out, &space);
            // Amounts.
            let by = (self.x[out] - target) / down;
            for (i, &a) in space.column.iter().enumerate() {
                if a != 0.0 {
                    self.x[self.basic[i]] -= by * a;
                }
            }
            self.x[incoming] += by;
            self.x[out] = target;
            // Steepest-edge weights.
            let norm: f64 = space.rho_at.iter().map(|&i| space.rho[i] * space.rho[i]).sum();
            tau.fill(0.0);
            for &i in &space.rho_at {
                space.right[i] = space.rho[i];
            }
            self.factor.solve(&mut space.right, &mut tau);
            for i in 0..self.height {
                let a = space.column[i];
                if a != 0.0 && i != place {
                    let ratio = a / down;
                    let new = weight[i] - 2.0 * ratio * tau[i] + ratio * ratio * norm;
                    weight[i] = new.max(1e-4).max(ratio * ratio);
                }
            }
            weight[place] = (norm / (down * down)).max(1e-4);
            let side = if below { At::Lower } else { At::Upper };
            self.exchange(place, incoming, side, &space.column);
        }
    }

    /// Moves costs a little, away from a change of sign.
    fn nudge(&mut self) {
        let most = self.cost.iter().fold(0.0_f64, |most, cost| most.max(cost.abs())).min(1e3);
        for k in 0..self.width {
            let by = NUDGE * (self.cost[k].abs() + 0.1 * most.min(1.0)) * (0.5 + 0.5 * self.roll());
            match self.at[k] {
                _ if self.lower[k] >= self.upper[k] => {}
                At::Lower => self.cost[k] += by,
                At::Upper => self.cost[k] -= by,
                At::Free => {}
                At::Basic => {
                    self.cost[k] += if self.upper[k].is_finite() && !self.lower[k].is_finite() { -by } else { by };
                }
            }
        }
        self.prices();
    }

    /// Gives every price the right sign: by standing on the other side, else by shifting the cost.
    fn right_signs(&mut self) {
        let mut moved = false;
        for k in 0..self.at.len() {
            if self.wrong(k) <= DUAL {
                continue;
            }
            let other = match self.at[k] {
                At::Lower if self.upper[k].is_finite() => Some((At::Upper, self.upper[k])),
                At::Upper if self.lower[k].is_finite() => Some((At::Lower, self.lower[k])),
                _ => None,
            };
            if let Some((side, value)) = other {
                (self.at[k], self.x[k]) = (side, value);
                moved = true;
            } else {
                self.cost[k] -= self.reduced[k];
                self.reduced[k] = 0.0;
            }
        }
        if moved {
            self.values();
        }
    }

    fn worst_row(&self, weight: &[f64]) -> Option<usize> {
        let mut found = (None, 0.0);
        for (place, &k) in self.basic.iter().enumerate() {
            let outside = self.outside(k);
            if outside > PRIMAL {
                let merit = outside * outside / weight[place];
                if merit > found.1 {
                    found = (Some(place), merit);
                }
            }
        }
        found.0
    }

    /// The column that comes in, and those that jump to their other side on the way.
    fn entering(
        &self,
        space: &Space,
        sign: f64,
        short: f64,
        entries: &mut Vec<Entry>,
        flipped: &mut Vec<usize>,
    ) -> Option<usize> {
        entries.clear();
        flipped.clear();
        for &k in &space.row_at {
            if self.lower[k] >= self.upper[k] {
                continue;
            }
            let pull = sign * space.row[k];
            let may = match self.at[k] {
                At::Lower => pull > LEAST_PIVOT,
                At::Upper => pull < -LEAST_PIVOT,
                At::Free => pull.abs() > LEAST_PIVOT,
                At::Basic => false,
            };
            if may {
                entries.push(Entry { k, pull });
            }
        }
        let mut slope = short;
        while !entries.is_empty() {
            let reach = |entry: &Entry, slack: f64| (self.reduced[entry.k].abs() + slack) / entry.pull.abs();
            let most = entries.iter().map(|entry| reach(entry, DUAL)).fold(f64::INFINITY, f64::min);
            let near = |entry: &Entry| reach(entry, 0.0) <= most;
            let span = |entry: &Entry| (self.upper[entry.k] - self.lower[entry.k]) * entry.pull.abs();
            let jumps: f64 = entries.iter().filter(|entry| near(entry)).map(span).sum();
            if jumps.is_finite() && slope - jumps > 0.0 && entries.iter().any(|entry| !near(entry)) {
                slope -= jumps;
                flipped.extend(entries.iter().filter(|entry| near(entry)).map(|entry| entry.k));
                entries.retain(|entry| !near(entry));
                continue;
            }
            let group = entries.iter().filter(|entry| near(entry));
            return group.max_by(|a, b| a.pull.abs().total_cmp(&b.pull.abs())).map(|entry| entry.k);
        }
        None
    }

    /// Lets columns jump to their other side.
    fn flip(&mut self, flipped: &[usize], space: &mut Space) {
        if flipped.is_empty() {
            return;
        }
        for &k in flipped {
            let (side, value) = match self.at[k] {
                At::Lower => (At::Upper, self.upper[k]),
                _ => (At::Lower, self.lower[k]),
            };
            let by = value - self.x[k];
            (self.at[k], self.x[k]) = (side, value);
            if k < self.width {
                for &(i, a) in self.columns.get(k) {
                    space.right[i] -= by * a;
                }
            } else {
                space.right[k - self.width] += by;
            }
        }
        let mut change = vec![0.0; self.height];
        self.factor.solve(&mut space.right, &mut change);
        for (&k, by) in self.basic.iter().zip(change) {
            self.x[k] += by;
        }
    }

    /// Moves the prices until that of the incoming column is nothing.
    fn move_prices(&mut self, incoming: usize, out: usize, space: &Space) {
        if self.wrong(incoming) > 0.0 {
            // Within tolerance of the wrong sign: the step would go backward.
            self.cost[incoming] -= self.reduced[incoming];
            self.reduced[incoming] = 0.0;
        }
        let step = self.reduced[incoming] / space.row[incoming];
        for &k in &space.row_at {
            self.reduced[k] -= step * space.row[k];
        }
        self.reduced[incoming] = 0.0;
        self.reduced[out] = -step;
        for &k in &space.row_at {
            if self.wrong(k) > 0.0 && k != incoming {
                self.cost[k] -= self.reduced[k];
                self.reduced[k] = 0.0;
            }
        }
    }
}
