//! What must hold of any winter: scale, cuts, useless feeds, whole loads, folds.

use super::{case, cells, full, offer, plan_by, plan_of};
use approx::assert_relative_eq;
use overwinter::winter;
use overwinter::winter::loads::WholeLoads;

#[test]
fn twice_the_herd_and_the_tons_cost_twice_and_eat_the_same() {
    let (one, two) = (plan_of(&full(1.0, "")), plan_of(&full(2.0, "")));
    assert_relative_eq!(two.cost_usd, 2.0 * one.cost_usd, max_relative = 1e-7);
    if matches!(one.uniqueness, overwinter::lp::Uniqueness::Unique) {
        for (a, b) in one.rations.iter().flatten().zip(two.rations.iter().flatten()) {
            for (x, y) in a.kg_dm.iter().zip(&b.kg_dm) {
                assert!((x - y).abs() < 1e-5, "{x} against {y}");
            }
        }
    }
}

/// At constant needs a period cut in two costs what it cost whole: loss in store runs on as if nothing were cut.
#[test]
fn a_cut_changes_nothing_at_constant_needs() {
    let text = |periods: &str, hay: &str| {
        case(&format!(
            "place: {{weather: rolling_plains}}
winter: {{from: 2026-12-01, to: 2027-03-01, periods: {periods}}}
groups: {{cows: {{kind: cow, head: 50, weight_lb: 1200, calving: open}}}}
needs_override: {{cows: {{nem_mcal: 11, dmi_max_kg: 12}}}}
feeds:
  prairie_hay: {{on_hand_tons: 40, loss_pct_per_month: 6, waste_pct: 10{hay}}}
  bermuda_hay_mature: {{price_usd_per_ton: 120, loss_pct_per_month: 3}}
  range_cube_38: {{price_usd_per_ton: 400, loss_pct: 2}}
steady_pct: 0
"
        ))
    };
    let rules = ["energy", "intake", "your-fixed"];
    let cost = |periods: &str, hay: &str| plan_by(&text(periods, hay), &rules).cost_usd;
    let cuts = ["[2027-01-15]", "months", "half-months", "weeks"];
    let even = cost("[2026-12-01]", ", fixed_lb: 9");
    for periods in cuts {
        assert_relative_eq!(cost(periods, ", fixed_lb: 9"), even, max_relative = 1e-8);
    }
    // Left free, a finer cut lets the rotting hay be fed first: never dearer.
    let free = cost("[2026-12-01]", "");
    for periods in cuts {
        assert!(cost(periods, "") <= free * (1.0 + 1e-8), "{periods}");
    }
}

#[test]
fn a_useless_feed_changes_nothing_and_a_cheaper_lot_never_costs_more() {
    let base = plan_of(&full(1.0, "")).cost_usd;
    let with = |text: &str| {
        let mut more = full(1.0, "");
        let other = case(&format!(
            "place: {{weather: rolling_plains}}
winter: {{from: 2026-11-15, to: 2027-03-16}}
groups: {{cows: {{kind: cow, head: 60, weight_lb: 1200, calving: open}}, bulls: {{kind: bull, head: 4, weight_lb: 1800}}}}
feeds: {{{text}}}
"
        ));
        more.offers.extend(other.offers);
        plan_of(&more).cost_usd
    };
    assert_relative_eq!(with("wheat_straw: {price_usd_per_ton: 5000}"), base, max_relative = 1e-9);
    let cheaper = with("hay_next_door: {like: bermuda_hay_mature, price_usd_per_ton: 60, tons_per_week: 2}");
    assert!(cheaper < base - 1.0, "{cheaper} against {base}");
}

#[test]
fn whole_loads_never_cost_less_and_say_how_near_they_are() {
    let part = plan_of(&full(1.0, ""));
    let case = full(1.0, ", whole_loads: true");
    let whole = plan_of(&case);
    assert!(whole.cost_usd >= part.cost_usd * (1.0 - 1e-9), "{} against {}", whole.cost_usd, part.cost_usd);
    let Some(WholeLoads::Found { bound_usd, gap, part_loads_usd, .. }) = whole.whole else { panic!("no whole loads") };
    assert_relative_eq!(part_loads_usd, part.least_cost_usd, max_relative = 1e-7);
    assert!(bound_usd >= part_loads_usd * (1.0 - 1e-9) && bound_usd <= whole.least_cost_usd * (1.0 + 1e-9));
    assert!((0.0..=0.003_1).contains(&gap), "{gap}");
    let seed = offer(&case, "whole_cottonseed");
    for flow in &whole.feeds[seed].flows {
        let loads = flow.bought_tons / 20.0;
        assert!((loads - loads.round()).abs() < 1e-6, "{loads} loads");
        assert!(flow.left_tons <= 25.0 + 1e-6, "{} tons where there is room for 25", flow.left_tons);
    }
    // Trying every choice of one load or none in each period, each certified, finds nothing cheaper than the bound.
    let mut fewest = f64::INFINITY;
    let parts = cells(&case);
    let program = winter::program::Program::build(&case, &parts);
    let store = program.stores[seed].as_ref().unwrap();
    let cols: Vec<_> = store.bought.iter().flatten().copied().collect();
    for code in 0..2_usize.pow(u32::try_from(cols.len()).unwrap()) {
        let mut tried = program.clone();
        let mut rest = code;
        for col in &cols {
            let loads = f64::from(u32::try_from(rest % 2).unwrap());
            rest /= 2;
            (tried.lp.cols[col.0].lower, tried.lp.cols[col.0].upper) = (loads, loads);
        }
        match winter::plan::solve_growing(&mut tried, &parts) {
            Ok(found) => fewest = fewest.min(found.objective),
            Err(overwinter::lp::Failure::Infeasible) => {}
            Err(other) => panic!("{other}"),
        }
    }
    assert!(whole.least_cost_usd <= fewest * (1.0 + gap + 1e-9), "{} against {fewest}", whole.least_cost_usd);
    assert!(fewest >= bound_usd * (1.0 - 1e-9));
}

/// A seller with four tons a week and a truck for eleven: a load is there every third week, and no more by any day than
/// has come in.
#[test]
fn a_load_is_there_when_it_is_full() {
    let case = case(
        "place: {weather: rolling_plains}
winter: {from: 2026-12-01, to: 2027-01-26, periods: weeks}
groups: {cows: {kind: cow, head: 80, weight_lb: 1200, calving: 2027-03-01}}
feeds:
  prairie_hay: {price_usd_per_ton: 400}
  gin_trash_stripper: {price_usd_per_ton: 10, tons_per_week: 4, freight: {miles: 5, usd_per_loaded_mile: 4, tons_per_load: 11}, whole_loads: true, loss_pct_per_month: 0}
  range_cube_38: {price_usd_per_ton: 425}
  mineral_12_12: {price_usd_per_ton: 900, fixed_oz: 4}
",
    );
    let plan = plan_of(&case);
    assert!(matches!(plan.whole, Some(WholeLoads::Found { .. })), "{:?}", plan.whole);
    let trash = offer(&case, "gin_trash_stripper");
    let mut bought = 0.0;
    for (week, flow) in (1_u32..).zip(&plan.feeds[trash].flows) {
        bought += flow.bought_tons;
        assert!(bought <= 4.0 * f64::from(week) + 1e-6, "{bought} tons by week {week}");
    }
    // Against hay at four hundred dollars every load that fills up in time is bought: after weeks 3 and 6.
    assert!((bought - 22.0).abs() < 1e-6, "{bought}");
}

/// A purchase that stands in two rows cannot be folded away; the cost is the same, and both are proved.
#[test]
fn folded_or_not_the_cost_is_the_same() {
    let case = full(1.0, "");
    let cells = cells(&case);
    let mut folded = winter::program::Program::build(&case, &cells);
    let mut natural = folded.clone();
    let cols: Vec<_> =
        natural.stores.iter().flatten().flat_map(|store| store.bought.iter().flatten().copied()).collect();
    for col in cols {
        natural.lp.row("no fold", f64::NEG_INFINITY, 1e6, [(col, 1.0)]);
    }
    let a = winter::plan::solve_growing(&mut folded, &cells).unwrap();
    let b = winter::plan::solve_growing(&mut natural, &cells).unwrap();
    assert_relative_eq!(a.objective, b.objective, max_relative = 1e-8);
    assert!(a.certificate.holds() && b.certificate.holds());
}
