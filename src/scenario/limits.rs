//! Limits set otherwise by the user.

use super::amounts::group_named;
use super::code::Code;
use super::fields::{Fields, Notes};
use super::measure::{LIMIT_MAX, LIMIT_MIN, LIMIT_VALUE};
use super::near;
use super::node::{Entry, Kind, Node};
use super::values::{map, shortened};
use crate::limit::{self, LimitChange, Sense};

/// Reads `limits:`.
pub(crate) fn read(
    entry: Option<&Entry>,
    groups: Option<&[String]>,
    rules: &[&str],
    notes: &mut Notes,
) -> Vec<LimitChange> {
    let mut changes = Vec::new();
    let Some(entry) = entry.filter(|entry| entry.value.kind != Kind::Null) else { return changes };
    for each in map(&entry.value, "`limits`", &entry.key_span, notes).unwrap_or_default() {
        if !rules.contains(&each.key.as_str()) {
            let error = Code::UnknownRule
                .error(format!("there is no limit `{}`", shortened(&each.key)))
                .at(each.key_span.clone(), "not a limit");
            notes.push(match near::advice(&each.key, rules.iter().copied()) {
                Some(help) => error.help(help),
                None => error,
            });
        }
        match &each.value.kind {
            Kind::List(items) => changes.extend(items.iter().filter_map(|item| change(each, item, groups, notes))),
            _ => changes.extend(change(each, &each.value, groups, notes)),
        }
        twice(each, &changes, notes);
    }
    changes
}

/// Two changes of one limit for the same cattle: nothing says which was meant.
fn twice(entry: &Entry, changes: &[LimitChange], notes: &mut Notes) {
    let mut groups: Vec<&Option<String>> = Vec::new();
    for change in changes.iter().filter(|change| change.rule == entry.key) {
        if groups.contains(&&change.group) {
            let whom = change.group.as_ref().map_or("all groups".to_owned(), |group| format!("`{group}`"));
            notes.push(
                Code::LimitForm
                    .error(format!("limit `{}` is changed twice for {whom}", shortened(&entry.key)))
                    .at(entry.key_span.clone(), "more than one change for the same cattle")
                    .help("keep one of them, or name another `group`"),
            );
        }
        groups.push(&change.group);
    }
}

/// A most for a limit that is a least, or the reverse.
fn wrong_side(rule: &str, fields: &mut Fields<'_>, notes: &mut Notes) {
    let (key, words, other) = match limit::rule(rule).map(|rule| rule.sense) {
        Some(Sense::AtLeast) => ("max", "a least, not a most", "min"),
        Some(Sense::AtMost) => ("min", "a most, not a least", "max"),
        _ => return,
    };
    if let Some(entry) = fields.entry(key) {
        notes.push(
            Code::LimitForm
                .error(format!("limit `{rule}` is {words}"))
                .at(entry.key_span.clone(), format!("`{key}` does not fit"))
                .help(format!("write `{other}:`, and see `overwinter explain {rule}` for its unit")),
        );
    }
}

fn change(entry: &Entry, node: &Node, groups: Option<&[String]>, notes: &mut Notes) -> Option<LimitChange> {
    let what = format!("limit `{}`", shortened(&entry.key));
    let mut fields = Fields::open(node, what, entry.key_span.clone(), notes)?;
    let group = fields.text("group", notes).map(str::to_owned);
    if let (Some(name), Some(each)) = (&group, fields.entry("group")) {
        group_named(name, each.place(), groups, notes);
    }
    wrong_side(&entry.key, &mut fields, notes);
    let figures =
        [&LIMIT_MAX, &LIMIT_MIN, &LIMIT_VALUE].map(|measure| (fields.number(measure, notes), fields.has(measure)));
    let off = fields.flag("off", notes);
    let because = fields.text("because", notes).map(str::trim).filter(|text| !text.is_empty()).map(str::to_owned);
    let written = figures.iter().filter(|(_, there)| *there).count() + usize::from(off == Some(true));
    if written != 1 {
        let words = if written == 0 { "has no change" } else { "has more than one change" };
        notes.push(
            Code::LimitForm
                .error(format!("{} {words}", fields.what()))
                .at(fields.place(), "one change belongs under it")
                .help("write the new figure as `value: 5`, or `off: true`"),
        );
    }
    if off == Some(true) && because.is_none() {
        notes.push(
            Code::NoReason
                .error(format!("{} is lifted without a reason", fields.what()))
                .at(fields.entry("off").map_or(fields.place(), |each| each.key_span.clone()), "lifted here")
                .because("limits stand for the health of cattle, so the report repeats why one was lifted")
                .help("add `because: \"…\"` with your reason"),
        );
    }
    fields.close(notes);
    Some(LimitChange {
        rule: entry.key.clone(),
        group,
        value: figures.iter().find_map(|(value, _)| *value),
        off: off == Some(true),
        because,
        span: entry.key_span.clone(),
    })
}
