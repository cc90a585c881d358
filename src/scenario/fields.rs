//! Reading the entries of one map: typed, with every fault noted and none of them ending the reading.

use super::code::Code;
use super::measure::{Measure, Unit, figure, rounded};
use super::near;
use super::node::{Entry, Kind, Node};
use crate::diagnostic::{Diagnostic, Span};
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

    /// Whether any of the keys of a quantity is there.
    pub(crate) fn has(&self, measure: &Measure) -> bool {
        self.entries.iter().any(|entry| {
            measure.units.iter().any(|unit| unit.key == entry.key || lacks_unit(&entry.key, unit.key))
        })
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
        let with_unit: Vec<&str> = self.known.iter().copied().filter(|known| lacks_unit(key, known)).collect();
        if let Some(names) = near::list(with_unit.iter().copied()) {
            return Code::NoUnit
                .error(format!("`{key}` has no unit"))
                .at(entry.key_span.clone(), "the unit belongs in the key")
                .help(format!("write {}", names.replace(", ", " or ")));
        }
        let error = Code::UnknownKey
            .error(format!("{} has no key `{}`", self.what, shortened(key)))
            .at(entry.key_span.clone(), "not known here");
        match near::advice(key, self.known.iter().copied()) {
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

/// A word from the file for a message: not longer than a line.
pub(crate) fn shortened(text: &str) -> String {
    const MOST: usize = 40;
    let line: String = text.chars().take(MOST).map(|c| if c.is_control() { ' ' } else { c }).collect();
    if text.chars().count() > MOST { format!("{line}…") } else { line }
}

/// The entries of a map; an error if it is none.
pub(crate) fn map<'n>(node: &'n Node, what: &str, place: &Span, notes: &mut Notes) -> Option<&'n [Entry]> {
    match &node.kind {
        Kind::Map(entries) => Some(entries),
        Kind::Broken => None,
        _ => {
            notes.push(
                Code::WrongShape
                    .error(format!("{what} is {}, not `key: value` lines", node.describe()))
                    .at(if node.span.is_empty() { place.clone() } else { node.place() }, "a map belongs here")
                    .help("write `key: value` lines under it, each two spaces farther in"),
            );
            None
        }
    }
}

/// The entries of a map that must not be empty but may be written as nothing at all.
pub(crate) fn map_or_nothing<'n>(entry: &'n Entry, what: &str, notes: &mut Notes) -> Option<&'n [Entry]> {
    match entry.value.kind {
        Kind::Null => Some(&[]),
        _ => map(&entry.value, what, &entry.key_span, notes),
    }
}

/// The text of a single value and whether it is quoted; an error if it is none.
pub(crate) fn scalar<'n>(key: &str, node: &'n Node, expected: &str, notes: &mut Notes) -> Option<(&'n str, bool)> {
    match &node.kind {
        Kind::Scalar { text, quoted } => Some((text, *quoted)),
        Kind::Broken => None,
        _ => {
            notes.push(
                Code::WrongShape
                    .error(format!("`{}` is {}, not {expected}", shortened(key), node.describe()))
                    .at(node.place(), format!("{expected} belongs here"))
                    .help(format!("write {expected} after the colon, or delete the line")),
            );
            None
        }
    }
}

/// A figure in a unit, as the unit inside; errors where it is none or outside the range.
pub(crate) fn quantity(key: &str, node: &Node, unit: &Unit, range: (f64, f64), notes: &mut Notes) -> Option<f64> {
    let value = number(key, node, notes)?;
    let inside = (unit.inward)(value);
    let (low, high) = range;
    // A bound itself is allowed in every unit, whatever the conversion rounds.
    let slack = 1e-9 * (1.0 + inside.abs());
    if inside >= low - slack && inside <= high + slack {
        return Some(inside);
    }
    let (low_out, high_out) = ((unit.outward)(low), (unit.outward)(high));
    let mut help = format!("write a value from {} to {}", rounded(low_out), rounded(high_out));
    for shift in [10.0, 100.0, 1000.0] {
        // Days and head are counted: their points do not slip.
        if !matches!(unit.words, "days") && unit.key != "head" && value > high_out && value / shift >= low_out && value / shift <= high_out && low_out >= 0.0 {
            help = format!("{help}; {} if the point slipped", figure(value / shift));
            break;
        }
    }
    notes.push(
        Code::OutOfRange
            .error(format!("`{}` cannot be {} {}", shortened(key), figure(value), unit.words).trim_end())
            .at(node.place(), if inside < low { "too small" } else { "too large" })
            .help(help),
    );
    None
}

/// A finite number.
pub(crate) fn number(key: &str, node: &Node, notes: &mut Notes) -> Option<f64> {
    let (text, quoted) = scalar(key, node, "a number", notes)?;
    let parsed = text.trim().parse::<f64>().ok();
    if let Some(value) = parsed.filter(|value| value.is_finite() && !quoted) {
        return Some(value);
    }
    let bare = text.trim_start_matches(['+', '-', '.']).to_ascii_lowercase();
    let endless = parsed.is_some_and(|value| !value.is_finite()) || matches!(bare.as_str(), "nan" | "inf");
    if endless && !quoted {
        notes.push(
            Code::NotFinite
                .error(format!("`{}` is not a finite number", shortened(key)))
                .at(node.place(), "no scale shows this")
                .help("write a figure, or delete the line if there is no bound"),
        );
        return None;
    }
    if quoted && parsed.is_some_and(f64::is_finite) {
        notes.push(
            Code::NotNumber
                .error(format!("`{}` is text in quotation marks, not a number", shortened(key)))
                .at(node.place(), "a number belongs here")
                .help(format!("write it without them: `{}`", shortened(text.trim()))),
        );
        return None;
    }
    let error = Code::NotNumber
        .error(format!("`{}` is not a number: `{}`", shortened(key), shortened(text)))
        .at(node.place(), "a number belongs here");
    notes.push(match bare_figure(text) {
        Some(figure) => error.help(format!("write the figure alone: `{figure}`; the unit is in the key")),
        None => error.help("write a plain figure, such as `12` or `0.5`"),
    });
    None
}

/// The figure in a text with commas, a unit, a currency sign or quotes around it.
fn bare_figure(text: &str) -> Option<String> {
    let digits: String = text
        .chars()
        .skip_while(|c| !c.is_ascii_digit() && *c != '-')
        .take_while(|c| c.is_ascii_digit() || matches!(c, '.' | ',' | '_' | '-'))
        .filter(|c| !matches!(c, ',' | '_'))
        .collect();
    let digits = digits.trim_end_matches(['.', '-']);
    (digits.len() <= 12 && digits.parse::<f64>().is_ok_and(f64::is_finite)).then(|| digits.to_owned())
}

/// A date in the form `2026-11-15`, from 1990 to 2100.
pub(crate) fn date(key: &str, node: &Node, notes: &mut Notes) -> Option<Date> {
    let (text, _) = scalar(key, node, "a date", notes)?;
    let form = text.len() == 10
        && text.bytes().enumerate().all(|(i, b)| if i == 4 || i == 7 { b == b'-' } else { b.is_ascii_digit() });
    let parsed = if form { text.parse::<Date>().ok() } else { None };
    if let Some(day) = parsed.filter(|day| (1990..=2100).contains(&day.year())) {
        return Some(day);
    }
    let error = Code::NotDate.error(format!("`{}` is not a date: `{}`", shortened(key), shortened(text)));
    notes.push(if parsed.is_some() {
        error.at(node.place(), "a year from 1990 to 2100 is expected").help("correct the year")
    } else if form {
        error.at(node.place(), "there is no such day").help("correct the month or the day")
    } else {
        let help = match american(text) {
            Some(day) => format!("write `{day}` (year-month-day)"),
            None => "write year-month-day, such as `2026-11-15`".to_owned(),
        };
        error.at(node.place(), "year-month-day is expected").help(help)
    });
    None
}

/// `11/15/2026` as a date, month first.
fn american(text: &str) -> Option<Date> {
    let mut parts = text.split('/').map(str::trim);
    let month: i8 = parts.next()?.parse().ok()?;
    let day: i8 = parts.next()?.parse().ok()?;
    let year: i16 = parts.next()?.parse().ok()?;
    let year = if (0..100).contains(&year) { year + 2000 } else { year };
    Date::new(year, month, day).ok().filter(|_| parts.next().is_none())
}

/// One of a few words.
pub(crate) fn choice<T: Copy>(key: &str, node: &Node, words: &[(&str, T)], notes: &mut Notes) -> Option<T> {
    let (text, _) = scalar(key, node, "a word", notes)?;
    if let Some((_, value)) = words.iter().find(|(word, _)| *word == text) {
        return Some(*value);
    }
    let names = words.iter().map(|(word, _)| *word);
    let error = Code::NotChoice
        .error(format!("`{}` cannot be `{}`", shortened(key), shortened(text)))
        .at(node.place(), "not one of its words");
    let all = near::list(names.clone()).unwrap_or_default();
    notes.push(match near::nearest(text, names) {
        Some(name) => error.help(format!("did you mean `{name}`? It can be {all}")),
        None => error.help(format!("it can be {all}")),
    });
    None
}

/// A name of a group or feed; an error if it cannot stand in a table.
pub(crate) fn name(entry: &Entry, what: &str, notes: &mut Notes) -> Option<String> {
    let name = entry.key.trim();
    if !name.is_empty() && name.chars().count() <= 40 && !name.chars().any(char::is_control) {
        return Some(name.to_owned());
    }
    notes.push(
        Code::BadName
            .error(format!("`{}` cannot be the name of a {what}", shortened(name)))
            .at(entry.key_span.clone(), "1 to 40 characters in one line")
            .help("write a short name, such as `cows`"),
    );
    None
}
