//! The path of body condition over the winter: scores wanted by dates.

use super::condition::{Edition, reserve_change_mcal};
use crate::herd::Group;
use jiff::civil::Date;

/// Scores by date, in order of date. Between two dates the score moves evenly; before the first and after the last it
/// stays.
#[derive(Debug, Clone, PartialEq)]
pub struct ConditionPath {
    points: Vec<(Date, f64)>,
}

impl ConditionPath {
    /// Holds a score.
    #[must_use]
    pub fn hold(from: Date, score: f64) -> Self {
        Self { points: vec![(from, score)] }
    }

    /// Through the given scores, put in order of date.
    #[must_use]
    pub fn through(mut points: Vec<(Date, f64)>) -> Self {
        points.sort_by_key(|(date, _)| *date);
        Self { points }
    }

    /// The path of a group: from its score at the start of the winter through its own path, or evenly to the score wanted,
    /// else hold.
    #[must_use]
    pub fn of(group: &Group, winter_start: Date) -> Self {
        let mut points = vec![(winter_start, group.condition)];
        if group.condition_path.is_empty() {
            points.extend(group.condition_wanted.filter(|(_, by)| *by > winter_start).map(|(score, by)| (by, score)));
        } else {
            points.extend(group.condition_path.iter().copied().filter(|(day, _)| *day > winter_start));
        }
        Self { points }
    }

    /// Score at the start of a day, 1 to 9. 5 for an empty path.
    #[must_use]
    pub fn score_on(&self, day: Date) -> f64 {
        let next = self.points.iter().position(|(date, _)| *date > day);
        match next {
            Some(0) => self.points[0].1,
            Some(next) => {
                let ((from, low), (to, high)) = (self.points[next - 1], self.points[next]);
                low + (high - low) * days_between(from, day) / days_between(from, to).max(1.0)
            }
            None => self.points.last().map_or(5.0, |(_, score)| *score),
        }
    }

    /// Body energy put on (above 0) or taken off (below 0) on one day, Mcal.
    ///
    /// Summed over a stretch of the path it is the energy between the scores at its ends.
    #[must_use]
    pub fn reserve_mcal(&self, day: Date, weight_at_five_kg: f64, first_calf: bool, edition: Edition) -> f64 {
        let next = day.tomorrow().unwrap_or(day);
        reserve_change_mcal(weight_at_five_kg, self.score_on(day), self.score_on(next), first_calf, edition)
    }
}

/// Days from one date to another, negative if it lies before.
#[must_use]
pub fn days_between(from: Date, to: Date) -> f64 {
    f64::from(to.since(from).map_or(0, |span| span.get_days()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn an_even_path_adds_up_to_the_energy_between_its_ends() {
        let path = ConditionPath::through(vec![(date(2026, 11, 15), 5.5), (date(2027, 3, 1), 4.5)]);
        let days = date(2026, 11, 1).series(jiff::Span::new().days(1)).take_while(|day| *day < date(2027, 4, 1));
        let sum: f64 = days.map(|day| path.reserve_mcal(day, 545.0, false, Edition::Nasem2016)).sum();
        let whole = reserve_change_mcal(545.0, 5.5, 4.5, false, Edition::Nasem2016);
        assert!((sum - whole).abs() < 1e-6, "{sum} {whole}");
        assert!((path.score_on(date(2027, 3, 1)) - 4.5).abs() < 1e-12);
        assert!((path.score_on(date(2026, 10, 1)) - 5.5).abs() < 1e-12);
    }
}
