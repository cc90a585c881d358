//! Where an animal stands in the year on one day: days in calf, days in milk.

use super::Group;
use jiff::civil::Date;

/// Length of gestation, days. Printed monthly tables count 280.
pub const GESTATION_DAYS: f64 = 280.0;
/// Days from one calving to the next.
pub const CALVING_INTERVAL_DAYS: f64 = 365.0;

/// The stage of one female on one day.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Stage {
    /// Days since conception, 0 if not in calf.
    pub gestation_days: f64,
    /// Days since calving while she milks, `None` if dry.
    pub milking_days: Option<f64>,
    /// Days since the last calving, if known (milking or not).
    pub since_calving_days: Option<f64>,
}

impl Stage {
    /// In the last third of gestation (the last 90 days).
    #[must_use]
    pub fn last_third(&self) -> bool {
        self.gestation_days > GESTATION_DAYS - 90.0
    }
    /// In the middle or last third of gestation.
    #[must_use]
    pub fn past_first_third(&self) -> bool {
        self.gestation_days > GESTATION_DAYS / 3.0
    }
    /// In milk.
    #[must_use]
    pub fn milking(&self) -> bool {
        self.milking_days.is_some()
    }

    /// The stage of a group's females on a day.
    ///
    /// The calving date given is the one nearest the winter; before it she carries that calf, after it she milks
    /// until weaning and carries the next from 85 days on (365 − 280). Cows calve every 365 days before and after it;
    /// a bred heifer has not calved before it.
    #[must_use]
    pub fn on(group: &Group, day: Date) -> Self {
        let Some(calving) = group.calving else {
            return Self::default();
        };
        let since = f64::from(day.since(calving).map_or(0, |span| span.get_days()));
        if since < 0.0 && group.class == super::AnimalClass::BredHeifer {
            return Self { gestation_days: (GESTATION_DAYS + since).max(0.0), ..Self::default() };
        }
        let since_last = since.rem_euclid(CALVING_INTERVAL_DAYS);
        Self {
            gestation_days: (since_last - (CALVING_INTERVAL_DAYS - GESTATION_DAYS)).max(0.0),
            milking_days: (since_last < group.weaning_days).then_some(since_last),
            since_calving_days: Some(since_last),
        }
    }
}
