//! How a feed is put before cattle: at will or by hand, for all groups or by group, and how often.

use super::amounts::known_group;
use super::code::Code;
use super::fields::{Fields, Notes};
use super::measure::{BUCKET, EVERY_DAYS, LABOR, TIMES_PER_WEEK};
use super::node::{Entry, Kind};
use super::values::choice;
use crate::diagnostic::Diagnostic;
use crate::feed::offer::{SEED_DAYS_APART, most_days_apart};
use crate::feed::{FedHow, Feed, FeedClass, Feeding};
use indexmap::IndexMap;

/// Words for the way of feeding.
pub(crate) const WORDS: [(&str, FedHow); 2] = [("by_hand", FedHow::ByHand), ("free_choice", FedHow::FreeChoice)];

/// The way of feeding, and where it differs, by group.
#[derive(Debug, Default)]
pub(crate) struct Ways {
    /// For every group that is not named.
    pub(crate) all: FedHow,
    /// By group name.
    pub(crate) by_group: IndexMap<String, FedHow>,
}

/// Reads `fed`.
pub(crate) fn ways(
    fields: &mut Fields<'_>,
    class: Option<FeedClass>,
    groups: Option<&[String]>,
    notes: &mut Notes,
) -> Ways {
    // Whatever is grazed where it stands is eaten at will.
    let grazed = class.is_some_and(FeedClass::is_grazed);
    let usual = if grazed { FedHow::FreeChoice } else { FedHow::ByHand };
    let mut ways = Ways { all: usual, by_group: IndexMap::new() };
    let Some(entry) = fields.entry("fed") else { return ways };
    if let Kind::Map(entries) = &entry.value.kind {
        for each in entries {
            known_group(each, groups, notes);
            if let Some(way) = choice(&each.key, &each.value, &WORDS, notes) {
                ways.by_group.insert(each.key.trim().to_owned(), way);
            }
        }
    } else if let Some(way) = choice("fed", &entry.value, &WORDS, notes) {
        ways.all = way;
    }
    let at_will = ways.all == FedHow::FreeChoice || ways.by_group.values().any(|way| *way == FedHow::FreeChoice);
    if let Some(class) = class
        && at_will
        && !class.is_roughage()
        && !class.is_mineral()
    {
        notes.push(
            Code::FreeChoice
                .warning(format!("{} is not a roughage and is put out free choice", fields.what()))
                .at(entry.place(), "eaten at will")
                .because("cattle eat concentrates at will past what is good for them, and intake cannot be foreseen")
                .help("write `fed: by_hand` and let the plan set the amount"),
        );
    }
    ways
}

/// Reads `every_days` or `times_per_week`, `labor_usd_per_feeding` and `bucket_lb`.
pub(crate) fn often(fields: &mut Fields<'_>, feed: Option<&Feed>, notes: &mut Notes) -> Feeding {
    let every = fields.number(&EVERY_DAYS, notes);
    let times = fields.number(&TIMES_PER_WEEK, notes).map(|times| 7.0 / times);
    let (first, second) = (fields.entry(EVERY_DAYS.key()), fields.entry(TIMES_PER_WEEK.key()));
    if let (Some(first), Some(second)) = (first, second) {
        notes.push(super::groups::exclusive(first, second));
    }
    let usd_per_feeding = fields.number(&LABOR, notes);
    let bucket_lb = fields.number(&BUCKET, notes);
    let mut every_days = every.or(times).unwrap_or(1.0);
    if let Some(feed) = feed.filter(|feed| every_days > most_days_apart(feed) + 1e-9) {
        notes.push(
            too_seldom(fields.what(), feed)
                .at(first.or(second).map_or(fields.place(), Entry::place), "days are skipped"),
        );
        every_days = 1.0;
    }
    Feeding { every_days, usd_per_feeding, bale_lb: None, bucket_lb }
}

/// The error for a feed that is fed less often than it may be.
fn too_seldom(what: &str, feed: &Feed) -> Diagnostic {
    if most_days_apart(feed) < SEED_DAYS_APART {
        let why = if feed.holds_npn() {
            "several days' urea at once can kill"
        } else if feed.class == FeedClass::Liquid {
            "several days' sugar at once brings acidosis"
        } else {
            "several days' grain at once brings acidosis, and fiber is digested worse"
        };
        return Code::MayNotSkip
            .error(format!("{what} may not be fed less often than daily"))
            .because(why)
            .help("delete the line; protein cubes, meal and seed may be fed every second day or thrice a week");
    }
    let why = if feed.class == FeedClass::WholeCottonseed {
        "a week's seed at once is fat and gossypol in one meal; print has seed daily or every second day by hand"
    } else {
        "several days' worth of it at once is its fat, sulfur and energy in one meal"
    };
    Code::MayNotSkip
        .error(format!("{what} may not be fed less often than three times a week"))
        .because(why)
        .help("write `every_days: 2` or `times_per_week: 3`; only protein cubes and meal may go up to 7 days")
}
