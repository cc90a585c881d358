//! When gins run: the share of a season's bales ginned by a date, by region, from the table shipped with the program.

use super::supply::SupplyCurve;
use crate::quantity::LB_PER_TON;
use crate::source::Origin;
use indexmap::IndexMap;
use jiff::ToSpan;
use jiff::civil::Date;
use serde::Deserialize;

/// The shipped table.
const TABLE: &str = include_str!("../../feeds/ginning.yaml");

/// The first month that belongs to a new season; months before it belong to the season begun the year before.
const FIRST_MONTH: i8 = 7;

/// One point of a season.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SeasonPoint {
    /// Month, 1 to 12.
    pub month: i8,
    /// Day of the month.
    pub day: i8,
    /// Percent of the season's bales ginned by that day, 0 to 100.
    pub pct: f64,
    /// How it was obtained.
    pub origin: Origin,
    /// Key of the bibliography.
    pub source: Option<String>,
}

/// The season of a region.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Season {
    /// Name for people.
    pub name: String,
    /// Points in the order of the season, from 0 to 100 percent.
    pub points: Vec<SeasonPoint>,
}

/// The whole table.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Ginning {
    /// Regions by key.
    pub regions: IndexMap<String, Season>,
}

impl Ginning {
    /// The table shipped with the program.
    ///
    /// # Errors
    /// When the shipped file is broken, which a test rules out.
    pub fn shipped() -> Result<Self, serde_yaml::Error> {
        serde_yaml::from_str(TABLE)
    }
}

/// What a gin turns out and how much of it can be had here.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GinOutput {
    /// Bales of the season.
    pub bales: f64,
    /// Pounds of the byproduct for each bale, as it leaves the gin.
    pub lb_per_bale: f64,
    /// Weeks that this gin runs behind its region: modules wait on the yard.
    pub waiting_weeks: f64,
    /// Share of it that can be had here, 0 to 1.
    pub share: f64,
}

impl GinOutput {
    /// Short tons that can be had over the season.
    #[must_use]
    pub fn season_tons(&self) -> f64 {
        self.bales * self.lb_per_bale / LB_PER_TON * self.share
    }
}

impl Season {
    /// Tons that can be had by date, in the season around a day.
    #[must_use]
    pub fn supply(&self, output: &GinOutput, around: Date) -> SupplyCurve {
        let year = if around.month() >= FIRST_MONTH { around.year() } else { around.year() - 1 };
        #[expect(clippy::cast_possible_truncation, reason = "a few weeks in whole days")]
        let behind = (output.waiting_weeks * 7.0).round() as i64;
        let points = self.points.iter().filter_map(|point| {
            let year = if point.month >= FIRST_MONTH { year } else { year + 1 };
            let day = Date::new(year, point.month, point.day).ok()?.checked_add(behind.days()).ok()?;
            Some((day, output.season_tons() * point.pct / 100.0))
        });
        SupplyCurve { points: points.collect() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn the_shipped_table_is_whole_and_rises() {
        let table = Ginning::shipped().unwrap();
        let keys: Vec<&str> = table.regions.keys().map(String::as_str).collect();
        assert_eq!(keys, ["high_plains", "rolling_plains", "mid_south", "southeast"]);
        for (key, season) in &table.regions {
            let output = GinOutput { bales: 100.0, lb_per_bale: 2000.0, waiting_weeks: 0.0, share: 1.0 };
            let curve = season.supply(&output, date(2026, 11, 15));
            assert_eq!(curve.points.len(), season.points.len(), "{key}");
            assert!(curve.points.windows(2).all(|pair| pair[0].0 < pair[1].0 && pair[0].1 < pair[1].1), "{key}");
            assert_eq!((curve.points[0].1, curve.points.last().unwrap().1), (0.0, 100.0), "{key}");
            for point in &season.points {
                assert_eq!(point.source.is_some(), point.origin == Origin::Computed, "{key}");
            }
        }
    }

    #[test]
    fn a_spring_day_belongs_to_the_season_begun_the_year_before() {
        let table = Ginning::shipped().unwrap();
        let output = GinOutput { bales: 30_000.0, lb_per_bale: 120.0, waiting_weeks: 2.0, share: 0.5 };
        let season = &table.regions["southeast"];
        let curve = season.supply(&output, date(2027, 1, 3));
        assert_eq!(curve, season.supply(&output, date(2026, 11, 15)));
        assert_eq!(curve.points[0].0, date(2026, 9, 29));
        assert!((curve.by(date(2026, 11, 29)) - 900.0 * 0.47).abs() < 1e-9);
    }
}
