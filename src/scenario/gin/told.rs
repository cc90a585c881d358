//! What reading a gin file gives, and its section on the ticket.

use super::measure::AFLATOXIN;
use crate::diagnostic::{Diagnostic, Span};
use crate::gin::Gin;
use crate::gin::ticket::{Sprayed, Ticket};
use crate::gin::weeks::later;
use crate::scenario::code::Code;
use crate::scenario::fields::{Fields, Notes};
use crate::scenario::node::{Entry, Kind};
use crate::scenario::values::date;
use jiff::civil::Date;

/// Days before the season's first bale from which a test may be: a region's season begins on a mean day. Judgement.
const EARLY_DAYS: i64 = 10;

/// What is told of one file.
#[derive(Debug, Clone, PartialEq)]
pub struct Told {
    /// Name of the file.
    pub file: String,
    /// What was read of it.
    pub text: String,
    /// Errors and warnings, in the order of the file.
    pub list: Vec<Diagnostic>,
}

/// What reading gives.
#[derive(Debug, Clone, PartialEq)]
pub struct GinRead {
    /// The gin, if nothing is wrong with any of the files.
    pub gin: Option<Gin>,
    /// What is told, the gin file first, then the herds in their order.
    pub told: Vec<Told>,
}

/// Reads `ticket`.
pub(super) fn ticket(entry: Option<&Entry>, days: Option<(Date, Date)>, notes: &mut Notes) -> Option<Ticket> {
    let Some(entry) = entry else { return Some(Ticket::default()) };
    let mut fields = Fields::open(&entry.value, "`ticket`", entry.key_span.clone(), notes)?;
    let sprayed = match fields.entry("sprayed") {
        None => None,
        Some(list) => Some(sprayed(list, days, notes)?),
    };
    let wrap_off = fields.flag("wrap_off", notes);
    let no_treated_seed = fields.flag("no_treated_seed", notes);
    let weighed = fields.flag("weighed", notes);
    let aflatoxin = fields.entry("aflatoxin").and_then(|entry| {
        let mut each = Fields::open(&entry.value, "`aflatoxin`", entry.key_span.clone(), notes)?;
        let ppb = each.number_required(&AFLATOXIN, "5", notes);
        let on = each.date("tested", notes);
        each.close(notes);
        dated(entry, days, notes);
        Some((ppb?, on))
    });
    fields.close(notes);
    Some(Ticket { sprayed, wrap_off, aflatoxin, no_treated_seed, weighed })
}

/// Judges `tested` of a gin's own test: not after the season, nor from before its first bale.
pub(super) fn dated(entry: &Entry, days: Option<(Date, Date)>, notes: &mut Notes) {
    let before = notes.list.len();
    crate::scenario::plausible::dated(entry, days, "season", notes);
    let (Some((first, _)), Kind::Map(entries)) = (days, &entry.value.kind) else { return };
    let Some(each) = entries.iter().find(|each| each.key == "tested") else { return };
    // What is wrong with its form was told where it was read.
    let Some(day) = date("tested", &each.value, &mut Notes::default()) else { return };
    if notes.list.len() == before && day < later(first, -EARLY_DAYS) {
        notes.push(
            Code::TestDate
                .warning(format!("a test of {day} is from before this season's first bale ({first})"))
                .at(each.place(), "of last season?")
                .because("it would pass on the slip as a test of what is sold now, and each crop differs")
                .help("test this season's, or correct the date"),
        );
    }
}

/// Judges the day of a spraying: between the new year of the harvest and the end of what is sold of it.
fn sprayed_on(at: Span, day: Date, days: Option<(Date, Date)>, notes: &mut Notes) {
    let Some((first, last)) = days else { return };
    if day.year() < first.year() || day > last {
        notes.push(
            Code::TestDate
                .warning(format!("what was sprayed on {day} was not sprayed on the crop of {}", first.year()))
                .at(at, "another crop?")
                .because("it would pass on the slip as sprayed on what is sold now")
                .help("correct the date, or delete the line if it was on another crop"),
        );
    }
}

fn sprayed(entry: &Entry, days: Option<(Date, Date)>, notes: &mut Notes) -> Option<Vec<Sprayed>> {
    let items = match &entry.value.kind {
        Kind::Null => return Some(Vec::new()),
        Kind::List(items) => items,
        _ => {
            notes.push(
                Code::WrongShape
                    .error(format!("`sprayed` is {}, not a list", entry.value.describe()))
                    .at(entry.place(), "a list belongs here")
                    .help("write one line for each, such as `- {what: ethephon, on: 2026-09-25, told_by: field 12}`; `[]` if nothing"),
            );
            return None;
        }
    };
    let each = items.iter().map(|item| {
        let mut fields = Fields::open(item, "a line of `sprayed`", item.place(), notes)?;
        let what = fields.required("what", "ethephon", notes);
        let what = what.and_then(|_| fields.text("what", notes)).map(str::to_owned);
        let on = fields.date("on", notes);
        if let (Some(day), Some(at)) = (on, fields.entry("on").map(Entry::place)) {
            sprayed_on(at, day, days, notes);
        }
        let told_by = fields.text("told_by", notes).map(str::to_owned);
        fields.close(notes);
        Some(Sprayed { what: what?, on, told_by })
    });
    each.collect::<Vec<_>>().into_iter().collect()
}
