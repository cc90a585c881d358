//! What lies in store over the winter, with the day it is used up.

use super::blocks::table;
use super::chart::{Face, Line, Point, WIDTH, lines};
use super::rations::{pattern_of, starts};
use super::shell::{Names, spaced};
use crate::report::model::{Report, Stock};
use crate::report::page::Table;
use crate::report::text::feed::tonnage;
use indexmap::IndexMap;
use maud::{Markup, html};

/// The picture of the stacks and its table.
pub(super) fn stacks(report: &Report, names: &Names) -> Markup {
    let mut by_feed: IndexMap<&str, Vec<&Stock>> = IndexMap::new();
    for stock in &report.stocks {
        by_feed.entry(&stock.feed).or_default().push(stock);
    }
    let Some(group) = report.groups.first().filter(|_| !by_feed.is_empty()) else { return html! {} };
    let begins = starts(group);
    let days = f64::from(report.winter.days);
    let mut rows = Vec::new();
    let list: Vec<Line> = by_feed
        .iter()
        .map(|(feed, flows)| {
            let mut points: Vec<Point> = flows
                .iter()
                .zip(&begins)
                .map(|(flow, (day, word))| Point {
                    day: *day,
                    value: flow.opening_tons,
                    figure: tonnage(flow.opening_tons),
                    of: word.clone(),
                })
                .collect();
            if let Some(last) = flows.last() {
                points.push(Point {
                    day: days,
                    value: last.left_tons,
                    figure: tonnage(last.left_tons),
                    of: "end".to_owned(),
                });
            }
            let mut row = vec![(*feed).to_owned()];
            row.extend(points.iter().map(|point| point.figure.clone()));
            let used_up = report.stores.used_up.iter().find(|one| one.feed == *feed);
            let note = used_up.map_or_else(|| "lasts".to_owned(), |one| format!("used up {}", one.date));
            row.push(used_up.map_or_else(|| "lasts".to_owned(), |one| one.date.clone()));
            rows.push(row);
            Line { name: spaced(feed), pattern: pattern_of(report, feed), points, note }
        })
        .collect();
    let face = Face {
        id: "stack-picture".to_owned(),
        title: "What lies in store over the winter".to_owned(),
        desc: "One line a feed, from what is on hand on the first day to turn-out; the table below has every figure."
            .to_owned(),
        unit: "short tons as fed, on hand",
        along: "start of each period",
        width: WIDTH,
    };
    let mut header = vec![String::new()];
    header.extend(begins.iter().map(|(_, word)| word.clone()));
    header.extend(["end".to_owned(), "used up".to_owned()]);
    let caption = "On hand at the start of each period, short tons as fed".to_owned();
    let on_hand = Table { caption, left: 1, header, rows, ..Table::default() };
    html! { (lines(&face, Some(0.0), &begins, days, &list)) (table(&on_hand, names)) }
}
