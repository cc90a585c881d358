//! How far one price or one requirement can move before the least-cost winter changes its kind, what the winter costs
//! there, and what changes beyond.
//!
//! For prices see [`super::price_range`]. The range of a requirement comes from the programme: the figure of the rule becomes
//! a column of its own that is held at nothing, and the range of that one row is asked for, so it holds also where several
//! rows stand for one need. Rules on shares of the diet are taken at the dry matter of the plan. Energy of cattle that grow
//! bends the programme: its price is told, its range is not.

use super::price_range::{PriceRange, price_ranges};
use crate::lp::{self, Certified, Change, Lp, RowId, Uniqueness};
use crate::winter::plan::{only_one, solve_growing};
use crate::winter::program::Program;
use crate::winter::{Case, Cells};

/// A price below this is none, US dollars for the winter.
const NO_PRICE: f64 = 1e-6;
/// Relative difference of the prices to both sides that shows a corner.
const ONE_SIDED: f64 = 1e-6;

/// What a side range is of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Side {
    /// A rule of one block, by its place among the block's rules.
    Rule {
        /// Group.
        group: usize,
        /// Period.
        period: usize,
        /// Which rule.
        rule: usize,
    },
    /// Energy to keep growing cattle (`gain` false) or for their growth.
    Growing {
        /// Group.
        group: usize,
        /// Period.
        period: usize,
        /// For growth.
        gain: bool,
    },
    /// Tons on hand at the start of an offer.
    OnHand(usize),
    /// Room for an offer all winter, tons.
    Room(usize),
    /// Tons of an offer that the seller has in a period.
    Supply(usize, usize),
}

/// One end of a side range.
#[derive(Debug, Clone, PartialEq)]
pub struct SideEnd {
    /// The figure; infinite: it can move without end.
    pub figure: f64,
    /// Least cost of the winter there, US dollars.
    pub winter_usd: f64,
    /// Nothing meets the needs beyond it.
    pub is_last: bool,
    /// Price beyond it, as in [`SideRange::usd_per_unit`]; `None` where it could not be told.
    pub usd_beyond: Option<f64>,
    /// What comes in, goes out, binds and comes free beyond it, by the names of the programme.
    pub change: Names,
}

/// What changes, by the names of columns and rows.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Names {
    /// Comes in.
    pub enters: Vec<String>,
    /// Goes out.
    pub leaves: Vec<String>,
    /// Has no room any more.
    pub binds: Vec<String>,
    /// Has room again.
    pub frees: Vec<String>,
}

/// The figures of one requirement between which its price holds.
#[derive(Debug, Clone, PartialEq)]
pub struct SideRange {
    /// What of.
    pub side: Side,
    /// The figure now, in the unit of the rule, or short tons.
    pub figure: f64,
    /// US dollars for one unit more: per head and day for rules, for the winter for tons.
    pub usd_per_unit: f64,
    /// The same for one unit less and for one unit more, where they differ.
    pub one_sided: Option<(f64, f64)>,
    /// The ends; `None` where growth bends the programme, or where they could not be proved.
    pub ends: Option<(SideEnd, SideEnd)>,
}

/// All ranges of a winter.
#[derive(Debug, Clone, PartialEq)]
pub struct Ranges {
    /// Least cost of the winter in part loads, US dollars.
    pub winter_usd: f64,
    /// Of prices.
    pub prices: Vec<PriceRange>,
    /// Offers for whose price none could be proved.
    pub prices_unproved: Vec<usize>,
    /// Of requirements that have a price.
    pub sides: Vec<SideRange>,
    /// Whether another plan costs the same.
    pub uniqueness: Uniqueness,
}

/// Every range of a winter.
///
/// # Errors
/// Whatever the engine says.
pub fn ranges(case: &Case, cells: &Cells<'_>) -> Result<Ranges, lp::Failure> {
    let mut program = Program::build(case, cells);
    let best = solve_growing(&mut program, cells)?;
    let (prices, prices_unproved) = price_ranges(case, cells, |_| true, super::worth::CURVE);
    let asked = asked(case, cells, &program, &best);
    let straight = straightened(&program, &best);
    let sides = asked.into_iter().map(|ask| side_range(case, &straight, &best, &ask)).collect();
    Ok(Ranges { winter_usd: best.objective, prices, prices_unproved, sides, uniqueness: only_one(&program, &best) })
}

/// The programme without the tangents and cuts that pay nothing, in blocks where others of their kind pay. Near the
/// answer they all but coincide with those that pay and hide where its kind ends; the answer and its prices stand as they
/// are, and an end is off by no more than the curve bends on the way.
fn straightened(program: &Program, best: &Certified) -> Program {
    let mut straight = program.clone();
    for block in program.blocks.iter().flatten() {
        let mut drop_unpaid = |rows: &[RowId]| {
            if rows.iter().any(|row| best.row_dual[row.0] != 0.0) {
                for row in rows.iter().filter(|row| best.row_dual[row.0] == 0.0) {
                    let row = &mut straight.lp.rows[row.0];
                    (row.lower, row.upper) = (f64::NEG_INFINITY, f64::INFINITY);
                }
            }
        };
        let tangents = || block.growth.iter().flat_map(|rows| &rows.tangents);
        drop_unpaid(&tangents().map(|(_, keep, _)| *keep).collect::<Vec<_>>());
        drop_unpaid(&tangents().map(|(_, _, grow)| *grow).collect::<Vec<_>>());
        for rule in 0..block.rules.len() {
            drop_unpaid(&block.rows_of(rule).collect::<Vec<_>>());
        }
    }
    straight
}

/// A requirement with a price: the rows that hold it, each with what one unit of the figure moves its side by.
struct Ask {
    side: Side,
    figure: f64,
    /// Dollars of the winter to the unit that is told.
    share: f64,
    rows: Vec<(RowId, f64)>,
    /// Upper bounds of columns in place of rows.
    bounds: Vec<usize>,
    bent: bool,
}

/// Every requirement that has a price.
fn asked(case: &Case, cells: &Cells<'_>, program: &Program, best: &Certified) -> Vec<Ask> {
    let mut list = Vec::new();
    for (group, row) in cells.iter().enumerate() {
        for (period, cell) in row.iter().enumerate() {
            let block = &program.blocks[group][period];
            let kg_dm = program.ration(group, period, &best.x);
            let share = 1.0 / block.head_days;
            for (rule, instance) in cell.demands.rules.iter().enumerate() {
                let per = instance.per_value(&kg_dm);
                let rows: Vec<_> = block.rows_of(rule).map(|row| (row, per)).collect();
                let side = Side::Rule { group, period, rule };
                list.push(Ask { side, figure: instance.limit, share, rows, bounds: Vec::new(), bent: false });
            }
            let (Some(growth), Some(rows)) = (&cell.demands.growth, &block.growth) else { continue };
            let split = best.x[rows.split.0];
            for gain in [false, true] {
                let of = |(at, keep, grow): &(f64, RowId, RowId)| {
                    let (p, q) = (*at, 1.0 - at);
                    if gain {
                        (*grow, 2.0 / q - 1.0 / (q * q) + split / (q * q))
                    } else {
                        (*keep, 2.0 / p - split / (p * p))
                    }
                };
                let figure = if gain { growth.gain_neg_mcal } else { growth.maintenance_nem_mcal };
                let side = Side::Growing { group, period, gain };
                let rows = rows.tangents.iter().map(of).collect();
                list.push(Ask { side, figure, share, rows, bounds: Vec::new(), bent: true });
            }
        }
    }
    for (f, store) in program.stores.iter().enumerate() {
        let Some(store) = store else { continue };
        let offer = &case.offers[f];
        let plain = |side: Side, figure: f64, rows: Vec<(RowId, f64)>, bounds: Vec<usize>| Ask {
            side,
            figure,
            share: 1.0,
            rows,
            bounds,
            bent: false,
        };
        if let (Some(first), Some(period)) = (store.balance.first(), case.periods.first())
            && offer.on_hand.0 > 0.0
        {
            let carried = offer.loss.carried(f64::from(period.days()));
            list.push(plain(Side::OnHand(f), offer.on_hand.tons(), vec![(*first, carried)], Vec::new()));
        }
        if let Some(room) = offer.storage_tons {
            let bounds = store.left.iter().map(|col| col.0).collect();
            list.push(plain(Side::Room(f), room.max(offer.on_hand.tons()), Vec::new(), bounds));
        }
        for (t, col) in store.bought.iter().enumerate() {
            let Some(col) = col else { continue };
            let upper = program.lp.cols[col.0].upper;
            // Loads of a size are counted in loads; their tons are told by `worth`.
            if upper.is_finite() && store.unit_tons.total_cmp(&1.0).is_eq() {
                list.push(plain(Side::Supply(f, t), upper, Vec::new(), vec![col.0]));
            }
        }
    }
    let priced = |ask: &Ask| {
        let rows = ask.rows.iter().map(|(row, by)| best.row_dual[row.0] * by);
        let bounds = ask.bounds.iter().map(|col| best.reduced_cost[*col].min(0.0));
        rows.chain(bounds).map(f64::abs).sum::<f64>() > NO_PRICE
    };
    list.retain(priced);
    list
}

/// The programme with the figure of a requirement as a column, held at 0 by a row of its own, and its answer.
fn with_figure(program: &Program, best: &Certified, ask: &Ask) -> (Lp, Certified, RowId) {
    let (mut lp, mut answer) = (program.lp.clone(), best.clone());
    let moved = lp.col("figure", 0.0, f64::NEG_INFINITY, f64::INFINITY);
    let mut price = 0.0;
    for (row, by) in &ask.rows {
        lp.rows[row.0].terms.push((moved, -by));
        price += best.row_dual[row.0] * by;
    }
    for col in &ask.bounds {
        let room = std::mem::replace(&mut lp.cols[*col].upper, f64::INFINITY);
        lp.row("bound", f64::NEG_INFINITY, room, [(lp::ColId(*col), 1.0), (moved, -1.0)]);
        let saved = best.reduced_cost[*col].min(0.0);
        answer.row_dual.push(saved);
        answer.reduced_cost[*col] -= saved;
        price += saved;
    }
    let held = lp.row("held", 0.0, 0.0, [(moved, 1.0)]);
    answer.x.push(0.0);
    answer.reduced_cost.push(0.0);
    answer.row_dual.push(price);
    (lp, answer, held)
}

fn side_range(case: &Case, program: &Program, best: &Certified, ask: &Ask) -> SideRange {
    let (lp, answer, held) = with_figure(program, best, ask);
    let usd_per_unit = answer.row_dual[held.0] * ask.share;
    let mut found = SideRange { side: ask.side, figure: ask.figure, usd_per_unit, one_sided: None, ends: None };
    if ask.bent {
        return found;
    }
    // What cannot be proved of a side is not told; its price stands by the proof of the plan.
    if let Ok((less, more)) = lp::price_sides(&lp, &answer, held) {
        let differ = (more - less).abs() > ONE_SIDED * more.abs().max(less.abs());
        found.one_sided = differ.then_some((less * ask.share, more * ask.share));
    }
    let Ok(range) = lp::side_range(&lp, &answer, held) else { return found };
    let end = |end: lp::SideEnd| SideEnd {
        figure: ask.figure + end.side,
        winter_usd: end.cost,
        is_last: end.is_last,
        usd_beyond: end.price.map(|price| price * ask.share),
        change: end.change.map_or_else(Names::default, |change| names(case, &lp, &change)),
    };
    found.ends = Some((end(range.down), end(range.up)));
    found
}

/// Names of what changes; the helpers of the programme itself (splits, tangents, the column of the figure) are no news.
fn names(case: &Case, lp: &Lp, change: &Change) -> Names {
    let col = |col: &lp::ColId| {
        let name = &lp.cols[col.0].name;
        let known = case.offers.iter().any(|offer| name.contains(offer.id.as_str()));
        (known && !name.contains(" left ")).then(|| name.clone())
    };
    let row = |row: &RowId| {
        let name = &lp.rows[row.0].name;
        let helper = name == "held" || name.contains(", split ") || name.starts_with("store of ");
        (!helper).then(|| name.clone())
    };
    Names {
        enters: change.enters.iter().filter_map(col).collect(),
        leaves: change.leaves.iter().filter_map(col).collect(),
        binds: change.binds.iter().filter_map(row).collect(),
        frees: change.frees.iter().filter_map(row).collect(),
    }
}
