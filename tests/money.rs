//! The money: step tables against fresh plans, cuts against print, price arithmetic, and what must always hold.
#![allow(missing_docs, clippy::panic, clippy::unwrap_used, clippy::expect_used)]

use overwinter::scenario;
use overwinter::value::worth::{self, Table};
use overwinter::winter::plan::solve_growing;
use overwinter::winter::program::Program;
use overwinter::winter::{Case, assemble};

mod library;
use library::library;

fn case(text: &str, sets: &[String]) -> Case {
    let joined = scenario::set::joined(text, sets);
    scenario::read(&joined, library()).unwrap_or_else(|list| panic!("{list:#?}")).value
}

fn dry_fork() -> String {
    std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/examples/dry-fork/herd.yaml")).unwrap()
}

fn table_of(text: &str, sets: &[String], feed: &str) -> (Case, Table) {
    let mut case = case(text, sets);
    let index = case.offers.iter().position(|offer| offer.id == feed).unwrap();
    worth::make_buyable(&mut case.offers[index]);
    let table = worth::table(&case, &assemble(&case).unwrap(), index).unwrap();
    (case, table)
}

/// Least cost, and the short tons of a feed that are bought.
fn fresh(case: &Case, feed: &str) -> (f64, f64) {
    let cells = assemble(case).unwrap();
    let mut program = Program::build(case, &cells);
    let best = solve_growing(&mut program, &cells).unwrap();
    let index = case.offers.iter().position(|offer| offer.id == feed).unwrap();
    let tons = program.purchases(case, index).iter().map(|(col, tons)| tons * best.x[col.0]).sum();
    (best.objective, tons)
}

/// Every row of the table is what a fresh plan says at a price inside it.
fn confirm(feed: &str) {
    let text = dry_fork();
    let (old, table) = table_of(&text, &[], feed);
    let offer = &old.offers[table.offer];
    let haul = offer.freight.map_or(0.0, |freight| freight.usd_per_ton());
    assert!(table.rows.len() > 3, "{feed} has {} rows", table.rows.len());
    let mut checked = 0;
    for row in &table.rows {
        let (from, to) = (row.low.usd_per_ton, row.high.usd_per_ton.min(row.low.usd_per_ton + 200.0));
        let price = 0.5 * (from + to);
        if price < haul {
            continue;
        }
        let case = case(&text, &[format!("feeds.{feed}.price_usd_per_ton={}", price - haul)]);
        let (cost, tons) = fresh(&case, feed);
        let said = table.cost_at(price).unwrap();
        // Growth holds its curve to 1e-5 of the gain in a table, and to 1e-9 in a plan.
        assert!((cost - said).abs() <= 1e-5 * cost, "{feed} at {price}: {cost} against {said}");
        // With growth held to 1e-5, breaks are right to two cents: a row narrower than that may be its neighbor's.
        let rows = |price: f64| table.at(price.clamp(table.lowest_usd_per_ton, worth::HIGHEST_USD_PER_TON));
        let narrow = row.high.usd_per_ton - row.low.usd_per_ton < 0.05;
        let (most, least) = if narrow {
            (rows(price - 0.02)[0].low.tons, rows(price + 0.02).last().unwrap().high.tons)
        } else {
            (row.low.tons, row.high.tons)
        };
        let slack = 1e-3 * row.low.tons.max(1.0);
        assert!(tons <= most + slack && tons >= least - slack, "{feed} at {price}: {tons} tons, not {least} to {most}");
        checked += 1;
    }
    assert!(checked > 3, "{feed}: {checked} rows could be checked");
}

#[test]
fn steps_of_seed_hold_in_fresh_plans() {
    confirm("whole_cottonseed");
}

#[test]
fn steps_of_gin_trash_hold_in_fresh_plans() {
    confirm("gin_trash_stripper");
}

#[test]
fn steps_of_hay_hold_in_fresh_plans() {
    confirm("prairie_hay");
}

#[test]
fn raising_a_price_never_raises_its_use_and_cost_is_concave_in_it() {
    for feed in ["whole_cottonseed", "gin_trash_stripper", "prairie_hay", "range_cube_38"] {
        let (_, table) = table_of(&dry_fork(), &[], feed);
        let ends: Vec<_> = table.rows.iter().flat_map(|row| [&row.low, &row.high]).collect();
        for pair in ends.windows(2) {
            assert!(pair[1].tons <= pair[0].tons + 1e-6, "{feed}: {} tons after {}", pair[1].tons, pair[0].tons);
            let rise = pair[1].cost_usd - pair[0].cost_usd;
            let by = pair[1].usd_per_ton - pair[0].usd_per_ton;
            // The slope of cost is the tons: between those of the ends, up to how closely growth holds its curve.
            assert!(rise <= by * pair[0].tons + 1e-5 * pair[0].cost_usd, "{feed}");
            assert!(rise >= by * pair[1].tons - 1e-5 * pair[0].cost_usd, "{feed}");
        }
    }
}

#[test]
fn a_price_in_another_unit_of_path_is_told_apart() {
    let list = scenario::read(
        &scenario::set::joined(&dry_fork(), &["feeds.whole_cottonsed.price_usd_per_ton=1".to_owned()]),
        library(),
    )
    .unwrap_err();
    assert_eq!(list.len(), 1);
    assert!(list[0].message.contains("--set feeds.whole_cottonsed"), "{}", list[0].message);
    assert!(list[0].help.clone().unwrap().contains("feeds.whole_cottonseed.price_usd_per_ton"));
}

/// Many light cattle on dear feeds: prices of near-parallel tangents are measured by small columns, and every step of the
/// table must still be proved.
#[test]
fn steps_for_a_big_herd_of_stockers_are_proved() {
    let text = "place: {weather: high_plains}
winter: {from: 2026-10-15, to: 2027-04-01, periods: months}
groups:
  steers: {kind: stocker, head: 1500, weight_lb: 550, mature_weight_lb: 1250, gain_lb_per_day: 1.0}
feeds:
  wheat_hay: {price_usd_per_ton: 135}
  milo: {price_usd_per_ton: 180}
  range_cube_38: {price_usd_per_ton: 425}
  gin_trash_stripper: {price_usd_per_ton: 20, freight: {miles: 48, usd_per_loaded_mile: 4, tons_per_load: 12}}
  mineral_12_12: {price_usd_per_ton: 900, fixed_oz: 2}
";
    let (_, table) = table_of(text, &[], "gin_trash_stripper");
    assert!(table.rows.len() > 10, "{} rows", table.rows.len());
    assert!(table.rows.windows(2).all(|pair| pair[1].high.tons <= pair[0].low.tons * (1.0 + 1e-9)));
}
