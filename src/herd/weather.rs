//! Winter weather by region and the cold spells to be ready for, from the table shipped with the program.

use super::{Coat, ColdSpell, MonthWeather};
use crate::quantity::{KM_PER_MILE, c_from_f};
use crate::source::Origin;
use indexmap::IndexMap;
use serde::Deserialize;

/// The shipped table.
const TABLE: &str = include_str!("../../feeds/weather.yaml");

/// One figure of the table with its origin.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WeatherFigure {
    /// Value in the unit of its key.
    pub value: f64,
    /// How it was obtained.
    pub origin: Origin,
    /// Key of the bibliography.
    pub source: Option<String>,
    /// Remark.
    pub note: Option<String>,
}

/// Weather of a month as the table has it.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MonthRow {
    /// Mean air temperature, °F.
    pub mean_f: WeatherFigure,
    /// Mean wind, mph.
    pub wind_mph: WeatherFigure,
}

/// Cold spells in an ordinary winter.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SpellCount {
    /// Fewest.
    pub least: u32,
    /// Most.
    pub most: u32,
    /// How it was obtained.
    pub origin: Origin,
}

/// A region.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Region {
    /// Name for people.
    pub name: String,
    /// Stations the figures are of.
    pub station: String,
    /// Months by their English name in lower case; a month that is not here is not known.
    pub months: IndexMap<String, MonthRow>,
    /// Cold spells in an ordinary winter.
    pub spells_per_winter: SpellCount,
}

/// A kind of cold spell to be ready for.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SpellRow {
    /// Length, days.
    pub days: u32,
    /// Degrees below the mean of the month, °F.
    pub below_mean_f: f64,
    /// How it was obtained.
    pub origin: Origin,
    /// Remark.
    pub note: Option<String>,
}

/// The whole table.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WeatherTable {
    /// Regions by key.
    pub regions: IndexMap<String, Region>,
    /// Kinds of cold spell by key.
    pub cold_spells: IndexMap<String, SpellRow>,
}

/// Names of the months as keys, January first.
pub const MONTHS: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];

impl WeatherTable {
    /// The table shipped with the program.
    ///
    /// # Errors
    /// When the shipped file is broken, which a test rules out.
    pub fn shipped() -> Result<Self, serde_yaml::Error> {
        serde_yaml::from_str(TABLE)
    }
}

impl Region {
    /// Weather by calendar month, January first, °C and km/h; a month that is not in the table stays `None`.
    #[must_use]
    pub fn by_month(&self) -> [Option<MonthWeather>; 12] {
        MONTHS.map(|month| {
            self.months.get(month).map(|row| MonthWeather {
                mean_c: c_from_f(row.mean_f.value),
                wind_kmh: row.wind_mph.value * KM_PER_MILE,
            })
        })
    }
}

impl SpellRow {
    /// The spell in a month of known weather: colder by so much, the wind of the month, a given coat.
    #[must_use]
    pub fn in_month(&self, month: &MonthWeather, coat: Coat) -> ColdSpell {
        ColdSpell { days: self.days, mean_c: month.mean_c - self.below_mean_f / 1.8, wind_kmh: month.wind_kmh, coat }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_shipped_table_is_whole_and_plausible() {
        let table = WeatherTable::shipped().unwrap();
        let keys: Vec<&str> = table.regions.keys().map(String::as_str).collect();
        assert_eq!(keys, ["high_plains", "rolling_plains", "mid_south", "southeast"]);
        for region in table.regions.values() {
            for (month, row) in &region.months {
                assert!(MONTHS.contains(&month.as_str()), "{month}");
                assert!((20.0..80.0).contains(&row.mean_f.value), "{month}");
                assert!((3.0..20.0).contains(&row.wind_mph.value), "{month}");
                for figure in [&row.mean_f, &row.wind_mph] {
                    let sourced = matches!(figure.origin, Origin::Published | Origin::Abstract | Origin::Computed);
                    assert_eq!(figure.source.is_some(), sourced, "{}: {month}", region.name);
                }
            }
            let known: Vec<usize> = (0..12).filter(|month| region.by_month()[*month].is_some()).collect();
            assert_eq!(known, [0, 1, 2, 9, 10, 11], "{}", region.name);
        }
    }

    #[test]
    fn a_hard_spell_is_a_week_far_below_the_month() {
        let table = WeatherTable::shipped().unwrap();
        let january = table.regions["high_plains"].by_month()[0].unwrap();
        let spell = table.cold_spells["hard"].in_month(&january, Coat::Dry);
        assert_eq!(spell.days, 7);
        assert!((crate::quantity::f_from_c(spell.mean_c) - 15.2).abs() < 1e-9);
    }
}
