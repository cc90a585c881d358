//! The books of a season at one price: what comes each week, what is sold, kept, lost, and sent elsewhere.
//!
//! The rules of the week, in this order. An outlet that pays more than a sale nets takes first. Then the neighbors buy; if
//! there is too little, each gets the same share of what he wants. What later sales will be short of is kept while that
//! pays. Then outlets of limited room that net more than the fallback, the one that takes any quantity, take what they can,
//! and what they could take later is kept while that pays; one that costs more than to let the pile shrink to the end
//! waits where any pile has room. The rest goes to the fallback, unless it costs more than keeping: then it stays until
//! the room is full. At the end what is left goes. A test holds these rules against the best
//! that a linear programme finds.

use super::buyer::Buyer;
use super::product::{Outlet, Product};
use super::weeks::WEEK;
use crate::feed::offer::StorageLoss;
use crate::quantity::DAYS_PER_MONTH;
use jiff::civil::Date;

/// A sum that is 0, not −0, of nothing.
fn total(tons: impl IntoIterator<Item = f64>) -> f64 {
    tons.into_iter().fold(0.0, |sum, one| sum + one)
}

/// Tons below this are none.
const NO_TONS: f64 = 1e-9;

/// A season to keep books of.
#[derive(Debug, Clone, Copy)]
pub struct Season<'a> {
    /// The byproduct.
    pub product: &'a Product,
    /// First days of the weeks.
    pub weeks: &'a [Date],
    /// Short tons that come in each week.
    pub produced: &'a [f64],
    /// Room, short tons; `None`: any.
    pub room_tons: Option<f64>,
    /// Cost of handling a ton that is sold, besides loading, US dollars.
    pub handling_usd_per_ton: f64,
}

/// One week.
#[derive(Debug, Clone, PartialEq)]
pub struct Week {
    /// Its first day.
    pub from: Date,
    /// Came out of the gin, short tons.
    pub produced_tons: f64,
    /// Wanted by neighbors at this price, short tons.
    pub wanted_tons: f64,
    /// Sold, short tons, by buyer.
    pub sold_by: Vec<f64>,
    /// Sent to each outlet, short tons.
    pub outlet_tons: Vec<f64>,
    /// Part of that which had to go because the room was full, short tons.
    pub overflow_tons: f64,
    /// Lost in the pile, short tons.
    pub lost_tons: f64,
    /// On the pile at the end, short tons.
    pub pile_tons: f64,
}

impl Week {
    /// Sold, short tons.
    #[must_use]
    pub fn sold_tons(&self) -> f64 {
        total(self.sold_by.iter().copied())
    }
}

/// The books at one price.
#[derive(Debug, Clone, PartialEq)]
pub struct Books {
    /// Price at the gin, US dollars per ton.
    pub usd_per_ton: f64,
    /// By week.
    pub weeks: Vec<Week>,
    /// Paid by neighbors, US dollars; below 0: paid to them.
    pub sales_usd: f64,
    /// Loading and handling of what is sold, US dollars.
    pub handling_usd: f64,
    /// From outlets, US dollars; below 0: paid to them.
    pub outlet_usd: f64,
    /// Cost of keeping, US dollars.
    pub keep_usd: f64,
}

impl Books {
    /// What the season nets, US dollars.
    #[must_use]
    pub fn net_usd(&self) -> f64 {
        self.sales_usd - self.handling_usd + self.outlet_usd - self.keep_usd
    }
    fn sum(&self, pick: impl Fn(&Week) -> f64) -> f64 {
        total(self.weeks.iter().map(pick))
    }
    /// Sold over the season, short tons.
    #[must_use]
    pub fn sold_tons(&self) -> f64 {
        self.sum(Week::sold_tons)
    }
    /// Sold to one buyer, short tons.
    #[must_use]
    pub fn sold_to(&self, buyer: usize) -> f64 {
        self.sum(|week| week.sold_by[buyer])
    }
    /// Wanted over the season, short tons.
    #[must_use]
    pub fn wanted_tons(&self) -> f64 {
        self.sum(|week| week.wanted_tons)
    }
    /// Sent to an outlet, short tons.
    #[must_use]
    pub fn outlet_tons(&self, outlet: usize) -> f64 {
        self.sum(|week| week.outlet_tons[outlet])
    }
    /// Sent to all outlets, short tons.
    #[must_use]
    pub fn elsewhere_tons(&self) -> f64 {
        self.sum(|week| total(week.outlet_tons.iter().copied()))
    }
    /// Lost in the pile, short tons.
    #[must_use]
    pub fn lost_tons(&self) -> f64 {
        self.sum(|week| week.lost_tons)
    }
    /// The first week in which the pile overflows.
    #[must_use]
    pub fn overflows(&self) -> Option<&Week> {
        self.weeks.iter().find(|week| week.overflow_tons > NO_TONS)
    }
    /// Tons that had to go because the room was full.
    #[must_use]
    pub fn overflow_tons(&self) -> f64 {
        self.sum(|week| week.overflow_tons)
    }
    /// The largest pile and the first day of its week.
    #[must_use]
    pub fn largest_pile(&self) -> Option<(Date, f64)> {
        self.weeks.iter().max_by(|a, b| a.pile_tons.total_cmp(&b.pile_tons)).map(|week| (week.from, week.pile_tons))
    }
}

/// Share of a pile left after a week.
fn carried(product: &Product) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "seven")]
    product.loss.carried(WEEK as f64)
}

/// Tons that must stand on the pile at the end of each week for the sales of the weeks that follow, as far ahead as it
/// pays to keep a ton. A week that makes more than it wants can put the rest by, less what that loses at once; no week
/// leaves more than there is room for.
fn needed_later(season: &Season<'_>, wanted: &[f64], horizon: usize) -> Vec<f64> {
    let produced = season.produced;
    let carried = carried(season.product);
    let flat = lost_at_once(season.product);
    let room = season.room_tons.unwrap_or(f64::INFINITY);
    (0..produced.len())
        .map(|week| {
            let last = (week + horizon).min(produced.len() - 1);
            let short = |need: f64, later: usize| {
                let more = produced[later] - wanted[later];
                let adds = if more > 0.0 { (1.0 - flat) * more } else { more };
                (need.min(room) - adds).max(0.0) / carried
            };
            (week + 1..=last).rev().fold(0.0, short)
        })
        .collect()
}

/// Share of what goes on the pile that is lost however long it lies.
fn lost_at_once(product: &Product) -> f64 {
    if let StorageLoss::Flat(share) = product.loss { share } else { 0.0 }
}

/// What it costs to keep a ton for a week, US dollars.
fn keep_usd_per_week(product: &Product) -> f64 {
    product.keep_usd_per_ton_month * 7.0 / DAYS_PER_MONTH
}

/// Weeks a ton may be kept for a use that nets so much before what it loses and costs is more than the use nets beyond
/// the fallback.
fn horizon(product: &Product, nets_usd: f64, weeks: usize) -> usize {
    let carried = carried(product);
    let (mut left, mut cost) = (1.0 - lost_at_once(product), 0.0);
    for week in 0..weeks {
        cost += keep_usd_per_week(product) * left;
        left *= carried;
        if nets_usd * left - cost < product.fallback_usd_per_ton() {
            return week;
        }
    }
    weeks
}

/// Whether a ton nobody wants costs less kept for a week, while it shrinks, than sent to the fallback now.
fn keeping_is_cheaper(product: &Product) -> bool {
    let costs = -product.fallback_usd_per_ton();
    costs > 0.0 && costs * (1.0 - carried(product)) >= keep_usd_per_week(product)
}

/// What it costs to let a ton lie for some weeks, while it shrinks, and send what is left to the fallback, US dollars.
fn costs_to_let_lie(product: &Product, weeks: usize) -> f64 {
    let carried = carried(product);
    let lie = (0..weeks).fold((0.0, 1.0), |(cost, left), _| (cost + left * keep_usd_per_week(product), left * carried));
    lie.0 - lie.1 * product.fallback_usd_per_ton()
}

/// What the outlets take of some tons, best first: outlet tons by outlet; what none takes is left.
struct Outlets<'a> {
    product: &'a Product,
    taken: Vec<f64>,
}

impl Outlets<'_> {
    /// Sends up to `tons` to the outlets that fit, best first; gives what is left.
    fn take(&mut self, mut tons: f64, fits: impl Fn(&Outlet) -> bool) -> f64 {
        for (outlet, taken) in self.product.outlets.iter().zip(&mut self.taken) {
            if fits(outlet) {
                let can = outlet.tons_per_week.map_or(f64::INFINITY, |most| (most - *taken).max(0.0));
                let more = tons.min(can);
                *taken += more;
                tons -= more;
            }
        }
        tons
    }
}

/// Keeps the books of a season at a price, US dollars per ton at the gin.
#[must_use]
pub fn keep(season: &Season<'_>, buyers: &[Buyer], usd_per_ton: f64) -> Books {
    let product = season.product;
    let net_of_sale = usd_per_ton - product.loading_usd_per_ton - season.handling_usd_per_ton;
    // A sale that nets less than being rid of any quantity is not made.
    let sells = net_of_sale >= product.fallback_usd_per_ton();
    let wants: Vec<Vec<f64>> = buyers
        .iter()
        .map(|buyer| if sells { buyer.tons_by_week(season.weeks, usd_per_ton) } else { vec![0.0; season.weeks.len()] })
        .collect();
    let wanted: Vec<f64> = (0..season.weeks.len()).map(|week| total(wants.iter().map(|by| by[week]))).collect();
    let carried = carried(product);
    let flat = lost_at_once(product);
    // Tons to put on a pile of `start` so that `need` are there after what is lost at once.
    let to_have = |need: f64, start: f64| if need <= start { need } else { (need - flat * start) / (1.0 - flat) };
    let weeks = season.weeks.len();
    let need = needed_later(season, &wanted, horizon(product, net_of_sale, weeks));
    // Outlets of limited room that net more than the fallback, and what they and the sales together could take later.
    let fallback = product.fallback_usd_per_ton();
    let is_better = |outlet: &Outlet| outlet.tons_per_week.is_some() && outlet.usd_per_ton > fallback;
    let better: Vec<&Outlet> = product.outlets.iter().filter(|one| is_better(one)).collect();
    let limited = total(better.iter().filter_map(|one| one.tons_per_week));
    let with_limited: Vec<f64> = wanted.iter().map(|tons| tons + limited).collect();
    let best_limited = better.iter().map(|one| one.usd_per_ton).fold(f64::NEG_INFINITY, f64::max);
    let need_more = needed_later(season, &with_limited, horizon(product, best_limited, weeks));
    let keeps_rest = keeping_is_cheaper(product);
    let room = season.room_tons.unwrap_or(f64::INFINITY);
    let mut books =
        Books { usd_per_ton, weeks: Vec::new(), sales_usd: 0.0, handling_usd: 0.0, outlet_usd: 0.0, keep_usd: 0.0 };
    let mut pile = 0.0;
    for (index, from) in season.weeks.iter().enumerate() {
        let start = pile * carried;
        let mut lost = pile - start;
        let mut outlets = Outlets { product, taken: vec![0.0; product.outlets.len()] };
        let here = outlets.take(start + season.produced[index], |one| is_better(one) && one.usd_per_ton > net_of_sale);
        let sold = here.min(wanted[index]);
        let share = if wanted[index] > NO_TONS { sold / wanted[index] } else { 0.0 };
        let rest = here - sold;
        let last = index + 1 == weeks;
        let for_sale = if last { 0.0 } else { rest.min(to_have(need[index], start)) };
        // Where room is no matter, an outlet that costs more than to let it lie to the end is not used.
        let lies = keeps_rest && season.room_tons.is_none();
        let most_paid = if lies { costs_to_let_lie(product, weeks - 1 - index) } else { f64::INFINITY };
        let left = outlets.take(rest - for_sale, |one| is_better(one) && -one.usd_per_ton <= most_paid);
        let for_outlets = match (last, keeps_rest) {
            (true, _) => 0.0,
            (false, true) => left,
            (false, false) => left.min((to_have(need_more[index], start) - for_sale).max(0.0)),
        };
        let over = (for_sale + for_outlets - room).max(0.0);
        let nowhere = outlets.take(over + left - for_outlets, |_| true);
        let end = for_sale + for_outlets - over + nowhere;
        let rotten = flat * (end - start).max(0.0);
        lost += rotten;
        pile = end - rotten;
        let sold_by: Vec<f64> = wants.iter().map(|by| by[index] * share).collect();
        books.sales_usd += sold * usd_per_ton;
        books.handling_usd += sold * (product.loading_usd_per_ton + season.handling_usd_per_ton);
        books.outlet_usd +=
            outlets.taken.iter().zip(&product.outlets).map(|(tons, one)| tons * one.usd_per_ton).sum::<f64>();
        books.keep_usd += pile * keep_usd_per_week(product);
        books.weeks.push(Week {
            from: *from,
            produced_tons: season.produced[index],
            wanted_tons: wanted[index],
            sold_by,
            outlet_tons: outlets.taken,
            overflow_tons: over,
            lost_tons: lost,
            pile_tons: pile,
        });
    }
    books
}
