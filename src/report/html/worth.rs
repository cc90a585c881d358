//! What feeds are worth: a sheet with the curve of each, and blanks for prices of one's own.

use super::blocks::{blocks, section};
use super::chart::{Face, Step, WIDTH, patterns, steps};
use super::shell::{Names, document, spaced};
use super::{foot, top};
use crate::report::worth::{WorthReport, in_short, price, sections, span};
use maud::{Markup, html};

/// The sheet as one file, a page of paper for each feed. `all`: every step, also those close to each other.
#[must_use]
pub fn worth(reports: &[WorthReport], place: &str, all: bool) -> String {
    let feeds = reports.iter().map(|report| report.feed.as_str());
    let others = reports.iter().flat_map(|report| &report.rows).flat_map(|row| &row.above);
    let groups = reports.iter().flat_map(|report| &report.rows).flat_map(|row| &row.groups);
    let names = Names::new(
        feeds
            .chain(others.map(|change| change.feed.as_str()))
            .chain(groups.map(|group| group.group.as_str()))
            .chain([place]),
    );
    let several = reports.len() > 1;
    let body = html! {
        (patterns())
        @if several {
            header {
                h1 { "What feeds are worth" }
                p.lead { (names.say(if place.is_empty() { "to this herd, this winter" } else { place })) }
            }
        }
        @for (index, report) in reports.iter().enumerate() { (sheet(report, index, place, (all, several), &names)) }
        (foot("overwinter worth"))
    };
    document("What feeds are worth", "worth", false, &body)
}

fn sheet(report: &WorthReport, index: usize, place: &str, (all, several): (bool, bool), names: &Names) -> Markup {
    let page = sections(report, place, all);
    let rest = page.rest.trim_start_matches([':', ' ']);
    let empty = html! {};
    html! {
        article.page {
            @if several { h2 { (names.say(&page.title)) } p.rest { (names.say(rest)) } } @else { header { (top(&page, names)) } }
            @for one in &page.sections {
                @if one.id == "steps" {
                    (picture(report, index, all, &[]))
                    (blocks(&one.blocks, names))
                    (own_prices(report))
                } @else {
                    (section(one, names, &empty))
                }
            }
        }
    }
}

pub(super) fn picture(report: &WorthReport, index: usize, all: bool, stops: &[f64]) -> Markup {
    let rows = if all { report.rows.clone() } else { in_short(&report.rows) };
    let list: Vec<Step> = rows
        .iter()
        .map(|row| Step {
            from: row.from_usd_per_ton,
            to: row.to_usd_per_ton,
            tons_from: row.tons_at_from,
            tons_to: row.tons_at_to,
            figure: row.words(),
            tons: span(row.tons_at_from, row.tons_at_to, 1),
        })
        .collect();
    let name = spaced(&report.feed);
    let face = Face {
        id: format!("steps-{index}"),
        title: format!("How much {name} the cheapest winter buys at each price"),
        desc: "The line steps down as the price rises; each step is a row of the table below.".to_owned(),
        unit: "short tons over the winter",
        along: "delivered price, $ per short ton as fed",
        width: WIDTH,
    };
    let now = report.at.as_ref().map(|at| (at.usd_per_ton, format!("{} now", price(at.usd_per_ton))));
    steps(&face, &list, now, stops)
}

/// Blanks to fill in at the gate.
fn own_prices(report: &WorthReport) -> Markup {
    let freight = report.freight_usd_per_ton;
    html! {
        div.care {
            p { strong { "What is it worth to you?" } " Fill in what you are quoted." }
            p { "Price at the gate: $ " span.blank { "\u{a0}" } " a ton, and haul: $ " span.blank { "\u{a0}" } " a ton"
                @if freight > 0.0 { " (this herd: " (price(freight)) ")" } }
            p { "Together, delivered: $ " span.blank { "\u{a0}" } " a ton" }
            p { "Find that price in the table: tons to buy " span.blank { "\u{a0}" } ", the winter then costs $ " span.blank { "\u{a0}" } }
            @if let Some(up_to) = report.break_even_delivered_usd_per_ton {
                p { "Above " (price(up_to)) " a ton delivered, leave it." }
            }
        }
    }
}
