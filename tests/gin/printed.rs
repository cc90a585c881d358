//! The gin's figures against print.

use super::rows::run;
use super::{PLAINS, TRASH};
use indexmap::IndexMap;
use jiff::civil::date;
use overwinter::feed::ginning::{GinOutput, Ginning};
use overwinter::feed::{Bibliography, Freight};
use overwinter::gin::balance::{GivenBale, GivenFigure, balance};
use overwinter::gin::harvest::{LOSS_PCT, MOTES_LB, SEED_LB, Usual, WET_LOSS_PCT};
use overwinter::gin::product::{room_ft3, tons_per_load};
use overwinter::gin::yard::Yard;
use overwinter::gin::{Form, Harvest, radius, two_prices, weeks};
use overwinter::report::gin::build;
use overwinter::source::{Cite, Origin};

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
    // Every herd of the example pays less than that delivered for its first load, and far less for half of its tons.
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
