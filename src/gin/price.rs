//! The price that nets most, what is sold at every other one, and at what price the pile clears.

use super::buyer::Buyer;
use super::pile::{Books, Season, keep};

/// Nets nearer than this are the same, US dollars over a season.
const SAME_USD: f64 = 0.005;
/// Tons not sold over a season below which the pile clears, as a share of what comes.
const CLEARS: f64 = 1e-6;

/// One price.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Price at the gin, US dollars per ton.
    pub usd_per_ton: f64,
    /// Wanted over the season at it, short tons.
    pub wanted_tons: f64,
    /// Sold, short tons.
    pub sold_tons: f64,
    /// What the season nets, US dollars.
    pub net_usd: f64,
}

impl Point {
    /// What the books of a season come to.
    #[must_use]
    pub fn of(books: &Books) -> Self {
        Self {
            usd_per_ton: books.usd_per_ton,
            wanted_tons: books.wanted_tons(),
            sold_tons: books.sold_tons(),
            net_usd: books.net_usd(),
        }
    }
}

/// The answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// The books at the price that nets most.
    pub best: Books,
    /// The books if nothing is sold to neighbors.
    pub none: Books,
    /// Every price looked at, rising.
    pub points: Vec<Point>,
    /// The highest price at which all of it is sold; `None`: at no price.
    pub clears_usd_per_ton: Option<f64>,
}

/// The whole cent at or below a price.
fn cent(usd: f64) -> f64 {
    (usd * 100.0 + 1e-6).floor() / 100.0
}

/// Tons wanted by all buyers over their winters at a price at the gin.
#[must_use]
pub fn demand_tons(buyers: &[Buyer], usd_per_ton: f64) -> f64 {
    buyers.iter().fold(0.0, |sum, buyer| sum + buyer.tons_at(usd_per_ton))
}

/// Lowest price looked at: where the farthest buyer gets it delivered for nothing.
#[must_use]
pub fn lowest(buyers: &[Buyer]) -> f64 {
    -buyers.iter().map(|buyer| buyer.freight_usd_per_ton).fold(0.0, f64::max)
}

/// Prices at which the answer can turn: between two of them what is sold stays the same, so the season nets most at one
/// of them. Whole cents, rising.
fn candidates(season: &Season<'_>, buyers: &[Buyer]) -> Vec<f64> {
    let (least, most) = (lowest(buyers), season.product.ceiling_usd_per_ton);
    let handling = season.product.loading_usd_per_ton + season.handling_usd_per_ton;
    let outlets = season.product.outlets.iter().map(|one| one.usd_per_ton + handling);
    let breaks = buyers.iter().flat_map(Buyer::breaks).chain(outlets);
    let inside = breaks.map(cent).filter(|price| *price >= least && *price < most);
    let mut list: Vec<f64> = inside.chain([cent(least), most]).collect();
    list.sort_by(f64::total_cmp);
    list.dedup_by(|a, b| (*a - *b).abs() < 0.005);
    list
}

/// Looks for the price that nets most; of prices that net the same the lowest, which more neighbors buy at.
#[must_use]
pub fn search(season: &Season<'_>, buyers: &[Buyer]) -> Answer {
    let none = keep(season, &[], season.product.ceiling_usd_per_ton);
    let produced: f64 = season.produced.iter().sum();
    let mut best: Option<Books> = None;
    let mut points = Vec::new();
    let mut clears = None;
    for price in candidates(season, buyers) {
        let books = keep(season, buyers, price);
        let net = books.net_usd();
        points.push(Point::of(&books));
        if books.elsewhere_tons() <= CLEARS * produced && books.sold_tons() > 0.0 {
            clears = Some(price);
        }
        if best.as_ref().is_none_or(|best| net > best.net_usd() + SAME_USD) {
            best = Some(books);
        }
    }
    let best = best.unwrap_or_else(|| keep(season, buyers, season.product.ceiling_usd_per_ton));
    Answer { best, none, points, clears_usd_per_ton: clears }
}
