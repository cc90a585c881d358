//! The needs of one group, per head and day, as the mean over the days of a period, with their parts.

use super::condition::{Edition, reserve_change_mcal, weight_at_five_kg};
use super::intake::{Curve, meet};
use super::moment::{DayNeed, Moment, need};
use super::path::ConditionPath;
use super::{protein, target, vitamin};
use crate::herd::{AnimalClass, Group, MonthWeather, Period, Place, Stage};
use jiff::civil::Date;

/// Energy asked for at the efficiency of maintenance, Mcal NEm per head and day, by what asks for it.
#[derive(Debug, Clone, Copy, PartialEq, Default, serde::Serialize)]
pub struct EnergyParts {
    /// Keeping alive.
    pub maintenance_nem_mcal: f64,
    /// Walking and grazing.
    pub activity_nem_mcal: f64,
    /// Cold.
    pub cold_nem_mcal: f64,
    /// The calf she carries.
    pub pregnancy_nem_mcal: f64,
    /// Milk.
    pub milk_nem_mcal: f64,
    /// Body condition to put on (above 0) or allowed to come off (below 0).
    pub condition_nem_mcal: f64,
}

impl EnergyParts {
    /// Sum of the parts.
    #[must_use]
    pub fn total_nem_mcal(&self) -> f64 {
        self.maintenance_nem_mcal
            + self.activity_nem_mcal
            + self.cold_nem_mcal
            + self.pregnancy_nem_mcal
            + self.milk_nem_mcal
            + self.condition_nem_mcal
    }
}

/// An amount asked for, g per head and day, by what asks for it.
#[derive(Debug, Clone, Copy, PartialEq, Default, serde::Serialize)]
pub struct GramParts {
    /// Maintenance.
    pub maintenance_g: f64,
    /// The calf she carries.
    pub pregnancy_g: f64,
    /// Milk.
    pub milk_g: f64,
    /// Growth.
    pub gain_g: f64,
}

impl GramParts {
    /// Sum of the parts.
    #[must_use]
    pub fn total_g(&self) -> f64 {
        self.maintenance_g + self.pregnancy_g + self.milk_g + self.gain_g
    }
}

/// What one head needs a day, mean over a period.
#[derive(Debug, Clone, PartialEq, Default, serde::Serialize)]
pub struct Needs {
    /// Mean weight in the period, kg, without the calf she carries.
    pub weight_kg: f64,
    /// Energy at the efficiency of maintenance, by part.
    pub energy: EnergyParts,
    /// Energy for growth, Mcal NEg. 0 for animals that do not grow.
    pub neg_mcal: f64,
    /// Shrunk gain asked for, kg a day (growth only, not conceptus or condition).
    pub gain_kg: f64,
    /// Metabolizable protein by part, g.
    pub mp: GramParts,
    /// Crude protein, g: metabolizable protein / 0.67.
    pub cp_g: f64,
    /// Calcium by part, g.
    pub ca: GramParts,
    /// Phosphorus by part, g.
    pub p: GramParts,
    /// Predicted dry matter intake at the density where need and intake meet, kg.
    pub dmi_kg: f64,
    /// That density, Mcal NEm per kg of dry matter.
    pub nem_mcal_per_kg: f64,
    /// The same density as TDN, % of dry matter, by the cubic.
    pub tdn_pct: f64,
    /// Vitamin A, IU.
    pub vitamin_a_iu: f64,
    /// Water, US gallons.
    pub water_gal: f64,
    /// Share of the period's days in milk, 0 to 1.
    pub milking_share: f64,
    /// Share of the period's days in the last third of gestation, 0 to 1.
    pub last_third_share: f64,
    /// Mean milk, kg a day.
    pub milk_kg: f64,
    /// Body condition expected at the start and at the end of the period if fed to these needs.
    pub condition_from: f64,
    /// Body condition at the end of the period.
    pub condition_to: f64,
    /// Body energy of one condition score at this weight, Mcal, from the score at the start of the period to the next
    /// below, with the factor of first-calf females. One Mcal of it spares 0.8 Mcal of feed.
    pub mcal_per_score: f64,
    /// Lower critical temperature, °C, mean over the days whose weather is known.
    pub lower_critical_c: Option<f64>,
    /// Cold as the heat balance has it, Mcal NEm; `energy` holds it to 40 % of maintenance.
    pub cold_uncapped_nem_mcal: f64,
    /// Share of the period's days whose weather is known, 0 to 1. On the others no cold is counted.
    pub weather_share: f64,
    /// Need and intake do not meet between 40 and 95 % TDN: `dmi_kg`, `nem_mcal_per_kg` and `tdn_pct` are those of the
    /// nearer end.
    pub intake_at_bound: bool,
}

impl GramParts {
    fn add(&mut self, other: &Self, share: f64) {
        self.maintenance_g += share * other.maintenance_g;
        self.pregnancy_g += share * other.pregnancy_g;
        self.milk_g += share * other.milk_g;
        self.gain_g += share * other.gain_g;
    }
}

impl EnergyParts {
    fn add(&mut self, other: &Self, share: f64) {
        self.maintenance_nem_mcal += share * other.maintenance_nem_mcal;
        self.activity_nem_mcal += share * other.activity_nem_mcal;
        self.cold_nem_mcal += share * other.cold_nem_mcal;
        self.pregnancy_nem_mcal += share * other.pregnancy_nem_mcal;
        self.milk_nem_mcal += share * other.milk_nem_mcal;
        self.condition_nem_mcal += share * other.condition_nem_mcal;
    }
}

/// The weather a group feels on a day: sun added, wind broken by the shelter.
#[must_use]
pub fn felt_weather(place: &Place, day: Date) -> Option<MonthWeather> {
    month_weather(place, day.month()).map(|weather| MonthWeather {
        mean_c: super::cold::effective_air_c(weather.mean_c, place.sun),
        wind_kmh: weather.wind_kmh * (1.0 - place.shelter_share.clamp(0.0, 1.0)),
    })
}

/// Mean weather of a month, 1 to 12.
fn month_weather(place: &Place, month: i8) -> Option<MonthWeather> {
    usize::try_from(month - 1).ok().and_then(|month| place.weather.get(month).copied().flatten())
}

/// How a head of a group stands on a day of the winter.
#[must_use]
pub fn moment_on(group: &Group, place: &Place, day: Date, winter_start: Date, path: &ConditionPath) -> Moment {
    let weight_kg = target::weight_kg(group, day, winter_start);
    let reserve_mcal = if target::has_reserves(group) {
        let at_five = weight_at_five_kg(weight_kg, group.condition, Edition::default());
        path.reserve_mcal(day, at_five, target::is_first_calf(group), Edition::default())
    } else {
        0.0
    };
    let last_month = if day.month() == 1 { 12 } else { day.month() - 1 };
    Moment {
        weight_kg,
        stage: Stage::on(group, day),
        gain_kg: target::gain_kg(group, day, winter_start),
        score: path.score_on(day),
        reserve_mcal,
        last_month_c: place
            .acclimatization
            .then(|| month_weather(place, last_month).map(|weather| weather.mean_c))
            .flatten(),
        weather: felt_weather(place, day),
    }
}

/// Needs per head and day, mean over the days of a period.
///
/// `path` is the body condition over the winter; `None` takes the group's own (even to the score wanted, else hold).
/// Intake is the root of the animal alone on the mean need. Weight is used as shrunk weight as it stands. No ration is
/// made for calves under four months: their needs are all zero.
#[must_use]
pub fn mean_needs(
    group: &Group,
    period: &Period,
    place: &Place,
    winter_start: Date,
    path: Option<&ConditionPath>,
) -> Needs {
    let own = ConditionPath::of(group, winter_start);
    let path = path.unwrap_or(&own);
    let days: Vec<(Moment, DayNeed)> = period
        .dates()
        .map(|day| moment_on(group, place, day, winter_start, path))
        .map(|moment| (moment, need(group, &moment, group.coat)))
        .collect();
    Needs {
        condition_from: path.score_on(period.from),
        condition_to: path.score_on(period.to),
        ..mean_of(group, &days)
    }
}

/// Needs in a month counted from calving (1 to 12), as the printed monthly tables have them: a single day by their
/// conventions, no weather, condition held.
#[must_use]
pub fn needs_in_month(group: &Group, month: u32) -> Needs {
    let stage = target::stage_in_month(month);
    let moment = Moment {
        weight_kg: group.weight_kg,
        stage,
        gain_kg: if target::is_first_calf(group) {
            group.gain_kg_per_day.unwrap_or_else(|| super::growth::first_calf_gain_kg(group.mature_weight_kg))
        } else {
            0.0
        },
        score: group.condition,
        reserve_mcal: 0.0,
        last_month_c: None,
        weather: None,
    };
    needs_at(group, &moment)
}

/// Needs at one moment, condition held.
#[must_use]
pub fn needs_at(group: &Group, moment: &Moment) -> Needs {
    Needs {
        condition_from: group.condition,
        condition_to: group.condition,
        ..mean_of(group, &[(*moment, need(group, moment, group.coat))])
    }
}

/// The mean of some days. Scores at the ends are left to the caller.
fn mean_of(group: &Group, days: &[(Moment, DayNeed)]) -> Needs {
    let mut mean = Needs::default();
    let Some((first, _)) = days.first() else {
        return mean;
    };
    if group.class == AnimalClass::YoungCalf {
        return Needs { weight_kg: first.weight_kg, ..mean };
    }
    let share = 1.0 / days.len() as f64;
    let (mut cow_b, mut vitamin_a_iu_per_kg) = ((0.0, 0.0), 0.0);
    let mut critical = (0.0, 0.0);
    for (moment, day) in days {
        mean.weight_kg += share * moment.weight_kg;
        mean.energy.add(&day.energy, share);
        mean.cold_uncapped_nem_mcal += share * day.cold_uncapped_nem_mcal;
        mean.neg_mcal += share * day.neg_mcal;
        mean.gain_kg += share * moment.gain_kg;
        mean.mp.add(&day.mp, share);
        mean.ca.add(&day.ca, share);
        mean.p.add(&day.p, share);
        mean.milk_kg += share * day.milk_kg;
        mean.water_gal += share * day.water_gal;
        vitamin_a_iu_per_kg += share * day.vitamin_a_iu_per_kg;
        mean.milking_share += if moment.stage.milking() { share } else { 0.0 };
        mean.last_third_share += if moment.stage.last_third() { share } else { 0.0 };
        if let Curve::Cow { b, .. } = day.curve {
            cow_b = (cow_b.0 + share, cow_b.1 + share * b);
        }
        if let Some(c) = day.lower_critical_c {
            critical = (critical.0 + share, critical.1 + share * c);
        }
    }
    mean.cp_g = protein::cp_g(mean.mp.total_g());
    // A heifer calves within the period: the equation of most of its days holds.
    let curve = match days.iter().map(|(_, day)| day.curve).find(|curve| !matches!(curve, Curve::Cow { .. })) {
        Some(growing) if cow_b.0 < 0.5 => growing,
        _ => Curve::Cow { b: cow_b.1 / cow_b.0, milk_kg: mean.milk_kg },
    };
    let met = meet(&curve, mean.weight_kg, mean.energy.total_nem_mcal(), mean.neg_mcal);
    mean.dmi_kg = met.dmi_kg;
    mean.nem_mcal_per_kg = met.nem_mcal_per_kg;
    mean.tdn_pct = met.tdn_pct;
    mean.intake_at_bound = met.at_bound;
    mean.vitamin_a_iu = vitamin::vitamin_a_iu(vitamin_a_iu_per_kg, met.dmi_kg);
    mean.weather_share = critical.0;
    mean.lower_critical_c = (critical.0 > 0.0).then(|| critical.1 / critical.0);
    let score = first.score;
    let at_five = weight_at_five_kg(mean.weight_kg, group.condition, Edition::default());
    mean.mcal_per_score =
        reserve_change_mcal(at_five, score, score - 1.0, target::is_first_calf(group), Edition::default()).abs();
    mean
}
