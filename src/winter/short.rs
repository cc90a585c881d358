//! When needs and limits cannot all hold: what is short, by how much, and the smallest single ways out.
//!
//! First every limit is held and needs alone may fall short, for a limit given up to meet a need better is no news
//! about the feed. Only where limits contradict each other may they fall short too, floors before ceilings. What is told is what the nearest
//! ration has, in the unit of the rule, and a way out is told only if it was tried and leads to a ration.

use super::Case;
use super::assemble::{Cells, assemble};
use super::causes::{Cause, causes};
use super::plan::{NoPlan, solve_growing};
use super::program::Program;
use super::sure;
use super::ways::{ShortStores, short_stores};
use super::wider::{self, ByHand, Lift};
use crate::limit::{Force, Growth, Instance, Rule, Sense};
use crate::lp::{self, Elastic, Relax};
use rayon::prelude::*;

/// One thing that cannot be met.
#[derive(Debug, Clone, PartialEq)]
pub struct Shortfall {
    /// Group.
    pub group: usize,
    /// Period.
    pub period: usize,
    /// Id of the rule.
    pub rule: &'static str,
    /// Title of the rule, with the feed where there is one.
    pub title: String,
    /// Unit.
    pub unit: &'static str,
    /// Decimals a person wants.
    pub digits: usize,
    /// Its force.
    pub force: Force,
    /// The figure that was asked for.
    pub limit: f64,
    /// The figure that is reached.
    pub reached: f64,
    /// By how much it is missed, in the rule's unit.
    pub short: f64,
}

/// What is short when there is no plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Short {
    /// What falls short when everything that can be met is met, needs first.
    pub shortfalls: Vec<Shortfall>,
    /// Each change of one figure that alone would make a plan possible, smallest first.
    pub ways_out: Vec<Shortfall>,
    /// Each limit that, lifted for a group all winter, alone would make a plan possible, the cheapest winter first.
    pub lifts: Vec<Lift>,
    /// Each feed eaten at will that, measured out, alone would make a plan possible, the cheapest winter first.
    pub by_hand: Vec<ByHand>,
    /// What stands behind the shortage.
    pub causes: Vec<Cause>,
    /// What the stores lack, where more tons or fewer head would make a plan possible.
    pub stores: Option<ShortStores>,
    /// Where more certainty was asked for than any plan has: the most there is, percent.
    pub reachable_pct: Option<f64>,
}

/// What a figure that may fall short is of.
#[derive(Clone, Copy)]
enum What<'a> {
    Rule(&'a Instance),
    Maintenance(&'a Growth),
    Gain(&'a Growth),
}

/// A figure that may fall short, with its rows of the programme: one, or a growing block's tangents.
struct Figure<'a> {
    group: usize,
    period: usize,
    what: What<'a>,
    /// Standard deviations by which the feeds may come out low before it is missed.
    z: f64,
    rows: Vec<Relax>,
}

impl Figure<'_> {
    fn rule(&self) -> Option<&'static Rule> {
        match self.what {
            What::Rule(instance) => Some(instance.rule),
            What::Maintenance(_) => crate::limit::rule("energy"),
            What::Gain(_) => crate::limit::rule("growth"),
        }
    }
    fn force(&self) -> Force {
        if let What::Rule(instance) = self.what { instance.force } else { Force::Need }
    }
    /// What a ration has of it against what was asked for.
    fn tell(&self, kg_dm: &[f64]) -> Option<Shortfall> {
        let rule = self.rule()?;
        let (limit, reached) = match self.what {
            What::Rule(instance) => (instance.limit, instance.low_value(self.z, kg_dm)),
            What::Maintenance(growth) => {
                let growth = growth.low(self.z, kg_dm);
                // The most maintenance that leaves enough of the mix for the gain.
                let left = 1.0 - growth.gain_neg_mcal / growth.neg_mcal(kg_dm).max(1e-12);
                (growth.maintenance_nem_mcal, growth.nem_mcal(kg_dm) * left.max(0.0))
            }
            What::Gain(growth) => (growth.gain_neg_mcal, growth.low(self.z, kg_dm).retained_neg_mcal(kg_dm)),
        };
        let short = match self.what {
            What::Rule(instance) => instance.miss(reached),
            What::Maintenance(_) | What::Gain(_) => limit - reached,
        };
        let about = if let What::Rule(instance) = self.what { instance.about.as_deref() } else { None };
        Some(Shortfall {
            group: self.group,
            period: self.period,
            rule: rule.id,
            title: about.map_or_else(|| rule.title.to_owned(), |about| format!("{}: {about}", rule.title)),
            unit: rule.unit,
            digits: rule.digits,
            force: self.force(),
            limit,
            reached,
            short,
        })
    }
}

/// Every figure that may fall short.
fn figures<'a>(cells: &'a Cells<'_>, program: &Program) -> Vec<Figure<'a>> {
    let mut list = Vec::new();
    for (group, row) in cells.iter().enumerate() {
        for (period, cell) in row.iter().enumerate() {
            let block = &program.blocks[group][period];
            let z = cell.demands.z;
            for (index, instance) in cell.demands.rules.iter().enumerate() {
                // A need or amount weighs by itself; a share by what 10 kg of dry matter would carry of it.
                let is_amount = instance.per.iter().all(|value| *value == 0.0);
                let per = if is_amount { instance.per_constant } else { 10.0 + instance.per_constant };
                let weight_per_unit = 1.0 / (instance.limit.abs().max(1e-3) * per.max(1e-6));
                let rows = block.rows_of(index).map(|row| Relax { row, weight_per_unit }).collect();
                list.push(Figure { group, period, what: What::Rule(instance), z, rows });
            }
            if let (Some(growth), Some(rows)) = (&cell.demands.growth, &block.growth) {
                let need = growth.maintenance_nem_mcal.max(1e-3);
                let keep = rows.tangents.iter().map(|(at, keep, _)| (*keep, need * 2.0 / at));
                let gain = growth.gain_neg_mcal.max(1e-3);
                let grow = rows.tangents.iter().map(|(at, _, grow)| (*grow, gain / (1.0 - at)));
                let relax = |(row, size): (lp::RowId, f64)| Relax { row, weight_per_unit: 1.0 / size };
                let (keep, grow) = (keep.map(relax).collect(), grow.map(relax).collect());
                list.push(Figure { group, period, what: What::Maintenance(growth), z, rows: keep });
                list.push(Figure { group, period, what: What::Gain(growth), z, rows: grow });
            }
        }
    }
    list
}

/// The nearest there is to a ration: with needs alone short if that can be; else floors and fixed amounts too, since she
/// cannot eat more than she can hold; else anything.
fn nearest(program: &Program, figures: &[Figure<'_>]) -> Result<Elastic, lp::Failure> {
    let need = |figure: &Figure<'_>| figure.force() == Force::Need;
    let floor = |figure: &Figure<'_>| matches!(figure.what, What::Rule(instance) if instance.force == Force::Keep && instance.rule.sense != Sense::AtMost);
    let with = |of: &dyn Fn(&Figure<'_>) -> bool| {
        let rows: Vec<Relax> =
            figures.iter().filter(|figure| of(figure)).flat_map(|figure| figure.rows.iter().copied()).collect();
        lp::elastic(&program.lp, &rows)
    };
    // What she can hold gives way last: no shortage is nearer a ration because she ate more than that.
    let asked = |figure: &Figure<'_>| figure.rule().is_none_or(|rule| !wider::OF_THE_ANIMAL.contains(&rule.id));
    with(&need)
        .or_else(|_| with(&|figure| need(figure) || floor(figure)))
        .or_else(|_| with(&asked))
        .or_else(|_| with(&|_| true))
}

/// How closely a need that is to be met surely is held where its shortage is told, as a share.
const TOLD: f64 = 1e-3;
/// Most rounds of cuts for that.
const MOST_ROUNDS: usize = 12;
/// Most figures tried as the one change that would do: the first of the winter say what the rest would.
const MOST_TRIED: usize = 48;
/// Most changes followed to a ration.
const MOST_FOLLOWED: usize = 12;

/// Finds what is short.
#[must_use]
pub fn shortage(case: &Case, cells: &Cells<'_>, program: &Program, failure: &lp::Failure) -> NoPlan {
    let program = &mut program.clone();
    let mut rounds = 0;
    let (figures, elastic) = loop {
        let figures = figures(cells, program);
        rounds += 1;
        match nearest(program, &figures) {
            // What cuts so far do not show may fall short too, by less and less from round to round; what is told is
            // rounded to a thousandth and more.
            Ok(elastic) if rounds >= MOST_ROUNDS || !sure::add_cuts(program, cells, &elastic.x, TOLD) => {
                break (figures, elastic);
            }
            Ok(_) => {}
            Err(second) => return NoPlan::Unproven(format!("{failure}; {second}")),
        }
    };
    let program = &*program;
    let short_row =
        |figure: &Figure<'_>| figure.rows.iter().any(|one| elastic.shortfalls.iter().any(|short| short.row == one.row));
    // Of a growing animal's mix maintenance comes first, so whichever of the two the programme let go is told anew.
    let grows = |figure: &Figure<'_>| !matches!(figure.what, What::Rule(_));
    let missed = |figure: &&Figure<'_>| {
        let same = |other: &Figure<'_>| (other.group, other.period) == (figure.group, figure.period);
        short_row(figure)
            || grows(figure) && figures.iter().any(|other| grows(other) && same(other) && short_row(other))
    };
    let mut shortfalls: Vec<Shortfall> = figures
        .iter()
        .filter(missed)
        .filter_map(|figure| {
            let kg_dm = program.ration(figure.group, figure.period, &elastic.x);
            let told = figure.tell(&kg_dm)?;
            Some(match figure.what {
                What::Maintenance(growth) => {
                    let whole = growth.nem_mcal(&kg_dm);
                    Shortfall { reached: whole, short: told.limit - whole, ..told }
                }
                _ => told,
            })
        })
        .filter(|short| short.short > 1e-9 * short.limit.abs().max(1e-3))
        .collect();
    if shortfalls.is_empty() {
        return NoPlan::Unproven(format!("{failure}, yet nothing is short"));
    }
    shortfalls.sort_by_key(|short| (short.force != Force::Need, short.group, short.period));
    let ways_out = ways_out(case, cells, program, &figures, &elastic);
    let stores = short_stores(case, cells, program);
    NoPlan::Short(Box::new(Short {
        ways_out,
        lifts: wider::lifts(case, cells),
        by_hand: wider::by_hand(case, cells),
        causes: causes(case, cells, &shortfalls),
        shortfalls,
        stores,
        reachable_pct: reachable_pct(case),
    }))
}

/// The most certainty a plan can have, to half a percent and not above it; `None` where none was asked for, or where
/// even the averages cannot be met.
fn reachable_pct(case: &Case) -> Option<f64> {
    let exists = |pct: f64| {
        let mut other = case.clone();
        other.settings.certainty_pct = pct;
        assemble(&other).is_ok_and(|cells| solve_growing(&mut Program::build(&other, &cells), &cells).is_ok())
    };
    let asked = case.settings.certainty_pct;
    if asked <= 50.0 || !exists(50.0) {
        return None;
    }
    let (mut low, mut high) = (50.0, asked);
    while high - low > 0.5 {
        let middle = 0.5 * (low + high);
        if exists(middle) { low = middle } else { high = middle }
    }
    Some((2.0 * low).floor() / 2.0)
}

/// Single figures that, changed alone, make a plan possible; smallest change first, three at most.
fn ways_out(
    case: &Case,
    cells: &Cells<'_>,
    program: &Program,
    figures: &[Figure<'_>],
    elastic: &Elastic,
) -> Vec<Shortfall> {
    // A row outside one proof of the conflict cannot undo that proof.
    let in_conflict = |figure: &&Figure<'_>| figure.rows.iter().any(|one| elastic.conflict.contains(&one.row));
    let mut ways: Vec<Shortfall> = figures
        .iter()
        .filter(|figure| figure.force() != Force::Never)
        .filter(|figure| figure.rule().is_some_and(|rule| wider::can_be_asked(case, rule.id)))
        .filter(in_conflict)
        .take(MOST_TRIED)
        .collect::<Vec<_>>()
        .into_par_iter()
        .filter_map(|figure| {
            let alone = lp::elastic(&program.lp, &figure.rows).ok()?;
            figure.tell(&program.ration(figure.group, figure.period, &alone.x)).filter(|way| way.short > 0.0)
        })
        .collect();
    let change = |way: &Shortfall| way.short / way.limit.abs().max(1e-9);
    ways.sort_by(|a, b| change(a).total_cmp(&change(b)));
    ways.into_iter().take(MOST_FOLLOWED).filter(|way| opens(case, cells, way)).take(3).collect()
}

/// Whether a way out, taken a hair further, leads to a ration.
fn opens(case: &Case, cells: &Cells<'_>, way: &Shortfall) -> bool {
    let mut changed = cells.clone();
    take(&mut changed, way);
    solve_growing(&mut Program::build(case, &changed), &changed).is_ok()
}

/// Changes the one figure a way out speaks of, a hair further than it says.
pub fn take(cells: &mut Cells<'_>, way: &Shortfall) {
    let demands = &mut cells[way.group][way.period].demands;
    let hair = 1e-6 * way.limit.abs().max(1e-3);
    if let Some(growth) = &mut demands.growth {
        match way.rule {
            "energy" => growth.maintenance_nem_mcal = way.reached - hair,
            "growth" => growth.gain_neg_mcal = way.reached - hair,
            _ => {}
        }
    }
    for instance in demands.rules.iter_mut().filter(|instance| {
        let about = instance.about.as_ref().is_none_or(|about| way.title.ends_with(about.as_str()));
        instance.rule.id == way.rule && about
    }) {
        instance.limit = match instance.rule.sense {
            Sense::AtLeast => way.reached - hair,
            Sense::AtMost => way.reached + hair,
            Sense::Exactly => way.reached,
        };
    }
}
