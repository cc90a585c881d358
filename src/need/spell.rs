//! A cold spell: what it asks beyond the ration, and what of it cattle can eat.

use super::cold::{MOST_SHARE, rule_pct, wind_chill_f};
use super::daily::moment_on;
use super::moment::{Moment, need};
use super::path::ConditionPath;
use crate::herd::{ColdSpell, Group, MonthWeather, Place};
use jiff::civil::Date;

/// What a cold spell asks, per head and day of it.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct SpellNeed {
    /// Length, days.
    pub days: u32,
    /// Lower critical temperature in it, °C.
    pub lower_critical_c: f64,
    /// Wind chill for cattle, °F: the shelter's wind, no sun.
    pub wind_chill_f: f64,
    /// Maintenance without cold, Mcal NEm.
    pub maintenance_nem_mcal: f64,
    /// Cold by the heat balance, Mcal NEm.
    pub cold_uncapped_nem_mcal: f64,
    /// The same, at most 40 % of maintenance.
    pub cold_nem_mcal: f64,
    /// Cold the ration of the month already counts, Mcal NEm.
    pub in_ration_nem_mcal: f64,
    /// Cold by the rule of thumb, % of maintenance; not capped.
    pub rule_pct: f64,
}

impl SpellNeed {
    /// To be fed beyond the ration of the month, Mcal NEm a day.
    #[must_use]
    pub fn extra_nem_mcal(&self) -> f64 {
        (self.cold_nem_mcal - self.in_ration_nem_mcal).max(0.0)
    }
    /// Beyond what cattle can eat, Mcal NEm a day: to be made good on the days after.
    #[must_use]
    pub fn left_over_nem_mcal(&self) -> f64 {
        (self.cold_uncapped_nem_mcal - self.cold_nem_mcal).max(0.0)
    }
    /// Days after the spell, at the most that can be fed beyond the ration, that make good what was left over. `None`
    /// if nothing can be fed beyond it.
    #[must_use]
    pub fn days_to_make_good(&self) -> Option<f64> {
        let daily = MOST_SHARE * self.maintenance_nem_mcal - self.in_ration_nem_mcal;
        (daily > 1e-9).then(|| self.left_over_nem_mcal() * f64::from(self.days) / daily)
    }
    /// Cold by the rule of thumb, Mcal NEm.
    #[must_use]
    pub fn rule_nem_mcal(&self) -> f64 {
        self.maintenance_nem_mcal * self.rule_pct / 100.0
    }
}

/// What a spell that falls on a day asks of a group. `path` as in [`super::mean_needs`].
#[must_use]
pub fn spell_need(
    group: &Group,
    place: &Place,
    spell: &ColdSpell,
    day: Date,
    winter_start: Date,
    path: Option<&ConditionPath>,
) -> SpellNeed {
    let own = ConditionPath::of(group, winter_start);
    let ordinary = moment_on(group, place, day, winter_start, path.unwrap_or(&own));
    let wind_kmh = spell.wind_kmh * (1.0 - place.shelter_share.clamp(0.0, 1.0));
    let weather = MonthWeather { mean_c: spell.mean_c, wind_kmh };
    let cold = need(group, &Moment { weather: Some(weather), ..ordinary }, spell.coat);
    let chill = wind_chill_f(spell.mean_c, wind_kmh);
    SpellNeed {
        days: spell.days,
        // Weather is given, so the heat balance has an answer.
        lower_critical_c: cold.lower_critical_c.unwrap_or(spell.mean_c),
        wind_chill_f: chill,
        maintenance_nem_mcal: cold.energy.maintenance_nem_mcal,
        cold_uncapped_nem_mcal: cold.cold_uncapped_nem_mcal,
        cold_nem_mcal: cold.energy.cold_nem_mcal,
        in_ration_nem_mcal: need(group, &ordinary, group.coat).energy.cold_nem_mcal,
        rule_pct: rule_pct(spell.coat, chill),
    }
}
