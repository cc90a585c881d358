//! Judging what is written in the table files: ranges, origins, sources, names.

use super::bibliography::Bibliography;
use super::raw::{RawDefault, RawFigure, RawFull, RawOther};
use super::{FeedClass, Figure, OtherFigure};
use crate::diagnostic::Diagnostic;
use crate::source::Origin;

/// Up to `most` of the words that are likely meant by `name`, the likeliest first.
///
/// A word is likely if it is spelled alike, or if it holds every part of the name (`hay bermuda`).
pub(super) fn nearest<'a>(name: &str, words: impl Iterator<Item = &'a str>, most: usize) -> Vec<&'a str> {
    let name = name.trim().to_lowercase().replace([' ', '-'], "_");
    let parts: Vec<&str> = name.split('_').filter(|part| part.len() > 2).collect();
    let mut scored: Vec<(f64, &str)> = words
        .map(|word| {
            let held = !parts.is_empty() && parts.iter().all(|part| word.contains(part));
            (strsim::jaro_winkler(&name, word) + if held { 1.0 } else { 0.0 }, word)
        })
        .filter(|(score, _)| *score > 0.8)
        .collect();
    scored.sort_by(|(a, _), (b, _)| b.total_cmp(a));
    scored.into_iter().take(most).map(|(_, word)| word).collect()
}

/// Turns written figures into judged ones and gathers everything that is wrong.
pub(super) struct Judge<'a> {
    bibliography: &'a Bibliography,
    pub(super) found: Vec<Diagnostic>,
}

impl<'a> Judge<'a> {
    pub(super) fn new(bibliography: &'a Bibliography) -> Self {
        Self { bibliography, found: Vec::new() }
    }

    pub(super) fn error(&mut self, code: &'static str, message: impl Into<String>) {
        self.found.push(Diagnostic::error(code, message));
    }

    pub(super) fn class(&mut self, at: &str, key: &str) -> Option<FeedClass> {
        let class = FeedClass::from_key(key);
        if class.is_none() {
            let near = nearest(key, FeedClass::ALL.into_iter().map(FeedClass::key), 1);
            let help = near.first().map_or_else(
                || format!("one of: {}", FeedClass::ALL.map(FeedClass::key).join(", ")),
                |near| format!("did you mean {near}?"),
            );
            self.found.push(Diagnostic::error("F003", format!("{at} has an unknown class: {key}")).help(help));
        }
        class
    }

    pub(super) fn figure(&mut self, at: &str, raw: RawFigure, default: &RawDefault, most: f64, unit: &str) -> Figure {
        let RawFull { mean, sd, sd_origin, origin, source, place, low, also } = raw.0;
        self.range(at, mean, most, unit);
        if let Some(sd) = sd {
            self.range(&format!("{at}: sd"), sd, most, unit);
        }
        let sd_origin = if sd.is_some() { sd_origin.or(default.sd_origin) } else { None };
        if sd.is_some() && sd_origin.is_none() {
            self.found.push(Diagnostic::error("F008", format!("{at} has an sd without sd_origin")));
        }
        // A figure has an origin of its own, source and place with it, or takes all three from the default.
        let (origin, source, place) = match origin {
            Some(origin) => (Some(origin), source, place),
            None => {
                (default.origin, source.or_else(|| default.source.clone()), place.or_else(|| default.place.clone()))
            }
        };
        let origin = origin.unwrap_or_else(|| {
            self.found.push(
                Diagnostic::error("F008", format!("{at} has no origin"))
                    .help("write origin: published, abstract, computed, memory, common_practice or judgement"),
            );
            Origin::Judgement
        });
        self.source(at, origin, source.as_deref());
        let low = low.map(|low| self.other(&format!("{at}: low"), low, most, unit));
        let also = also.into_iter().map(|other| self.other(&format!("{at}: also"), other, most, unit)).collect();
        Figure { mean, sd, sd_origin, origin, source, place, low, also }
    }

    pub(super) fn other(&mut self, at: &str, raw: RawOther, most: f64, unit: &str) -> OtherFigure {
        let (from, to) = match (raw.value, raw.from, raw.to) {
            (Some(value), None, None) => (value, value),
            (None, Some(from), Some(to)) if from <= to => (from, to),
            _ => {
                self.found.push(Diagnostic::error("F006", format!("{at} needs value, or from and to in that order")));
                (0.0, 0.0)
            }
        };
        self.range(at, from, most, unit);
        self.range(at, to, most, unit);
        self.source(at, raw.origin, raw.source.as_deref());
        OtherFigure { from, to, origin: raw.origin, source: raw.source, place: raw.place }
    }

    pub(super) fn range(&mut self, at: &str, value: f64, most: f64, unit: &str) {
        if !(0.0..=most).contains(&value) {
            self.found.push(
                Diagnostic::error("F006", format!("{at} is {value} {unit}"))
                    .because(format!("it must lie between 0 and {most} {unit}")),
            );
        }
    }

    pub(super) fn source(&mut self, at: &str, origin: Origin, source: Option<&str>) {
        match source {
            Some(key) if !self.bibliography.contains(key) => {
                let near = nearest(key, self.bibliography.iter().map(|(key, _)| key), 1);
                let help = near.first().map_or_else(
                    || "add it to feeds/sources.yaml".to_owned(),
                    |near| format!("did you mean {near}? Otherwise add it to feeds/sources.yaml"),
                );
                let message = format!("{at} names a source that is not in the bibliography: {key}");
                self.found.push(Diagnostic::error("F005", message).help(help));
            }
            None if matches!(origin, Origin::Published | Origin::Abstract) => {
                self.found.push(Diagnostic::error("F008", format!("{at} is published but names no source")));
            }
            _ => {}
        }
    }
}
