//! The page of a gin.

use super::blocks::{blocks, heading, section, table};
use super::chart::{Face, Pair, Step, WIDTH, pairs, patterns, steps};
use super::shell::{Names, document, spaced};
use super::{contents, foot, top};
use crate::report::gin::market::shown;
use crate::report::gin::model::{GinReport, ProductReport, WeekReport};
use crate::report::gin::text::{capital, sections};
use crate::report::gin::units::Units;
use crate::report::page::{Block, Section, Table};
use maud::{Markup, html};

/// The page as one file.
#[must_use]
pub fn gin(report: &GinReport, units: Units) -> String {
    let page = sections(report, units);
    let neighbors = report.products.iter().flat_map(|product| &product.neighbors).map(|one| one.name.as_str());
    let not_asked = report.products.iter().flat_map(|product| &product.not_asked).map(|one| one.name.as_str());
    let names = Names::new(neighbors.chain(not_asked).chain([report.gin.as_str()]));
    let titled = page.sections.iter().filter(|one| !one.title.is_empty());
    let links: Vec<(&str, String)> = titled.map(|one| (one.id, one.title.clone())).collect();
    let body = html! {
        (patterns())
        header { (top(&page, &names)) (asks(report, units)) }
        (contents(&links))
        @for one in &page.sections { (part(report, one, units, &names)) }
        (foot("overwinter gin"))
    };
    document(&format!("{}: what neighbors can pay", spaced(&report.gin)), "gin", false, &body)
}

/// The prices to ask in large figures.
fn asks(report: &GinReport, units: Units) -> Markup {
    html! {
        ul.big {
            @for product in &report.products {
                @if !product.do_not_sell.is_empty() {
                    li { b { "DO NOT SELL" } (product.product) ": " (product.do_not_sell.join("; ")) }
                } @else if let Some(ask) = product.ask_usd_per_ton {
                    li {
                        b { (units.per_ton(ask.abs())) }
                        "a " (units.ton()) " to " @if ask >= 0.0 { "ask" } @else { "pay" } " for " (product.product) " at the gin"
                    }
                }
            }
        }
    }
}

fn part(report: &GinReport, one: &Section, units: Units, names: &Names) -> Markup {
    let of = |name: &str| report.products.iter().find(|product| product.product == name);
    match one.id {
        "supply" => supply(report, one, units, names),
        "curve-seed" => section(one, names, &curve(of("seed"), units)),
        "curve-trash" => section(one, names, &curve(of("trash"), units)),
        _ => section(one, names, &html! {}),
    }
}

/// What comes by week, what neighbors want, and where it goes, of each product.
fn supply(report: &GinReport, one: &Section, units: Units, names: &Names) -> Markup {
    let bare = Section { rest: ", tons".to_owned(), ..one.clone() };
    let words: Vec<Block> = one.blocks.iter().filter(|block| matches!(block, Block::Words { .. })).cloned().collect();
    html! {
        section id="supply" aria-labelledby="supply-heading" {
            (heading(&bare, names))
            @for product in report.products.iter().filter(|product| !product.weeks.is_empty()) {
                h3 { (capital(product.product)) }
                (by_week(product, units))
                (table(&weeks(product, units), names))
            }
            (blocks(&words, names))
        }
    }
}

/// A week's day without the year.
fn day(week: &WeekReport) -> String {
    week.week_of.get(5..).unwrap_or(&week.week_of).to_owned()
}

fn by_week(product: &ProductReport, units: Units) -> Markup {
    let list: Vec<Pair> = product
        .weeks
        .iter()
        .map(|week| Pair {
            column: day(week),
            has: (week.produced_tons, units.tons(week.produced_tons, 1)),
            need: (week.wanted_tons, units.tons(week.wanted_tons, 1)),
        })
        .collect();
    let face = Face {
        id: format!("weeks-{}", product.product),
        title: format!("{}: what comes and what neighbors want, by week", capital(product.product)),
        desc: "Columns are the tons that come in a week, bars what neighbors want at the price asked; the table below has both."
            .to_owned(),
        unit: "tons a week",
        along: "week of, month and day",
        width: WIDTH,
    };
    pairs(&face, ("comes", "wanted"), &list)
}

fn weeks(product: &ProductReport, units: Units) -> Table {
    let header = ["week of", "comes", "wanted", "sold", "elsewhere", "lost", "pile", ""].map(str::to_owned).to_vec();
    let rows = product
        .weeks
        .iter()
        .map(|week| {
            let tons = |tons: f64| units.tons(tons, 1);
            let full = if week.overflow_tons > 1e-9 { "full" } else { "" };
            vec![
                week.week_of.clone(),
                tons(week.produced_tons),
                tons(week.wanted_tons),
                tons(week.sold_tons),
                tons(week.elsewhere_tons),
                tons(week.lost_tons),
                tons(week.pile_tons),
                full.to_owned(),
            ]
        })
        .collect();
    let caption = format!("{}, tons by week", capital(product.product));
    Table { caption, left: 1, header, rows, last_words: true, ..Table::default() }
}

/// How much neighbors want at each price.
fn curve(product: Option<&ProductReport>, units: Units) -> Markup {
    let Some(product) = product else { return html! {} };
    let list: Vec<Step> = shown(&product.demand)
        .into_iter()
        .map(|point| Step {
            from: point.usd_per_ton,
            to: Some(point.usd_per_ton),
            tons_from: point.demand_tons,
            tons_to: point.demand_tons,
            figure: units.per_ton(point.usd_per_ton),
            tons: units.tons(point.demand_tons, 0),
        })
        .collect();
    let face = Face {
        id: format!("demand-{}", product.product),
        title: format!("How much {} neighbors want at each price", product.product),
        desc: "The line falls as the price at the gin rises; each point is a row of the table below.".to_owned(),
        unit: "tons neighbors want over the season",
        along: "price at the gin, $ per short ton",
        width: WIDTH,
    };
    let ask = product.ask_usd_per_ton.map(|ask| (ask, format!("ask {}", units.per_ton(ask))));
    steps(&face, &list, ask, &[])
}
