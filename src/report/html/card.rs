//! The feeding card: what to put out, a sheet of paper for each run of days with all groups on it, for the dash of the
//! truck.

use super::blocks::list_of;
use super::shell::{Names, document, spaced};
use super::{foot, names_of};
use crate::limit::figure_text;
use crate::report::cautions::deadly;
use crate::report::model::Report;
use crate::report::sheet::{PeriodSheet, SheetLine, pounds, rounding_words};
use crate::report::text::watch::group_items;
use crate::report::text::{count, place};
use indexmap::IndexMap;
use maud::{Markup, html};

/// So many things to watch stand on a card for each group, the gravest; the plan has them all.
const WATCHED: usize = 1;

/// The card as one file.
#[must_use]
pub fn card(report: &Report) -> String {
    let names = names_of(report);
    let title = format!("{}: feeding card", spaced(place(report)));
    let runs = runs(report);
    let body = html! {
        header {
            h1 { (names.say(place(report))) ": feeding card" }
            p.rest { "Pounds as fed, at one feeding. What is put out has waste at the feeder on top. A sheet for each run of days." }
            @if let Some(words) = rounding_words(report) { p { (names.say(&words)) } }
        }
        @for run in &runs { (sheet(report, run, &names)) }
        (foot("overwinter plan --sheet"))
    };
    document(&title, "card", false, &body)
}

/// Days on which every group gets the same: the places of the first and the last period.
fn runs(report: &Report) -> Vec<(usize, usize)> {
    let count = report.sheet.first().map_or(0, |group| group.periods.len());
    let same = |a: usize, b: usize| {
        report.sheet.iter().all(|group| {
            let cells = |t: usize| -> Vec<[String; 6]> { group.periods[t].lines.iter().map(cells).collect() };
            cells(a) == cells(b)
                && group.periods[a].batches == group.periods[b].batches
                && group.periods[a].slowly == group.periods[b].slowly
        })
    };
    let mut list: Vec<(usize, usize)> = Vec::new();
    for t in 0..count {
        match list.last_mut() {
            Some((first, last)) if same(*first, t) => *last = t,
            _ => list.push((t, t)),
        }
    }
    list
}

fn sheet(report: &Report, (first, last): &(usize, usize), names: &Names) -> Markup {
    let Some(group) = report.sheet.first() else { return html! {} };
    let days: u32 = group.periods[*first..=*last].iter().map(|period| period.days).sum();
    let (from, to) = (&group.periods[*first].from, &group.periods[*last].last);
    html! {
        article.page {
            h2 { (from) " to " (to) ", " (days) @if days == 1 { " day" } @else { " days" } }
            @for group in &report.sheet {
                section.run {
                    h3 { (names.say(&group.name)) ", " (count(group.head)) " head" }
                    (table(&group.periods[*first], &format!("{}, {from} to {to}", group.name), names))
                }
            }
            (watch(report, names))
            div.notes-lines { strong { "Notes" } }
        }
    }
}

fn watch(report: &Report, names: &Names) -> Markup {
    let kills = deadly(&report.cautions).join(" ");
    // What holds for several groups in the same words is said once.
    let mut of_groups: IndexMap<String, Vec<&str>> = IndexMap::new();
    for group in &report.sheet {
        for item in group_items(report, &group.name).into_iter().take(WATCHED) {
            of_groups.entry(item).or_default().push(&group.name);
        }
    }
    let items: Vec<String> = of_groups.iter().map(|(item, groups)| format!("{}: {item}", groups.join(", "))).collect();
    let items: Vec<&str> = items.iter().map(String::as_str).collect();
    html! {
        div.care {
            p { strong { "Watch" } ": manure, flanks and leftovers tell first when a ration is wrong." }
            @if !kills.is_empty() { p.deadly { (names.say(&kills)) } }
            (list_of(&items, names))
        }
    }
}

/// How often, pounds a head, ounces a head, what to put out, bales and buckets.
fn cells(line: &SheetLine) -> [String; 6] {
    let out = pounds(line.lb_per_feeding);
    [
        line.how(),
        pounds(line.lb_per_head_day * line.every_days),
        line.ounces.map_or(String::new(), |oz| figure_text(oz * line.every_days, 1)),
        if line.at_will { format!("about {out}") } else { out },
        line.bales.map_or(String::new(), |count| figure_text(count, 1)),
        line.buckets.map_or(String::new(), |count| figure_text(count, 1)),
    ]
}

fn table(period: &PeriodSheet, caption: &str, names: &Names) -> Markup {
    let ounces = period.lines.iter().any(|line| line.ounces.is_some());
    let bales = period.lines.iter().any(|line| line.bales.is_some());
    let buckets = period.lines.iter().any(|line| line.buckets.is_some());
    html! {
        div.fits.short {
            table {
                caption { span.hide { (names.say(caption)) } }
                thead { tr {
                    th scope="col" { "feed" }
                    th.figure scope="col" { "lb a head" }
                    @if ounces { th.figure scope="col" { "oz a head" } }
                    th.figure scope="col" { "lb to put out" }
                    @if bales { th.figure scope="col" { "bales" } }
                    @if buckets { th.figure scope="col" { "buckets" } }
                } }
                tbody {
                    @for line in &period.lines { tr {
                        @let [how, head, oz, out, bale, count] = cells(line);
                        th scope="row" { (names.say(&line.feed)) " " span.how { (how) } }
                        td.figure { (head) }
                        @if ounces { td.figure { (oz) } }
                        td.figure.put { (out) }
                        @if bales { td.figure { (bale) } }
                        @if buckets { td.figure { (count) } }
                    } }
                }
            }
        }
        @if let Some(words) = period.mixer_words() { p { (names.say(&words)) } }
        @for words in &period.slowly { p { (names.say(words)) } }
    }
}
