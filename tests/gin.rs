//! The gin's side held against print, against trying every price, and against laws that any right answer obeys.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "tests")]

use indexmap::IndexMap;
use jiff::civil::{Date, date};
use overwinter::feed::ginning::{GinOutput, Ginning};
use overwinter::feed::offer::StorageLoss;
use overwinter::feed::{Bibliography, Freight};
use overwinter::gin::answer::{Answer, answer};
use overwinter::gin::balance::{GivenBale, GivenFigure, balance};
use overwinter::gin::buyer::{Buyer, Prices, ask_all};
use overwinter::gin::harvest::{LOSS_PCT, MOTES_LB, SEED_LB, Usual, WET_LOSS_PCT};
use overwinter::gin::pile::{Books, Season, keep};
use overwinter::gin::price::{demand_tons, lowest, search};
use overwinter::gin::product::{Kind, Room, room_ft3, tons_per_load};
use overwinter::gin::yard::Yard;
use overwinter::gin::{Form, Gin, Harvest, Outlet, radius, two_prices, weeks};
use overwinter::lp::{self, Lp};
use overwinter::report::gin::build;
use overwinter::scenario;
use overwinter::source::{Cite, Origin};
use overwinter::value::worth::{Row, RowEnd, Table};
use proptest::prelude::*;
use std::path::Path;
use std::sync::LazyLock;

mod library;
#[expect(dead_code, reason = "other tests use the rest")]
mod rows;
use library::library;
use rows::run;

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

fn harvest(key: &str) -> Harvest {
    Harvest::ALL.into_iter().find(|one| one.key() == key).unwrap()
}

#[test]
fn balance_of_a_bale() {
    run("gin_balance.yaml", |given| {
        let bale = GivenBale {
            lint_lb: Some(given.number("lint_lb")),
            seed_lb: Some(GivenFigure::only(given.number("seed_lb"))),
            motes_lb: Some(GivenFigure::only(given.number("motes_lb"))),
            trash_lb: Some(GivenFigure::only(given.number("trash_lb"))),
            loss_pct: Some(given.number("loss_pct")),
            seed_cotton_lb: None,
        };
        let found = balance(harvest(given.text("harvest")), false, &bale).unwrap();
        IndexMap::from([
            ("before_loss_lb", found.seed_cotton_lb - found.loss.lb),
            ("seed_cotton_lb", found.seed_cotton_lb),
            ("turnout_pct", found.turnout() * 100.0),
        ])
    });
    // The trash of the table is what is taken where nothing is given.
    for (key, lb) in
        [("picker", 120.0), ("stripper_with_field_cleaner", 375.0), ("stripper_without_field_cleaner", 700.0)]
    {
        let usual = balance(harvest(key), false, &GivenBale::default()).unwrap();
        assert!((usual.trash.lb - lb).abs() < 1e-9, "{key}");
        assert!(usual.trash.low_lb < lb && lb < usual.trash.high_lb, "{key}");
    }
}

#[test]
fn turnouts() {
    run("gin_turnout.yaml", |given| {
        let bale = GivenBale {
            lint_lb: Some(given.number("lint_lb")),
            seed_lb: Some(GivenFigure::only(given.number("seed_lb"))),
            motes_lb: Some(GivenFigure::only(0.0)),
            loss_pct: Some(0.0),
            seed_cotton_lb: Some(given.number("seed_cotton_lb")),
            trash_lb: None,
        };
        let found = balance(Harvest::Picker, false, &bale).unwrap();
        IndexMap::from([("turnout_pct", found.turnout() * 100.0), ("trash_lb", found.trash.lb)])
    });
}

#[test]
fn seed_and_tons() {
    run("gin_seed.yaml", |given| {
        let bale = GivenBale {
            lint_lb: Some(given.number("lint_lb")),
            seed_lb: Some(GivenFigure::only(given.number("seed_lb"))),
            ..GivenBale::default()
        };
        IndexMap::from([("seed_to_lint", balance(Harvest::Picker, false, &bale).unwrap().seed_to_lint())])
    });
    run("gin_tons.yaml", |given| {
        IndexMap::from([("tons", weeks::tons(given.number("bales"), given.number("lb_per_bale")))])
    });
}

#[expect(clippy::cast_possible_truncation, reason = "months, days and years")]
#[test]
fn tons_by_week() {
    run("gin_season.yaml", |given| {
        let whole = |key: &str| given.number(key) as i8;
        let year = given.number("year") as i16;
        let table = Ginning::shipped().unwrap();
        let season = &table.regions[given.text("region")];
        let output = GinOutput { bales: given.number("bales"), lb_per_bale: 2000.0, waiting_weeks: 0.0, share: 1.0 };
        let ginned = season.supply(&output, date(year, 10, 15));
        let (from, to) =
            (date(year, whole("from_month"), whole("from_day")), date(year, whole("to_month"), whole("to_day")));
        let lb = given.number("lb_per_bale");
        IndexMap::from([
            ("season_tons", weeks::tons(given.number("bales"), lb)),
            ("tons", weeks::tons(ginned.by(to) - ginned.by(from), lb)),
            // A whole week inside, as the weeks of the answer are cut.
            ("tons_per_week", weeks::tons(ginned.by(weeks::later(from, weeks::WEEK)) - ginned.by(from), lb)),
        ])
    });
}

#[test]
fn modules_room_loads_and_miles() {
    run("gin_modules.yaml", |given| {
        let each = given.number("bales_per_module");
        let per = Usual { low: each, usual: each, high: each, cite: Cite::judgement("the row's") };
        let yard = Yard {
            round_modules: given.number("round_modules"),
            module_loads: given.number("module_loads"),
            bales_per_round: per,
            waiting_weeks: None,
            bales_per_week: None,
        };
        IndexMap::from([("bales", yard.bales().1)])
    });
    run("gin_room.yaml", |given| IndexMap::from([("ft3", room_ft3(given.number("tons"), given.number("lb_per_ft3")))]));
    run("gin_loads.yaml", |given| {
        let tons = tons_per_load(given.number("trailer_ft3"), given.number("lb_per_ft3"), given.number("most_tons"));
        IndexMap::from([("tons", tons), ("usd_per_ton_mile", given.number("usd_per_mile") / tons)])
    });
    run("gin_radius.yaml", |given| {
        let truck = Freight {
            miles: 0.0,
            usd_per_loaded_mile: given.number("usd_per_mile"),
            tons_per_load: given.number("tons"),
            minimum_usd: 0.0,
        };
        let [value, price, loading] = ["value_usd", "price_usd", "loading_usd"].map(|key| given.number(key));
        let miles = radius::miles(value, price, loading, &truck);
        // A haul of that length eats just what is left.
        let haul = Freight { miles, ..truck };
        assert!((value - price - loading - haul.usd_per_ton()).abs() < 1e-9);
        IndexMap::from([("miles", miles)])
    });
    run("gin_screening.yaml", |given| {
        let square_miles = radius::square_miles(given.number("within_miles"));
        let head = given.number("cows_per_square_mile") * square_miles;
        let tons = radius::screening_tons(head, given.number("share"), given.number("lb"), given.number("days"));
        IndexMap::from([("square_miles", square_miles), ("head", head), ("tons", tons)])
    });
}

#[test]
fn two_prices_overprice_roughage() {
    let cell = std::cell::Cell::new(0.0);
    run("gin_two_prices.yaml", |given| {
        let market = |name: &str| two_prices::Market {
            usd_per_ton: given.number(&format!("{name}_usd")),
            tdn_lb: given.number(&format!("{name}_tdn_lb")),
            cp_lb: given.number(&format!("{name}_cp_lb")),
        };
        let prices = two_prices::prices(&market("energy"), &market("protein")).unwrap();
        let usd = two_prices::worth(prices, given.number("tdn_lb"), given.number("cp_lb"));
        if given.text("feed") == "gin trash" {
            cell.set(usd);
        }
        IndexMap::from([("tdn_usd_per_lb", prices.0), ("cp_usd_per_lb", prices.1), ("usd_per_ton", usd)])
    });
    let trash_usd: f64 = cell.get();
    // Every herd of the example pays less than that delivered for its last ton, and far less for half of its tons.
    for buyer in &TRASH.buyers {
        let (last, half) = (buyer.delivered_worth(0.0).unwrap(), buyer.delivered_worth(0.5).unwrap());
        assert!(last < trash_usd, "{}: {last}", buyer.name);
        assert!(half < 0.8 * trash_usd, "{}: {half}", buyer.name);
    }
}

/// A feedlot study of the High Plains found demand that hardly moves below $70 a ton and falls fast above (elasticity
/// 3.8). The herds here are cows on hay, not a feedlot with alfalfa at 117 and hulls at 70, so the level is theirs.
#[test]
fn demand_is_steady_below_a_price_and_falls_fast_above() {
    // Delivered, so that distance does not blur it.
    let at =
        |usd: f64| -> f64 { TRASH.buyers.iter().map(|buyer| buyer.tons_at(usd - buyer.freight_usd_per_ton)).sum() };
    let elasticity = |low: f64, high: f64| {
        let (more, less) = (at(low), at(high));
        ((more - less) / (0.5 * (more + less))) / ((high - low) / (0.5 * (low + high)))
    };
    let (below, above) = (elasticity(20.0, 70.0), elasticity(70.0, 115.0));
    let half = build::report(&PLAINS, std::slice::from_ref(&*TRASH)).products[0].delivered_half_usd_per_ton.unwrap();
    assert!((70.0..90.0).contains(&half), "half of the tons are bought to {half}");
    assert!((0.0..0.5).contains(&below), "{below}");
    assert!(above > 2.0, "{above}");
    assert!(at(70.0) > 0.6 * at(20.0), "{} of {}", at(70.0), at(20.0));
}

#[test]
fn every_source_of_the_gin_is_in_the_bibliography() {
    let bibliography = Bibliography::shipped().unwrap();
    let harvests = Harvest::ALL.into_iter().flat_map(|one| [one.trash_lb(), one.bales_per_round_module()]);
    let forms = Form::TRASH.into_iter().chain([Form::Seed]).flat_map(|one| [one.density(), one.most_tons()]);
    let usual = harvests.chain(forms).chain([SEED_LB, MOTES_LB, LOSS_PCT, WET_LOSS_PCT]);
    for one in usual {
        assert!(one.low <= one.usual && one.usual <= one.high, "{one:?}");
        let needs_one = matches!(one.cite.origin, Origin::Published | Origin::Abstract);
        assert!(!needs_one || !one.cite.source.is_empty(), "{one:?}");
        assert!(one.cite.source.is_empty() || bibliography.contains(one.cite.source), "{one:?}");
    }
}

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
        // He buys just when the price is not above what his first ton is worth to him.
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

fn end(usd: f64, tons: f64) -> RowEnd {
    RowEnd {
        usd_per_ton: usd,
        tons,
        tons_by_period: vec![0.25 * tons, 0.5 * tons, 0.25 * tons],
        cost_usd: 0.0,
        lb_by_group: Vec::new(),
        drawn_tons: Vec::new(),
    }
}

/// A buyer with steps: widths of price, and the share of tons left after each.
fn stepped(miles: f64, most: f64, steps: &[(f64, f64)], slide: bool) -> Buyer {
    let mut rows = Vec::new();
    let (mut from, mut tons) = (0.0, most);
    for (width, left) in steps {
        let next = if slide { tons * left } else { tons };
        rows.push(Row { low: end(from, tons), high: end(from + width, next), changes: Vec::new() });
        from += width;
        tons *= left;
    }
    rows.push(Row { low: end(from, 0.0), high: end(2000.0, 0.0), changes: Vec::new() });
    let period = |from: Date, to: Date| overwinter::herd::Period { label: from.to_string(), from, to };
    Buyer {
        neighbor: 0,
        name: "one".to_owned(),
        miles,
        freight_usd_per_ton: miles / 3.0,
        scale: 1.0,
        waste: 0.1,
        table: Table { offer: 0, lowest_usd_per_ton: 0.0, rows },
        periods: vec![
            period(date(2026, 11, 1), date(2026, 12, 1)),
            period(date(2026, 12, 1), date(2027, 1, 20)),
            period(date(2027, 1, 20), date(2027, 3, 10)),
        ],
        window: (None, None),
        worth_factor: 1.0,
        worth_more_usd: 0.0,
    }
}

prop_compose! {
    fn a_buyer()(
        miles in 0.0..90.0f64,
        most in 1.0..900.0f64,
        steps in prop::collection::vec((3.0..60.0f64, 0.0..0.95f64), 1..5),
        slide in any::<bool>(),
    ) -> Buyer {
        stepped(miles, most, &steps, slide)
    }
}

/// A product with any room, loss and outlets; its fallback may pay or cost.
fn a_product() -> impl Strategy<Value = overwinter::gin::Product> {
    let outlets = (prop::option::of((-4.0..15.0f64, 1.0..80.0f64)), -12.0..25.0f64);
    let room = prop::option::of(0.0..3000.0f64);
    (outlets, room, 0.0..0.2f64, any::<bool>(), 0.0..6.0f64, 0.0..3.0f64).prop_map(
        |((capped, fallback), room, loss, flat, loading, keep)| {
            let mut product = PLAINS.trash.clone();
            product.outlets =
                vec![Outlet { name: "haul_off".to_owned(), usd_per_ton: fallback, tons_per_week: None, given: true }];
            if let Some((usd_per_ton, most)) = capped {
                let name = "compost".to_owned();
                product.outlets.push(Outlet { name, usd_per_ton, tons_per_week: Some(most), given: true });
            }
            product.outlets.sort_by(|a, b| b.usd_per_ton.total_cmp(&a.usd_per_ton));
            product.room = room.map_or(Room::Any, Room::Tons);
            product.loss = if flat { StorageLoss::Flat(loss) } else { StorageLoss::PerMonth(loss) };
            product.loading_usd_per_ton = loading;
            product.keep_usd_per_ton_month = keep;
            product
        },
    )
}

fn whole_season() -> (Vec<Date>, Vec<f64>) {
    let ginned = &PLAINS.ginned;
    let (from, to) = (ginned.points[0].0, ginned.points.last().unwrap().0);
    let list = weeks::weeks(from, to.max(date(2027, 3, 10)));
    let tons =
        list.iter().map(|start| weeks::tons(ginned.by(weeks::later(*start, 7)) - ginned.by(*start), 375.0)).collect();
    (list, tons)
}

fn adds_up(books: &Books, produced: &[f64]) {
    let came: f64 = produced.iter().sum();
    let pile = books.weeks.last().unwrap().pile_tons;
    let gone = books.sold_tons() + books.elsewhere_tons() + books.lost_tons() + pile;
    assert!((came - gone).abs() < 1e-6 * came, "{came} came, {gone} gone");
    for week in &books.weeks {
        assert!(week.sold_tons() <= week.wanted_tons + 1e-9);
        let all = [week.sold_tons(), week.pile_tons, week.lost_tons, week.overflow_tons];
        assert!(all.into_iter().chain(week.outlet_tons.iter().copied()).all(|tons| tons >= -1e-9), "{week:?}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, ..ProptestConfig::default() })]

    /// Nobody buys more when it costs more.
    #[test]
    fn demand_never_rises_with_the_price(buyers in prop::collection::vec(a_buyer(), 1..5), low in -40.0..150.0f64, more in 0.0..150.0f64) {
        let (cheap, dear) = (demand_tons(&buyers, low), demand_tons(&buyers, low + more));
        prop_assert!(dear <= cheap + 1e-9, "{cheap} at {low}, {dear} at {}", low + more);
    }

    /// What comes is sold, sent elsewhere or lost; room is never overrun; what each week wants is never exceeded.
    #[test]
    fn the_books_add_up(buyers in prop::collection::vec(a_buyer(), 0..4), product in a_product(), price in -20.0..140.0f64) {
        let (list, produced) = whole_season();
        prop_assert!((produced.iter().sum::<f64>() - weeks::tons(PLAINS.bales, 375.0)).abs() < 1e-6);
        let room_tons = product.room_tons_as(product.form);
        let season = Season { product: &product, weeks: &list, produced: &produced, room_tons, handling_usd_per_ton: 0.0 };
        let books = keep(&season, &buyers, price);
        adds_up(&books, &produced);
        if let Some(room) = room_tons {
            prop_assert!(books.weeks.iter().all(|week| week.pile_tons <= room + 1e-6));
        }
    }

    /// No price of a grid of half dollars nets more than the one chosen.
    #[test]
    fn the_price_chosen_nets_most(buyers in prop::collection::vec(a_buyer(), 1..4), product in a_product()) {
        let (list, produced) = whole_season();
        let room_tons = product.room_tons_as(product.form);
        let season = Season { product: &product, weeks: &list, produced: &produced, room_tons, handling_usd_per_ton: 0.0 };
        let best = search(&season, &buyers).best;
        let sliding = buyers.iter().any(|buyer| buyer.table.rows.iter().any(Row::slides));
        // A row that slides is looked at in tenths, so the top of a smooth hill is missed by little.
        let slack = if sliding { 0.02 * best.net_usd().abs().max(best.sales_usd.abs()) } else { 0.0 } + 0.01 * best.sold_tons() + 1.0;
        for half in -60..300 {
            let price = 0.5 * f64::from(half);
            let net = keep(&season, &buyers, price).net_usd();
            prop_assert!(net <= best.net_usd() + slack, "${price} nets {net}, ${} nets {}", best.usd_per_ton, best.net_usd());
        }
    }

    /// No way of keeping the books nets more than a linear programme says; at prices that cover loading the rules of the
    /// week come close to it.
    #[test]
    fn the_books_are_near_the_best_there_are(buyers in prop::collection::vec(a_buyer(), 0..4), product in a_product(), price in 6.0..140.0f64) {
        let mut product = product;
        if let StorageLoss::Flat(share) = product.loss {
            product.loss = StorageLoss::PerMonth(share);
        }
        let (list, produced) = whole_season();
        let room_tons = product.room_tons_as(product.form);
        let season = Season { product: &product, weeks: &list, produced: &produced, room_tons, handling_usd_per_ton: 0.0 };
        let books = keep(&season, &buyers, price);
        let most = most_any_books_net(&season, &buyers, price);
        let turned_over = books.sales_usd.abs() + books.outlet_usd.abs();
        prop_assert!(books.net_usd() <= most + 1e-6 * (1.0 + turned_over), "{} above {most}", books.net_usd());
        prop_assert!(books.net_usd() >= most - NEAR * turned_over - 1.0, "{} far below {most}", books.net_usd());
    }

    /// With no neighbors the season nets what the outlets give: all at the fallback where it is the best and pays.
    #[test]
    fn without_neighbors_the_best_outlet_is_all(product in a_product()) {
        let (list, produced) = whole_season();
        let season = Season { product: &product, weeks: &list, produced: &produced, room_tons: None, handling_usd_per_ton: 0.0 };
        let found = search(&season, &[]);
        prop_assert!((found.best.net_usd() - found.none.net_usd()).abs() < 1e-6);
        let best = product.outlets[0].clone();
        if best.tons_per_week.is_none() && best.usd_per_ton > 0.0 {
            let all = best.usd_per_ton * produced.iter().sum::<f64>();
            prop_assert!((found.best.net_usd() - all).abs() < 1e-6 * all, "{} against {all}", found.best.net_usd());
        }
    }
}

/// How near the rules of the week come to the best there is, as a share of the money turned over, at prices that cover
/// loading: a case 3.1 % off was seen, and none of 10,000 drawn was 5 % off. Below such prices what is kept for an outlet
/// that pays may be sold at a loss.
const NEAR: f64 = 0.05;

/// The most any way of keeping the books could net at a price, by linear programming: sales up to what is wanted, a pile
/// that shrinks, room, outlets, nothing left at the end.
fn most_any_books_net(season: &Season<'_>, buyers: &[Buyer], price: f64) -> f64 {
    let product = season.product;
    let mut lp = Lp::default();
    let free = f64::INFINITY;
    let carried = product.loss.carried(7.0);
    let wants: Vec<Vec<f64>> = buyers.iter().map(|buyer| buyer.tons_by_week(season.weeks, price)).collect();
    let mut before = None;
    for (week, produced) in season.produced.iter().enumerate() {
        let last = week + 1 == season.produced.len();
        let wanted: f64 = wants.iter().map(|by| by[week]).sum();
        let room = if last { 0.0 } else { season.room_tons.unwrap_or(free) };
        let keep = product.keep_usd_per_ton_month * 7.0 / 30.4;
        let sold = lp.col(format!("sold {week}"), product.loading_usd_per_ton - price, 0.0, wanted);
        let pile = lp.col(format!("pile {week}"), keep, 0.0, room);
        let mut terms = vec![(sold, 1.0), (pile, 1.0)];
        for outlet in &product.outlets {
            let most = outlet.tons_per_week.unwrap_or(free);
            terms.push((lp.col(format!("{} {week}", outlet.name), -outlet.usd_per_ton, 0.0, most), 1.0));
        }
        terms.extend(before.map(|before| (before, -carried)));
        lp.row(format!("week {week}"), *produced, *produced, terms);
        before = Some(pile);
    }
    -lp::solve(&lp).unwrap().objective
}

/// The tables of real herds obey the law, too, and the weeks hold what the winters want.
#[test]
fn demand_of_the_example_never_rises_and_fits_its_weeks() {
    let mut before = f64::INFINITY;
    for dollar in -30..160 {
        let usd = f64::from(dollar);
        let tons = demand_tons(&TRASH.buyers, usd);
        assert!(tons <= before + 1e-6, "{tons} tons at {usd}, {before} below");
        before = tons;
        for buyer in &TRASH.buyers {
            let weeks: f64 = buyer.tons_by_week(&TRASH.weeks, usd).iter().sum();
            assert!((weeks - buyer.tons_at(usd)).abs() <= 1e-6 * (1.0 + weeks), "{} at {usd}", buyer.name);
        }
    }
    adds_up(&TRASH.answer.best, &TRASH.produced);
    assert!((TRASH.produced.iter().sum::<f64>() - PLAINS.season_tons(Kind::Trash)).abs() < 1e-6);
}
