//! How much at once and how much a day: nitrate, feedings that stand for several days, selenium and salt.

use super::{Caution, Finding, Mix};
use crate::feed::{FedHow, Feed, FeedClass, Nutrient, Offer};
use crate::limit::{figure_text, nitrate};
use crate::quantity::{G_PER_OZ, KgDm, lb_from_kg};
use crate::source::{Cite, Origin};

pub(super) static NITRATE_TESTED: Caution = Caution {
    id: "nitrate-tested",
    title: "nitrate in the diet",
    meaning: "A feed that tests over 700 ppm nitrate nitrogen, and what the feeds tested bring to the whole diet.",
    cite: Cite::new("clemson_nitrate", "1,000 ppm safe; the stricter 700 is of okstate_nitrate", Origin::Published),
};
pub(super) static NITRATE_UNTESTED: Caution = Caution {
    id: "nitrate-untested",
    title: "nitrate not known",
    meaning: "Sorghum, sudan, millet, small-grain or weedy roughage without a nitrate test. Of gin trash a caution of the feed tells.",
    cite: Cite::new("clemson_nitrate", "1,000 ppm safe; the stricter 700 is of okstate_nitrate", Origin::Published),
};
pub(super) static SEVERAL_DAYS_AT_ONCE: Caution = Caution {
    id: "several-days-at-once",
    title: "several days' feed at once",
    meaning: "Pounds a head at one feeding of what is fed less often than daily, roughage and minerals left out.",
    cite: Cite::new(
        "harty_olson2012",
        "protein once in 6 to 7 days; seed daily, every second day, or 3 to 4 days' supply in feeders (rankins_auburn2000)",
        Origin::Published,
    ),
};
pub(super) static SELENIUM_A_DAY: Caution = Caution {
    id: "selenium-a-day",
    title: "selenium above the legal most",
    meaning: "Selenium of minerals and premixes, mg a head and day, above 3. What does not state it may bring more.",
    cite: Cite::new("", "the legal most of added selenium, 3 mg a head and day", Origin::Memory),
};
pub(super) static SALT_A_DAY: Caution = Caution {
    id: "salt-a-day",
    title: "salt by hand",
    meaning: "Salt of salt and minerals given by hand, by their sodium, at one feeding, above 0.1 lb per 100 lb of body weight.",
    cite: Cite::new("okstate_ansi3008", "0.1 lb per 100 lb a day; 4 to 5 lb at once can kill", Origin::Published),
};

/// Most added selenium the law allows, mg a head and day (from memory).
pub(super) const SELENIUM_MOST_MG: f64 = 3.0;
/// Salt cattle take a day, share of body weight (Oklahoma State ANSI-3008).
const SALT_SHARE: f64 = 0.001;
/// Sodium in salt, by weight (22.99 / 58.44).
const SODIUM_IN_SALT: f64 = 0.3934;
/// A dose below this share of body weight is not worth a word (judgement).
const LEAST_DOSE: f64 = 0.001;
/// Words in the names of roughage that gathers nitrate.
const NITRATE_PLANTS: [&str; 12] = [
    "sorghum",
    "sudan",
    "millet",
    "milo",
    "johnson",
    "oat",
    "wheat",
    "rye",
    "barley",
    "triticale",
    "small_grain",
    "weed",
];

/// A finding with the dose it tells of, by which one period is worse than another.
type Dosed = (f64, Finding);

/// Every dose worth telling, the gravest kind first.
pub(super) fn doses(mix: &Mix<'_>) -> impl Iterator<Item = Dosed> {
    [nitrate_tested(mix), several_days(mix), selenium(mix), salt(mix)].into_iter().flatten()
}

/// Offers that are fed, with kg of dry matter.
fn given<'m>(mix: &'m Mix<'_>) -> impl Iterator<Item = (&'m Offer, f64)> {
    mix.offers.iter().zip(mix.kg_dm).filter(|(_, kg)| **kg > 1e-6).map(|(offer, kg)| (offer, *kg))
}

/// The same, those measured out by hand.
fn by_hand<'m>(mix: &'m Mix<'_>) -> impl Iterator<Item = (&'m Offer, f64)> {
    given(mix).filter(|(offer, _)| offer.fed_for(&mix.block.group.name) == FedHow::ByHand)
}

fn nitrate_tested(mix: &Mix<'_>) -> Option<Dosed> {
    let eaten: f64 = mix.fed().filter(|(feed, _)| !feed.class.is_mineral()).map(|(_, kg)| kg).sum();
    let mut brought = 0.0;
    let mut over = Vec::new();
    for (feed, kg) in mix.fed() {
        let Some(ppm) = feed.get(Nutrient::NitrateN) else { continue };
        brought += kg * ppm;
        if ppm > nitrate::STRICTER_SAFE_PPM {
            over.push(format!(
                "{} tests {} ppm nitrate N ({} ppm as nitrate) and is {:.0} % of dry matter",
                feed.name,
                figure_text(ppm, 0),
                figure_text(ppm * nitrate::NITRATE_PER_N, 0),
                100.0 * kg / eaten
            ));
        }
    }
    if over.is_empty() {
        return None;
    }
    let text = format!(
        "{}: {} ppm nitrate N in the whole diet from the feeds tested. Under 1,000 is printed as safe, by Oklahoma State under 700. Mix it \
         well, and test every cutting.",
        over.join("; "),
        figure_text(brought / eaten, 0)
    );
    Some((brought / eaten, Finding { caution: &NITRATE_TESTED, text }))
}

/// Roughage that is known to gather nitrate, by what is told of it or by its name.
fn gathers_nitrate(feed: &Feed) -> bool {
    let names = [feed.id.to_lowercase(), feed.name.to_lowercase()];
    // Print names the hay of small grains, not the straw that is left of ripe ones.
    let named =
        names.iter().any(|name| NITRATE_PLANTS.iter().any(|word| name.contains(word)) && !name.contains("straw"));
    feed.class.is_roughage()
        && feed.class != FeedClass::GinTrash
        && (named || feed.cautions.iter().any(|caution| caution.about == "nitrate"))
}

pub(super) fn nitrate_untested(mix: &Mix<'_>, list: &mut Vec<Finding>) {
    let mut names: Vec<&str> = mix
        .fed()
        .filter(|(feed, _)| feed.get(Nutrient::NitrateN).is_none())
        .filter(|(feed, _)| gathers_nitrate(feed))
        .map(|(feed, _)| feed.name.as_str())
        .collect();
    names.dedup();
    if !names.is_empty() {
        list.push(Finding {
            caution: &NITRATE_UNTESTED,
            text: format!(
                "Nitrate of {} is not known, which is not zero, so no limit counts it. Test it: under 1,000 ppm nitrate N is safe \
                 (under 700 by Oklahoma State), {}none to any over 4,000.",
                names.join(", "),
                // Whoever can be in calf may be in another month, or carry unseen.
                if mix.block.group.class.calves() { "half the ration to 1,500 in calf, none in calf from 2,000, " } else { "half the ration from 1,500, " }
            ),
        });
    }
}

fn several_days(mix: &Mix<'_>) -> Option<Dosed> {
    let weight = mix.block.needs.weight_kg;
    let seldom = by_hand(mix).filter(|(offer, _)| {
        offer.feeding.every_days > 1.0 && !offer.feed.class.is_roughage() && !offer.feed.class.is_mineral()
    });
    let (mut most, mut too_much, mut at_once) = (0.0_f64, false, Vec::new());
    for (offer, kg) in seldom {
        let days = offer.feeding.every_days;
        let each = KgDm(kg * days).as_fed(offer.feed.dm_pct());
        if each.0 < LEAST_DOSE * weight {
            continue;
        }
        most = most.max(each.0);
        too_much |= kg * days > mix.block.needs.dmi_kg;
        at_once.push(format!(
            "{} {:.1} lb a head every {} days, {:.1} % of body weight",
            offer.id,
            each.lb(),
            figure_text(days, usize::from(days.fract() > 0.01)),
            100.0 * each.0 / weight
        ));
    }
    if at_once.is_empty() {
        return None;
    }
    let text = format!(
        "At one feeding: {}. Give room for all to eat at once, or the first eat for those that come late.{}",
        at_once.join("; "),
        if too_much {
            " That is more than they eat in a day: they cannot clean it up at once; feed it oftener."
        } else {
            ""
        }
    );
    Some((most, Finding { caution: &SEVERAL_DAYS_AT_ONCE, text }))
}

fn selenium(mix: &Mix<'_>) -> Option<Dosed> {
    let brings: Vec<(&Offer, f64, f64)> = given(mix)
        .filter(|(offer, _)| offer.feed.class.is_mineral())
        .filter_map(|(offer, kg)| Some((offer, kg, kg * offer.feed.get(Nutrient::Se)?)))
        .filter(|(_, _, mg)| *mg > 0.0)
        .collect();
    let total: f64 = brings.iter().map(|(_, _, mg)| mg).sum();
    if total <= SELENIUM_MOST_MG * (1.0 + 1e-6) {
        return None;
    }
    let ounces: Vec<String> = brings
        .iter()
        .map(|(offer, kg, _)| {
            let oz = KgDm(kg * SELENIUM_MOST_MG / total).as_fed(offer.feed.dm_pct()).0 * 1000.0 / G_PER_OZ;
            format!("{oz:.1} oz of {}", offer.id)
        })
        .collect();
    let text = format!(
        "Minerals bring {total:.1} mg of selenium a head a day; the legal most of added selenium is {SELENIUM_MOST_MG:.0} mg, which {} would \
         bring. It is a poison in excess: feed the ounces on the tag, and ask your veterinarian.",
        ounces.join(" with ")
    );
    Some((total, Finding { caution: &SELENIUM_A_DAY, text }))
}

fn salt(mix: &Mix<'_>) -> Option<Dosed> {
    let most_lb = lb_from_kg(SALT_SHARE * mix.block.needs.weight_kg);
    let at_once_lb: f64 = by_hand(mix)
        .filter(|(offer, _)| offer.feed.class.is_mineral())
        .map(|(offer, kg)| {
            let sodium = offer.feed.get(Nutrient::Na).unwrap_or(0.0) / 100.0;
            lb_from_kg(kg * offer.feeding.every_days * sodium / SODIUM_IN_SALT)
        })
        .sum();
    if at_once_lb <= most_lb * (1.0 + 1e-6) {
        return None;
    }
    let text = format!(
        "Salt by hand is {at_once_lb:.1} lb a head at one feeding, by the sodium of what is given; cattle of this weight take about \
         {most_lb:.1} lb a day, and 4 to 5 lb at once can kill a cow. Keep plenty of fresh water before them."
    );
    Some((at_once_lb, Finding { caution: &SALT_A_DAY, text }))
}
