//! Herds, price lists and what-ifs side by side: arithmetic against print, swaps and sweeps against fresh plans, and what
//! must always hold of prices and needs.
#![allow(missing_docs, clippy::panic, clippy::unwrap_used, clippy::expect_used)]

#[path = "../library/mod.rs"]
mod library;
mod near;
mod nutrients;

use library::library;
use overwinter::feed::{Feed, FeedClass, Figure, Nutrient};
use overwinter::scenario;
use overwinter::source::Origin;
use overwinter::value::answer::{Answer, NoAnswer, answer};
use overwinter::value::driver::{Input, differences, driver, least_cost, swapped};
use overwinter::value::nutrient_cost;
use overwinter::value::nutrient_cost::NutrientCosts;
use overwinter::value::sweep::{PriceList, Sweep, lay_over};
use overwinter::winter::plan::solve_growing;
use overwinter::winter::program::Program;
use overwinter::winter::{Case, assemble};
use proptest::prelude::*;
use std::fmt::Write as _;
use std::process::{Command, Output};
use std::sync::LazyLock;

const BITTER_CREEK: &str = "examples/ranches/bitter-creek.yaml";
const DRY_FORK: &str = "examples/dry-fork/herd.yaml";
const TWO_GINS: &str = "examples/two-gins/herd.yaml";

fn read(text: &str, sets: &[&str]) -> Case {
    let sets: Vec<String> = sets.iter().map(|set| (*set).to_owned()).collect();
    let joined = scenario::set::joined(text, &sets);
    scenario::read(&joined, library()).unwrap_or_else(|list| panic!("{list:#?}")).value
}

fn example(name: &str, sets: &[&str]) -> Case {
    read(&std::fs::read_to_string(format!("{}/{name}", env!("CARGO_MANIFEST_DIR"))).unwrap(), sets)
}

fn found(case: &Case) -> Answer {
    answer(case).unwrap_or_else(|no| panic!("{no:?}"))
}

fn offer(case: &Case, id: &str) -> usize {
    case.offers.iter().position(|offer| offer.id == id).unwrap()
}

fn costs(case: &Case) -> NutrientCosts {
    nutrient_cost::of(case, &assemble(case).unwrap())
}

/// A feed by its dry matter and what is on dry matter, percent.
fn feed(dm: f64, tdn: f64, cp: f64) -> Feed {
    let figure = |mean| Figure::new(mean, Origin::Given);
    Feed {
        id: "feed".to_owned(),
        name: "feed".to_owned(),
        class: FeedClass::Byproduct,
        values: [(Nutrient::Dm, figure(dm)), (Nutrient::Tdn, figure(tdn)), (Nutrient::Cp, figure(cp))]
            .into_iter()
            .collect(),
        bulk_lb_per_ft3: None,
        lb_per_bushel: None,
        note: None,
        cautions: Vec::new(),
    }
}

/// Corn by the bushel, hay by the bale and cubes by the hundredweight come to what the ton would cost.
#[test]
fn prices_in_other_units_are_the_same_prices() {
    let case = example(BITTER_CREEK, &[]);
    let price = |id: &str| case.offers[offer(&case, id)].price_usd_per_ton.unwrap();
    assert!((price("hay") - 44.0 / 1100.0 * 2000.0).abs() < 1e-9);
    assert!((price("corn") - 4.60 / 56.0 * 2000.0).abs() < 1e-9);
    assert!((price("range_cube_38") - 425.0).abs() < 1e-9);
    let text = "feeds.wheat_straw={price_usd_per_ton_dm: 60, lots: [{name: a}, {name: b, price_usd_per_bale: 30, bale: {weight_kg: 400}}]}";
    let lots = example(BITTER_CREEK, &[text]);
    let offers: Vec<f64> = lots
        .offers
        .iter()
        .filter(|one| one.feed_name() == "wheat_straw")
        .map(|one| one.price_usd_per_ton.unwrap())
        .collect();
    let dm = lots.offers[offer(&lots, "wheat_straw/a")].feed.dm_pct();
    assert!(
        (offers[0] - 60.0 * dm / 100.0).abs() < 1e-9 && (offers[1] - 30.0 / 0.4 * 0.907_184_74).abs() < 1e-9,
        "{offers:?}"
    );
}

#[test]
fn the_answer_is_the_least_cost_of_the_plan() {
    for name in [BITTER_CREEK, DRY_FORK] {
        let case = example(name, &[]);
        let plan = overwinter::winter::plan(&case, &assemble(&case).unwrap()).unwrap();
        let answer = found(&case);
        assert!((answer.cost_usd - plan.least_cost_usd).abs() <= 1e-9 * plan.least_cost_usd, "{name}");
    }
}

/// Each swap of the driver, made in the case, costs what the file with that one value laid over it costs.
#[test]
fn each_swap_is_what_a_fresh_file_says() {
    let sets = [
        ("feeds.prairie_hay.value_usd_per_ton=90", Input::Price("prairie_hay".to_owned())),
        ("feeds.prairie_hay.on_hand_tons=140", Input::Stock("prairie_hay".to_owned())),
        ("feeds.prairie_hay.test={dm_pct: 90, cp_pct_dm: 7, tdn_pct_dm: 53}", Input::Test("prairie_hay".to_owned())),
        ("feeds.gin_trash_stripper.freight.miles=40", Input::Price("gin_trash_stripper".to_owned())),
        ("feeds.whole_cottonseed.stored=open_pile_seed", Input::Handling("whole_cottonseed".to_owned())),
        ("feeds.milo={price_usd_per_ton: 165}", Input::Added("milo".to_owned())),
        ("feeds.corn=", Input::Dropped("corn".to_owned())),
        ("groups.cows.head=90", Input::Head("cows".to_owned())),
        ("groups.cows.weight_lb=1150", Input::Cattle("cows".to_owned())),
        ("place.weather=high_plains", Input::Weather),
        ("winter.to=2027-03-20", Input::Winter),
        ("limits={added-fat: {max: 3}}", Input::Limits),
    ];
    let corn = "feeds.corn={price_usd_per_ton: 170}";
    let base = example(DRY_FORK, &[corn]);
    let all: Vec<&str> = std::iter::once(corn).chain(sets.iter().map(|(set, _)| *set)).collect();
    let second = example(DRY_FORK, &all);
    let mut inputs = differences(&base, &second);
    assert_eq!(inputs.len(), sets.len(), "{inputs:?}");
    for (set, input) in &sets {
        assert!(inputs.contains(input), "{set}");
        inputs.retain(|one| one != input);
        let fresh = example(DRY_FORK, &[corn, set]);
        assert_eq!(differences(&base, &fresh), std::slice::from_ref(input), "{set}");
        let (fresh, alone) = (least_cost(&fresh), least_cost(&swapped(&base, &second, input)));
        let (Ok(fresh), Ok(alone)) = (&fresh, &alone) else { panic!("{set}: {fresh:?}, {alone:?}") };
        assert!((fresh - alone).abs() <= 1e-8 * fresh, "{set}: {alone} against {fresh}");
    }
    let told = driver((&base, found(&base).cost_usd), (&second, found(&second).cost_usd));
    let sum: f64 = told.swaps.iter().map(|swap| swap.usd.unwrap()).sum();
    assert!((sum + told.together_usd().unwrap() - told.difference_usd()).abs() < 1e-9);
    assert!(
        told.per_head_day && told.swaps.windows(2).all(|pair| pair[0].usd.unwrap().abs() >= pair[1].usd.unwrap().abs())
    );
}

/// Nothing that matters is left out: with every input swapped, one after the other, the first case has become the second.
#[test]
fn all_inputs_together_make_the_second_case() {
    let names = [
        "ranches/bitter-creek",
        "ranches/lone-mott",
        "ranches/salt-fork",
        "dry-fork/herd",
        "high-plains/herd",
        "two-gins/herd",
    ];
    let cases: Vec<Case> = names.iter().map(|name| example(&format!("examples/{name}.yaml"), &[])).collect();
    for (a, first) in cases.iter().enumerate() {
        for (b, second) in cases.iter().enumerate().filter(|(b, _)| *b != a) {
            let inputs = differences(first, second);
            let mut become_second = first.clone();
            for input in &inputs {
                become_second = swapped(&become_second, second, input);
            }
            assert_eq!(differences(&become_second, second), [], "{} to {}", names[a], names[b]);
            if b == (a + 1) % cases.len() {
                let (left, right) = (least_cost(&become_second).unwrap(), least_cost(second).unwrap());
                assert!((left - right).abs() <= 1e-6 * right, "{} to {}: {left} against {right}", names[a], names[b]);
            }
        }
    }
    assert_eq!(differences(&cases[0], &cases[0]), []);
}

/// Prices from low to high for every bought feed of a case, by a fixed rule.
fn price_lists(case: &Case, count: usize) -> Vec<PriceList> {
    let mut state = 12_345_u64;
    let mut next = || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        f64::from(u32::try_from(state >> 33).unwrap()) / f64::from(1_u32 << 31)
    };
    let list = |case: &Case, next: &mut dyn FnMut() -> f64| -> PriceList {
        case.offers
            .iter()
            .map(|offer| offer.price_usd_per_ton.filter(|_| next() > 0.1).map(|price| price * (0.3 + 1.9 * next())))
            .collect()
    };
    (0..count).map(|_| list(case, &mut next)).collect()
}

/// Every answer of a sweep is that of a fresh programme at those prices, whatever the number of threads.
#[test]
fn a_sweep_is_what_fresh_plans_say() {
    let sure = ["certainty_pct=85"].as_slice();
    for (name, sets, count) in
        [(BITTER_CREEK, [].as_slice(), 40), (BITTER_CREEK, sure, 8), (DRY_FORK, &[], 8), (TWO_GINS, &[], 4)]
    {
        let case = example(name, sets);
        let lists = price_lists(&case, count);
        let sweep = Sweep::new(&case).unwrap_or_else(|no| panic!("{no:?}"));
        let gather = |threads: usize| {
            let mut answers: Vec<Answer> = Vec::new();
            let ended: Result<(), ()> = sweep.run(&lists, threads, |index, answer| {
                assert_eq!(index, answers.len(), "answers come in order");
                answers.push(answer.unwrap_or_else(|no| panic!("{no:?}")));
                Ok(())
            });
            assert_eq!((ended, answers.len()), (Ok(()), lists.len()));
            answers
        };
        let answers = gather(1);
        for (one, other) in answers.iter().zip(gather(3)) {
            let same = one.cost_usd.total_cmp(&other.cost_usd).is_eq()
                && one.lb == other.lb
                && one.bought_tons == other.bought_tons;
            assert!(same && one.binding == other.binding, "{name}: threads change the answers");
        }
        for (list, answer) in lists.iter().zip(&answers) {
            let mut fresh = case.clone();
            lay_over(&mut fresh, list);
            let cost = found(&fresh).cost_usd;
            // Needs are held as surely as asked to 1e-7 of what their rows add up, whatever the answer they are found from.
            let close = if case.settings.certainty_pct > 50.0 { 1e-6 } else { 1e-8 };
            assert!((answer.cost_usd - cost).abs() <= close * cost.abs(), "{name}: {} against {cost}", answer.cost_usd);
        }
    }
}

#[test]
fn repriced_costs_are_those_of_a_programme_built_anew() {
    for name in [BITTER_CREEK, DRY_FORK, TWO_GINS, "examples/high-plains/herd.yaml"] {
        let case = example(name, &[]);
        let cells = assemble(&case).unwrap();
        let mut program = Program::build(&case, &cells);
        for list in price_lists(&case, 3) {
            let mut other = case.clone();
            lay_over(&mut other, &list);
            program.reprice(&other);
            assert_eq!(program.lp, Program::build(&other, &cells).lp, "{name}");
        }
    }
}

/// What is short at one price list is short at all of them: prices change no need and no limit.
#[test]
fn a_case_without_a_ration_is_told_and_ends_nothing() {
    let starved = example(BITTER_CREEK, &["needs_override={cows: {nem_mcal: 40}}"]);
    assert!(matches!(answer(&starved), Err(NoAnswer::Short(_))));
    assert!(matches!(Sweep::new(&starved).err(), Some(NoAnswer::Short(_))));
    let out = run(&["compare", BITTER_CREEK, "--case", "too much: needs_override={cows: {nem_mcal: 40}}"]);
    let text = String::from_utf8(out.stdout).unwrap();
    assert_eq!(out.status.code(), Some(0));
    assert!(text.contains("too much: no ration can meet it. cows, 2026-12: energy reaches"), "{text}");
    let none = run(&[
        "compare",
        BITTER_CREEK,
        "--set",
        "needs_override={cows: {nem_mcal: 40}}",
        "--case",
        "x: groups.cows.head=9",
    ]);
    assert_eq!(none.status.code(), Some(1));
}

/// The cost of a small winter at given prices of hay, gin trash, seed, cubes and corn, and the tons bought.
fn at_prices(prices: &[f64; 5]) -> (f64, Vec<f64>) {
    static CASE: LazyLock<Case> = LazyLock::new(|| example(BITTER_CREEK, &["winter.to=2027-02-01"]));
    let mut case = CASE.clone();
    let list: PriceList = prices.iter().map(|price| Some(*price)).chain([None]).collect();
    assert_eq!(list.len(), case.offers.len());
    lay_over(&mut case, &list);
    let answer = found(&case);
    (answer.cost_usd, answer.bought_tons)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    /// The least cost is concave in prices: between two price lists it lies on or above the line between the two costs.
    #[test]
    fn cost_is_concave_in_prices(low in [0.0..400.0f64, 0.0..400.0, 0.0..400.0, 0.0..400.0, 0.0..400.0],
                                 high in [0.0..400.0f64, 0.0..400.0, 0.0..400.0, 0.0..400.0, 0.0..400.0],
                                 share in 0.05..0.95f64) {
        let mut middle = [0.0; 5];
        for (index, value) in middle.iter_mut().enumerate() {
            *value = share * low[index] + (1.0 - share) * high[index];
        }
        let line = share * at_prices(&low).0 + (1.0 - share) * at_prices(&high).0;
        let cost = at_prices(&middle).0;
        prop_assert!(cost >= line - 1e-7 * line.abs().max(1.0), "{} under {}", cost, line);
    }

    /// Raising a price never raises what is bought of that feed.
    #[test]
    fn raising_a_price_never_raises_its_use(prices in [0.0..300.0f64, 0.0..300.0, 0.0..300.0, 0.0..300.0, 0.0..300.0],
                                            which in 0..5usize, more in 0.5..200.0f64) {
        let mut dearer = prices;
        dearer[which] += more;
        let (before, after) = (at_prices(&prices), at_prices(&dearer));
        prop_assert!(after.1[which] <= before.1[which] + 1e-6 * (1.0 + before.1[which]), "{} to {} tons", before.1[which], after.1[which]);
        // And the cost rises by no less than the tons still bought pay, and no more than those bought before.
        let rise = after.0 - before.0;
        let slack = 1e-7 * before.0.abs().max(1.0);
        prop_assert!(rise >= more * after.1[which] - slack && rise <= more * before.1[which] + slack);
    }

    /// The least cost is convex in what is asked for.
    #[test]
    fn cost_is_convex_in_needs(low in 0.80..1.10f64, high in 0.80..1.10f64, share in 0.05..0.95f64, which in 0..2usize) {
        let rule = ["energy", "crude-protein"][which];
        let case = example(BITTER_CREEK, &["winter.to=2027-02-01"]);
        let cost = |factor: f64| {
            let mut cells = assemble(&case).unwrap();
            for instance in cells.iter_mut().flatten().flat_map(|cell| &mut cell.demands.rules) {
                if instance.rule.id == rule {
                    instance.limit *= factor;
                }
            }
            solve_growing(&mut Program::build(&case, &cells), &cells).ok().map(|found| found.objective)
        };
        let (Some(a), Some(b)) = (cost(low), cost(high)) else { return Err(TestCaseError::reject("no ration")) };
        let middle = cost(share * low + (1.0 - share) * high);
        prop_assert!(middle.is_some(), "no ration between two that have one");
        let line = share * a + (1.0 - share) * b;
        prop_assert!(middle.unwrap() <= line + 1e-7 * line.abs(), "{:?} over {}", middle, line);
    }
}

fn run(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_overwinter")).args(args).current_dir(env!("CARGO_MANIFEST_DIR")).output().unwrap()
}

/// Both forms of a price sheet say the same, and a long one is written in its order, a line a case, as many cells as heads.
#[test]
fn sheets_of_both_forms_and_of_any_length() {
    let case = example(BITTER_CREEK, &[]);
    let down = "feed,unit,a,b\nhay,bale,44,60\ncorn,bushel,4.60,\n";
    let across = "case,hay_usd_per_bale,corn_usd_per_ton\r\na,44,164.2857142857143\r\nb,60,\r\n";
    let (down, across) = (scenario::read_prices(down, &case).unwrap(), scenario::read_prices(across, &case).unwrap());
    for (one, other) in down.iter().zip(&across) {
        assert_eq!(one.name, other.name);
        for (left, right) in one.usd_per_ton.iter().zip(&other.usd_per_ton) {
            assert!(left.is_none() == right.is_none() && (left.unwrap_or(0.0) - right.unwrap_or(0.0)).abs() < 1e-9);
        }
    }
    let mut sheet = String::from("case,hay_usd_per_bale,whole_cottonseed_usd_per_ton\n");
    for row in 0..300 {
        writeln!(sheet, "row {row},{},{}", 30 + row % 60, 150 + row).unwrap();
    }
    let path = std::env::temp_dir().join(format!("overwinter-sheet-{}.csv", std::process::id()));
    std::fs::write(&path, sheet).unwrap();
    let out = run(&["compare", BITTER_CREEK, "--prices", path.to_str().unwrap(), "--format", "csv"]);
    std::fs::remove_file(&path).unwrap();
    let text = String::from_utf8(out.stdout).unwrap();
    assert_eq!((out.status.code(), String::from_utf8_lossy(&out.stderr).into_owned()), (Some(0), String::new()));
    let lines: Vec<Vec<&str>> = text.lines().map(|line| line.split(',').collect()).collect();
    assert_eq!(lines.len(), 301);
    assert!(lines.iter().all(|line| line.len() == lines[0].len()));
    for (row, line) in lines[1..].iter().enumerate() {
        assert_eq!((line[0], line[1]), (format!("row {row}").as_str(), "plan"));
    }
}

/// Pages keep to a hundred columns, with long names and many inputs that differ.
#[test]
fn pages_keep_to_a_hundred_columns() {
    let plains = "examples/high-plains/herd.yaml";
    let ways: [&[&str]; 3] = [
        &["compare", DRY_FORK, plains, TWO_GINS],
        &["compare", TWO_GINS, plains],
        &["plan", TWO_GINS, "--within", "8%"],
    ];
    for args in ways {
        let text = String::from_utf8(run(args).stdout).unwrap();
        assert!(text.lines().count() > 20, "{args:?}");
        for line in text.lines() {
            assert!(line.chars().count() <= 100, "{args:?}: {line}");
        }
    }
}
