//! The winter as one programme held against what can be known without it: cases solved by hand and by trying every
//! vertex, printed arithmetic, and laws that any right answer obeys.
#![allow(clippy::unwrap_used, clippy::panic, clippy::expect_used)] // a test may

mod by_hand;
mod laws;
#[path = "../library/mod.rs"]
mod library;
mod printed;

use approx::assert_relative_eq;
use library::library;
use overwinter::winter::{Case, Cells, NoPlan, Plan};
use overwinter::{Stop, report, scenario, winter};

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
