//! When needs and limits cannot all hold: what is short, by how much, and the cheapest single way out.

use super::Case;
use super::assemble::Cells;
use super::plan::NoPlan;
use super::program::Program;
use super::ways::{ShortStores, short_stores};
use crate::limit::{Force, Rule};
use crate::lp::{self, Relax};

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
    /// What the stores lack, where more tons or fewer head would make a plan possible.
    pub stores: Option<ShortStores>,
}

/// Where a row of the programme comes from.
struct Origin {
    group: usize,
    period: usize,
    rule: &'static Rule,
    title: String,
    limit: f64,
    per: f64,
}

/// Finds what is short.
#[must_use]
pub fn shortage(case: &Case, cells: &Cells<'_>, program: &Program, failure: &lp::Failure) -> NoPlan {
    let mut relax = Vec::new();
    let mut origins = Vec::new();
    for (g, row) in cells.iter().enumerate() {
        for (t, cell) in row.iter().enumerate() {
            let block = &program.blocks[g][t];
            for (rule, row) in cell.demands.rules.iter().zip(&block.rules) {
                // A need or amount weighs by itself; a share by what 10 kg of dry matter would carry of it.
                let is_amount = rule.per.iter().all(|value| *value == 0.0);
                let per = if is_amount { rule.per_constant } else { 10.0 + rule.per_constant };
                let title = rule
                    .about
                    .as_ref()
                    .map_or_else(|| rule.rule.title.to_owned(), |about| format!("{}: {about}", rule.rule.title));
                relax.push(Relax { row: *row, weight_per_unit: 1.0 / (rule.limit.abs().max(1e-3) * per.max(1e-6)) });
                origins.push(Origin { group: g, period: t, rule: rule.rule, title, limit: rule.limit, per });
            }
            if let (Some(growth), Some(rows)) = (&cell.demands.growth, &block.growth) {
                for (at, keep, grow) in &rows.tangents {
                    for (row, need, slope, id) in [
                        (keep, growth.maintenance_nem_mcal, 2.0 / at, "energy"),
                        (grow, growth.gain_neg_mcal, 1.0 / (1.0 - at), "growth"),
                    ] {
                        let Some(rule) = crate::limit::rule(id) else { continue };
                        relax.push(Relax { row: *row, weight_per_unit: 1.0 / (need.max(1e-3) * slope) });
                        origins.push(Origin {
                            group: g,
                            period: t,
                            rule,
                            title: rule.title.to_owned(),
                            limit: need,
                            per: slope,
                        });
                    }
                }
            }
        }
    }
    let elastic = match lp::elastic(&program.lp, &relax) {
        Ok(elastic) => elastic,
        Err(second) => return NoPlan::Unproven(format!("{failure}; {second}")),
    };
    let tell = |origin: &Origin, amount: f64| Shortfall {
        group: origin.group,
        period: origin.period,
        rule: origin.rule.id,
        title: origin.title.clone(),
        unit: origin.rule.unit,
        digits: origin.rule.digits,
        force: origin.rule.force(cells[origin.group][origin.period].block.group.class),
        limit: origin.limit,
        short: amount / origin.per,
    };
    let find = |row: lp::RowId| relax.iter().position(|one| one.row == row);
    let mut shortfalls: Vec<Shortfall> = elastic
        .shortfalls
        .iter()
        .filter_map(|short| find(short.row).map(|index| tell(&origins[index], short.amount)))
        .collect();
    if shortfalls.is_empty() {
        return NoPlan::Unproven(format!("{failure}, yet nothing is short"));
    }
    merge(&mut shortfalls);
    shortfalls.sort_by_key(|short| (short.force != Force::Need, short.group, short.period));
    let mut ways_out: Vec<Shortfall> = lp::single_relief(&program.lp, &relax)
        .unwrap_or_default()
        .iter()
        .filter_map(|relief| find(relief.row).map(|index| tell(&origins[index], relief.amount)))
        .filter(|way| way.force != Force::Never)
        .collect();
    merge(&mut ways_out);
    ways_out.sort_by(|a, b| (a.short / a.limit.abs().max(1e-9)).total_cmp(&(b.short / b.limit.abs().max(1e-9))));
    ways_out.truncate(3);
    NoPlan::Short(Short { shortfalls, ways_out, stores: short_stores(case, cells, program) })
}

/// Several tangents of one growing block tell of one shortage: keep the largest.
fn merge(list: &mut Vec<Shortfall>) {
    let mut kept: Vec<Shortfall> = Vec::new();
    for short in list.drain(..) {
        match kept
            .iter_mut()
            .find(|one| one.group == short.group && one.period == short.period && one.title == short.title)
        {
            Some(one) => {
                if short.short > one.short {
                    *one = short;
                }
            }
            None => kept.push(short),
        }
    }
    *list = kept;
}
