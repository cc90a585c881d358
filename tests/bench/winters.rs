//! How long whole winters take, from the text of the file to the page: `cargo bench --bench winters`. With a folder as
//! argument it writes the herd files there, to time the program itself.

#![allow(clippy::print_stdout, clippy::panic, clippy::unwrap_used)] // a bench tells its figures

use overwinter::report::text;
use overwinter::scenario;
use overwinter::value::sweep::{PriceList, Sweep};
use std::fmt::Write as _;
use std::time::Instant;

#[path = "../library/mod.rs"]
mod library;
use library::library;

const FEEDS: [&str; 20] = [
    "prairie_hay: {on_hand_tons: 150, value_usd_per_ton: 50}",
    "bermuda_hay_mature: {price_usd_per_ton: 130}",
    "gin_trash_stripper: {price_usd_per_ton: 35, tons_per_week: 30, storage_tons: 90, loss_pct_per_month: 5}",
    "whole_cottonseed: {price_usd_per_ton: {2026-11: 230, 2027-01: 260}, storage_tons: 60}",
    "distillers_grains: {price_usd_per_ton: 240}",
    "corn: {price_usd_per_ton: 190}",
    "range_cube_20: {price_usd_per_ton: 312}",
    "range_cube_38: {price_usd_per_ton: 425}",
    "soybean_hulls: {price_usd_per_ton: 200}",
    "cottonseed_meal_prepress: {price_usd_per_ton: 340}",
    "limestone: {price_usd_per_ton: 180}",
    "mineral_12_12: {price_usd_per_ton: 900, fixed_oz: 4}",
    "wheat_straw: {price_usd_per_ton: 90}",
    "bermuda_hay_good: {price_usd_per_ton: 160}",
    "hay_2: {like: prairie_hay, on_hand_tons: 60, value_usd_per_ton: 55, stored: barn}",
    "trash_2: {like: gin_trash_stripper, price_usd_per_ton: 30, tons_per_week: 20, storage_tons: 60}",
    "seed_2: {like: whole_cottonseed, price_usd_per_ton: 250, storage_tons: 40}",
    "cubes_2: {like: range_cube_38, price_usd_per_ton: 410, tons_per_week: 3}",
    "hulls_2: {like: soybean_hulls, price_usd_per_ton: 195, tons_per_week: 5}",
    "corn_2: {like: corn, price_usd_per_ton: 185, tons_per_week: 5}",
];

const GROUPS: [&str; 6] = [
    "cows: {kind: cow, head: 120, weight_lb: 1200, calving: 2027-03-01}",
    "fall_cows: {kind: cow, head: 60, weight_lb: 1200, calving: 2026-10-01}",
    "bred_heifers: {kind: bred_heifer, head: 25, weight_lb: 950, mature_weight_lb: 1200, calving: 2027-02-15}",
    "first_calf: {kind: first_calf_cow, head: 20, weight_lb: 1050, mature_weight_lb: 1200, calving: 2027-02-15}",
    "bulls: {kind: bull, head: 6, weight_lb: 1800}",
    "stockers: {kind: stocker, head: 50, weight_lb: 550, mature_weight_lb: 1200, gain_lb_per_day: 1}",
];

fn herd(groups: usize, winter: &str, feeds: usize) -> String {
    let mut text = format!("place: {{weather: rolling_plains}}\nwinter: {winter}\ngroups:\n");
    for group in &GROUPS[..groups] {
        let _ = writeln!(text, "  {group}");
    }
    text.push_str("feeds:\n");
    for feed in &FEEDS[..feeds] {
        let _ = writeln!(text, "  {feed}");
    }
    text
}

fn main() {
    let folder = std::env::args().skip(1).find(|word| !word.starts_with("--"));
    let winters = [
        ("monthly", "5 groups, 5 months, 12 feeds", herd(5, "{from: 2026-11-01, to: 2027-04-01}", 12)),
        ("weekly", "6 groups, 26 weeks, 20 feeds", herd(6, "{from: 2026-10-01, to: 2027-04-01, periods: weeks}", 20)),
    ];
    for (name, words, text) in winters {
        if let Some(folder) = &folder {
            std::fs::write(format!("{folder}/{name}.yaml"), &text).unwrap();
        }
        let begun = Instant::now();
        let case = scenario::read(&text, library()).unwrap_or_else(|list| panic!("{list:#?}")).value;
        let report = overwinter::plan(&case).unwrap_or_else(|stop| panic!("{stop:?}"));
        let page = text::plan_page(&report);
        println!("{words}: {:.3} s, {} bytes of page", begun.elapsed().as_secs_f64(), page.len());
    }
    sweep();
}

/// Price lists of the sweep.
const LISTS: u32 = 10_000;

/// Many price lists over one group, on one core.
fn sweep() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/ranches/bitter-creek.yaml");
    let text = std::fs::read_to_string(path).unwrap();
    let case = scenario::read(&text, library()).unwrap_or_else(|list| panic!("{list:#?}")).value;
    let lists: Vec<PriceList> = (0..LISTS)
        .map(|list| {
            // Each feed from a third to two and a third of its price, all differently.
            let share = |feed: usize| f64::from((list * (7 + 12 * u32::try_from(feed).unwrap()) + 31) % 997) / 997.0;
            let offers = case.offers.iter().enumerate();
            offers.map(|(feed, offer)| offer.price_usd_per_ton.map(|usd| usd * (0.33 + 2.0 * share(feed)))).collect()
        })
        .collect();
    let begun = Instant::now();
    let sweep = Sweep::new(&case).unwrap_or_else(|no| panic!("{no:?}"));
    let mut plans = 0_u32;
    let ended: Result<(), ()> = sweep.run(&lists, 1, |_, answer| {
        plans += u32::from(answer.is_ok());
        Ok(())
    });
    assert!(ended.is_ok() && plans == LISTS, "{plans} of {LISTS} lists have a plan");
    let seconds = begun.elapsed().as_secs_f64();
    let rations = f64::from(LISTS) * case.periods.len() as f64;
    println!(
        "{LISTS} price lists, 1 group, {} periods: {seconds:.2} s on one core, {:.0} winters and {:.0} rations a second",
        case.periods.len(),
        f64::from(LISTS) / seconds,
        rations / seconds
    );
}
