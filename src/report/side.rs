//! Tables with a column for each case or plan, cut into as many tables as the width of the page asks for.

use super::cautions::items_of_feeds;
use super::compare::{BindingRow, RationRow};
use super::grid::WIDTH;
use super::model::Caution;
use super::page::{Block, Page};
use super::text::watch::{LAW, MORE};
use crate::limit::figure_text;
use indexmap::IndexMap;
use std::fmt::Write as _;

/// Longest head of a column.
const LONGEST: usize = 20;

/// One line: its label and a text for each column.
pub(super) type Line = (String, Vec<String>);

/// Adds a section with a table of lines under the names of its columns; nothing without lines. `about` is the name of the
/// section, its heading and what stands behind it.
pub(super) fn side(page: &mut Page, about: (&'static str, &str, &str), names: &[String], lines: &[Line]) {
    if lines.is_empty() {
        return;
    }
    let (id, title, rest) = about;
    page.section(id, title, rest);
    let heads: Vec<String> = names.iter().map(|name| shortened(name)).collect();
    let width = |text: &str| text.chars().count();
    let label = lines.iter().map(|(label, _)| width(label)).max().unwrap_or(0);
    let column = |index: usize| {
        let cells = lines.iter().map(|(_, cells)| cells.get(index).map_or(0, |text| width(text)));
        cells.max().unwrap_or(0).max(width(&heads[index]))
    };
    let (mut start, mut part) = (0, 1);
    while start < heads.len() {
        let mut end = start;
        let mut used = label + 1;
        while end < heads.len() && (end == start || used + column(end) + 2 <= WIDTH) {
            used += column(end) + 2;
            end += 1;
        }
        let mut header = vec![String::new()];
        header.extend_from_slice(&heads[start..end]);
        let rows: Vec<Vec<String>> = lines
            .iter()
            .map(|(label, cells)| {
                let mut row = vec![label.clone()];
                row.extend((start..end).map(|index| cells.get(index).cloned().unwrap_or_default()));
                row
            })
            .collect();
        if start > 0 {
            page.push(Block::Line(String::new()));
        }
        let part_words = if part > 1 { format!(", part {part}") } else { String::new() };
        page.table(format!("{title}{rest}{part_words}"), 1, &header, &rows);
        start = end;
        part += 1;
    }
}

/// The same as it stands in a page of text.
pub(super) fn side_text(about: (&'static str, &str, &str), names: &[String], lines: &[Line]) -> String {
    let mut page = Page::default();
    side(&mut page, about, names, lines);
    if page.sections.is_empty() { String::new() } else { format!("\n{}", page.text()) }
}

/// A name that fits the head of a column.
pub(super) fn shortened(name: &str) -> String {
    if name.chars().count() <= LONGEST {
        return name.to_owned();
    }
    let cut: String = name.chars().take(LONGEST - 1).collect();
    format!("{}…", cut.trim_end())
}

/// Rations side by side.
pub(super) fn rations(columns: &[&[RationRow]]) -> Vec<Line> {
    let mut lines = Vec::new();
    let keys: Vec<(&str, &str)> =
        columns.iter().flat_map(|rows| rows.iter().map(|row| (row.group.as_str(), row.feed.as_str()))).collect();
    for group in unique(keys.iter().map(|(group, _)| *group)) {
        lines.push((group.to_owned(), Vec::new()));
        for feed in unique(keys.iter().filter(|(one, _)| *one == group).map(|(_, feed)| *feed)) {
            let cells: Vec<String> = columns
                .iter()
                .map(|rows| {
                    let row = rows.iter().find(|row| row.group == group && row.feed == feed);
                    row.map_or_else(String::new, |row| pounds(row.lb_as_fed_per_head_day))
                })
                .collect();
            if cells.iter().any(|cell| !cell.is_empty()) {
                lines.push((format!("  {feed}"), cells));
            }
        }
    }
    lines
}

/// What binds side by side: the weightiest of each group.
pub(super) fn binding(columns: &[&[BindingRow]]) -> Vec<Line> {
    /// Rules shown of a group.
    const MOST: usize = 6;
    let mut lines = Vec::new();
    let all = || columns.iter().flat_map(|rows| rows.iter());
    for group in unique(all().map(|row| row.group.as_str())) {
        let mut rules: Vec<(&BindingRow, f64)> = Vec::new();
        for row in all().filter(|row| row.group == group) {
            match rules.iter_mut().find(|(one, _)| one.rule == row.rule && one.feed == row.feed) {
                Some((_, weight)) => *weight = weight.max(row.weight_usd),
                None => rules.push((row, row.weight_usd)),
            }
        }
        rules.sort_by(|a, b| b.1.total_cmp(&a.1));
        lines.push((group.to_owned(), Vec::new()));
        for (rule, _) in rules.into_iter().take(MOST) {
            let about = rule.feed.as_ref().map_or_else(String::new, |feed| format!(": {feed}"));
            let cells = columns
                .iter()
                .map(|rows| {
                    let found =
                        |row: &&BindingRow| row.group == group && row.rule == rule.rule && row.feed == rule.feed;
                    rows.iter().find(found).map_or_else(String::new, |row| row.when.clone())
                })
                .collect();
            lines.push((format!("  {}{about}", rule.title), cells));
        }
    }
    lines
}

/// Adds what to watch with the rations of some columns, told once each.
pub(super) fn watch(page: &mut Page, columns: &[(&str, &[Caution])]) {
    page.section("watch", "Watch", "");
    // Under its rule: each column and group it is told of.
    let mut of_groups: IndexMap<&str, Vec<(&str, &str, &Caution)>> = IndexMap::new();
    let mut of_feeds: Vec<Caution> = Vec::new();
    for (name, cautions) in columns {
        for caution in *cautions {
            match &caution.group {
                Some(group) => of_groups.entry(&caution.rule).or_default().push((name, group, caution)),
                None if of_feeds.iter().any(|one| one.rule == caution.rule && one.text == caution.text) => {}
                None => of_feeds.push(caution.clone()),
            }
        }
    }
    for found in of_groups.values() {
        let Some((name, group, first)) = found.first() else { continue };
        let mut text = format!("{group}: {}", first.text);
        if found.iter().any(|(_, other, caution)| other == group && caution.text != first.text) {
            let _ = write!(text, " These are the figures of {name}.");
        }
        let others = unique(found.iter().map(|(_, other, _)| *other).filter(|other| other != group));
        if !others.is_empty() {
            let _ = write!(text, " Likewise {}.", others.join(", "));
        }
        let without: Vec<&str> =
            columns.iter().map(|(name, _)| *name).filter(|name| found.iter().all(|(one, ..)| one != name)).collect();
        if !without.is_empty() {
            let _ = write!(text, " Not in {}.", without.join(", "));
        }
        page.item(format!("{text} [{}]", first.mark));
    }
    for item in items_of_feeds(&of_feeds) {
        page.item(item);
    }
    page.words("  ", format!("{MORE} {LAW}"));
}

/// Each text once, in the order met.
pub(super) fn unique<'t>(texts: impl Iterator<Item = &'t str>) -> Vec<&'t str> {
    let mut list = Vec::new();
    for text in texts {
        if !list.contains(&text) {
            list.push(text);
        }
    }
    list
}

/// Pounds as a scale shows them.
pub(super) fn pounds(lb: f64) -> String {
    if lb < 0.005 { String::new() } else { figure_text(lb, if lb < 1.0 { 2 } else { 1 }) }
}

/// Short tons.
pub(super) fn tons(tons: f64) -> String {
    if tons < 0.005 { String::new() } else { figure_text(tons, if tons < 1.0 { 2 } else { 1 }) }
}
