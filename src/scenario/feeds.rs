//! The feeds as this place can have them: stock, price, haul, loss, waste, dates, and how they are put out.

use super::Library;
use super::amounts;
use super::code::Code;
use super::composition;
use super::feeding;
use super::fields::{Fields, Notes};
use super::grazing;
use super::groups::exclusive;
use super::lots;
use super::measure::{
    BULK, LEFTOVER, LOAD, LOSS, MILES, MINIMUM, MONTHLY_LOSS, ON_HAND, PRICE, RATE, TEST_WEIGHT, VALUE, WASTE,
};
use super::node::{Entry, Kind};
use super::price;
use super::supply;
use super::values::name;
use crate::feed::offer::StorageLoss;
use crate::feed::{AmountBounds, Feed, FeedClass, Figure, Freight, LotOf, Offer};
use crate::quantity::{G_PER_OZ, KgAsFed};
use jiff::civil::Date;

/// What amounts may refer to.
#[derive(Clone, Copy)]
pub(crate) struct Herd<'a> {
    /// Names of the groups; `None` where they could not be read.
    pub(crate) groups: Option<&'a [String]>,
    /// Fixed intake of minerals without an amount, oz.
    pub(crate) mineral_oz: f64,
    /// First and last day of the winter; `None` where it could not be read.
    pub(crate) winter: Option<(Date, Date)>,
}

/// Names of all feeds, and the offers if every one of them could be read.
pub(crate) fn read(
    entry: &Entry,
    herd: Herd<'_>,
    library: Library<'_>,
    notes: &mut Notes,
) -> (Option<Vec<String>>, Option<Vec<Offer>>) {
    let Some(entries) = super::values::map_or_nothing(entry, "`feeds`", notes) else {
        return (None, None);
    };
    if entries.is_empty() {
        notes.push(
            Code::NoFeeds
                .error("there is no feed")
                .at(entry.key_span.clone(), "nothing under it")
                .help("add a feed, such as `prairie_hay: {price_usd_per_ton: 110}`"),
        );
    }
    let mut names = Vec::new();
    let mut offers: Vec<Option<Offer>> = Vec::new();
    for entry in entries {
        let own = name(entry, "feed", notes);
        let Some(list) = lots::of(entry, notes) else {
            names.extend(own);
            offers.push(offer(entry, herd, library, notes));
            continue;
        };
        let before = notes.list.len();
        let made: Vec<Option<Offer>> = list.iter().map(|lot| offer(&lot.entry, herd, library, notes)).collect();
        let class = made.iter().flatten().map(|lot| lot.feed.class).next();
        let together = amounts_together(entry, class, herd, notes);
        names.extend(list.iter().map(|lot| lot.entry.key.clone()));
        offers.extend(made.into_iter().map(|made| made.map(|made| one_lot(made, entry, &together))));
        if list.is_empty() {
            offers.push(None);
        }
        told_once(notes, before);
    }
    (Some(names), offers.into_iter().collect())
}

/// Amounts given beside `lots`.
fn amounts_together(entry: &Entry, class: Option<FeedClass>, herd: Herd<'_>, notes: &mut Notes) -> amounts::Amounts {
    let only = lots::amounts_of(entry);
    let what = format!("feed `{}`", super::values::shortened(&entry.key));
    let Some(mut fields) = Fields::open(&only.value, what, entry.key_span.clone(), notes) else {
        return amounts::Amounts::default();
    };
    amounts::read(&mut fields, class, herd.groups, notes)
}

/// Makes an offer one lot of a feed. The usual ounces of a mineral hold for its lots together.
fn one_lot(mut lot: Offer, feed: &Entry, together: &amounts::Amounts) -> Offer {
    let mut bounds_all = together.all;
    if lot.feed.class == FeedClass::Mineral && together.by_group.is_empty() && bounds_all == AmountBounds::default() {
        bounds_all = std::mem::take(&mut lot.bounds_all);
    } else if lot.feed.class == FeedClass::Mineral {
        lot.bounds_all = AmountBounds::default();
    }
    lot.lot_of = Some(LotOf { feed: feed.key.trim().to_owned(), bounds_all, bounds: together.by_group.clone() });
    lot
}

/// What is wrong with the keys that all lots share is told once.
fn told_once(notes: &mut Notes, from: usize) {
    let mut kept: Vec<crate::diagnostic::Diagnostic> = Vec::new();
    for one in notes.list.drain(from..) {
        let span = |one: &crate::diagnostic::Diagnostic| one.label.as_ref().map(|(span, _)| span.clone());
        if !kept.iter().any(|other| other.code == one.code && span(other) == span(&one)) {
            kept.push(one);
        }
    }
    notes.list.extend(kept);
}

/// One feed.
fn offer(entry: &Entry, herd: Herd<'_>, library: Library<'_>, notes: &mut Notes) -> Option<Offer> {
    let what = format!("feed `{}`", super::values::shortened(&entry.key));
    let mut fields = Fields::open(&entry.value, what, entry.key_span.clone(), notes)?;
    let composed = composition::read(entry, &mut fields, herd.winter, library, notes);
    let class = composed.as_ref().map(|composed| composed.feed.class);
    let bulk = fields.number(&BULK, notes);
    let prices = price::read(&mut fields, composed.as_ref().map(|made| &made.feed), notes);
    price::first_month(entry, &prices, herd.winter.map(|days| days.0), notes);
    let on_hand = fields.number(&ON_HAND, notes);
    let value = fields.number(&VALUE, notes);
    let leftover_usd_per_ton = fields.number(&LEFTOVER, notes);
    let grazed = grazing::read(&mut fields, class, notes);
    let owns = on_hand.is_some_and(|kg| kg > 0.0);
    if !grazed.written && prices.first.is_none() && !owns && !fields.has(&PRICE) && !fields.has(&ON_HAND) {
        notes.push(
            Code::NoSupply
                .warning(format!("{} has neither a price nor tons on hand", fields.what()))
                .at(fields.place(), "no plan can use it")
                .help("add `price_usd_per_ton` (0 if it is free), or `on_hand_tons`"),
        );
    }
    let freight = fields.entry("freight").and_then(|entry| freight(entry, notes));
    let density =
        bulk.or_else(|| composed.as_ref().and_then(|made| made.feed.bulk_lb_per_ft3.as_ref()).map(|it| it.mean));
    let storage_tons = supply::storage(&mut fields, density, notes);
    let supply = supply::supply(&mut fields, herd.winter.map(|days| days.0), notes);
    let whole_loads = supply::whole_loads(&mut fields, freight, storage_tons, notes);
    let loss = loss(&mut fields, class, library, notes);
    idle(&mut fields, class, (owns || grazed.written, &prices), notes);
    let waste = waste(&mut fields, class, library, notes);
    let (from, to) = dates(&mut fields, ("from", "to"), "had", notes);
    let (fed_from, fed_to) = dates(&mut fields, ("fed_from", "fed_to"), "fed", notes);
    for (keys, days, words) in
        [(("from", "to"), (from, to), "had"), (("fed_from", "fed_to"), (fed_from, fed_to), "fed")]
    {
        // What is in the stack is had whatever the days on which more comes.
        if !(owns && words == "had") {
            never(&mut fields, keys, days, (words, herd.winter), notes);
        }
    }
    // Bought as it is used, or only from a day on that lies behind the last day of feeding.
    if let (Some(comes), Some(last)) = (from, fed_to)
        && !owns
        && comes > last
    {
        let at = fields.entry("fed_to").map_or(fields.place(), Entry::place);
        notes.push(
            Code::NeverHad
                .error(format!("{} comes on {comes}, after the last day it may be fed", fields.what()))
                .at(at, "no day is left")
                .help("correct one of the two days, or delete the line"),
        );
    }
    let ways = feeding::ways(&mut fields, class, herd.groups, notes);
    let feeding = feeding::often(&mut fields, composed.as_ref().map(|made| &made.feed), notes);
    let mut amounts = amounts::read(&mut fields, class, herd.groups, notes);
    grazing::only_for(&mut fields, herd.groups, &mut amounts.by_group, notes);
    fields.close(notes);
    let composed = composed?;
    let standing = grazed.standing.map(|dm| dm.as_fed(composed.feed.dm_pct()).0);
    if composed.feed.class == FeedClass::Mineral && amounts.all == AmountBounds::default() {
        // Minerals are set out, not chosen: groups without an amount of their own get the usual ounces.
        amounts.all.fixed = Some(KgAsFed(herd.mineral_oz * G_PER_OZ / 1000.0));
    }
    let bulk = bulk.map(Figure::given).or(composed.feed.bulk_lb_per_ft3.clone());
    let lb_per_bushel = prices.lb_per_bushel.map(Figure::given).or(composed.feed.lb_per_bushel.clone());
    Some(Offer {
        id: entry.key.trim().to_owned(),
        feed: Feed { bulk_lb_per_ft3: bulk, lb_per_bushel, ..composed.feed },
        tested: composed.tested,
        tested_on: composed.tested_on,
        on_hand: KgAsFed(standing.or(on_hand).unwrap_or(0.0)),
        value_usd_per_ton: value.unwrap_or(0.0),
        leftover_usd_per_ton,
        price_usd_per_ton: prices.first,
        price_by_month: prices.by_month,
        price_unit: prices.unit,
        supply,
        storage_tons,
        whole_loads,
        freight,
        loss,
        waste,
        from,
        to,
        grazing: grazed.grazing,
        fed_from,
        fed_to,
        fed: ways.all,
        fed_by_group: ways.by_group,
        feeding: crate::feed::Feeding { bale_lb: prices.bale_lb, ..feeding },
        lot_of: None,
        bounds_all: amounts.all,
        bounds: amounts.by_group,
    })
}

/// Days that leave none of the winter on which a feed can be had or fed.
fn never(
    fields: &mut Fields<'_>,
    keys: (&'static str, &'static str),
    (from, to): (Option<Date>, Option<Date>),
    (words, winter): (&str, Option<(Date, Date)>),
    notes: &mut Notes,
) {
    // Days out of order were told of.
    let Some((first, last)) = winter.filter(|_| from.zip(to).is_none_or(|(from, to)| from <= to)) else { return };
    let (key, when) = if from.is_some_and(|day| day > last) {
        (keys.0, format!("after the last day of this winter, {last}"))
    } else if to.is_some_and(|day| day < first) {
        (keys.1, format!("before the first day of this winter, {first}"))
    } else {
        return;
    };
    let at = fields.entry(key).map_or(fields.place(), Entry::place);
    notes.push(
        Code::NeverHad
            .error(format!("{} can never be {words}: `{key}` is {when}", fields.what()))
            .at(at, "no day of this winter is left")
            .help("correct the year, or delete the line"),
    );
}

/// Keys that are known and change nothing for this feed.
fn idle(fields: &mut Fields<'_>, class: Option<FeedClass>, (owns, prices): (bool, &price::Prices), notes: &mut Notes) {
    let Some(class) = class else { return };
    let mut tell = |entry: &Entry, why: &str, help: &str| {
        notes.push(
            Code::Unused
                .warning(format!("`{}` changes nothing here", entry.key))
                .at(entry.key_span.clone(), why.to_owned())
                .help(help.to_owned()),
        );
    };
    for unit in VALUE.units {
        if let Some(entry) = fields.entry(unit.key).filter(|_| !owns) {
            tell(entry, "none of it is on hand", "add `on_hand_tons`, or delete it");
        }
    }
    // Of grain and the like a price sheet may tell the price by the bushel.
    let by_bushel = matches!(prices.unit, crate::feed::PriceUnit::Bushel { .. });
    if let Some(entry) = fields.entry(TEST_WEIGHT.key()).filter(|_| !by_bushel && class.is_roughage()) {
        tell(entry, "no price by the bushel", "delete it, or price it by `price_usd_per_bushel`");
    }
    let ways = [
        ("stored", "tank", class == FeedClass::Liquid, "a tank holds liquids"),
        ("feeder", "mineral_feeder", class.is_mineral(), "a mineral feeder holds minerals"),
        ("feeder", "lick_tank", class == FeedClass::Liquid, "a lick tank holds liquids"),
    ];
    for (key, word, _, why) in ways.into_iter().filter(|way| !way.2) {
        let Some(entry) = fields.entry(key) else { continue };
        if matches!(&entry.value.kind, Kind::Scalar { text, .. } if text == word) {
            notes.push(
                Code::Unused
                    .warning(format!("`{key}: {word}` does not fit {}", fields.what()))
                    .at(entry.place(), why)
                    .help("write how it is kept and fed: what is lost is reckoned from that"),
            );
        }
    }
}

fn freight(entry: &Entry, notes: &mut Notes) -> Option<Freight> {
    let mut fields = Fields::open(&entry.value, "`freight`", entry.key_span.clone(), notes)?;
    let miles = fields.number_required(&MILES, "14", notes);
    let rate = fields.number_required(&RATE, "4.00", notes);
    let load = fields.number_required(&LOAD, "11", notes);
    let minimum = fields.number(&MINIMUM, notes);
    fields.close(notes);
    Some(Freight {
        miles: miles?,
        usd_per_loaded_mile: rate?,
        tons_per_load: load?,
        minimum_usd: minimum.unwrap_or(0.0),
    })
}

/// Reports every pair of the keys that are there together.
fn only_one(fields: &mut Fields<'_>, keys: &[&'static str], notes: &mut Notes) {
    let found: Vec<&Entry> = keys.iter().filter_map(|key| fields.entry(key)).collect();
    if let [first, rest @ ..] = found.as_slice() {
        for second in rest {
            notes.push(exclusive(first, second));
        }
    }
}

pub(crate) fn loss(
    fields: &mut Fields<'_>,
    class: Option<FeedClass>,
    library: Library<'_>,
    notes: &mut Notes,
) -> StorageLoss {
    only_one(fields, &["stored", "loss_pct", "loss_pct_per_month"], notes);
    let ways: Vec<(&str, StorageLoss)> =
        library.losses.storage_ways().map(|way| (way.key.as_str(), way.storage_loss())).collect();
    let stored = fields.choice("stored", &ways, notes);
    let flat = fields.number(&LOSS, notes).map(|pct| StorageLoss::Flat(pct / 100.0));
    let monthly = fields.number(&MONTHLY_LOSS, notes).map(|pct| StorageLoss::PerMonth(pct / 100.0));
    let usual = class.and_then(|class| library.losses.default_for(class)).map(|(storage, _, _)| storage.storage_loss());
    flat.or(monthly).or(stored).or(usual).unwrap_or(StorageLoss::Flat(0.0))
}

fn waste(fields: &mut Fields<'_>, class: Option<FeedClass>, library: Library<'_>, notes: &mut Notes) -> f64 {
    only_one(fields, &["feeder", "waste_pct"], notes);
    let feeders: Vec<(&str, f64)> = library.losses.feeder_ways().map(|way| (way.key.as_str(), way.share())).collect();
    let feeder = fields.choice("feeder", &feeders, notes);
    let own = fields.number(&WASTE, notes).map(|pct| pct / 100.0);
    let usual = class.and_then(|class| library.losses.default_for(class)).map(|(_, feeder, _)| feeder.share());
    own.or(feeder).or(usual).unwrap_or(0.0)
}

pub(crate) fn dates(
    fields: &mut Fields<'_>,
    keys: (&'static str, &'static str),
    what: &str,
    notes: &mut Notes,
) -> (Option<Date>, Option<Date>) {
    let (from, to) = (fields.date(keys.0, notes), fields.date(keys.1, notes));
    if let (Some(first), Some(last)) = (from, to)
        && last < first
    {
        let at = fields.entry(keys.1).map_or(fields.place(), Entry::place);
        notes.push(
            Code::DateOrder
                .error(format!(
                    "{} can be {what} until {last}, before it can be {what} at all ({first})",
                    fields.what()
                ))
                .at(at, "the last day")
                .help(format!("write a `{}` on or after `{}`; check the years", keys.1, keys.0)),
        );
    }
    (from, to)
}
