//! Bales by week, from the season of the region or from the gin's own count, and the tons that come with them.

use crate::feed::supply::SupplyCurve;
use crate::quantity::LB_PER_TON;
use jiff::ToSpan;
use jiff::civil::Date;

/// Days of a week.
pub const WEEK: i64 = 7;

/// Days from one day to another.
#[must_use]
pub fn days_between(from: Date, to: Date) -> f64 {
    from.until(to).map_or(0.0, |span| f64::from(span.get_days()))
}

/// A day some days later.
#[must_use]
pub fn later(day: Date, days: i64) -> Date {
    day.checked_add(days.days()).unwrap_or(day)
}

/// First days of the weeks from a day to the day before another, at least one.
#[must_use]
pub fn weeks(from: Date, to: Date) -> Vec<Date> {
    let mut list = vec![from];
    let mut day = later(from, WEEK);
    while day < to {
        list.push(day);
        day = later(day, WEEK);
    }
    list
}

/// A curve of bales by date from weekly counts that begin on a day.
#[must_use]
pub fn of_weekly(from: Date, bales: &[f64]) -> SupplyCurve {
    let mut points = vec![(from, 0.0)];
    let (mut day, mut total) = (from, 0.0);
    for week in bales {
        day = later(day, WEEK);
        total += week;
        points.push((day, total));
    }
    SupplyCurve { points }
}

/// Tons of a byproduct that come with a number of bales.
#[must_use]
pub fn tons(bales: f64, lb_per_bale: f64) -> f64 {
    bales * lb_per_bale / LB_PER_TON
}
