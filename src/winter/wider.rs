//! Ways out of a winter without a plan that change more than one figure of one period: a limit lifted for a group all
//! winter, as the herd file writes it, and a feed measured out that is eaten at will. Each was tried, and what the winter
//! would cost then is told.

use super::Case;
use super::assemble::{Cells, assemble_like};
use super::case::LimitChange;
use super::known::Known;
use super::plan::{is_big, solve_growing};
use super::program::Program;
use crate::feed::FedHow;
use crate::limit::{Force, Rule, Sense};
use indexmap::IndexMap;

/// Rules that tell what an animal can hold or will take. No reason in a file makes her eat more; only figures the user
/// set may be a way out.
pub(super) const OF_THE_ANIMAL: &[&str] =
    &["intake", "intake-at-will", "roughage-at-will", "heifer-intake", "forage-ndf"];
/// A limit is not told to be lifted further than to so many times its figure (judgement: beyond that it is another
/// feed).
const FURTHEST: f64 = 2.0;
/// A further step is told where it leaves less than this share of the cost.
const WORTH_MORE: f64 = 0.99;
/// Halvings in search of the least that does: far below the digits told.
const HALVINGS: usize = 12;

/// A limit that, lifted for one group all winter, alone makes a plan possible.
#[derive(Debug, Clone, PartialEq)]
pub struct Lift {
    /// Group.
    pub group: usize,
    /// Id of the rule.
    pub rule: &'static str,
    /// Its name for people.
    pub title: &'static str,
    /// Unit.
    pub unit: &'static str,
    /// Decimals a person wants.
    pub digits: usize,
    /// The most lenient figure it has now in any period.
    pub limit: f64,
    /// The figure that does, rounded to the lenient side to the digits told.
    pub reached: f64,
    /// Least cost of the winter then, US dollars, labor of feeding aside.
    pub cost_usd: f64,
    /// The figure from which on a more lenient one saves nothing, as far as was looked, and the least cost then, where
    /// that is less.
    pub cheapest: Option<(f64, f64)>,
}

/// A feed that, measured out in place of eaten at will, alone makes a plan possible.
#[derive(Debug, Clone, PartialEq)]
pub struct ByHand {
    /// Offer.
    pub offer: usize,
    /// Least cost of the winter then, US dollars, labor of feeding aside.
    pub cost_usd: f64,
}

/// Whether a change of a figure can be asked of a person: not of what the animal can hold, unless the file set it.
#[must_use]
pub fn can_be_asked(case: &Case, rule: &str) -> bool {
    !OF_THE_ANIMAL.contains(&rule) || case.limits.iter().any(|change| change.rule == rule)
}

/// Least cost of the winter of another case of the same cattle and days; `None`: no plan.
fn cost(case: &Case, cells: &Cells<'_>) -> Option<f64> {
    let cells = assemble_like(case, cells).ok()?;
    solve_growing(&mut Program::build(case, &cells), &cells).ok().map(|found| found.objective)
}

/// Each limit of a group that, lifted alone, makes a plan possible, the cheapest winter first. None for a big winter, nor
/// where more certainty is asked for than the averages.
#[must_use]
pub fn lifts(case: &Case, cells: &Cells<'_>) -> Vec<Lift> {
    let mut list: Vec<Lift> = Vec::new();
    // Where more certainty is asked every trial takes seconds.
    if is_big(case, cells) || case.settings.certainty_pct > 50.0 {
        return list;
    }
    for (group, row) in cells.iter().enumerate() {
        // The most lenient figure of each rule over the winter.
        let mut rules: IndexMap<&'static str, (&'static Rule, f64)> = IndexMap::new();
        for instance in row.iter().flat_map(|cell| &cell.demands.rules) {
            let asked = instance.force == Force::Keep
                && instance.about.is_none()
                && instance.rule.sense != Sense::Exactly
                && can_be_asked(case, instance.rule.id);
            if asked {
                let (_, most) = rules.entry(instance.rule.id).or_insert((instance.rule, instance.limit));
                *most = if instance.rule.sense == Sense::AtMost {
                    most.max(instance.limit)
                } else {
                    most.min(instance.limit)
                };
            }
        }
        list.extend(rules.values().filter_map(|(rule, limit)| lift(case, cells, group, rule, *limit)));
    }
    list.sort_by(|a, b| a.cost_usd.total_cmp(&b.cost_usd));
    list
}

fn lift(case: &Case, cells: &Cells<'_>, group: usize, rule: &'static Rule, limit: f64) -> Option<Lift> {
    let at_most = rule.sense == Sense::AtMost;
    let changed = |value: f64| {
        let mut other = case.clone();
        let change = LimitChange {
            rule: rule.id.to_owned(),
            group: Some(case.groups[group].name.clone()),
            value: Some(value),
            off: false,
            because: Some("tried as a way out".to_owned()),
            span: 0..0,
        };
        // The first change of a group is the one that holds.
        other.limits.insert(0, change);
        other
    };
    let with = |value: f64| cost(&changed(value), cells);
    let digit = 10_f64.powi(i32::try_from(rule.digits).unwrap_or(0));
    let lenient = |value: f64| if at_most { (value * digit).ceil() / digit } else { (value * digit).floor() / digit };
    let furthest = if at_most { FURTHEST * limit } else { limit / FURTHEST };
    let used = used(&changed(furthest), cells, group, rule)?;
    let (mut not, mut does) = (limit, furthest);
    for _ in 0..HALVINGS {
        let middle = 0.5 * (not + does);
        if with(middle).is_some() { does = middle } else { not = middle }
    }
    // What is told is what was tried.
    let reached = lenient(does);
    let cost_usd = with(reached)?;
    let figure = lenient(used);
    let cheapest = with(figure).filter(|less| *less < WORTH_MORE * cost_usd).map(|less| (figure, less));
    let Rule { id, title, unit, digits, .. } = *rule;
    Some(Lift { group, rule: id, title, unit, digits, limit, reached, cost_usd, cheapest })
}

/// The most lenient figure that the cheapest winter of a changed case makes use of; `None`: no plan.
fn used(case: &Case, cells: &Cells<'_>, group: usize, rule: &Rule) -> Option<f64> {
    let cells = assemble_like(case, cells).ok()?;
    let mut program = Program::build(case, &cells);
    let found = solve_growing(&mut program, &cells).ok()?;
    let values = cells[group].iter().enumerate().flat_map(|(period, cell)| {
        let kg_dm = program.ration(group, period, &found.x);
        let of_it = cell.demands.rules.iter().filter(|one| one.rule.id == rule.id);
        of_it.map(move |one| one.value(&kg_dm)).collect::<Vec<_>>()
    });
    let most = if rule.sense == Sense::AtMost { f64::max } else { f64::min };
    values.reduce(most)
}

/// Each feed that is eaten at will and, measured out instead, alone makes a plan possible, the cheapest winter first.
#[must_use]
pub fn by_hand(case: &Case, cells: &Cells<'_>) -> Vec<ByHand> {
    if is_big(case, cells) {
        return Vec::new();
    }
    let mut list: Vec<ByHand> = at_will(case, cells)
        .into_iter()
        .filter_map(|offer| cost(&measured_out(case, offer), cells).map(|cost_usd| ByHand { offer, cost_usd }))
        .collect();
    list.sort_by(|a, b| a.cost_usd.total_cmp(&b.cost_usd));
    list
}

/// The same of a winter that has a plan: only what makes it cheaper.
#[must_use]
pub fn cheaper_by_hand(case: &Case, cells: &Cells<'_>, known: &Known) -> Vec<ByHand> {
    let one = |offer: usize| {
        let other = measured_out(case, offer);
        let cells = assemble_like(&other, cells).ok()?;
        let found = known.solve(&mut Program::build(&other, &cells), &cells).ok()?;
        Some(ByHand { offer, cost_usd: found.objective }).filter(|one| one.cost_usd < known.cost_usd - 0.5)
    };
    at_will(case, cells).into_iter().filter_map(one).collect()
}

/// What stands before a group at will and could be measured out: what grows cannot.
fn at_will(case: &Case, cells: &Cells<'_>) -> Vec<usize> {
    let mut list: Vec<usize> =
        cells.iter().flatten().filter_map(|cell| cell.block.base.as_ref()).map(|base| base.offer).collect();
    list.sort_unstable();
    list.dedup();
    list.retain(|offer| !case.offers[*offer].feed.class.is_grazed());
    list
}

fn measured_out(case: &Case, offer: usize) -> Case {
    let mut other = case.clone();
    other.offers[offer].fed = FedHow::ByHand;
    other.offers[offer].fed_by_group.clear();
    other
}
