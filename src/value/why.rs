//! Why a feed is in a plan, out of it, or at a limit: what the needs credit it and the limits charge it, in dollars per
//! ton, against what it costs.
//!
//! At the least-cost winter every need and limit has a price. A ton of a feed is worth what the needs pay for what it
//! brings, less what the limits charge for what it takes up. What it costs less what it is worth is its reduced cost:
//! nothing where it is fed, and above nothing where it is left out.

use crate::limit::Measure;
use crate::lp::{self, Certified, RowId};
use crate::quantity::KgDm;
use crate::winter::plan::solve_growing;
use crate::winter::program::{BlockRows, Program};
use crate::winter::{Case, Cell, Cells};
use indexmap::IndexMap;

/// A price below this is none, US dollars per ton.
pub const NO_PRICE: f64 = 0.005;

/// One line of an account.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Id of the rule; `spread` for what its uncertainty is charged.
    pub rule: &'static str,
    /// Its name for people.
    pub title: String,
    /// Credited (above 0) or charged, US dollars per short ton.
    pub usd_per_ton: f64,
    /// The rule is about this feed or its kind, not about what every feed brings.
    pub of_its_kind: bool,
}

/// A feed's account with one group in one period, US dollars per short ton as it is bought or stands in store.
#[derive(Debug, Clone, PartialEq)]
pub struct Account {
    /// Group.
    pub group: usize,
    /// Period.
    pub period: usize,
    /// Pounds as fed and eaten per head and day at least cost.
    pub lb: f64,
    /// What each need and limit credits or charges.
    pub entries: Vec<Entry>,
    /// Their sum: what a ton is worth to this group then.
    pub worth: f64,
    /// What a ton costs: its price, or what a ton in store is worth to the winter.
    pub costs: f64,
    /// Cost less worth: the reduced cost of the programme.
    pub reduced: f64,
    /// Pounds eaten of a ton.
    pub lb_eaten_per_ton: f64,
}

/// Why a feed is where it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Why {
    /// Which offer.
    pub offer: usize,
    /// By group and period, where it may be given.
    pub accounts: Vec<Account>,
    /// Groups that may not have it, each with the reason.
    pub barred: Vec<(usize, &'static str)>,
    /// Short tons bought over the winter at least cost.
    pub bought_tons: f64,
    /// The delivered price at which it would come in, where it can be bought and is not.
    pub comes_in_usd_per_ton: Option<f64>,
    /// For feed on hand: what one more ton at the start would save.
    pub one_more_ton_usd: Option<f64>,
}

/// The account of a feed at the least-cost winter, in part loads.
///
/// # Errors
/// Whatever the engine says.
pub fn why(case: &Case, cells: &Cells<'_>, offer: usize) -> Result<Why, lp::Failure> {
    let mut program = Program::build(case, cells);
    let best = solve_growing(&mut program, cells)?;
    Ok(account(case, cells, &program, &best, offer))
}

/// The account of a feed at a solved winter.
#[must_use]
pub fn account(case: &Case, cells: &Cells<'_>, program: &Program, best: &Certified, offer: usize) -> Why {
    let mut accounts = Vec::new();
    let mut barred = Vec::new();
    for (g, row) in cells.iter().enumerate() {
        if let Some(reason) = row.iter().find_map(|cell| cell.block.barred[offer]) {
            barred.push((g, reason));
        }
        for (t, cell) in row.iter().enumerate() {
            accounts.extend(one(case, cell, program, best, (g, t, offer)));
        }
    }
    let purchases = program.purchases(case, offer);
    let bought_tons: f64 = purchases.iter().map(|(col, tons)| best.x[col.0].max(0.0) * tons).sum();
    let least = purchases.iter().map(|(col, tons)| best.reduced_cost[col.0] / tons).fold(f64::INFINITY, f64::min);
    let stored = program.stores[offer].as_ref();
    Why {
        offer,
        accounts,
        barred,
        bought_tons,
        comes_in_usd_per_ton: case.offers[offer]
            .delivered_usd_per_ton()
            .filter(|_| bought_tons <= 1e-6 && least.is_finite())
            .map(|price| price - least),
        one_more_ton_usd: stored.filter(|_| case.offers[offer].on_hand.0 > 0.0).and_then(|rows| {
            let days = f64::from(case.periods.first()?.days());
            Some(-best.row_dual[rows.balance.first()?.0] * case.offers[offer].loss.carried(days))
        }),
    }
}

fn one(
    case: &Case,
    cell: &Cell<'_>,
    program: &Program,
    best: &Certified,
    (g, t, f): (usize, usize, usize),
) -> Option<Account> {
    let block = &program.blocks[g][t];
    let col = block.amounts[f]?;
    let offer = &case.offers[f];
    let days = f64::from(cell.block.period.days());
    let tons = offer.tons_per_kg_dm_eaten(days) * block.head_days;
    let paid = |row: RowId| -> f64 {
        let of = program.lp.rows[row.0].terms.iter().find(|(one, _)| *one == col).map_or(0.0, |(_, a)| *a);
        best.row_dual[row.0] * of / tons
    };
    let entries = entries(cell, block, best, f, tons, paid);
    let worth = entries.iter().map(|entry| entry.usd_per_ton).sum();
    let in_store = |rows: &crate::winter::program::StoreRows| {
        rows.balance.get(t).map_or(0.0, |row| -best.row_dual[row.0] * offer.loss.carried(days))
    };
    let costs = program.stores[f].as_ref().map_or_else(|| program.lp.cols[col.0].cost / tons, in_store);
    let eaten = KgDm(1.0 / offer.tons_per_kg_dm_eaten(days)).as_fed(offer.feed.dm_pct()).lb();
    Some(Account {
        group: g,
        period: t,
        lb: KgDm(program.ration(g, t, &best.x)[f]).as_fed(offer.feed.dm_pct()).lb(),
        entries,
        worth,
        costs,
        reduced: best.reduced_cost[col.0] / tons,
        lb_eaten_per_ton: eaten,
    })
}

/// What each rule pays a ton. Where certainty is asked for, a row that holds a need surely pays the mean of what the
/// feed brings and takes back for its spread; the two stand apart.
fn entries(
    cell: &Cell<'_>,
    block: &BlockRows,
    best: &Certified,
    f: usize,
    tons: f64,
    paid: impl Fn(RowId) -> f64,
) -> Vec<Entry> {
    let mut sums: IndexMap<(&'static str, String), (f64, bool)> = IndexMap::new();
    let mut spread = 0.0;
    let mut add = |rule: &'static str, title: String, usd: f64, own: bool| {
        sums.entry((rule, title)).or_insert((0.0, own)).0 += usd;
    };
    if let (Some(growth), Some(rows)) = (&cell.demands.growth, &block.growth) {
        for (_, keep, grow) in &rows.tangents {
            for (row, id, title, of) in [
                (keep, "energy", "energy to keep them", growth.nem[f]),
                (grow, "growth", "energy for growth", growth.neg[f]),
            ] {
                let mean = best.row_dual[row.0] * of / tons;
                add(id, title.to_owned(), mean, false);
                spread += paid(*row) - mean;
            }
        }
    }
    for (index, rule) in cell.demands.rules.iter().enumerate() {
        let (mean, _) = rule.row();
        let title = rule
            .about
            .as_ref()
            .map_or_else(|| rule.rule.title.to_owned(), |about| format!("{}: {about}", rule.rule.title));
        let own = rule.about.is_some() || is_of_a_kind(rule.rule.over);
        for row in block.rows_of(index) {
            let of_mean = best.row_dual[row.0] * mean[f] / tons;
            add(rule.rule.id, title.clone(), of_mean, own);
            spread += paid(row) - of_mean;
        }
    }
    let mut list: Vec<Entry> = sums
        .into_iter()
        .map(|((rule, title), (usd_per_ton, of_its_kind))| Entry { rule, title, usd_per_ton, of_its_kind })
        .collect();
    list.push(Entry { rule: "spread", title: "its uncertainty".to_owned(), usd_per_ton: spread, of_its_kind: false });
    list
}

/// Whether a measure is of one kind of feed, so that a limit of it holds that feed back.
fn is_of_a_kind(measure: Measure) -> bool {
    matches!(
        measure,
        Measure::SeedAsFed
            | Measure::SeedDm
            | Measure::DistillersAsFed
            | Measure::GinTrashDm
            | Measure::LimestoneAsFed
            | Measure::GrainAsFed
            | Measure::UreaDm
            | Measure::NpnCp
            | Measure::Gossypol
            | Measure::GossypolOfMeal
            | Measure::OneFeed(_)
    )
}
