//! Solve the winter and read it back: rations, stores, purchases, what each rule costs, what each feed is worth.

use super::Case;
use super::assemble::{Cells, assemble};
use super::program::Program;
use super::short::{Short, shortage};
use super::steady;
use crate::limit::Growth;
use crate::lp::{self, Certificate, Certified, Uniqueness};

/// What one rule costs in one block.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct RulePrice {
    /// US dollars per head and day for one more unit of the figure (the rule's own unit); 0 where it does not bind.
    pub usd_per_unit: f64,
}

/// The ration of one group in one period.
#[derive(Debug, Clone, PartialEq)]
pub struct PlannedRation {
    /// kg of dry matter eaten per head and day, by offer.
    pub kg_dm: Vec<f64>,
    /// US dollars per head and day, by offer, losses and waste paid.
    pub usd_by_offer: Vec<f64>,
    /// Price of each linear rule, in the order of the block's rules, at the least-cost plan.
    pub prices: Vec<RulePrice>,
    /// US dollars per head and day for one more Mcal of maintenance and of growth, for animals that grow.
    pub growth_prices: Option<(f64, f64)>,
}

impl PlannedRation {
    /// US dollars per head and day.
    #[must_use]
    pub fn usd(&self) -> f64 {
        self.usd_by_offer.iter().sum()
    }
}

/// What happens to one feed in one period, short tons as fed.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct FeedFlow {
    /// In store at the start of the period, before buying.
    pub opening_tons: f64,
    /// Bought at its start.
    pub bought_tons: f64,
    /// Drawn from store to be fed, waste included.
    pub fed_tons: f64,
    /// Lost in store.
    pub lost_tons: f64,
    /// Left at the end.
    pub left_tons: f64,
    /// Paid for what was bought, haul included.
    pub usd: f64,
}

/// A feed over the winter.
#[derive(Debug, Clone, PartialEq)]
pub struct FeedWinter {
    /// By period.
    pub flows: Vec<FeedFlow>,
    /// For a feed that can be bought and is not: the delivered price at which it would come in, US dollars per ton.
    pub break_even_usd_per_ton: Option<f64>,
    /// For a feed that is owned: what one more ton at the start would save, US dollars.
    pub one_more_ton_usd: Option<f64>,
}

impl FeedWinter {
    /// Short tons bought over the winter.
    #[must_use]
    pub fn bought_tons(&self) -> f64 {
        self.flows.iter().map(|flow| flow.bought_tons).sum()
    }
    /// US dollars paid over the winter.
    #[must_use]
    pub fn usd(&self) -> f64 {
        self.flows.iter().map(|flow| flow.usd).sum()
    }
}

/// The next-best plan without one of the feeds used.
#[derive(Debug, Clone, PartialEq)]
pub struct Without {
    /// Which offer is left out.
    pub offer: usize,
    /// Cost of the best winter without it, US dollars; `None` if no ration meets the needs without it.
    pub cost_usd: Option<f64>,
}

/// A certified plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// Cost of the plan as printed, US dollars for the winter.
    pub cost_usd: f64,
    /// Least cost possible, US dollars for the winter.
    pub least_cost_usd: f64,
    /// Pounds of dry matter per head and day that change hands between periods, all groups, at least cost.
    pub changes_at_least_cost_lb: f64,
    /// The same in the plan as printed.
    pub changes_lb: f64,
    /// By group, then by period.
    pub rations: Vec<Vec<PlannedRation>>,
    /// By offer.
    pub feeds: Vec<FeedWinter>,
    /// Proof of the least cost.
    pub certificate: Certificate,
    /// Whether another plan costs the same.
    pub uniqueness: Uniqueness,
    /// Cost without each feed that is bought and used, dearest to lose first.
    pub without: Vec<Without>,
}

/// Why there is no plan.
#[derive(Debug, Clone, PartialEq)]
pub enum NoPlan {
    /// Needs and limits cannot all hold.
    Short(Short),
    /// The engine could not prove its answer; nothing is printed. Our fault.
    Unproven(String),
}

/// Plans a winter.
///
/// # Errors
/// What is short, or that no answer could be proved.
pub fn plan(case: &Case, cells: &Cells<'_>) -> Result<Plan, NoPlan> {
    let mut program = Program::build(case, cells);
    let best = match solve_growing(&mut program, cells) {
        Ok(best) => best,
        Err(failure) => return Err(shortage(case, cells, &program, &failure)),
    };
    let steady = steady::steady(case, cells, &program, &best).map_err(NoPlan::Unproven)?;
    let uniqueness = lp::uniqueness(&program.lp, &best).unwrap_or(Uniqueness::Unknown);
    let point = steady.as_ref().unwrap_or(&best.x);
    let cost_usd = program.lp.cost(point);
    Ok(Plan {
        cost_usd,
        least_cost_usd: best.objective,
        changes_at_least_cost_lb: steady::changes_lb(&program, &best.x),
        changes_lb: steady::changes_lb(&program, point),
        rations: read_rations(case, cells, &program, &best, point),
        feeds: read_feeds(case, &program, &best, point),
        certificate: best.certificate,
        uniqueness,
        without: without(case, &program, point),
    })
}

/// Solves, adding tangents of the growth curves until every growing block holds its true curve.
///
/// # Errors
/// Whatever the engine says.
pub fn solve_growing(program: &mut Program, cells: &Cells<'_>) -> Result<Certified, lp::Failure> {
    // Each round at least halves the error where the optimum stays put; forty is far beyond what was ever seen.
    for _ in 0..40 {
        let found = lp::solve(&program.lp)?;
        if !add_tangents(program, cells, &found.x) {
            return Ok(found);
        }
    }
    Err(lp::Failure::Solver("the split between maintenance and gain did not settle".to_owned()))
}

/// Adds a tangent in every block that does not hold its curve at a point; tells whether any was added.
pub fn add_tangents(program: &mut Program, cells: &Cells<'_>, x: &[f64]) -> bool {
    let mut added = false;
    let Program { lp, blocks, .. } = program;
    for (cell, block) in cells.iter().flatten().zip(blocks.iter_mut().flatten()) {
        let (Some(growth), Some(rows)) = (&cell.demands.growth, &mut block.growth) else { continue };
        let retained = growth.retained_neg_mcal(&super::program::ration(&block.amounts, x));
        // Tight enough for shadow prices: a billionth of the gain asked for.
        if retained >= growth.gain_neg_mcal * (1.0 - 1e-9) {
            continue;
        }
        let place = format!("{} {}", cell.block.group.name, cell.block.period.label);
        let split = x[rows.split.0].clamp(0.01, 0.99);
        if rows.tangents.iter().any(|(at, ..)| (at - split).abs() < 1e-12) || held(growth, &block.amounts, split, x) {
            continue;
        }
        rows.add_tangent(lp, growth, &block.amounts, &place, split);
        added = true;
    }
    added
}

/// Whether the curves hold at a split as closely as rows are held at all: with a share near 1 for maintenance the rows
/// have terms far above the gain, and their rounding alone is more than a billionth of it.
fn held(growth: &Growth, amounts: &[Option<lp::ColId>], split: f64, x: &[f64]) -> bool {
    let kg_dm = super::program::ration(amounts, x);
    let (m, g) = (growth.maintenance_nem_mcal, growth.gain_neg_mcal);
    let (p, q) = (split, 1.0 - split);
    let keep = (m / p - growth.nem_mcal(&kg_dm)) / (2.0 * m / p);
    let side = (2.0 * g / q - g / (q * q)).abs();
    let grow = (g / q - growth.neg_mcal(&kg_dm)) / side.max(g * p / (q * q));
    keep.max(grow) <= 2.0 * lp::TOLERANCE
}

fn read_rations(
    case: &Case,
    cells: &Cells<'_>,
    program: &Program,
    best: &Certified,
    point: &[f64],
) -> Vec<Vec<PlannedRation>> {
    let unit_costs = owned_unit_costs(case, program, point);
    cells
        .iter()
        .enumerate()
        .map(|(g, row)| {
            row.iter()
                .enumerate()
                .map(|(t, cell)| {
                    let block = &program.blocks[g][t];
                    let kg_dm = program.ration(g, t, point);
                    let days = f64::from(cell.block.period.days());
                    let usd_by_offer = case
                        .offers
                        .iter()
                        .enumerate()
                        .map(|(f, offer)| {
                            let price = unit_costs[f].unwrap_or_else(|| offer.delivered_usd_per_ton().unwrap_or(0.0));
                            let by_head = block.amounts[f].map_or(0.0, |_| offer.usd_per_head_day());
                            kg_dm[f] * offer.tons_per_kg_dm_eaten(days) * price + by_head
                        })
                        .collect();
                    let prices = cell
                        .demands
                        .rules
                        .iter()
                        .zip(&block.rules)
                        .map(|(rule, row)| RulePrice {
                            usd_per_unit: best.row_dual[row.0] * rule.per_value(&program.ration(g, t, &best.x))
                                / block.head_days,
                        })
                        .collect();
                    let growth_prices = block.growth.as_ref().map(|rows| {
                        let split = best.x[rows.split.0];
                        let mut prices = (0.0, 0.0);
                        for (at, keep, grow) in &rows.tangents {
                            let (p, q) = (*at, 1.0 - at);
                            prices.0 += best.row_dual[keep.0] * (2.0 / p - split / (p * p));
                            prices.1 += best.row_dual[grow.0] * (2.0 / q - 1.0 / (q * q) + split / (q * q));
                        }
                        (prices.0 / block.head_days, prices.1 / block.head_days)
                    });
                    PlannedRation { kg_dm, usd_by_offer, prices, growth_prices }
                })
                .collect()
        })
        .collect()
}

/// What a ton of a stored feed cost on average, US dollars: purchases, and sale value of what was owned and used.
fn owned_unit_costs(case: &Case, program: &Program, point: &[f64]) -> Vec<Option<f64>> {
    case.offers
        .iter()
        .zip(&program.stores)
        .map(|(offer, rows)| {
            let rows = rows.as_ref()?;
            let last_left = rows.left.last().map_or(0.0, |col| point[col.0]);
            let bought: f64 = rows.bought.iter().flatten().map(|col| point[col.0]).sum();
            let delivered = offer.delivered_usd_per_ton().unwrap_or(f64::INFINITY);
            let value = offer.value_usd_per_ton.min(delivered);
            let paid = if bought > 0.0 { bought * delivered } else { 0.0 } + value * (offer.on_hand.tons() - last_left);
            let drawn: f64 = program
                .blocks
                .iter()
                .flatten()
                .zip(case.periods.iter().cycle())
                .filter_map(|(block, period)| {
                    let index = case.offers.iter().position(|one| one.id == offer.id)?;
                    let col = block.amounts[index]?;
                    Some(point[col.0] * offer.tons_per_kg_dm_eaten(f64::from(period.days())) * block.head_days)
                })
                .sum();
            Some(if drawn > 1e-12 { paid / drawn } else { 0.0 })
        })
        .collect()
}

fn read_feeds(case: &Case, program: &Program, best: &Certified, point: &[f64]) -> Vec<FeedWinter> {
    case.offers
        .iter()
        .enumerate()
        .map(|(f, offer)| {
            let delivered = offer.delivered_usd_per_ton();
            let store = program.stores[f].as_ref();
            let mut opening = offer.on_hand.tons();
            let flows: Vec<FeedFlow> = case
                .periods
                .iter()
                .enumerate()
                .map(|(t, period)| {
                    let days = f64::from(period.days());
                    // In tons as they leave the store, storage loss already off.
                    let fed: f64 = program
                        .blocks
                        .iter()
                        .filter_map(|row| {
                            let block = row.get(t)?;
                            let col = block.amounts[f]?;
                            let kg = if point[col.0] > 1e-9 { point[col.0] } else { 0.0 };
                            Some(kg * offer.tons_per_kg_dm_eaten(days) * offer.loss.drawn_over(days) * block.head_days)
                        })
                        .sum();
                    let (bought, left) = match store {
                        Some(rows) => {
                            (rows.bought[t].map_or(0.0, |col| point[col.0].max(0.0)), point[rows.left[t].0].max(0.0))
                        }
                        None => (fed / offer.loss.drawn_over(days), 0.0),
                    };
                    let flow = FeedFlow {
                        opening_tons: opening,
                        bought_tons: bought,
                        fed_tons: fed,
                        lost_tons: (opening + bought - fed - left).max(0.0),
                        left_tons: left,
                        usd: bought * delivered.unwrap_or(0.0),
                    };
                    opening = left;
                    flow
                })
                .collect();
            let used = flows.iter().any(|flow| flow.bought_tons > 1e-6);
            FeedWinter {
                break_even_usd_per_ton: delivered
                    .filter(|_| !used)
                    .and_then(|price| break_even(case, program, best, f, price)),
                one_more_ton_usd: store.and_then(|rows| {
                    let first = rows.balance.first()?;
                    let days = f64::from(case.periods.first()?.days());
                    Some(-best.row_dual[first.0] * offer.loss.carried(days))
                }),
                flows,
            }
        })
        .collect()
}

/// The delivered price at which a feed that is not bought would come in: price less the least reduced cost per ton.
fn break_even(case: &Case, program: &Program, best: &Certified, f: usize, price: f64) -> Option<f64> {
    let least = program
        .purchases(case, f)
        .iter()
        .map(|(col, tons)| best.reduced_cost[col.0] / tons)
        .fold(f64::INFINITY, f64::min);
    least.is_finite().then_some(price - least)
}

/// Cost of the winter without each feed that is bought and used (minerals aside), dearest to lose first. What could
/// not be settled is left out.
fn without(case: &Case, program: &Program, point: &[f64]) -> Vec<Without> {
    let mut list: Vec<Without> = (0..case.offers.len())
        .filter(|f| {
            let offer = &case.offers[*f];
            let used =
                program.blocks.iter().flatten().any(|block| block.amounts[*f].is_some_and(|col| point[col.0] > 1e-6));
            used && offer.price_usd_per_ton.is_some() && !offer.feed.class.is_mineral()
        })
        .filter_map(|f| {
            // Rules hang on what is offered: what is eaten at will, how much trash beside other roughage.
            let mut bare = case.clone();
            bare.offers.remove(f);
            let cells = assemble(&bare).ok()?;
            match solve_growing(&mut Program::build(&bare, &cells), &cells) {
                Ok(found) => Some(Without { offer: f, cost_usd: Some(found.objective) }),
                Err(lp::Failure::Infeasible) => Some(Without { offer: f, cost_usd: None }),
                Err(_) => None,
            }
        })
        .collect();
    list.sort_by(|a, b| b.cost_usd.unwrap_or(f64::INFINITY).total_cmp(&a.cost_usd.unwrap_or(f64::INFINITY)));
    list
}
