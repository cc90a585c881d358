//! Least, most and fixed amounts of a feed: one for all groups, or by group.

use super::code::Code;
use super::fields::{Fields, Notes};
use super::measure::{AT_LEAST, AT_MOST, FIXED, Measure, figure};
use super::near;
use super::node::{Entry, Kind};
use super::values::quantity;
use crate::diagnostic::Span;
use crate::feed::{AmountBounds, FeedClass};
use crate::quantity::{KG_PER_LB, KgAsFed, lb_from_kg};
use indexmap::IndexMap;

/// Bounds for all groups, and by group where they differ.
#[derive(Debug, Default)]
pub(crate) struct Amounts {
    /// For every group that has none of its own.
    pub(crate) all: AmountBounds,
    /// By group name.
    pub(crate) by_group: IndexMap<String, AmountBounds>,
}

/// One of the three amounts as written.
#[derive(Default)]
struct Written {
    all: Option<(f64, Span)>,
    by_group: IndexMap<String, (f64, Span)>,
}

impl Written {
    fn for_group(&self, group: &str) -> Option<(f64, Span)> {
        self.by_group.get(group).or(self.all.as_ref()).cloned()
    }
}

/// Most of a salt or mineral that may be asked for, kg a head and day (2 lb): cattle take about 0.1 lb of salt per 100 lb
/// of body weight (Oklahoma State ANSI-3008), which no bull passes at 2 lb; no mineral is fed by the pound (judgement).
const MOST_MINERAL_KG: f64 = 2.0 * KG_PER_LB;

/// Reads `min_lb`, `max_lb`, `fixed_lb`, `fixed_oz` and their twins.
pub(crate) fn read(
    fields: &mut Fields<'_>,
    class: Option<FeedClass>,
    groups: Option<&[String]>,
    notes: &mut Notes,
) -> Amounts {
    let asked = |measure: &Measure| match class {
        Some(FeedClass::Mineral) => Measure { units: measure.units, range: (measure.range.0, MOST_MINERAL_KG) },
        _ => Measure { units: measure.units, range: measure.range },
    };
    let least = written(fields, &asked(&AT_LEAST), groups, notes);
    let most = written(fields, &AT_MOST, groups, notes);
    let fixed = written(fields, &asked(&FIXED), groups, notes);
    let mut amounts = Amounts::default();
    if let (Some(_), Some((_, second))) = (least.all.as_ref().or(most.all.as_ref()), &fixed.all) {
        notes.push(
            Code::Exclusive
                .error(format!("{} has both a fixed amount and a least or most", fields.what()))
                .at(second.clone(), "fixed for all groups")
                .help("keep the fixed amount, or the least and the most"),
        );
    }
    amounts.all = bounds(least.all.clone(), most.all.clone(), fixed.all.clone(), fields, notes);
    let mut names: Vec<&String> = Vec::new();
    for name in least.by_group.keys().chain(most.by_group.keys()).chain(fixed.by_group.keys()) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    for name in names {
        let own_fixed = fixed.by_group.get(name).cloned();
        let own_range = least.by_group.contains_key(name) || most.by_group.contains_key(name);
        let of_group = if let Some((_, at)) = own_fixed.clone().filter(|_| own_range) {
            notes.push(
                Code::Exclusive
                    .error(format!("{} has both a fixed amount and a least or most for `{name}`", fields.what()))
                    .at(at, "fixed here")
                    .help("keep the fixed amount, or the least and the most"),
            );
            AmountBounds::default()
        } else if own_fixed.is_some() {
            bounds(None, None, own_fixed, fields, notes)
        } else {
            // A group's own least or most sets aside what is fixed for all, and keeps the other bound for all.
            bounds(least.for_group(name), most.for_group(name), None, fields, notes)
        };
        amounts.by_group.insert(name.clone(), of_group);
    }
    amounts
}

fn bounds(
    least: Option<(f64, Span)>,
    most: Option<(f64, Span)>,
    fixed: Option<(f64, Span)>,
    fields: &Fields<'_>,
    notes: &mut Notes,
) -> AmountBounds {
    if let (Some((low, low_at)), Some((high, high_at))) = (&least, &most)
        && low > high
    {
        notes.push(
            Code::BoundOrder
                .error(format!(
                    "the least of {}, {} lb, is above the most, {} lb",
                    fields.what(),
                    figure(lb_from_kg(*low)),
                    figure(lb_from_kg(*high))
                ))
                .at(low_at.clone(), "least")
                .and_at(high_at.clone(), "most")
                .help("correct one of the two"),
        );
    }
    let amount = |written: Option<(f64, Span)>| written.map(|(kg, _)| KgAsFed(kg));
    AmountBounds { min: amount(least), max: amount(most), fixed: amount(fixed) }
}

fn written(fields: &mut Fields<'_>, measure: &Measure, groups: Option<&[String]>, notes: &mut Notes) -> Written {
    let mut found = Written::default();
    let Some((entry, unit)) = fields.measured(measure, notes) else { return found };
    let Kind::Map(entries) = &entry.value.kind else {
        let value = quantity(&entry.key, &entry.value, unit, measure.range, notes);
        found.all = value.map(|value| (value, entry.place()));
        return found;
    };
    for each in entries {
        known_group(each, groups, notes);
        let what = format!("{} of {}", entry.key, each.key);
        if let Some(value) = quantity(&what, &each.value, unit, measure.range, notes) {
            found.by_group.insert(each.key.trim().to_owned(), (value, each.place()));
        }
    }
    found
}

/// Whether the key names a group; an error if it does not.
pub(crate) fn known_group(entry: &Entry, groups: Option<&[String]>, notes: &mut Notes) -> bool {
    group_named(&entry.key, entry.key_span.clone(), groups, notes)
}

/// Whether a name is that of a group; an error if it is not. Nothing is said where the groups could not be read.
pub(crate) fn group_named(name: &str, at: Span, groups: Option<&[String]>, notes: &mut Notes) -> bool {
    let Some(groups) = groups else { return true };
    if groups.iter().any(|group| group == name.trim()) {
        return true;
    }
    let error = Code::UnknownGroup
        .error(format!("there is no group `{}`", super::values::shortened(name)))
        .at(at, "not under `groups`");
    let names = groups.iter().map(String::as_str);
    notes.push(match near::advice(name, names) {
        Some(help) => error.help(help),
        None => error,
    });
    false
}
