//! What binds a winter beyond its rations: room in a store, what a seller has and when, and each feed itself.

use super::Case;
use super::assemble::{Cell, Cells, assemble_like};
use super::known::Known;
use super::plan::{Without, solve_growing_from};
use super::program::{Program, units_offered};
use crate::feed::Supply;
use crate::lp::{self, Certified};
use rayon::iter::Either;
use rayon::prelude::*;

/// What the limits of one store cost.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct StoreWorth {
    /// Saved by room for one more short ton all winter, US dollars; 0 where room does not bind.
    pub room_usd_per_ton: f64,
    /// Saved by one more short ton offered, US dollars, by period; 0 where the offer does not bind.
    pub supply_usd_per_ton: Vec<f64>,
    /// Saved over the winter if all of it came a week earlier, US dollars. `None`: not asked, since the seller has
    /// whatever is wanted or the winter is too big.
    pub week_earlier_usd: Option<f64>,
}

/// A price below this is none, US dollars per ton.
const NO_PRICE: f64 = 1e-6;

/// What the limits of the stores cost, by offer.
pub(super) fn store_worths(
    case: &Case,
    cells: &Cells<'_>,
    program: &Program,
    best: &Certified,
    big: bool,
) -> Vec<Option<StoreWorth>> {
    let saved = |reduced: f64| if -reduced > NO_PRICE { -reduced } else { 0.0 };
    program
        .stores
        .iter()
        .enumerate()
        .map(|(f, store)| {
            let store = store.as_ref()?;
            // A column at its upper side has a reduced cost below 0: one unit more of room would save as much.
            let room = store.left.iter().map(|col| saved(best.reduced_cost[col.0])).sum();
            let supply = store
                .bought
                .iter()
                .map(|col| col.map_or(0.0, |col| saved(best.reduced_cost[col.0] / store.unit_tons)))
                .collect();
            let offer = &case.offers[f];
            let limited = offer.supply != Supply::Unlimited || offer.from.is_some();
            let asked = limited && !big && offer.price_usd_per_ton.is_some();
            let week = if asked { week_earlier(case, cells, program, best, f) } else { None };
            Some(StoreWorth { room_usd_per_ton: room, supply_usd_per_ton: supply, week_earlier_usd: week })
        })
        .collect()
}

/// Saved if all of a feed came a week earlier.
fn week_earlier(case: &Case, cells: &Cells<'_>, program: &Program, best: &Certified, f: usize) -> Option<f64> {
    let store = program.stores[f].as_ref()?;
    let offer = &case.offers[f];
    let mut early = program.clone();
    for (col, units) in store.bought.iter().zip(units_offered(&case.periods, offer, store.unit_tons, 1)) {
        if let Some(col) = col {
            early.lp.cols[col.0].upper = units;
        }
    }
    let found = solve_growing_from(&mut early, cells, best).ok()?;
    Some(best.objective - found.objective)
}

/// Feeds that are bought and used at a point, minerals aside.
pub(super) fn bought_and_used(case: &Case, program: &Program, point: &[f64]) -> Vec<usize> {
    (0..case.offers.len())
        .filter(|f| {
            let offer = &case.offers[*f];
            let used =
                program.blocks.iter().flatten().any(|block| block.amounts[*f].is_some_and(|col| point[col.0] > 1e-6));
            used && offer.price_usd_per_ton.is_some() && !offer.feed.class.is_mineral()
        })
        .collect()
}

/// Cost of the winter without each of some feeds; and the feeds for which it could not be proved.
pub(super) fn without(
    (case, cells): (&Case, &Cells<'_>),
    whole_loads_usd: f64,
    known: &Known,
    feeds: &[usize],
) -> (Vec<Without>, Vec<usize>) {
    feeds
        .par_iter()
        .map(|&f| {
            // Rules hang on what is offered: what is eaten at will, how much trash beside other roughage.
            let mut bare = case.clone();
            bare.offers.remove(f);
            let before = cells;
            let cells = assemble_like(&bare, before).map_err(|_| f)?;
            let cost_usd = match known.solve(&mut Program::build(&bare, &cells), &cells) {
                Ok(found) => Some(found.objective + whole_loads_usd),
                Err(lp::Failure::Infeasible) => None,
                Err(_) => return Err(f),
            };
            let (rules_gone, at_will_changes) = differences(before, &cells);
            Ok(Without { offer: f, cost_usd, rules_gone, at_will_changes })
        })
        .partition_map(|found: Result<Without, usize>| match found {
            Ok(one) => Either::Left(one),
            Err(f) => Either::Right(f),
        })
}

/// Rules that hold in some block of one winter and not in the same block of another, and whether another roughage, or
/// none, is eaten at will there.
fn differences(before: &Cells<'_>, after: &Cells<'_>) -> (Vec<&'static str>, bool) {
    let mut gone: Vec<&'static str> = Vec::new();
    let mut at_will = false;
    for (old, new) in before.iter().flatten().zip(after.iter().flatten()) {
        let alone = |cell: &Cell<'_>| cell.block.base.as_ref().map(|base| base.alone_kg);
        at_will |= alone(old) != alone(new);
        for rule in old.demands.rules.iter().filter(|rule| rule.about.is_none()) {
            let stays = new.demands.rules.iter().any(|other| other.rule.id == rule.rule.id);
            if !stays && !gone.contains(&rule.rule.id) {
                gone.push(rule.rule.id);
            }
        }
    }
    (gone, at_will)
}

/// Dearest to lose first.
pub(super) fn dearest_first(mut list: Vec<Without>) -> Vec<Without> {
    list.sort_by(|a, b| b.cost_usd.unwrap_or(f64::INFINITY).total_cmp(&a.cost_usd.unwrap_or(f64::INFINITY)));
    list
}
