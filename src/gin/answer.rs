//! Everything asked of one gin, put together: supply by week, buyers, price, other sheets of prices, handling.

use super::buyer::{Buyer, Prices, Unfit, ask_all, with_more_tdn, with_shorter_fiber};
use super::case::Gin;
use super::pile::{Books, Season, keep};
use super::price::{self, Point, search};
use super::process::{self, Outcome};
use super::product::Kind;
use super::ticket::{self, Fault};
use super::weeks;
use jiff::civil::Date;

/// How much dearer hay is tried, as a factor: a quarter either way (judgement, of the 10 to 30 % a winter moves it).
pub const HAY_UP: f64 = 1.25;
/// How much cheaper.
pub const HAY_DOWN: f64 = 0.75;
/// Every feed in a drought: judgement, of prices that nearly doubled in 2011.
pub const DROUGHT: f64 = 1.8;
/// Points of TDN tried to find what one is worth.
const TDN_POINTS: f64 = 2.0;
/// Dollars a ton below and above the price that nets most at which it is told what would be sold. Judgement: what a handshake
/// may be off.
pub const AROUND_USD: [f64; 5] = [-5.0, -2.0, 0.0, 2.0, 5.0];
/// Share of his most tons that counts as buying in earnest.
pub const IN_EARNEST: f64 = 0.5;

/// The answer at one sheet of prices.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Which prices.
    pub prices: Prices,
    /// The price that nets most, and every other.
    pub answer: price::Answer,
    /// Neighbors that could not be asked at it and could at those of the files, or the other way round: they are in
    /// one answer and not in the other.
    pub not_in_both: Vec<usize>,
}

/// Everything of one byproduct.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// Which.
    pub kind: Kind,
    /// What is known to be wrong with it; where anything stops its sale, no neighbor was asked.
    pub faults: Vec<Fault>,
    /// First days of the weeks.
    pub weeks: Vec<Date>,
    /// Bales ginned in each.
    pub bales: Vec<f64>,
    /// Short tons that come in each.
    pub produced: Vec<f64>,
    /// Room, short tons; `None`: any.
    pub room_tons: Option<f64>,
    /// Neighbors that could be asked.
    pub buyers: Vec<Buyer>,
    /// Neighbors that could not, and why.
    pub unfit: Vec<(usize, Unfit)>,
    /// At the prices of the herd files.
    pub answer: price::Answer,
    /// What is sold at a few dollars below and above the price that nets most; empty where nothing is sold.
    pub around: Vec<Point>,
    /// The books at the price asked now, if the file gives one.
    pub now: Option<Books>,
    /// At other prices of hay and of every feed.
    pub sheets: Vec<Sheet>,
    /// Ways of handling, trash only; the first is as it is.
    pub outcomes: Vec<Outcome>,
    /// What a point of TDN adds to the worth of a ton to the largest buyer, US dollars.
    pub usd_per_tdn_point: Option<f64>,
}

/// Weeks of a season and of the winters of its buyers, with bales and tons.
fn supply(gin: &Gin, kind: Kind, buyers: &[Buyer]) -> (Vec<Date>, Vec<f64>, Vec<f64>) {
    let ends = (gin.ginned.points.first(), gin.ginned.points.last());
    let (Some((from, _)), Some((to, _))) = ends else { return (Vec::new(), Vec::new(), Vec::new()) };
    // One who would use none at any price keeps no pile waiting.
    let uses = |buyer: &&Buyer| buyer.tons_at(-buyer.freight_usd_per_ton) > 0.0;
    let last_sale = buyers.iter().filter(uses).filter_map(|buyer| {
        let end = buyer.periods.last()?.to;
        Some(buyer.window.1.map_or(end, |day| weeks::later(day, 1).min(end)))
    });
    let list = weeks::weeks(*from, last_sale.fold(*to, Date::max));
    let bales: Vec<f64> =
        list.iter().map(|start| gin.ginned.by(weeks::later(*start, weeks::WEEK)) - gin.ginned.by(*start)).collect();
    let tons = bales.iter().map(|bales| weeks::tons(*bales, gin.lb_per_bale(kind))).collect();
    (list, bales, tons)
}

/// What a point of TDN adds to the worth of a ton to the buyer of most tons.
fn tdn_point(gin: &Gin, kind: Kind, buyers: &[Buyer], best: &Books) -> Option<f64> {
    let (index, _) = (0..buyers.len()).map(|b| (b, best.sold_to(b))).max_by(|a, b| a.1.total_cmp(&b.1))?;
    let buyer = &buyers[index];
    if buyer.buys_at_any_price() {
        return None;
    }
    let richer = with_more_tdn(gin, buyer.neighbor, kind, TDN_POINTS)?.ok()?;
    let (now, then) = (buyer.delivered_worth(IN_EARNEST)?, richer.delivered_worth(IN_EARNEST)?);
    (!richer.buys_at_any_price()).then_some(((then - now) / TDN_POINTS).max(0.0))
}

/// What a few dollars either way would sell, up to the highest price looked at.
fn around(season: &Season<'_>, buyers: &[Buyer], found: &price::Answer) -> Vec<Point> {
    if found.best.sold_tons() <= 0.0 {
        return Vec::new();
    }
    let prices = AROUND_USD.map(|more| found.best.usd_per_ton + more).into_iter();
    let looked_at = prices.filter(|price| *price <= season.product.ceiling_usd_per_ton + 1e-9);
    looked_at.map(|price| Point::of(&keep(season, buyers, price))).collect()
}

/// Answers for one byproduct. Other prices and ways of handling are looked at where there are buyers.
#[must_use]
pub fn answer(gin: &Gin, kind: Kind) -> Answer {
    let product = gin.product(kind);
    let tried = [Prices::AsWritten, Prices::Hay(HAY_DOWN), Prices::Hay(HAY_UP), Prices::Every(DROUGHT)];
    let faults = ticket::faults(&gin.ticket, product, gin.wet);
    // What may not be sold has no price.
    let asked = if faults.iter().any(|fault| fault.stops) { Vec::new() } else { ask_all(gin, kind, &tried) };
    let mut said = asked.into_iter();
    let (mut buyers, mut unfit) = (Vec::new(), Vec::new());
    for (who, one) in said.next().unwrap_or_default() {
        match one {
            Ok(buyer) => buyers.push(buyer),
            Err(why) => unfit.push((who, why)),
        }
    }
    let (weeks, bales, produced) = supply(gin, kind, &buyers);
    let room_tons = product.room_tons_as(product.form);
    let season = Season { product, weeks: &weeks, produced: &produced, room_tons, handling_usd_per_ton: 0.0 };
    let found = search(&season, &buyers);
    let now = product.asked_usd_per_ton.map(|price| keep(&season, &buyers, price));
    let around = around(&season, &buyers, &found);
    let (mut sheets, mut outcomes, mut usd_per_tdn_point) = (Vec::new(), Vec::new(), None);
    if !buyers.is_empty() {
        for (prices, answers) in tried.into_iter().skip(1).zip(said) {
            let others: Vec<Buyer> = answers.into_iter().filter_map(|(_, one)| one.ok()).collect();
            let is_in = |list: &[Buyer], who: usize| list.iter().any(|one| one.neighbor == who);
            let not_in_both =
                (0..gin.neighbors.len()).filter(|who| is_in(&others, *who) != is_in(&buyers, *who)).collect();
            sheets.push(Sheet { prices, answer: search(&season, &others), not_in_both });
        }
        if kind == Kind::Trash {
            usd_per_tdn_point = tdn_point(gin, kind, &buyers, &found.best);
            let as_it_is = process::as_it_is(product, &gin.choices);
            // What it is already is no other way.
            let others = gin.choices.iter().filter(|choice| Some(choice.name) != product.form.made_by());
            outcomes = std::iter::once(&as_it_is)
                .chain(others)
                .map(|choice| {
                    let point = usd_per_tdn_point.unwrap_or(0.0);
                    let anew = choice.effective_ndf.map(|pct| with_shorter_fiber(gin, kind, pct));
                    let buyers = anew.as_deref().unwrap_or(&buyers);
                    process::try_out(choice, product, &weeks, &produced, buyers, point)
                })
                .collect();
        }
    }
    Answer {
        kind,
        faults,
        weeks,
        bales,
        produced,
        room_tons,
        buyers,
        unfit,
        answer: found,
        around,
        now,
        sheets,
        outcomes,
        usd_per_tdn_point,
    }
}
