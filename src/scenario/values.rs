//! Single values: numbers in their units, dates, words and names, each checked as it is read.

use super::code::Code;
use super::fields::Notes;
use super::measure::{Unit, figure, rounded};
use super::near;
use super::node::{Entry, Kind, Node};
use crate::diagnostic::Span;
use jiff::civil::Date;

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
    let mut help = format!("write a value from {} to {}", rounded(low_out, f64::ceil), rounded(high_out, f64::floor));
    for shift in [10.0, 100.0, 1000.0] {
        // Days and head are counted: their points do not slip.
        if !matches!(unit.words, "days")
            && unit.key != "head"
            && value > high_out
            && value / shift >= low_out
            && value / shift <= high_out
            && low_out >= 0.0
        {
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
            .error(if name.is_empty() {
                format!("a {what} has no name")
            } else {
                format!("`{}` cannot be the name of a {what}", shortened(name))
            })
            .at(entry.key_span.clone(), "1 to 40 characters in one line")
            .help("write a short name, such as `cows`"),
    );
    None
}
