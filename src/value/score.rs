//! What one body condition score costs to put on, and what letting one go saves, at the prices of a plan.

use crate::winter::{Cells, Plan};

/// Money of one score, US dollars per head.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ScoreMoney {
    /// To put one score more on over the winter.
    pub to_gain_usd: f64,
    /// Saved by letting one score go over the winter.
    pub saved_by_losing_usd: f64,
}

/// The money of a score for one group: the price of energy, by days, times the energy of a score (gain 1 for 1, loss
/// pays 0.8: NRC 1996, from memory). It holds for small changes; large ones change the ration.
#[must_use]
pub fn score_money(cells: &Cells<'_>, plan: &Plan, group: usize) -> Option<ScoreMoney> {
    let (mut usd_days, mut days, mut to_lose, mut to_gain) = (0.0, 0.0, 0.0, 0.0);
    for (cell, ration) in cells.get(group)?.iter().zip(&plan.rations[group]) {
        let length = f64::from(cell.block.period.days());
        let price = if let Some((maintenance, _)) = ration.growth_prices {
            maintenance
        } else {
            let index = cell.demands.rules.iter().position(|rule| rule.rule.id == "energy")?;
            ration.prices[index].usd_per_unit
        };
        usd_days += price * length;
        let (down, up) = cell.block.mcal_per_score();
        to_lose += down * length;
        to_gain += up * length;
        days += length;
    }
    (days > 0.0 && usd_days > 0.0).then(|| {
        let price = usd_days / days;
        ScoreMoney { to_gain_usd: price * to_gain / days, saved_by_losing_usd: 0.8 * price * to_lose / days }
    })
}
