//! From the text of a gin file, and those of the herds it names, to a [`Gin`], with every fault told at once.

mod bale;
pub(in crate::scenario) mod measure;
mod neighbors;
pub(in crate::scenario) mod product;
mod season;
mod told;

pub use told::{GinRead, Told};

use super::Library;
use super::code::Code;
use super::fields::{Fields, Notes};
use super::node::{Kind as NodeKind, Node};
use super::{set, spans};
use crate::diagnostic::{Diagnostic, Severity};
use crate::gin::product::Kind;
use crate::gin::{Gin, reference};
use measure::HAY;

/// Gives the text of a herd file by the name a gin file has for it.
pub type Herds<'a> = &'a dyn Fn(&str) -> Result<String, Diagnostic>;

/// Reads a gin file, with what-ifs laid over it where [`set::joined`] put any behind its text.
#[must_use]
pub fn read(text: &str, name: &str, library: Library<'_>, herds: Herds<'_>) -> GinRead {
    let mut notes = Notes::default();
    let mut told = Vec::new();
    let gin = attempt(text, library, herds, &mut notes, &mut told);
    let mut list = notes.list;
    list.sort_by_key(|one| one.label.as_ref().map_or(0, |(span, _)| span.start));
    if !list.is_empty() {
        told.insert(0, Told { file: name.to_owned(), text: text.to_owned(), list });
    }
    let failed = told.iter().flat_map(|one| &one.list).any(|one| one.severity == Severity::Error);
    GinRead { gin: gin.filter(|_| !failed), told }
}

pub(in crate::scenario) fn attempt(
    text: &str,
    library: Library<'_>,
    herds: Herds<'_>,
    notes: &mut Notes,
    told: &mut Vec<Told>,
) -> Option<Gin> {
    let file = set::file_of(text);
    if super::build::blank(file) {
        notes.push(super::build::empty("the file"));
        return None;
    }
    let (root, problems) = spans::tree(file);
    notes.list = problems;
    let mut root = root?;
    set::apply(&mut root, text, &mut notes.list);
    whole(&root, library, herds, notes, told)
}

/// All the sections.
fn whole(root: &Node, library: Library<'_>, herds: Herds<'_>, notes: &mut Notes, told: &mut Vec<Told>) -> Option<Gin> {
    if matches!(root.kind, NodeKind::Broken) {
        return None;
    }
    if let Some(entry) = super::build::of_another(root, &["groups", "feeds"], &["gin", "season"]) {
        notes.push(
            Code::OtherFile
                .error("this is a herd file, not a gin file")
                .at(entry.key_span.clone(), "a gin file has `gin:` and `season:`")
                .help("read it with `overwinter plan`, or name it under `neighbors:` of a gin file"),
        );
        return None;
    }
    let mut fields = Fields::open(root, "the gin file", root.span.start..root.span.start, notes)?;
    let mut assumed = Vec::new();
    let head = fields.required("gin", "{name: Caprock Gin, region: high_plains}", notes);
    let head = head.and_then(|entry| season::head(entry, notes));
    let lint_lb = season::lint_of(&mut fields, notes);
    let (harvest, season) = match fields.required("season", "{year: 2026, bales: 30000, harvest: picker}", notes) {
        Some(entry) => season::read(entry, head.as_ref(), lint_lb, &mut assumed, notes),
        None => (None, None),
    };
    let balance = bale::read(&mut fields, harvest, head.as_ref(), notes);
    let bales = season.as_ref().map(|it| it.bales);
    let yard = fields.entry("yard").and_then(|entry| season::yard(entry, harvest?, bales, notes));
    let rate = product::rate(fields.entry("freight"), &mut assumed, notes);
    let facts = product::Facts {
        harvest,
        wet: head.as_ref().is_some_and(|it| it.wet),
        days: season.as_ref().and_then(season::days),
        library,
    };
    let trash = product::read(&mut fields, Kind::Trash, &facts, rate, &mut assumed, notes);
    let seed = product::read(&mut fields, Kind::Seed, &facts, rate, &mut assumed, notes);
    let choices = product::choices(fields.entry("processing"), &facts, notes);
    let hay = fields.entry("reference").and_then(|entry| {
        let mut each = Fields::open(&entry.value, "`reference`", entry.key_span.clone(), notes)?;
        let hay = each.number(&HAY, notes);
        each.close(notes);
        hay
    });
    let ticket = told::ticket(fields.entry("ticket"), facts.days, notes);
    let hay = hay.unwrap_or(reference::HAY_USD_PER_TON);
    let around = neighbors::Around {
        library,
        herds,
        region: head.as_ref().and_then(|it| it.region.as_ref().map(|(key, _)| key.as_str())),
        year: season.as_ref().map(|it| it.year),
        hay,
        trash: trash.as_ref(),
        seed: seed.as_ref(),
    };
    let neighbors = neighbors::read(fields.entry("neighbors"), &around, notes, told);
    fields.close(notes);
    let (head, season) = (head?, season?);
    Some(Gin {
        name: head.name,
        season_of: season.name,
        behind_weeks: season.behind_weeks,
        harvest: harvest?,
        wet: head.wet,
        bales: season.bales,
        ginned: season.ginned,
        balance: balance?,
        yard,
        trash: trash?,
        seed: seed?,
        reference_hay_usd_per_ton: hay,
        neighbors: neighbors?,
        choices: choices?,
        ticket: ticket?,
        assumed,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::feed::Nutrient;
    use crate::scenario::library::with_test_library;

    const EVERYTHING: &str = include_str!("../../../tests/herd_files/gin_everything.yaml");
    const HERD: &str = include_str!("../../../examples/dry-fork/herd.yaml");
    const PAGE: &str = include_str!("../../../docs/gin-file.md");

    #[test]
    fn the_docs_name_every_key() {
        with_test_library(|library| {
            let (mut notes, mut told) = (Notes::default(), Vec::new());
            let root = spans::tree(EVERYTHING).0.unwrap();
            let gin = whole(&root, library, &|_| Ok(HERD.to_owned()), &mut notes, &mut told);
            assert!(gin.is_some(), "{:#?} {told:#?}", notes.list);
            // Those of a test and of `stored` are the herd file's.
            let keys = notes.known.iter().copied().filter(|key| Nutrient::from_key(key).is_none());
            for key in keys {
                let named = [format!("`{key}`"), format!("{{{key}:"), format!(", {key}:"), format!("`{key}:")];
                assert!(named.iter().any(|name| PAGE.contains(name)), "docs/gin-file.md does not name `{key}`");
            }
            assert!(notes.known.len() > 70, "{:?}", notes.known);
        });
    }

    #[test]
    fn a_herd_file_is_told_where_it_is_read() {
        with_test_library(|library| {
            let read = read(HERD, "herd.yaml", library, &|_| Ok(String::new()));
            let list: Vec<_> = read.told.iter().flat_map(|one| &one.list).collect();
            assert!(read.gin.is_none() && list.len() == 1 && list[0].code == "H012", "{list:#?}");
            assert!(list[0].help.as_ref().is_some_and(|help| help.contains("overwinter plan")), "{list:#?}");
        });
    }
}
