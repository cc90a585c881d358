//! Lots of one feed: each lot is read as a feed of its own, with the keys of the feed and its own laid over them.

use super::code::Code;
use super::fields::Notes;
use super::node::{Entry, Kind, Node};
use super::values::{map, scalar, shortened};

/// One lot as an entry to be read.
pub(crate) struct Lot {
    /// Key `feed/lot`, the keys of the feed with those of the lot laid over them.
    pub(crate) entry: Entry,
}

/// Keys of amounts: given beside `lots`, they hold for all lots together.
const AMOUNTS: [&str; 8] = ["min_lb", "min_kg", "max_lb", "max_kg", "fixed_lb", "fixed_kg", "fixed_oz", "fixed_g"];

/// The lots of a feed; `None` if it has no `lots`.
pub(crate) fn of(feed: &Entry, notes: &mut Notes) -> Option<Vec<Lot>> {
    let Kind::Map(keys) = &feed.value.kind else { return None };
    let lots = keys.iter().find(|key| key.key == "lots")?;
    let Kind::List(items) = &lots.value.kind else {
        notes.push(
            Code::WrongShape
                .error(format!("`lots` is {}, not a list", lots.value.describe()))
                .at(lots.place(), "a list belongs here")
                .help("write one line for each lot: `- {name: barn, on_hand_tons: 40}`"),
        );
        return Some(Vec::new());
    };
    if items.is_empty() {
        notes.push(
            Code::WrongShape
                .error("`lots` is an empty list")
                .at(lots.place(), "no lot")
                .help("write one line for each lot: `- {name: barn, on_hand_tons: 40}`"),
        );
    }
    let mut found: Vec<Lot> = Vec::new();
    for item in items {
        let Some(own) = map(item, "a lot", &item.span, notes) else { continue };
        let Some(name) = own.iter().find(|key| key.key == "name") else {
            notes.push(
                Code::MissingKey
                    .error(format!("a lot of `{}` has no `name`", shortened(&feed.key)))
                    .at(item.place(), "`name` is missing")
                    .help("add a line such as `name: barn`"),
            );
            continue;
        };
        let Some((text, _)) = scalar("name", &name.value, "a word", notes) else { continue };
        let key = format!("{}/{}", feed.key.trim(), text.trim());
        if found.iter().any(|lot| lot.entry.key == key) {
            notes.push(
                Code::DuplicateKey
                    .error(format!("two lots of `{}` are called `{}`", shortened(&feed.key), shortened(text)))
                    .at(name.place(), "again here")
                    .help("give each lot a name of its own"),
            );
            continue;
        }
        found.push(Lot { entry: laid_over(feed, keys, own, key, name) });
    }
    Some(found)
}

/// Whether two keys say the same thing: a price in another unit is still the price.
fn same(one: &str, other: &str) -> bool {
    let price = |key: &str| key.starts_with("price_usd_per_") && key != "price_usd_per_head_month";
    one == other || price(one) && price(other)
}

fn laid_over(feed: &Entry, keys: &[Entry], own: &[Entry], key: String, name: &Entry) -> Entry {
    let mut merged: Vec<Entry> = keys
        .iter()
        .filter(|entry| entry.key != "lots" && !AMOUNTS.contains(&entry.key.as_str()))
        .filter(|entry| !own.iter().any(|mine| same(&mine.key, &entry.key) && mine.key != "name"))
        .cloned()
        .collect();
    merged.extend(own.iter().filter(|entry| entry.key != "name").cloned());
    if !merged.iter().any(|entry| entry.key == "like" || entry.key == "class") {
        // The row of the table is that of the feed, not of the lot.
        let span = feed.key_span.clone();
        merged.push(Entry {
            key: "like".to_owned(),
            key_span: span.clone(),
            value: Node { span, kind: Kind::Scalar { text: feed.key.trim().to_owned(), quoted: false } },
        });
    }
    Entry {
        key,
        key_span: name.value.span.clone(),
        value: Node { span: feed.value.span.clone(), kind: Kind::Map(merged) },
    }
}

/// The entry that holds the amounts given beside `lots` alone.
pub(crate) fn amounts_of(feed: &Entry) -> Entry {
    let keys = match &feed.value.kind {
        Kind::Map(keys) => keys.iter().filter(|key| AMOUNTS.contains(&key.key.as_str())).cloned().collect(),
        _ => Vec::new(),
    };
    Entry {
        key: feed.key.clone(),
        key_span: feed.key_span.clone(),
        value: Node { span: feed.value.span.clone(), kind: Kind::Map(keys) },
    }
}
