//! The normal distribution: its share below a point, and the point below which a share lies.
//!
//! Series 26.2.11 of Abramowitz and Stegun (1964, Handbook of Mathematical Functions; from memory, tested against
//! printed quantiles); the inverse by halving, which needs no formula of its own.

/// Beyond so many standard deviations nothing is left to tell.
const FAR: f64 = 8.0;

/// Share of a standard normal variable that lies below `z`, 0 to 1.
#[must_use]
pub fn below(z: f64) -> f64 {
    if z.is_nan() {
        return f64::NAN;
    }
    if z.abs() >= FAR {
        return if z > 0.0 { 1.0 } else { 0.0 };
    }
    let (mut term, mut sum, mut odd) = (z, z, 1.0);
    // Each term is z²/(2n + 1) times the one before, so at 8 deviations some 200 do.
    while term.abs() > 1e-18 * sum.abs() {
        odd += 2.0;
        term *= z * z / odd;
        sum += term;
    }
    let density = (-0.5 * z * z).exp() / (2.0 * std::f64::consts::PI).sqrt();
    (0.5 + density * sum).clamp(0.0, 1.0)
}

/// The point below which a share lies, in standard deviations; the share is held between 1e-12 and 1 − 1e-12.
#[must_use]
pub fn point(share: f64) -> f64 {
    let share = share.clamp(1e-12, 1.0 - 1e-12);
    let (mut low, mut high) = (-FAR, FAR);
    for _ in 0..100 {
        let middle = 0.5 * (low + high);
        if below(middle) < share { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Quantiles as any printed table has them (common knowledge to the digits given).
    #[test]
    fn printed_quantiles() {
        for (share, z) in [(0.5, 0.0), (0.7, 0.524_400_5), (0.9, 1.281_551_6), (0.95, 1.644_853_6), (0.99, 2.326_347_9)]
        {
            assert!((point(share) - z).abs() < 1e-6, "{share}: {}", point(share));
            assert!((below(z) - share).abs() < 1e-7);
            assert!((below(-z) - (1.0 - share)).abs() < 1e-7);
        }
    }
}
