//! A page's sections, tables and sentences in a browser.

use super::shell::Names;
use crate::report::page::{Block, Section, Table};
use maud::{Markup, html};

/// Columns that fit a phone beside the first without a word of the table being left out.
const NARROW: usize = 4;
/// Columns beyond which letters are smaller and a box may scroll on any screen.
const MANY: usize = 9;
/// Rows that are kept on one sheet of paper.
const SHORT: usize = 16;

/// A section with its heading; `before` stands between the heading and what the section holds.
pub(super) fn section(section: &Section, names: &Names, before: &Markup) -> Markup {
    html! {
        section id=[id(section)] aria-labelledby=[heading_id(section)] {
            (heading(section, names))
            (before)
            (under(&format!("{}{}", section.title, section.rest), &section.blocks, names))
        }
    }
}

fn id(section: &Section) -> Option<&'static str> {
    (!section.id.is_empty() && !section.title.is_empty()).then_some(section.id)
}

fn heading_id(section: &Section) -> Option<String> {
    id(section).map(|id| format!("{id}-heading"))
}

/// The heading of a section and what stands behind it.
pub(super) fn heading(section: &Section, names: &Names) -> Markup {
    let rest = section.rest.trim_start_matches([',', ':', ' ']);
    html! {
        @if !section.title.is_empty() {
            h2 id=[heading_id(section)] { (names.say(&section.title)) }
            @if !rest.is_empty() { p.rest { (names.say(rest)) } }
        } @else if !rest.is_empty() {
            h2 { (names.say(rest)) }
        }
    }
}

/// What a section holds.
pub(super) fn blocks(list: &[Block], names: &Names) -> Markup {
    under("", list, names)
}

/// What stands under a heading; a table whose caption only repeats it has it for those who do not see the page.
fn under(title: &str, list: &[Block], names: &Names) -> Markup {
    let mut out = Vec::new();
    let mut items: Vec<&str> = Vec::new();
    for block in list {
        if let Block::Words { text, .. } = block
            && block.is_item()
        {
            items.push(text);
            continue;
        }
        out.push(list_of(&std::mem::take(&mut items), names));
        out.push(match block {
            Block::Table(one) => boxed(one, names, one.caption == title),
            Block::Line(text) if text.trim().is_empty() => html! {},
            Block::Words { text, .. } | Block::Line(text) => html! { p { (names.say(text)) } },
        });
    }
    out.push(list_of(&items, names));
    html! { @for one in out { (one) } }
}

/// A list of sentences.
pub(super) fn list_of(items: &[&str], names: &Names) -> Markup {
    html! {
        @if !items.is_empty() {
            ul { @for item in items { li { (names.say(item)) } } }
        }
    }
}

/// A table in a box of its own, which scrolls where a phone is too narrow and says so.
pub(super) fn table(one: &Table, names: &Names) -> Markup {
    boxed(one, names, false)
}

fn boxed(table: &Table, names: &Names, said: bool) -> Markup {
    let count = columns(table);
    let wide = count > NARROW || table.left > 2;
    let short = (table.rows.len() <= SHORT).then_some("short");
    html! {
        @if wide {
            p.cue.always[count > MANY] aria-hidden="true" { "More columns to the right: swipe the table" }
            div.wide.dense[count > MANY].(short.unwrap_or("long")) tabindex="0" role="region" aria-label={ "Table: " (table.caption) } { (bare(table, names, said)) }
        } @else {
            div.fits.(short.unwrap_or("long")) { (bare(table, names, said)) }
        }
    }
}

fn columns(table: &Table) -> usize {
    table.rows.iter().map(Vec::len).chain([table.header.len()]).max().unwrap_or(0)
}

/// How the head of a row is drawn: prices are not broken over two lines.
fn head_class(text: &str, set_in: bool) -> Option<&'static str> {
    let price = text.starts_with(|c: char| c.is_ascii_digit()) && text.contains(" to ");
    if price { Some("price") } else { set_in.then_some("in") }
}

/// The table itself.
fn bare(table: &Table, names: &Names, said: bool) -> Markup {
    let last = columns(table).saturating_sub(1);
    // What is set in on a terminal under a row that is not stands under it here, too.
    let set_in = |row: &[String]| row.first().is_some_and(|first| first.starts_with(' '));
    let nested = table.rows.iter().any(|row| set_in(row)) && !table.rows.iter().all(|row| set_in(row));
    let shown = |index: &usize| table.drawn != Some(*index);
    let words = |index: usize| index < table.left || table.last_words && index == last;
    let kind = |index: usize| if words(index) { "words" } else { "figure" };
    // A head that only repeats the caption is none.
    let corner = |index: usize, text: &str| index == 0 && table.caption.starts_with(text);
    html! {
        table {
            caption { span.hide[said] { (names.say(&table.caption)) } }
            @if !table.header.is_empty() {
                thead { tr {
                    @for (index, text) in table.header.iter().enumerate().filter(|(index, _)| shown(index)) {
                        @if text.is_empty() || corner(index, text) { td {} }
                        @else { th scope="col" class=(kind(index)) { (names.say(&text.replace('\n', " "))) } }
                    }
                } }
            }
            tbody {
                @for row in &table.rows { tr {
                    @for (index, text) in row.iter().enumerate().filter(|(index, _)| shown(index)) {
                        @let text = text.trim();
                        @if index == 0 { th scope="row" class=[head_class(text, nested && set_in(row))] { (names.say(text)) } }
                        @else { td class=(kind(index)) { (names.say(text)) } }
                    }
                } }
            }
        }
    }
}
