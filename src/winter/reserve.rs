//! What to keep for a cold spell on top of the plan, and when a stack runs out with and without it.

use super::Case;
use super::assemble::Cells;
use super::plan::{FeedWinter, Plan};
use crate::feed::{Offer, energy};
use crate::herd::{ColdSpell, Period};
use crate::need::spell::spell_need;
use crate::quantity::KG_PER_TON;
use jiff::ToSpan;
use jiff::civil::Date;

/// What to keep of one feed.
#[derive(Debug, Clone, PartialEq)]
pub struct Reserve {
    /// Which offer.
    pub offer: usize,
    /// Extra energy it is to bring, Mcal NEm over the spell.
    pub nem_mcal: f64,
    /// Short tons as fed, waste at the feeder counted.
    pub tons: f64,
    /// Short tons the plan leaves of it at the end of the winter.
    pub left_tons: f64,
    /// US dollars: bought at its price, or what the plan saves by having it.
    pub usd: f64,
}

/// What to keep for the place's cold spell falling in the coldest period; empty without one.
#[must_use]
pub fn reserves(case: &Case, cells: &Cells<'_>, plan: &Plan) -> Vec<Reserve> {
    let Some(spell) = &case.place.cold_spell else { return Vec::new() };
    let Some(coldest) = coldest(case) else { return Vec::new() };
    let mut list: Vec<Reserve> = Vec::new();
    for (g, row) in cells.iter().enumerate() {
        let Some(f) = roughage(case, &plan.rations[g][coldest].kg_dm) else { continue };
        let nem_mcal = extra_mcal(case, row[coldest].block.group, spell, coldest);
        let offer = &case.offers[f];
        let tons = nem_mcal * tons_per_mcal(offer);
        match list.iter_mut().find(|one| one.offer == f) {
            Some(one) => {
                one.nem_mcal += nem_mcal;
                one.tons += tons;
            }
            None => list.push(Reserve { offer: f, nem_mcal, tons, left_tons: left(&plan.feeds[f]), usd: 0.0 }),
        }
    }
    list.retain(|one| one.tons > 1e-6);
    for one in &mut list {
        let offer = &case.offers[one.offer];
        let worth = plan.feeds[one.offer].one_more_ton_usd.unwrap_or(0.0).max(offer.own_value_usd_per_ton());
        let price = offer.delivered_on(case.periods[coldest].from).unwrap_or(worth);
        // What the plan leaves over stands ready already.
        one.usd = (one.tons - one.left_tons).max(0.0) * price;
    }
    list
}

/// Extra energy a spell asks of a group, Mcal NEm.
fn extra_mcal(case: &Case, group: &crate::herd::Group, spell: &ColdSpell, period: usize) -> f64 {
    let days = case.periods[period].days();
    let middle = case.periods[period].from.checked_add(i64::from(days / 2).days()).unwrap_or(case.periods[period].from);
    let need = spell_need(group, &case.place, spell, middle, case.periods[0].from, None);
    need.extra_nem_mcal() * f64::from(group.head) * f64::from(spell.days)
}

/// Short tons at the feeder for one Mcal NEm of a roughage.
#[must_use]
pub fn tons_per_mcal(offer: &Offer) -> f64 {
    let nem = offer.feed.get(crate::feed::Nutrient::Tdn).map_or(0.0, energy::nem_mcal_per_kg);
    let dm = offer.feed.dm_pct() / 100.0;
    if nem > 0.0 { 1.0 / nem / dm / (1.0 - offer.waste) / KG_PER_TON } else { 0.0 }
}

/// The period with the lowest mean temperature on its first day's month; the middle one where no weather is known.
fn coldest(case: &Case) -> Option<usize> {
    let mean = |period: &Period| {
        let month = usize::try_from(period.from.month() - 1).unwrap_or(0);
        case.place.weather[month].map(|weather| weather.mean_c)
    };
    let known = (0..case.periods.len()).filter_map(|t| mean(&case.periods[t]).map(|mean| (t, mean)));
    let found = known.min_by(|a, b| a.1.total_cmp(&b.1)).map(|(t, _)| t);
    found.or(if case.periods.is_empty() { None } else { Some(case.periods.len() / 2) })
}

/// The harvested roughage of a ration to feed more of: what is owned first, else what is fed most.
fn roughage(case: &Case, kg_dm: &[f64]) -> Option<usize> {
    (0..case.offers.len())
        .filter(|f| {
            let class = case.offers[*f].feed.class;
            kg_dm[*f] > 1e-6 && class.is_roughage() && !class.is_grazed()
        })
        .max_by(|a, b| {
            let owned = |f: usize| case.offers[f].on_hand.0 > 0.0;
            owned(*a).cmp(&owned(*b)).then(kg_dm[*a].total_cmp(&kg_dm[*b]))
        })
}

fn left(feed: &FeedWinter) -> f64 {
    feed.flows.last().map_or(0.0, |flow| flow.left_tons)
}

/// The day on which no more than `kept` tons are left of a feed, fed evenly within each period; `None`: it lasts.
#[must_use]
pub fn runs_out(case: &Case, feed: &FeedWinter, kept: f64) -> Option<Date> {
    // What is fed after a purchase still to come has not run out.
    let from = feed.flows.iter().rposition(|flow| flow.opening_tons + flow.bought_tons > kept.max(0.05))?;
    let (flow, period) = (&feed.flows[from], &case.periods[from]);
    let (first, last) = (flow.opening_tons + flow.bought_tons, flow.left_tons);
    if last > kept.max(0.05) {
        return None;
    }
    let share = ((first - kept) / (first - last).max(1e-9)).clamp(0.0, 1.0);
    #[expect(clippy::cast_possible_truncation, reason = "days of one period")]
    let days = (share * f64::from(period.days())).floor() as i64;
    period.from.checked_add(days.days()).ok()
}
