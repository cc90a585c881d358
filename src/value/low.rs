//! The low case: what happens if a feed tests one standard deviation low in TDN.

use crate::feed::{Nutrient, Offer, energy};
use crate::limit::Block;

/// One feed of one ration a standard deviation low in TDN.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LowCase {
    /// Which offer.
    pub offer: usize,
    /// TDN it was counted at, % of DM.
    pub tdn_pct: f64,
    /// TDN one standard deviation lower, % of DM.
    pub low_tdn_pct: f64,
    /// Energy that is then missing, Mcal NEm a day.
    pub missing_nem_mcal: f64,
    /// Days until she has lost a condition score.
    pub days_to_lose_a_score: f64,
}

/// The feed whose low case hurts a ration most; `None` if no feed of it has a known spread.
#[must_use]
pub fn worst(block: &Block<'_>, offers: &[Offer], kg_dm: &[f64], surplus_nem_mcal: f64) -> Option<LowCase> {
    offers
        .iter()
        .zip(kg_dm)
        .enumerate()
        .filter_map(|(index, (offer, kg))| {
            let tdn = offer.feed.get(Nutrient::Tdn)?;
            let low = (tdn - offer.feed.sd(Nutrient::Tdn)?).max(0.0);
            let missing =
                kg * (energy::nem_mcal_per_kg(tdn) - energy::nem_mcal_per_kg(low)) - surplus_nem_mcal.max(0.0);
            (missing > 0.05).then(|| LowCase {
                offer: index,
                tdn_pct: tdn,
                low_tdn_pct: low,
                missing_nem_mcal: missing,
                // 1 Mcal of reserve replaces 0.8 Mcal of diet (NRC 1996, from memory).
                days_to_lose_a_score: 0.8 * block.needs.mcal_per_score / missing,
            })
        })
        .max_by(|a, b| a.missing_nem_mcal.total_cmp(&b.missing_nem_mcal))
}
