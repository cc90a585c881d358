//! The books of a season at one price: what comes each week, what is sold, kept, lost, and sent elsewhere.
//!
//! The rules of the week, in this order. An outlet that nets more than a sale takes first. Then the neighbors buy; if
//! there is too little, each gets the same share of what he wants. What later weeks will be short of is kept, as far as
//! there is room. The rest goes to outlets that pay; where every outlet costs money it stays on the pile until the room
//! is full, since nobody pays to be rid of it before he must. At the end what is left goes.

use super::buyer::Buyer;
use super::product::Product;
use super::weeks::WEEK;
use crate::feed::offer::StorageLoss;
use crate::quantity::DAYS_PER_MONTH;
use jiff::civil::Date;

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
        self.sold_by.iter().sum()
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
        self.weeks.iter().map(pick).sum()
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
        self.sum(|week| week.outlet_tons.iter().sum())
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
/// pays to keep a ton.
fn needed_later(produced: &[f64], wanted: &[f64], carried: f64, horizon: usize) -> Vec<f64> {
    (0..produced.len())
        .map(|week| {
            let last = (week + horizon).min(produced.len() - 1);
            let short = |need: f64, later: usize| (need + wanted[later] - produced[later]).max(0.0) / carried;
            (week + 1..=last).rev().fold(0.0, short)
        })
        .collect()
}

/// Weeks a ton may be kept for a sale before what it loses and costs is more than the sale nets beyond the best outlet.
fn horizon(product: &Product, net_of_sale: f64, weeks: usize) -> usize {
    let carried = carried(product);
    let keep = product.keep_usd_per_ton_month * 7.0 / DAYS_PER_MONTH;
    let (mut left, mut cost) = (1.0, 0.0);
    for week in 0..weeks {
        cost += keep * left;
        left *= carried;
        if net_of_sale * left - cost < product.fallback_usd_per_ton() {
            return week;
        }
    }
    weeks
}

/// What the outlets take of some tons, best first: outlet tons by outlet; what none takes is left.
struct Outlets<'a> {
    product: &'a Product,
    taken: Vec<f64>,
}

impl Outlets<'_> {
    /// Sends up to `tons` to outlets that net more than `above`; gives what is left.
    fn take(&mut self, mut tons: f64, above: f64) -> f64 {
        for (outlet, taken) in self.product.outlets.iter().zip(&mut self.taken) {
            if outlet.usd_per_ton > above {
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
    let wanted: Vec<f64> = (0..season.weeks.len()).map(|week| wants.iter().map(|by| by[week]).sum()).collect();
    let carried = carried(product);
    let flat = if let StorageLoss::Flat(share) = product.loss { share } else { 0.0 };
    let horizon = horizon(product, net_of_sale, season.weeks.len());
    let need = needed_later(season.produced, &wanted, carried, horizon);
    let room = season.room_tons.unwrap_or(f64::INFINITY);
    let mut books =
        Books { usd_per_ton, weeks: Vec::new(), sales_usd: 0.0, handling_usd: 0.0, outlet_usd: 0.0, keep_usd: 0.0 };
    let mut pile = 0.0;
    for (index, from) in season.weeks.iter().enumerate() {
        let start = pile * carried;
        let mut lost = pile - start;
        let mut outlets = Outlets { product, taken: vec![0.0; product.outlets.len()] };
        let here = outlets.take(start + season.produced[index], net_of_sale.max(0.0));
        let sold = here.min(wanted[index]);
        let share = if wanted[index] > NO_TONS { sold / wanted[index] } else { 0.0 };
        let rest = here - sold;
        let last = index + 1 == season.weeks.len();
        let kept = if last { 0.0 } else { rest.min(need[index]) };
        // Outlets that pay take what later weeks do not need; then what the room cannot hold must go.
        let on_pile = kept + outlets.take(rest - kept, 0.0);
        let over = if last { 0.0 } else { (on_pile - room).max(0.0) };
        let must_go = if last { on_pile } else { over };
        let nowhere = outlets.take(must_go, f64::NEG_INFINITY);
        let end = on_pile - must_go + if last { nowhere } else { 0.0 };
        let rotten = flat * (end - start).max(0.0);
        lost += rotten;
        pile = end - rotten;
        let sold_by: Vec<f64> = wants.iter().map(|by| by[index] * share).collect();
        books.sales_usd += sold * usd_per_ton;
        books.handling_usd += sold * (product.loading_usd_per_ton + season.handling_usd_per_ton);
        books.outlet_usd +=
            outlets.taken.iter().zip(&product.outlets).map(|(tons, one)| tons * one.usd_per_ton).sum::<f64>();
        books.keep_usd += pile * product.keep_usd_per_ton_month * 7.0 / DAYS_PER_MONTH;
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
