//! Practical amounts: rations rounded to the scoop in the programme of the whole winter, so that stacks and rules still
//! hold, then bought and paid anew.

use super::Case;
use super::assemble::{Cell, Cells};
use super::loads::{GAP, LONGEST_S, WholeLoads};
use super::plan::{Plan, solve_growing, solve_growing_from};
use super::program::{Program, units_offered};
use super::read::{flows, ration_usd, stored_unit_costs};
use crate::feed::{FedHow, FeedClass, Offer};
use crate::lp::{self, Certified, ColId};
use crate::quantity::{G_PER_OZ, KG_PER_LB, KgAsFed};

/// Why a plan cannot be rounded.
#[derive(Debug, Clone, PartialEq)]
pub enum Unrounded {
    /// No amounts in scoops near the ration keep every rule and reach with the stacks: group and period.
    Block(usize, usize),
    /// The rounded rations take more than there is in whole loads.
    Stores,
}

/// How far from the plan is looked, in order: scoops from the planned amount, and whether a group may get what the plan
/// does not give it.
const REACHES: [(f64, bool); 6] = [(1.0, false), (4.0, false), (1.0, true), (4.0, true), (16.0, false), (40.0, true)];
/// How near blocks that are not settled yet are held to the plan at first.
const NEAR: (f64, bool) = (4.0, true);
/// Most programmes solved to round one block.
const MOST_TRIES: usize = 120;
/// An amount below this is none, kg of dry matter.
const NOTHING: f64 = 1e-9;
/// A share of a scoop that is rounding of the arithmetic.
const WHOLE: f64 = 1e-7;

/// Rounds a plan: the same winter in practical amounts, bought and paid anew. Prices of rules and worths of feeds stay
/// those of the exact plan.
///
/// Amounts are settled block by block, each at the scoop below or above that leaves the cheaper winter, with all later
/// blocks free to follow: so the stacks are never overdrawn, and what rounding takes from one group comes from
/// where it costs least.
///
/// # Errors
/// The block that cannot be rounded, or that the stores do not reach.
pub fn round(case: &Case, cells: &Cells<'_>, plan: &Plan) -> Result<Plan, Unrounded> {
    let in_loads = matches!(plan.whole, Some(WholeLoads::Found { .. }));
    let mut stuck = Unrounded::Stores;
    // First with the loads of the plan and later blocks near it; where that does not fit, with any.
    for (keep_loads, near) in [(true, true), (true, false), (false, true), (false, false)] {
        if !keep_loads && !in_loads {
            break;
        }
        match rounded(case, cells, plan, (keep_loads && in_loads, near)) {
            Ok((program, rations)) => {
                if let Some(x) = pay(case, &program, &rations, in_loads) {
                    return Ok(rounded_plan((case, cells), plan, &program, &x, rations));
                }
            }
            Err(why) => stuck = why,
        }
    }
    Err(stuck)
}

/// kg of dry matter of each offer, by group, then by period.
type Rations = Vec<Vec<Vec<f64>>>;

/// Rations in scoops, and the programme that found them.
fn rounded(
    case: &Case,
    cells: &Cells<'_>,
    plan: &Plan,
    (keep_loads, near): (bool, bool),
) -> Result<(Program, Rations), Unrounded> {
    let mut program = Program::build(case, cells);
    if keep_loads {
        for ((offer, store), feed) in case.offers.iter().zip(&program.stores).zip(&plan.feeds) {
            let Some(store) = store.as_ref().filter(|_| offer.whole_loads) else { continue };
            for (col, flow) in store.bought.iter().zip(&feed.flows) {
                if let Some(col) = col {
                    let loads = (flow.bought_tons / store.unit_tons).round();
                    (program.lp.cols[col.0].lower, program.lp.cols[col.0].upper) = (loads, loads);
                }
            }
        }
    }
    if near {
        for (g, row) in cells.iter().enumerate() {
            for (t, cell) in row.iter().enumerate() {
                confine(case, plan, &mut program, (g, t), cell, NEAR);
            }
        }
    }
    let mut found = solve_growing(&mut program, cells).map_err(|_| Unrounded::Stores)?;
    // By period, so that what is short in the stacks is short for those that come later and can still change.
    for t in 0..case.periods.len() {
        for (g, row) in cells.iter().enumerate() {
            let Some(cell) = row.get(t) else { continue };
            let settled = REACHES
                .iter()
                .find_map(|reach| settle_block(case, cells, plan, &mut program, (g, t), cell, &found, *reach));
            found = settled.ok_or(Unrounded::Block(g, t))?;
        }
    }
    let rations =
        (0..cells.len()).map(|g| (0..cells[g].len()).map(|t| program.ration(g, t, &found.x)).collect()).collect();
    Ok((program, rations))
}

/// Settles one block within a reach of its planned ration.
#[allow(clippy::too_many_arguments)] // the winter, the block in it, and how far to look
fn settle_block(
    case: &Case,
    cells: &Cells<'_>,
    plan: &Plan,
    program: &mut Program,
    (g, t): (usize, usize),
    cell: &Cell<'_>,
    near: &Certified,
    reach: (f64, bool),
) -> Option<Certified> {
    let before: Vec<_> =
        program.blocks[g][t].amounts.iter().flatten().map(|col| (*col, program.lp.cols[col.0].clone())).collect();
    let amounts = confine(case, plan, program, (g, t), cell, reach);
    let mut tries = MOST_TRIES;
    let found = solve_growing_from(program, cells, near).ok();
    let found = found.and_then(|found| settle(program, cells, &amounts, &found, &mut tries));
    if found.is_none() {
        for (col, as_it_was) in before {
            program.lp.cols[col.0] = as_it_was;
        }
    }
    found
}

/// Holds the ration of a block near its planned one, and gives the amounts that are measured out.
fn confine(
    case: &Case,
    plan: &Plan,
    program: &mut Program,
    (g, t): (usize, usize),
    cell: &Cell<'_>,
    (reach, others): (f64, bool),
) -> Vec<Amount> {
    let planned = &plan.rations[g][t].kg_dm;
    let mut amounts = Vec::new();
    for (f, turn) in measured_out(case, cell, planned) {
        let Some(col) = program.blocks[g][t].amounts[f] else { continue };
        let sides = &mut program.lp.cols[col.0];
        let scoop = scoop_kg_dm(case, &case.offers[f]);
        (sides.lower, sides.upper) = (0.0, f64::INFINITY);
        if planned[f] <= NOTHING && !others {
            sides.upper = 0.0;
        } else if turn.is_some() {
            sides.lower = (((planned[f] / scoop + WHOLE).floor() - reach) * scoop).max(0.0);
            sides.upper = ((planned[f] / scoop - WHOLE).ceil() + reach) * scoop;
        }
        if let Some(turn) = turn {
            amounts.push(Amount { col, scoop, turn });
        }
    }
    amounts
}

/// A measured amount of one block.
struct Amount {
    col: ColId,
    /// kg of dry matter.
    scoop: f64,
    turn: Turn,
}

/// When an amount is settled. What is dense in energy or protein leaves the least play to the others, so it goes first;
/// roughages make room for each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Turn {
    Dense,
    Roughage,
    Mineral,
}

/// Settles what is not yet in whole scoops, one amount after the other; each tries the scoop below and the one above,
/// the cheaper winter first, then those beyond.
fn settle(
    program: &mut Program,
    cells: &Cells<'_>,
    amounts: &[Amount],
    found: &Certified,
    tries: &mut usize,
) -> Option<Certified> {
    let scoops = |amount: &Amount| found.x[amount.col.0] / amount.scoop;
    let open = amounts.iter().filter(|amount| (scoops(amount) - scoops(amount).round()).abs() > WHOLE);
    let next = open.min_by(|a, b| a.turn.cmp(&b.turn).then(found.x[b.col.0].total_cmp(&found.x[a.col.0])));
    let Some(amount) = next else {
        // All are whole; they stay so while other blocks are settled.
        for amount in amounts {
            let whole = scoops(amount).round() * amount.scoop;
            let col = &mut program.lp.cols[amount.col.0];
            (col.lower, col.upper) = (whole, whole);
        }
        return Some(found.clone());
    };
    let below = scoops(amount).floor();
    let sides = (program.lp.cols[amount.col.0].lower, program.lp.cols[amount.col.0].upper);
    for near in [[below, below + 1.0], [below - 1.0, below + 2.0]] {
        let mut ways: Vec<(f64, Certified)> = Vec::new();
        for number in near {
            let kg = number * amount.scoop;
            if *tries == 0 || kg < sides.0 - WHOLE * amount.scoop || kg > sides.1 + WHOLE * amount.scoop {
                continue;
            }
            *tries -= 1;
            let col = &mut program.lp.cols[amount.col.0];
            (col.lower, col.upper) = (kg, kg);
            if let Ok(way) = solve_growing_from(program, cells, found) {
                ways.push((kg, way));
            }
        }
        ways.sort_by(|a, b| a.1.objective.total_cmp(&b.1.objective));
        for (kg, way) in ways {
            let col = &mut program.lp.cols[amount.col.0];
            (col.lower, col.upper) = (kg, kg);
            if let Some(done) = settle(program, cells, amounts, &way, tries) {
                return Some(done);
            }
        }
    }
    let col = &mut program.lp.cols[amount.col.0];
    (col.lower, col.upper) = sides;
    None
}

fn rounded_plan(
    (case, cells): (&Case, &Cells<'_>),
    plan: &Plan,
    program: &Program,
    x: &[f64],
    rations: Rations,
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

/// The scoop of an offer, kg of dry matter.
fn scoop_kg_dm(case: &Case, offer: &Offer) -> f64 {
    let as_fed = match offer.feed.class {
        FeedClass::Mineral | FeedClass::Limestone | FeedClass::Urea => G_PER_OZ / 1000.0,
        _ => case.settings.scoop_lb * KG_PER_LB,
    };
    KgAsFed(as_fed).dry(offer.feed.dm_pct()).0
}

/// Offers whose amount is open in a block, and when each is settled; `None` for what is not measured out: what is eaten
/// at will follows from the rest. What the file fixes and what is grazed is not open.
fn measured_out(case: &Case, cell: &Cell<'_>, planned: &[f64]) -> Vec<(usize, Option<Turn>)> {
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
    (0..planned.len())
        .filter(|f| !fixed(*f))
        .map(|f| {
            let turn = match case.offers[f].feed.class {
                _ if at_will(f) || Some(f) == base => None,
                FeedClass::Mineral | FeedClass::Limestone => Some(Turn::Mineral),
                class if class.is_roughage() => Some(Turn::Roughage),
                _ => Some(Turn::Dense),
            };
            (f, turn)
        })
        .collect()
}

/// Buys for given rations at least cost, in whole loads where the plan does. `None`: the stores do not reach.
fn pay(case: &Case, program: &Program, rations: &[Vec<Vec<f64>>], in_loads: bool) -> Option<Vec<f64>> {
    let mut program = program.clone();
    for (row, fed) in program.blocks.iter().zip(rations) {
        for (block, kg) in row.iter().zip(fed) {
            for (col, kg) in block.amounts.iter().zip(kg) {
                if let Some(col) = col {
                    (program.lp.cols[col.0].lower, program.lp.cols[col.0].upper) = (*kg, *kg);
                }
            }
            // The rules hold by now; only stores and money are left.
            let growth = block.growth.iter().flat_map(|rows| &rows.tangents).flat_map(|(_, keep, grow)| [*keep, *grow]);
            let rows: Vec<_> =
                growth.chain(block.rules.iter().copied()).chain(block.cuts.iter().map(|cut| cut.1)).collect();
            for row in rows {
                let row = &mut program.lp.rows[row.0];
                (row.lower, row.upper) = (f64::NEG_INFINITY, f64::INFINITY);
            }
        }
    }
    let mut loads: Vec<ColId> = Vec::new();
    for (offer, store) in case.offers.iter().zip(&program.stores) {
        if let Some(store) = store.as_ref().filter(|_| offer.whole_loads && in_loads) {
            for (col, units) in store.bought.iter().zip(units_offered(&case.periods, offer, store.unit_tons, 0)) {
                if let Some(col) = col {
                    // Loads are looked for anew: rounding may have saved one.
                    (program.lp.cols[col.0].lower, program.lp.cols[col.0].upper) = (0.0, units);
                    loads.push(*col);
                }
            }
        }
    }
    if loads.is_empty() {
        return Some(lp::solve(&program.lp).ok()?.x);
    }
    Some(lp::solve_whole(&program.lp, &loads, None, GAP, LONGEST_S).ok()?.x)
}
