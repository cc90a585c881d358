//! Sense: what a person who knows cattle would look at first.

use super::kit::{checked, herd, lb, line, planned, price, read};
use crate::rows::{Inputs, Ours, run};
use indexmap::indexmap;
use overwinter::feed::Nutrient;
use overwinter::limit::Block;
use overwinter::need::{NeedsOverride, needs_in_month};
use overwinter::quantity::{KgDm, lb_from_kg};
use overwinter::report::model::Report;
use overwinter::winter::program::Program;
use overwinter::winter::{Case, Cell, assemble, plan};

/// A price at which a feed is fed for its own sake, so that the limits alone say how much.
const AT_ANY_PRICE: f64 = -5000.0;

/// The limits on seed.
const SEED_LIMITS: [&str; 5] = ["seed-of-body-weight", "seed-of-dry-matter", "gossypol", "fat", "added-fat"];

/// Most seed, lb as fed, if of the limits on seed one alone holds.
fn most_seed(case: &Case, month: Option<u32>, only: &str, all_fat_added: bool) -> f64 {
    let (group, period) = (&case.groups[0], &case.periods[0]);
    let cells = match month {
        Some(month) => {
            let needs = needs_in_month(group, month);
            let block = Block::new(group, period, period.from, needs, NeedsOverride::default(), &case.offers, 0.3);
            let demands = block.demands(&case.offers, &case.limits).unwrap();
            vec![vec![Cell { block, demands }]]
        }
        None => assemble(case).unwrap(),
    };
    let mut cells = cells;
    cells[0][0].demands.rules.retain(|rule| !SEED_LIMITS.contains(&rule.rule.id) || rule.rule.id == only);
    if all_fat_added {
        // The other way of counting: all the fat of what is no roughage is added.
        let rule = cells[0][0].demands.rules.iter_mut().find(|rule| rule.rule.id == "added-fat").unwrap();
        for (value, offer) in rule.over.iter_mut().zip(&case.offers) {
            let roughage = offer.feed.class.is_roughage();
            *value = if roughage { 0.0 } else { offer.feed.get(Nutrient::Fat).unwrap_or(0.0) };
        }
    }
    let plan = plan(case, &cells).unwrap_or_else(|why| panic!("{only}: {why:#?}"));
    let seed = case.offers.iter().position(|offer| offer.id == "whole_cottonseed").unwrap();
    KgDm(plan.rations[0][0].kg_dm[seed]).as_fed(case.offers[seed].feed.dm_pct()).lb()
}

#[test]
fn which_limit_binds_on_seed() {
    run("plan_seed_limits.yaml", |row: &Inputs| -> Ours {
        let diet = row.text("diet");
        let cow = |weight: u32| format!("kind: cow, weight_lb: {weight}, peak_milk_lb: 20, calving: 2027-03-01");
        let (group, month, roughage) = match diet {
            "dry m9 stripper" => (cow(1200), Some(9), "gin_trash_stripper"),
            "dry m11 picker" | "dry m11 picker of 2 % fat" => (cow(1200), Some(11), "gin_trash_picker"),
            "dry m11 mature bermuda" => (cow(1200), Some(11), "bermuda_hay_mature"),
            "dry 1300 prairie" => (cow(1300), Some(10), "prairie_hay"),
            "milk m2 prairie" => (cow(1200), Some(2), "prairie_hay"),
            "milk m2 good bermuda" => (cow(1200), Some(2), "bermuda_hay_good"),
            "bred heifer m7 stripper" => (
                "kind: bred_heifer, weight_lb: 960, mature_weight_lb: 1200, calving: 2027-04-01".to_owned(),
                None,
                "gin_trash_stripper",
            ),
            "stocker 500 lb" => (
                "kind: stocker, weight_lb: 500, mature_weight_lb: 1200, gain_lb_per_day: 2".to_owned(),
                None,
                "bermuda_hay_good",
            ),
            "mature bull 1800" => ("kind: bull, weight_lb: 1800".to_owned(), None, "bermuda_hay_mature"),
            other => panic!("{other}"),
        };
        let test = if diet.ends_with("2 % fat") { ", test: {fat_pct_dm: 2.0}" } else { "" };
        let mut case = read(&format!(
            "winter: {{from: 2026-12-01, to: 2026-12-02}}\ngroups:\n  herd: {{{group}, head: 1}}\nfeeds:\n  \
             {roughage}: {{price_usd_per_ton: 110{test}}}\n  whole_cottonseed: {{price_usd_per_ton: 1}}\n  \
             range_cube_20: {{price_usd_per_ton: 312}}\n  corn: {{price_usd_per_ton: 190}}\n  \
             soybean_hulls: {{price_usd_per_ton: 200}}\n  limestone: {{price_usd_per_ton: 180}}\n  \
             mineral_12_12: {{price_usd_per_ton: 900}}\n"
        ));
        price(&mut case, "whole_cottonseed", AT_ANY_PRICE);
        let most = |only: &str| most_seed(&case, month, only, false);
        let ours = indexmap! {
            "body_weight" => most("seed-of-body-weight"),
            "dry_matter" => most("seed-of-dry-matter"),
            "gossypol" => most("gossypol"),
            "fat" => most("fat"),
            "added_fat" => most_seed(&case, month, "added-fat", true),
        };
        // Whichever is least decides, and it is the same one there and here, but for the picker trash: at the 4 % fat
        // it now has, total fat comes a hair before gossypol.
        if !row.has("gossypol") {
            return ours;
        }
        let least = ours.iter().min_by(|a, b| a.1.total_cmp(b.1)).unwrap().0;
        let printed = ours.keys().min_by(|a, b| row.number(a).total_cmp(&row.number(b))).unwrap();
        let expected = if diet == "dry m11 picker" { "fat" } else { printed };
        assert_eq!(*least, expected, "{diet}: {ours:?}");
        ours
    });
}

/// A dry 1,200-lb cow in her last third, trash at will.
fn last_third(seed_usd: f64, cubes: bool) -> Case {
    let cubes = if cubes { "  range_cube_20: {price_usd_per_ton: 312}\n" } else { "" };
    read(&format!(
        "winter: {{from: 2027-01-01, to: 2027-02-01}}\ngroups:\n  cows: {{kind: cow, head: 1, weight_lb: 1200, \
         calving: 2027-03-01, peak_milk_lb: 20}}\nfeeds:\n  gin_trash_stripper: {{price_usd_per_ton: 40, fed: \
         free_choice}}\n  whole_cottonseed: {{price_usd_per_ton: {seed_usd}}}\n{cubes}  limestone: \
         {{price_usd_per_ton: 180}}\n  mineral_12_12: {{price_usd_per_ton: 900}}\n"
    ))
}

#[test]
fn a_dry_cow_on_trash_at_will() {
    let report = planned(&last_third(250.0, true));
    let period = &report.groups[0].periods[0];
    let (trash, seed, cubes) =
        (lb(period, "gin_trash_stripper"), lb(period, "whole_cottonseed"), lb(period, "range_cube_20"));
    assert!((18.0..26.0).contains(&trash), "trash {trash}");
    assert!((2.0..6.0).contains(&seed), "seed {seed}");
    assert!((0.0..6.0).contains(&cubes), "cubes {cubes}");
    assert!(line(period, "energy").binding, "energy decides");
    assert!((1.0..3.0).contains(&report.winter.cost_usd_per_head_day), "{}", report.winter.cost_usd_per_head_day);
    // Seed alone cannot hold her within its limits in the last 60 days, or just does: never more than 0.5 %.
    assert!(seed <= 6.0 + 1e-6);

    // Seed dear: cubes in its place.
    let report = planned(&last_third(900.0, true));
    let period = &report.groups[0].periods[0];
    assert!(lb(period, "whole_cottonseed") < 1e-6 && lb(period, "range_cube_20") > 3.0, "{:?}", period.ration);
}

#[test]
fn gossypol_or_fat_binds_when_seed_is_nearly_free() {
    for roughage in ["gin_trash_stripper", "gin_trash_picker", "prairie_hay", "bermuda_hay_mature"] {
        let case = read(&format!(
            "winter: {{from: 2027-01-01, to: 2027-02-01}}\ngroups:\n  cows: {{kind: cow, head: 1, weight_lb: 1200, \
             calving: 2027-03-01}}\nfeeds:\n  {roughage}: {{price_usd_per_ton: 110}}\n  whole_cottonseed: \
             {{price_usd_per_ton: 5}}\n  range_cube_20: {{price_usd_per_ton: 312}}\n  limestone: \
             {{price_usd_per_ton: 180}}\n  mineral_12_12: {{price_usd_per_ton: 900}}\n"
        ));
        let report = planned(&case);
        let period = &report.groups[0].periods[0];
        let bind: Vec<&str> = period.limits.iter().filter(|line| line.binding).map(|line| line.rule).collect();
        assert!(bind.iter().any(|rule| ["gossypol", "fat", "added-fat"].contains(rule)), "{roughage}: {bind:?}");
        assert!(lb(period, "whole_cottonseed") <= 6.0 + 1e-6);
    }
}

#[test]
fn no_ration_below_seven_percent_protein_and_no_distillers_past_half_a_percent() {
    // Everything pulls the other way: the poorest roughage free, distillers given away.
    let case = read(
        "winter: {from: 2026-12-01, to: 2027-04-01}\ngroups:\n  cows: {kind: cow, head: 50, weight_lb: 1200, calving: \
         2027-03-01}\n  open: {kind: cow, head: 10, weight_lb: 1250, calving: open}\n  heifers: {kind: bred_heifer, \
         head: 10, weight_lb: 950, mature_weight_lb: 1200, calving: 2027-02-15}\n  stockers: {kind: stocker, head: 20, \
         weight_lb: 500, mature_weight_lb: 1200, gain_lb_per_day: 1.5}\n  bulls: {kind: bull, head: 3, weight_lb: \
         1900}\nfeeds:\n  wheat_straw: {price_usd_per_ton: 1}\n  native_range_dormant: {price_usd_per_ton: 1}\n  \
         prairie_hay: {price_usd_per_ton: 90}\n  bermuda_hay_good: {price_usd_per_ton: 150}\n  distillers_grains: \
         {price_usd_per_ton: 1}\n  corn: {price_usd_per_ton: 60}\n  range_cube_38: {price_usd_per_ton: 425}\n  \
         limestone: {price_usd_per_ton: 180}\n  mineral_12_12: {price_usd_per_ton: 900}\n",
    );
    let report = planned(&case);
    let cells = assemble(&case).unwrap();
    let mut distillers_bind = false;
    for (group, row) in report.groups.iter().zip(&cells) {
        for (period, cell) in group.periods.iter().zip(row) {
            let floor = line(period, "protein-floor");
            assert!(floor.value >= 7.0 - 1e-6, "{} {}: {} % protein", group.name, period.label, floor.value);
            let distillers = line(period, "distillers");
            assert!(distillers.value <= 0.5 + 1e-6, "{}: {} %", group.name, distillers.value);
            let share = 100.0 * lb(period, "distillers_grains") / lb_from_kg(cell.block.needs.weight_kg);
            assert!((distillers.value - share).abs() < 1e-6, "{}: {share} % of body weight", group.name);
            distillers_bind |= distillers.binding;
        }
    }
    assert!(distillers_bind, "distillers feed at a dollar is not held by its limit: the test does not press");
}

/// The floor itself, pressed: a dry open cow on free straw with nothing but a little protein feed for sale.
#[test]
fn the_protein_floor_holds_where_it_is_pressed() {
    let case = read(
        "winter: {from: 2026-12-01, to: 2027-01-01}\ngroups:\n  open: {kind: cow, head: 1, weight_lb: 1200, calving: \
         open, condition: 7, condition_wanted: {score: 6.4, by: 2027-01-01}}\nlimits:\n  forage-ndf: {off: true, \
         because: pressed by a test}\nfeeds:\n  native_range_dormant: {price_usd_per_ton: 1}\n  range_cube_38: \
         {price_usd_per_ton: 2000}\n  mineral_12_12: {price_usd_per_ton: 900}\n",
    );
    let report = planned(&case);
    let floor = line(&report.groups[0].periods[0], "protein-floor");
    assert!(floor.binding && (floor.value - 7.0).abs() < 1e-6, "{floor:?}");
}

/// The most seed a class gets when it is pressed on them: (kind, % of body weight, ppm, % of dry matter).
#[test]
fn seed_by_class() {
    for (kind, body, dry, ppm) in [
        ("kind: cow, weight_lb: 1200, calving: 2027-03-01", 0.5, 20.0, 1200.0),
        ("kind: first_calf_cow, weight_lb: 1000, mature_weight_lb: 1200, calving: 2026-10-01", 0.5, 20.0, 1200.0),
        ("kind: bred_heifer, weight_lb: 950, mature_weight_lb: 1200, calving: 2027-03-01", 0.5, 15.0, 900.0),
        ("kind: replacement_heifer, weight_lb: 600, mature_weight_lb: 1200, gain_lb_per_day: 1", 0.33, 15.0, 900.0),
        ("kind: stocker, weight_lb: 500, mature_weight_lb: 1200, gain_lb_per_day: 1", 0.33, 15.0, 900.0),
        ("kind: young_bull, weight_lb: 900, mature_weight_lb: 1900, gain_lb_per_day: 1.5", 0.33, 10.0, 600.0),
        ("kind: bull, weight_lb: 1900", 0.5, 15.0, 900.0),
    ] {
        let mut case = read(&format!(
            "winter: {{from: 2026-12-01, to: 2027-01-01}}\ngroups:\n  herd: {{{kind}, head: 1}}\nfeeds:\n  \
             bermuda_hay_good: {{price_usd_per_ton: 150}}\n  whole_cottonseed: {{price_usd_per_ton: 1}}\n  corn: \
             {{price_usd_per_ton: 190}}\n  soybean_hulls: {{price_usd_per_ton: 200}}\n  limestone: \
             {{price_usd_per_ton: 180}}\n  mineral_12_12: {{price_usd_per_ton: 900}}\n"
        ));
        price(&mut case, "whole_cottonseed", AT_ANY_PRICE);
        let report = planned(&case);
        let period = &report.groups[0].periods[0];
        let held = [("seed-of-body-weight", body), ("seed-of-dry-matter", dry), ("gossypol", ppm)];
        for (rule, figure) in held {
            let line = line(period, rule);
            assert!(line.value <= figure * (1.0 + 1e-6), "{kind}: {rule} {}", line.value);
            assert_eq!(line.limit, figure, "{kind}: {rule}");
        }
        let at = |rule: &str, figure: f64| (line(period, rule).value - figure).abs() < 1e-5 * figure;
        assert!(
            held.iter().any(|(rule, figure)| at(rule, *figure)) || at("fat", 6.0) || at("added-fat", 4.0),
            "{kind}: nothing holds seed: {:?}",
            period.ration
        );
    }
}

#[test]
fn untested_seed_is_barred_from_young_bulls_before_turnout() {
    let text = |turnout: &str, test: &str| {
        format!(
            "winter: {{from: 2026-12-01, to: 2027-04-01}}\ngroups:\n  bulls: {{kind: young_bull, head: 4, weight_lb: \
             900, mature_weight_lb: 1900, gain_lb_per_day: 1.5{turnout}}}\nfeeds:\n  bermuda_hay_good: \
             {{price_usd_per_ton: 150}}\n  whole_cottonseed: {{price_usd_per_ton: 1{test}}}\n  corn: \
             {{price_usd_per_ton: 190}}\n  soybean_hulls: {{price_usd_per_ton: 200}}\n  limestone: \
             {{price_usd_per_ton: 180}}\n  mineral_12_12: {{price_usd_per_ton: 900}}\n"
        )
    };
    let seed = |text: &str| -> Vec<f64> {
        let mut case = read(text);
        price(&mut case, "whole_cottonseed", AT_ANY_PRICE);
        planned(&case).groups[0].periods.iter().map(|period| lb(period, "whole_cottonseed")).collect()
    };
    // Turned out 1 May: 90 days before is 31 January, so December alone, or December and January, may have seed.
    let fed = seed(&text(", turnout: 2027-05-01", ""));
    assert!(fed[0] > 0.5, "{fed:?}");
    assert!(fed[2..].iter().all(|lb| *lb == 0.0), "{fed:?}");
    // Seed whose gossypol was tested may be fed to the end, within the limit.
    let fed = seed(&text(", turnout: 2027-05-01", ", test: {free_gossypol_pct_dm: 0.5}"));
    assert!(fed.iter().all(|lb| *lb > 0.5), "{fed:?}");
    let fed = seed(&text("", ""));
    assert!(fed.iter().all(|lb| *lb > 0.5), "{fed:?}");
    // A test of something else says nothing of gossypol.
    let fed = seed(&text(", turnout: 2027-05-01", ", test: {cp_pct_dm: 22}"));
    assert!(fed[2..].iter().all(|lb| *lb == 0.0), "a protein test opened the seed to young bulls: {fed:?}");
}

/// A ration of the user's own may hold what a plan never would: it counts in every rule, and it is unfit.
#[test]
fn a_barred_feed_in_a_hand_made_ration_is_unfit() {
    let judged = |lb: f64| {
        checked(&read(&format!(
            "winter: {{from: 2026-12-01, to: 2027-03-01}}\ngroups:\n  bulls: {{kind: young_bull, head: 4, weight_lb: \
             1000, mature_weight_lb: 1900, gain_lb_per_day: 1.5, turnout: 2027-03-15}}\nfeeds:\n  bermuda_hay_good: \
             {{price_usd_per_ton: 150}}\n  corn: {{price_usd_per_ton: 190}}\n  whole_cottonseed: {{price_usd_per_ton: \
             250}}\nfed:\n  bulls: {{bermuda_hay_good: 18, whole_cottonseed: {lb}, corn: 3}}\n"
        )))
    };
    let broken = |report: &Report| -> Vec<&'static str> {
        report.groups[0].periods[2].limits.iter().filter(|line| !line.kept).map(|line| line.rule).collect()
    };
    // Nine pounds: barred, and over by weight, by share, in fat and in gossypol. 9 lb of 0.63 % free gossypol.
    let report = judged(9.0);
    assert_eq!(report.status, "unfit");
    for rule in ["barred", "seed-of-body-weight", "seed-of-dry-matter", "fat", "gossypol"] {
        assert!(broken(&report).contains(&rule), "{rule} is not broken: {:?}", broken(&report));
    }
    let line = line(&report.groups[0].periods[2], "gossypol");
    let dm = 9.0 * 0.916 + 18.0 * 0.90 + 3.0 * 0.88;
    super::kit::near(line.value, 6300.0 * 9.0 * 0.916 / dm, 1e-6 * line.value, "free gossypol, ppm");
    // A pound is within every figure, and still not for them.
    let report = judged(1.0);
    assert_eq!(report.status, "unfit");
    assert!(broken(&report).contains(&"barred") && !broken(&report).contains(&"gossypol"), "{:?}", broken(&report));
    assert!(!broken(&judged(0.0)).contains(&"barred"));
}

#[test]
fn a_barred_feed_leaves_the_programme() {
    let text = |weight: u32| {
        format!(
            "winter: {{from: 2026-12-01, to: 2027-01-01}}\ngroups:\n  calves: {{kind: stocker, head: 10, weight_lb: \
             {weight}, mature_weight_lb: 1200, gain_lb_per_day: 0.5}}\nfeeds:\n  bermuda_hay_good: \
             {{price_usd_per_ton: 150}}\n  urea: {{price_usd_per_ton: 500}}\n  corn: {{price_usd_per_ton: 190}}\n  \
             limestone: {{price_usd_per_ton: 180}}\n  mineral_12_12: {{price_usd_per_ton: 900}}\n"
        )
    };
    for (weight, barred) in [(420, true), (600, false)] {
        let mut case = read(&text(weight));
        price(&mut case, "urea", AT_ANY_PRICE);
        let cells = assemble(&case).unwrap();
        let program = Program::build(&case, &cells);
        let urea = case.offers.iter().position(|offer| offer.id == "urea").unwrap();
        assert_eq!(program.blocks[0][0].amounts[urea].is_none(), barred, "{weight} lb");
        let report = planned(&case);
        assert_eq!(lb(&report.groups[0].periods[0], "urea") == 0.0, barred, "{weight} lb");
        assert_eq!(report.groups[0].barred.iter().any(|(feed, _)| feed == "urea"), barred);
        if barred {
            // Not its own price as a break-even: it has none.
            let worth = report.worth.iter().find(|worth| worth.feed == "urea").unwrap();
            assert_eq!(worth.break_even_usd_per_ton, None);
        }
    }
}

/// What cannot be loosened by a file, and what can with a reason.
#[test]
fn never_rules_may_not_be_loosened() {
    let with = |limits: &str| {
        let text = super::kit::herd_text("two-groups.yaml");
        super::kit::try_read(&format!("{text}limits:\n  {limits}\n"))
            .map_err(|why| panic!("{why}"))
            .and_then(|case| assemble(&case).map(|_| ()).map_err(|list| list[0].message.clone()))
    };
    for rule in ["seed-of-body-weight", "fat", "npn", "sulfur", "gossypol-of-meal", "urea"] {
        let told = with(&format!("{rule}: {{max: 100000, because: I want to}}"));
        assert!(told.clone().is_err_and(|text: String| text.contains("never looser")), "{rule}: {told:?}");
    }
    assert!(with("roughage-floor: {min: 0.1, because: I want to}").is_err());
    // For heifers gossypol may not be loosened either; for cows it may.
    assert!(with("gossypol: {max: 1500, group: heifers, because: I want to}").is_err());
    assert!(with("gossypol: {max: 1500, group: cows, because: I want to}").is_ok());
    assert!(with("fat: {max: 5}").is_ok(), "stricter is free");
    let _ = herd("growing.yaml");
}
