//! The low case: what happens if a feed comes out one standard deviation low in TDN and protein together, and what it
//! costs to cover that.

use crate::feed::{Feed, Nutrient, Offer};
use crate::limit::{Block, Demands, Measure};
use crate::lp;
use crate::quantity::lb_from_kg;
use crate::winter::program::Program;
use crate::winter::{Case, Cells, Plan, assemble_like};
use rayon::iter::Either;
use rayon::prelude::*;

/// One feed of one ration a standard deviation low.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LowCase {
    /// Which offer.
    pub offer: usize,
    /// TDN it was counted at and one standard deviation lower, % of DM.
    pub tdn_pct: (f64, f64),
    /// The same of crude protein.
    pub cp_pct: (f64, f64),
    /// Energy that is then missing, Mcal NEm a day.
    pub missing_nem_mcal: f64,
    /// The same as pounds of TDN a day.
    pub missing_tdn_lb: f64,
    /// Crude protein that is then missing, lb a day.
    pub missing_cp_lb: f64,
    /// Days until she has lost a condition score.
    pub days_to_lose_a_score: f64,
}

/// A feed one standard deviation low in TDN and protein together.
#[must_use]
pub fn low(feed: &Feed) -> Feed {
    let down = |nutrient: Nutrient| feed.spread(nutrient).map(|sd| (nutrient, -sd));
    let by: Vec<(Nutrient, f64)> = [down(Nutrient::Tdn), down(Nutrient::Cp)].into_iter().flatten().collect();
    feed.moved(&by)
}

/// The feed whose low case hurts a ration most; `None` if none leaves it short of energy.
#[must_use]
pub fn worst(
    block: &Block<'_>,
    demands: &Demands,
    offers: &[Offer],
    kg_dm: &[f64],
    surplus_nem_mcal: f64,
) -> Option<LowCase> {
    let protein = demands.rules.iter().find(|rule| rule.rule.id == "crude-protein");
    // A ration that is short already falls shorter.
    let spare_cp_lb = protein.map_or(f64::INFINITY, |rule| rule.value(kg_dm) - rule.limit);
    offers
        .iter()
        .zip(kg_dm)
        .enumerate()
        .filter_map(|(index, (offer, kg))| {
            let poor = low(&offer.feed);
            let of = |feed: &Feed, measure: Measure| measure.per_kg_dm(index, feed, block).ok();
            let drop = |measure: Measure| Some(kg * (of(&offer.feed, measure)? - of(&poor, measure)?));
            let dropped = drop(Measure::Nem)?;
            let missing = dropped - surplus_nem_mcal;
            let both = |nutrient: Nutrient| Some((offer.feed.get(nutrient)?, poor.get(nutrient)?));
            Some(LowCase {
                offer: index,
                tdn_pct: both(Nutrient::Tdn)?,
                cp_pct: both(Nutrient::Cp)?,
                missing_nem_mcal: missing,
                missing_tdn_lb: lb_from_kg(drop(Measure::Tdn)?) * missing / dropped,
                missing_cp_lb: (lb_from_kg(drop(Measure::Cp)?) - spare_cp_lb).max(0.0),
                // 1 Mcal of reserve replaces 0.8 Mcal of diet (NRC 1996, from memory).
                days_to_lose_a_score: 0.8 * block.needs.mcal_per_score / missing,
            })
            .filter(|low| kg_dm[low.offer] > 0.0 && low.missing_nem_mcal > 0.05)
        })
        .max_by(|a, b| a.missing_nem_mcal.total_cmp(&b.missing_nem_mcal))
}

/// What it costs to meet every need again when one feed is known to be low.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cover {
    /// Which offer.
    pub offer: usize,
    /// US dollars for the winter more than the least cost of the plan; `None`: nothing meets the needs then.
    pub more_usd: Option<f64>,
}

/// What covering the low case of each feed of a plan costs, the dearest first; and the feeds for which it could not be
/// proved. Feeds that test alike are low together.
#[must_use]
pub fn covers(case: &Case, cells: &Cells<'_>, plan: &Plan) -> (Vec<Cover>, Vec<usize>) {
    let used = |f: usize| plan.rations.iter().flatten().any(|ration| ration.kg_dm[f] > 1e-6);
    let alike =
        |one: &Offer, other: &Offer| other.feed_name() == one.feed_name() && other.feed.values == one.feed.values;
    let cover = |f: usize| {
        let offer = &case.offers[f];
        let is_asked = used(f) && offer.feed.spread(Nutrient::Tdn).is_some();
        if !is_asked || case.offers[..f].iter().any(|other| alike(offer, other)) {
            return None;
        }
        let mut poor = case.clone();
        for other in poor.offers.iter_mut().filter(|other| alike(offer, other)) {
            other.feed = low(&other.feed);
        }
        let Ok(cells) = assemble_like(&poor, cells) else { return Some(Either::Right(f)) };
        Some(match plan.known.solve(&mut Program::build(&poor, &cells), &cells) {
            Ok(found) => Either::Left(Cover { offer: f, more_usd: Some(found.objective - plan.known.cost_usd) }),
            Err(lp::Failure::Infeasible) => Either::Left(Cover { offer: f, more_usd: None }),
            Err(_) => Either::Right(f),
        })
    };
    let (mut list, unproved): (Vec<Cover>, Vec<usize>) =
        (0..case.offers.len()).into_par_iter().filter_map(cover).partition_map(|one| one);
    list.sort_by(|a, b| b.more_usd.unwrap_or(f64::INFINITY).total_cmp(&a.more_usd.unwrap_or(f64::INFINITY)));
    (list, unproved)
}
