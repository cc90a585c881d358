//! The winter and the periods it is planned in.

use jiff::civil::Date;

/// A run of days planned as one.
#[derive(Debug, Clone, PartialEq)]
pub struct Period {
    /// Label for people and for the herd file: `2026-12`, or the first day where months are cut.
    pub label: String,
    /// First day.
    pub from: Date,
    /// The day after the last.
    pub to: Date,
}

impl Period {
    /// Number of days, at least 1.
    #[must_use]
    pub fn days(&self) -> u32 {
        u32::try_from(self.from.until(self.to).map_or(1, |span| span.get_days())).unwrap_or(1).max(1)
    }
    /// Every day in it.
    pub fn dates(&self) -> impl Iterator<Item = Date> {
        let to = self.to;
        self.from.series(jiff::Span::new().days(1)).take_while(move |day| *day < to)
    }
}

/// Mean weather of one month.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MonthWeather {
    /// Mean air temperature, °C.
    pub mean_c: f64,
    /// Mean wind, km/h.
    pub wind_kmh: f64,
}

/// A cold spell to be ready for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ColdSpell {
    /// Length, days.
    pub days: u32,
    /// Mean air temperature, °C.
    pub mean_c: f64,
    /// Wind, km/h.
    pub wind_kmh: f64,
    /// State of the coat in it.
    pub coat: super::Coat,
}

/// The place.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Place {
    /// Its name.
    pub name: String,
    /// Region whose weather is taken, if one was named.
    pub region: Option<String>,
    /// Weather by calendar month, January first. `None`: not known, so no cold is counted.
    pub weather: [Option<MonthWeather>; 12],
    /// Months whose weather, or part of it, is the file's own: January is 0.
    pub own_months: Vec<usize>,
    /// Bright winter sun on most days.
    pub sun: bool,
    /// Share of the wind a windbreak keeps off, 0 to 1.
    pub shelter_share: f64,
    /// Count acclimatization to last month's temperature in maintenance.
    pub acclimatization: bool,
    /// A cold spell to be ready for.
    pub cold_spell: Option<ColdSpell>,
    /// The kind of spell it is, if the file names one: `ordinary`, `hard`, `record`.
    pub cold_spell_kind: Option<String>,
}
