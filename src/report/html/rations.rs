//! What each group eats, with its picture and what to watch beside it; and what it has of what it needs.

use super::blocks::{list_of, table};
use super::chart::{Face, HALF, Line, Pair, Point, Series, WIDTH, lines, pairs, stacked};
use super::shell::{Names, spaced};
use crate::limit::figure_text;
use crate::report::model::{GroupReport, PeriodReport, Report};
use crate::report::page::Table;
use crate::report::text::count;
use crate::report::text::feed::{amount, learning_words, ration_tables, score_words, short_label};
use crate::report::text::watch::group_items;
use maud::{Markup, html};

/// Feeds of which no group ever gets so much are left to the table, lb as fed.
const LEAST_DRAWN_LB: f64 = 0.3;

/// Which pattern each feed has, the same all over the page.
pub(super) fn pattern_of(report: &Report, feed: &str) -> usize {
    let known = report.worth.iter().map(|worth| worth.feed.as_str());
    let fed = report.groups.iter().flat_map(|group| &group.periods).flat_map(|period| &period.ration);
    let mut seen: Vec<&str> = Vec::new();
    for name in known.chain(fed.map(|line| line.feed.as_str())) {
        if !seen.contains(&name) {
            seen.push(name);
        }
    }
    seen.iter().position(|name| *name == feed).unwrap_or(0)
}

/// The part of one group; `index` tells groups apart in links.
pub(super) fn group(report: &Report, index: usize, names: &Names) -> Markup {
    let group = &report.groups[index];
    let items = group_items(report, &group.name);
    let items: Vec<&str> = items.iter().map(String::as_str).collect();
    html! {
        h3 { (names.say(&group.name)) " (" (count(group.head)) " head, " (group.kind) ")" }
        @if group.periods.is_empty() {
            p { "No ration given." }
        } @else {
            (picture(report, index))
            @for one in ration_tables(group) { (table(&one, names)) }
            @for words in learning_words(group) { p { (names.say(&words)) } }
        }
        @if !items.is_empty() {
            div.care { p { strong { "Watch with these cattle" } } (list_of(&items, names)) }
        }
    }
}

fn picture(report: &Report, index: usize) -> Markup {
    let group = &report.groups[index];
    let columns: Vec<String> = group.periods.iter().map(short_label).collect();
    let mut series: Vec<Series> = Vec::new();
    for line in group.periods.iter().flat_map(|period| &period.ration) {
        let name = spaced(&line.feed);
        if series.iter().any(|one| one.name == name) {
            continue;
        }
        let of = |period: &PeriodReport| {
            let fed = period.ration.iter().find(|one| one.feed == line.feed).map_or(0.0, |one| one.lb_as_fed);
            (fed, amount(fed))
        };
        let values: Vec<(f64, String)> = group.periods.iter().map(of).collect();
        if values.iter().any(|(fed, _)| *fed >= LEAST_DRAWN_LB) {
            series.push(Series { name, pattern: pattern_of(report, &line.feed), values });
        }
    }
    if series.is_empty() {
        return html! {};
    }
    let list: Vec<&str> = series.iter().map(|one| one.name.as_str()).collect();
    let face = Face {
        id: format!("eats-{index}"),
        title: format!("What {} eat, by time of winter", spaced(&group.name)),
        desc: format!(
            "One column a period, stacked from the bottom: {}. Amounts under {LEAST_DRAWN_LB} lb are not drawn; every figure stands in the table below.",
            list.join(", ")
        ),
        unit: "lb as fed per head and day",
        along: "",
        width: WIDTH,
    };
    stacked(&face, &columns, &series)
}

/// Need and supply of energy and protein of every group.
pub(super) fn needs(report: &Report) -> Markup {
    html! {
        @for (index, group) in report.groups.iter().enumerate().filter(|(_, group)| !group.periods.is_empty()) {
            div.two {
            @let energy = |period: &PeriodReport| ((period.supply.nem_mcal, 1), (period.need.nem_mcal, 1));
            @let protein = |period: &PeriodReport| ((period.supply.cp_lb, 2), (period.need.cp_lb, 2));
            (need(group, index, "energy", "Mcal NEm per head and day", energy))
            (need(group, index, "protein", "lb of crude protein per head and day", protein))
            }
        }
    }
}

fn need(
    group: &GroupReport,
    index: usize,
    what: &str,
    unit: &str,
    of: impl Fn(&PeriodReport) -> ((f64, usize), (f64, usize)),
) -> Markup {
    let list: Vec<Pair> = group
        .periods
        .iter()
        .map(|period| {
            let (has, need) = of(period);
            let figured = |(value, digits): (f64, usize)| (value, figure_text(value, digits));
            Pair { column: short_label(period), has: figured(has), need: figured(need) }
        })
        .collect();
    let name = spaced(&group.name);
    let face = Face {
        id: format!("{what}-{index}"),
        title: format!("{name}: {what} in the ration and needed"),
        desc: format!(
            "Columns are what the ration of {name} has, thick bars what they need; the table below has both."
        ),
        unit,
        along: "",
        width: HALF,
    };
    // What growing cattle have beyond keeping alive is what they grow on.
    let grows = what == "energy" && group.periods.iter().any(|period| period.need.neg_mcal > 0.0);
    html! {
        div {
            p.of { bdi { (name) } ": " (what) @if grows { "; what is above the bar makes growth" } }
            (pairs(&face, ("in ration", "needed"), &list))
        }
    }
}

/// Body condition of every group over the winter: the picture and its table.
pub(super) fn condition(report: &Report, names: &Names) -> Markup {
    let shown: Vec<&GroupReport> = report.groups.iter().filter(|group| !group.periods.is_empty()).collect();
    let Some(longest) = shown.iter().max_by_key(|group| group.periods.len()) else { return html! {} };
    let days = f64::from(longest.periods.iter().map(|period| period.days).sum::<u32>());
    let list: Vec<Line> = shown
        .iter()
        .enumerate()
        .map(|(index, group)| {
            let mut day = 0.0;
            let mut points = Vec::new();
            for (at, period) in group.periods.iter().enumerate() {
                let mut point = |day: f64, value: f64, of: String| {
                    points.push(Point { day, value, figure: score_words(value), of });
                };
                if at == 0 {
                    point(0.0, period.condition.score_from, "start".to_owned());
                }
                day += f64::from(period.days);
                point(day, period.condition.score_to, short_label(period));
            }
            let last = points.last().map_or(String::new(), |one| format!("{} at the end", one.figure));
            Line { name: spaced(&group.name), pattern: index, points, note: last }
        })
        .collect();
    let face = Face {
        id: "condition-path".to_owned(),
        title: "Body condition over the winter".to_owned(),
        desc: "One line a group, from the first day to turn-out; the table below has every figure.".to_owned(),
        unit: "body condition score, 1 to 9",
        along: "end of each period",
        width: WIDTH,
    };
    let mut header = vec![String::new(), "start".to_owned()];
    header.extend(longest.periods.iter().map(short_label));
    let rows: Vec<Vec<String>> = shown
        .iter()
        .zip(&list)
        .map(|(group, line)| {
            let mut row = vec![group.name.clone()];
            row.extend(line.points.iter().map(|point| point.figure.clone()));
            row
        })
        .collect();
    let caption = "Body condition score at the start and at the end of each period".to_owned();
    let scores = Table { caption, left: 1, header, rows, ..Table::default() };
    html! { (lines(&face, None, &starts(longest), days, &list)) (table(&scores, names)) }
}

/// Where each period begins, in days, and its word.
pub(super) fn starts(group: &GroupReport) -> Vec<(f64, String)> {
    let mut day = 0.0;
    let mut list = Vec::new();
    for period in &group.periods {
        list.push((day, short_label(period)));
        day += f64::from(period.days);
    }
    list
}
