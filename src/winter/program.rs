//! The winter as one linear programme: a ration block for each group and period, and the stores that join them.
//!
//! Columns are kg of dry matter per head and day; stores are short tons; cost is US dollars for the winter.

use super::Case;
use super::assemble::Cells;
use crate::feed::Offer;
use crate::herd::Period;
use crate::lp::{ColId, Lp, RowId};

/// Where the growth of one block stands in the programme.
#[derive(Debug, Clone)]
pub struct GrowthRows {
    /// Share of the mix for maintenance.
    pub split: ColId,
    /// Tangents so far: where, the maintenance row, the gain row.
    pub tangents: Vec<(f64, RowId, RowId)>,
}

/// Where one block stands in the programme.
#[derive(Debug, Clone)]
pub struct BlockRows {
    /// Column of each offer; `None` if it cannot be given.
    pub amounts: Vec<Option<ColId>>,
    /// Row of each linear rule, in the order of the block's rules.
    pub rules: Vec<RowId>,
    /// Growth.
    pub growth: Option<GrowthRows>,
    /// Rows that hold needs as surely as asked, each with the rule it is of.
    pub cuts: Vec<(usize, RowId)>,
    /// Head × days.
    pub head_days: f64,
}

impl BlockRows {
    /// The rows that hold one rule: its own, and those that hold it as surely as asked.
    pub fn rows_of(&self, rule: usize) -> impl Iterator<Item = RowId> + '_ {
        let cuts = self.cuts.iter().filter(move |(of, _)| *of == rule).map(|(_, row)| *row);
        self.rules.get(rule).copied().into_iter().chain(cuts)
    }
}

/// Where the store of one offer stands in the programme.
#[derive(Debug, Clone)]
pub struct StoreRows {
    /// Bought at the start of each period, in units of `unit_tons`; `None` where it cannot be bought.
    pub bought: Vec<Option<ColId>>,
    /// Short tons of one unit bought: a load where only whole loads are hauled, else 1.
    pub unit_tons: f64,
    /// Tons left at the end of each period.
    pub left: Vec<ColId>,
    /// Balance of each period.
    pub balance: Vec<RowId>,
}

/// The programme and the way back from its columns.
#[derive(Debug, Clone)]
pub struct Program {
    /// The programme.
    pub lp: Lp,
    /// By group, then by period.
    pub blocks: Vec<Vec<BlockRows>>,
    /// By offer; `None` for feeds that are bought as they are used.
    pub stores: Vec<Option<StoreRows>>,
}

impl Program {
    /// Builds the programme of a case.
    #[must_use]
    pub fn build(case: &Case, cells: &Cells<'_>) -> Self {
        let mut lp = Lp::default();
        let mut blocks: Vec<Vec<BlockRows>> = Vec::new();
        for row in cells {
            let mut built = Vec::new();
            for cell in row {
                let group = cell.block.group;
                let period = cell.block.period;
                let days = f64::from(period.days());
                let head_days = f64::from(group.head) * days;
                let place = format!("{} {}", group.name, period.label);
                let amounts: Vec<Option<ColId>> = case
                    .offers
                    .iter()
                    .zip(&cell.block.available)
                    .map(|(offer, available)| {
                        if !available || !offer.can_be_had() {
                            return None;
                        }
                        // Grazing costs by the head, whatever is eaten.
                        lp.constant += offer.usd_per_head_day() * head_days;
                        let cost = amount_cost(offer, period, head_days);
                        Some(lp.col(format!("{place} {}", offer.id), cost, 0.0, f64::INFINITY))
                    })
                    .collect();
                let rules = cell
                    .demands
                    .rules
                    .iter()
                    .map(|rule| {
                        let (coefficients, _) = rule.row();
                        let (lower, upper) = rule.sides();
                        lp.row(format!("{place} {}", rule.name()), lower, upper, terms(&amounts, &coefficients))
                    })
                    .collect();
                let growth = cell.demands.growth.as_ref().map(|growth| {
                    GrowthRows {
                        split: lp.col(format!("{place} maintenance share"), 0.0, 0.01, 0.99),
                        tangents: Vec::new(),
                    }
                    .starting_at(&mut lp, growth, &amounts, &place)
                });
                built.push(BlockRows { amounts, rules, growth, cuts: Vec::new(), head_days });
            }
            blocks.push(built);
        }
        let stores = case
            .offers
            .iter()
            .enumerate()
            .map(|(index, offer)| offer.is_stored().then(|| store(&mut lp, case, &blocks, index, offer)))
            .collect();
        Self { lp, blocks, stores }
    }

    /// Sets every cost anew from a case that differs from that of the programme in prices alone, and in the same feeds
    /// having a price.
    pub fn reprice(&mut self, case: &Case) {
        let Self { lp, blocks, stores } = self;
        lp.constant = 0.0;
        for (row, group) in blocks.iter().zip(&case.groups) {
            for (block, period) in row.iter().zip(&case.periods) {
                let days = f64::from(period.days());
                for (offer, col) in case.offers.iter().zip(&block.amounts) {
                    if let Some(col) = col {
                        lp.constant += offer.usd_per_head_day() * f64::from(group.head) * days;
                        lp.cols[col.0].cost = amount_cost(offer, period, block.head_days);
                    }
                }
            }
        }
        for (offer, store) in case.offers.iter().zip(stores) {
            let Some(store) = store else { continue };
            lp.constant += offer.own_value_usd_per_ton() * offer.on_hand.tons();
            for (bought, period) in store.bought.iter().zip(&case.periods) {
                if let Some(col) = bought {
                    lp.cols[col.0].cost = offer.delivered_on(period.from).unwrap_or(0.0) * store.unit_tons;
                }
            }
            if let Some(last) = store.left.last() {
                lp.cols[last.0].cost = -offer.end_value_usd_per_ton();
            }
        }
    }

    /// Takes back the tangents and cuts that were added or emptied since another copy of the same programme.
    pub fn forget(&mut self, before: &Self) {
        let rows = &mut self.lp.rows;
        rows.truncate(before.lp.rows.len());
        for (mine, old) in rows.iter_mut().zip(&before.lp.rows) {
            // What pays nothing is emptied (`sure`); all else of a row stays as it was made.
            if mine.terms.len() != old.terms.len() {
                mine.clone_from(old);
            }
        }
        for (mine, old) in self.blocks.iter_mut().flatten().zip(before.blocks.iter().flatten()) {
            if let (Some(mine), Some(old)) = (&mut mine.growth, &old.growth) {
                mine.tangents.clone_from(&old.tangents);
            }
            mine.cuts.clone_from(&old.cuts);
        }
    }

    /// Columns that buy a feed and the short tons one unit of each buys: raising its price by a dollar raises their costs
    /// by so many dollars.
    #[must_use]
    pub fn purchases(&self, case: &Case, index: usize) -> Vec<(ColId, f64)> {
        let offer = &case.offers[index];
        if let Some(store) = &self.stores[index] {
            return store.bought.iter().flatten().map(|col| (*col, store.unit_tons)).collect();
        }
        if offer.price_usd_per_ton.is_none() {
            return Vec::new();
        }
        self.blocks
            .iter()
            .flat_map(|row| row.iter().zip(&case.periods))
            .filter_map(|(block, period)| {
                let tons = offer.tons_per_kg_dm_eaten(f64::from(period.days())) * block.head_days;
                block.amounts[index].map(|col| (col, tons))
            })
            .collect()
    }

    /// The ration of a block at a point, kg of dry matter of each offer.
    #[must_use]
    pub fn ration(&self, group: usize, period: usize, x: &[f64]) -> Vec<f64> {
        ration(&self.blocks[group][period].amounts, x)
    }
}

/// Cost of one kg of dry matter per head and day all through a period, US dollars; of what comes out of a store, nothing.
fn amount_cost(offer: &Offer, period: &crate::herd::Period, head_days: f64) -> f64 {
    if offer.is_stored() {
        return 0.0;
    }
    let price = offer.delivered_on(period.from).unwrap_or(0.0);
    price * offer.tons_per_kg_dm_eaten(f64::from(period.days())) * head_days
}

/// The ration in some columns at a point, kg of dry matter of each offer. Dust below 1e-9 kg is nothing.
#[must_use]
pub fn ration(amounts: &[Option<ColId>], x: &[f64]) -> Vec<f64> {
    amounts.iter().map(|col| col.map_or(0.0, |col| if x[col.0] > 1e-9 { x[col.0] } else { 0.0 })).collect()
}

pub(super) fn terms<'a>(
    amounts: &'a [Option<ColId>],
    coefficients: &'a [f64],
) -> impl Iterator<Item = (ColId, f64)> + 'a {
    amounts.iter().zip(coefficients).filter_map(|(col, value)| col.map(|col| (col, *value)))
}

impl GrowthRows {
    fn starting_at(
        mut self,
        lp: &mut Lp,
        growth: &crate::limit::Growth,
        amounts: &[Option<ColId>],
        place: &str,
    ) -> Self {
        let middle = growth.first_split();
        for split in [0.5 * middle, middle, 0.5 * (1.0 + middle)] {
            self.add_tangent(lp, growth, amounts, place, split);
        }
        self
    }

    /// Adds the two tangents at a split: Σ NEm x + (M/p²)φ ≥ 2M/p and Σ NEg x − (G/q²)φ ≥ 2G/q − G/q², q = 1 − p.
    pub fn add_tangent(
        &mut self,
        lp: &mut Lp,
        growth: &crate::limit::Growth,
        amounts: &[Option<ColId>],
        place: &str,
        split: f64,
    ) {
        let (m, g) = (growth.maintenance_nem_mcal, growth.gain_neg_mcal);
        let (p, q) = (split, 1.0 - split);
        let keep = lp.row(
            format!("{place} energy, split {split:.4}"),
            2.0 * m / p,
            f64::INFINITY,
            terms(amounts, &growth.nem).chain([(self.split, m / (p * p))]),
        );
        let grow = lp.row(
            format!("{place} growth, split {split:.4}"),
            2.0 * g / q - g / (q * q),
            f64::INFINITY,
            terms(amounts, &growth.neg).chain([(self.split, -g / (q * q))]),
        );
        self.tangents.push((split, keep, grow));
    }
}

impl StoreRows {
    /// Short tons bought in a period at a point.
    #[must_use]
    pub fn bought_tons(&self, period: usize, x: &[f64]) -> f64 {
        self.bought[period].map_or(0.0, |col| x[col.0].max(0.0) * self.unit_tons)
    }
    /// Short tons left at the end of a period at a point.
    #[must_use]
    pub fn left_tons(&self, period: usize, x: &[f64]) -> f64 {
        x[self.left[period].0].max(0.0)
    }
}

/// What the seller has in each period, in units of `unit_tons`, if he had everything some weeks earlier. Where only whole
/// loads are hauled, what comes in fills a load first, and the load is there in the period in which it is full.
pub(super) fn units_offered(periods: &[Period], offer: &Offer, unit_tons: f64, weeks: u32) -> Vec<f64> {
    let mut come = 0.0;
    let one = |period: &Period| {
        let units = offer.tons_offered_earlier(period.from, period.to, weeks) / unit_tons;
        if !offer.whole_loads || units.is_infinite() {
            return units;
        }
        let full_before = f64::floor(come + 1e-9);
        come += units;
        (come + 1e-9).floor() - full_before
    };
    periods.iter().map(one).collect()
}

/// Left at the end = (left before + bought) carried − drawn, each in tons at the end of the period.
fn store(lp: &mut Lp, case: &Case, blocks: &[Vec<BlockRows>], index: usize, offer: &Offer) -> StoreRows {
    let load = offer.freight.filter(|_| offer.whole_loads).map(|freight| freight.tons_per_load);
    let unit_tons = load.unwrap_or(1.0);
    let mut rows = StoreRows { bought: Vec::new(), unit_tons, left: Vec::new(), balance: Vec::new() };
    let owned = offer.on_hand.tons();
    lp.constant += offer.own_value_usd_per_ton() * owned;
    // What stands there already stands somewhere.
    let room = offer.storage_tons.map_or(f64::INFINITY, |room| room.max(owned));
    let last = case.periods.len().saturating_sub(1);
    let offered = units_offered(&case.periods, offer, unit_tons, 0);
    for (t, period) in case.periods.iter().enumerate() {
        let days = f64::from(period.days());
        let carried = offer.loss.carried(days);
        // Columns of nothing now are asked for by the questions about an earlier start.
        let ever = (0..=4).any(|weeks| offer.tons_offered_earlier(period.from, period.to, weeks) > 0.0);
        let bought = offer
            .delivered_on(period.from)
            .filter(|_| ever)
            .map(|price| lp.col(format!("{} bought {}", offer.id, period.label), price * unit_tons, 0.0, offered[t]));
        let worth = if t == last { -offer.end_value_usd_per_ton() } else { 0.0 };
        let left = lp.col(format!("{} left {}", offer.id, period.label), worth, 0.0, room);
        let drawn = blocks.iter().filter_map(|row| {
            let block = row.get(t)?;
            let col = block.amounts[index]?;
            Some((col, carried * offer.tons_per_kg_dm_eaten(days) * block.head_days))
        });
        let opening = if t == 0 { owned * carried } else { 0.0 };
        let mut balance: Vec<(ColId, f64)> = drawn.collect();
        balance.push((left, 1.0));
        if let Some(bought) = bought {
            balance.push((bought, -carried * unit_tons));
        }
        if let Some(before) = rows.left.last() {
            balance.push((*before, -carried));
        }
        let row = lp.row(format!("store of {} {}", offer.id, period.label), opening, opening, balance);
        rows.bought.push(bought);
        rows.left.push(left);
        rows.balance.push(row);
    }
    rows
}
