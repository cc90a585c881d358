//! Minerals and vitamin A: told with the ounces of an offered mineral that would close a gap.

use super::dose::SELENIUM_MOST_MG;
use super::{Finding, IRON, IRON_PPM, MINERAL_CEILING, MINERAL_GAP, Mix, VITAMIN_A, WORTH_TELLING};
use crate::feed::{FeedClass, Nutrient};
use crate::limit::Measure;
use crate::need::{mineral, vitamin};
use crate::quantity::G_PER_OZ;

/// Minerals and vitamin A: told with the ounces that would close a gap, never a row.
pub(super) fn minerals(mix: &Mix<'_>, list: &mut Vec<Finding>) {
    let dm = mix.total(Measure::Dm).unwrap_or(0.0);
    if dm <= 0.0 {
        return;
    }
    let pairs = [
        ("Mg", Nutrient::Mg),
        ("K", Nutrient::K),
        ("Na", Nutrient::Na),
        ("Co", Nutrient::Co),
        ("Cu", Nutrient::Cu),
        ("I", Nutrient::I),
        ("Mn", Nutrient::Mn),
        ("Se", Nutrient::Se),
        ("Zn", Nutrient::Zn),
    ];
    let mut gaps = Vec::new();
    for (symbol, nutrient) in pairs {
        let Some(level) = mineral::level_of(symbol) else { continue };
        let milking = mix.block.needs.milking_share;
        let need = if mix.block.group.class.calves() {
            level.gestating.zip(level.milking).map(|(dry, wet)| dry * (1.0 - milking) + wet * milking)
        } else {
            level.growing
        };
        let Some(need) = need else { continue };
        let (sum, silent) = mix.nutrient(nutrient);
        // A feed that does not state it may bring any amount: no gap can be told.
        if !silent.is_empty() {
            continue;
        }
        let have = sum / dm;
        if have < need * (1.0 - WORTH_TELLING) {
            let ounces = ounces_to_close(mix, nutrient, (need - have) * dm);
            gaps.push(format!(
                "{} {} of {} {}{}",
                nutrient.name(),
                trim(have),
                trim(need),
                level.unit,
                ounces.map_or(String::new(), |text| format!(" ({text})"))
            ));
        }
        let most = level.most_2016.map(|(_, high)| high).or(level.most_1996);
        if let Some(most) = most.filter(|most| have > *most) {
            list.push(Finding {
                caution: &MINERAL_CEILING,
                text: format!(
                    "{} is {} {} of dry matter, above the {} that is tolerated.",
                    capital(nutrient.name()),
                    if trim(have) == trim(most) { crate::limit::figure_text(have, 1) } else { trim(have) },
                    level.unit,
                    trim(most)
                ),
            });
        }
    }
    if !gaps.is_empty() {
        list.push(Finding {
            caution: &MINERAL_GAP,
            text: format!(
                "Of dry matter, below the need: {}. Minerals are told, not chosen: ask what your soils are short of.",
                gaps.join("; ")
            ),
        });
    }
    let (iron, silent) = mix.nutrient(Nutrient::Fe);
    // Iron is rarely stated; what is stated is a least.
    if iron / dm > IRON_PPM {
        let at_least = if silent.is_empty() { "" } else { "at least " };
        list.push(Finding {
            caution: &IRON,
            text: format!("Iron is {at_least}{:.0} ppm, above the {IRON_PPM:.0} tolerated: soil in the feed, and it ties up copper.", iron / dm),
        });
    }
    vitamin_a(mix, list);
}

fn vitamin_a(mix: &Mix<'_>, list: &mut Vec<Finding>) {
    let need = mix.block.needs.vitamin_a_iu;
    let (have, _) = mix.nutrient(Nutrient::VitaminA);
    if need > 0.0 && have < need * (1.0 - WORTH_TELLING) {
        let ounces =
            ounces_to_close(mix, Nutrient::VitaminA, need - have).map_or(String::new(), |text| format!(" ({text})"));
        list.push(Finding {
            caution: &VITAMIN_A,
            text: format!(
                "Vitamin A: {} of {} IU a day{ounces}. Dead grass and gin trash hold almost none; a liver full from green grass lasts {:.0} to \
                 {:.0} months.",
                crate::limit::figure_text((have / 1000.0).round() * 1000.0, 0),
                crate::limit::figure_text((need / 1000.0).round() * 1000.0, 0),
                vitamin::LIVER_MONTHS.0,
                vitamin::LIVER_MONTHS.1
            ),
        });
    }
}

/// Ounces as fed of an offered mineral that would bring what is missing, in nutrient units × kg of dry matter.
/// None where that would bring more selenium than the law allows.
fn ounces_to_close(mix: &Mix<'_>, nutrient: Nutrient, missing: f64) -> Option<String> {
    let selenium_mg: f64 = mix
        .fed()
        .filter(|(feed, _)| feed.class.is_mineral())
        .map(|(feed, kg)| kg * feed.get(Nutrient::Se).unwrap_or(0.0))
        .sum();
    mix.offers
        .iter()
        .filter(|offer| offer.feed.class == FeedClass::Mineral)
        .filter_map(|offer| {
            let strength = offer.feed.get(nutrient).filter(|value| *value > 0.0)?;
            let oz = missing / strength / (offer.feed.dm_pct() / 100.0) * 1000.0 / G_PER_OZ;
            let kg_dm = oz * G_PER_OZ / 1000.0 * offer.feed.dm_pct() / 100.0;
            let lawful = selenium_mg + kg_dm * offer.feed.get(Nutrient::Se).unwrap_or(0.0) <= SELENIUM_MOST_MG;
            (oz <= 8.0 && lawful).then(|| (oz, format!("{:.1} oz more of {}", oz.max(0.1), offer.feed.name)))
        })
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, text)| text)
}

fn trim(value: f64) -> String {
    let digits = if value.abs() >= 10.0 {
        0
    } else if value.abs() >= 1.0 {
        1
    } else {
        2
    };
    crate::limit::figure_text(value, digits)
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}
