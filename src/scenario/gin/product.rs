//! The two byproducts, the truck, the outlets, and the ways of handling.

use super::measure::{ASH_POINTS, ASKED, CEILING, COST, KEEPING, LOADING, OUTLET, TAKEN_OUT, TRAILER, WASTE};
use super::told;
use crate::feed::offer::StorageLoss;
use crate::feed::{Feed, Figure, Nutrient};
use crate::gin::process::Choice;
use crate::gin::product::{Form, Kind, NOWHERE, Rate, Room, TRAILER_FT3};
use crate::gin::{Harvest, Outlet, Product, reference, two_prices};
use crate::scenario::Library;
use crate::scenario::code::Code;
use crate::scenario::composition;
use crate::scenario::fields::{Fields, Notes};
use crate::scenario::groups::exclusive;
use crate::scenario::measure::{BULK, BULK_ROOM, LOAD, MINIMUM, RATE, STORAGE, figure};
use crate::scenario::node::{Entry, Kind as NodeKind};
use crate::scenario::plausible;
use crate::scenario::values::{map_or_nothing, quantity};
use crate::source::{Cite, Origin};
use jiff::civil::Date;

/// Rate where none is given, US dollars per loaded mile: from memory, 3 to 4.5 on hauls of a hundred miles.
const USUAL_RATE: f64 = 4.0;
/// Least charge for a load where none is given, US dollars: from memory, 150 to 300.
const USUAL_MINIMUM: f64 = 150.0;
/// Being rid of a ton of trash, US dollars: from memory, 2 to 10.
const HAUL_OFF_USD: f64 = -6.0;
/// Loading where it is not given, US dollars per ton. Judgement.
const LOADING_USD: [f64; 2] = [4.0, 3.0];
/// No higher price is asked where the file does not say, US dollars per ton: judgement, above the highest printed, 105
/// delivered for burrs (2020) and 450 delivered for seed (2008).
const CEILING_USD: [f64; 2] = [150.0, 500.0];
/// Row of the feed table of ground trash.
const GROUND_ROW: &str = "gin_trash_ground";
/// What a wet harvest does to the loss of an open pile. Judgement.
const WET_LOSS: f64 = 1.5;

/// What the byproducts hang on.
pub(super) struct Facts<'a> {
    pub(super) harvest: Option<Harvest>,
    pub(super) wet: bool,
    /// First and last day on which anything of this season can be sold.
    pub(super) days: Option<(Date, Date)>,
    pub(super) library: Library<'a>,
}

/// Reads `freight`: what a truck costs.
pub(super) fn rate(entry: Option<&Entry>, assumed: &mut Vec<String>, notes: &mut Notes) -> Option<Rate> {
    let mut rate = Rate { usd_per_loaded_mile: USUAL_RATE, minimum_usd: USUAL_MINIMUM, trailer_ft3: TRAILER_FT3 };
    let Some(entry) = entry else {
        assumed.push(
            "freight $4.00 a loaded mile, $150 a load at least, a trailer of 4,000 cubic feet (from memory)".to_owned(),
        );
        return Some(rate);
    };
    let mut fields = Fields::open(&entry.value, "`freight`", entry.key_span.clone(), notes)?;
    let per_mile = fields.number_required(&RATE, "4.00", notes);
    rate.minimum_usd = fields.number(&MINIMUM, notes).unwrap_or(0.0);
    rate.trailer_ft3 = fields.number(&TRAILER, notes).unwrap_or(TRAILER_FT3);
    fields.close(notes);
    rate.usd_per_loaded_mile = per_mile?;
    Some(rate)
}

/// Reads `trash` or `seed`.
pub(super) fn read(
    fields: &mut Fields<'_>,
    kind: Kind,
    facts: &Facts<'_>,
    rate: Option<Rate>,
    assumed: &mut Vec<String>,
    notes: &mut Notes,
) -> Option<Product> {
    let empty = Entry {
        key: kind.key().to_owned(),
        key_span: fields.place(),
        value: crate::scenario::node::Node { span: fields.place(), kind: NodeKind::Map(Vec::new()) },
    };
    let entry = fields.entry(kind.key());
    let place = entry.unwrap_or(&empty);
    let mut each = Fields::open(&place.value, format!("`{}`", kind.key()), place.key_span.clone(), notes)?;
    let form = match kind {
        Kind::Trash => each.choice("form", &Form::TRASH.map(|form| (form.key(), form)), notes).unwrap_or(Form::Loose),
        Kind::Seed => Form::Seed,
    };
    let tested_at = each.entry("test");
    let test = tested_at.map(|entry| composition::values(entry, "test", notes));
    let bulk = each.number(&BULK, notes);
    let own_tons_per_load = each.number(&LOAD, notes);
    let room = room(&mut each, notes);
    let loss = loss(&mut each, kind, facts, notes);
    let keep = each.number(&KEEPING, notes).unwrap_or(0.0);
    let index = usize::from(kind == Kind::Seed);
    let loading = each.number(&LOADING, notes);
    let asked = each.number(&ASKED, notes);
    let ceiling = each.number(&CEILING, notes).unwrap_or(CEILING_USD[index]);
    let (from, to) = crate::scenario::feeds::dates(&mut each, ("from", "to"), "had", notes);
    never_sold(&mut each, (from, to), facts.days, notes);
    let uses = each.entry("uses");
    let at = uses.map_or(place.key_span.clone(), |entry| entry.key_span.clone());
    let outlets = outlets(uses, kind, at, assumed, notes);
    let loading_usd_per_ton = loading.unwrap_or(LOADING_USD[index]);
    low_ceiling(&mut each, ceiling, loading_usd_per_ton, outlets.as_deref().unwrap_or_default(), notes);
    each.close(notes);
    if loading.is_none() {
        assumed.push(format!("loading {} ${:.0} a ton (judgement)", kind.key(), LOADING_USD[index]));
    }
    if matches!(room, Room::Any) && kind == Kind::Trash {
        assumed.push("room for any pile of trash: `storage_tons` says how much there is".to_owned());
    }
    let mut feed = match kind {
        Kind::Trash => trash_feed(facts.harvest?, form, facts.library)?,
        Kind::Seed => facts.library.feeds.get("whole_cottonseed")?.clone(),
    };
    let tested_on = test.as_ref().and_then(|values| values.tested);
    let tested = test.as_ref().is_some_and(|values| !values.figures.is_empty());
    if let (Some(entry), Some(values)) = (tested_at, &test) {
        plausible::judge(entry, values, &feed, facts.library, notes);
        told::dated(entry, facts.days, notes);
    }
    if let Some(values) = test {
        composition::lay_over(&mut feed, values.figures);
    }
    if let (Some(words), Some(tdn)) = (feed.dirt_words(), feed.get(Nutrient::Tdn)) {
        assumed.push(format!("TDN of {} {tdn:.1} %: {words} (judgement)", kind.key()));
    }
    let two_prices_usd_per_ton = by_two_prices(&feed, facts.library);
    let lb_per_ft3 = bulk.unwrap_or(form.density().usual);
    feed.bulk_lb_per_ft3 = Some(Figure::new(lb_per_ft3, if bulk.is_some() { Origin::Given } else { Origin::Memory }));
    Some(Product {
        kind,
        feed,
        tested_on,
        tested,
        form,
        lb_per_ft3,
        own_tons_per_load,
        rate: rate?,
        room,
        loss,
        keep_usd_per_ton_month: keep,
        loading_usd_per_ton,
        asked_usd_per_ton: asked,
        ceiling_usd_per_ton: ceiling,
        from,
        to,
        two_prices_usd_per_ton,
        outlets: outlets?,
    })
}

/// The row of the feed table that trash of a harvest and form is. The rows ship with the program; a test holds that they
/// are there. That of ground trash is of picked cotton: of stripped cotton the fiber that grinding shortens is laid over.
fn trash_feed(harvest: Harvest, form: Form, library: Library<'_>) -> Option<Feed> {
    let plain = library.feeds.get(harvest.trash_row())?;
    if form != Form::Ground {
        return Some(plain.clone());
    }
    let ground = library.feeds.get(GROUND_ROW)?;
    if !harvest.is_stripped() {
        return Some(ground.clone());
    }
    let mut feed = plain.clone();
    if let Some(fiber) = ground.values.get(&Nutrient::Endf) {
        feed.values.insert(Nutrient::Endf, fiber.clone());
    }
    Some(feed)
}

/// Days of sale that leave no day of the season.
fn never_sold(
    fields: &mut Fields<'_>,
    (from, to): (Option<Date>, Option<Date>),
    days: Option<(Date, Date)>,
    notes: &mut Notes,
) {
    let Some((first, last)) = days else { return };
    let (key, words) = if from.is_some_and(|day| day > last) {
        ("from", format!("after {last}, the end of what is sold of this harvest"))
    } else if to.is_some_and(|day| day < first) {
        ("to", format!("before the first bale on {first}"))
    } else {
        return;
    };
    let at = fields.entry(key).map_or(fields.place(), Entry::place);
    notes.push(
        Code::NeverSold
            .error(format!("{} is never sold: `{key}` is {words}", fields.what()))
            .at(at, "no day of this season is left")
            .help("correct the year, or delete the line"),
    );
}

/// A highest price at which no sale nets what the best outlet does.
fn low_ceiling(fields: &mut Fields<'_>, ceiling: f64, loading: f64, outlets: &[Outlet], notes: &mut Notes) {
    let Some((entry, _)) = fields.measured(&CEILING, notes) else { return };
    let any = outlets.iter().filter(|one| one.tons_per_week.is_none());
    let Some(best) = any.max_by(|a, b| a.usd_per_ton.total_cmp(&b.usd_per_ton)) else { return };
    if ceiling - loading >= best.usd_per_ton {
        return;
    }
    notes.push(
        Code::LowCeiling
            .warning(format!(
                "no price up to ${ceiling:.2} nets as much as `{}` at ${:.2}, after ${loading:.2} for loading",
                best.name, best.usd_per_ton
            ))
            .at(entry.place(), "no neighbor is sold any")
            .help(format!("write at least {}, or delete the line", figure(best.usd_per_ton + loading))),
    );
}

/// Worth of a ton by the prices of corn and distillers grain in the reference herd.
fn by_two_prices(feed: &Feed, library: Library<'_>) -> Option<f64> {
    let market = |row: &str, usd: f64| two_prices::market(library.feeds.get(row)?, usd);
    let energy = market("corn", reference::CORN_USD_PER_TON)?;
    let protein = market("distillers_grains", reference::DISTILLERS_USD_PER_TON)?;
    two_prices::of_feed(&energy, &protein, feed)
}

fn room(fields: &mut Fields<'_>, notes: &mut Notes) -> Room {
    let tons = fields.number(&STORAGE, notes);
    let feet = fields.number(&BULK_ROOM, notes);
    if let (Some(first), Some(second)) = (fields.entry(STORAGE.key()), fields.entry(BULK_ROOM.key())) {
        notes.push(exclusive(first, second));
    }
    tons.map(Room::Tons).or(feet.map(Room::CubicFeet)).unwrap_or(Room::Any)
}

fn is_word(entry: &Entry, word: &str) -> bool {
    matches!(&entry.value.kind, NodeKind::Scalar { text, .. } if text == word)
}

fn loss(fields: &mut Fields<'_>, kind: Kind, facts: &Facts<'_>, notes: &mut Notes) -> StorageLoss {
    let own = ["stored", "loss_pct", "loss_pct_per_month"].iter().any(|key| fields.present(key));
    if let Some(entry) = fields.entry("stored").filter(|entry| is_word(entry, "tank")) {
        notes.push(
            Code::Unused
                .warning(format!("`stored: tank` does not fit `{}`", kind.key()))
                .at(entry.place(), "a tank holds liquids")
                .help("write how it is kept: what is lost is reckoned from that"),
        );
    }
    let loss = crate::scenario::feeds::loss(fields, Some(kind.class()), facts.library, notes);
    if own || !facts.wet {
        return loss;
    }
    match loss {
        StorageLoss::PerMonth(share) => StorageLoss::PerMonth((share * WET_LOSS).min(0.9)),
        StorageLoss::Flat(share) => StorageLoss::Flat((share * WET_LOSS).min(0.9)),
    }
}

/// Names of the outlets.
pub(in crate::scenario) const OUTLETS: [&str; 5] = ["crush", "export", "compost", "spread", "haul_off"];

fn outlets(
    entry: Option<&Entry>,
    kind: Kind,
    at: crate::diagnostic::Span,
    assumed: &mut Vec<String>,
    notes: &mut Notes,
) -> Option<Vec<Outlet>> {
    let mut list = Vec::new();
    let mut whole = true;
    if let Some(entry) = entry {
        map_or_nothing(entry, "`uses`", notes)?;
        let empty = matches!(entry.value.kind, NodeKind::Null);
        if !empty {
            let mut fields = Fields::open(&entry.value, "`uses`", entry.key_span.clone(), notes)?;
            for name in OUTLETS {
                if let Some(found) = fields.entry(name) {
                    match outlet(name, found, notes) {
                        Some(one) => list.push(one),
                        None => whole = false,
                    }
                }
            }
            fields.close(notes);
        }
    }
    if whole && !list.iter().any(|one| one.tons_per_week.is_none()) {
        match kind {
            Kind::Trash => {
                assumed.push("$6 a ton to haul off what is not sold (from memory, 2 to 10)".to_owned());
                list.push(Outlet {
                    name: "haul_off".to_owned(),
                    usd_per_ton: HAUL_OFF_USD,
                    tons_per_week: None,
                    given: false,
                });
            }
            Kind::Seed => {
                notes.push(
                    Code::NoOutlet
                        .warning("nothing says what seed that neighbors do not buy would bring")
                        .at(at, "no price of the crusher or of export")
                        .because("neighbors take a small part of a gin's seed; the rest is counted at nothing")
                        .help("add `uses: {crush: 190}` under `seed`, US dollars per ton net at the gin"),
                );
                list.push(Outlet { name: NOWHERE.to_owned(), usd_per_ton: 0.0, tons_per_week: None, given: false });
            }
        }
    }
    list.sort_by(|a, b| b.usd_per_ton.total_cmp(&a.usd_per_ton));
    whole.then_some(list)
}

/// A figure, or `{usd_per_ton, tons_per_week}`.
fn outlet(name: &str, entry: &Entry, notes: &mut Notes) -> Option<Outlet> {
    let (usd, per_week) = if matches!(entry.value.kind, NodeKind::Map(_)) {
        let mut fields = Fields::open(&entry.value, format!("`{name}`"), entry.key_span.clone(), notes)?;
        let usd = fields.number_required(&OUTLET, "-6", notes);
        let per_week = fields.number(&crate::scenario::measure::PER_WEEK, notes);
        fields.close(notes);
        (usd, per_week)
    } else {
        let unit = OUTLET.units.first()?;
        (quantity(name, &entry.value, unit, OUTLET.range, notes), None)
    };
    Some(Outlet { name: name.to_owned(), usd_per_ton: usd?, tons_per_week: per_week, given: true })
}

/// Reads `processing`: the ways of handling trash, with figures of the file over the usual ones.
pub(super) fn choices(entry: Option<&Entry>, facts: &Facts<'_>, notes: &mut Notes) -> Option<Vec<Choice>> {
    let bunk = facts.library.losses.feeder("bunk").map(crate::feed::losses::LossEntry::share);
    let mut list = vec![
        Choice {
            name: "module",
            form: Form::Module,
            usd_per_ton: 4.0,
            cite: Cite::judgement("a pass of the module builder; no price was found"),
            waste: None,
            effective_ndf: None,
            taken_out: 0.0,
            ash_points: 0.0,
        },
        Choice {
            name: "bale",
            form: Form::Baled,
            usd_per_ton: 18.0,
            cite: Cite::judgement("ties, press and labor; no price was found"),
            waste: None,
            effective_ndf: None,
            taken_out: 0.0,
            ash_points: 0.0,
        },
        Choice {
            name: "grind",
            form: Form::Ground,
            usd_per_ton: 18.0,
            cite: Cite::new("", "tub grinding 12 to 25 in the 2020s", Origin::Memory),
            waste: bunk,
            effective_ndf: facts.library.feeds.get(GROUND_ROW).and_then(|row| row.get(Nutrient::Endf)),
            taken_out: 0.0,
            ash_points: 0.0,
        },
        Choice {
            name: "screen",
            form: Form::Loose,
            usd_per_ton: 3.0,
            cite: Cite::judgement("a tenth taken out as fines, three points of ash with it; try it and test"),
            waste: None,
            effective_ndf: None,
            taken_out: 0.1,
            ash_points: 3.0,
        },
    ];
    let Some(entry) = entry else { return Some(list) };
    let mut fields = Fields::open(&entry.value, "`processing`", entry.key_span.clone(), notes)?;
    for choice in &mut list {
        let Some(found) = fields.entry(choice.name) else { continue };
        let mut each = Fields::open(&found.value, format!("`{}`", choice.name), found.key_span.clone(), notes)?;
        if let Some(usd) = each.number(&COST, notes) {
            choice.usd_per_ton = usd;
            choice.cite = Cite::new("", "", Origin::Given);
        }
        if let Some(pct) = each.number(&WASTE, notes) {
            choice.waste = Some(pct / 100.0);
        }
        if choice.name == "screen" {
            if let Some(pct) = each.number(&TAKEN_OUT, notes) {
                choice.taken_out = pct / 100.0;
            }
            if let Some(points) = each.number(&ASH_POINTS, notes) {
                choice.ash_points = points;
            }
        }
        each.close(notes);
    }
    fields.close(notes);
    Some(list)
}

/// Whether a feed holds a value of a test.
pub(super) fn tested(feed: &Feed, nutrient: Nutrient) -> bool {
    feed.values.get(&nutrient).is_some_and(|figure| figure.origin == Origin::Given)
}
