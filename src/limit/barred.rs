//! Feeds that may not be given to a class at all. They leave the programme before it is solved.

use crate::feed::{FeedClass, Nutrient, Offer};
use crate::herd::{AnimalClass, Group, Period};
use crate::need::Needs;
use crate::source::Origin;

/// Days before turn-out in which young bulls get no untested seed (60 to 90 days: sperm cycle about 61 days from
/// memory; Hassan 2004, defects gone some time after four weeks; judgement).
pub const BULL_WITHDRAWAL_DAYS: i32 = 90;
/// Urea is not for cattle lighter than this, kg (about 450 lb, from memory).
pub const UREA_LEAST_KG: f64 = 204.0;

/// Whether the free gossypol of a feed was tested: a test of anything else says nothing of it.
fn gossypol_tested(offer: &Offer) -> bool {
    offer.feed.values.get(&Nutrient::FreeGossypol).is_some_and(|figure| figure.origin == Origin::Given)
}

/// Why a feed may not be given to a group in a period; `None`: it may.
#[must_use]
pub fn reason(group: &Group, period: &Period, needs: &Needs, offer: &Offer) -> Option<&'static str> {
    let class = offer.feed.class;
    if group.class == AnimalClass::YoungCalf {
        return Some("calves under four months stay with their dams and get no ration");
    }
    if class == FeedClass::Urea && needs.weight_kg < UREA_LEAST_KG {
        return Some("urea is not for cattle under about 450 lb");
    }
    if group.class == AnimalClass::YoungBull && class == FeedClass::WholeCottonseed && !gossypol_tested(offer) {
        let near = group.turnout.is_some_and(|turnout| {
            let days_left = period.to.until(turnout).map_or(0, |span| span.get_days());
            days_left < BULL_WITHDRAWAL_DAYS && period.from < turnout
        });
        if near {
            return Some(
                "no whole cottonseed to young bulls in the 90 days before turn-out unless its gossypol was tested",
            );
        }
    }
    None
}
