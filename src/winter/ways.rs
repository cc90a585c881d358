//! A winter whose feed does not reach: what runs out when, and what alone would make it reach: more tons, an earlier
//! start of supply, or fewer head.

use super::Case;
use super::assemble::Cells;
use super::plan::solve_growing;
use super::program::{Program, units_offered};
use crate::lp::ColId;

/// What the stores lack.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ShortStores {
    /// Offer, period in which it runs out, and the tons that come short, when the fewest tons in all are added.
    pub runs_out: Vec<(usize, usize, f64)>,
    /// Offer and tons more of it at the start that alone would do, the cheapest first.
    pub more_tons: Vec<(usize, f64)>,
    /// Offer and weeks by which its supply alone would have to come earlier.
    pub weeks_earlier: Vec<(usize, u32)>,
    /// Group and head fewer of it that alone would do.
    pub fewer_head: Vec<(usize, u32)>,
}

/// Most weeks of an earlier start that are tried.
const MOST_WEEKS: u32 = 4;
/// Tons below this are none.
const NONE: f64 = 1e-6;

/// What the stores lack; `None` if no tons in any store would make a plan possible, so that the rules themselves
/// contradict each other.
#[must_use]
pub fn short_stores(case: &Case, cells: &Cells<'_>, program: &Program) -> Option<ShortStores> {
    let mut bare = program.clone();
    for col in &mut bare.lp.cols {
        col.cost = 0.0;
    }
    bare.lp.constant = 0.0;
    let runs_out = runs_out(case, cells, &bare)?;
    let mut more_tons: Vec<(usize, f64)> = (0..case.offers.len())
        .filter_map(|f| more_tons(case, cells, &bare, f).map(|tons| (f, tons)))
        .filter(|(_, tons)| *tons > NONE)
        .collect();
    let dollars = |(f, tons): (usize, f64)| {
        let offer = &case.offers[f];
        tons * offer.delivered_usd_per_ton().unwrap_or(offer.value_usd_per_ton)
    };
    more_tons.sort_by(|a, b| dollars(*a).total_cmp(&dollars(*b)));
    Some(ShortStores {
        runs_out,
        more_tons,
        weeks_earlier: (0..case.offers.len())
            .filter_map(|f| weeks_earlier(case, cells, &bare, f).map(|weeks| (f, weeks)))
            .collect(),
        fewer_head: (0..case.groups.len())
            .filter_map(|g| fewer_head(case, cells, &bare, g).map(|head| (g, head)))
            .collect(),
    })
}

/// Adds a column of tons to a store in one period.
fn extra(case: &Case, program: &mut Program, f: usize, t: usize, cost: f64) -> Option<ColId> {
    let row = *program.stores[f].as_ref()?.balance.get(t)?;
    let carried = case.offers[f].loss.carried(f64::from(case.periods[t].days()));
    let col = program.lp.col(format!("more {f} {t}"), cost, 0.0, f64::INFINITY);
    program.lp.rows[row.0].terms.push((col, -carried));
    Some(col)
}

fn runs_out(case: &Case, cells: &Cells<'_>, bare: &Program) -> Option<Vec<(usize, usize, f64)>> {
    let mut program = bare.clone();
    let mut cols = Vec::new();
    for f in 0..case.offers.len() {
        for t in 0..case.periods.len() {
            if let Some(col) = extra(case, &mut program, f, t, 1.0) {
                cols.push((f, t, col));
            }
        }
    }
    if cols.is_empty() {
        return None;
    }
    let found = solve_growing(&mut program, cells).ok()?;
    let short = cols.into_iter().map(|(f, t, col)| (f, t, found.x[col.0]));
    Some(short.filter(|(_, _, tons)| *tons > NONE).collect())
}

fn more_tons(case: &Case, cells: &Cells<'_>, bare: &Program, f: usize) -> Option<f64> {
    let mut program = bare.clone();
    extra(case, &mut program, f, 0, 1.0)?;
    solve_growing(&mut program, cells).ok().map(|found| found.objective)
}

fn weeks_earlier(case: &Case, cells: &Cells<'_>, bare: &Program, f: usize) -> Option<u32> {
    let store = bare.stores[f].as_ref()?;
    let offer = &case.offers[f];
    offer.price_usd_per_ton?;
    (1..=MOST_WEEKS).find(|weeks| {
        let mut program = bare.clone();
        for (col, units) in store.bought.iter().zip(units_offered(&case.periods, offer, store.unit_tons, *weeks)) {
            if let Some(col) = col {
                program.lp.cols[col.0].upper = units;
            }
        }
        solve_growing(&mut program, cells).is_ok()
    })
}

/// Fewest head to take out of a group; `None` if even without it the feed does not reach.
fn fewer_head(case: &Case, cells: &Cells<'_>, bare: &Program, g: usize) -> Option<u32> {
    let head = case.groups[g].head;
    let reaches = |kept: u32| {
        let mut program = bare.clone();
        let share = f64::from(kept) / f64::from(head);
        let own: Vec<ColId> = bare.blocks[g].iter().flat_map(|block| block.amounts.iter().flatten().copied()).collect();
        for row in bare.stores.iter().flatten().flat_map(|store| &store.balance) {
            for (col, value) in &mut program.lp.rows[row.0].terms {
                if own.contains(col) {
                    *value *= share;
                }
            }
            program.lp.rows[row.0].terms.retain(|(_, value)| *value != 0.0);
        }
        solve_growing(&mut program, cells).is_ok()
    };
    if !reaches(0) {
        return None;
    }
    // `low` head can be fed, `high` cannot.
    let (mut low, mut high) = (0, head);
    while high - low > 1 {
        let middle = low + (high - low) / 2;
        if reaches(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(head - low)
}
