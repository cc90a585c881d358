//! What stands behind a shortage that is no figure of a feed: feeds that may not be given, sulfur in the water, cold.

use super::Case;
use super::assemble::{Cells, assemble_like};
use super::plan::solve_growing;
use super::program::Program;
use super::short::Shortfall;
use crate::feed::Nutrient;
use crate::source::Origin;

/// Cold below this share of all energy asked for is not told as a cause (judgement).
const COLD_SHARE: f64 = 0.15;

/// One thing behind a shortage.
#[derive(Debug, Clone, PartialEq)]
pub enum Cause {
    /// A feed that may not be given to a group.
    Barred {
        /// Group.
        group: usize,
        /// Offer.
        offer: usize,
        /// Why.
        reason: String,
        /// A test of its free gossypol would free it.
        test_frees: bool,
        /// And with the gossypol counted now a plan would then be possible.
        then_a_plan: bool,
    },
    /// Sulfur that comes with the water.
    Water {
        /// Group.
        group: usize,
        /// g a head and day.
        sulfur_g: f64,
        /// The same as percent of the dry matter they will eat.
        pct_dm: f64,
    },
    /// Cold, in the period in which it asks most.
    Cold {
        /// Group.
        group: usize,
        /// Period.
        period: usize,
        /// Counted, Mcal NEm a day.
        counted_nem_mcal: f64,
        /// What the heat balance asks, Mcal NEm a day.
        asked_nem_mcal: f64,
        /// All energy asked for, Mcal NEm a day.
        total_nem_mcal: f64,
    },
}

/// What stands behind some shortfalls.
#[must_use]
pub fn causes(case: &Case, cells: &Cells<'_>, shortfalls: &[Shortfall]) -> Vec<Cause> {
    let mut list = Vec::new();
    for (group, row) in cells.iter().enumerate() {
        let short = |rule: &str| shortfalls.iter().any(|one| one.group == group && one.rule == rule);
        if shortfalls.iter().all(|one| one.group != group) {
            continue;
        }
        for (offer, feed) in case.offers.iter().enumerate() {
            if let Some(reason) = row.iter().find_map(|cell| cell.block.barred[offer].as_ref())
                && feed.can_be_had()
            {
                let reason = reason.to_string();
                let (test_frees, then_a_plan) = tested(case, cells, group, offer);
                list.push(Cause::Barred { group, offer, reason, test_frees, then_a_plan });
            }
        }
        let of = &case.groups[group];
        if of.water_sulfur_g > 0.0
            && let Some(cell) = row.first()
            && short("sulfur")
        {
            let pct_dm = of.water_sulfur_g / (10.0 * cell.block.needs.dmi_kg.max(1e-9));
            list.push(Cause::Water { group, sulfur_g: of.water_sulfur_g, pct_dm });
        }
        let cold = |t: &usize| row[*t].block.needs.cold_uncapped_nem_mcal;
        let energy_short = |t: &usize| {
            shortfalls
                .iter()
                .any(|one| (one.group, one.period) == (group, *t) && matches!(one.rule, "energy" | "growth"))
        };
        if let Some(period) = (0..row.len()).filter(energy_short).max_by(|a, b| cold(a).total_cmp(&cold(b))) {
            let needs = &row[period].block.needs;
            let (counted, total) = (needs.energy.cold_nem_mcal, needs.energy.total_nem_mcal());
            if counted > COLD_SHARE * total {
                list.push(Cause::Cold {
                    group,
                    period,
                    counted_nem_mcal: counted,
                    asked_nem_mcal: needs.cold_uncapped_nem_mcal,
                    total_nem_mcal: total,
                });
            }
        }
    }
    list
}

/// Whether a gossypol test would free a barred feed, and whether a plan would then be possible.
fn tested(case: &Case, cells: &Cells<'_>, group: usize, offer: usize) -> (bool, bool) {
    let mut other = case.clone();
    match other.offers[offer].feed.values.get_mut(&Nutrient::FreeGossypol) {
        Some(figure) => figure.origin = Origin::Given,
        None => return (false, false),
    }
    let Ok(freed) = assemble_like(&other, cells) else { return (false, false) };
    let frees = freed[group].iter().all(|cell| cell.block.barred[offer].is_none());
    (frees, frees && solve_growing(&mut Program::build(&other, &freed), &freed).is_ok())
}
