//! Brings the numbers of a programme near 1 by powers of two, so that no digit is lost on the way.

use super::body::Body;

/// How a programme was scaled: `x = col · x'`, `y = row · y' / cost`.
#[derive(Debug)]
pub(super) struct Scale {
    col: Vec<f64>,
    row: Vec<f64>,
    cost: f64,
}

impl Scale {
    /// Scales `body`: rows and columns by geometric means in `passes` sweeps, then amounts and costs as a whole.
    ///
    /// With no pass at all the coefficients stay as written; a second opinion at another scale is
    /// the first remedy where the solver drifts.
    pub(super) fn apply(body: &mut Body, passes: usize) -> Self {
        let mut scale = Self { col: vec![1.0; body.width()], row: vec![1.0; body.height()], cost: 1.0 };
        for _ in 0..passes {
            scale.sweep(body);
        }
        for (terms, &by_row) in body.rows.iter_mut().zip(&scale.row) {
            for (j, value) in terms {
                *value *= by_row * scale.col[*j];
            }
        }
        // One factor for all amounts brings sides and bounds near 1; it cancels in the coefficients.
        let sides = body.row_lower.iter().zip(&body.row_upper).zip(&scale.row);
        let row_sides = sides.flat_map(|((low, high), by)| [low * by, high * by]);
        let bounds = body.lower.iter().zip(&body.upper).zip(&scale.col);
        let col_sides = bounds.flat_map(|((low, high), by)| [low / by, high / by]);
        let amount = if passes == 0 { 1.0 } else { power_of_two(middle(row_sides.chain(col_sides))) };
        for ((low, high), by) in body.row_lower.iter_mut().zip(&mut body.row_upper).zip(&scale.row) {
            *low *= by / amount;
            *high *= by / amount;
        }
        for factor in &mut scale.col {
            *factor *= amount;
        }
        for ((low, high), by) in body.lower.iter_mut().zip(&mut body.upper).zip(&scale.col) {
            *low /= by;
            *high /= by;
        }
        let costs = body.cost.iter().zip(&scale.col).map(|(cost, by)| cost * by / amount);
        scale.cost = 1.0 / power_of_two(middle(costs));
        for (cost, by) in body.cost.iter_mut().zip(&scale.col) {
            *cost *= scale.cost * (by / amount);
        }
        // Amounts grew by `amount` and costs did not follow: a row price is cost per amount, so nothing else changes.
        scale
    }

    /// One sweep of row and column factors towards geometric mean 1.
    fn sweep(&mut self, body: &Body) {
        for (terms, by_row) in body.rows.iter().zip(&mut self.row) {
            let (least, most) = span(terms.iter().map(|&(j, value)| value * self.col[j]));
            if most > 0.0 {
                *by_row = power_of_two(1.0 / (least.sqrt() * most.sqrt()));
            }
        }
        let mut least = vec![f64::INFINITY; body.width()];
        let mut most = vec![0.0_f64; body.width()];
        for (terms, by_row) in body.rows.iter().zip(&self.row) {
            for &(j, value) in terms {
                let size = (value * by_row).abs();
                least[j] = least[j].min(size);
                most[j] = most[j].max(size);
            }
        }
        for ((by_col, low), high) in self.col.iter_mut().zip(least).zip(most) {
            if high > 0.0 {
                *by_col = power_of_two(1.0 / (low.sqrt() * high.sqrt()));
            }
        }
    }

    /// Amounts in the units of the programme as written.
    pub(super) fn unscale_x(&self, x: &[f64]) -> Vec<f64> {
        x.iter().zip(&self.col).map(|(value, by)| value * by).collect()
    }

    /// Amounts in the units of the solver.
    pub(super) fn scale_x(&self, x: &[f64]) -> Vec<f64> {
        x.iter().zip(&self.col).map(|(value, by)| value / by).collect()
    }

    /// Row prices in the units of the programme as written.
    pub(super) fn unscale_y(&self, y: &[f64]) -> Vec<f64> {
        y.iter().zip(&self.row).map(|(value, by)| value * by / self.cost).collect()
    }
}

/// Least and greatest magnitude.
fn span(values: impl Iterator<Item = f64>) -> (f64, f64) {
    values.fold((f64::INFINITY, 0.0), |(least, most), value| (least.min(value.abs()), most.max(value.abs())))
}

/// Geometric mean of the finite non-zero magnitudes, 1 if there is none.
fn middle(values: impl Iterator<Item = f64>) -> f64 {
    let (sum, count) = values
        .filter(|value| value.is_finite() && *value != 0.0)
        .fold((0.0, 0_u32), |(sum, count), value| (sum + value.abs().log2(), count + 1));
    if count == 0 { 1.0 } else { (sum / f64::from(count)).exp2() }
}

/// The nearest power of two within a range that cannot overflow.
fn power_of_two(value: f64) -> f64 {
    // From the bits, a tenth of the time of logarithms: the exponent, one more where the rest is above √2.
    const MANTISSA: u64 = (1 << 52) - 1;
    let bits = value.to_bits();
    let rest = f64::from_bits(bits & MANTISSA | 1.0_f64.to_bits());
    let exponent = (bits >> 52 & 0x7ff) + u64::from(rest > std::f64::consts::SQRT_2);
    f64::from_bits(exponent.clamp(1023 - 200, 1023 + 200) << 52)
}
