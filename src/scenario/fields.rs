//! Reading the entries of one map: typed, with every fault noted and none of them ending the reading.

use super::code::Code;
use super::measure::{Measure, Unit, figure};
use super::near;
use super::node::{Entry, Node};
use super::values::{choice, date, map, quantity, scalar, shortened};
use crate::diagnostic::{Diagnostic, Span};
use indexmap::IndexSet;
use jiff::civil::Date;
use std::collections::BTreeSet;

/// What was found wrong so far.
#[derive(Debug, Default)]
pub(crate) struct Notes {
    /// Errors and warnings in the order found.
    pub(crate) list: Vec<Diagnostic>,
    /// Every key that was asked for, so that the docs can be held to the reader.
    pub(crate) known: BTreeSet<&'static str>,
}

impl Notes {
    /// Notes an error or a warning.
    pub(crate) fn push(&mut self, diagnostic: Diagnostic) {
        self.list.push(diagnostic);
    }
}

/// The entries of one map, of which some have been asked for.
pub(crate) struct Fields<'n> {
    /// What the map is, for messages: ``group `cows` ``.
    what: String,
    entries: &'n [Entry],
    place: Span,
    known: Vec<&'static str>,
}

impl<'n> Fields<'n> {
    /// Opens a map; an error if it is none. `place` is where to point when something is missing in it.
    pub(crate) fn open(node: &'n Node, what: impl Into<String>, place: Span, notes: &mut Notes) -> Option<Self> {
        let what = what.into();
        let entries = map(node, &what, &place, notes)?;
        Some(Self { what, entries, place, known: Vec::new() })
    }

    /// What the map is, for messages.
    pub(crate) fn what(&self) -> &str {
        &self.what
    }
    /// Where to point when something is missing.
    pub(crate) fn place(&self) -> Span {
        self.place.clone()
    }

    /// The entry of a key that has a value.
    pub(crate) fn entry(&mut self, key: &'static str) -> Option<&'n Entry> {
        self.known.push(key);
        self.entries.iter().find(|entry| entry.key == key)
    }

    /// The entry of a key that must be there.
    pub(crate) fn required(&mut self, key: &'static str, example: &str, notes: &mut Notes) -> Option<&'n Entry> {
        let entry = self.entry(key);
        if entry.is_none() && !self.unitless(key) {
            notes.push(self.missing(key, example));
        }
        entry
    }

    /// The error for a key that is not there.
    pub(crate) fn missing(&self, key: &str, example: &str) -> Diagnostic {
        Code::MissingKey
            .error(format!("{} has no `{key}`", self.what))
            .at(self.place(), format!("`{key}` is missing"))
            .help(format!("add a line such as `{key}: {example}`"))
    }

    /// Whether the key without its unit stands here: that error is told once, by [`Self::close`].
    fn unitless(&self, key: &str) -> bool {
        self.entries.iter().any(|entry| lacks_unit(&entry.key, key))
    }

    /// Whether a key is there.
    pub(crate) fn present(&self, key: &str) -> bool {
        self.entries.iter().any(|entry| entry.key == key)
    }

    /// Whether any of the keys of a quantity is there.
    pub(crate) fn has(&self, measure: &Measure) -> bool {
        self.entries
            .iter()
            .any(|entry| measure.units.iter().any(|unit| unit.key == entry.key || lacks_unit(&entry.key, unit.key)))
    }

    /// The entry of a quantity in the one unit it is given in.
    pub(crate) fn measured<'m>(&mut self, measure: &'m Measure, notes: &mut Notes) -> Option<(&'n Entry, &'m Unit)> {
        let mut found: Option<(&'n Entry, &'m Unit)> = None;
        for unit in measure.units {
            let Some(entry) = self.entry(unit.key) else { continue };
            if let Some((first, _)) = found {
                notes.push(
                    Code::TwiceGiven
                        .error(format!("`{}` and `{}` are the same quantity", first.key, entry.key))
                        .at(entry.key_span.clone(), "again in another unit")
                        .and_at(first.key_span.clone(), "first here")
                        .help("keep one of the two"),
                );
                return None;
            }
            found = Some((entry, unit));
        }
        found
    }

    /// A quantity, in the unit inside, if it is there and right.
    pub(crate) fn number(&mut self, measure: &Measure, notes: &mut Notes) -> Option<f64> {
        let (entry, unit) = self.measured(measure, notes)?;
        quantity(&entry.key, &entry.value, unit, measure.range, notes)
    }

    /// A quantity that must be there.
    pub(crate) fn number_required(&mut self, measure: &Measure, example: &str, notes: &mut Notes) -> Option<f64> {
        let value = self.number(measure, notes);
        if value.is_none() && !self.has(measure) {
            notes.push(self.missing(measure.key(), example));
        }
        value
    }

    /// A whole number.
    pub(crate) fn whole(&mut self, measure: &Measure, example: &str, notes: &mut Notes) -> Option<u32> {
        let value = self.number_required(measure, example, notes)?;
        if value.fract() != 0.0 {
            let entry = self.entry(measure.key())?;
            notes.push(
                Code::NotWhole
                    .error(format!("`{}` is not a whole number", measure.key()))
                    .at(entry.place(), format!("{} cannot be counted", figure(value)))
                    .help(format!("write `{}: {}`", measure.key(), figure(value.round()))),
            );
            return None;
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "whole and inside its range")]
        Some(value as u32)
    }

    /// A date.
    pub(crate) fn date(&mut self, key: &'static str, notes: &mut Notes) -> Option<Date> {
        let entry = self.entry(key)?;
        date(key, &entry.value, notes)
    }

    /// A date that must be there.
    pub(crate) fn date_required(&mut self, key: &'static str, example: &str, notes: &mut Notes) -> Option<Date> {
        let entry = self.required(key, example, notes)?;
        date(key, &entry.value, notes)
    }

    /// One of a few words.
    pub(crate) fn choice<T: Copy>(&mut self, key: &'static str, words: &[(&str, T)], notes: &mut Notes) -> Option<T> {
        let entry = self.entry(key)?;
        choice(key, &entry.value, words, notes)
    }

    /// Yes or no, in any of the words for it.
    pub(crate) fn flag(&mut self, key: &'static str, notes: &mut Notes) -> Option<bool> {
        const WORDS: [(&str, bool); 6] =
            [("true", true), ("false", false), ("on", true), ("off", false), ("yes", true), ("no", false)];
        self.choice(key, &WORDS, notes)
    }

    /// A text in one value.
    pub(crate) fn text(&mut self, key: &'static str, notes: &mut Notes) -> Option<&'n str> {
        let entry = self.entry(key)?;
        scalar(key, &entry.value, "a few words", notes).map(|(text, _)| text)
    }

    /// Reports every key that was not asked for.
    pub(crate) fn close(self, notes: &mut Notes) {
        for entry in self.entries {
            if !self.known.contains(&entry.key.as_str()) {
                notes.push(self.unknown(entry));
            }
        }
        notes.known.extend(self.known);
    }

    fn unknown(&self, entry: &Entry) -> Diagnostic {
        let key = &entry.key;
        // In the order they were asked for, each once.
        let with_unit: IndexSet<&str> = self.known.iter().copied().filter(|known| lacks_unit(key, known)).collect();
        if let Some(names) = near::list(with_unit.iter().copied()) {
            return Code::NoUnit
                .error(format!("`{key}` has no unit"))
                .at(entry.key_span.clone(), "the unit belongs in the key")
                .help(format!("write {}", names.replace(", ", " or ")));
        }
        let error = Code::UnknownKey
            .error(format!("{} has no key `{}`", self.what, shortened(key)))
            .at(entry.key_span.clone(), "not known here");
        let known: IndexSet<&str> = self.known.iter().copied().collect();
        match near::advice(key, known.iter().copied()) {
            Some(help) => error.help(help),
            None => error,
        }
    }
}

/// Whether `key` is `full` without its unit: `weight` for `weight_lb`, `price` for `price_usd_per_ton`.
fn lacks_unit(key: &str, full: &str) -> bool {
    const UNITS: [&str; 12] = ["lb", "kg", "oz", "g", "usd", "tons", "metric", "f", "c", "mph", "kmh", "pct"];
    full.strip_prefix(key)
        .and_then(|rest| rest.strip_prefix('_'))
        .is_some_and(|unit| UNITS.contains(&unit.split('_').next().unwrap_or("")))
}
