//! When a feed can be had, how much of it, and how much of it there is room for.

use super::code::Code;
use super::fields::{Fields, Notes};
use super::measure::{BALES, BULK_ROOM, LB_PER_BALE, PER_WEEK, SHARE, STORAGE, WAITING};
use super::near;
use super::node::Entry;
use super::values::shortened;
use crate::feed::ginning::{GinOutput, Ginning, Season};
use crate::feed::{Freight, Supply};
use crate::quantity::LB_PER_TON;
use jiff::civil::Date;

/// Reads `tons_per_week` or `supply`.
pub(crate) fn supply(fields: &mut Fields<'_>, winter_from: Option<Date>, notes: &mut Notes) -> Supply {
    let per_week = fields.number(&PER_WEEK, notes);
    let weekly = fields.entry(PER_WEEK.key());
    let Some(entry) = fields.entry("supply") else {
        return per_week.map_or(Supply::Unlimited, Supply::PerWeek);
    };
    if let Some(weekly) = weekly {
        notes.push(super::groups::exclusive(weekly, entry));
    }
    gin(entry, winter_from, notes).unwrap_or_default()
}

/// What a gin turns out: `{region, bales, lb_per_bale, waiting_weeks, share_pct}`.
fn gin(entry: &Entry, winter_from: Option<Date>, notes: &mut Notes) -> Option<Supply> {
    let mut fields = Fields::open(&entry.value, "`supply`", entry.key_span.clone(), notes)?;
    let region = fields.required("region", "rolling_plains", notes);
    let bales = fields.whole(&BALES, "30000", notes).map(f64::from);
    let lb_per_bale = fields.number_required(&LB_PER_BALE, "375", notes);
    let waiting_weeks = fields.number(&WAITING, notes).unwrap_or(0.0);
    let share = fields.number(&SHARE, notes).unwrap_or(100.0) / 100.0;
    fields.close(notes);
    let (_, season) = season(region?, "give `tons_per_week` with `from` and `to`", notes)?;
    let output = GinOutput { bales: bales?, lb_per_bale: lb_per_bale?, waiting_weeks, share };
    Some(Supply::Curve(season.supply(&output, winter_from?)))
}

/// The ginning season of a region by its key; what else could be written is said where there is none.
pub(crate) fn season(region: &Entry, otherwise: &str, notes: &mut Notes) -> Option<(String, Season)> {
    let (text, _) = super::values::scalar("region", &region.value, "a word", notes)?;
    // The table ships with the program and a test holds that it reads.
    let mut table = Ginning::shipped().ok()?;
    if let Some(season) = table.regions.swap_remove(text) {
        return Some((text.to_owned(), season));
    }
    let keys = table.regions.keys().map(String::as_str);
    let help = near::nearest(text, keys.clone())
        .map_or_else(|| near::list(keys).unwrap_or_default(), |key| format!("`{key}`"));
    notes.push(
        Code::UnknownSeason
            .error(format!("no ginning season is known for `{}`", shortened(text)))
            .at(region.place(), "not a region")
            .help(format!("write {help}, or {otherwise}")),
    );
    None
}

/// Reads `storage_tons` or `storage_ft3`; cubic feet need the bulk density.
pub(crate) fn storage(fields: &mut Fields<'_>, bulk_lb_per_ft3: Option<f64>, notes: &mut Notes) -> Option<f64> {
    let tons = fields.number(&STORAGE, notes);
    let room = fields.number(&BULK_ROOM, notes);
    let (first, second) = (fields.entry(STORAGE.key()), fields.entry(BULK_ROOM.key()));
    if let (Some(first), Some(second)) = (first, second) {
        notes.push(super::groups::exclusive(first, second));
    }
    let Some(room) = room else { return tons };
    let Some(density) = bulk_lb_per_ft3 else {
        let at = second.map_or(fields.place(), Entry::place);
        notes.push(
            Code::NoDensity
                .error(format!("{} has room in cubic feet but no weight of a cubic foot", fields.what()))
                .at(at, "how many tons is this?")
                .help("add `bulk_lb_per_ft3`, or write `storage_tons`"),
        );
        return tons;
    };
    Some(room * density / LB_PER_TON)
}

/// Reads `whole_loads`; a load must have a size and fit the store.
pub(crate) fn whole_loads(
    fields: &mut Fields<'_>,
    freight: Option<Freight>,
    storage_tons: Option<f64>,
    notes: &mut Notes,
) -> bool {
    if fields.flag("whole_loads", notes) != Some(true) {
        return false;
    }
    let at = fields.entry("whole_loads").map_or(fields.place(), Entry::place);
    let Some(freight) = freight else {
        if fields.entry("freight").is_none() {
            notes.push(
                Code::NoLoad
                    .error(format!("{} is bought in whole loads, but the size of a load is not given", fields.what()))
                    .at(at, "how many tons is a load?")
                    .help("add `freight: {miles: 14, usd_per_loaded_mile: 4.00, tons_per_load: 11}`"),
            );
        }
        return false;
    };
    if storage_tons.is_some_and(|room| room < freight.tons_per_load) {
        notes.push(
            Code::NoLoad
                .error(format!("a load of {} tons does not fit the store of {}", freight.tons_per_load, fields.what()))
                .at(at, "no whole load can be bought")
                .help("give more room, a smaller load, or write `whole_loads: false`"),
        );
        return false;
    }
    true
}
