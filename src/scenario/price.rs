//! What a feed costs at the seller, in any of the units feed is priced in.

use super::code::Code;
use super::fields::{Fields, Notes};
use super::groups::exclusive;
use super::measure::{BALE_DENSITY, BALE_DIAMETER, BALE_WEIGHT, BALE_WIDTH, Measure, PRICE, TEST_WEIGHT, Unit};
use super::node::{Entry, Kind};
use super::values::{map, quantity, shortened};
use crate::feed::price_unit::{ROUND_BALE_LB_PER_FT3, round_bale_lb};
use crate::feed::{BaleWeight, Feed, MonthPrice, PriceUnit};
use jiff::civil::Date;

/// Price of the first month, and prices by month where they differ.
#[derive(Debug, Default)]
pub(crate) struct Prices {
    /// US dollars per short ton; of the first month where it goes by month.
    pub(crate) first: Option<f64>,
    /// By month, in order; empty where there is one price.
    pub(crate) by_month: Vec<MonthPrice>,
    /// The unit it is written in.
    pub(crate) unit: PriceUnit,
    /// Test weight of the user's own, lb per bushel.
    pub(crate) lb_per_bushel: Option<f64>,
    /// Weight of a bale, lb as fed, where the file says what one weighs.
    pub(crate) bale_lb: Option<f64>,
}

/// Reads the price of a feed: a figure, or a figure for each month from which it holds. Of a feed that could not be read
/// `feed` is `None`.
pub(crate) fn read(fields: &mut Fields<'_>, feed: Option<&Feed>, notes: &mut Notes) -> Prices {
    let lb_per_bushel = fields.number(&TEST_WEIGHT, notes);
    let bushel = lb_per_bushel.or_else(|| feed?.lb_per_bushel.as_ref().map(|figure| figure.mean));
    let bale = fields.entry("bale").and_then(|entry| bale(entry, notes));
    let bale_lb = match bale {
        Some(PriceUnit::Bale { lb, .. }) => Some(lb),
        _ => None,
    };
    let none = Prices { lb_per_bushel, bale_lb, ..Prices::default() };
    let Some((entry, unit)) = fields.measured(&PRICE, notes) else { return none };
    let Some(unit_of) = unit_of(unit, fields, entry, (bushel, bale, feed), notes) else { return none };
    // Figures of these units come through as they are written.
    let weighed = matches!(unit_of, PriceUnit::Bushel { .. } | PriceUnit::Bale { .. } | PriceUnit::TonDm { .. });
    let per_ton = if weighed { 1.0 / unit_of.tons() } else { 1.0 };
    let range = (PRICE.range.0 / per_ton, PRICE.range.1 / per_ton);
    let Kind::Map(months) = &entry.value.kind else {
        let first = quantity(&entry.key, &entry.value, unit, range, notes).map(|usd| usd * per_ton);
        return Prices { first, by_month: Vec::new(), unit: unit_of, lb_per_bushel, bale_lb };
    };
    let month = |each: &Entry, notes: &mut Notes| month_price(each, unit, range, notes);
    let mut by_month: Vec<MonthPrice> = months.iter().filter_map(|each| month(each, notes)).collect();
    for price in &mut by_month {
        price.usd_per_ton *= per_ton;
    }
    by_month.sort_by_key(|price| (price.year, price.month));
    Prices { first: by_month.first().map(|price| price.usd_per_ton), by_month, unit: unit_of, lb_per_bushel, bale_lb }
}

/// What one unit weighs; an error, once, if nobody knows.
fn unit_of(
    unit: &Unit,
    fields: &Fields<'_>,
    entry: &Entry,
    (bushel, bale, feed): (Option<f64>, Option<PriceUnit>, Option<&Feed>),
    notes: &mut Notes,
) -> Option<PriceUnit> {
    match unit.key {
        "price_usd_per_metric_ton" => Some(PriceUnit::MetricTon),
        "price_usd_per_cwt" => Some(PriceUnit::Cwt),
        "price_usd_per_bushel" => {
            // Of a feed that could not be read nothing is known yet, and that is told elsewhere.
            if bushel.is_none() && feed.is_some() && !fields.has(&TEST_WEIGHT) {
                notes.push(
                    Code::NoTestWeight
                        .error(format!(
                            "{} is priced by the bushel, but what a bushel weighs is not known",
                            fields.what()
                        ))
                        .at(entry.key_span.clone(), "how many pounds is this?")
                        .help("add `lb_per_bushel`, from the scale ticket, or write `price_usd_per_ton`"),
                );
            }
            bushel.map(|lb| PriceUnit::Bushel { lb })
        }
        "price_usd_per_bale" => {
            // What is wrong with a `bale` that is there was told when it was read.
            if !fields.present("bale") {
                notes.push(
                    Code::NoBale
                        .error(format!("{} is priced by the bale, but what a bale weighs is not known", fields.what()))
                        .at(entry.key_span.clone(), "how many pounds is this?")
                        .help("add `bale: {weight_lb: 1100}`, or the size of a round bale: `bale: {diameter_ft: 5, width_ft: 5}`"),
                );
            }
            bale
        }
        "price_usd_per_ton_dm" => feed.map(|feed| PriceUnit::TonDm { dm_pct: feed.dm_pct() }),
        _ => Some(PriceUnit::Ton),
    }
}

/// Reads `bale`: its weight, or the size of a round bale.
fn bale(entry: &Entry, notes: &mut Notes) -> Option<PriceUnit> {
    let mut fields = Fields::open(&entry.value, "`bale`", entry.key_span.clone(), notes)?;
    let weight = fields.number(&BALE_WEIGHT, notes);
    let diameter = fields.number(&BALE_DIAMETER, notes);
    let width = fields.number(&BALE_WIDTH, notes);
    let density = fields.number(&BALE_DENSITY, notes);
    let weighed = fields.measured(&BALE_WEIGHT, notes).map(|(entry, _)| entry);
    let sized = [&BALE_DIAMETER, &BALE_WIDTH, &BALE_DENSITY]
        .into_iter()
        .find_map(|measure| fields.measured(measure, notes).map(|(entry, _)| entry));
    if let (Some(weighed), Some(sized)) = (weighed, sized) {
        notes.push(exclusive(weighed, sized));
    } else if weighed.is_none() && !fields.has(&BALE_WEIGHT) {
        let missing = [&BALE_DIAMETER, &BALE_WIDTH].into_iter().filter(|measure| !fields.has(measure));
        let missing: Vec<&str> = missing.map(Measure::key).collect();
        if !missing.is_empty() {
            notes.push(
                Code::NoBale
                    .error("`bale` does not say what a bale weighs")
                    .at(entry.place(), format!("`weight_lb` or `{}` is missing", missing.join("` and `")))
                    .help("write `{weight_lb: 1100}`, or the size of a round bale: `{diameter_ft: 5, width_ft: 5}`"),
            );
        }
    }
    fields.close(notes);
    if let Some(lb) = weight {
        return Some(PriceUnit::Bale { lb, known: BaleWeight::Given });
    }
    let known = if density.is_some() { BaleWeight::FromDensity } else { BaleWeight::FromUsualDensity };
    let lb = round_bale_lb(diameter?, width?, density.unwrap_or(ROUND_BALE_LB_PER_FT3));
    Some(PriceUnit::Bale { lb, known })
}

fn month_price(entry: &Entry, unit: &Unit, range: (f64, f64), notes: &mut Notes) -> Option<MonthPrice> {
    let usd_per_ton = quantity(&entry.key, &entry.value, unit, range, notes);
    let day = format!("{}-01", entry.key.trim()).parse::<Date>().ok().filter(|_| entry.key.trim().len() == 7);
    let Some(day) = day else {
        notes.push(
            Code::NotDate
                .error(format!("`{}` is not a month", shortened(&entry.key)))
                .at(entry.key_span.clone(), "year-month is expected")
                .help("write the month from which the price holds, such as `2026-11: 230`"),
        );
        return None;
    };
    Some(MonthPrice { year: day.year(), month: day.month(), usd_per_ton: usd_per_ton? })
}

/// Prices by month must begin by the first day they are asked for; tells which month is missing.
pub(crate) fn first_month(entry: &Entry, prices: &Prices, winter_from: Option<Date>, notes: &mut Notes) {
    let (Some(first), Some(from)) = (prices.by_month.first(), winter_from) else { return };
    if (first.year, first.month) > (from.year(), from.month()) {
        let at = map(&entry.value, "feed", &entry.key_span, notes)
            .and_then(|keys| keys.iter().find(|key| PRICE.units.iter().any(|unit| unit.key == key.key)))
            .map_or(entry.key_span.clone(), Entry::place);
        notes.push(
            Code::PriceMonths
                .warning(format!(
                    "prices of `{}` begin with {}-{:02}, after the winter does",
                    shortened(&entry.key),
                    first.year,
                    first.month
                ))
                .at(at, "no price for the months before")
                .help(format!(
                    "add `{}-{:02}:` with its price; until then the first price is taken",
                    from.year(),
                    from.month()
                )),
        );
    }
}
