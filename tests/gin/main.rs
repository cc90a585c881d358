//! The gin's side held against print, against trying every price, and against laws that any right answer obeys.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "tests")]

mod laws;
#[path = "../library/mod.rs"]
mod library;
mod printed;
#[expect(dead_code, reason = "other tests use the rest")]
#[path = "../rows/mod.rs"]
mod rows;
mod told;

use library::library;
use overwinter::gin::Gin;
use overwinter::gin::answer::{Answer, answer};
use overwinter::gin::buyer::{Prices, ask_all};
use overwinter::gin::pile::{Season, keep};
use overwinter::gin::price::lowest;
use overwinter::gin::product::Kind;
use overwinter::report::gin::build;
use overwinter::scenario;
use std::path::Path;
use std::sync::LazyLock;

fn read(folder: &str, text: &str) -> Gin {
    let herds = |file: &str| scenario::load(&Path::new(env!("CARGO_MANIFEST_DIR")).join(folder).join(file));
    let read = scenario::gin::read(text, "gin.yaml", library(), &herds);
    read.gin.unwrap_or_else(|| panic!("{:#?}", read.told))
}

fn example(folder: &str) -> Gin {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder).join("gin.yaml");
    read(folder, &std::fs::read_to_string(path).unwrap())
}

static PLAINS: LazyLock<Gin> = LazyLock::new(|| example("examples/plains-gin"));
static TRASH: LazyLock<Answer> = LazyLock::new(|| answer(&PLAINS, Kind::Trash));

// What is printed.

// The price.

fn season<'a>(gin: &'a Gin, found: &'a Answer) -> Season<'a> {
    Season {
        product: gin.product(found.kind),
        weeks: &found.weeks,
        produced: &found.produced,
        room_tons: found.room_tons,
        handling_usd_per_ton: 0.0,
    }
}

/// Every cent from the lowest price to the highest: none nets more than the one chosen.
#[test]
fn no_cent_nets_more_than_the_price_chosen() {
    let season = season(&PLAINS, &TRASH);
    let best = &TRASH.answer.best;
    let highest = PLAINS.trash.ceiling_usd_per_ton;
    let mut price = (lowest(&TRASH.buyers) * 100.0).floor() / 100.0;
    let (mut most, mut at) = (f64::NEG_INFINITY, 0.0);
    let mut tried = 0;
    while price <= highest {
        let net = keep(&season, &TRASH.buyers, price).net_usd();
        if net > most + 1e-6 {
            (most, at) = (net, price);
        }
        tried += 1;
        price += 0.01;
    }
    assert!(tried > 15_000, "{tried}");
    assert!(most <= best.net_usd() + 0.5, "${at} nets {most}, ${} nets {}", best.usd_per_ton, best.net_usd());
    assert!((at - best.usd_per_ton).abs() < 0.02, "{at} against {}", best.usd_per_ton);
    assert!(best.sold_tons() > 500.0 && best.net_usd() > TRASH.answer.none.net_usd());
}

#[test]
fn the_example_answers() {
    let report = build::report(&PLAINS, std::slice::from_ref(&*TRASH));
    let trash = &report.products[0];
    assert_eq!(trash.neighbors.len(), 5, "{:?}", trash.not_asked);
    assert!(trash.neighbors.is_sorted_by(|a, b| a.miles <= b.miles));
    let ask = trash.ask_usd_per_ton.unwrap();
    for one in &trash.neighbors {
        // He buys just when the price is not above what his first load is worth to him.
        assert_eq!(one.tons > 0.0, ask <= one.worth_at_gin_usd_per_ton.unwrap() + 1e-6, "{}", one.name);
        let months: f64 = one.months.iter().map(|month| month.tons).sum();
        assert!((months - one.tons).abs() < 1e-6, "{}", one.name);
    }
    let sum: f64 = trash.neighbors.iter().map(|one| one.tons).sum();
    assert!((sum - trash.at_ask.sold_tons).abs() < 1e-6);
    assert!(trash.at_ask.overflows_in_week_of.is_some());
    // The page, the slips and the sheet say so.
    let page = overwinter::report::gin::text::page(&report, overwinter::report::gin::units::Units { metric: false });
    assert!(page.contains(&format!("ASK ${ask:.2} a ton")), "{page}");
    assert!(page.contains("is full in the week of"), "{page}");
    assert!(page.contains("MISSING on the trash slip"), "{page}");
    assert!(page.lines().all(|line| line.chars().count() <= 100), "{page}");
    for text in [overwinter::report::gin::sheet::slips(&report), overwinter::report::gin::sheet::buyer_sheets(&report)]
    {
        assert!(text.contains("TDN") && text.contains("MISSING"), "{text}");
        let line = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(line.contains("Ask your state feed control office"), "{text}");
        assert!(text.lines().all(|line| line.chars().count() <= 100), "{text}");
    }
}

/// Dearer hay never lowers what trash is worth to a herd that can only turn to hay.
#[test]
fn dearer_hay_raises_the_worth_of_trash() {
    let text = "gin: {region: high_plains}\nseason: {year: 2026, bales: 3000, harvest: picker}\nseed: {uses: {crush: 200}}\n\
                neighbors: [{name: near, head: 300, miles: 10}]\n";
    let gin = read("examples", text);
    let said = ask_all(&gin, Kind::Trash, &[Prices::Hay(0.75), Prices::AsWritten, Prices::Hay(1.25)]);
    let worth: Vec<f64> =
        said.into_iter().map(|list| list[0].1.as_ref().unwrap().delivered_worth(0.5).unwrap()).collect();
    assert!(worth[0] + 1.0 < worth[1] && worth[1] + 1.0 < worth[2], "{worth:?}");
}

/// Where being rid of trash costs much, a neighbor too far to pay is paid, and never more than it saves.
#[test]
fn a_far_neighbor_is_paid_to_take_it() {
    let text = "gin: {region: mid_south}\nseason: {year: 2026, bales: 30000, harvest: picker}\ntrash: {storage_tons: 100, \
                uses: {haul_off: -25}}\nseed: {uses: {crush: 190}}\nneighbors: [{name: far, head: 300, miles: 330}]\n";
    let gin = read("examples", text);
    let found = answer(&gin, Kind::Trash);
    let best = &found.answer.best;
    assert!(best.usd_per_ton < 0.0 && best.sold_tons() > 10.0, "{} {}", best.usd_per_ton, best.sold_tons());
    assert!(best.usd_per_ton - gin.trash.loading_usd_per_ton > -25.0, "{}", best.usd_per_ton);
    assert!(best.net_usd() > found.answer.none.net_usd());
    let page = overwinter::report::gin::text::page(
        &build::report(&gin, &[found]),
        overwinter::report::gin::units::Units { metric: false },
    );
    assert!(page.contains("PAY $"), "{page}");
}

#[test]
fn the_picker_gin_of_ten_lines_answers() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/southeast-gin/gin.yaml");
    let text = std::fs::read_to_string(path).unwrap();
    assert!(text.lines().count() <= 11, "ten lines and a remark");
    let gin = example("examples/southeast-gin");
    let found = answer(&gin, Kind::Trash);
    assert!(gin.wet && found.unfit.is_empty(), "{:?}", found.unfit);
    let ordinary = read("examples/southeast-gin", &text.replace(", harvest_weather: wet", ""));
    // Bad weather: later, heavier seed cotton, more lost in the pile.
    assert!(gin.ginned.points[0].0 > ordinary.ginned.points[0].0);
    assert!(gin.balance.seed_cotton_lb > ordinary.balance.seed_cotton_lb);
    assert!(gin.trash.loss.drawn_over(30.4) < ordinary.trash.loss.drawn_over(30.4));
    assert!(found.answer.best.net_usd() > found.answer.none.net_usd());
}

// Laws.
