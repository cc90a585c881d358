//! Grass and stalks eaten where they stand: what they cost, how much there is, and who is on them.

use super::code::Code;
use super::fields::{Fields, Notes};
use super::groups::exclusive;
use super::measure::{ACRES, FORAGE_PER_ACRE, HEAD_MONTH, ON_HAND, SHARE_OF_INTAKE};
use super::node::Kind;
use crate::feed::{AmountBounds, FeedClass, Grazing};
use crate::quantity::{KgAsFed, KgDm};
use indexmap::IndexMap;

/// What the keys of grazing say.
#[derive(Debug, Default)]
pub(crate) struct Grazed {
    /// Cost and share; `None`: no key of grazing is there.
    pub(crate) grazing: Option<Grazing>,
    /// Dry matter that stands there.
    pub(crate) standing: Option<KgDm>,
    /// A key of grazing is there, right or not.
    pub(crate) written: bool,
}

/// Reads the keys of grazing.
pub(crate) fn read(fields: &mut Fields<'_>, class: Option<FeedClass>, notes: &mut Notes) -> Grazed {
    let cost = fields.number(&HEAD_MONTH, notes);
    let acres = fields.number(&ACRES, notes);
    let per_acre = fields.number(&FORAGE_PER_ACRE, notes);
    let share = fields.number(&SHARE_OF_INTAKE, notes);
    let keys = [&HEAD_MONTH, &ACRES, &FORAGE_PER_ACRE, &SHARE_OF_INTAKE];
    let Some(first) = keys.iter().find_map(|measure| fields.measured(measure, notes).map(|(entry, _)| entry)) else {
        return Grazed::default();
    };
    if class.is_some_and(|class| !class.is_grazed()) {
        notes.push(
            Code::NotGrazed
                .error(format!("`{}` does not fit {}", first.key, fields.what()))
                .at(first.key_span.clone(), "only grass and stalks are eaten where they stand")
                .help(
                    "delete it, or take a row of grazing with `like:` (`native_range_dormant`, `old_world_bluestem_dormant`, \
                     `cotton_stalks`, `wheat_pasture`); for stockpiled green pasture take a dormant one and write what a sample of it \
                     tested under `test:`",
                ),
        );
        return Grazed { written: true, ..Grazed::default() };
    }
    if let (Some((acres_at, _)), Some((on_hand, _))) =
        (fields.measured(&ACRES, notes), fields.measured(&ON_HAND, notes))
    {
        notes.push(exclusive(on_hand, acres_at));
    }
    for (one, other, example) in [(&ACRES, &FORAGE_PER_ACRE, "0.6"), (&FORAGE_PER_ACRE, &ACRES, "640")] {
        if fields.has(one) && !fields.has(other) {
            notes.push(fields.missing(other.key(), example));
        }
    }
    Grazed {
        grazing: Some(Grazing {
            usd_per_head_month: cost.unwrap_or(0.0),
            most_of_intake: share.map(|pct| pct / 100.0),
        }),
        written: true,
        standing: acres.zip(per_acre).map(|(acres, kg)| KgDm(acres * kg)),
    }
}

/// Reads `groups`, the only groups that get a feed: for the others the most is nothing.
pub(crate) fn only_for(
    fields: &mut Fields<'_>,
    groups: Option<&[String]>,
    by_group: &mut IndexMap<String, AmountBounds>,
    notes: &mut Notes,
) {
    let Some(entry) = fields.entry("groups") else { return };
    let Kind::List(items) = &entry.value.kind else {
        notes.push(
            Code::WrongShape
                .error("`groups` of a feed is not a list")
                .at(entry.place(), "names of groups belong here")
                .help("write `groups: [cows]`"),
        );
        return;
    };
    if items.is_empty() {
        notes.push(
            Code::WrongShape
                .error(format!("`groups` of {} names no group, so none could be fed it", fields.what()))
                .at(entry.place(), "nobody gets it")
                .help("write `groups: [cows]`, or delete the line: then all groups may get it"),
        );
        return;
    }
    let mut named = Vec::new();
    for item in items {
        if let Some((text, _)) = super::values::scalar("groups", item, "the name of a group", notes)
            && super::amounts::group_named(text, item.place(), groups, notes)
        {
            named.push(text.trim());
        }
    }
    for group in groups.unwrap_or_default().iter().filter(|group| !named.contains(&group.as_str())) {
        by_group.insert(group.clone(), AmountBounds { max: Some(KgAsFed(0.0)), ..AmountBounds::default() });
    }
}
