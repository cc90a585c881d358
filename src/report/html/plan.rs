//! The page of a plan.

use super::blocks::{blocks, heading, list_of, section, table};
use super::chart::patterns;
use super::rations;
use super::shell::{Names, document, spaced};
use super::{contents, foot, live, names_of, stores, top};
use crate::report::model::Report;
use crate::report::page::Section;
use crate::report::text::{needs_table, place, plan_sections, usd, watch};
use crate::report::worth::LiveFeed;
use maud::{Markup, html};

/// The page of a plan as one file; with `feeds` their prices can be moved in it.
#[must_use]
pub fn plan(report: &Report, feeds: &[LiveFeed]) -> String {
    let page = plan_sections(report);
    let names = names_of(report);
    let mut links: Vec<(&str, String)> = Vec::new();
    for one in page.sections.iter().filter(|one| !one.title.is_empty()) {
        links.push((one.id, one.title.clone()));
        if one.id == "rations" {
            links.push(("needs", "Needs".to_owned()));
        }
    }
    if !feeds.is_empty() {
        links.push(("what-if", "What if a price changes".to_owned()));
    }
    let body = html! {
        (patterns())
        header {
            (top(&page, &names))
            (figures(report))
        }
        (contents(&links))
        @for one in &page.sections { (part(report, one, &names)) }
        @if !feeds.is_empty() { (live::section(feeds, &names)) }
        (foot("overwinter plan"))
    };
    document(&format!("{}: winter rations", spaced(place(report))), "plan", !feeds.is_empty(), &body)
}

/// The bill in large figures.
fn figures(report: &Report) -> Markup {
    let winter = &report.winter;
    html! {
        ul.big {
            li { b { (usd(winter.cost_usd)) } "for the winter" }
            li { b { (usd(winter.cost_usd_per_head_day)) } "per head and day" }
            li { b { (winter.days) } "days of feeding" }
        }
    }
}

fn part(report: &Report, one: &Section, names: &Names) -> Markup {
    match one.id {
        "rations" => html! {
            section id="rations" aria-labelledby="rations-heading" {
                (heading(one, names))
                p { "A blank is nothing. " (at_will(report)) }
                @for index in 0..report.groups.len() { (rations::group(report, index, names)) }
            }
            (needs(report, names))
        },
        "stack" => section(one, names, &stores::stacks(report, names)),
        "condition" => section(one, names, &rations::condition(report, names)),
        "watch" => watched(report, one, names),
        _ => section(one, names, &html! {}),
    }
}

fn at_will(report: &Report) -> &'static str {
    let lines = report.groups.iter().flat_map(|group| &group.periods).flat_map(|period| &period.ration);
    if lines.clone().any(|line| line.at_will) {
        "* is eaten at will: the figure is what they are expected to eat, waste not counted."
    } else {
        ""
    }
}

/// What the rations have of what is needed, with pictures.
pub(super) fn needs(report: &Report, names: &Names) -> Markup {
    html! {
        section id="needs" aria-labelledby="needs-heading" {
            h2 id="needs-heading" { "Needs" }
            p.rest { "has of what is needed, per head and day" }
            (rations::needs(report))
            (table(&needs_table(report), names))
        }
    }
}

/// What is to be watched with the feeds; what goes with the cattle stands beside their rations.
pub(super) fn watched(report: &Report, one: &Section, names: &Names) -> Markup {
    let feeds = watch::feed_items(report);
    let barred = watch::barred_items(report);
    let items: Vec<&str> = feeds.iter().chain(&barred).map(String::as_str).collect();
    let words: Vec<_> = one.blocks.iter().filter(|block| !block.is_item()).cloned().collect();
    html! {
        section id="watch" aria-labelledby="watch-heading" {
            (heading(one, names))
            p { "What goes with the cattle stands beside their rations above; this is what goes with the feeds." }
            (list_of(&items, names))
            (blocks(&words, names))
        }
    }
}
