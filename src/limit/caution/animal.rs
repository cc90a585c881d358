//! What is told of the animals themselves: cold beyond feeding, bulls, condition at calving, grazing.

use super::{
    BULLS_AND_GOSSYPOL, COLD_BEYOND_FEEDING, CONDITION_AT_CALVING, Finding, GRAZING_WITHOUT_WALKING, Mix, SULFUR_A_DAY,
};
use crate::feed::{FeedClass, Nutrient};
use crate::herd::AnimalClass;
use crate::limit::Measure;
use crate::need::{ConditionPath, condition, mineral};

pub(super) fn cold(mix: &Mix<'_>, list: &mut Vec<Finding>) {
    let energy = &mix.block.needs.energy;
    let asked = mix.block.needs.cold_uncapped_nem_mcal;
    if asked > energy.cold_nem_mcal + 1e-9 {
        list.push(Finding {
            caution: &COLD_BEYOND_FEEDING,
            text: format!(
                "Cold asks {asked:.1} Mcal a day, more than 40 % of maintenance: {:.1} are in the ration, the rest comes off their backs. Shelter and a \
                 dry coat save more than feed.",
                energy.cold_nem_mcal
            ),
        });
    }
}

pub(super) fn bulls(mix: &Mix<'_>, list: &mut Vec<Finding>) {
    let is_bull = matches!(mix.block.group.class, AnimalClass::Bull | AnimalClass::YoungBull);
    let cotton = mix.fed().any(|(feed, _)| {
        matches!(feed.class, FeedClass::WholeCottonseed | FeedClass::CottonseedMeal | FeedClass::Cube)
            && feed.get(Nutrient::FreeGossypol).unwrap_or(0.0) > 0.0
    });
    if is_bull && cotton {
        list.push(Finding {
            caution: &BULLS_AND_GOSSYPOL,
            text: "Cottonseed feeds to bulls: stop 60 to 90 days before turn-out if the meal is direct-solvent or the seed untested; young bulls \
                   on meal showed sperm defects that passed after the feed was stopped."
                .to_owned()
                + if mix.block.group.turnout.is_none() { " The file gives no `turnout`, so nothing is kept from them." } else { "" },
        });
    }
}

pub(super) fn calving(mix: &Mix<'_>, list: &mut Vec<Finding>) {
    let (group, period) = (mix.block.group, mix.block.period);
    let Some(calving) = group.calving.filter(|day| *day >= period.from && *day < period.to) else { return };
    let wanted = if group.class == AnimalClass::BredHeifer { condition::TARGET_HEIFER } else { condition::TARGET_COW };
    let score = ConditionPath::of(group, mix.block.winter_start).score_on(calving);
    // A quarter of a score is what a practiced eye can tell.
    if score < wanted - 0.25 {
        list.push(Finding {
            caution: &CONDITION_AT_CALVING,
            text: format!(
                "The path given leads to score {score:.1} at calving; {wanted:.0} is wanted. The cheapest time to add condition is before \
                 the last 60 days."
            ),
        });
    }
}

pub(super) fn grazing(mix: &Mix<'_>, list: &mut Vec<Finding>) {
    let grazes = mix.fed().any(|(feed, _)| feed.class.is_grazed());
    if grazes && mix.block.group.activity_share <= 0.0 {
        list.push(Finding {
            caution: &GRAZING_WITHOUT_WALKING,
            text: "They graze, and nothing is counted for walking: 10 to 20 % of maintenance on easy ground, up to 50 % on poor hills. \
                   Write `activity_pct`."
                .to_owned(),
        });
    }
    let sulfur = mix.total(Measure::Sulfur).unwrap_or(0.0);
    if grazes && mix.block.group.class.calves() && sulfur > mineral::SULFUR_MOST_G {
        list.push(Finding {
            caution: &SULFUR_A_DAY,
            text: format!(
                "Sulfur is {sulfur:.0} g a day with the water; more than about {:.0} g is too much for a grazing cow.",
                mineral::SULFUR_MOST_G
            ),
        });
    }
}
