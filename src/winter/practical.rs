//! Practical amounts: rations rounded to the scoop, mended where rounding breaks a rule, then bought and paid anew.

use super::Case;
use super::assemble::{Cell, Cells};
use super::plan::Plan;
use super::program::Program;
use super::read::{flows, ration_usd, stored_unit_costs};
use crate::feed::{FedHow, FeedClass, Offer};
use crate::limit::{Instance, Sense};
use crate::lp;
use crate::quantity::{G_PER_OZ, KG_PER_LB, KgAsFed};

/// Why a plan cannot be rounded.
#[derive(Debug, Clone, PartialEq)]
pub enum Unrounded {
    /// No amounts in scoops near the ration keep every rule: group and period.
    Block(usize, usize),
    /// The rounded rations take more than there is, however the hay is rounded.
    Stores,
}

/// Most rounds of making feeds in short supply dearer.
const ROUNDS: u32 = 6;
/// Rounds a plan: the same winter in practical amounts, bought and paid anew. Prices of rules and worths of feeds stay
/// those of the exact plan.
///
/// # Errors
/// The block that cannot be rounded, or that the stores do not reach.
pub fn round(case: &Case, cells: &Cells<'_>, plan: &Plan) -> Result<Plan, Unrounded> {
    // Dollars per ton by which kept feeds are held back until the stores reach.
    let mut held_back = vec![0.0; case.offers.len()];
    for round in 0..ROUNDS {
        // Where the stores do not reach, the search goes farther from the plan.
        let from_tier = (round as usize).div_ceil(2).min(TIERS.len() - 1);
        let mut rations = Vec::new();
        for (g, row) in cells.iter().enumerate() {
            let mut rounded = Vec::new();
            for (t, cell) in row.iter().enumerate() {
                let price = prices(case, cell, plan, &held_back);
                let planned = &plan.rations[g][t].kg_dm;
                rounded.push(block(case, cell, planned, &price, from_tier).ok_or(Unrounded::Block(g, t))?);
            }
            rations.push(rounded);
        }
        if let Some((program, x)) = pay(case, cells, plan, &rations) {
            return Ok(rounded_plan((case, cells), plan, &program, &x, rations));
        }
        for (held, offer) in held_back.iter_mut().zip(&case.offers) {
            if offer.on_hand.0 > 0.0 {
                *held += 50.0 * f64::from(2_u32.pow(round));
            }
        }
    }
    Err(Unrounded::Stores)
}

fn rounded_plan(
    (case, cells): (&Case, &Cells<'_>),
    plan: &Plan,
    program: &Program,
    x: &[f64],
    rations: Vec<Vec<Vec<f64>>>,
) -> Plan {
    let mut rounded = plan.clone();
    let unit_costs = stored_unit_costs(case, program, x);
    for ((row, fed), here) in rounded.rations.iter_mut().zip(rations).zip(cells) {
        for ((ration, kg_dm), cell) in row.iter_mut().zip(fed).zip(here) {
            ration.usd_by_offer = ration_usd(case, &cell.block, &kg_dm, &unit_costs);
            ration.kg_dm = kg_dm;
        }
    }
    for (f, feed) in rounded.feeds.iter_mut().enumerate() {
        feed.flows = flows(case, program, f, x);
    }
    rounded.cost_usd = program.lp.cost(x);
    rounded.changes_lb = super::steady::changes_lb(case, program, x);
    rounded
}

/// US dollars per kg of dry matter of each offer: its price, or what a ton more of it would be worth.
fn prices(case: &Case, cell: &Cell<'_>, plan: &Plan, held_back: &[f64]) -> Vec<f64> {
    let period = cell.block.period;
    case.offers
        .iter()
        .zip(&plan.feeds)
        .zip(held_back)
        .map(|((offer, feed), held)| {
            let usd = feed.one_more_ton_usd.or(offer.delivered_on(period.from)).unwrap_or(0.0);
            (usd + held) * offer.tons_per_kg_dm_eaten(f64::from(period.days()))
        })
        .collect()
}

/// The scoop of an offer, kg of dry matter.
fn scoop_kg_dm(case: &Case, offer: &Offer) -> f64 {
    let as_fed = match offer.feed.class {
        FeedClass::Mineral | FeedClass::Limestone => G_PER_OZ / 1000.0,
        _ => case.settings.scoop_lb * KG_PER_LB,
    };
    KgAsFed(as_fed).dry(offer.feed.dm_pct()).0
}

/// The cheapest amounts in scoops near the planned ones that keep every rule of a block. What
/// is eaten at will is not measured out: it follows from the rest.
fn block(case: &Case, cell: &Cell<'_>, planned: &[f64], price: &[f64], from_tier: usize) -> Option<Vec<f64>> {
    let group = &cell.block.group.name;
    let fixed = |f: usize| {
        let offer = &case.offers[f];
        let together = offer.lot_of.as_ref().and_then(|lot| lot.bounds_for(group).fixed);
        offer.bounds_for(group).fixed.is_some() || together.is_some() || offer.feed.class.is_grazed()
    };
    let at_will = |f: usize| case.offers[f].fed_for(group) == FedHow::FreeChoice;
    // Where room must be filled to the pound, one roughage takes what is left: that at will, else the most of the rest.
    let base = (0..planned.len())
        .filter(|f| cell.block.base.is_some() && planned[*f] > 1e-9 && !fixed(*f))
        .filter(|f| case.offers[*f].feed.class.is_roughage())
        .max_by(|a, b| at_will(*a).cmp(&at_will(*b)).then(planned[*a].total_cmp(&planned[*b])));
    let usable = |f: usize| {
        !fixed(f) && !at_will(f) && Some(f) != base && cell.block.available[f] && case.offers[f].can_be_had()
    };
    let mut measured: Vec<usize> = (0..planned.len()).filter(|f| usable(*f) && planned[*f] > 1e-9).collect();
    measured.sort_by(|a, b| planned[*b].total_cmp(&planned[*a]));
    // Feeds that are not in the ration may be what mends it.
    let others: Vec<usize> = (0..planned.len()).filter(|f| usable(*f) && planned[*f] <= 1e-9).collect();
    TIERS.iter().skip(from_tier).find_map(|tier| {
        let mut tried = measured.clone();
        if tier.others {
            tried.extend(&others);
        }
        tried.truncate(tier.most_feeds);
        cheapest(case, cell, planned, price, (&tried, tier.steps), base)
    })
}

/// What is tried, in order: steps from the scoop below the planned amount.
struct Tier {
    steps: &'static [f64],
    most_feeds: usize,
    others: bool,
}

const TIERS: [Tier; 4] = [
    Tier { steps: &[0.0, 1.0], most_feeds: 12, others: false },
    Tier { steps: &[-1.0, 0.0, 1.0, 2.0], most_feeds: 7, others: true },
    Tier { steps: &[-2.0, -1.0, 0.0, 1.0, 2.0, 3.0], most_feeds: 6, others: true },
    Tier { steps: &[-5.0, -4.0, -3.0, -2.0, -1.0, 0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0], most_feeds: 4, others: true },
];

/// The cheapest of all combinations of steps that keeps every rule.
fn cheapest(
    case: &Case,
    cell: &Cell<'_>,
    planned: &[f64],
    price: &[f64],
    (tried, steps): (&[usize], &[f64]),
    base: Option<usize>,
) -> Option<Vec<f64>> {
    let scoops: Vec<(usize, f64, f64)> = tried
        .iter()
        .map(|f| {
            let scoop = scoop_kg_dm(case, &case.offers[*f]);
            (*f, scoop, (planned[*f] / scoop + 1e-9).floor())
        })
        .collect();
    let mut best: Option<(f64, Vec<f64>)> = None;
    let count = steps.len().pow(u32::try_from(tried.len()).unwrap_or(0));
    let mut kg = planned.to_vec();
    for mut code in 0..count {
        let mut repeated = false;
        for (f, scoop, floor) in &scoops {
            let amount = floor + steps[code % steps.len()];
            // Below nothing is nothing, which another step stands for.
            repeated |= amount < 0.0;
            kg[*f] = amount.max(0.0) * scoop;
            code /= steps.len();
        }
        if repeated || base.is_some_and(|base| !fill_up(cell, base, &mut kg)) {
            continue;
        }
        let cost: f64 = kg.iter().zip(price).map(|(kg, usd)| kg * usd).sum();
        if best.as_ref().is_none_or(|(least, _)| cost < *least) && keeps(cell, &kg) {
            best = Some((cost, kg.clone()));
        }
    }
    best.map(|(_, kg)| kg)
}

/// Lets what is eaten at will fill the room the rest leaves; false if the rest leaves none.
fn fill_up(cell: &Cell<'_>, base: usize, kg: &mut [f64]) -> bool {
    let room = cell.demands.rules.iter().find(|rule| rule.rule.sense == Sense::Exactly && rule.about.is_none());
    let Some(room) = room else { return true };
    let (row, side) = room.row();
    if row[base].abs() < 1e-12 {
        return true;
    }
    let rest: f64 = row.iter().zip(kg.iter()).enumerate().filter(|(f, _)| *f != base).map(|(_, (a, x))| a * x).sum();
    kg[base] = (side - rest) / row[base];
    kg[base] >= 0.0
}

/// Whether a ration keeps every rule of its block.
fn keeps(cell: &Cell<'_>, kg: &[f64]) -> bool {
    let kept = |rule: &Instance| rule.kept(rule.value(kg));
    let grows = |growth: &crate::limit::Growth| {
        growth.retained_neg_mcal(kg) >= growth.gain_neg_mcal - 1e-6 * growth.gain_neg_mcal.max(1.0)
    };
    cell.demands.rules.iter().all(kept)
        && cell.demands.growth.as_ref().is_none_or(grows)
        && cell.demands.sure_enough(kg)
}

/// Buys for given rations at least cost, in whole loads where the plan does. `None`: the stores do not reach.
fn pay(case: &Case, cells: &Cells<'_>, plan: &Plan, rations: &[Vec<Vec<f64>>]) -> Option<(Program, Vec<f64>)> {
    let mut program = Program::build(case, cells);
    // The rules were held above; only stores and money are left.
    for block in program.blocks.iter().flatten() {
        for row in &block.rules {
            let row = &mut program.lp.rows[row.0];
            (row.lower, row.upper) = (f64::NEG_INFINITY, f64::INFINITY);
        }
        if let Some(growth) = &block.growth {
            for (_, keep, grow) in &growth.tangents {
                program.lp.rows[keep.0].lower = f64::NEG_INFINITY;
                program.lp.rows[grow.0].lower = f64::NEG_INFINITY;
            }
        }
    }
    for (row, fed) in program.blocks.iter().zip(rations) {
        for (block, kg) in row.iter().zip(fed) {
            for (col, kg) in block.amounts.iter().zip(kg) {
                if let Some(col) = col {
                    (program.lp.cols[col.0].lower, program.lp.cols[col.0].upper) = (*kg, *kg);
                }
            }
        }
    }
    let loads: Vec<lp::ColId> = case
        .offers
        .iter()
        .zip(&program.stores)
        .filter(|(offer, _)| offer.whole_loads)
        .filter_map(|(_, store)| store.as_ref())
        .flat_map(|store| store.bought.iter().flatten().copied())
        .collect();
    let x = if loads.is_empty() || !matches!(plan.whole, Some(super::loads::WholeLoads::Found { .. })) {
        lp::solve(&program.lp).ok()?.x
    } else {
        lp::solve_whole(&program.lp, &loads, None, super::loads::GAP, super::loads::LONGEST_S).ok()?.x
    };
    Some((program, x))
}
