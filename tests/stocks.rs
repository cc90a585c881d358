//! The winter as one programme held against what can be known without it: cases solved by hand and by trying every
//! vertex, printed arithmetic, and laws that any right answer obeys.

#![allow(clippy::unwrap_used, clippy::panic, clippy::expect_used)] // a test may

use approx::assert_relative_eq;
use overwinter::feed::ginning::{GinOutput, Ginning};
use overwinter::feed::{Nutrient, Supply};
use overwinter::scenario;
use overwinter::winter::loads::WholeLoads;
use overwinter::winter::{self, Case, Cells, NoPlan, Plan};
use overwinter::{Stop, report};

mod library;
use library::library;

fn case(text: &str) -> Case {
    match scenario::read(text, library()) {
        Ok(read) => read.value,
        Err(list) => panic!("{list:#?}"),
    }
}

fn plan_of(case: &Case) -> Plan {
    winter::plan(case, &cells(case)).unwrap_or_else(|no| panic!("{no:#?}"))
}

fn cells(case: &Case) -> Cells<'_> {
    winter::assemble(case).unwrap_or_else(|list| panic!("{list:#?}"))
}

fn offer(case: &Case, id: &str) -> usize {
    case.offers.iter().position(|offer| offer.id == id).unwrap_or_else(|| panic!("no {id}"))
}

/// The cells of a case with all rules but these taken out: what is left is arithmetic that can be done by hand.
fn only<'c>(case: &'c Case, rules: &[&str]) -> Cells<'c> {
    let mut all = cells(case);
    for cell in all.iter_mut().flatten() {
        cell.demands.rules.retain(|rule| rules.contains(&rule.rule.id));
        cell.demands.growth = None;
    }
    all
}

fn plan_by(case: &Case, rules: &[&str]) -> Plan {
    winter::plan(case, &only(case, rules)).unwrap_or_else(|no| panic!("{no:#?}"))
}

const AMOUNTS: [&str; 3] = ["your-min", "your-max", "your-fixed"];

/// Cows that eat a fixed amount of one feed.
fn fixed(feed: &str, lb: f64, head: u32, days: u32, keys: &str) -> Case {
    let from = jiff::civil::date(2026, 12, 1);
    let to = from.checked_add(jiff::Span::new().days(i64::from(days))).unwrap();
    case(&format!(
        "place: {{weather: rolling_plains}}
winter: {{from: {from}, to: {to}, periods: months}}
groups:
  cows: {{kind: cow, head: {head}, weight_lb: 1200, calving: open}}
feeds:
  {feed}: {{fixed_lb: {lb}, {keys}}}
steady_pct: 0
"
    ))
}

#[derive(serde::Deserialize)]
struct Printed {
    loads: Vec<Load>,
    tons_per_cow: Vec<PerCow>,
    feeders: Vec<Feeder>,
    season: Vec<Weeks>,
}
#[derive(serde::Deserialize)]
struct Load {
    tons: f64,
    waste_pct: f64,
    loss_pct: f64,
    lb: f64,
    head: u32,
    days: u32,
}
#[derive(serde::Deserialize)]
struct PerCow {
    lb_dm: f64,
    days: u32,
    dm_pct: f64,
    waste_pct: f64,
    tons_dm: f64,
    tons_as_fed: f64,
    tons_with_waste: f64,
}
#[derive(serde::Deserialize)]
struct Feeder {
    name: String,
    gone: f64,
    waste: f64,
    eaten: f64,
}
#[derive(serde::Deserialize)]
struct Weeks {
    lb_per_bale: f64,
    from: jiff::civil::Date,
    to: jiff::civil::Date,
    tons: f64,
    tons_a_week: f64,
}

fn printed() -> Printed {
    serde_yaml::from_str(include_str!("published/stocks.yaml")).unwrap()
}

#[test]
fn a_load_feeds_so_many_cows_so_many_days() {
    for row in printed().loads {
        let keys = format!("on_hand_tons: {}, waste_pct: {}, loss_pct: {}", row.tons, row.waste_pct, row.loss_pct);
        let enough = fixed("prairie_hay", row.lb, row.head, row.days, &keys);
        let plan = plan_by(&enough, &AMOUNTS);
        let left = plan.feeds[0].flows.last().unwrap().left_tons;
        assert!(left.abs() < 1e-6 * row.tons, "{} tons leave {left}", row.tons);
        // One day more than it lasts cannot be fed from it.
        let longer = fixed("prairie_hay", row.lb, row.head, row.days + 1, &keys);
        assert!(matches!(winter::plan(&longer, &only(&longer, &AMOUNTS)), Err(NoPlan::Short(_))), "{} tons", row.tons);
    }
}

#[test]
fn tons_for_a_cow_over_a_winter() {
    for row in printed().tons_per_cow {
        let lb = row.lb_dm / (row.dm_pct / 100.0);
        let keys = format!("price_usd_per_ton: 100, waste_pct: 0, loss_pct: 0, test: {{dm_pct: {}}}", row.dm_pct);
        let bare = plan_by(&fixed("prairie_hay", lb, 1, row.days, &keys), &AMOUNTS);
        let tons = bare.feeds[0].bought_tons();
        assert_relative_eq!(tons * row.dm_pct / 100.0, row.tons_dm, max_relative = 1e-9);
        assert!((tons - row.tons_as_fed).abs() <= 0.0006, "{tons} against {}", row.tons_as_fed);
        assert_relative_eq!(bare.cost_usd, 100.0 * tons, max_relative = 1e-9);
        let keys = keys.replace("waste_pct: 0", &format!("waste_pct: {}", row.waste_pct));
        let wasted = plan_by(&fixed("prairie_hay", lb, 1, row.days, &keys), &AMOUNTS).feeds[0].bought_tons();
        assert!((wasted - row.tons_with_waste).abs() <= 0.0006, "{wasted} against {}", row.tons_with_waste);
    }
}

/// The shares that a feeder trial prints, put in as waste, give back what disappeared for what was eaten. The printed
/// means are of separate measurements: they close to 1 % only, and so does ours.
#[test]
fn what_disappears_at_a_feeder() {
    for row in printed().feeders {
        let share = 100.0 * row.waste / row.gone;
        let keys = format!("price_usd_per_ton: 100, loss_pct: 0, waste_pct: {share}, test: {{dm_pct: 88}}");
        let case = fixed("prairie_hay", row.eaten / 0.88, 1, 30, &keys);
        let gone = plan_by(&case, &AMOUNTS).feeds[0].bought_tons() * 2000.0 * 0.88 / 30.0;
        assert!((gone / row.gone - 1.0).abs() < 0.01, "{}: {gone} against {}", row.name, row.gone);
    }
}

#[test]
fn a_gin_season_by_weeks() {
    let table = Ginning::shipped().unwrap();
    for row in printed().season {
        let output = GinOutput { bales: 30_000.0, lb_per_bale: row.lb_per_bale, waiting_weeks: 0.0, share: 1.0 };
        let supply = Supply::Curve(table.regions["southeast"].supply(&output, row.from));
        let tons = supply.tons_between(row.from, row.to);
        assert_relative_eq!(tons, row.tons, max_relative = 1e-9);
        let days = f64::from(row.from.until(row.to).unwrap().get_days());
        assert!((tons * 7.0 / days - row.tons_a_week).abs() < 0.06, "{}", tons * 7.0 / days);
    }
}

/// Two groups, own hay for half of what they need, a cube to buy: 4 amounts, an energy and an intake row each, the stack.
fn own_hay(hay_tons: f64) -> Case {
    case(&format!(
        "place: {{weather: rolling_plains}}
winter: {{from: 2026-12-01, to: 2026-12-31, periods: months}}
groups:
  dry: {{kind: cow, head: 50, weight_lb: 1200, calving: open}}
  wet: {{kind: cow, head: 30, weight_lb: 1200, calving: open}}
needs_override:
  dry: {{nem_mcal: 10, dmi_max_kg: 12}}
  wet: {{nem_mcal: 15, dmi_max_kg: 12}}
feeds:
  prairie_hay: {{on_hand_tons: {hay_tons}, value_usd_per_ton: 40, waste_pct: 10, loss_pct: 5, test: {{dm_pct: 90, tdn_pct_dm: 50}}}}
  straw: {{like: wheat_straw, price_usd_per_ton: 90, waste_pct: 20, loss_pct: 0, test: {{dm_pct: 90, tdn_pct_dm: 42}}}}
  range_cube_38: {{price_usd_per_ton: 400, waste_pct: 0, loss_pct: 0, test: {{dm_pct: 90, tdn_pct_dm: 75}}}}
steady_pct: 0
"
    ))
}

/// The same winter as numbers: minimize cost·x over `rows·x ≤ sides`, x ≥ 0; columns are dry hay, straw, cube, wet
/// hay, straw, cube.
fn by_vertices(case: &Case, hay_tons: f64) -> f64 {
    let nem: Vec<f64> = case
        .offers
        .iter()
        .map(|offer| overwinter::feed::energy::nem_mcal_per_kg(offer.feed.get(Nutrient::Tdn).unwrap()))
        .collect();
    let ton = 907.184_74;
    // Tons for a kg of dry matter eaten, written out anew.
    let tons = [1.0 / 0.9 / (0.95 * 0.9) / ton, 1.0 / 0.9 / 0.8 / ton, 1.0 / 0.9 / ton];
    let days = 30.0;
    let price = [40.0, 90.0, 400.0];
    let mut cost = Vec::new();
    for head in [50.0, 30.0] {
        cost.extend((0..3).map(|f| head * days * tons[f] * price[f]));
    }
    let mut rows: Vec<([f64; 6], f64)> = Vec::new();
    for (group, need) in [(0, 10.0), (1, 15.0)] {
        let (mut energy, mut intake) = ([0.0; 6], [0.0; 6]);
        for f in 0..3 {
            energy[3 * group + f] = -nem[f];
            intake[3 * group + f] = 1.0;
        }
        rows.push((energy, -need));
        rows.push((intake, 12.0));
    }
    rows.push(([50.0 * days * tons[0], 0.0, 0.0, 30.0 * days * tons[0], 0.0, 0.0], hay_tons));
    for j in 0..6 {
        let mut least = [0.0; 6];
        least[j] = -1.0;
        rows.push((least, 0.0));
    }
    let mut best = f64::INFINITY;
    // Every choice of six of the eleven rows.
    for mask in 0_u32..1 << rows.len() {
        if mask.count_ones() != 6 {
            continue;
        }
        let chosen: Vec<_> = (0..rows.len()).filter(|i| mask >> i & 1 == 1).map(|i| rows[i]).collect();
        let Some(x) = solved(&chosen) else { continue };
        let inside = rows.iter().all(|(row, side)| {
            row.iter().zip(&x).map(|(a, b)| a * b).sum::<f64>() <= side + 1e-9 * side.abs().max(1.0)
        });
        if inside {
            best = best.min(cost.iter().zip(&x).map(|(a, b)| a * b).sum());
        }
    }
    best
}

/// Six equations by elimination.
fn solved(rows: &[([f64; 6], f64)]) -> Option<[f64; 6]> {
    let mut a: Vec<[f64; 7]> =
        rows.iter().map(|(row, side)| std::array::from_fn(|j| if j < 6 { row[j] } else { *side })).collect();
    for k in 0..6 {
        let pivot = (k..6).max_by(|p, q| a[*p][k].abs().total_cmp(&a[*q][k].abs()))?;
        if a[pivot][k].abs() < 1e-9 {
            return None;
        }
        a.swap(k, pivot);
        for i in 0..6 {
            if i != k {
                let factor = a[i][k] / a[k][k];
                let row = a[k];
                a[i].iter_mut().zip(row).for_each(|(x, y)| *x -= factor * y);
            }
        }
    }
    Some(std::array::from_fn(|k| a[k][6] / a[k][k]))
}

#[test]
fn own_hay_of_two_groups_as_every_vertex_has_it() {
    for hay in [5.0, 12.0, 20.0, 30.0, 45.0] {
        let case = own_hay(hay);
        let plan = plan_by(&case, &["energy", "intake"]);
        assert_relative_eq!(plan.cost_usd, by_vertices(&case, hay), max_relative = 1e-8);
        // The worth of a ton, held against a hundredth of a ton more and less.
        let step = 0.01;
        let slope = (by_vertices(&case, hay - step) - by_vertices(&case, hay + step)) / (2.0 * step);
        let own = case.offers[0].value_usd_per_ton;
        let worth = plan.feeds[0].one_more_ton_usd.unwrap();
        assert_relative_eq!(worth, slope + own, max_relative = 1e-5, epsilon = 1e-5);
    }
}

/// By hand: with plenty of room to eat, only energy counts, so a ton of hay is worth the straw or cube, whichever is
/// cheaper by the Mcal, whose energy it takes the place of.
#[test]
fn worth_of_hay_by_hand() {
    let case = own_hay(5.0);
    let plan = plan_by(&case, &["energy"]);
    let nem = |f: usize| overwinter::feed::energy::nem_mcal_per_kg(case.offers[f].feed.get(Nutrient::Tdn).unwrap());
    let kg_dm_of_ton = 907.184_74 * 0.9;
    let hay_mcal = kg_dm_of_ton * 0.95 * 0.9 * nem(0);
    let usd_per_mcal = (90.0 / (kg_dm_of_ton * 0.8 * nem(1))).min(400.0 / (kg_dm_of_ton * nem(2)));
    let mcal = (50.0 * 10.0 + 30.0 * 15.0) * 30.0;
    assert_relative_eq!(plan.feeds[0].one_more_ton_usd.unwrap(), hay_mcal * usd_per_mcal, max_relative = 1e-8);
    assert_relative_eq!(plan.cost_usd, 5.0 * 40.0 + (mcal - 5.0 * hay_mcal) * usd_per_mcal, max_relative = 1e-8);
}

/// A winter with everything in it that a store can have; `{…}` marks are filled by the tests.
fn full(scale: f64, more: &str) -> Case {
    let head = |count: f64| (count * scale).round();
    case(&format!(
        "place: {{weather: rolling_plains}}
winter: {{from: 2026-11-15, to: 2027-03-16, periods: months}}
groups:
  cows: {{kind: cow, head: {}, weight_lb: 1200, calving: 2027-03-20}}
  bulls: {{kind: bull, head: {}, weight_lb: 1800}}
feeds:
  prairie_hay:
    feeder: open_ring
    value_usd_per_ton: 50
    lots:
      - {{name: barn, on_hand_tons: {}, stored: barn, test: {{dm_pct: 91, cp_pct_dm: 8, tdn_pct_dm: 55}}}}
      - {{name: stack, on_hand_tons: {}, stored: outside_on_ground, test: {{dm_pct: 90, cp_pct_dm: 5.6, tdn_pct_dm: 50}}}}
  bermuda_hay_mature: {{price_usd_per_ton: 130}}
  gin_trash_stripper:
    {{price_usd_per_ton: 35, from: 2026-11-20, to: 2027-02-10, tons_per_week: {}, storage_tons: {}, loss_pct_per_month: 5}}
  whole_cottonseed:
    {{price_usd_per_ton: {{2026-11: 230, 2027-01: 270}}, storage_tons: {}, freight: {{miles: 10, usd_per_loaded_mile: 4, tons_per_load: 20}}{more}}}
  range_cube_38: {{price_usd_per_ton: 425}}
  limestone: {{price_usd_per_ton: 180}}
  mineral_12_12: {{price_usd_per_ton: 900, fixed_oz: 4}}
steady_pct: 0
",
        head(60.0),
        head(4.0),
        30.0 * scale,
        45.0 * scale,
        12.0 * scale,
        20.0 * scale,
        25.0 * scale,
    ))
}

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

/// Stores balance to the pound, nothing is bought outside its dates or beyond the offer, and what is hauled is what is
/// bought.
#[test]
fn stores_balance_and_keep_their_limits() {
    let mut case = full(1.0, ", whole_loads: true");
    case.settings.steady_pct = 0.5;
    let plan = plan_of(&case);
    for (offer, feed) in case.offers.iter().zip(&plan.feeds) {
        let mut before = offer.on_hand.tons();
        let (mut bought, mut offered) = (0.0, 0.0);
        for (flow, period) in feed.flows.iter().zip(&case.periods) {
            assert!((flow.opening_tons - before).abs() < 1e-6, "{}", offer.id);
            let balance = flow.opening_tons + flow.bought_tons - flow.fed_tons - flow.lost_tons - flow.left_tons;
            assert!(balance.abs() < 1e-6, "{} {}: {balance}", offer.id, period.label);
            bought += flow.bought_tons;
            offered += offer.tons_offered(period.from, period.to);
            // What is hauled in whole loads fills up a load before it is there; nothing else waits at the seller.
            assert!(bought <= offered + 1e-6, "{}", offer.id);
            if !offer.whole_loads {
                assert!(flow.bought_tons <= offer.tons_offered(period.from, period.to) + 1e-6, "{}", offer.id);
            }
            let room = offer.storage_tons.map_or(f64::INFINITY, |room| room.max(offer.on_hand.tons()));
            assert!(flow.left_tons <= room + 1e-6, "{}", offer.id);
            before = flow.left_tons;
        }
        let hauled: Vec<_> =
            report::haul::hauling(&case, &plan).into_iter().filter(|haul| haul.feed == offer.id).collect();
        let tons: f64 = hauled.iter().map(|haul| haul.tons).sum();
        let dollars: f64 = hauled.iter().map(|haul| haul.usd).sum();
        assert!((tons - feed.bought_tons()).abs() < 1e-4, "{}: {tons}", offer.id);
        assert!((dollars - feed.usd()).abs() < 0.05, "{}: {dollars} against {}", offer.id, feed.usd());
    }
    let dates: Vec<String> = report::haul::hauling(&case, &plan).into_iter().map(|haul| haul.date).collect();
    assert!(dates.is_sorted());
}

#[test]
fn buying_ahead_follows_the_price_and_pays_for_its_loss() {
    let of = |price: &str, loss: f64| {
        let keys = format!("price_usd_per_ton: {price}, storage_tons: 500, loss_pct_per_month: {loss}, waste_pct: 0");
        let case = fixed("whole_cottonseed", 5.0, 100, 90, &keys);
        plan_by(&case, &AMOUNTS).feeds[0].flows.iter().map(|flow| flow.bought_tons).collect::<Vec<_>>()
    };
    // Dearer by 20 % in January, lost 2 % a month: all is bought in December. Lost 25 % a month: each as it is fed.
    let ahead = of("{2026-12: 200, 2027-01: 240}", 2.0);
    assert!(ahead[1] < 1e-6 && ahead[2] < 1e-6, "{ahead:?}");
    let later = of("{2026-12: 200, 2027-01: 240}", 25.0);
    assert!(later.iter().all(|tons| *tons > 1.0), "{later:?}");
}

/// Fifty cows on hay alone: what is short, how many tons more would do, how many head fewer, all by arithmetic.
#[test]
fn short_hay_says_how_many_tons_and_head() {
    // 50 cows, 20 lb, 90 days, nothing lost: 45 tons. There are 36.
    let case = fixed("prairie_hay", 20.0, 50, 90, "on_hand_tons: 36, waste_pct: 0, loss_pct: 0");
    let Err(NoPlan::Short(short)) = winter::plan(&case, &only(&case, &AMOUNTS)) else { panic!("36 tons reach") };
    let stores = short.stores.unwrap();
    assert_relative_eq!(stores.runs_out.iter().map(|one| one.2).sum::<f64>(), 9.0, max_relative = 1e-7);
    assert_relative_eq!(stores.more_tons[0].1, 9.0, max_relative = 1e-7);
    // 36 tons feed 40 head.
    assert_eq!(stores.fewer_head, [(0, 10)]);
}

/// Trash that comes two weeks late for cows that have nothing else: a two weeks' earlier start alone would do.
#[test]
fn late_supply_says_how_many_weeks() {
    let keys = "price_usd_per_ton: 30, from: 2026-12-12, tons_per_week: 20, waste_pct: 0, loss_pct: 0";
    let case = fixed("gin_trash_stripper", 20.0, 50, 60, keys);
    let Err(NoPlan::Short(short)) = winter::plan(&case, &only(&case, &AMOUNTS)) else { panic!("it is not late") };
    assert_eq!(short.stores.unwrap().weeks_earlier, [(0, 2)]);
}

/// Practical amounts are whole scoops where they are measured out, keep every rule, and never cost less.
#[test]
fn practical_amounts_are_scoops_and_keep_every_rule() {
    let mut case = full(1.0, "");
    case.settings.steady_pct = 0.5;
    let cells = cells(&case);
    let plan = winter::plan(&case, &cells).unwrap();
    let rounded = winter::practical::round(&case, &cells, &plan).unwrap();
    assert!(rounded.cost_usd >= plan.least_cost_usd * (1.0 - 1e-9));
    for (g, row) in cells.iter().enumerate() {
        for (t, cell) in row.iter().enumerate() {
            let ration = &rounded.rations[g][t].kg_dm;
            let judged = overwinter::check::judge(&cell.block, &cell.demands, &case.offers, ration);
            assert!(judged.clean(), "{:?}", judged.lines.iter().find(|line| !line.kept));
            for (offer, kg) in case.offers.iter().zip(ration) {
                let lb = overwinter::quantity::KgDm(*kg).as_fed(offer.feed.dm_pct()).lb();
                let scoop = if offer.feed.class.is_mineral() { 1.0 / 16.0 } else { 0.5 };
                let scoops = lb / scoop;
                assert!((scoops - scoops.round()).abs() < 1e-6, "{lb} lb of {}", offer.id);
            }
        }
    }
}

/// Winters drawn at random either come out proved and checked, or say what is short.
#[test]
fn random_winters_are_proved_or_explained() {
    let run = |seeds: Vec<u64>| {
        let (mut planned, mut short) = (0, 0);
        for seed in seeds {
            match overwinter::plan(&drawn(seed)) {
                Ok(_) => planned += 1,
                Err(Stop::Short(why)) => {
                    assert!(!why.shortfalls.is_empty(), "seed {seed} is short of nothing");
                    short += 1;
                }
                Err(other) => panic!("seed {seed}: {other:?}"),
            }
        }
        (planned, short)
    };
    let (even, odd) = std::thread::scope(|scope| {
        let even = scope.spawn(|| run((0..200).step_by(2).collect()));
        let odd = scope.spawn(|| run((1..200).step_by(2).collect()));
        (even.join().unwrap(), odd.join().unwrap())
    });
    let (planned, short) = (even.0 + odd.0, even.1 + odd.1);
    // Both ends must be seen, or the draw tests nothing.
    assert!(planned >= 60 && short >= 20, "{planned} planned, {short} short");
}

/// A small winter by a seed: hay from scarce to plenty, trash by the week, seed by the load or not.
fn drawn(seed: u64) -> Case {
    let mut state = seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1;
    let mut draw = |low: f64, high: f64| {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        let bits = u32::try_from(state >> 40).unwrap();
        low + (high - low) * f64::from(bits) / f64::from(1_u32 << 24)
    };
    let cows = draw(20.0, 120.0).round();
    let hay = cows * draw(0.1, 1.4);
    let week = cows * draw(0.02, 0.2);
    let room = cows * draw(0.1, 0.6);
    let price = draw(20.0, 60.0);
    let seed_price = draw(180.0, 320.0);
    let whole = seed.is_multiple_of(4);
    let cube = if seed.is_multiple_of(3) { "" } else { "  range_cube_38: {price_usd_per_ton: 425}\n" };
    let bought = if seed.is_multiple_of(5) { "  bermuda_hay_mature: {price_usd_per_ton: 140}\n" } else { "" };
    let way = if seed.is_multiple_of(2) { "free_choice" } else { "by_hand" };
    let growing = draw(5.0, 20.0).round();
    case(&format!(
        "place: {{weather: rolling_plains}}
winter: {{from: 2026-12-01, to: 2027-03-11, periods: [2027-01-15]}}
groups:
  cows: {{kind: cow, head: {cows}, weight_lb: 1200, calving: 2027-03-01}}
  bred_heifers: {{kind: bred_heifer, head: {growing}, weight_lb: 950, mature_weight_lb: 1200, calving: 2027-02-15}}
feeds:
  prairie_hay: {{on_hand_tons: {hay:.2}, value_usd_per_ton: 40}}
  gin_trash_stripper: {{price_usd_per_ton: {price:.2}, from: 2026-11-20, to: 2027-02-20, tons_per_week: {week:.2}, storage_tons: {room:.2}, fed: {way}}}
  whole_cottonseed: {{price_usd_per_ton: {seed_price:.2}, freight: {{miles: 20, usd_per_loaded_mile: 4, tons_per_load: 12}}, whole_loads: {whole}}}
{cube}{bought}  limestone: {{price_usd_per_ton: 180}}
  mineral_12_12: {{price_usd_per_ton: 900, fixed_oz: 4}}
steady_pct: 0
"
    ))
}

/// Trash that is put out at will until February, in a ration of March: counted, and told.
#[test]
fn a_feed_outside_its_dates_is_told() {
    let case = case(
        "place: {weather: rolling_plains}
winter: {from: 2027-01-01, to: 2027-04-01}
groups: {cows: {kind: cow, head: 80, weight_lb: 1200, calving: 2027-03-01}}
feeds:
  prairie_hay: {price_usd_per_ton: 100}
  gin_trash_stripper: {price_usd_per_ton: 10, from: 2026-11-20, to: 2027-02-28, fed: free_choice}
  mineral_12_12: {price_usd_per_ton: 900, fixed_oz: 4}
fed: {cows: {prairie_hay: 14, gin_trash_stripper: 10, mineral_12_12: 0.25}}
",
    );
    let report = overwinter::check_rations(&case).unwrap();
    let told: Vec<_> = report.cautions.iter().filter(|caution| caution.rule == "not-at-hand").collect();
    assert_eq!(told.len(), 1);
    assert_eq!(told[0].periods, ["2027-03"]);
    assert!(told[0].text.contains("to 2027-02-28"), "{}", told[0].text);
}
