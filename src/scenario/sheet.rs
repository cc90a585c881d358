//! A price sheet: a CSV table of price lists for the feeds of a herd file, feeds down or feeds across.
//!
//! Feeds down: `feed,unit,spring,drought` with a line for each feed and a column for each list; `unit` may be left out.
//! Feeds across: `case,prairie_hay_usd_per_ton,…` with a line for each list.

use super::code::Code;
use super::csv::{Cell, cells};
use super::near;
use super::values::shortened;
use crate::diagnostic::Diagnostic;
use crate::feed::PriceUnit;
use crate::winter::Case;
use indexmap::IndexMap;

/// Highest price, US dollars per short ton: as in a herd file.
const HIGHEST_USD_PER_TON: f64 = 20_000.0;
/// What parts the name of a feed from the unit in the head of a column.
const PER: &str = "_usd_per_";
/// Units a price can be in, as keys end.
const UNITS: [&str; 6] = ["ton", "metric_ton", "cwt", "bushel", "bale", "ton_dm"];

/// One price list.
#[derive(Debug, Clone, PartialEq)]
pub struct NamedPrices {
    /// Its name.
    pub name: String,
    /// Prices at the seller, US dollars per short ton as fed, by offer of the case; `None`: that of the herd file.
    pub usd_per_ton: Vec<Option<f64>>,
}

/// The price lists of a sheet, in its order.
///
/// # Errors
/// Every fault found, each with its place in the text.
pub fn read_prices(text: &str, case: &Case) -> Result<Vec<NamedPrices>, Vec<Diagnostic>> {
    let rows = match cells(text) {
        Ok(rows) => rows,
        Err(fault) => return Err(vec![fault]),
    };
    let mut notes = Vec::new();
    let found = table(&rows, case, &mut notes);
    match found {
        Some(lists) if notes.is_empty() => Ok(lists),
        _ => Err(notes),
    }
}

fn table(rows: &[Vec<Cell>], case: &Case, notes: &mut Vec<Diagnostic>) -> Option<Vec<NamedPrices>> {
    let form = "the first line is `feed,LIST,LIST…` (a line for each feed) or `case,FEED_usd_per_ton,…` (a line for each list)";
    let Some((head, body)) = rows.split_first() else {
        notes.push(Code::SheetForm.error("the price sheet is empty").at(0..0, "no first line").help(form));
        return None;
    };
    if body.is_empty() {
        let at = head[0].span.start..head[head.len() - 1].span.end;
        notes.push(
            Code::SheetForm
                .error("the price sheet has a first line and no prices")
                .at(at, "nothing under it")
                .help(form),
        );
    }
    for row in body.iter().filter(|row| row.len() != head.len()) {
        let at = row[0].span.start..row[row.len() - 1].span.end;
        notes.push(
            Code::SheetForm
                .error(format!("a line has {} cells and the first line {}", row.len(), head.len()))
                .at(at, "not a full line")
                .help(
                    "write every cell; a price that is to stay that of the herd file is left empty between its commas",
                ),
        );
    }
    let body: Vec<&Vec<Cell>> = body.iter().filter(|row| row.len() == head.len()).collect();
    match head[0].text.trim().to_lowercase().as_str() {
        "feed" => Some(feeds_down(head, &body, case, notes)),
        "case" => Some(feeds_across(head, &body, case, notes)),
        other => {
            notes.push(
                Code::SheetForm
                    .error(format!("the first cell of a price sheet cannot be `{}`", shortened(other)))
                    .at(head[0].span.clone(), "`feed` or `case` belongs here")
                    .help(form),
            );
            None
        }
    }
}

fn feeds_down(head: &[Cell], body: &[&Vec<Cell>], case: &Case, notes: &mut Vec<Diagnostic>) -> Vec<NamedPrices> {
    let with_unit = head.get(1).is_some_and(|cell| cell.text.trim().eq_ignore_ascii_case("unit"));
    let first = if with_unit { 2 } else { 1 };
    let mut names = Names::default();
    let mut lists: Vec<NamedPrices> = head[first.min(head.len())..]
        .iter()
        .map(|cell| NamedPrices {
            name: names.new_name(cell, "price list", notes),
            usd_per_ton: vec![None; case.offers.len()],
        })
        .collect();
    if lists.is_empty() {
        notes.push(
            Code::SheetForm
                .error("the price sheet has no price list")
                .at(head[0].span.clone(), "only feeds stand here")
                .help("add a column for each list, with its name in the first line"),
        );
    }
    let mut feeds = Names::default();
    for row in body {
        feeds.new_name(&row[0], "feed", notes);
        let Some(offers) = offers_of(row[0].text.trim(), &row[0], case, notes) else { continue };
        let key = if with_unit { row[1].text.trim() } else { "ton" };
        let key = key.strip_prefix("usd_per_").unwrap_or(if key.is_empty() { "ton" } else { key });
        let Some(units) = units_of(&offers, key, &row[usize::from(with_unit)], case, notes) else { continue };
        for (cell, list) in row[first..].iter().zip(&mut lists) {
            lay(cell, &offers, &units, case, &mut list.usd_per_ton, notes);
        }
    }
    lists
}

fn feeds_across(head: &[Cell], body: &[&Vec<Cell>], case: &Case, notes: &mut Vec<Diagnostic>) -> Vec<NamedPrices> {
    let mut seen = Names::default();
    let columns: Vec<Option<(Vec<usize>, Vec<PriceUnit>)>> = head[1..]
        .iter()
        .map(|cell| {
            let text = cell.text.trim();
            let Some((feed, unit)) = text.rsplit_once(PER) else {
                let known = case.offers.iter().any(|offer| offer.id == text || offer.feed_name() == text);
                let help = if known {
                    format!("write `{text}_usd_per_ton`")
                } else {
                    "write the name of a feed and the unit, such as `prairie_hay_usd_per_ton`".to_owned()
                };
                notes.push(
                    Code::SheetColumn
                        .error(format!("`{}` is not a feed with the unit of its price", shortened(text)))
                        .at(cell.span.clone(), "not a column of prices")
                        .help(help),
                );
                return None;
            };
            let feed_cell = Cell { text: feed.to_owned(), span: cell.span.clone() };
            seen.new_name(&feed_cell, "feed", notes);
            let offers = offers_of(feed, cell, case, notes)?;
            let units = units_of(&offers, unit, cell, case, notes)?;
            Some((offers, units))
        })
        .collect();
    if columns.is_empty() {
        notes.push(
            Code::SheetForm
                .error("the price sheet has no feed")
                .at(head[0].span.clone(), "only names of cases stand here")
                .help("add a column for each feed, such as `prairie_hay_usd_per_ton`"),
        );
    }
    let mut names = Names::default();
    body.iter()
        .map(|row| {
            let name = names.new_name(&row[0], "case", notes);
            let mut usd_per_ton = vec![None; case.offers.len()];
            for (cell, column) in row[1..].iter().zip(&columns) {
                if let Some((offers, units)) = column {
                    lay(cell, offers, units, case, &mut usd_per_ton, notes);
                }
            }
            NamedPrices { name, usd_per_ton }
        })
        .collect()
}

/// Names that must be there and differ.
#[derive(Default)]
struct Names(IndexMap<String, std::ops::Range<usize>>);

impl Names {
    fn new_name(&mut self, cell: &Cell, what: &str, notes: &mut Vec<Diagnostic>) -> String {
        let name = cell.text.trim();
        if name.is_empty() || name.chars().count() > 60 {
            notes.push(
                Code::SheetRow
                    .error(if name.is_empty() {
                        format!("a {what} has no name")
                    } else {
                        format!("the name of a {what} is too long")
                    })
                    .at(cell.span.clone(), "1 to 60 characters belong here")
                    .help("write a short name"),
            );
        } else if let Some(first) = self.0.get(name) {
            notes.push(
                Code::SheetRow
                    .error(format!("{what} `{}` is there twice", shortened(name)))
                    .at(cell.span.clone(), "again here")
                    .and_at(first.clone(), "first here")
                    .help("give each a name of its own, or delete one"),
            );
        } else {
            self.0.insert(name.to_owned(), cell.span.clone());
        }
        name.to_owned()
    }
}

/// The offers a name stands for: one, or all lots of a feed.
fn offers_of(name: &str, cell: &Cell, case: &Case, notes: &mut Vec<Diagnostic>) -> Option<Vec<usize>> {
    let of = |fits: &dyn Fn(&crate::feed::Offer) -> bool| -> Vec<usize> {
        case.offers.iter().enumerate().filter(|(_, offer)| fits(offer)).map(|(index, _)| index).collect()
    };
    let exact = of(&|offer| offer.id == name);
    let found = if exact.is_empty() { of(&|offer| offer.feed_name() == name) } else { exact };
    if found.is_empty() {
        if name.is_empty() {
            return None;
        }
        let help = near::advice(name, case.offers.iter().map(|offer| offer.id.as_str()));
        notes.push(
            Code::SheetColumn
                .error(format!("there is no feed `{}` in the herd file", shortened(name)))
                .at(cell.span.clone(), "not under `feeds`")
                .help(help.unwrap_or_else(|| "add it to the herd file".to_owned())),
        );
        return None;
    }
    if found.iter().any(|index| case.offers[*index].feed.class.is_grazed()) {
        notes.push(
            Code::SheetColumn
                .error(format!("`{}` is grazed, so it has no price by weight", shortened(name)))
                .at(cell.span.clone(), "not bought")
                .help("delete it here; its cost by the head and month stands in the herd file"),
        );
        return None;
    }
    Some(found)
}

/// The unit of a price for each of some offers.
fn units_of(
    offers: &[usize],
    key: &str,
    cell: &Cell,
    case: &Case,
    notes: &mut Vec<Diagnostic>,
) -> Option<Vec<PriceUnit>> {
    let wrong = |message: String, help: String| {
        Code::SheetColumn.error(message).at(cell.span.clone(), "the unit of its price").help(help)
    };
    let mut units = Vec::new();
    for index in offers {
        let offer = &case.offers[*index];
        let unit = match key {
            "ton" => PriceUnit::Ton,
            "metric_ton" => PriceUnit::MetricTon,
            "cwt" => PriceUnit::Cwt,
            "ton_dm" => PriceUnit::TonDm { dm_pct: offer.feed.dm_pct() },
            "bushel" => {
                let Some(weight) = &offer.feed.lb_per_bushel else {
                    notes.push(wrong(
                        format!("what a bushel of `{}` weighs is not known", offer.id),
                        "add `lb_per_bushel` to it in the herd file, or price it by the ton".to_owned(),
                    ));
                    return None;
                };
                PriceUnit::Bushel { lb: weight.mean }
            }
            "bale" if matches!(offer.price_unit, PriceUnit::Bale { .. }) => offer.price_unit,
            "bale" => {
                notes.push(wrong(
                    format!("what a bale of `{}` weighs is not known", offer.id),
                    "price it by the bale in the herd file, with `bale: {weight_lb: 1100}` or its size, or by the ton here".to_owned(),
                ));
                return None;
            }
            _ => {
                notes.push(wrong(
                    format!("`{}` is no unit of a price", shortened(key)),
                    near::advice(key, UNITS).unwrap_or_default(),
                ));
                return None;
            }
        };
        units.push(unit);
    }
    Some(units)
}

/// Lays one cell over the prices of some offers; an empty one leaves those of the herd file.
fn lay(
    cell: &Cell,
    offers: &[usize],
    units: &[PriceUnit],
    case: &Case,
    prices: &mut [Option<f64>],
    notes: &mut Vec<Diagnostic>,
) {
    let text = cell.text.trim();
    if text.is_empty() {
        if let Some(index) = offers.iter().find(|index| case.offers[**index].price_usd_per_ton.is_none()) {
            notes.push(
                Code::SheetPrice
                    .error(format!("`{}` has no price here and none in the herd file", case.offers[*index].id))
                    .at(cell.span.clone(), "an empty cell takes the price of the herd file")
                    .help("write a price, or give the feed one in the herd file"),
            );
        }
        return;
    }
    let Some(value) = text.parse::<f64>().ok().filter(|value| value.is_finite()) else {
        notes.push(
            Code::SheetPrice
                .error(format!("`{}` is not a price", shortened(text)))
                .at(cell.span.clone(), "a plain figure belongs here")
                .help("write the figure alone, such as `112.50`, without a sign or commas; the unit is in the head of the column or the line"),
        );
        return;
    };
    for (index, unit) in offers.iter().zip(units) {
        let usd_per_ton = unit.usd_per_ton(value);
        if !(0.0..=HIGHEST_USD_PER_TON).contains(&usd_per_ton) {
            notes.push(
                Code::SheetPrice
                    .error(format!("a price cannot be ${text} a {}", unit.word()))
                    .at(cell.span.clone(), if value < 0.0 { "too small" } else { "too large" })
                    .help(format!("write a figure from 0 to {:.0}", unit.usd_per_unit(HIGHEST_USD_PER_TON))),
            );
            return;
        }
        prices[*index] = Some(usd_per_ton);
    }
}
