//! Modules waiting on the yard, as bales and tons to come.

use super::harvest::Usual;

/// Round modules a module truck carries, one load: common practice, staged in sets of four (Cotton Incorporated).
pub const ROUND_MODULES_PER_LOAD: f64 = 4.0;
/// Weeks from harvest to gin in a full season, least and most: common practice.
pub const USUAL_WAITING_WEEKS: (f64, f64) = (4.0, 8.0);

/// What stands on the yard.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Yard {
    /// Round modules.
    pub round_modules: f64,
    /// Module loads, four round modules each.
    pub module_loads: f64,
    /// Bales in a round module.
    pub bales_per_round: Usual,
    /// Weeks a module waits, if given.
    pub waiting_weeks: Option<f64>,
    /// Bales ginned in a week, if given.
    pub bales_per_week: Option<f64>,
}

impl Yard {
    /// Round modules in all.
    #[must_use]
    pub fn modules(&self) -> f64 {
        self.round_modules + ROUND_MODULES_PER_LOAD * self.module_loads
    }
    /// Bales to come: low, usual, high.
    #[must_use]
    pub fn bales(&self) -> (f64, f64, f64) {
        let of = |each: f64| self.modules() * each;
        (of(self.bales_per_round.low), of(self.bales_per_round.usual), of(self.bales_per_round.high))
    }
    /// Weeks to gin them, where a rate is given.
    #[must_use]
    pub fn weeks_to_gin(&self) -> Option<f64> {
        self.bales_per_week.filter(|rate| *rate > 0.0).map(|rate| self.bales().1 / rate)
    }
}
