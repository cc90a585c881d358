//! What a plan tells beside its rations: what is begun slowly, what grazing costs, what measuring out would cost.

use super::model::{ByHandLine, GrazingLine, LearningLine};
use crate::feed::{FeedClass, Offer};
use crate::quantity::KgDm;
use crate::winter::plan::Without;
use crate::winter::wider::ByHand;
use crate::winter::{Case, Cell, Cells};

/// What measuring out would cost, labor as in the plan.
#[must_use]
pub fn by_hand(case: &Case, list: &[ByHand], labor_usd: f64) -> Vec<ByHandLine> {
    let line =
        |one: &ByHand| ByHandLine { feed: case.offers[one.offer].id.clone(), winter_usd: one.cost_usd + labor_usd };
    list.iter().map(line).collect()
}

/// How gin trash of a planned ration is begun.
pub(super) fn learning(case: &Case, cell: &Cell<'_>, kg_dm: &[f64]) -> Vec<LearningLine> {
    let Some(days) = cell.block.first_days(&cell.demands, kg_dm) else { return Vec::new() };
    let trash =
        case.offers.iter().zip(kg_dm).filter(|(offer, kg)| offer.feed.class == FeedClass::GinTrash && **kg > 1e-6);
    trash
        .map(|(offer, kg)| {
            let lb = KgDm(*kg).as_fed(offer.feed.dm_pct()).lb();
            LearningLine {
                feed: offer.id.clone(),
                last: days.last.to_string(),
                first_lb_as_fed: days.first * lb,
                after_lb_as_fed: days.after * lb,
            }
        })
        .collect()
}

/// What is paid for grazing: by the head, while it can be had.
pub(super) fn grazing(case: &Case, cells: &Cells<'_>) -> Vec<GrazingLine> {
    let of = |(f, offer): (usize, &Offer)| {
        let head_days: f64 = cells
            .iter()
            .flatten()
            .filter(|cell| cell.block.available[f])
            .map(|cell| f64::from(cell.block.group.head) * f64::from(cell.block.period.days()))
            .sum();
        let line = GrazingLine {
            feed: offer.id.clone(),
            head_months: head_days / crate::quantity::DAYS_PER_MONTH,
            usd: head_days * offer.usd_per_head_day(),
        };
        (line.usd > 0.0).then_some(line)
    };
    case.offers.iter().enumerate().filter_map(of).collect()
}

/// Why the winter without a feed costs less than the least with it, where it does.
pub(super) fn without_because(without: &Without, least_usd: f64) -> Option<&'static str> {
    // The page has whole dollars.
    if without.cost_usd? > least_usd - 0.5 {
        return None;
    }
    Some(if without.rules_gone.contains(&"gin-trash") {
        "without it gin trash is the only roughage and its limit on a share of body weight falls away"
    } else if without.at_will_changes {
        "without it other roughage, or none, is eaten at will, and that row of the programme changes"
    } else {
        "a rule hangs on its being offered"
    })
}
