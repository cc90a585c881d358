//! A cold spell: what it asks of each group beyond the ration of the month, in pounds of the feeds at hand and in tons to
//! hold in reserve.

use crate::feed::Offer;
use crate::herd::{ColdSpell, Group, Place};
use crate::limit::{Force, Measure};
use crate::need::{SpellNeed, spell_need};
use crate::quantity::KgDm;
use crate::winter::{Case, Cell, Cells, Plan};
use jiff::civil::Date;

/// So much of one feed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ExtraFeed {
    /// Which offer.
    pub offer: usize,
    /// Extra per head on each day of the spell, kg of dry matter.
    pub kg_dm: f64,
    /// To hold in reserve for the group, short tons as fed: the spell, and the days after it on which what could not be
    /// eaten is made good; loss and waste included.
    pub reserve_tons: f64,
}

/// What a spell asks of one group.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GroupSpell {
    /// The need, per head and day.
    pub need: SpellNeed,
    /// The roughage to feed more of, if one can carry it.
    pub roughage: Option<ExtraFeed>,
    /// The supplement to feed more of instead, if one can carry it.
    pub supplement: Option<ExtraFeed>,
}

/// A spell and what it asks.
#[derive(Debug, Clone, PartialEq)]
pub struct Spell {
    /// The spell.
    pub spell: ColdSpell,
    /// The day it is laid on: the middle of the coldest month of the winter.
    pub day: Date,
    /// By group, in the order of the case.
    pub groups: Vec<GroupSpell>,
}

/// Limits that a few cold days may pass: cattle eat more in the cold, and what is fed then is meant to be more.
const OF_APPETITE: [&str; 7] =
    ["intake", "intake-at-will", "roughage-at-will", "heifer-intake", "forage-ndf", "your-fixed", "appetite-floor"];

/// What the spell of the place asks, fed on top of a plan; `None` if the file names no spell.
#[must_use]
pub fn spell(case: &Case, cells: &Cells<'_>, plan: &Plan) -> Option<Spell> {
    let spell = case.place.cold_spell?;
    let start = case.periods.first()?.from;
    let day = coldest_day(case)?;
    let groups = case
        .groups
        .iter()
        .enumerate()
        .map(|(g, group)| {
            let need = need_of(group, &case.place, &spell, day, start);
            let period = case.periods.iter().position(|period| period.from <= day && day < period.to);
            let found = period.map(|t| (&cells[g][t], plan.rations[g][t].kg_dm.as_slice()));
            let extra = |roughage| found.and_then(|(cell, kg_dm)| cheapest(case, cell, kg_dm, &need, roughage));
            GroupSpell { need, roughage: extra(true), supplement: extra(false) }
        })
        .collect();
    Some(Spell { spell, day, groups })
}

fn need_of(group: &Group, place: &Place, spell: &ColdSpell, day: Date, start: Date) -> SpellNeed {
    spell_need(group, place, spell, day, start, None)
}

/// The middle day of the winter's days in its coldest month; of the whole winter where no weather is known.
fn coldest_day(case: &Case) -> Option<Date> {
    let days: Vec<Date> = case.periods.iter().flat_map(crate::herd::Period::dates).collect();
    let of = |day: &Date| case.place.weather[usize::from(day.month().unsigned_abs()).saturating_sub(1) % 12];
    let coldest = days
        .iter()
        .filter_map(|day| of(day).map(|weather| (weather.mean_c, day.month())))
        .min_by(|a, b| a.0.total_cmp(&b.0));
    let month: Vec<&Date> = match coldest {
        Some((_, month)) => days.iter().filter(|day| day.month() == month).collect(),
        None => days.iter().collect(),
    };
    month.get(month.len() / 2).map(|day| **day)
}

/// The cheapest energy among the feeds that can carry the whole extra without breaking a limit on the feed itself.
/// Roughage already owned comes before roughage that must be bought.
fn cheapest(case: &Case, cell: &Cell<'_>, kg_dm: &[f64], need: &SpellNeed, roughage: bool) -> Option<ExtraFeed> {
    let extra_mcal = need.extra_nem_mcal();
    if extra_mcal <= 1e-9 {
        return None;
    }
    case.offers
        .iter()
        .enumerate()
        .filter(|(index, offer)| {
            let class = offer.feed.class;
            cell.block.available[*index]
                && !class.is_mineral()
                && class.is_roughage() == roughage
                // Grass under snow or ice is no reserve.
                && !class.is_grazed()
                && (offer.price_usd_per_ton.is_some() || offer.on_hand.0 > 0.0)
        })
        .filter_map(|(index, offer)| {
            let nem = Measure::Nem.per_kg_dm(index, &offer.feed, &cell.block).ok().filter(|nem| *nem > 0.0)?;
            let kg = extra_mcal / nem;
            carries(cell, kg_dm, index, kg).then(|| (usd_per_mcal(offer, nem), index, kg, nem))
        })
        .min_by(|a, b| {
            let bought = |index: usize| case.offers[index].on_hand.0 <= 0.0;
            bought(a.1).cmp(&bought(b.1)).then(a.0.total_cmp(&b.0))
        })
        .map(|(_, index, kg, nem)| {
            let offer = &case.offers[index];
            let days = f64::from(need.days);
            let later = need.left_over_nem_mcal() / nem;
            let head_days = f64::from(cell.block.group.head) * days;
            let tons = offer.tons_per_kg_dm_eaten(f64::from(cell.block.period.days()));
            ExtraFeed { offer: index, kg_dm: kg, reserve_tons: (kg + later) * head_days * tons }
        })
}

/// US dollars for one Mcal NEm eaten; what is owned at what it would sell for.
fn usd_per_mcal(offer: &Offer, nem_per_kg: f64) -> f64 {
    let price = if offer.on_hand.0 > 0.0 {
        offer.value_usd_per_ton
    } else {
        offer.delivered_usd_per_ton().unwrap_or(f64::INFINITY)
    };
    price * offer.tons_per_kg_dm_eaten(30.0) / nem_per_kg
}

/// Whether a ration with so much more of one feed breaks no limit that it keeps without, appetite aside.
fn carries(cell: &Cell<'_>, kg_dm: &[f64], index: usize, extra_kg: f64) -> bool {
    let mut more = kg_dm.to_vec();
    more[index] += extra_kg;
    cell.demands
        .rules
        .iter()
        .filter(|rule| matches!(rule.force, Force::Never | Force::Keep) && !OF_APPETITE.contains(&rule.rule.id))
        .all(|rule| rule.kept(rule.value(&more)) || !rule.kept(rule.value(kg_dm)))
}

impl ExtraFeed {
    /// Extra per head and day, pounds as fed.
    #[must_use]
    pub fn lb_as_fed(&self, offers: &[Offer]) -> f64 {
        KgDm(self.kg_dm).as_fed(offers[self.offer].feed.dm_pct()).lb()
    }
}
