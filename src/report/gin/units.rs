//! Units of a gin's page: US or metric.

use crate::limit::figure_text;
use crate::quantity::{KG_PER_LB, KG_PER_TON, KM_PER_MILE};

/// Which units a page is in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Units {
    /// Metric tons, kilometers, kilograms.
    pub metric: bool,
}

impl Units {
    fn pick(self, us: f64, metric: f64) -> f64 {
        if self.metric { metric } else { us }
    }
    /// Tons, with as many digits as given.
    #[must_use]
    pub fn tons(self, tons: f64, digits: usize) -> String {
        figure_text(self.tons_value(tons), digits)
    }
    /// Tons as a number.
    #[must_use]
    pub fn tons_value(self, tons: f64) -> f64 {
        self.pick(tons, tons * KG_PER_TON / 1000.0)
    }
    /// Tons, blank where none.
    #[must_use]
    pub fn tons_or_blank(self, tons: f64) -> String {
        let text = self.tons(tons, 0);
        if text == "0" || text == "−0" { String::new() } else { text }
    }
    /// Dollars per ton, with cents.
    #[must_use]
    pub fn per_ton(self, usd: f64) -> String {
        let value = self.pick(usd, usd * 1000.0 / KG_PER_TON);
        if value <= -0.005 { format!("−${:.2}", -value) } else { format!("${:.2}", value.abs()) }
    }
    /// Dollars per ton that one price is above another, signed: whole ones of a short ton, with cents of a metric one.
    #[must_use]
    pub fn per_ton_apart(self, usd: f64) -> String {
        let sign = if usd < 0.0 { "−" } else { "+" };
        let apart = if self.metric { self.per_ton(usd.abs()) } else { format!("${}", figure_text(usd.abs(), 0)) };
        format!("{sign}{apart}")
    }
    /// Dollars per ton and mile or kilometer.
    #[must_use]
    pub fn per_ton_mile(self, usd: f64) -> String {
        format!("{:.3}", self.pick(usd, usd * 1000.0 / KG_PER_TON / KM_PER_MILE))
    }
    /// Miles or kilometers.
    #[must_use]
    pub fn miles(self, miles: f64) -> String {
        if miles.is_finite() { figure_text(self.pick(miles, miles * KM_PER_MILE), 0) } else { "any".to_owned() }
    }
    /// Pounds or kilograms of a bale.
    #[must_use]
    pub fn lb(self, lb: f64) -> String {
        figure_text(self.pick(lb, lb * KG_PER_LB), 0)
    }
    /// Name of a ton.
    #[must_use]
    pub fn ton(self) -> &'static str {
        if self.metric { "metric ton" } else { "ton" }
    }
    /// Name of a ton where it must not be mistaken.
    #[must_use]
    pub fn full_ton(self) -> &'static str {
        if self.metric { "metric ton" } else { "short ton" }
    }
    /// Name of miles.
    #[must_use]
    pub fn mile(self) -> &'static str {
        if self.metric { "km" } else { "miles" }
    }
    /// Name of pounds.
    #[must_use]
    pub fn pound(self) -> &'static str {
        if self.metric { "kg" } else { "lb" }
    }
}
