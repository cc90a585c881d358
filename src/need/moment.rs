//! What one head needs on one day: the equations put together.

use super::cold::{self, Age, ColdNeed, Exposure};
use super::energy::{self, MaintenanceTerms, maintenance_nem_mcal};
use super::intake::{self, Curve, Meeting, meet};
use super::mineral::{MineralNeed, calcium, phosphorus};
use super::{EnergyParts, GramParts, condition, growth, lactation, pregnancy, protein, target, vitamin, water};
use crate::herd::{AnimalClass, Coat, Group, MonthWeather, Sex, Stage};

/// How a head of a group stands on a day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moment {
    /// Weight, kg, without the calf she carries.
    pub weight_kg: f64,
    /// Where she is in the year.
    pub stage: Stage,
    /// Gain asked for, kg a day.
    pub gain_kg: f64,
    /// Body condition score.
    pub score: f64,
    /// Body energy put on (above 0) or taken off (below 0) on the day, Mcal.
    pub reserve_mcal: f64,
    /// Mean temperature of the month before, °C, if acclimatization is counted.
    pub last_month_c: Option<f64>,
    /// Weather, sun and shelter already counted. `None`: not known, no cold is counted.
    pub weather: Option<MonthWeather>,
}

/// What one head needs on one day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DayNeed {
    /// Energy at the efficiency of maintenance; cold held to 40 % of maintenance.
    pub energy: EnergyParts,
    /// Cold as the heat balance has it, Mcal NEm.
    pub cold_uncapped_nem_mcal: f64,
    /// Energy of gain, Mcal NEg.
    pub neg_mcal: f64,
    /// Metabolizable protein.
    pub mp: GramParts,
    /// Calcium.
    pub ca: GramParts,
    /// Phosphorus.
    pub p: GramParts,
    /// Milk, kg.
    pub milk_kg: f64,
    /// Equation of intake that holds.
    pub curve: Curve,
    /// Vitamin A, IU per kg of dry matter.
    pub vitamin_a_iu_per_kg: f64,
    /// Water, gallons.
    pub water_gal: f64,
    /// Lower critical temperature, °C, if weather is known.
    pub lower_critical_c: Option<f64>,
}

/// Milk on the day, kg.
fn milk_kg(group: &Group, stage: &Stage) -> f64 {
    stage.milking_days.map_or(0.0, |days| lactation::milk_kg(group.peak_milk_kg, days / 7.0))
}

/// Maintenance on the day, Mcal NEm.
fn maintenance(group: &Group, moment: &Moment) -> f64 {
    let intact = matches!(group.class, AnimalClass::Bull | AnimalClass::YoungBull) || group.sex == Sex::Bull;
    let terms = MaintenanceTerms {
        breed_factor: group.breed_factor,
        milking_factor: if moment.stage.milking() { energy::MILKING } else { 1.0 },
        sex_factor: if intact { energy::INTACT_BULL } else { 1.0 },
        previous_plane_factor: if target::has_reserves(group) {
            1.0
        } else {
            energy::previous_plane_factor(group.condition)
        },
        last_month_c: moment.last_month_c,
    };
    maintenance_nem_mcal(moment.weight_kg, &terms)
}

/// Equation of intake of a class at a stage. A heifer that has calved eats as a cow.
#[must_use]
pub fn curve(group: &Group, stage: &Stage, milk_kg: f64) -> Curve {
    let cow = matches!(group.class, AnimalClass::Cow | AnimalClass::FirstCalfCow)
        || (group.class == AnimalClass::BredHeifer && stage.since_calving_days.is_some());
    if cow {
        let b = if stage.gestation_days > 0.0 { intake::COW_IN_CALF } else { intake::COW_OPEN };
        Curve::Cow { b, milk_kg }
    } else if group.under_a_year && group.class.grows() {
        Curve::Growing { c: intake::CALF }
    } else {
        Curve::Growing { c: intake::YEARLING }
    }
}

/// Age as the insulation of the body goes by it: classes still growing without a calf count as yearlings, bred heifers
/// too, which errs on the warm side of their needs.
fn age(group: &Group, stage: &Stage) -> Age {
    match group.class {
        AnimalClass::Cow | AnimalClass::FirstCalfCow | AnimalClass::Bull => Age::Adult,
        AnimalClass::BredHeifer if stage.since_calving_days.is_some() => Age::Adult,
        AnimalClass::YoungCalf => Age::OneMonth,
        _ => Age::Yearling,
    }
}

/// Cold at a density of the ration without it.
fn cold_at(
    group: &Group,
    moment: &Moment,
    met: &Meeting,
    retained_mcal: f64,
    weather: MonthWeather,
    coat: Coat,
) -> ColdNeed {
    let exposure = Exposure {
        air_c: weather.mean_c,
        wind_kmh: weather.wind_kmh,
        coat,
        hair_cm: cold::hair_cm(coat),
        hide: group.hide,
    };
    cold::need(moment.weight_kg, age(group, &moment.stage), moment.score, met.me_mcal, retained_mcal, &exposure)
}

fn grams(need: MineralNeed) -> GramParts {
    GramParts {
        maintenance_g: need.maintenance_g,
        pregnancy_g: need.pregnancy_g,
        milk_g: need.milk_g,
        gain_g: need.gain_g,
    }
}

fn drinker(group: &Group, moment: &Moment) -> water::Drinker {
    match group.class {
        AnimalClass::Bull => water::Drinker::Bull,
        _ if moment.stage.milking() => water::Drinker::MilkingCow,
        AnimalClass::Cow | AnimalClass::FirstCalfCow | AnimalClass::BredHeifer => water::Drinker::DryCow,
        _ => water::Drinker::Growing(moment.weight_kg),
    }
}

fn vitamin_a(group: &Group, stage: &Stage) -> f64 {
    match group.class {
        AnimalClass::Bull => vitamin::A_MILKING_OR_BULL_IU,
        _ if stage.milking() => vitamin::A_MILKING_OR_BULL_IU,
        AnimalClass::Cow | AnimalClass::FirstCalfCow | AnimalClass::BredHeifer => vitamin::A_PREGNANT_IU,
        _ => vitamin::A_GROWING_IU,
    }
}

/// Everything one head needs on the day, with the coat it wears.
#[must_use]
pub fn need(group: &Group, moment: &Moment, coat: Coat) -> DayNeed {
    let stage = &moment.stage;
    let t = stage.gestation_days;
    let (fat_pct, snf_pct, protein_pct) = group.milk_composition_pct;
    let milk = milk_kg(group, stage);
    let milk_mcal = milk * lactation::energy_mcal_per_kg(fat_pct, snf_pct);
    let maintenance = maintenance(group, moment);
    let equivalent_kg = growth::equivalent_weight_kg(moment.weight_kg, group.mature_weight_kg);
    let neg_mcal = growth::neg_mcal(equivalent_kg, moment.gain_kg);
    let net_protein_g = growth::net_protein_g(moment.gain_kg, neg_mcal);
    let fetus_of_kg = stage.last_third().then_some(group.calf_birth_weight_kg);

    let mut energy = EnergyParts {
        maintenance_nem_mcal: maintenance,
        activity_nem_mcal: maintenance * group.activity_share,
        cold_nem_mcal: 0.0,
        pregnancy_nem_mcal: pregnancy::nem_mcal(group.calf_birth_weight_kg, t),
        milk_nem_mcal: milk_mcal,
        condition_nem_mcal: condition::diet_nem_mcal(moment.reserve_mcal),
    };
    let curve = curve(group, stage, milk);
    let mut cold_uncapped_nem_mcal = 0.0;
    let mut lower_critical_c = None;
    if let Some(weather) = moment.weather {
        let met = meet(&curve, moment.weight_kg, energy.total_nem_mcal(), neg_mcal);
        let calf_mcal = pregnancy::retained_mcal(group.calf_birth_weight_kg, t);
        let retained = neg_mcal + milk_mcal + calf_mcal + moment.reserve_mcal;
        let cold = cold_at(group, moment, &met, retained, weather, coat);
        cold_uncapped_nem_mcal = met.km() * cold.me_mcal;
        energy.cold_nem_mcal = cold_uncapped_nem_mcal.min(cold::MOST_SHARE * maintenance);
        lower_critical_c = Some(cold.lower_critical_c);
    }
    DayNeed {
        energy,
        cold_uncapped_nem_mcal,
        neg_mcal,
        mp: GramParts {
            maintenance_g: protein::mp_maintenance_g(moment.weight_kg),
            pregnancy_g: pregnancy::mp_g(group.calf_birth_weight_kg, t),
            milk_g: lactation::mp_g(milk, protein_pct),
            gain_g: growth::mp_g(equivalent_kg, net_protein_g),
        },
        ca: grams(calcium(moment.weight_kg, net_protein_g, milk, fetus_of_kg)),
        p: grams(phosphorus(moment.weight_kg, net_protein_g, milk, fetus_of_kg)),
        milk_kg: milk,
        curve,
        vitamin_a_iu_per_kg: vitamin_a(group, stage),
        water_gal: water::gallons(drinker(group, moment), moment.weather.map_or(0.0, |weather| weather.mean_c)),
        lower_critical_c,
    }
}
