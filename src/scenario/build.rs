//! The whole file: sections in the order of their dependence, then the case or all the errors.

use super::code::Code;
use super::fields::{Fields, Notes};
use super::measure::{CERTAINTY, MINERAL, MIXER, SCOOP, STEADY, SUBSTITUTION};
use super::node::{Entry, Kind, Node};
use super::winter::{MOST_PERIODS, Winter};
use super::{Library, fed, feeds, groups, limits, overrides, place, set, spans, winter};
use crate::diagnostic::{Diagnostic, Severity, Warned};
use crate::feed::Offer;
use crate::winter::{Case, Settings};
use jiff::civil::Date;

/// Reads a herd file, with what-ifs laid over it where [`set::joined`](super::set::joined) put any behind its text.
///
/// # Errors
/// Every error found, in the order of the file, each with its place, reason and remedy.
pub fn read(text: &str, library: Library<'_>) -> Result<Warned<Case>, Vec<Diagnostic>> {
    let (case, mut list) = attempt(text, library).unwrap_or_else(|list| (None, list));
    list.sort_by_key(|diagnostic| diagnostic.label.as_ref().map_or(0, |(span, _)| span.start));
    let failed = list.iter().any(|diagnostic| diagnostic.severity == Severity::Error);
    match case {
        Some(value) if !failed => Ok(Warned { value, warnings: list }),
        _ => Err(list),
    }
}

/// The case, if all its parts could be made, and everything noted; or only notes where the text has no form.
fn attempt(text: &str, library: Library<'_>) -> Result<(Option<Case>, Vec<Diagnostic>), Vec<Diagnostic>> {
    let file = set::file_of(text);
    if blank(file) {
        return Err(vec![empty("the file")]);
    }
    let mut notes = Notes::default();
    let (root, problems) = spans::tree(file);
    notes.list = problems;
    let Some(mut root) = root else { return Err(notes.list) };
    set::apply(&mut root, text, &mut notes.list);
    let case = whole(&root, library, &mut notes);
    Ok((case, notes.list))
}

/// Nothing but blanks, comments and document marks.
pub(super) fn blank(text: &str) -> bool {
    text.trim_start_matches('\u{feff}')
        .lines()
        .map(str::trim)
        .all(|line| line.is_empty() || line.starts_with('#') || matches!(line, "---" | "..."))
}

/// The error for an empty file.
pub(super) fn empty(name: &str) -> Diagnostic {
    let name = if name == "the file" { name.to_owned() } else { format!("`{name}`") };
    Code::Empty
        .error(format!("{name} is empty"))
        .help("a herd file has `winter:`, `groups:` and `feeds:`, as the README shows")
}

/// The key that tells a file of another command: one of its keys, and none of this command's.
pub(super) fn of_another<'n>(root: &'n Node, theirs: &[&str], ours: &[&str]) -> Option<&'n Entry> {
    let Kind::Map(entries) = &root.kind else { return None };
    let has = |keys: &[&str]| entries.iter().find(|entry| keys.contains(&entry.key.as_str()));
    has(theirs).filter(|_| has(ours).is_none())
}

/// All the sections.
pub(super) fn whole(root: &super::node::Node, library: Library<'_>, notes: &mut Notes) -> Option<Case> {
    if matches!(root.kind, Kind::Broken) {
        return None;
    }
    if let Some(entry) = of_another(root, &["gin", "season"], &["groups", "feeds"]) {
        notes.push(
            Code::OtherFile
                .error("this is a gin file, not a herd file")
                .at(entry.key_span.clone(), "a herd file has `groups:` and `feeds:`")
                .help("read it with `overwinter gin`; its neighbors' herd files are the ones to plan"),
        );
        return None;
    }
    let place_of_root = root.span.start..root.span.start;
    let mut fields = Fields::open(root, "the herd file", place_of_root, notes)?;
    let mut winter = fields
        .required("winter", "{from: 2026-11-15, to: 2027-04-01}", notes)
        .and_then(|entry| winter::read(entry, notes));
    let place = fields.entry("place");
    let place = place::read(place, winter.as_ref(), library, notes);
    let herd_entry = fields.required("groups", "{cows: {kind: cow, head: 85, weight_lb: 1200}}", notes);
    let (names, groups) = match herd_entry {
        Some(entry) => groups::read(entry, winter.as_ref(), notes),
        None => (None, None),
    };
    let settings = settings(&mut fields, notes);
    let herd = feeds::Herd {
        groups: names.as_deref(),
        mineral_oz: settings.mineral_oz,
        winter_from: winter.as_ref().map(|winter| winter.from),
    };
    let (ids, offers) = match fields.required("feeds", "{prairie_hay: {price_usd_per_ton: 110}}", notes) {
        Some(entry) => feeds::read(entry, herd, library, notes),
        None => (None, None),
    };
    if let (Some(groups), Some(offers)) = (&groups, &offers) {
        groups::bulls_without_turnout(herd_entry, groups, offers, notes);
    }
    if let (Some(winter), Some(offers)) = (&mut winter, &offers) {
        winter.cut(&written_dates(offers), 1);
        winter.cut(&implied_dates(offers), LEAST_PART_DAYS);
        too_finely_cut(winter, notes);
    }
    let needs_override = overrides::read(fields.entry("needs_override"), names.as_deref(), notes);
    let limits = limits::read(fields.entry("limits"), names.as_deref(), library.rules, notes);
    let known = fed::Known { groups: names.as_deref(), feeds: ids.as_deref(), winter: winter.as_ref() };
    let fed = fed::read(&mut fields, &known, notes);
    fields.close(notes);
    Some(Case {
        place: place?,
        periods: winter?.periods,
        groups: groups?,
        offers: offers?,
        needs_override,
        limits,
        fed,
        settings,
    })
}

/// The winter is not cut nearer than this to a cut it has for the end of a gin's season, which is no day of the
/// user's own.
const LEAST_PART_DAYS: i32 = 4;

/// Days of the file on which a feed comes or is gone.
fn written_dates(offers: &[Offer]) -> Vec<Date> {
    in_order(offers.iter().flat_map(|offer| [(offer.from, offer.to), (offer.fed_from, offer.fed_to)]))
}

/// Days on which a feed is first or no longer put out, as follows from its supply.
fn implied_dates(offers: &[Offer]) -> Vec<Date> {
    let ways = |offer: &Offer| -> Vec<_> {
        offer.fed_by_group.values().chain([&offer.fed]).map(|way| offer.feeding_dates(*way)).collect()
    };
    in_order(offers.iter().flat_map(ways))
}

/// First days and the days after last days, in order, each once.
fn in_order(spans: impl Iterator<Item = (Option<Date>, Option<Date>)>) -> Vec<Date> {
    let mut days: Vec<Date> =
        spans.flat_map(|(first, last)| [first, last.and_then(|day| day.tomorrow().ok())]).flatten().collect();
    days.sort_unstable();
    days.dedup();
    days
}

fn too_finely_cut(winter: &Winter, notes: &mut Notes) {
    if winter.periods.len() > MOST_PERIODS {
        notes.push(
            Code::TooManyPeriods
                .error(format!(
                    "the first and last days of feeds cut the winter into {} periods, more than {MOST_PERIODS}",
                    winter.periods.len()
                ))
                .at(winter.span.clone(), "too finely cut")
                .help("write `periods: months`, or give feeds the same days"),
        );
    }
}

fn settings(fields: &mut Fields<'_>, notes: &mut Notes) -> Settings {
    let usual = Settings::default();
    Settings {
        steady_pct: fields.number(&STEADY, notes).unwrap_or(usual.steady_pct),
        substitution: fields.number(&SUBSTITUTION, notes).unwrap_or(usual.substitution),
        certainty_pct: fields.number(&CERTAINTY, notes).unwrap_or(usual.certainty_pct),
        scoop_lb: fields.number(&SCOOP, notes).unwrap_or(usual.scoop_lb),
        mixer_lb: fields.number(&MIXER, notes),
        mineral_oz: fields.number(&MINERAL, notes).unwrap_or(usual.mineral_oz),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::feed::Nutrient;
    use crate::scenario::library::with_test_library;

    const EVERYTHING: &str = include_str!("../../tests/herd_files/everything_us.yaml");
    const PAGE: &str = include_str!("../../docs/herd-file.md");

    #[test]
    fn the_docs_name_every_key() {
        with_test_library(|library| {
            let mut notes = Notes::default();
            assert!(whole(&spans::tree(EVERYTHING).0.unwrap(), library, &mut notes).is_some());
            // The months are a row of their own kind: `jan` to `dec`.
            let months = ["feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov"];
            let keys = notes.known.iter().copied().filter(|key| !months.contains(key));
            let words = library.losses.storage_ways().chain(library.losses.feeder_ways()).map(|way| way.key.as_str());
            for key in keys.chain(words).chain(Nutrient::ALL.map(Nutrient::key)) {
                let named = [format!("`{key}`"), format!("`{{{key}:"), format!(", {key}:")];
                assert!(named.iter().any(|name| PAGE.contains(name)), "docs/herd-file.md does not name `{key}`");
            }
            assert!(notes.known.len() > 80, "{:?}", notes.known);
        });
    }
}
