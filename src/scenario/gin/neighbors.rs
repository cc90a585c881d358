//! The neighbors: herd files with miles, and lines of screening.

use super::Herds;
use super::measure::{DENSITY, WITHIN};
use super::product::tested;
use super::told::Told;
use crate::feed::{Nutrient, Supply};
use crate::gin::case::Herd;
use crate::gin::product::Kind;
use crate::gin::{Neighbor, Product, Who, radius, reference};
use crate::herd::AnimalClass;
use crate::scenario::code::Code;
use crate::scenario::fields::{Fields, Notes};
use crate::scenario::groups::exclusive;
use crate::scenario::measure::{HEAD, MILES, SHARE};
use crate::scenario::node::{Entry, Kind as NodeKind, Node};
use crate::scenario::values::shortened;
use crate::scenario::{Library, set};
use crate::winter::Case;
use jiff::civil::Date;

/// What the neighbors hang on.
pub(super) struct Around<'a> {
    pub(super) library: Library<'a>,
    pub(super) herds: Herds<'a>,
    /// Key of the region, for the weather of the reference herd.
    pub(super) region: Option<&'a str>,
    /// Year of the harvest.
    pub(super) year: Option<i16>,
    /// Price of hay of the reference herd.
    pub(super) hay: f64,
    pub(super) trash: Option<&'a Product>,
    pub(super) seed: Option<&'a Product>,
}

/// Reads `neighbors`; none is a gin that sells to nobody near.
pub(super) fn read(
    entry: Option<&Entry>,
    around: &Around<'_>,
    notes: &mut Notes,
    told: &mut Vec<Told>,
) -> Option<Vec<Neighbor>> {
    let Some(entry) = entry else { return Some(Vec::new()) };
    let items = match &entry.value.kind {
        NodeKind::Null => return Some(Vec::new()),
        NodeKind::List(items) => items,
        NodeKind::Broken => return None,
        _ => {
            notes.push(
                Code::WrongShape
                    .error(format!("`neighbors` is {}, not a list", entry.value.describe()))
                    .at(entry.value.place(), "a list belongs here")
                    .help("write one line for each, such as `- {name: Draw Place, herd: draw-place.yaml, miles: 14}`"),
            );
            return None;
        }
    };
    let mut names: Vec<(String, crate::diagnostic::Span)> = Vec::new();
    let found: Vec<Option<Neighbor>> =
        items.iter().map(|item| neighbor(item, around, &mut names, notes, told)).collect();
    found.into_iter().collect()
}

fn neighbor(
    item: &Node,
    around: &Around<'_>,
    names: &mut Vec<(String, crate::diagnostic::Span)>,
    notes: &mut Notes,
    told: &mut Vec<Told>,
) -> Option<Neighbor> {
    let mut fields = Fields::open(item, "a neighbor", item.place(), notes)?;
    let named = fields.required("name", "Draw Place", notes);
    let name = named.and_then(|_| fields.text("name", notes)).map(str::to_owned);
    if let (Some(name), Some(entry)) = (&name, named) {
        match names.iter().find(|(other, _)| other == name) {
            Some((_, first)) => notes.push(
                Code::SameName
                    .error(format!("two neighbors are called `{}`", shortened(name)))
                    .at(entry.place(), "again here")
                    .and_at(first.clone(), "first here")
                    .help("give one of them another name; what each buys is told by name"),
            ),
            None => names.push((name.clone(), entry.place())),
        }
    }
    let share = fields.number(&SHARE, notes).map(|pct| pct / 100.0);
    let herd = fields.entry("herd");
    let head = fields.entry("head");
    let density = fields.entry(DENSITY.key());
    if let (Some(first), Some(second)) = (herd, head.or(density)) {
        notes.push(exclusive(first, second));
    } else if let (Some(first), Some(second)) = (head, density) {
        notes.push(exclusive(first, second));
    }
    if herd.is_none() && head.is_none() && density.is_none() {
        let what = name.as_deref().map_or("a neighbor".to_owned(), |name| format!("neighbor `{}`", shortened(name)));
        notes.push(
            Code::NoCattle
                .error(format!("{what} has neither a herd file nor cattle"))
                .at(fields.place(), "whose cattle are these?")
                .help("add `herd: FILE.yaml`, or `head: 300`, or `cows_per_square_mile: 12` with `within_miles: 25`"),
        );
    }
    let known = name.as_deref().unwrap_or("?");
    let made = if let Some(entry) = herd {
        herd_file(&mut fields, entry, known, around, notes, told)
    } else {
        screening(&mut fields, density.is_some(), around, notes, told)
    };
    fields.close(notes);
    let (who, miles, trash, seed) = made?;
    Some(Neighbor { name: name?, miles: miles?, share: share.unwrap_or(1.0), who, trash, seed })
}

type Made = (Who, Option<f64>, Option<Herd>, Option<Herd>);

fn herd_file(
    fields: &mut Fields<'_>,
    entry: &Entry,
    name: &str,
    around: &Around<'_>,
    notes: &mut Notes,
    told: &mut Vec<Told>,
) -> Option<Made> {
    let miles = fields.number_required(&MILES, "14", notes);
    let own = [fields.entry("trash_feed"), fields.entry("seed_feed")];
    let own =
        [own[0].and_then(|_| fields.text("trash_feed", notes)), own[1].and_then(|_| fields.text("seed_feed", notes))];
    let (file, _) = crate::scenario::values::scalar("herd", &entry.value, "the name of a herd file", notes)?;
    let text = match (around.herds)(file) {
        Ok(text) => text,
        Err(why) => {
            // Without the path, which the line shows as it is written.
            let reason = why.message.rsplit('`').next().unwrap_or("cannot be read").trim();
            notes.push(
                Code::NoHerdFile
                    .error(format!("the herd file of neighbor `{}` {}", shortened(name), reason))
                    .at(entry.place(), "this file")
                    .help("correct the name; it is looked for beside the gin file"),
            );
            return None;
        }
    };
    let case = match crate::scenario::read(&text, around.library) {
        Ok(read) => {
            if !read.warnings.is_empty() {
                told.push(Told { file: file.to_owned(), text: text.clone(), list: read.warnings });
            }
            read.value
        }
        Err(list) => {
            told.push(Told { file: file.to_owned(), text, list });
            return None;
        }
    };
    other_year(&case, (file, name), entry, around.year, notes)?;
    let mut made = [None, None];
    for (slot, (kind, product)) in [(Kind::Trash, around.trash), (Kind::Seed, around.seed)].into_iter().enumerate() {
        let product = product?;
        let index = match find(&case, kind, own[slot]) {
            Ok(index) => index,
            Err(names) => {
                let list = crate::scenario::near::list(names.iter().map(String::as_str)).unwrap_or_default();
                let (message, help) = if let Some(asked) = own[slot] {
                    (
                        format!("`{file}` has no feed `{}` that is {}", shortened(asked), kind.key()),
                        format!("it has {list}"),
                    )
                } else {
                    (
                        format!("`{file}` has several feeds that could be this gin's {}", kind.key()),
                        format!("name one with `{}_feed:`: {list}", kind.key()),
                    )
                };
                notes.push(
                    Code::WhichFeed
                        .error(message)
                        .at(entry.place(), "which of its feeds comes from this gin?")
                        .help(help),
                );
                return None;
            }
        };
        made[slot] = Some(sold(&case, index, &text, product, around.library)?);
    }
    let head = case.groups.iter().map(|group| group.head).sum();
    let [trash, seed] = made;
    Some((Who::HerdFile { file: file.to_owned(), head }, miles, trash, seed))
}

/// The winter of a herd must fall in the twelve months from July of the harvest on.
fn other_year(
    case: &Case,
    (file, name): (&str, &str),
    entry: &Entry,
    year: Option<i16>,
    notes: &mut Notes,
) -> Option<()> {
    let (Some(year), Some(first), Some(last)) = (year, case.periods.first(), case.periods.last()) else {
        return Some(());
    };
    let from = Date::new(year, 7, 1).ok()?;
    let to = Date::new(year + 1, 7, 1).ok()?;
    if last.to > from && first.from < to {
        return Some(());
    }
    notes.push(
        Code::OtherYear
            .error(format!(
                "the winter of neighbor `{}` ({} to {}) is not that of the {year} harvest",
                shortened(name),
                first.from,
                last.to
            ))
            .at(entry.place(), "another year")
            .help(format!("correct the dates in `{}`, or `year` here", shortened(file))),
    );
    None
}

/// The offer of a herd file that is this gin's: the one named, or the only one of its class that is bought. `Ok(None)`:
/// none is. The names of those that could be, if it is not plain.
fn find(case: &Case, kind: Kind, named: Option<&str>) -> Result<Option<usize>, Vec<String>> {
    let bought = |f: &usize| case.offers[*f].feed.class == kind.class() && case.offers[*f].price_usd_per_ton.is_some();
    let all: Vec<usize> = (0..case.offers.len()).filter(bought).collect();
    let names = || all.iter().map(|f| case.offers[*f].id.clone()).collect::<Vec<_>>();
    match named {
        Some(name) => all.iter().copied().find(|f| case.offers[*f].id == name).map(Some).ok_or_else(names),
        None if all.len() > 1 => Err(names()),
        None => Ok(all.first().copied()),
    }
}

/// A winter in which the byproduct can be bought delivered, at a price yet to be set, while the gin has it.
fn sold(case: &Case, index: Option<usize>, text: &str, product: &Product, library: Library<'_>) -> Option<Herd> {
    let added = index.is_none();
    let (mut case, index) = if let Some(index) = index {
        (case.clone(), index)
    } else {
        // Read with the same reader as the feeds of the file, so that loss, waste and limits are the usual ones.
        let id = &product.feed.id;
        let with = [format!("feeds.{id}={{price_usd_per_ton: 0}}")];
        let case = crate::scenario::read(&set::joined(text, &with), library).ok()?.value;
        let index = case.offers.iter().position(|offer| &offer.id == id)?;
        (case, index)
    };
    let offer = &mut case.offers[index];
    // Tests of the buyer stand; tests of the gin come before the table.
    let own_test = Nutrient::ALL.into_iter().any(|nutrient| tested(&offer.feed, nutrient));
    if !own_test {
        let id = offer.feed.id.clone();
        offer.feed = crate::feed::Feed { id, ..product.feed.clone() };
        offer.tested = product.tested;
    }
    offer.price_usd_per_ton = Some(0.0);
    offer.price_by_month.clear();
    offer.freight = None;
    offer.supply = Supply::Unlimited;
    offer.whole_loads = false;
    offer.from = product.from.max(offer.from);
    offer.to = match (product.to, offer.to) {
        (Some(a), Some(b)) => Some(a.min(b)),
        (a, b) => a.or(b),
    };
    Some(Herd { case, offer: index, added })
}

fn screening(
    fields: &mut Fields<'_>,
    by_area: bool,
    around: &Around<'_>,
    notes: &mut Notes,
    told: &mut Vec<Told>,
) -> Option<Made> {
    let classes = reference::CLASSES.map(|class| (class.key(), class));
    let class = fields.choice("kind", &classes, notes).unwrap_or(AnimalClass::Cow);
    let (head, miles, counted) = if by_area {
        let density = fields.number(&DENSITY, notes);
        let within = fields.number_required(&WITHIN, "25", notes);
        let miles = fields.number(&MILES, notes);
        let head = density.zip(within).map(|(density, within)| density * radius::square_miles(within));
        (head, miles.or(within.map(radius::mean_miles)), density.zip(within))
    } else {
        let head = fields.number(&HEAD, notes);
        (head, fields.number_required(&MILES, "14", notes), None)
    };
    let head = head?;
    let text = reference::herd_text(class, around.region, around.year?, around.hay);
    let case = match crate::scenario::read(&text, around.library) {
        Ok(read) => read.value,
        Err(list) => {
            told.retain(|one: &Told| one.file != "the reference herd");
            told.push(Told { file: "the reference herd".to_owned(), text, list });
            return None;
        }
    };
    let trash = sold(&case, None, &text, around.trash?, around.library)?;
    let seed = sold(&case, None, &text, around.seed?, around.library)?;
    Some((Who::Screening { head, class, counted }, miles, Some(trash), Some(seed)))
}
