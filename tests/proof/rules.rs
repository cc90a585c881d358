//! Every rule three ways: the row of the programme, the line of the check, and a sum over feed values in pounds
//! and percent written down here from the printed rules, which knows nothing of either.

use super::kit::{FEEDS, near, try_read};
use overwinter::check::judge;
use overwinter::feed::{FedHow, Feed, FeedClass, Nutrient, Offer};
use overwinter::herd::AnimalClass;
use overwinter::limit::Sense;
use overwinter::quantity::{KG_PER_LB, KgAsFed, lb_from_kg};
use overwinter::winter::{Case, Cell, assemble};
use proptest::prelude::*;
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// A miss of less than this share of the figure is neither here nor there: check and row round differently.
const ZONE: f64 = 1e-5;

/// A random block: a class, a weight, a month of the year's round, water, and feeds with pounds as fed.
#[derive(Debug, Clone)]
struct Draw {
    class: usize,
    weight_lb: u32,
    months_to_calving: i8,
    water_sulfur_g: f64,
    at_will: bool,
    nitrate_ppm: u32,
    feeds: Vec<(usize, f64)>,
}

fn draws() -> impl Strategy<Value = Draw> {
    let feeds = proptest::collection::vec((0..FEEDS.len(), 0.0..1.0_f64), 2..8);
    (0..7_usize, 900..1500_u32, -4..8_i8, prop_oneof![Just(0.0), 1.0..40.0_f64], any::<bool>(), 0..4500_u32, feeds)
        .prop_map(|(class, weight_lb, months_to_calving, water_sulfur_g, at_will, nitrate_ppm, feeds)| Draw {
            class,
            weight_lb,
            months_to_calving,
            water_sulfur_g,
            at_will,
            nitrate_ppm,
            feeds,
        })
}

/// The most of a feed that is drawn, lb as fed: from nothing to well past what any limit allows.
fn most_lb(feed: &Feed) -> f64 {
    match feed.class {
        FeedClass::Silage | FeedClass::Pasture => 80.0,
        class if class.is_roughage() => 30.0,
        FeedClass::Urea => 0.6,
        class if class.is_mineral() => 0.8,
        _ => 12.0,
    }
}

/// The herd file of a draw, and pounds as fed by feed.
fn herd(draw: &Draw) -> (String, BTreeMap<&'static str, f64>) {
    let class = AnimalClass::ALL[draw.class];
    // Young cattle weigh a half of what was drawn.
    let young = matches!(class, AnimalClass::Stocker | AnimalClass::ReplacementHeifer | AnimalClass::YoungBull);
    let weight = if young { draw.weight_lb / 2 } else { draw.weight_lb };
    let mut text = format!(
        "winter: {{from: 2026-12-01, to: 2027-01-15, periods: [2026-12-01]}}\ngroups:\n  herd: {{kind: {}, head: 10, \
         weight_lb: {weight}, water_sulfur_g: {}",
        class.key(),
        draw.water_sulfur_g
    );
    if class.grows() {
        write!(text, ", mature_weight_lb: {}", draw.weight_lb + 200).unwrap();
    }
    if young {
        text.push_str(", gain_lb_per_day: 1.2");
    }
    if class.calves() {
        let month = 12 + i32::from(draw.months_to_calving);
        write!(text, ", calving: {}-{:02}-10", 2026 + (month - 1) / 12, (month - 1) % 12 + 1).unwrap();
    }
    text.push_str("}\nfeeds:\n");
    let mut amounts = BTreeMap::new();
    for (index, share) in &draw.feeds {
        let feed = FEEDS.iter().nth(*index).unwrap();
        if amounts.insert(feed.id.as_str(), share * most_lb(feed)).is_some() {
            continue;
        }
        let how = if draw.at_will && feed.class.is_roughage() { ", fed: free_choice" } else { "" };
        // Every second roughage is tested for nitrate; the others are not, and count for nothing.
        let test = if feed.class.is_roughage() && index % 2 == 0 {
            format!(", test: {{nitrate_n_ppm_dm: {}}}", (draw.nitrate_ppm as usize + 700 * index) % 4500)
        } else {
            String::new()
        };
        writeln!(text, "  {}: {{price_usd_per_ton: 100{how}{test}}}", feed.id).unwrap();
    }
    (text, amounts)
}

/// One feed of a ration, lb.
struct Part<'a> {
    offer: &'a Offer,
    feed: &'a Feed,
    as_fed: f64,
    dm: f64,
}

/// What the printed rules say of a ration, from feed values alone: rule → (value, figure).
#[allow(clippy::too_many_lines, reason = "one table, rule after rule")]
fn by_hand(case: &Case, cell: &Cell<'_>, lb_as_fed: &[f64]) -> BTreeMap<&'static str, (f64, f64)> {
    let (group, needs) = (cell.block.group, &cell.block.needs);
    // Class by class: cow, first-calf cow, bred heifer, replacement heifer, stocker, young bull, bull.
    let class = AnimalClass::ALL.iter().position(|one| *one == group.class).unwrap();
    let grows = matches!(class, 1..=5);
    let body_lb = lb_from_kg(needs.weight_kg);
    let milking = if group.peak_milk_kg > 0.0 { (needs.milk_kg / group.peak_milk_kg).min(1.0) } else { 0.0 };

    let parts: Vec<Part<'_>> = case
        .offers
        .iter()
        .zip(lb_as_fed)
        .zip(&cell.block.available)
        .filter(|(_, here)| **here)
        .map(|((offer, lb), _)| Part { offer, feed: &offer.feed, as_fed: *lb, dm: lb * offer.feed.dm_pct() / 100.0 })
        .collect();
    let mineral = |feed: &Feed| matches!(feed.class, FeedClass::Mineral | FeedClass::Limestone);
    let roughage = |feed: &Feed| {
        use FeedClass::{CottonseedHulls, Dormant, GinTrash, Hay, Pasture, Silage, Straw};
        matches!(feed.class, Hay | Straw | GinTrash | CottonseedHulls | Silage | Dormant | Pasture)
    };
    let pct = |feed: &Feed, nutrient| feed.get(nutrient).unwrap_or(0.0) / 100.0;
    let sum = |of: &dyn Fn(&Part<'_>) -> f64| -> f64 { parts.iter().map(of).sum() };
    let of = |nutrient| sum(&|part| part.dm * pct(part.feed, nutrient));
    let of_class = |wanted: FeedClass| sum(&|part| if part.feed.class == wanted { part.as_fed } else { 0.0 });
    let dry_of_class = |wanted: FeedClass| sum(&|part| if part.feed.class == wanted { part.dm } else { 0.0 });

    let dm = sum(&|part| part.dm);
    let organic = sum(&|part| if mineral(part.feed) { 0.0 } else { part.dm });
    let forage = sum(&|part| if roughage(part.feed) { part.dm } else { 0.0 });
    // Ground or pelleted roughage is long by the effective share of its fiber; of hay and straw that is over nine tenths.
    let long = sum(&|part| {
        let chopped =
            matches!(part.feed.class, FeedClass::GinTrash | FeedClass::Straw) && pct(part.feed, Nutrient::Endf) < 0.9;
        match (roughage(part.feed), chopped) {
            (false, _) => 0.0,
            (true, false) => part.dm,
            (true, true) => part.dm * pct(part.feed, Nutrient::Endf),
        }
    });
    let npn_feed = |feed: &Feed| matches!(feed.class, FeedClass::Urea | FeedClass::Liquid);
    // Urea's protein is not credited to growing cattle.
    let credited = |feed: &Feed| {
        let cp = pct(feed, Nutrient::Cp);
        if grows && npn_feed(feed) { cp * (1.0 - pct(feed, Nutrient::Npn)) } else { cp }
    };
    let cp = sum(&|part| part.dm * credited(part.feed));
    let all_cp = of(Nutrient::Cp);
    let npn_cp = sum(&|part| {
        if npn_feed(part.feed) { part.dm * pct(part.feed, Nutrient::Cp) * pct(part.feed, Nutrient::Npn) } else { 0.0 }
    });
    let rup = |feed: &Feed| pct(feed, Nutrient::Cp) * pct(feed, Nutrient::Rup);
    let g = 1000.0 * KG_PER_LB;
    let mp_energy = g * (0.64 * 0.13 * of(Nutrient::Tdn) + 0.80 * sum(&|part| part.dm * rup(part.feed)));
    let mp_degradable = g
        * (0.64 * sum(&|part| part.dm * (credited(part.feed) - rup(part.feed)).max(0.0))
            + 0.80 * sum(&|part| part.dm * rup(part.feed)));
    let sulfur = of(Nutrient::S) + needs_water_lb(group.water_sulfur_g);
    // 0.30 % of dry matter at 15 % forage, 0.50 % at 40 %.
    let forage_share = if organic > 0.0 { forage / organic } else { 0.0 };
    let sulfur_allowed = 0.30 + (0.50 - 0.30) * (forage_share - 0.15) / (0.40 - 0.15);
    // Free gossypol: each source by its own limit, FG seed / limit + FG meal / limit at most 1.
    let seed_limit = [1200.0, 1200.0, 900.0, 900.0, 900.0, 600.0, 900.0][class];
    let meal_limit = [600.0, 600.0, 400.0, 200.0, 200.0, 150.0, 200.0][class];
    let seed_ppm =
        1e6 * sum(&|part| {
            if part.feed.class == FeedClass::WholeCottonseed {
                part.dm * pct(part.feed, Nutrient::FreeGossypol)
            } else {
                0.0
            }
        }) / organic;
    let meal_ppm =
        1e6 * sum(&|part| match part.feed.class {
            FeedClass::CottonseedMeal | FeedClass::CottonseedHulls | FeedClass::Cube => {
                part.dm * pct(part.feed, Nutrient::FreeGossypol)
            }
            _ => 0.0,
        }) / organic;
    let mixed = seed_ppm / seed_limit + meal_ppm / meal_limit;
    let added_fat = sum(&|part| {
        if roughage(part.feed) || mineral(part.feed) {
            0.0
        } else {
            part.dm * (pct(part.feed, Nutrient::Fat) - 0.02).max(0.0)
        }
    });
    let nem_per_lb = |feed: &Feed| {
        let me = 0.82 * 0.044_09 * feed.get(Nutrient::Tdn).unwrap_or(0.0);
        (1.37 * me - 0.138 * me * me + 0.0105 * me.powi(3) - 1.12).max(0.0) * KG_PER_LB
    };
    let dry_milking = |dry: f64, wet: f64| dry * (1.0 - milking) + wet * milking;
    let between = |dry: [f64; 7], wet: [f64; 7]| dry_milking(dry[class], wet[class]);

    let mut hand = BTreeMap::from([
        ("energy", (sum(&|part| part.dm * nem_per_lb(part.feed)), needs.energy.total_nem_mcal())),
        ("crude-protein", (cp, lb_from_kg(needs.mp.total_g() / 0.67 / 1000.0))),
        ("protein-by-energy", (mp_energy, needs.mp.total_g())),
        ("protein-by-degradable", (mp_degradable, needs.mp.total_g())),
        ("protein-floor", (100.0 * cp / organic, 7.0)),
        ("calcium", (of(Nutrient::Ca) * g, needs.ca.total_g())),
        ("phosphorus", (of(Nutrient::P) * g, needs.p.total_g())),
        ("calcium-to-phosphorus-least", (of(Nutrient::Ca) / of(Nutrient::P), 1.2)),
        ("calcium-to-phosphorus-most", (of(Nutrient::Ca) / of(Nutrient::P), 7.0)),
        ("sulfur", (100.0 * sulfur / organic, 0.50)),
        ("sulfur-with-little-forage", (100.0 * (100.0 * sulfur / organic) / sulfur_allowed, 100.0)),
        ("roughage-floor", (100.0 * long / body_lb, [1.0, 1.0, 1.0, 0.5, 0.5, 0.5, 1.0][class])),
        (
            "forage-ndf",
            (
                100.0 * sum(&|part| if roughage(part.feed) { part.dm * pct(part.feed, Nutrient::Ndf) } else { 0.0 })
                    / body_lb,
                between([1.3, 1.3, 1.2, 1.0, 1.0, 1.0, 1.2], [1.5, 1.5, 1.2, 1.0, 1.0, 1.0, 1.2]),
            ),
        ),
        ("fat", (100.0 * of(Nutrient::Fat) / organic, 6.0)),
        ("added-fat", (100.0 * added_fat / organic, 4.0)),
        // The tool writes the mix as ppm of seed: 1 is the seed limit.
        ("gossypol", (mixed * seed_limit, seed_limit)),
        ("gossypol-of-meal", (meal_ppm, meal_limit)),
        (
            "seed-of-body-weight",
            (100.0 * of_class(FeedClass::WholeCottonseed) / body_lb, [0.5, 0.5, 0.5, 0.33, 0.33, 0.33, 0.5][class]),
        ),
        (
            "seed-of-dry-matter",
            (
                100.0 * dry_of_class(FeedClass::WholeCottonseed) / organic,
                [20.0, 20.0, 15.0, 15.0, 15.0, 10.0, 15.0][class],
            ),
        ),
        ("npn", (100.0 * npn_cp / all_cp, 33.0)),
        // A tenth of a pound, and a hundredth of a pound for each of grain; feed-grade urea counts as 284 % protein.
        ("urea-by-grain", (100.0 * (npn_cp / 2.84) / (0.1 + 0.01 * of_class(FeedClass::Grain)), 100.0)),
        ("urea-a-day", (npn_cp / 2.84, 0.25)),
        ("urea", (100.0 * dry_of_class(FeedClass::Urea) / organic, 1.0)),
        ("nitrate", (100.0 * sum(&|part| part.dm * nitrate_room(part.feed, in_calf(group, case))) / organic, 100.0)),
        ("grain", (100.0 * of_class(FeedClass::Grain) / body_lb, [0.4, 0.4, 0.4, 0.8, 0.8, 0.8, 0.4][class])),
        ("distillers", (100.0 * of_class(FeedClass::Distillers) / body_lb, 0.5)),
        // 45 days, the first 14 of them at half.
        ("gin-trash", (100.0 * dry_of_class(FeedClass::GinTrash) / body_lb, (14.0 * 0.5 + 31.0 * 1.0) / 45.0)),
        // Half of the diet, a quarter in the last 90 days of 280.
        ("straw", (100.0 * dry_of_class(FeedClass::Straw) / organic, 50.0 - 25.0 * last_third(case))),
        ("limestone", (of_class(FeedClass::Limestone), 0.3)),
        ("heifer-intake", (100.0 * dm / body_lb, 2.4)),
        (
            "appetite-floor",
            (100.0 * organic / body_lb, if group.class == AnimalClass::Bull { 1.5 } else { dry_milking(1.75, 2.0) }),
        ),
        ("intake", (dm, lb_from_kg(needs.dmi_kg))),
        ("intake-at-will", (dm, 1.10 * lb_from_kg(needs.dmi_kg))),
    ]);
    // What is eaten at will: roughage by its NDF against that of the first of them, 0.3 lb a pound of the rest.
    if let Some(first) = parts.iter().find(|part| roughage(part.feed) && part.offer.fed == FedHow::FreeChoice) {
        let ndf = pct(first.feed, Nutrient::Ndf);
        let room = sum(&|part| {
            if mineral(part.feed) {
                0.0
            } else if roughage(part.feed) {
                part.dm * pct(part.feed, Nutrient::Ndf) / ndf
            } else {
                0.3 * part.dm
            }
        });
        let fiber = between([1.3, 1.3, 1.2, 1.0, 1.0, 1.0, 1.2], [1.5, 1.5, 1.2, 1.0, 1.0, 1.0, 1.2]) / ndf;
        hand.insert("roughage-at-will", (room, body_lb * dry_milking(1.8, 2.2).min(fiber) / 100.0));
    }
    hand
}

/// Whether a female is in calf on any day of the winter: 280 days before each calving, a year apart.
fn in_calf(group: &overwinter::herd::Group, case: &Case) -> bool {
    let Some(calving) = group.calving else { return false };
    let days = case.periods[0].from.series(jiff::Span::new().days(1)).take_while(|day| *day < case.periods[0].to);
    days.into_iter().any(|day| {
        let since = day.since(calving).unwrap().get_days();
        let carries = since.rem_euclid(365) > 365 - 280;
        carries || group.class == AnimalClass::BredHeifer && since < 0
    })
}

/// Parts of the ration's room that a part of a feed tested for nitrate takes, from the printed brackets.
fn nitrate_room(feed: &Feed, in_calf: bool) -> f64 {
    let Some(ppm) = feed.get(Nutrient::NitrateN) else { return 0.0 };
    let printed_share = match ppm {
        _ if ppm >= 3500.0 => 25.0,
        _ if ppm >= 2000.0 => 35.0,
        _ if ppm >= 1500.0 => 50.0,
        _ if ppm > 1000.0 => {
            if in_calf {
                50.0
            } else {
                100.0
            }
        }
        _ => 100.0 / (ppm.max(1e-9) / 1000.0),
    };
    100.0 / printed_share
}

/// Share of the days of the period that lie in the last 90 before the calving, or before the next a year on.
fn last_third(case: &Case) -> f64 {
    let (group, period) = (&case.groups[0], &case.periods[0]);
    let Some(calving) = group.calving else { return 0.0 };
    let late = |day: jiff::civil::Date| {
        let to_go = calving.since(day).unwrap().get_days();
        // A heifer has no calf but this one; a cow calves every 365 days.
        let to_go = if group.class == AnimalClass::BredHeifer && to_go >= 0 { to_go } else { to_go.rem_euclid(365) };
        (1..90).contains(&to_go)
    };
    let days = f64::from(period.days());
    let mut day = period.from;
    let mut count = 0.0;
    while day < period.to {
        count += f64::from(u8::from(late(day)));
        day = day.tomorrow().unwrap();
    }
    count / days
}

/// Sulfur of the water, lb.
fn needs_water_lb(grams: f64) -> f64 {
    grams / 1000.0 / KG_PER_LB
}

fn misses(sense: Sense, value: f64, figure: f64) -> f64 {
    match sense {
        Sense::AtLeast => figure - value,
        Sense::AtMost => value - figure,
        Sense::Exactly => (value - figure).abs(),
    }
}

/// How often each rule was seen, kept and not kept.
type Seen = BTreeMap<&'static str, [u32; 2]>;

/// Judges one draw three ways. Counts what it saw.
fn three_ways(draw: &Draw, seen: &mut Seen) {
    let (text, amounts) = herd(draw);
    let case = try_read(&text).unwrap_or_else(|why| panic!("{why}"));
    // A feed with a figure that a rule needs and nobody knows makes no row and no check.
    let Ok(cells) = assemble(&case) else { return };
    let cell = &cells[0][0];
    let lb_as_fed: Vec<f64> = case
        .offers
        .iter()
        .zip(&cell.block.available)
        .map(|(offer, here)| if *here { amounts[offer.id.as_str()] } else { 0.0 })
        .collect();
    let kg_dm: Vec<f64> = case
        .offers
        .iter()
        .zip(&lb_as_fed)
        .map(|(offer, lb)| KgAsFed::from_lb(*lb).dry(offer.feed.dm_pct()).0)
        .collect();
    let verdict = judge(&cell.block, &cell.demands, &case.offers, &kg_dm);
    let grows = usize::from(cell.demands.growth.is_some());
    assert_eq!(verdict.lines.len(), cell.demands.rules.len() + grows);
    let hand = by_hand(&case, cell, &lb_as_fed);
    for (instance, line) in cell.demands.rules.iter().zip(&verdict.lines[grows..]) {
        assert_eq!(instance.rule.id, line.rule.id);
        let id = instance.rule.id;
        if instance.per_value(&kg_dm).abs() < 1e-9 {
            // A share of nothing.
            continue;
        }
        let miss = misses(instance.rule.sense, line.value, line.limit);
        // The floor of crude protein forgives a tenth in a check, and in a check alone.
        let forgiven = if id == "protein-floor" { 0.1 } else { 0.0 };
        let zone = ZONE * line.limit.abs().max(1.0);
        if miss.abs() > zone && (miss - forgiven).abs() > zone && !(0.0..=forgiven).contains(&miss) {
            let (coefficients, _) = instance.row();
            let (low, high) = instance.sides();
            let row: f64 = coefficients.iter().zip(&kg_dm).map(|(a, x)| a * x).sum();
            let satisfied = row >= low && row <= high;
            assert_eq!(satisfied, line.kept, "{id}: row {row} in {low} to {high}, line {line:?}, {draw:?}");
            seen.entry(id).or_default()[usize::from(line.kept)] += 1;
        }
        if let Some(about) = &instance.about {
            // The only amounts of one feed in these files are three ounces of each mineral.
            let f = case.offers.iter().position(|offer| offer.id == *about).unwrap();
            assert_eq!((id, case.offers[f].feed.class), ("your-fixed", FeedClass::Mineral));
            near(line.value, lb_as_fed[f], 1e-12, "pounds of a mineral");
            near(line.limit, 3.0 / 16.0, 1e-12, "three ounces");
            continue;
        }
        let (value, figure) = *hand.get(id).unwrap_or_else(|| panic!("{id} is not written down by hand"));
        near(line.value, value, 1e-9 * value.abs().max(1.0), &format!("value of {id}, {draw:?}"));
        near(line.limit, figure, 1e-9 * figure.abs().max(1.0), &format!("figure of {id}, {draw:?}"));
    }
    if let Some(growth) = &cell.demands.growth {
        growth_agrees(growth, &kg_dm, &verdict.lines[0], seen);
    }
}

/// Growth is kept exactly when some split of the mix serves both, and then no tangent of the programme cuts it off;
/// when it is not, every split is cut off by the tangents at it.
fn growth_agrees(growth: &overwinter::limit::Growth, kg_dm: &[f64], line: &overwinter::check::Line, seen: &mut Seen) {
    let dot = |values: &[f64]| -> f64 { values.iter().zip(kg_dm).map(|(a, x)| a * x).sum() };
    let (nem, neg) = (dot(&growth.nem), dot(&growth.neg));
    let (m, g) = (growth.maintenance_nem_mcal, growth.gain_neg_mcal);
    let serves = |split: f64| nem >= m / split && neg >= g / (1.0 - split);
    let tangents_hold = |at: f64, split: f64| {
        let q = 1.0 - at;
        nem + m / (at * at) * split >= 2.0 * m / at - 1e-9
            && neg - g / (q * q) * split >= 2.0 * g / q - g / (q * q) - 1e-9
    };
    let splits = || (1..100).map(|step| f64::from(step) / 100.0);
    let best = m / nem;
    if (line.value - line.limit).abs() < ZONE * line.limit.max(1.0) {
        return;
    }
    assert_eq!(line.kept, best < 1.0 && serves(best * (1.0 + 1e-12)), "{line:?}");
    seen.entry("growth").or_default()[usize::from(line.kept)] += 1;
    if line.kept {
        for at in splits() {
            assert!(tangents_hold(at, best), "tangent at {at} cuts off a ration that grows: {line:?}");
        }
    } else {
        for split in splits() {
            assert!(!tangents_hold(split, split), "split {split} slips through: {line:?}");
        }
    }
}

#[test]
fn row_check_and_feed_values_agree_for_every_rule_of_every_class() {
    let mut seen = Seen::new();
    let mut runner = proptest::test_runner::TestRunner::new(ProptestConfig {
        cases: 1500,
        failure_persistence: None,
        ..ProptestConfig::default()
    });
    let cell = std::cell::RefCell::new(&mut seen);
    runner
        .run(&draws(), |draw| {
            three_ways(&draw, &mut cell.borrow_mut());
            Ok(())
        })
        .unwrap_or_else(|failure| panic!("{failure}"));
    // Every rule that is declared was met on both its sides, or the test has not looked.
    for rule in overwinter::limit::RULES {
        if rule.id == "tdn" {
            // Only with `needs_override`; see the printed check case.
            continue;
        }
        let [broken, kept] = seen.get(rule.id).copied().unwrap_or_default();
        if rule.id == "roughage-at-will" {
            // An equation: a random ration never meets it. Held by hand-computed value and figure, and by the plans.
            assert!(broken > 0, "{} was never looked at", rule.id);
        } else {
            assert!(broken > 0 && kept > 0, "{}: {broken} broken, {kept} kept", rule.id);
        }
    }
}

/// Which rows of the feed table cannot be used as they stand, because a rule needs a figure that nobody printed.
#[test]
fn every_feed_of_the_table_can_be_offered() {
    for feed in FEEDS.iter() {
        for kind in [
            "cow, head: 1, weight_lb: 1200, calving: open",
            "stocker, head: 1, weight_lb: 600, mature_weight_lb: 1200, gain_lb_per_day: 1",
        ] {
            let text = format!(
                "winter: {{from: 2026-12-01, to: 2027-01-01}}\ngroups: {{herd: {{kind: {kind}}}}}\nfeeds: {{{}: {{price_usd_per_ton: 100}}}}\n",
                feed.id
            );
            let case = try_read(&text).unwrap_or_else(|why| panic!("{why}"));
            let cells = assemble(&case);
            assert!(cells.is_ok(), "{}: {cells:?}", feed.id);
        }
    }
}
