//! Feeds that may not be given to a class at all. They leave the programme before it is solved.

use super::nitrate;
use crate::feed::{FeedClass, Nutrient, Offer};
use crate::herd::{AnimalClass, Group, Period};
use crate::need::Needs;
use crate::quantity::KG_PER_LB;
use crate::source::Origin;

/// Days before turn-out in which young bulls get no untested seed, and no bulls meal high in free gossypol (60 to 90
/// days: sperm cycle about 61 days from memory; Hassan 2004, defects gone some time after four weeks; judgement).
pub const BULL_WITHDRAWAL_DAYS: i32 = 90;
/// Days from turn-out on in which bulls breed, as long as the bar goes on (judgement: a season of 60 to 90 days).
pub const BREEDING_DAYS: i32 = 90;
/// Free gossypol of meal above which it is counted as direct-solvent, % of dry matter: that meal holds 0.1 to 0.5, expander
/// meal 0.1 to 0.2, all others less (from memory).
pub const DIRECT_SOLVENT_PCT: f64 = 0.2;
/// Urea, and what holds it by recipe, is not for cattle lighter than this, kg (about 450 lb, from memory).
pub const UREA_LEAST_KG: f64 = 204.0;
/// Cattle lighter than this may be calves under four months, lb (judgement).
pub const CALF_LEAST_LB: f64 = 250.0;

/// Whether the free gossypol of a feed was tested: a test of anything else says nothing of it.
fn gossypol_tested(offer: &Offer) -> bool {
    offer.feed.values.get(&Nutrient::FreeGossypol).is_some_and(|figure| figure.origin == Origin::Given)
}

/// Whether a feed may hold free gossypol: what is not known is not zero.
fn holds_gossypol(offer: &Offer) -> bool {
    offer.feed.class.gossypol_form().is_some() && offer.feed.get(Nutrient::FreeGossypol) != Some(0.0)
}

/// Why a feed may not be given to a group in a period; `None`: it may.
#[must_use]
pub fn reason(group: &Group, period: &Period, needs: &Needs, offer: &Offer) -> Option<&'static str> {
    if group.class == AnimalClass::YoungCalf {
        return Some("calves under four months stay with their dams and get no ration");
    }
    // What grows is lightest on the first day; needs are those of the middle.
    let weight_kg = needs.weight_kg - 0.5 * f64::from(period.days()) * needs.gain_kg.max(0.0);
    if weight_kg < CALF_LEAST_LB * KG_PER_LB && holds_gossypol(offer) {
        return Some("no cottonseed feed to cattle under 250 lb, who may be calves under four months");
    }
    if offer.feed.holds_npn() && weight_kg < UREA_LEAST_KG {
        return Some("urea, and feed that holds it, is not for cattle under about 450 lb");
    }
    for_bulls(group, period, offer).or_else(|| for_nitrate(group, period, offer))
}

fn for_bulls(group: &Group, period: &Period, offer: &Offer) -> Option<&'static str> {
    let turnout = group.turnout?;
    let days_left = period.to.until(turnout).map_or(0, |span| span.get_days());
    let days_since = turnout.until(period.from).map_or(0, |span| span.get_days());
    if days_left >= BULL_WITHDRAWAL_DAYS || days_since >= BREEDING_DAYS {
        return None;
    }
    let free_gossypol = offer.feed.get(Nutrient::FreeGossypol).unwrap_or(0.0);
    match (offer.feed.class, group.class) {
        (FeedClass::WholeCottonseed, AnimalClass::YoungBull) if !gossypol_tested(offer) => Some(
            "no whole cottonseed to young bulls from 90 days before turn-out to the end of breeding unless its gossypol was tested",
        ),
        (FeedClass::CottonseedMeal, AnimalClass::YoungBull | AnimalClass::Bull)
            if free_gossypol > DIRECT_SOLVENT_PCT =>
        {
            Some(
                "no meal with over 0.2 % free gossypol (direct-solvent) to bulls from 90 days before turn-out to the end of breeding",
            )
        }
        _ => None,
    }
}

fn for_nitrate(group: &Group, period: &Period, offer: &Offer) -> Option<&'static str> {
    let ppm = offer.feed.get(Nutrient::NitrateN)?;
    if ppm > nitrate::NONE_PPM {
        Some("it tests over 4,000 ppm nitrate nitrogen, which no cattle may have")
    } else if ppm >= nitrate::NONE_IN_CALF_PPM && nitrate::in_calf(group, period) {
        Some("it tests 2,000 ppm nitrate nitrogen or more, which females in calf may not have")
    } else {
        None
    }
}
