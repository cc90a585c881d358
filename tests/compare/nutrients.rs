//! What a pound of a nutrient costs, against print and by hand.

use super::{BITTER_CREEK, DRY_FORK, costs, example, feed, found, offer, run};
use overwinter::feed::{BaleWeight, Feed, PriceUnit};
use overwinter::value::answer::{NoAnswer, answer};
use overwinter::value::nutrient_cost::{Bench, two_feed_constants, usd_per_lb};

/// Half a unit of the last printed digit.
fn printed(value: f64, text: &str, of: &str) {
    let want: f64 = text.parse().unwrap();
    let digits = text.split_once('.').map_or(0, |(_, rest)| rest.len());
    let half = 0.5 * 10f64.powi(-i32::try_from(digits).unwrap());
    // A value that lies on the half itself prints either way.
    assert!((value - want).abs() <= half * (1.0 + 1e-9), "{of}: {value} against {text}");
}

/// Prices per pound as printed by Alabama, Oklahoma State, Iowa State, North Dakota and Virginia, and in a trade magazine.
#[test]
fn prices_per_pound_are_those_in_print() {
    let lb = |usd: f64, share: f64| usd_per_lb(usd, share).unwrap();
    // Alabama Extension by-product guide: soybean hulls $180 a ton, 90 % dry matter, 75 % TDN.
    printed(lb(180.0, 0.90 * 0.75), "0.13", "TDN of soybean hulls");
    // Johnson, Oklahoma State, Cow-Calf Corner: cubes, both 70 % TDN as fed.
    for (usd, cp, per_cp, per_tdn) in [(425.0, 0.38, "0.559", "0.304"), (312.0, 0.20, "0.780", "0.223")] {
        printed(lb(usd, cp), per_cp, "protein of cubes");
        printed(lb(usd, 0.70), per_tdn, "TDN of cubes");
    }
    // Oklahoma State, February 2020.
    printed(lb(280.0, 0.20), "0.70", "20 % supplement");
    printed(lb(380.0, 0.38), "0.50", "38 % supplement");
    // Iowa State: corn by the bushel of 56 lb, distillers grains by the ton.
    printed(lb(PriceUnit::Bushel { lb: 56.0 }.usd_per_ton(3.65), 0.85 * 0.086), "0.89", "protein of corn");
    printed(lb(150.0, 0.90 * 0.30), "0.28", "protein of distillers grains");
    // BEEF magazine: as fed.
    for (cp, usd, want) in [(0.18, 50.0, "0.14"), (0.18, 150.0, "0.42"), (0.28, 142.0, "0.25"), (0.50, 290.0, "0.29")] {
        printed(lb(usd, cp), want, "protein as fed");
    }
    // Manske, North Dakota State: native hay by the ton of dry matter, 4.8 % protein.
    let dm = PriceUnit::TonDm { dm_pct: 88.0 };
    printed(lb(dm.usd_per_ton(97.33), 0.88 * 0.048), "1.01", "protein of native hay");
    // Virginia, June 1997.
    printed(lb(340.0, 0.48), "0.35", "protein of soybean meal");
    // LSU AgCenter: a tub of 225 lb at $105, 5 % moisture.
    let tub = PriceUnit::Bale { lb: 225.0, known: BaleWeight::Given }.usd_per_ton(105.0);
    printed(tub, "933", "a ton of cooked tubs");
    printed(lb(tub, 0.95), "0.491", "dry matter of a tub");
    assert_eq!(usd_per_lb(100.0, 0.0), None);
}

/// University of Florida: 4.2 lb of soybean hulls, 20 lb of wet brewers grain, or 10.0 and 2.09 lb of both hold 3.0 lb of TDN.
#[test]
fn supplements_of_equal_tdn() {
    let tdn = |feed: &Feed, lb: f64| Bench::of(feed, 0.0).unwrap().tdn_lb / 2000.0 * lb;
    let hulls = feed(90.0, 3.0 / 4.2 / 0.9 * 100.0, 12.0);
    let brewers = feed(25.0, 3.0 / 20.0 / 0.25 * 100.0, 26.0);
    printed(tdn(&hulls, 4.2), "3.0", "hulls");
    printed(tdn(&brewers, 20.0), "3.0", "brewers grain");
    printed(tdn(&brewers, 10.0) + tdn(&hulls, 2.09), "3.0", "both");
    // Equal TDN at equal money is an equal price of TDN.
    let per_lb = |feed: &Feed, lb: f64| usd_per_lb(100.0 / lb, tdn(feed, 1.0)).unwrap();
    assert!((per_lb(&hulls, 4.2) - per_lb(&brewers, 20.0)).abs() < 1e-12);
}

/// Petersen's constants with corn at $200 and cottonseed meal at $320, as worked in the notes on feeds (7.2).
#[test]
fn two_feed_constants_are_those_worked_by_hand() {
    let corn = Bench::of(&feed(88.0, 88.0, 9.0), 200.0).unwrap();
    let meal = Bench::of(&feed(90.2, 75.0, 46.1), 320.0).unwrap();
    for (pounds, text) in
        [(corn.cp_lb, "158.40"), (corn.tdn_lb, "1548.80"), (meal.cp_lb, "831.64"), (meal.tdn_lb, "1353.00")]
    {
        printed(pounds, text, "pounds in a ton of a bench mark");
    }
    let (cp, tdn) = two_feed_constants(&corn, &meal).unwrap();
    printed(cp, "0.20956", "a pound of protein");
    printed(tdn, "0.10770", "a pound of TDN");
    let rows = [
        ("whole seed", 421.4, 1648.8, 265.88),
        ("38 % cube", 759.6, 1404.0, 310.39),
        ("soybean meal", 954.0, 1566.0, 368.58),
        ("gluten feed", 428.4, 1440.0, 244.86),
        ("milo", 195.8, 1459.6, 198.23),
        ("alfalfa", 342.0, 1080.0, 187.99),
        ("bermuda", 136.5, 891.8, 124.65),
        ("prairie hay", 109.2, 910.0, 120.89),
        ("hulls", 73.7, 755.2, 96.78),
    ];
    for (name, cp_lb, tdn_lb, worth) in rows {
        // The pounds are printed to a tenth.
        let slack = 0.05 * (cp + tdn) + 0.005;
        let value = cp_lb * cp + tdn_lb * tdn;
        assert!((value - worth).abs() <= slack, "{name}: {value} against {worth}");
    }
    // The bench marks are worth what they cost, and the trap: gin trash "worth $127" sells for $0 to $30.
    assert!((corn.cp_lb * cp + corn.tdn_lb * tdn - 200.0).abs() < 1e-9);
    let trash = Bench::of(&feed(90.0, 45.0, 10.5), 25.0).unwrap();
    printed(trash.cp_lb * cp + trash.tdn_lb * tdn, "127", "gin trash");
    // Two feeds alike fix nothing.
    assert_eq!(two_feed_constants(&corn, &Bench { usd: 250.0, ..corn }), None);
}

/// The trap: gin trash has by far the cheapest pound of protein, and is no protein source.
#[test]
fn cheap_protein_in_gin_trash_is_called_what_it_is() {
    let case = example(DRY_FORK, &[]);
    let costs = costs(&case);
    let of = |id: &str| costs.feeds.iter().find(|cost| case.offers[cost.offer].id == id).unwrap();
    let trash = of("gin_trash_stripper");
    for other in &costs.feeds {
        assert!(trash.usd_per_lb_cp <= other.usd_per_lb_cp, "{}", case.offers[other.offer].id);
    }
    assert!(trash.dilutes_protein && trash.is_roughage && !of("range_cube_38").dilutes_protein);
    // The plan agrees: asked for a tenth more protein, it feeds no more gin trash.
    let tons = |sets: &[&str]| {
        let case = example(DRY_FORK, sets);
        found(&case).fed_tons[offer(&case, "gin_trash_stripper")]
    };
    let more = ["needs_override={cows: {cp_lb: 2.4}, bred_heifers: {cp_lb: 2.4}}"];
    let less = ["needs_override={cows: {cp_lb: 2.1}, bred_heifers: {cp_lb: 2.1}}"];
    assert!(tons(&more) <= tons(&less) + 1e-6);
    let page = run(&["compare", DRY_FORK, "--case", "x: groups.cows.head=86"]);
    let text = String::from_utf8(page.stdout).unwrap();
    let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        words.contains("No protein source here, however cheap its pound looks: prairie_hay, gin_trash_stripper."),
        "{text}"
    );
    assert!(words.contains("A free roughage still takes room in her"), "{text}");
}

/// The other trap: by every column straw at nothing is free, and eating it is not.
#[test]
fn a_free_roughage_still_costs_room_in_the_cow() {
    let with = "feeds.wheat_straw={price_usd_per_ton: 0";
    let free = example(BITTER_CREEK, &[&format!("{with}}}")]);
    let costs = costs(&free);
    let straw = costs.feeds.iter().find(|cost| cost.offer == offer(&free, "wheat_straw")).unwrap();
    assert_eq!((straw.usd_per_lb_cp, straw.usd_per_lb_tdn, straw.usd_per_mcal_nem), (Some(0.0), Some(0.0), Some(0.0)));
    assert!(straw.dm_lb_per_lb_cp.unwrap() > 20.0 && straw.dilutes_protein);
    // The plan feeds no more of it than leaves room for the rest: all winter 15 lb, and energy cannot be met.
    let ration = found(&free);
    let forced = example(BITTER_CREEK, &[&format!("{with}, min_lb: 15}}")]);
    let Err(NoAnswer::Short(short)) = answer(&forced) else { panic!("15 lb of straw all winter leave room") };
    assert!(short.shortfalls.iter().any(|one| one.rule == "energy"), "{short:?}");
    // And room has its price: where all she can hold is eaten, one pound more of it would save money.
    assert!(ration.binding.iter().any(|one| one.rule == "intake"), "{:?}", ration.binding);
}
