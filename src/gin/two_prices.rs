//! What a feed would be worth if energy and protein had one price each, set by two feeds of the market. It charges a
//! roughage nothing for the room it takes in a cow, so it overprices roughage; told on the page to show by how much.

use crate::feed::{Feed, Nutrient};
use crate::quantity::LB_PER_TON;

/// What a ton of a feed holds, lb, and costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Market {
    /// US dollars per ton.
    pub usd_per_ton: f64,
    /// TDN, lb in a ton as fed.
    pub tdn_lb: f64,
    /// Crude protein, lb in a ton as fed.
    pub cp_lb: f64,
}

/// Price of a pound of TDN and of crude protein that make both feeds worth what they cost. `None` if one is a multiple of
/// the other.
#[must_use]
pub fn prices(energy: &Market, protein: &Market) -> Option<(f64, f64)> {
    let determinant = energy.tdn_lb * protein.cp_lb - energy.cp_lb * protein.tdn_lb;
    if determinant.abs() < 1e-9 {
        return None;
    }
    let tdn = (energy.usd_per_ton * protein.cp_lb - energy.cp_lb * protein.usd_per_ton) / determinant;
    let cp = (energy.tdn_lb * protein.usd_per_ton - energy.usd_per_ton * protein.tdn_lb) / determinant;
    Some((tdn, cp))
}

/// Worth of a ton that holds so much, US dollars.
#[must_use]
pub fn worth((tdn_usd, cp_usd): (f64, f64), tdn_lb: f64, cp_lb: f64) -> f64 {
    tdn_usd * tdn_lb + cp_usd * cp_lb
}

/// A feed at a price, from its dry matter, TDN and protein. `None` where one of them is not known.
#[must_use]
pub fn market(feed: &Feed, usd_per_ton: f64) -> Option<Market> {
    let lb = |nutrient: Nutrient| feed.get(nutrient).map(|pct| pct / 100.0 * feed.dm_pct() / 100.0 * LB_PER_TON);
    Some(Market { usd_per_ton, tdn_lb: lb(Nutrient::Tdn)?, cp_lb: lb(Nutrient::Cp)? })
}

/// What a ton of a feed would be worth by the prices of two others.
#[must_use]
pub fn of_feed(energy: &Market, protein: &Market, feed: &Feed) -> Option<f64> {
    let found = prices(energy, protein)?;
    let own = market(feed, 0.0)?;
    Some(worth(found, own.tdn_lb, own.cp_lb))
}
