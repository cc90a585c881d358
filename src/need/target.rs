//! The gain asked of an animal on a day, and its weight then.

use super::growth::{FIRST_CALVING, even_gain_kg, first_calf_gain_kg};
use super::path::days_between;
use crate::herd::{AnimalClass, Group, Stage};
use jiff::civil::Date;

/// Daily gain asked for on a day, kg of shrunk weight, growth only.
///
/// The gain in the file; else evenly to the weight wanted, until its date; else the target of the class: a bred heifer
/// 0.85 of mature weight at calving, never negative; after calving, and first-calf cows, (0.92 − 0.85) of mature weight
/// a year. Classes that do not grow, and growing cattle with no target, gain nothing.
#[must_use]
pub fn gain_kg(group: &Group, day: Date, winter_start: Date) -> f64 {
    if !group.class.grows() {
        return 0.0;
    }
    if let Some(gain) = group.gain_kg_per_day {
        return gain.max(0.0);
    }
    if let Some((wanted_kg, by)) = group.weight_wanted_kg
        && day < by
    {
        return even_gain_kg(group.weight_kg, wanted_kg, days_between(winter_start, by));
    }
    match (group.class, group.calving) {
        (AnimalClass::BredHeifer, Some(calving)) if day < calving => {
            even_gain_kg(group.weight_kg, FIRST_CALVING * group.mature_weight_kg, days_between(winter_start, calving))
        }
        (AnimalClass::BredHeifer | AnimalClass::FirstCalfCow, _) => first_calf_gain_kg(group.mature_weight_kg),
        _ => 0.0,
    }
}

/// Weight on a day, kg, without the calf she carries: the weight at the start of the winter and the gain since.
///
/// A change of condition does not change it: the energy of condition is counted by itself.
#[must_use]
pub fn weight_kg(group: &Group, day: Date, winter_start: Date) -> f64 {
    if !group.class.grows() || day <= winter_start {
        return group.weight_kg;
    }
    // The gain is even but for the days a target is reached or she calves.
    let mut turns: Vec<Date> = [group.weight_wanted_kg.map(|(_, by)| by), group.calving, Some(day)]
        .into_iter()
        .flatten()
        .filter(|turn| *turn > winter_start && *turn <= day)
        .collect();
    turns.sort_unstable();
    let (mut weight, mut from) = (group.weight_kg, winter_start);
    for turn in turns {
        weight += gain_kg(group, from, winter_start) * days_between(from, turn);
        from = turn;
    }
    weight
}

/// A female still growing for whom the first-calf factors of condition hold.
#[must_use]
pub fn is_first_calf(group: &Group) -> bool {
    matches!(group.class, AnimalClass::FirstCalfCow | AnimalClass::BredHeifer)
}

/// Whether a change of condition is counted as reserves: not for growing cattle without a calf, whose gain holds it.
#[must_use]
pub fn has_reserves(group: &Group) -> bool {
    !matches!(
        group.class,
        AnimalClass::Stocker | AnimalClass::ReplacementHeifer | AnimalClass::YoungBull | AnimalClass::YoungCalf
    )
}

/// The stage of a group's female by the printed monthly tables, `month` counted from calving (1 to 12).
///
/// Days in calf 280 − 30.4 (12 − month), milk at the end of the month, in milk for 30 weeks.
#[must_use]
pub fn stage_in_month(month: u32) -> Stage {
    use crate::herd::stage::GESTATION_DAYS;
    use crate::quantity::DAYS_PER_MONTH;
    let since = DAYS_PER_MONTH * f64::from(month);
    Stage {
        gestation_days: (GESTATION_DAYS - DAYS_PER_MONTH * (12.0 - f64::from(month))).max(0.0),
        milking_days: (since / 7.0 < super::lactation::WEEKS).then_some(since),
        since_calving_days: Some(since),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_tables_milk_for_six_months_and_carry_from_the_third() {
        for month in 1..=12 {
            let stage = stage_in_month(month);
            assert_eq!(stage.milking(), month <= 6, "month {month}");
            assert_eq!(stage.gestation_days > 0.0, month >= 3, "month {month}");
            assert_eq!(stage.last_third(), month >= 10, "month {month}");
        }
    }
}
