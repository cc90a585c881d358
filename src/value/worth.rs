//! What a feed is worth here: how much of it the cheapest winter buys at each price, and what it stands in for.
//!
//! Least cost as a function of one price is concave, so the tons bought never rise with it. Without cattle that grow the
//! winter is a linear programme and the table has true steps, found by solving to each break. Where cattle grow, the
//! split between maintenance and gain bends the curve a little, and between two steps the tons may slide; such rows give
//! the tons at both ends.

use crate::feed::Offer;
use crate::lp::{self, Priced, Step};
use crate::quantity::KgDm;
use crate::winter::plan::solve_growing;
use crate::winter::program::Program;
use crate::winter::sure;
use crate::winter::{Case, Cells};

/// Highest delivered price asked about, US dollars per short ton: the most a herd file may hold.
pub const HIGHEST_USD_PER_TON: f64 = 20_000.0;
/// How closely growth holds its curve in a table, as a share of the gain: break prices are then right to a cent or two.
pub const CURVE: f64 = 1e-5;
/// The same where certainty is asked for: its cuts bend every block, and break prices are then right to a dime or two.
const SURELY: f64 = 1e-4;
/// Rounds of tangents before giving up; each one cuts the error at least in half.
const ROUNDS: usize = 30;
/// Tons below this are none.
const NO_TONS: f64 = 1e-6;

/// Use of one feed, short tons as fed over the winter.
#[derive(Debug, Clone, PartialEq)]
pub struct Use {
    /// Which offer.
    pub offer: usize,
    /// Change from the next cheaper row to this one: above 0, more of it; below 0, less.
    pub tons: f64,
}

/// What is bought at one end of a row.
#[derive(Debug, Clone, PartialEq)]
pub struct RowEnd {
    /// Delivered price, US dollars per short ton.
    pub usd_per_ton: f64,
    /// Short tons bought over the winter.
    pub tons: f64,
    /// The same by period.
    pub tons_by_period: Vec<f64>,
    /// Least cost of the winter, US dollars.
    pub cost_usd: f64,
    /// Pounds as fed per head and day, the mean of the winter, by group; of bought and owned together.
    pub lb_by_group: Vec<f64>,
    /// Short tons of each offer drawn for feeding over the winter.
    pub drawn_tons: Vec<f64>,
}

/// Prices between which the same ration stays cheapest; both ends belong to it.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// At its lowest price.
    pub low: RowEnd,
    /// At its highest price.
    pub high: RowEnd,
    /// What else changes against the row of lower prices, the largest first.
    pub changes: Vec<Use>,
}

impl Row {
    /// Whether the tons change within the row.
    #[must_use]
    pub fn slides(&self) -> bool {
        (self.low.tons - self.high.tons).abs() > 1e-3 * self.low.tons.max(1.0)
    }
}

/// The table of one feed.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// Which offer of the case it was asked of.
    pub offer: usize,
    /// Lowest price of the table: below it owned feed would be sold rather than fed, which is another question.
    pub lowest_usd_per_ton: f64,
    /// By rising price; no gaps.
    pub rows: Vec<Row>,
}

impl Table {
    /// The highest delivered price at which any is bought. `None`: none is bought at any price, or some at every price.
    #[must_use]
    pub fn break_even(&self) -> Option<f64> {
        let last = self.rows.iter().rev().find(|row| row.low.tons > NO_TONS)?;
        (last.high.usd_per_ton < HIGHEST_USD_PER_TON).then_some(last.high.usd_per_ton)
    }
    /// Whether some is bought at every price: nothing meets the needs without it.
    #[must_use]
    pub fn is_indispensable(&self) -> bool {
        self.rows.last().is_some_and(|row| row.high.tons > NO_TONS)
    }
    /// The rows that hold at a price: two where it is a break.
    #[must_use]
    pub fn at(&self, usd_per_ton: f64) -> Vec<&Row> {
        let near = 5e-3;
        self.rows
            .iter()
            .filter(|row| usd_per_ton >= row.low.usd_per_ton - near && usd_per_ton <= row.high.usd_per_ton + near)
            .collect()
    }
    /// Least cost at a price, US dollars.
    #[must_use]
    pub fn cost_at(&self, usd_per_ton: f64) -> Option<f64> {
        let row = self.at(usd_per_ton).into_iter().next()?;
        // Cost is concave: the smaller of the two tangents at the ends of a row.
        let from = |end: &RowEnd| end.cost_usd + end.tons * (usd_per_ton - end.usd_per_ton);
        Some(from(&row.low).min(from(&row.high)))
    }
    /// Least cost when none is bought, US dollars; `None` if that cannot be.
    #[must_use]
    pub fn cost_without(&self) -> Option<f64> {
        self.rows.last().filter(|row| row.high.tons <= NO_TONS).map(|row| row.high.cost_usd)
    }
}

/// The lowest delivered price a table starts at: what an owned ton would sell for, at least 0.
#[must_use]
pub fn lowest_price(offer: &Offer) -> f64 {
    let value = if offer.on_hand.0 > 0.0 { offer.value_usd_per_ton } else { 0.0 };
    value.max(offer.leftover_usd_per_ton.unwrap_or(0.0)).max(0.0)
}

/// Gives an offer a price, so that it can be bought: its own, or one nobody pays. Not below what owned feed sells for,
/// since a ton kept is never worth more than a ton bought.
pub fn make_buyable(offer: &mut Offer) {
    let haul = offer.freight.map_or(0.0, |freight| freight.usd_per_ton());
    match offer.price_usd_per_ton {
        None => offer.price_usd_per_ton = Some(HIGHEST_USD_PER_TON),
        Some(price) if offer.price_by_month.is_empty() => {
            offer.price_usd_per_ton = Some(price.max(lowest_price(offer) - haul));
        }
        Some(_) => {}
    }
}

/// The table of one feed of a case in which it can be bought (see [`make_buyable`]). Loads may be part loads.
///
/// # Errors
/// Whatever the engine says: nothing is feasible, or an answer could not be proved.
pub fn table(case: &Case, cells: &Cells<'_>, offer: usize) -> Result<Table, lp::Failure> {
    table_between(case, cells, offer, &Span { from: 0.0, to: HIGHEST_USD_PER_TON, curve: curve_for(cells) })
}

/// How closely growth is held in a winter of many blocks: steps multiply with them, and nobody haggles over a dime there
/// (judgement).
fn curve_for(cells: &Cells<'_>) -> f64 {
    let blocks = cells.iter().flatten();
    match if blocks.clone().any(|cell| cell.demands.growth.is_some()) { blocks.count() } else { 0 } {
        0..=24 => CURVE,
        25..=72 => 10.0 * CURVE,
        _ => 100.0 * CURVE,
    }
}

/// The prices a table is asked for, and how closely.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// Lowest delivered price, US dollars per short ton; raised to [`lowest_price`].
    pub from: f64,
    /// Highest delivered price, US dollars per short ton.
    pub to: f64,
    /// How closely growth holds its curve, as a share of the gain. 1e-5 gives break prices to a cent or two.
    pub curve: f64,
}

/// The same table between two delivered prices: its first and last row end there.
///
/// # Errors
/// As [`table`].
pub fn table_between(case: &Case, cells: &Cells<'_>, offer: usize, span: &Span) -> Result<Table, lp::Failure> {
    let mut program = Program::build(case, cells);
    if cells.iter().flatten().any(|cell| cell.demands.z > 0.0) {
        // Cuts as close as a plan needs them would stand beside the looser ones of a table and blur its prices.
        solve_growing(&mut program.clone(), cells)?;
    } else {
        solve_growing(&mut program, cells)?;
    }
    let price = case.offers[offer].delivered_usd_per_ton().unwrap_or(0.0);
    let priced: Vec<Priced> = program
        .purchases(case, offer)
        .into_iter()
        .map(|(col, tons)| Priced { col, fixed: program.lp.cols[col.0].cost - tons * price, per_price: tons })
        .collect();
    let lowest = lowest_price(&case.offers[offer]).max(span.from);
    for _ in 0..ROUNDS {
        let steps = lp::step_table(&program.lp, &priced, lowest, span.to.max(lowest))?;
        let mut added = false;
        for step in &steps {
            added |= bend(&mut program, cells, &step.x, span.curve);
        }
        if !added {
            return Ok(Table { offer, lowest_usd_per_ton: lowest, rows: rows(case, cells, &program, offer, &steps) });
        }
    }
    Err(lp::Failure::Solver("the split between maintenance and gain did not settle".to_owned()))
}

/// Adds a tangent in every growing block that misses its curve; tells whether any was added.
pub(super) fn bend(program: &mut Program, cells: &Cells<'_>, x: &[f64], curve: f64) -> bool {
    let mut added = sure::add_cuts(program, cells, x, curve.max(SURELY));
    let Program { lp, blocks, .. } = program;
    for (cell, block) in cells.iter().flatten().zip(blocks.iter_mut().flatten()) {
        let (Some(growth), Some(rows)) = (&cell.demands.growth, &mut block.growth) else { continue };
        let kg_dm = crate::winter::program::ration(&block.amounts, x);
        let growth = growth.low(cell.demands.z, &kg_dm);
        let retained = growth.retained_neg_mcal(&kg_dm);
        let split = x[rows.split.0].clamp(0.01, 0.99);
        let known = cell.demands.z <= 0.0 && rows.tangents.iter().any(|(at, ..)| (at - split).abs() < 1e-9);
        let curve = if cell.demands.z > 0.0 { curve.max(SURELY) } else { curve };
        if retained < growth.gain_neg_mcal * (1.0 - curve) && !known {
            let place = format!("{} {}", cell.block.group.name, cell.block.period.label);
            rows.add_tangent(lp, &growth, &block.amounts, &place, split);
            added = true;
        }
    }
    added
}

/// Joins steps that only slide along a growth curve: the same feeds, and the same rules with no room.
fn rows(case: &Case, cells: &Cells<'_>, program: &Program, offer: usize, steps: &[Step]) -> Vec<Row> {
    let mut list: Vec<Row> = Vec::new();
    let mut before: Option<Vec<bool>> = None;
    for step in steps {
        let kind = kind_of(program, &step.x);
        let at = |price: f64| end_of(case, cells, program, offer, step, price);
        match list.last_mut() {
            Some(row) if before.as_ref() == Some(&kind) => row.high = at(step.to),
            _ => list.push(Row { low: at(step.from), high: at(step.to), changes: Vec::new() }),
        }
        before = Some(kind);
    }
    for index in 1..list.len() {
        let mut changes: Vec<Use> = (0..case.offers.len())
            .map(|f| Use { offer: f, tons: list[index].low.drawn_tons[f] - list[index - 1].high.drawn_tons[f] })
            .filter(|change| change.tons.abs() > 0.005)
            .collect();
        changes.sort_by(|a, b| b.tons.abs().total_cmp(&a.tons.abs()));
        list[index].changes = changes;
    }
    list
}

/// Which columns are used and which rules have no room, tangents aside.
pub(super) fn kind_of(program: &Program, x: &[f64]) -> Vec<bool> {
    let used = |col: lp::ColId| x[col.0].abs() > 1e-6;
    let mut kind = Vec::new();
    for block in program.blocks.iter().flatten() {
        kind.extend(block.amounts.iter().flatten().map(|col| used(*col)));
        kind.extend(block.rules.iter().map(|row| {
            let value = program.lp.row_value(*row, x);
            let row = &program.lp.rows[row.0];
            let size = row.terms.iter().map(|(col, a)| (a * x[col.0]).abs()).fold(1e-3, f64::max);
            [row.lower, row.upper].iter().any(|side| (value - side).abs() <= 1e-7 * size)
        }));
    }
    for store in program.stores.iter().flatten() {
        kind.extend(store.bought.iter().flatten().map(|col| used(*col)));
        kind.extend(store.left.iter().map(|col| used(*col)));
    }
    kind
}

fn end_of(case: &Case, cells: &Cells<'_>, program: &Program, offer: usize, step: &Step, price: f64) -> RowEnd {
    RowEnd {
        usd_per_ton: price,
        tons: if step.quantity > NO_TONS { step.quantity } else { 0.0 },
        tons_by_period: tons_by_period(case, program, offer, &step.x),
        cost_usd: step.cost_at_from + step.quantity * (price - step.from),
        lb_by_group: lb_by_group(case, cells, program, offer, &step.x),
        drawn_tons: drawn_tons(case, cells, program, &step.x),
    }
}

/// Short tons of an offer bought in each period at a point.
fn tons_by_period(case: &Case, program: &Program, offer: usize, x: &[f64]) -> Vec<f64> {
    let periods = case.periods.iter().enumerate();
    if let Some(store) = &program.stores[offer] {
        return periods.map(|(t, _)| store.bought_tons(t, x)).collect();
    }
    periods
        .map(|(t, period)| {
            let per_kg = case.offers[offer].tons_per_kg_dm_eaten(f64::from(period.days()));
            let groups = program.blocks.iter().enumerate();
            groups.map(|(g, row)| program.ration(g, t, x)[offer] * per_kg * row[t].head_days).sum()
        })
        .collect()
}

/// Short tons of each offer that a point draws for feeding over the winter.
#[must_use]
pub fn drawn_tons(case: &Case, cells: &Cells<'_>, program: &Program, x: &[f64]) -> Vec<f64> {
    let mut tons = vec![0.0; case.offers.len()];
    for (g, row) in cells.iter().enumerate() {
        for (t, cell) in row.iter().enumerate() {
            let days = f64::from(cell.block.period.days());
            let head_days = f64::from(cell.block.group.head) * days;
            for (f, kg) in program.ration(g, t, x).iter().enumerate() {
                tons[f] += kg * case.offers[f].tons_per_kg_dm_eaten(days) * head_days;
            }
        }
    }
    tons
}

/// Pounds as fed of one offer per head and day, the mean of the winter, by group.
#[must_use]
pub fn lb_by_group(case: &Case, cells: &Cells<'_>, program: &Program, offer: usize, x: &[f64]) -> Vec<f64> {
    cells
        .iter()
        .enumerate()
        .map(|(g, row)| {
            let (mut lb, mut days) = (0.0, 0.0);
            for (t, cell) in row.iter().enumerate() {
                let length = f64::from(cell.block.period.days());
                let kg = program.ration(g, t, x)[offer];
                lb += KgDm(kg).as_fed(case.offers[offer].feed.dm_pct()).lb() * length;
                days += length;
            }
            if days > 0.0 { lb / days } else { 0.0 }
        })
        .collect()
}
