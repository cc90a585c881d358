//! Winters that no ration can meet: what is said, in which order, and whether the ways out lead out.

use super::kit::{near, read, words};
use overwinter::limit::{Force, Sense};
use overwinter::report::short::page;
use overwinter::winter::{Case, Short, Shortfall, assemble, plan};
use overwinter::{Stop, plan as report};
use std::io::Write as _;
use std::process::{Command, Stdio};

const POOR_HAY: &str = "winter: {from: 2026-12-01, to: 2027-02-01}
groups:
  cows: {kind: cow, head: 20, weight_lb: 1200, calving: 2027-03-01}
feeds:
  prairie_hay: {price_usd_per_ton: 80, test: {cp_pct_dm: 4, tdn_pct_dm: 48}}
  mineral_12_12: {price_usd_per_ton: 900}
";
const PEAK_MILK_ON_STRAW: &str = "winter: {from: 2026-12-01, to: 2027-01-01}
groups:
  milkers: {kind: cow, head: 20, weight_lb: 1200, calving: 2026-10-15, peak_milk_lb: 25}
feeds:
  wheat_straw: {price_usd_per_ton: 60}
  mineral_12_12: {price_usd_per_ton: 900}
limits: {straw: {off: true, because: nothing else is to be had}}
";
const FIXED_AGAINST_NEVER: &str = "winter: {from: 2026-12-01, to: 2027-01-01}
groups:
  cows: {kind: cow, head: 20, weight_lb: 1200, calving: 2027-03-01}
feeds:
  bermuda_hay_good: {price_usd_per_ton: 150}
  whole_cottonseed: {price_usd_per_ton: 200, fixed_lb: 9}
  mineral_12_12: {price_usd_per_ton: 900}
";
const STOCKERS_ON_HAY: &str = "winter: {from: 2026-12-01, to: 2027-01-01}
groups:
  stockers: {kind: stocker, head: 20, weight_lb: 500, mature_weight_lb: 1200, gain_lb_per_day: 2.5}
feeds:
  prairie_hay: {price_usd_per_ton: 80}
  mineral_12_12: {price_usd_per_ton: 900}
";

fn shortage(text: &str) -> (Case, Short) {
    let case = read(text);
    match report(&case) {
        Err(Stop::Short(short)) => (case, *short),
        Err(other) => panic!("{}", words(&other)),
        Ok(plan) => panic!("there is a plan: {:?}", plan.groups[0].periods[0].ration),
    }
}

/// Needs come before everything else, every amount is a real one, and every figure is on the page.
fn said_well(case: &Case, short: &Short) -> String {
    assert!(!short.shortfalls.is_empty());
    let first_other = short.shortfalls.iter().position(|one| one.force != Force::Need).unwrap_or(usize::MAX);
    for (place, one) in short.shortfalls.iter().enumerate() {
        assert!(one.short > 0.0 && one.short.is_finite(), "{one:?}");
        assert!(one.force != Force::Need || place < first_other, "a need after a limit: {:#?}", short.shortfalls);
        // No need is missed by more than all of it.
        assert!(one.force != Force::Need || one.short <= one.limit * (1.0 + 1e-6), "{one:?}");
    }
    let text = page(case, short);
    for one in &short.shortfalls {
        let title = one.title.split(' ').next().unwrap();
        assert!(text.contains(title), "{title} is not on the page:\n{text}");
        assert!(text.contains(one.unit), "{} is not on the page:\n{text}", one.unit);
    }
    text
}

/// Applies one way out to its block, a hair past what it says, and plans again.
pub(crate) fn leads_out(case: &Case, way: &Shortfall) -> bool {
    let mut cells = assemble(case).unwrap();
    let demands = &mut cells[way.group][way.period].demands;
    let hair = 1e-5 * way.limit.abs().max(0.1);
    let mut found = 0;
    if let (Some(growth), "energy" | "growth") = (demands.growth.as_mut(), way.rule) {
        let figure = if way.rule == "energy" { &mut growth.maintenance_nem_mcal } else { &mut growth.gain_neg_mcal };
        *figure = way.reached - hair;
        found += 1;
    }
    for rule in &mut demands.rules {
        let title = match &rule.about {
            Some(about) => format!("{}: {about}", rule.rule.title),
            None => rule.rule.title.to_owned(),
        };
        if rule.rule.id == way.rule && title == way.title {
            found += 1;
            rule.limit = match rule.rule.sense {
                Sense::AtLeast => way.reached - hair,
                Sense::AtMost => way.reached + hair,
                Sense::Exactly => way.reached,
            };
        }
    }
    assert_eq!(found, 1, "{way:?} is not one figure of its block");
    plan(case, &cells).is_ok()
}

/// A way out goes to the lenient side and says how far.
pub(crate) fn is_lenient(way: &Shortfall, sense: Sense) {
    match sense {
        Sense::AtLeast => assert!(way.reached < way.limit, "{way:?}"),
        Sense::AtMost => assert!(way.reached > way.limit, "{way:?}"),
        Sense::Exactly => {}
    }
    assert!(((way.reached - way.limit).abs() - way.short).abs() <= 1e-9 * way.limit.abs().max(1.0), "{way:?}");
}

fn every_way_leads_out(case: &Case, short: &Short, page: &str) {
    for way in &short.ways_out {
        assert!(way.force != Force::Never, "{page}");
        assert!(leads_out(case, way), "no way out: {way:?}\n{page}");
    }
}

fn of<'a>(short: &'a Short, rule: &str) -> &'a Shortfall {
    short.shortfalls.iter().find(|one| one.rule == rule).unwrap_or_else(|| panic!("no {rule}: {:#?}", short.shortfalls))
}

#[test]
fn poor_hay_alone_is_short_of_energy_and_protein() {
    let (case, short) = shortage(POOR_HAY);
    let text = said_well(&case, &short);
    // By hand: 1.3 % of 1,200 lb as NDF of 70 % hay is 22.3 lb of it, at 4 % protein and 0.409 Mcal a pound.
    let lb = 0.013 * 1200.0 / 0.70;
    let protein = of(&short, "crude-protein");
    near(protein.reached, 0.04 * lb, 1e-4, &text);
    near(protein.short, protein.limit - 0.04 * lb, 1e-4, &text);
    near(of(&short, "energy").reached, lb * 0.408_6, 0.05, &text);
    // A diet of 4 % protein misses 7 % by 3, whatever is eaten of it.
    near(of(&short, "protein-floor").short, 3.0, 1e-6, &text);
    assert!(short.shortfalls.iter().all(|one| one.force == Force::Need), "limits hold: {text}");
    assert!(short.ways_out.is_empty(), "two things are short in two months, and no one figure mends it: {text}");
}

#[test]
fn peak_milk_on_straw_gets_two_fifths_of_its_energy() {
    let (case, short) = shortage(PEAK_MILK_ON_STRAW);
    let text = said_well(&case, &short);
    // By hand: straw to its fiber ceiling, 1.5 % of body weight as 79 % NDF, is 22.8 lb of 0.309 Mcal, 3.5 % protein.
    let milking = assemble(&case).unwrap()[0][0].block.milk_level();
    let lb = (0.013 * (1.0 - milking) + 0.015 * milking) * 1200.0 / 0.79;
    near(of(&short, "energy").reached, lb * 0.309, 0.03, &text);
    near(of(&short, "crude-protein").reached, lb * 0.035, 1e-4, &text);
    near(of(&short, "protein-floor").reached, 3.5, 1e-6, &text);
    // Straw fills her before she is full: the only limit given up.
    let limits: Vec<&str> =
        short.shortfalls.iter().filter(|one| one.force != Force::Need).map(|one| one.rule).collect();
    assert_eq!(limits, ["appetite-floor"], "{text}");
    every_way_leads_out(&case, &short, &text);
}

#[test]
fn a_fixed_amount_against_a_never_rule() {
    let (case, short) = shortage(FIXED_AGAINST_NEVER);
    let text = said_well(&case, &short);
    assert!(text.contains("whole_cottonseed"), "{text}");
    let way = short.ways_out.iter().find(|way| way.rule == "your-fixed").unwrap_or_else(|| panic!("{text}"));
    // 0.5 % of 1,200 lb is 6 lb; gossypol, fat or share of seed may ask for less still.
    assert!(way.reached <= 6.0 + 1e-6 && way.reached > 3.0, "{way:?}");
    every_way_leads_out(&case, &short, &text);
}

#[test]
fn stockers_that_cannot_gain_so_much_on_hay() {
    let (case, short) = shortage(STOCKERS_ON_HAY);
    let text = said_well(&case, &short);
    assert!(of(&short, "growth").short > 0.5, "{text}");
    assert!(short.shortfalls.iter().all(|one| one.rule != "forage-ndf" && one.rule != "intake"), "{text}");
    every_way_leads_out(&case, &short, &text);
}

/// A single figure at fault is found, a share by the share it must be and an amount by the amount.
#[test]
fn one_figure_too_strict_is_named_as_the_way_out() {
    let cows = "winter: {from: 2026-12-01, to: 2027-01-01}\ngroups:\n  cows: {kind: cow, head: 20, weight_lb: 1200, \
                calving: 2027-03-01}\n";
    let stockers = "winter: {from: 2026-12-01, to: 2027-01-01}\ngroups:\n  stockers: {kind: stocker, head: 20, \
                    weight_lb: 500, mature_weight_lb: 1200, gain_lb_per_day: 2.4}\n";
    let mineral = "  mineral_12_12: {price_usd_per_ton: 900}\n";
    for (text, rule, sense) in [
        (
            format!(
                "{cows}limits:\n  gossypol: {{max: 100}}\nfeeds:\n  prairie_hay: {{price_usd_per_ton: 80}}\n  whole_cottonseed: {{price_usd_per_ton: 200}}\n{mineral}"
            ),
            "gossypol",
            Sense::AtMost,
        ),
        (
            format!(
                "{cows}limits:\n  intake: {{max: 14}}\n  appetite-floor: {{off: true, because: a test}}\nfeeds:\n  bermuda_hay_good: {{price_usd_per_ton: 150}}\n{mineral}"
            ),
            "intake",
            Sense::AtMost,
        ),
        (
            format!(
                "{cows}feeds:\n  prairie_hay: {{price_usd_per_ton: 80}}\n  range_cube_38: {{price_usd_per_ton: 425, max_lb: 0.3}}\n{mineral}"
            ),
            "your-max",
            Sense::AtMost,
        ),
        (
            format!(
                "{cows}feeds:\n  bermuda_hay_good: {{price_usd_per_ton: 80}}\n  corn: {{price_usd_per_ton: 190, min_lb: 9}}\n  limestone: {{price_usd_per_ton: 180}}\n{mineral}limits:\n  distillers: {{max: 0.4}}\n"
            ),
            "your-min",
            Sense::AtLeast,
        ),
        (
            format!(
                "{stockers}feeds:\n  bermuda_hay_good: {{price_usd_per_ton: 150}}\n  soybean_meal_48: {{price_usd_per_ton: 425, max_lb: 4.5}}\n  limestone: {{price_usd_per_ton: 180}}\n{mineral}limits:\n  appetite-floor: {{off: true, because: a test}}\n  forage-ndf: {{max: 0.99}}\n"
            ),
            "growth",
            Sense::AtLeast,
        ),
    ] {
        let (case, short) = shortage(&text);
        let page = said_well(&case, &short);
        let way = short.ways_out.iter().find(|way| way.rule == rule);
        let way = way.unwrap_or_else(|| panic!("{rule} is no way out\n{page}\n{:#?}", short.ways_out));
        is_lenient(way, sense);
        every_way_leads_out(&case, &short, &page);
        // And it is needed: half the way does not lead out.
        let half = Shortfall { reached: 0.5 * (way.reached + way.limit), short: 0.5 * way.short, ..way.clone() };
        assert!(!leads_out(&case, &half), "half of {way:?} is enough\n{page}");
    }
}

/// Weeks of a herd that cannot reach, at 95 % certainty: cuts by the hundred, and yet it comes to an end and says what is
/// short first.
#[test]
fn a_hard_shortage_in_weeks_is_told() {
    let text = "place: {weather: rolling_plains}\nwinter: {from: 2026-11-01, to: 2027-01-01, periods: weeks}\ngroups:\n  g0: \
                {kind: cow, weight_lb: 1424, calving: 2027-04-21, head: 300}\n  g1: {kind: cow, weight_lb: 1043, calving: \
                2027-02-23, head: 7}\n  g2: {kind: replacement_heifer, weight_lb: 562, mature_weight_lb: 1200, \
                gain_lb_per_day: 1.4, head: 1}\nfeeds:\n  cottonseed_hulls: {on_hand_tons: 30, value_usd_per_ton: 50, \
                price_usd_per_ton: 20}\n  corn: {on_hand_tons: 0.5, value_usd_per_ton: 200}\n  prairie_hay: \
                {price_usd_per_ton: 190, tons_per_week: 5, storage_tons: 1000, loss_pct_per_month: 15}\n  wheat_straw: \
                {on_hand_tons: 0.5, value_usd_per_ton: 50, price_usd_per_ton: 400}\n  limestone: {price_usd_per_ton: \
                180}\n  mineral_12_12: {price_usd_per_ton: 900}\ncertainty_pct: 95\n";
    let (case, short) = shortage(text);
    said_well(&case, &short);
    let energy =
        short.shortfalls.iter().find(|one| one.rule == "energy" && one.group == 0).expect("300 cows on 5 tons");
    assert!(energy.short > 1.0, "{energy:?}");
}

#[test]
fn the_command_ends_with_one() {
    for (text, first) in [(POOR_HAY, "cows"), (PEAK_MILK_ON_STRAW, "milkers"), (FIXED_AGAINST_NEVER, "cows")] {
        let mut child = Command::new(env!("CARGO_BIN_EXE_overwinter"))
            .args(["plan", "-"])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        child.stdin.take().unwrap().write_all(text.as_bytes()).unwrap();
        let output = child.wait_with_output().unwrap();
        let out = String::from_utf8(output.stdout).unwrap();
        assert_eq!(output.status.code(), Some(1), "{out}");
        assert!(out.contains("no ration can meet it") && out.contains(first), "{out}");
    }
}
