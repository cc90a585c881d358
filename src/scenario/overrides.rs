//! Printed requirements in place of ours, by group.

use super::amounts::known_group;
use super::fields::{Fields, Notes};
use super::measure::{NEED_CA, NEED_CP, NEED_DMI, NEED_MP, NEED_NEM, NEED_P, NEED_TDN};
use super::node::{Entry, Kind};
use super::values::map;
use crate::winter::NeedsOverride;
use indexmap::IndexMap;

/// Reads `needs_override:`.
pub(crate) fn read(
    entry: Option<&Entry>,
    groups: Option<&[String]>,
    notes: &mut Notes,
) -> IndexMap<String, NeedsOverride> {
    let mut all = IndexMap::new();
    let Some(entry) = entry.filter(|entry| entry.value.kind != Kind::Null) else { return all };
    for each in map(&entry.value, "`needs_override`", &entry.key_span, notes).unwrap_or_default() {
        known_group(each, groups, notes);
        let what = format!("needs of `{}`", super::values::shortened(&each.key));
        let Some(mut fields) = Fields::open(&each.value, what, each.key_span.clone(), notes) else { continue };
        let needs = NeedsOverride {
            nem_mcal: fields.number(&NEED_NEM, notes),
            tdn_kg: fields.number(&NEED_TDN, notes),
            cp_kg: fields.number(&NEED_CP, notes),
            mp_g: fields.number(&NEED_MP, notes),
            ca_g: fields.number(&NEED_CA, notes),
            p_g: fields.number(&NEED_P, notes),
            dmi_max_kg: fields.number(&NEED_DMI, notes),
        };
        if let (Some(_), Some(_), Some(first), Some((second, _))) =
            (needs.nem_mcal, needs.tdn_kg, fields.entry("nem_mcal"), fields.measured(&NEED_TDN, notes))
        {
            notes.push(super::groups::exclusive(first, second));
        }
        fields.close(notes);
        all.insert(each.key.trim().to_owned(), needs);
    }
    all
}
