//! What a neighbor would buy at which price, from his own least-cost winter, in whole truckloads.
//!
//! A trip costs the same whatever it carries. The table is made with the haul of a full load, so up to the tons of a row each
//! full load pays; what is left of less than a load would bear the whole trip and is not counted as sold.

use super::case::Gin;
use super::process;
use super::product::{Form, Kind, Product};
use super::weeks::{days_between, later};
use crate::feed::FeedClass;
use crate::herd::Period;
use crate::lp::Failure;
use crate::value::worth::{self, Row, RowEnd, Span, Table};
use crate::winter::{self, Case, NoPlan};
use jiff::civil::Date;
use rayon::prelude::*;

/// Prices nearer than this are the same, US dollars per ton.
const SAME_USD: f64 = 1e-6;
/// How closely the growth of growing cattle is held, closest first: break prices are then right to a dime; where that
/// cannot be proved, to a dollar or two. Judgement: nobody haggles closer over a truckload.
const CURVES: [f64; 2] = [1e-4, 1e-3];
/// Most prices looked at within a row that slides; a row of more loads is looked at every few of them.
const MOST_BREAKS: f64 = 200.0;
/// Part of a load by which a load may be short: rounding, no more.
const SAME_LOADS: f64 = 1e-9;

/// Prices other than those the herd files hold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Prices {
    /// As written.
    AsWritten,
    /// Hay so many times dearer.
    Hay(f64),
    /// Every feed but this gin's so many times dearer.
    Every(f64),
}

/// Why a neighbor cannot be asked.
#[derive(Debug, Clone, PartialEq)]
pub enum Unfit {
    /// No ration meets the needs of his cattle with the feeds of his file.
    Short,
    /// His winter cannot be used: the messages.
    Input(Vec<String>),
    /// The table could not be proved.
    Unproven(String),
}

/// A neighbor with the table of what he buys.
#[derive(Debug, Clone, PartialEq)]
pub struct Buyer {
    /// Which neighbor.
    pub neighbor: usize,
    /// His name.
    pub name: String,
    /// Loaded miles.
    pub miles: f64,
    /// Haul, US dollars per ton.
    pub freight_usd_per_ton: f64,
    /// Tons on a load: he buys whole ones.
    pub tons_per_load: f64,
    /// Times the tons of the table.
    pub scale: f64,
    /// Share wasted at his feeder as his file has it.
    pub waste: f64,
    /// Prices and tons of his winter, delivered.
    pub table: Table,
    /// Periods of his winter.
    pub periods: Vec<Period>,
    /// First and last day he can buy.
    pub window: (Option<Date>, Option<Date>),
    /// Worth of a ton against a ton of the table: handling that saves waste raises it.
    pub worth_factor: f64,
    /// Dollars a ton is worth more than one of the table.
    pub worth_more_usd: f64,
}

impl Buyer {
    /// Price in the table for a price at the gin.
    fn table_price(&self, at_gin: f64) -> f64 {
        (at_gin + self.freight_usd_per_ton - self.worth_more_usd) / self.worth_factor
    }
    /// Price at the gin for a price in the table.
    fn at_gin(&self, table_price: f64) -> f64 {
        table_price * self.worth_factor + self.worth_more_usd - self.freight_usd_per_ton
    }
    /// The row that holds at a price in the table, the one of more tons at a break, and how far into it.
    fn row(&self, price: f64) -> Option<(&Row, f64)> {
        let row =
            self.table.rows.iter().find(|row| price <= row.high.usd_per_ton + SAME_USD).or(self.table.rows.last())?;
        let width = row.high.usd_per_ton - row.low.usd_per_ton;
        let into = if width > 0.0 { ((price - row.low.usd_per_ton) / width).clamp(0.0, 1.0) } else { 0.0 };
        Some((row, into))
    }
    fn tons_of(&self, tons: f64) -> f64 {
        tons * self.scale / self.worth_factor
    }
    /// The whole loads of some tons, in tons.
    fn in_loads(&self, tons: f64) -> f64 {
        (tons / self.tons_per_load + SAME_LOADS).floor() * self.tons_per_load
    }
    /// Short tons he would use over the winter at a price at the gin if part of a load cost part of a trip.
    #[must_use]
    pub fn use_at(&self, usd_per_ton: f64) -> f64 {
        self.row(self.table_price(usd_per_ton))
            .map_or(0.0, |(row, into)| self.tons_of(row.low.tons + (row.high.tons - row.low.tons) * into))
    }
    /// Short tons he buys over the winter at a price at the gin, whole loads.
    #[must_use]
    pub fn tons_at(&self, usd_per_ton: f64) -> f64 {
        self.in_loads(self.use_at(usd_per_ton))
    }
    /// The same by period of his winter: each takes its share of the whole loads.
    #[must_use]
    pub fn tons_by_period(&self, usd_per_ton: f64) -> Vec<f64> {
        let Some((row, into)) = self.row(self.table_price(usd_per_ton)) else { return Vec::new() };
        let used = self.use_at(usd_per_ton);
        let share = if used > 0.0 { self.in_loads(used) / used } else { 0.0 };
        let both = |low: &RowEnd, high: &RowEnd| -> Vec<f64> {
            let ends = low.tons_by_period.iter().zip(&high.tons_by_period);
            ends.map(|(low, high)| share * self.tons_of(low + (high - low) * into)).collect()
        };
        both(&row.low, &row.high)
    }
    /// Short tons he wants in each of some weeks at a price at the gin: what a period takes, evenly over its days on
    /// which he can buy.
    #[must_use]
    pub fn tons_by_week(&self, weeks: &[Date], usd_per_ton: f64) -> Vec<f64> {
        let mut wanted = vec![0.0; weeks.len()];
        for (period, tons) in self.periods.iter().zip(self.tons_by_period(usd_per_ton)) {
            let from = self.window.0.map_or(period.from, |day| day.max(period.from));
            let to = self.window.1.map_or(period.to, |day| later(day, 1).min(period.to));
            let days = days_between(from, to);
            if tons <= 0.0 || days <= 0.0 {
                continue;
            }
            for (week, start) in weeks.iter().enumerate() {
                let end = later(*start, super::weeks::WEEK);
                let common = days_between(from.max(*start), to.min(end)).max(0.0);
                wanted[week] += tons * common / days;
            }
        }
        wanted
    }
    /// Prices at the gin at which what he buys changes: the ends of rows, and where a row slides, each price at which one
    /// load less is bought.
    #[must_use]
    pub fn breaks(&self) -> Vec<f64> {
        let mut list = Vec::new();
        for row in &self.table.rows {
            let (most, least) = (self.in_loads(self.tons_of(row.low.tons)), self.tons_of(row.high.tons).max(0.0));
            let step = ((most - least) / self.tons_per_load / MOST_BREAKS).ceil().max(1.0) * self.tons_per_load;
            let mut tons = most;
            while tons > least {
                list.extend(self.price_of(row, tons).map(|usd| self.at_gin(usd)));
                tons -= step;
            }
            list.push(self.at_gin(row.high.usd_per_ton));
        }
        list
    }
    /// The highest price in the table of a row at which so many tons are still used; `None`: at none of it.
    fn price_of(&self, row: &Row, tons: f64) -> Option<f64> {
        let (low, high) = (self.tons_of(row.low.tons), self.tons_of(row.high.tons));
        // A hair of a load less is that load, as in `in_loads`.
        let tons = tons - SAME_LOADS * self.tons_per_load;
        if high >= tons {
            return Some(row.high.usd_per_ton);
        }
        let part = (low - tons) / (low - high);
        (low >= tons).then_some(row.low.usd_per_ton + (row.high.usd_per_ton - row.low.usd_per_ton) * part)
    }
    /// The highest delivered price at which he buys a share of the most he would use, and a load at least, US dollars per
    /// ton by the full load; `None` if he never does. Share 0: any at all.
    #[must_use]
    pub fn delivered_worth(&self, share: f64) -> Option<f64> {
        let most = self.table.rows.first().map_or(0.0, |row| self.tons_of(row.low.tons));
        let enough = (share * most).max(self.tons_per_load);
        let price = self.table.rows.iter().rev().find_map(|row| self.price_of(row, enough))?;
        Some(price * self.worth_factor + self.worth_more_usd)
    }
    /// Whether he still buys at the highest price of the table.
    #[must_use]
    pub fn buys_at_any_price(&self) -> bool {
        self.table.rows.last().is_some_and(|row| self.in_loads(self.tons_of(row.high.tons)) > 0.0)
    }
    /// The same buyer when the trash comes in another form: other freight, other waste, other worth.
    #[must_use]
    pub fn in_form(&self, product: &Product, form: Form, waste: Option<f64>, more_usd: f64) -> Self {
        Self {
            freight_usd_per_ton: product.freight_as(form, self.miles).usd_per_ton(),
            tons_per_load: product.tons_per_load_as(form),
            worth_factor: worth_factor(waste, self.waste),
            worth_more_usd: more_usd,
            ..self.clone()
        }
    }
}

/// Worth of a ton of which so much is wasted at most against one of which the buyer wastes his share, 0 to 1.
fn worth_factor(most: Option<f64>, his: f64) -> f64 {
    most.map_or(1.0, |most| (1.0 - most.min(his)) / (1.0 - his))
}

/// Lays other prices over a winter; the gin's own byproduct keeps its price.
fn lay_over(case: &mut Case, own: usize, prices: Prices) {
    for (index, offer) in case.offers.iter_mut().enumerate() {
        let factor = match prices {
            Prices::AsWritten => return,
            Prices::Hay(factor) if offer.feed.class == FeedClass::Hay => factor,
            Prices::Hay(_) => continue,
            Prices::Every(factor) => factor,
        };
        if index == own {
            continue;
        }
        offer.price_usd_per_ton = offer.price_usd_per_ton.map(|price| price * factor);
        offer.value_usd_per_ton *= factor;
        offer.leftover_usd_per_ton = offer.leftover_usd_per_ton.map(|price| price * factor);
        for month in &mut offer.price_by_month {
            month.usd_per_ton *= factor;
        }
    }
}

/// Asks one neighbor. `None` if he is not to be asked for this byproduct.
fn ask(gin: &Gin, index: usize, kind: Kind, change: &dyn Fn(&mut Case, usize)) -> Option<Result<Buyer, Unfit>> {
    let neighbor = &gin.neighbors[index];
    let herd = neighbor.herd(kind)?;
    let mut case = herd.case.clone();
    change(&mut case, herd.offer);
    Some(asked(gin, kind, index, &case, herd.offer))
}

fn asked(gin: &Gin, kind: Kind, index: usize, case: &Case, offer: usize) -> Result<Buyer, Unfit> {
    let (product, neighbor) = (gin.product(kind), &gin.neighbors[index]);
    let cells =
        winter::assemble(case).map_err(|list| Unfit::Input(list.into_iter().map(|one| one.message).collect()))?;
    let freight = product.freight_as(product.form, neighbor.miles).usd_per_ton();
    let highest = product.ceiling_usd_per_ton + freight;
    let mut tries = CURVES
        .into_iter()
        .map(|curve| worth::table_between(case, &cells, offer, &Span { from: 0.0, to: highest, curve }));
    let mut table = tries.next().unwrap_or(Err(Failure::Solver("no price was tried".to_owned())));
    for other in tries {
        if table.is_ok() {
            break;
        }
        table = other;
    }
    let table = match table {
        Ok(table) => table,
        Err(failure) => {
            return Err(match (failure, winter::plan(case, &cells)) {
                (_, Err(NoPlan::Short(_))) => Unfit::Short,
                (_, Err(NoPlan::Unproven(why))) => Unfit::Unproven(why),
                (failure, Ok(_)) => Unfit::Unproven(failure.to_string()),
            });
        }
    };
    let bought = &case.offers[offer];
    Ok(Buyer {
        neighbor: index,
        name: neighbor.name.clone(),
        miles: neighbor.miles,
        freight_usd_per_ton: freight,
        tons_per_load: product.tons_per_load_as(product.form),
        scale: neighbor.scale(),
        waste: bought.waste,
        table,
        periods: case.periods.clone(),
        window: (bought.from, bought.to),
        worth_factor: worth_factor(process::waste_as_it_lies(product, &gin.choices), bought.waste),
        worth_more_usd: 0.0,
    })
}

/// What one neighbor would buy if the byproduct had so many more points of TDN, or why he cannot be asked. `None` if he is
/// not to be asked for this byproduct.
#[must_use]
pub fn with_more_tdn(gin: &Gin, neighbor: usize, kind: Kind, points: f64) -> Option<Result<Buyer, Unfit>> {
    ask(gin, neighbor, kind, &|case, offer| {
        if let Some(figure) = case.offers[offer].feed.values.get_mut(&crate::feed::Nutrient::Tdn) {
            figure.mean += points;
        }
    })
}

/// What the neighbors would buy if no more of its fiber, in percent of NDF, were long enough to scratch; those that cannot
/// be asked are left out.
#[must_use]
pub fn with_shorter_fiber(gin: &Gin, kind: Kind, most_pct: f64) -> Vec<Buyer> {
    let shorten = |case: &mut Case, offer: usize| {
        if let Some(figure) = case.offers[offer].feed.values.get_mut(&crate::feed::Nutrient::Endf) {
            figure.mean = figure.mean.min(most_pct);
        }
    };
    (0..gin.neighbors.len()).into_par_iter().filter_map(|who| ask(gin, who, kind, &shorten)?.ok()).collect()
}

/// What one neighbor said.
pub type Said = (usize, Result<Buyer, Unfit>);

/// Asks every neighbor at several sheets of prices, on all cores; by sheet, then in the order of the neighbors.
#[must_use]
pub fn ask_all(gin: &Gin, kind: Kind, sheets: &[Prices]) -> Vec<Vec<Said>> {
    let jobs: Vec<(usize, usize)> =
        (0..sheets.len()).flat_map(|sheet| (0..gin.neighbors.len()).map(move |who| (sheet, who))).collect();
    let done: Vec<(usize, usize, _)> = jobs
        .into_par_iter()
        .filter_map(|(sheet, who)| {
            let answer = ask(gin, who, kind, &|case, own| lay_over(case, own, sheets[sheet]));
            answer.map(|answer| (sheet, who, answer))
        })
        .collect();
    let mut by_sheet: Vec<Vec<Said>> = vec![Vec::new(); sheets.len()];
    for (sheet, who, answer) in done {
        by_sheet[sheet].push((who, answer));
    }
    by_sheet
}
