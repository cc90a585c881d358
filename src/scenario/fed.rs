//! Rations written by hand, to be judged: for the whole winter or by period.

use super::amounts::known_group;
use super::code::Code;
use super::fields::{Fields, Notes};
use super::measure::{FED, Unit};
use super::near;
use super::node::{Entry, Kind};
use super::values::{map, quantity, shortened};
use super::winter::Winter;
use crate::quantity::KgAsFed;
use crate::winter::HandRation;
use indexmap::IndexMap;

/// The error of a herd file that holds no rations where some are to be judged, at its `fed` or at the end of its groups.
#[must_use]
pub fn no_rations(text: &str) -> crate::diagnostic::Diagnostic {
    let file = super::set::file_of(text);
    let of = |root: &super::node::Node, key: &str| match &root.kind {
        Kind::Map(entries) => entries.iter().find(|each| each.key == key).map(|each| each.key_span.clone()),
        _ => None,
    };
    let root = super::spans::tree(file).0;
    let at = root.and_then(|root| of(&root, "fed").or_else(|| of(&root, "fed_kg")).or_else(|| of(&root, "feeds")));
    let error = Code::NoRations.error("there are no rations to judge");
    let error = match at {
        Some(span) => error.at(span, "no amounts under `fed`"),
        None => error,
    };
    error.help("write pounds as fed per head and day: `fed: {cows: {prairie_hay: 20, range_cube_38: 2}}`")
}

/// What rations may refer to; `None` where it could not be read.
pub(crate) struct Known<'a> {
    /// Names of the groups.
    pub(crate) groups: Option<&'a [String]>,
    /// Names of the feeds.
    pub(crate) feeds: Option<&'a [String]>,
    /// The winter.
    pub(crate) winter: Option<&'a Winter>,
}

/// Reads `fed:` or `fed_kg:`.
pub(crate) fn read(
    fields: &mut Fields<'_>,
    known: &Known<'_>,
    notes: &mut Notes,
) -> IndexMap<String, Vec<Option<HandRation>>> {
    let mut all = IndexMap::new();
    let Some((entry, unit)) = fields.measured(&FED, notes) else { return all };
    if entry.value.kind == Kind::Null {
        return all;
    }
    for each in map(&entry.value, "`fed`", &entry.key_span, notes).unwrap_or_default() {
        known_group(each, known.groups, notes);
        if let Some(rations) = of_group(each, unit, known, notes) {
            all.insert(each.key.trim().to_owned(), rations);
        }
    }
    all
}

/// The rations of one group, one for each period.
fn of_group(entry: &Entry, unit: &Unit, known: &Known<'_>, notes: &mut Notes) -> Option<Vec<Option<HandRation>>> {
    let what = format!("ration of `{}`", shortened(&entry.key));
    let entries = map(&entry.value, &what, &entry.key_span, notes)?;
    let maps = entries.iter().filter(|each| matches!(each.value.kind, Kind::Map(_))).count();
    if maps > 0 && maps < entries.len() {
        let at = entries.iter().find(|each| !matches!(each.value.kind, Kind::Map(_)));
        notes.push(
            Code::MixedRation
                .error(format!("the {what} mixes amounts and periods"))
                .at(at.map_or(entry.key_span.clone(), |each| each.key_span.clone()), "an amount among periods")
                .help("put every amount under a period, such as `2026-12: {prairie_hay: 18}`"),
        );
        return None;
    }
    let count = known.winter.map_or(0, |winter| winter.periods.len());
    if maps == 0 {
        let ration = ration(entries, unit, known, notes);
        return Some(vec![Some(ration); count]);
    }
    let mut rations = vec![None; count];
    let Some(winter) = known.winter else { return Some(rations) };
    let mut by_month = Vec::new();
    for each in entries {
        let Kind::Map(amounts) = &each.value.kind else { continue };
        let ration = ration(amounts, unit, known, notes);
        let place =
            winter.periods.iter().position(|period| period.label == each.key || period.from.to_string() == each.key);
        match place {
            Some(index) if rations[index].is_none() => rations[index] = Some(ration.clone()),
            Some(_) => {
                notes.push(
                    Code::DuplicateKey
                        .error(format!("the period `{}` has two rations", each.key))
                        .at(each.key_span.clone(), "by label and by first day")
                        .help("keep one of the two"),
                );
                continue;
            }
            None => {}
        }
        // A month is the ration of every part of it that has none of its own.
        let month = format!("{}-", each.key);
        let parts: Vec<usize> = (0..count).filter(|part| winter.periods[*part].label.starts_with(&month)).collect();
        if place.is_none() && (parts.is_empty() || each.key.len() != 7) {
            notes.push(unknown_period(each, winter));
        } else if each.key.len() == 7 {
            by_month.push((parts, ration));
        }
    }
    for (parts, ration) in by_month {
        for part in parts {
            rations[part].get_or_insert_with(|| ration.clone());
        }
    }
    Some(rations)
}

fn unknown_period(entry: &Entry, winter: &Winter) -> crate::diagnostic::Diagnostic {
    let labels = winter.periods.iter().map(|period| period.label.as_str());
    let error = Code::UnknownPeriod
        .error(format!("there is no period `{}`", shortened(&entry.key)))
        .at(entry.key_span.clone(), "not a period of this winter");
    match near::list(labels) {
        Some(names) => error.help(format!("the periods are {names}")),
        None => error,
    }
}

fn ration(entries: &[Entry], unit: &Unit, known: &Known<'_>, notes: &mut Notes) -> HandRation {
    let mut ration = HandRation::new();
    for each in entries {
        if let Some(feeds) = known.feeds.filter(|feeds| !feeds.contains(&each.key)) {
            let error = Code::UnknownOffer
                .error(format!("there is no feed `{}` in this file", shortened(&each.key)))
                .at(each.key_span.clone(), "not under `feeds`");
            notes.push(match near::advice(&each.key, feeds.iter().map(String::as_str)) {
                Some(help) => error.help(help),
                None => error,
            });
        }
        if let Some(kg) = quantity(&each.key, &each.value, unit, FED.range, notes) {
            ration.insert(each.key.clone(), KgAsFed(kg));
        }
    }
    ration
}
