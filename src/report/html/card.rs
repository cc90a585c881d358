//! The feeding card: what to put out, a sheet of paper for each group, for the dash of the truck.

use super::blocks::{list_of, table};
use super::shell::{Names, document, spaced};
use super::{foot, names_of};
use crate::report::model::Report;
use crate::report::sheet::{GroupSheet, merged, period_table, rounding_words};
use crate::report::text::place;
use crate::report::text::watch::group_items;
use maud::{Markup, html};

/// So many things to watch stand on a card; the plan has them all.
const WATCHED: usize = 3;

/// The card as one file.
#[must_use]
pub fn card(report: &Report) -> String {
    let names = names_of(report);
    let title = format!("{}: feeding card", spaced(place(report)));
    let body = html! {
        @for (index, group) in report.sheet.iter().enumerate() { (one(report, group, index, &names)) }
        (foot("overwinter plan --sheet"))
    };
    document(&title, "card", false, &body)
}

fn one(report: &Report, group: &GroupSheet, index: usize, names: &Names) -> Markup {
    let items = group_items(report, &group.name);
    let items: Vec<&str> = items.iter().take(WATCHED).map(String::as_str).collect();
    html! {
        article.page {
            header {
                @if index == 0 { h1 { (names.say(place(report))) ": feeding card" } }
                h2 { (names.say(&group.name)) ", " (group.head) " head" }
                p.rest { "Pounds as fed. What is put out has waste at the feeder on top." }
                @if index == 0 { @if let Some(words) = rounding_words(report) { p { (names.say(&words)) } } }
            }
            @for period in merged(&group.periods) {
                section.run {
                    h3 { (period.from) " to " (period.last) ", " (period.days) @if period.days == 1 { " day" } @else { " days" } }
                    (table(&period_table(&period, &group.name), names))
                    @if let Some(words) = period.mixer_words() { p { (names.say(&words)) } }
                }
            }
            @if !items.is_empty() { div.care { p { strong { "Watch" } } (list_of(&items, names)) } }
            div.notes-lines { strong { "Notes" } }
        }
    }
}
