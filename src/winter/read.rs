//! A solved winter read back: rations with the prices of their rules, and what happens to each feed.

use super::Case;
use super::assemble::Cells;
use super::plan::{FeedFlow, FeedWinter, PlannedRation, RulePrice};
use super::program::Program;
use crate::lp::Certified;

/// Rations by group and period, with the prices of `best`.
pub(super) fn read_rations(
    case: &Case,
    cells: &Cells<'_>,
    program: &Program,
    best: &Certified,
    point: &[f64],
) -> Vec<Vec<PlannedRation>> {
    let unit_costs = stored_unit_costs(case, program, point);
    cells
        .iter()
        .enumerate()
        .map(|(g, row)| {
            row.iter()
                .enumerate()
                .map(|(t, cell)| {
                    let block = &program.blocks[g][t];
                    let kg_dm = program.ration(g, t, point);
                    let usd_by_offer = ration_usd(case, &cell.block, &kg_dm, &unit_costs);
                    let prices = cell
                        .demands
                        .rules
                        .iter()
                        .enumerate()
                        .map(|(index, rule)| RulePrice {
                            usd_per_unit: block.rows_of(index).map(|row| best.row_dual[row.0]).sum::<f64>()
                                * rule.per_value(&program.ration(g, t, &best.x))
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

/// US dollars per head and day of each feed of a ration.
pub(super) fn ration_usd(
    case: &Case,
    block: &crate::limit::Block<'_>,
    kg_dm: &[f64],
    unit_costs: &[Option<f64>],
) -> Vec<f64> {
    let period = block.period;
    let days = f64::from(period.days());
    let offers = case.offers.iter().enumerate();
    offers
        .map(|(f, offer)| {
            let price = unit_costs[f].unwrap_or_else(|| offer.delivered_on(period.from).unwrap_or(0.0));
            // Grazing is paid by the head while it can be had, whatever is eaten of it.
            let by_head = if block.available[f] { offer.usd_per_head_day() } else { 0.0 };
            kg_dm[f] * offer.tons_per_kg_dm_eaten(days) * price + by_head
        })
        .collect()
}

/// What a ton of a stored feed cost on average, US dollars: purchases, and sale value of what was owned and used.
pub(super) fn stored_unit_costs(case: &Case, program: &Program, point: &[f64]) -> Vec<Option<f64>> {
    case.offers
        .iter()
        .enumerate()
        .map(|(f, offer)| {
            let rows = program.stores[f].as_ref()?;
            let left = rows.left.last().map_or(0.0, |col| point[col.0]);
            let bought: f64 =
                rows.bought.iter().flatten().map(|col| program.lp.cols[col.0].cost * point[col.0].max(0.0)).sum();
            let own = offer.own_value_usd_per_ton() * offer.on_hand.tons() - offer.end_value_usd_per_ton() * left;
            let drawn: f64 = program
                .blocks
                .iter()
                .flat_map(|row| row.iter().zip(&case.periods))
                .filter_map(|(block, period)| {
                    let tons = offer.tons_per_kg_dm_eaten(f64::from(period.days())) * block.head_days;
                    block.amounts[f].map(|col| point[col.0] * tons)
                })
                .sum();
            Some(if drawn > 1e-12 { (bought + own) / drawn } else { 0.0 })
        })
        .collect()
}

/// What happens to each feed.
pub(super) fn read_feeds(case: &Case, program: &Program, best: &Certified, point: &[f64]) -> Vec<FeedWinter> {
    case.offers
        .iter()
        .enumerate()
        .map(|(f, offer)| {
            let delivered = offer.delivered_usd_per_ton();
            let store = program.stores[f].as_ref();
            let flows = flows(case, program, f, point);
            let used = flows.iter().any(|flow| flow.bought_tons > 1e-6);
            FeedWinter {
                break_even_usd_per_ton: delivered
                    .filter(|_| !used)
                    .and_then(|price| break_even(case, program, best, f, price)),
                one_more_ton_usd: store.filter(|_| offer.on_hand.0 > 0.0).and_then(|rows| {
                    let first = rows.balance.first()?;
                    let days = f64::from(case.periods.first()?.days());
                    Some(-best.row_dual[first.0] * offer.loss.carried(days))
                }),
                flows,
            }
        })
        .collect()
}

/// What happens to one feed in each period.
pub(super) fn flows(case: &Case, program: &Program, f: usize, point: &[f64]) -> Vec<FeedFlow> {
    let offer = &case.offers[f];
    let store = program.stores[f].as_ref();
    let mut opening = offer.on_hand.tons();
    let one = |(t, period): (usize, &crate::herd::Period)| {
        let days = f64::from(period.days());
        // In tons as they leave the store, storage loss already off.
        let fed: f64 = program
            .blocks
            .iter()
            .filter_map(|row| {
                let block = row.get(t)?;
                let col = block.amounts[f]?;
                let kg = if point[col.0] > 1e-9 { point[col.0] } else { 0.0 };
                Some(kg * offer.tons_per_kg_dm_eaten(days) * offer.kept_over(days) * block.head_days)
            })
            .sum();
        let (bought, left) = match store {
            Some(rows) => (rows.bought_tons(t, point), rows.left_tons(t, point)),
            None => (fed / offer.kept_over(days), 0.0),
        };
        let flow = FeedFlow {
            opening_tons: opening,
            bought_tons: bought,
            fed_tons: fed,
            lost_tons: (opening + bought - fed - left).max(0.0),
            left_tons: left,
            usd: bought * offer.delivered_on(period.from).unwrap_or(0.0),
        };
        opening = left;
        flow
    };
    case.periods.iter().enumerate().map(one).collect()
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
