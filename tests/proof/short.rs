//! Winters that no ration can meet: what is said, in which order, and whether the ways out lead out.

use super::kit::{read, words};
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

/// Applies one way out to its block and plans again.
fn leads_out(case: &Case, way: &Shortfall) -> bool {
    let mut cells = assemble(case).unwrap();
    let demands = &mut cells[way.group][way.period].demands;
    // A hair more than was said, since it is said to the edge.
    let by = way.short * (1.0 + 1e-6) + 1e-9;
    let mut found = false;
    if let Some(growth) = demands.growth.as_mut() {
        match way.rule {
            "energy" => {
                growth.maintenance_nem_mcal -= by;
                found = true;
            }
            "growth" => {
                growth.gain_neg_mcal -= by;
                found = true;
            }
            _ => {}
        }
    }
    for rule in &mut demands.rules {
        let title = match &rule.about {
            Some(about) => format!("{}: {about}", rule.rule.title),
            None => rule.rule.title.to_owned(),
        };
        if rule.rule.id != way.rule || title != way.title {
            continue;
        }
        found = true;
        match rule.rule.sense {
            Sense::AtLeast => rule.limit -= by,
            Sense::AtMost => rule.limit += by,
            Sense::Exactly => {
                // Either way may be meant.
                let limit = rule.limit;
                for side in [limit - by, limit + by] {
                    let mut tried = assemble(case).unwrap();
                    let rules = &mut tried[way.group][way.period].demands.rules;
                    rules
                        .iter_mut()
                        .find(|one| {
                            one.name() == format!("{} {}", way.rule, one.about.clone().unwrap_or_default()).trim()
                        })
                        .unwrap()
                        .limit = side;
                    if plan(case, &tried).is_ok() {
                        return true;
                    }
                }
                return false;
            }
        }
    }
    assert!(found, "{way:?} is no rule of its block");
    plan(case, &cells).is_ok()
}

#[test]
fn poor_hay_alone_is_short_of_energy_and_protein() {
    let (case, short) = shortage(POOR_HAY);
    let text = said_well(&case, &short);
    let rules: Vec<&str> = short.shortfalls.iter().map(|one| one.rule).collect();
    assert!(
        rules.iter().any(|rule| ["crude-protein", "protein-floor", "protein-by-degradable"].contains(rule)),
        "{text}"
    );
    assert!(short.shortfalls[0].force == Force::Need, "{text}");
    // By hand: hay of 4 % protein and 48 % TDN; a 1,200-lb cow in December cannot get 1.7 lb of protein from 24 lb of it.
    let protein = short.shortfalls.iter().find(|one| one.rule == "crude-protein").map(|one| one.short);
    assert!(protein.is_none_or(|lb| (0.3..1.2).contains(&lb)), "{text}");
    for way in &short.ways_out {
        assert!(leads_out(&case, way), "no way out: {way:?}\n{text}");
    }
}

#[test]
fn peak_milk_on_straw_is_short_of_a_third_of_its_energy() {
    let (case, short) = shortage(PEAK_MILK_ON_STRAW);
    let text = said_well(&case, &short);
    let energy = short.shortfalls.iter().find(|one| one.rule == "energy").unwrap_or_else(|| panic!("{text}"));
    // Straw at its fiber ceiling, 1.5 % of body weight of 79 % NDF, is 22.8 lb of 0.31 Mcal: 7 of 17 or so.
    assert!(energy.short / energy.limit > 0.4 && energy.short / energy.limit < 0.75, "{text}");
    let protein = short.shortfalls.iter().find(|one| one.rule == "crude-protein");
    assert!(protein.is_some_and(|one| one.short > 1.0), "{text}");
    for way in &short.ways_out {
        assert!(leads_out(&case, way), "no way out: {way:?}\n{text}");
    }
}

#[test]
fn a_fixed_amount_against_a_never_rule() {
    let (case, short) = shortage(FIXED_AGAINST_NEVER);
    let text = said_well(&case, &short);
    assert!(text.contains("whole_cottonseed") || text.contains("whole cottonseed"), "{text}");
    assert!(!short.ways_out.is_empty(), "9 lb fixed has a way out: fix less\n{text}");
    assert!(short.ways_out.iter().all(|way| way.force != Force::Never), "{text}");
    let way = short.ways_out.iter().find(|way| way.rule == "your-fixed").unwrap_or_else(|| panic!("{text}"));
    // 0.5 % of 1,200 lb is 6 lb; gossypol, fat or share of seed may ask for less still.
    assert!(way.short >= 3.0 - 1e-6, "{way:?}");
    for way in &short.ways_out {
        assert!(leads_out(&case, way), "no way out: {way:?}\n{text}");
    }
}

#[test]
fn stockers_that_cannot_gain_so_much_on_hay() {
    let (case, short) = shortage(STOCKERS_ON_HAY);
    let text = said_well(&case, &short);
    assert!(short.shortfalls.iter().any(|one| ["growth", "energy"].contains(&one.rule)), "{text}");
    for way in &short.ways_out {
        assert!(leads_out(&case, way), "no way out: {way:?}\n{text}");
    }
}

/// Every reachable conflict of one row: the ways out are all the single figures that do it.
#[test]
fn one_figure_too_strict_is_named_as_the_way_out() {
    let text = format!(
        "{}limits:\n  intake: {{max: 14}}\n",
        "winter: {from: 2026-12-01, to: 2027-01-01}\ngroups:\n  cows: {kind: cow, head: 20, weight_lb: 1200, calving: \
         2027-03-01}\nfeeds:\n  bermuda_hay_good: {price_usd_per_ton: 150}\n  mineral_12_12: {price_usd_per_ton: 900}\n"
    );
    let (case, short) = shortage(&text);
    let page = said_well(&case, &short);
    assert!(short.ways_out.iter().any(|way| way.rule == "intake"), "{page}\n{:#?}", short.ways_out);
    for way in &short.ways_out {
        assert!(leads_out(&case, way), "no way out: {way:?}\n{page}");
    }
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
