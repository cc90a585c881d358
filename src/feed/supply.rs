//! How much of a feed a seller has, by date.

use jiff::civil::Date;

/// Tons that came out by a date, straight between the dates, level before and after.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SupplyCurve {
    /// Dates in order, with the short tons that have come out by the start of each.
    pub points: Vec<(Date, f64)>,
}

impl SupplyCurve {
    /// Short tons that have come out by the start of a day.
    #[must_use]
    pub fn by(&self, day: Date) -> f64 {
        let after = self.points.partition_point(|(at, _)| *at <= day);
        match (after.checked_sub(1).and_then(|index| self.points.get(index)), self.points.get(after)) {
            (None, Some((_, first))) => *first,
            (Some((_, last)), None) => *last,
            (Some((from, low)), Some((to, high))) => {
                low + (high - low) * f64::from(days(*from, day)) / f64::from(days(*from, *to))
            }
            (None, None) => 0.0,
        }
    }
}

/// What a seller has to offer.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum Supply {
    /// Whatever is wanted.
    #[default]
    Unlimited,
    /// So many short tons a week; what is not taken goes elsewhere.
    PerWeek(f64),
    /// What a gin turns out; what is not taken goes elsewhere.
    Curve(SupplyCurve),
}

impl Supply {
    /// Short tons offered from a day to the day before another; infinite without limit.
    #[must_use]
    pub fn tons_between(&self, from: Date, to: Date) -> f64 {
        if to <= from {
            return 0.0;
        }
        match self {
            Self::Unlimited => f64::INFINITY,
            Self::PerWeek(tons) => tons * f64::from(days(from, to)) / 7.0,
            Self::Curve(curve) => curve.by(to) - curve.by(from),
        }
    }
}

/// Days from one day to another.
pub(super) fn days(from: Date, to: Date) -> i32 {
    from.until(to).map_or(0, |span| span.get_days())
}
