//! The winter: first day fed, turn-out day, and the periods between.

use super::code::Code;
use super::fields::{Fields, Notes};
use super::near;
use super::node::{Entry, Kind, Node};
use super::values::{date, scalar};
use crate::diagnostic::Span;
use crate::herd::Period;
use jiff::ToSpan;
use jiff::civil::Date;

/// Longest winter, days.
const LONGEST_DAYS: i32 = 400;
/// Most periods.
pub(crate) const MOST_PERIODS: usize = 60;

/// The winter with its periods.
#[derive(Debug, Clone)]
pub(crate) struct Winter {
    /// First day fed.
    pub(crate) from: Date,
    /// The day after the last.
    pub(crate) to: Date,
    /// The bytes of `from` and `to`, to point at.
    pub(crate) span: Span,
    /// Periods in order, without gaps.
    pub(crate) periods: Vec<Period>,
}

impl Winter {
    /// Days from its first day to `day`; below 0 before it.
    pub(crate) fn days_in(&self, day: Date) -> i32 {
        days_between(self.from, day)
    }
    /// Days from its end to `day`; below 0 before it.
    pub(crate) fn days_past(&self, day: Date) -> i32 {
        days_between(self.to, day)
    }
}

/// Days from one date to another.
pub(crate) fn days_between(from: Date, to: Date) -> i32 {
    from.until(to).map_or(0, |span| span.get_days())
}

/// How the winter is cut.
#[derive(Clone, Copy)]
pub(crate) enum Cut {
    Months,
    HalfMonths,
    Weeks,
}

/// Words for the ways of cutting a winter.
pub(crate) const CUTS: [(&str, Cut); 3] =
    [("months", Cut::Months), ("half-months", Cut::HalfMonths), ("weeks", Cut::Weeks)];

/// Reads `winter:`.
pub(crate) fn read(entry: &Entry, notes: &mut Notes) -> Option<Winter> {
    let mut fields = Fields::open(&entry.value, "`winter`", entry.key_span.clone(), notes)?;
    let from = fields.date_required("from", "2026-11-15", notes);
    let to = fields.date_required("to", "2027-04-01", notes);
    let to_span = fields.entry("to").map_or(entry.key_span.clone(), Entry::place);
    let periods = fields.entry("periods");
    fields.close(notes);
    let (from, to) = (from?, to?);
    let days = days_between(from, to);
    if days < 1 {
        notes.push(
            Code::WinterOrder
                .error(format!("the winter ends on {to}, before or on its first day {from}"))
                .at(to_span, "the day after the last day fed")
                .help("write a `to` later than `from`; check the years"),
        );
        return None;
    }
    if days > LONGEST_DAYS {
        notes.push(
            Code::WinterLength
                .error(format!("the winter is {days} days long, more than {LONGEST_DAYS}"))
                .at(to_span, "too far from the first day")
                .help("check the years"),
        );
        return None;
    }
    let (starts, labels) = starts(periods, from, to, notes)?;
    if starts.len() > MOST_PERIODS {
        notes.push(
            Code::TooManyPeriods
                .error(format!("the winter is cut into {} periods, more than {MOST_PERIODS}", starts.len()))
                .at(periods.map_or(entry.key_span.clone(), Entry::place), "too finely cut")
                .help("write `periods: months`, or a shorter list of dates"),
        );
        return None;
    }
    let ends = starts.iter().skip(1).copied().chain([to]);
    let periods = starts
        .iter()
        .zip(ends)
        .map(|(start, end)| Period {
            label: match labels {
                Labels::Month => start.strftime("%Y-%m").to_string(),
                Labels::Day => start.to_string(),
            },
            from: *start,
            to: end,
        })
        .collect();
    Some(Winter { from, to, span: to_span, periods })
}

impl Winter {
    /// Cuts the periods at some days, so that a feed that comes or ends inside a period is had in whole ones. The first
    /// part keeps its label; the others are called by their first day. Parts shorter than `least_days` are not made.
    pub(crate) fn cut(&mut self, days: &[Date], least_days: i32) {
        for day in days {
            let near = |edge: Date| days_between(edge, *day).abs() < least_days;
            if self.periods.iter().any(|period| near(period.from) || near(period.to)) {
                continue;
            }
            let Some(index) = self.periods.iter().position(|period| period.from < *day && *day < period.to) else {
                continue;
            };
            let rest = Period { label: day.to_string(), from: *day, to: self.periods[index].to };
            self.periods[index].to = *day;
            self.periods.insert(index + 1, rest);
        }
    }
}

/// What a period is called.
#[derive(Clone, Copy)]
enum Labels {
    Month,
    Day,
}

/// First days of the periods.
fn starts(entry: Option<&Entry>, from: Date, to: Date, notes: &mut Notes) -> Option<(Vec<Date>, Labels)> {
    let cut = match entry.map(|entry| (entry, &entry.value.kind)) {
        None => Cut::Months,
        Some((_, Kind::List(items))) => return dates(items, from, to, notes).map(|list| (list, Labels::Day)),
        Some((entry, _)) => {
            let (text, _) = scalar("periods", &entry.value, "a word or a list of dates", notes)?;
            let found = CUTS.iter().find(|(word, _)| *word == text.replace('_', "-"));
            let Some((_, cut)) = found else {
                let words = CUTS.iter().map(|(word, _)| *word);
                let near = near::nearest(text, words).map(|word| format!("did you mean `{word}`? It"));
                notes.push(
                    Code::NotChoice
                        .error(format!("`periods` cannot be `{}`", super::values::shortened(text)))
                        .at(entry.place(), "not one of its words")
                        .help(format!(
                            "{} can be `months`, `half-months`, `weeks` or a list of first days",
                            near.unwrap_or_else(|| "it".to_owned())
                        )),
                );
                return None;
            };
            *cut
        }
    };
    let labels = if matches!(cut, Cut::Months) { Labels::Month } else { Labels::Day };
    let mut list = vec![from];
    let mut day = from;
    for _ in 0..LONGEST_DAYS {
        let Some(next) = day.checked_add(1.day()).ok().filter(|next| *next < to) else { break };
        day = next;
        let begins = match cut {
            Cut::Months => day.day() == 1,
            Cut::HalfMonths => day.day() == 1 || day.day() == 16,
            Cut::Weeks => days_between(from, day) % 7 == 0,
        };
        if begins {
            list.push(day);
        }
    }
    Some((list, labels))
}

/// A list of first days; the first day of the winter comes first whether written or not.
fn dates(items: &[Node], from: Date, to: Date, notes: &mut Notes) -> Option<Vec<Date>> {
    let mut list = vec![from];
    let mut right = true;
    for (index, item) in items.iter().enumerate() {
        let Some(day) = date("periods", item, notes) else {
            right = false;
            continue;
        };
        let first = index == 0 && day == from;
        let last = list.last().copied().unwrap_or(from);
        if first {
            continue;
        }
        if day <= last || day >= to {
            let words = if day < from || day >= to { "outside the winter" } else { "not after the one before it" };
            notes.push(
                Code::PeriodDates
                    .error(format!("the period of {day} is {words}"))
                    .at(item.place(), words)
                    .help(format!("list first days in order, from {from} on and before {to}")),
            );
            right = false;
        } else {
            list.push(day);
        }
    }
    right.then_some(list)
}
