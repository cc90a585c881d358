//! Why a feed is in, out or at a limit, and how far prices and requirements can move: every claim tried by solving there.
#![allow(missing_docs, clippy::panic, clippy::unwrap_used, clippy::expect_used)]

use overwinter::scenario;
use overwinter::value::why;
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
