//! Solve the winter: least cost, whole loads, steady rations; and the plan as it is read back.

use super::Case;
use super::assemble::Cells;
use super::binding::{self, StoreWorth, dearest_first};
use super::known::Known;
use super::loads;
use super::program::Program;
use super::read::{read_feeds, read_rations};
use super::short::{Short, shortage};
use super::steady::{self, Steadiness};
use super::sure;
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
    /// Rules that hold where it is offered and not without it: some hang on what is offered.
    pub rules_gone: Vec<&'static str>,
    /// Without it something else is eaten at will, or nothing.
    pub at_will_changes: bool,
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
    /// What limits of the stores cost, by offer; `None` for feeds without a store.
    pub stores: Vec<Option<StoreWorth>>,
    /// What steadiness costs; empty for a big winter.
    pub steadiness: Vec<Steadiness>,
    /// How whole loads were found, where they are asked for.
    pub whole: Option<loads::WholeLoads>,
    /// Proof of the least cost; with whole loads, of the cost of part loads, which no plan in whole loads can beat.
    pub certificate: Certificate,
    /// Whether another plan costs the same.
    pub uniqueness: Uniqueness,
    /// Cost without each feed that is bought and used, dearest to lose first; empty for a big winter.
    pub without: Vec<Without>,
    /// Offers for which that cost could not be proved.
    pub without_unproved: Vec<usize>,
    /// Steadier rations could not be proved: the plan is the cheapest as it stands.
    pub steady_unproved: bool,
    /// The least cost in part loads as a start for winters like this one.
    pub known: Known,
    /// Too big a winter for the questions that need it solved again and again.
    pub big: bool,
}

/// Why there is no plan.
#[derive(Debug, Clone, PartialEq)]
pub enum NoPlan {
    /// Needs and limits cannot all hold.
    Short(Box<Short>),
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
    let rows = program.lp.rows.len();
    let loads = loads::in_whole(case, cells, &mut program, &best);
    // Tangents found on the way to whole loads are rows of the programme of part loads too.
    let best = if program.lp.rows.len() > rows {
        solve_growing(&mut program, cells).map_err(|failure| NoPlan::Unproven(failure.to_string()))?
    } else {
        best
    };
    // Prices are those of part loads: with the loads fixed a ton more or less would cost nothing.
    let (whole, settled) = match &loads {
        Some(Ok(found)) => (Some(found.how.clone()), (&found.program, &found.best)),
        Some(Err(why)) => (Some(loads::WholeLoads::Failed(why.clone())), (&program, &best)),
        None => (None, (&program, &best)),
    };
    let big = is_big(case, cells);
    let known = Known::of(&program, &best);
    let pct = case.settings.steady_pct;
    let steadied = || -> Result<(Option<Vec<f64>>, Vec<Steadiness>), String> {
        let steady = steady::steady(case, cells, settled.0, settled.1, pct)?;
        let point = steady.as_ref().unwrap_or(&settled.1.x);
        let table =
            if big { Vec::new() } else { steady::table(case, cells, settled.0, settled.1, (pct, point.as_slice())) };
        Ok((steady, table))
    };
    let only = || if whole.is_some() { Uniqueness::Unknown } else { only_one(&program, &best) };
    let stores = || binding::store_worths(case, cells, &program, &best, big);
    // In part loads, as the prices are; what whole loads cost more is added, or the comparison would be lopsided.
    let more_usd = settled.1.objective - best.objective;
    let feeds = if big { Vec::new() } else { binding::bought_and_used(case, &program, &settled.1.x) };
    let bare = || binding::without((case, cells), more_usd, &known, &feeds);
    // None of these hangs on another.
    let ((steadied, (mut without, mut unproved)), (uniqueness, stores)) =
        rayon::join(|| rayon::join(steadied, bare), || rayon::join(only, stores));
    // The least cost is proved whether or not a steadier winter is.
    let steady_unproved = steadied.is_err();
    let (steady, steadiness) = steadied.unwrap_or_default();
    let point = steady.as_ref().unwrap_or(&settled.1.x);
    if !big {
        // A steadier plan may use a feed that the cheapest does not.
        let used = binding::bought_and_used(case, &program, point);
        without.retain(|one| used.contains(&one.offer));
        let more: Vec<usize> = used.into_iter().filter(|f| !feeds.contains(f)).collect();
        let (more, missing) = binding::without((case, cells), more_usd, &known, &more);
        without.extend(more);
        unproved.extend(missing);
    }
    Ok(Plan {
        cost_usd: settled.0.lp.cost(point),
        least_cost_usd: settled.1.objective,
        changes_at_least_cost_lb: steady::changes_lb(case, settled.0, &settled.1.x),
        changes_lb: steady::changes_lb(case, settled.0, point),
        rations: read_rations(case, cells, &program, &best, point),
        feeds: read_feeds(case, &program, &best, point),
        stores,
        steadiness,
        whole,
        certificate: best.certificate,
        uniqueness,
        without: dearest_first(without),
        without_unproved: unproved,
        steady_unproved,
        known,
        big,
    })
}

/// A winter of more blocks than this is planned without the questions that need it solved again and again: the cost
/// without each feed, a week's earlier supply, the table of steadiness.
pub const BIG_WINTER_BLOCKS: usize = 60;
/// The same where more certainty than the averages is asked for, since every need then bends.
pub const BIG_SURE_WINTER_BLOCKS: usize = 24;

/// Whether a winter is that big.
#[must_use]
pub fn is_big(case: &Case, cells: &Cells<'_>) -> bool {
    let most = if case.settings.certainty_pct > 50.0 { BIG_SURE_WINTER_BLOCKS } else { BIG_WINTER_BLOCKS };
    cells.iter().map(Vec::len).sum::<usize>() > most
}

/// Most rounds of tangents and cuts: each at least halves the error where the optimum stays put, so this is far beyond
/// what was ever seen.
pub(super) const ROUNDS: usize = 100;

/// Solves, adding tangents of the growth curves and cuts for certainty until every block holds its true curves.
///
/// # Errors
/// Whatever the engine says.
pub fn solve_growing(program: &mut Program, cells: &Cells<'_>) -> Result<Certified, lp::Failure> {
    let found = lp::solve(&program.lp)?;
    settled(program, cells, found)
}

/// As [`solve_growing`], from where an answer of a programme like it stands.
///
/// # Errors
/// Whatever the engine says.
pub fn solve_growing_from(
    program: &mut Program,
    cells: &Cells<'_>,
    near: &Certified,
) -> Result<Certified, lp::Failure> {
    let found = lp::solve_from(&program.lp, near)?;
    settled(program, cells, found)
}

fn settled(program: &mut Program, cells: &Cells<'_>, mut found: Certified) -> Result<Certified, lp::Failure> {
    for _ in 0..ROUNDS {
        if !add_tangents(program, cells, &found.x) {
            sure::let_go(program, cells, &found);
            return Ok(found);
        }
        found = lp::solve_from(&program.lp, &found)?;
    }
    Err(lp::Failure::Solver("the split between maintenance and gain did not settle".to_owned()))
}

/// Adds a tangent in every block that does not hold its curve at a point, and a cut for every need that is not met there
/// as surely as asked; tells whether any was added.
pub fn add_tangents(program: &mut Program, cells: &Cells<'_>, x: &[f64]) -> bool {
    add_tangents_within(program, cells, x, (1e-9, sure::HELD))
}

/// As [`add_tangents`], with growth held to a share of it, and needs that are to be met surely to a share of them.
pub(super) fn add_tangents_within(
    program: &mut Program,
    cells: &Cells<'_>,
    x: &[f64],
    (of_gain, share): (f64, f64),
) -> bool {
    let mut added = false;
    let Program { lp, blocks, .. } = program;
    for (cell, block) in cells.iter().flatten().zip(blocks.iter_mut().flatten()) {
        let (Some(growth), Some(rows)) = (&cell.demands.growth, &mut block.growth) else { continue };
        let kg_dm = super::program::ration(&block.amounts, x);
        let growth = growth.low(cell.demands.z, &kg_dm);
        let retained = growth.retained_neg_mcal(&kg_dm);
        // Tight enough for shadow prices: a billionth of the gain asked for; a bound that bends both ways takes longer.
        let near = if cell.demands.z > 0.0 { share } else { share.min(of_gain) };
        if retained >= growth.gain_neg_mcal * (1.0 - near) {
            continue;
        }
        let place = format!("{} {}", cell.block.group.name, cell.block.period.label);
        let split = x[rows.split.0].clamp(0.01, 0.99);
        let again = |(at, ..): &(f64, lp::RowId, lp::RowId)| cell.demands.z <= 0.0 && (at - split).abs() < 1e-12;
        if rows.tangents.iter().any(again) || held(&growth, &block.amounts, split, x) {
            continue;
        }
        rows.add_tangent(lp, &growth, &block.amounts, &place, split);
        added = true;
    }
    sure::add_cuts(program, cells, x, share) || added
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

/// Whether another plan costs the same. Near the optimum the tangents of a growing block all but coincide, which hides
/// a vertex; those without a price are left out first. What is the only answer of a wider choice is the only one here.
#[must_use]
pub fn only_one(program: &Program, best: &Certified) -> Uniqueness {
    let mut bare = program.lp.clone();
    let mut pruned = false;
    for block in program.blocks.iter().flatten() {
        let tangents = block.growth.iter().flat_map(|rows| &rows.tangents).flat_map(|(_, keep, grow)| [keep, grow]);
        for row in tangents.chain(block.cuts.iter().map(|(_, row)| row)) {
            if best.row_dual[row.0] == 0.0 {
                bare.rows[row.0].lower = f64::NEG_INFINITY;
                pruned = true;
            }
        }
    }
    match lp::uniqueness(&bare, best) {
        Ok(Uniqueness::Tied { .. }) if pruned => lp::uniqueness(&program.lp, best).unwrap_or(Uniqueness::Unknown),
        Ok(found) => found,
        Err(_) => Uniqueness::Unknown,
    }
}
