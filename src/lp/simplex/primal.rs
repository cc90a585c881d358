//! The primal method: rows always hold, prices come to their right signs one by one.

use super::{At, LEAST_PIVOT, NoPoint, PRIMAL, Simplex, Space};

/// What stops an incoming column.
struct Stop {
    place: usize,
    size: f64,
    step: f64,
}

impl Simplex<'_> {
    /// Goes on until all prices have the right sign to within `within`; tells whether any step was made.
    pub(super) fn primal(&mut self, within: f64) -> Result<bool, NoPoint> {
        let mut space = Space::new(self.width, self.height);
        let mut weight = vec![1.0; self.at.len()];
        let begun = self.steps;
        loop {
            if self.steps > self.most_steps {
                return Err(NoPoint::Lost);
            }
            if self.factor.is_worn() {
                self.refactor()?;
            }
            let Some(incoming) = self.dearest(&weight, within) else { return Ok(self.steps > begun) };
            let rise = if self.reduced[incoming] < 0.0 { 1.0 } else { -1.0 };
            self.tableau_column(incoming, &mut space);
            let span = self.upper[incoming] - self.lower[incoming];
            let Some(stop) = self.stop(&space.column, rise) else {
                if !span.is_finite() {
                    return if self.factor.is_fresh() {
                        Err(NoPoint::Unbounded)
                    } else {
                        self.refactor().map(|()| true)
                    };
                }
                self.jump(incoming, rise, span, &space.column);
                continue;
            };
            if span <= stop.step {
                self.jump(incoming, rise, span, &space.column);
                continue;
            }
            if space.column[stop.place].abs() < 1e-6 && !self.factor.is_fresh() {
                self.refactor()?;
                continue;
            }
            let out = self.basic[stop.place];
            self.tableau_row(stop.place, &mut space);
            let by = rise * stop.step;
            for (i, &a) in space.column.iter().enumerate() {
                if a != 0.0 {
                    self.x[self.basic[i]] -= by * a;
                }
            }
            self.x[incoming] += by;
            let falls = rise * space.column[stop.place] > 0.0;
            let side = if falls { At::Lower } else { At::Upper };
            self.x[out] = if falls { self.lower[out] } else { self.upper[out] };
            let pivot = space.column[stop.place];
            let step = self.reduced[incoming] / pivot;
            let heavy = weight[incoming];
            for &k in &space.row_at {
                self.reduced[k] -= step * space.row[k];
                let ratio = space.row[k] / pivot;
                weight[k] = f64::max(weight[k], ratio * ratio * heavy);
            }
            weight[out] = (heavy / (pivot * pivot)).max(1.0);
            self.reduced[incoming] = 0.0;
            self.reduced[out] = -step;
            self.exchange(stop.place, incoming, side, &space.column);
        }
    }

    /// The column whose price is most wrong for its weight.
    fn dearest(&self, weight: &[f64], within: f64) -> Option<usize> {
        let mut found = (None, 0.0);
        for (k, weight) in weight.iter().enumerate() {
            let wrong = self.wrong(k);
            if wrong > within {
                let merit = wrong * wrong / weight;
                if merit > found.1 {
                    found = (Some(k), merit);
                }
            }
        }
        found.0
    }

    /// The first value that reaches a side: among those within tolerance of the first, the one with the largest entry.
    fn stop(&self, column: &[f64], rise: f64) -> Option<Stop> {
        let room = |place: usize, a: f64| {
            let k = self.basic[place];
            if rise * a > 0.0 { self.x[k] - self.lower[k] } else { self.upper[k] - self.x[k] }
        };
        let large = || column.iter().enumerate().filter(|(_, a)| a.abs() > LEAST_PIVOT);
        let reach =
            large().map(|(place, &a)| (room(place, a).max(0.0) + PRIMAL) / a.abs()).fold(f64::INFINITY, f64::min);
        if reach == f64::INFINITY {
            return None;
        }
        let mut found: Option<Stop> = None;
        for (place, &a) in large() {
            let step = room(place, a) / a.abs();
            if step <= reach && found.as_ref().is_none_or(|stop| a.abs() > stop.size) {
                found = Some(Stop { place, size: a.abs(), step: step.max(0.0) });
            }
        }
        found
    }

    /// Moves a column from one side to the other.
    fn jump(&mut self, k: usize, rise: f64, span: f64, column: &[f64]) {
        for (i, &a) in column.iter().enumerate() {
            if a != 0.0 {
                self.x[self.basic[i]] -= rise * span * a;
            }
        }
        (self.at[k], self.x[k]) = if rise > 0.0 { (At::Upper, self.upper[k]) } else { (At::Lower, self.lower[k]) };
        self.steps += 1;
    }
}
