//! What tests too wet to lie in a pile.

use super::{Caution, Finding, Mix};
use crate::feed::{FeedClass, Nutrient};
use crate::source::{Cite, Origin};

pub(super) static TOO_WET: Caution = Caution {
    id: "too-wet",
    title: "too wet to store",
    meaning: "Seed that tests over 14 % moisture; gin trash, hay or straw that tests over 15 %.",
    cite: Cite::new(
        "edis_an134",
        "seed 14 %, and fire; best under 10 % is of cotton_inc_feed; mold above 14 to 15 % of uga_ray; the heated pile of ndsu_heated",
        Origin::Published,
    ),
};

/// Moisture above which seed heats, % (EDIS AN134).
const SEED_PCT: f64 = 14.0;
/// Moisture above which trash and hay mold, % (Ray, University of Georgia: 14 to 15).
const ROUGHAGE_PCT: f64 = 15.0;
/// Row of the table that is wet because it is ensiled.
const ENSILED: &str = "gin_trash_ensiled";

pub(super) fn too_wet(mix: &Mix<'_>, list: &mut Vec<Finding>) {
    let mut texts: Vec<String> = Vec::new();
    for (feed, _) in mix.fed() {
        // Only what was tested: rows of the table are not this pile.
        let Some(dm) = feed.values.get(&Nutrient::Dm).filter(|figure| figure.origin == Origin::Given) else { continue };
        let (moisture, name) = (100.0 - dm.mean, &feed.name);
        let text = match feed.class {
            FeedClass::WholeCottonseed if moisture > SEED_PCT => format!(
                "{name} tests {moisture:.0} % moisture. Over 14 % seed heats and molds, and stacked high it can burn (best is under 10 % and \
                 60 °F): do not store it, feel the pile for heat, and reject musty seed."
            ),
            FeedClass::GinTrash | FeedClass::Hay | FeedClass::Straw
                if moisture > ROUGHAGE_PCT && feed.id != ENSILED =>
            {
                format!(
                    "{name} tests {moisture:.0} % moisture. Above 14 to 15 % it molds and heats in the pile; one heated pile of ground hay \
                     tested 32 % TDN against 52 %, so do not trust energy from before it heated."
                )
            }
            _ => continue,
        };
        if !texts.contains(&text) {
            texts.push(text);
        }
    }
    if !texts.is_empty() {
        list.push(Finding { caution: &TOO_WET, text: texts.join(" ") });
    }
}
