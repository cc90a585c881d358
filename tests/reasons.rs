//! Why a feed is in, out or at a limit, and how far prices and requirements can move: every claim tried by solving there.
#![allow(missing_docs, clippy::panic, clippy::unwrap_used, clippy::expect_used)]

use overwinter::scenario;
use overwinter::value::{price_range, ranges, why, worth};
use overwinter::winter::plan::solve_growing;
use overwinter::winter::program::Program;
use overwinter::winter::{Case, assemble};

mod library;
use library::library;

fn case(path: &str, sets: &[&str]) -> Case {
    let text = std::fs::read_to_string(format!("{}/{path}", env!("CARGO_MANIFEST_DIR"))).unwrap();
    let sets: Vec<String> = sets.iter().map(|set| (*set).to_owned()).collect();
    scenario::read(&scenario::set::joined(&text, &sets), library()).unwrap_or_else(|list| panic!("{list:#?}")).value
}

const DRY_FORK: &str = "examples/dry-fork/herd.yaml";
const FIRST: &str = "examples/first-file/herd.yaml";

fn offer(case: &Case, id: &str) -> usize {
    case.offers.iter().position(|offer| offer.id == id).unwrap()
}

fn least_cost(case: &Case) -> f64 {
    let cells = assemble(case).unwrap();
    solve_growing(&mut Program::build(case, &cells), &cells).unwrap().objective
}

#[test]
fn every_account_adds_up_to_the_reduced_cost() {
    let herds = [
        (DRY_FORK, &[][..]),
        (DRY_FORK, &["certainty_pct=90"]),
        (FIRST, &["certainty_pct=80"]),
        ("examples/two-gins/herd.yaml", &[]),
        ("examples/high-plains/herd.yaml", &[]),
    ];
    let (mut accounts, mut spread) = (0, 0);
    for (path, sets) in herds {
        let case = case(path, sets);
        let cells = assemble(&case).unwrap();
        let mut program = Program::build(&case, &cells);
        let best = solve_growing(&mut program, &cells).unwrap();
        for f in 0..case.offers.len() {
            for account in why::account(&case, &cells, &program, &best, f).accounts {
                let place = format!("{path} {} {} {}", case.offers[f].id, account.group, account.period);
                let size = account.entries.iter().map(|one| one.usd_per_ton.abs()).fold(account.costs.abs(), f64::max);
                let off = (account.costs - account.worth - account.reduced).abs();
                assert!(off <= 1e-7 * size.max(1.0), "{place}: {account:#?}");
                assert!(account.reduced >= -1e-6 * size.max(1.0), "{place}");
                if account.lb > 1e-6 {
                    assert!(
                        account.reduced.abs() <= 1e-6 * size.max(1.0),
                        "{place}: fed, yet it costs {}",
                        account.reduced
                    );
                }
                let charged = account.entries.iter().find(|one| one.rule == "spread").unwrap().usd_per_ton;
                if case.settings.certainty_pct <= 50.0 {
                    assert!(charged.abs() <= 1e-9 * size.max(1.0), "{place}: {charged}");
                }
                spread += usize::from(charged < -1.0);
                accounts += 1;
            }
        }
    }
    assert!(accounts > 200 && spread > 20, "{accounts} {spread}");
}

#[test]
fn a_feed_left_out_comes_in_at_the_price_its_account_says() {
    let mut tried = 0;
    for (feed, row) in [("alfalfa", "alfalfa_hay_good"), ("corn", "corn"), ("oat_hay", "bermuda_hay_mature")] {
        let at = |price: f64| case(FIRST, &[&format!("feeds.{feed}={{like: {row}, price_usd_per_ton: {price}}}")]);
        let dear = at(900.0);
        let cells = assemble(&dear).unwrap();
        let why = why::why(&dear, &cells, offer(&dear, feed)).unwrap();
        let comes_in = why.comes_in_usd_per_ton.unwrap();
        assert!(why.bought_tons < 1e-6 && comes_in < 900.0, "{feed}: {comes_in}");
        if comes_in <= 1.0 {
            continue;
        }
        tried += 1;
        let without = least_cost(&dear);
        assert!((least_cost(&at(comes_in + 0.01)) - without).abs() < 1e-6 * without, "{feed} at {comes_in}");
        assert!(least_cost(&at(comes_in - 0.5)) < without - 1e-4, "{feed} at {comes_in}");
    }
    assert!(tried >= 2, "{tried}");
}

#[test]
fn room_for_one_pound_more_saves_what_the_account_says() {
    // Seed held to two pounds of the cows' own: a hundredth of a pound more and less, solved anew.
    let at = |lb: f64| {
        case(FIRST, &[&format!("feeds.whole_cottonseed.max_lb={lb}"), "feeds.range_cube_38={price_usd_per_ton: 425}"])
    };
    let held = at(1.5);
    let cells = assemble(&held).unwrap();
    let found = why::why(&held, &cells, offer(&held, "whole_cottonseed")).unwrap();
    let mut said = 0.0;
    for account in &found.accounts {
        let days = f64::from(held.periods[account.period].days()) * f64::from(held.groups[account.group].head);
        let charged = account.entries.iter().find(|entry| entry.rule == "your-max").unwrap();
        said -= charged.usd_per_ton / account.lb_eaten_per_ton * days;
    }
    let slope = (least_cost(&at(1.49)) - least_cost(&at(1.51))) / 0.02;
    assert!(said > 1.0 && (slope - said).abs() < 1e-4 * said, "{slope} {said}");
}

#[test]
fn price_ranges_are_rows_of_the_step_table() {
    let mut case =
        case(FIRST, &["feeds.range_cube_38={price_usd_per_ton: 425}", "feeds.corn={price_usd_per_ton: 210}"]);
    let mut ends = 0;
    for f in 0..case.offers.len() {
        if case.offers[f].feed.class.is_mineral() {
            continue;
        }
        worth::make_buyable(&mut case.offers[f]);
        let cells = assemble(&case).unwrap();
        let range = price_range::price_range(&case, &cells, f).unwrap().unwrap();
        let table = worth::table(&case, &cells, f).unwrap();
        let row = table.at(range.usd_per_ton)[0];
        assert!((row.low.tons - range.tons).abs() < 1e-6, "{}", case.offers[f].id);
        for (end, at, cost) in
            [(&range.down, row.low.usd_per_ton, row.low.cost_usd), (&range.up, row.high.usd_per_ton, row.high.cost_usd)]
        {
            let Some(price) = end.usd_per_ton else { continue };
            ends += 1;
            assert!((price - at).abs() < 1e-3, "{}: {price} against {at}", case.offers[f].id);
            assert!((end.winter_usd - cost).abs() < 1e-6 * cost, "{}", case.offers[f].id);
            assert!(!end.changes.is_empty(), "{} at {price}", case.offers[f].id);
        }
    }
    assert!(ends >= 6, "{ends}");
}

/// Every range of an amount is tried by moving the figure to its ends and past them and solving there.
#[test]
fn side_ranges_hold_to_their_ends_and_no_further() {
    let (mut ends, mut last) = (0, 0);
    for path in [FIRST, DRY_FORK] {
        let case = case(path, &[]);
        let cells = assemble(&case).unwrap();
        let found = ranges::ranges(&case, &cells).unwrap();
        let growing = cells.iter().flatten().any(|cell| cell.demands.growth.is_some());
        // Where cattle grow, the ends are those of the straightened programme.
        let near = if growing { 2e-4 } else { 1e-7 };
        for side in &found.sides {
            let ranges::Side::Rule { group, period, rule } = side.side else { continue };
            let instance = &cells[group][period].demands.rules[rule];
            let (Some((down, up)), true) = (&side.ends, instance.per.iter().all(|per| *per == 0.0)) else { continue };
            let head_days = f64::from(case.groups[group].head) * f64::from(case.periods[period].days());
            let place = format!("{path} {group} {period} {}", instance.name());
            let cost = |figure: f64| {
                let mut moved = cells.clone();
                moved[group][period].demands.rules[rule].limit = figure;
                solve_growing(&mut Program::build(&case, &moved), &moved).map(|found| found.objective)
            };
            for (end, sign) in [(down, -1.0), (up, 1.0)] {
                if !end.figure.is_finite() || end.figure < 0.0 {
                    continue;
                }
                ends += 1;
                let there = cost(end.figure - sign * 1e-9 * end.figure.abs()).unwrap();
                assert!((there - end.winter_usd).abs() <= near * there, "{place}: {there} {}", end.winter_usd);
                let said = found.winter_usd + side.usd_per_unit * head_days * (end.figure - side.figure);
                assert!((said - end.winter_usd).abs() <= 1e-6 * there, "{place}: {said} {}", end.winter_usd);
                let step = 1e-3 * end.figure.abs().max(0.1);
                match cost(end.figure + sign * step) {
                    Ok(_) if growing => {}
                    Ok(beyond) => {
                        let slope = (beyond - there) / (sign * step) / head_days;
                        let off = (slope - side.usd_per_unit).abs();
                        assert!(off > 1e-6 * side.usd_per_unit.abs(), "{place}: still {slope} beyond");
                        if let Some(price) = end.usd_beyond {
                            assert!((slope - price).abs() <= 1e-3 * price.abs().max(0.01), "{place}: {slope} {price}");
                        }
                    }
                    Err(failure) => {
                        assert!(end.is_last, "{place}: {failure}");
                        last += 1;
                    }
                }
            }
        }
    }
    assert!(ends > 40 && last > 0, "{ends} {last}");
}
