//! Hazards by feed, class and dose: feeds that are kept from cattle, and cautions with pounds and milligrams.

use super::kit::{checked, lb, line, near, planned, price, read, try_read};
use overwinter::report::model::Report;

/// A price at which the plan would take as much as it may.
const AT_ANY_PRICE: f64 = -500.0;

const REST: &str = "  bermuda_hay_good: {price_usd_per_ton: 150}\n  corn: {price_usd_per_ton: 190}\n  soybean_hulls: \
                    {price_usd_per_ton: 200}\n  limestone: {price_usd_per_ton: 180}\n  mineral_12_12: {price_usd_per_ton: 900}\n";

const COWS: &str = "kind: cow, head: 60, weight_lb: 1150, calving: 2027-03-10";
const OPEN: &str = "kind: cow, head: 60, weight_lb: 1150, calving: open";

fn herd(kind: &str, feeds: &str) -> String {
    format!("winter: {{from: 2026-12-01, to: 2027-03-01}}\ngroups:\n  herd: {{{kind}}}\nfeeds:\n{feeds}{REST}")
}

/// Pounds of a feed in each period when it is pressed on them.
fn pressed(text: &str, feed: &str) -> Vec<f64> {
    let mut case = read(text);
    price(&mut case, feed, AT_ANY_PRICE);
    planned(&case).groups[0].periods.iter().map(|period| lb(period, feed)).collect()
}

/// The text of a caution of the cattle, if it is told.
fn told<'a>(report: &'a Report, id: &str) -> Option<&'a str> {
    report.cautions.iter().find(|one| one.rule == id && one.group.is_some()).map(|one| one.text.as_str())
}

fn broken(report: &Report) -> Vec<&'static str> {
    report.groups[0].periods[0].limits.iter().filter(|line| !line.kept).map(|line| line.rule).collect()
}

#[test]
fn a_tested_nitrate_is_held_to_the_printed_shares() {
    let with = |kind: &str, ppm: u32| {
        herd(kind, &format!("  sorghum_sudan_hay: {{price_usd_per_ton: 60, test: {{nitrate_n_ppm_dm: {ppm}}}}}\n"))
    };
    // Over 4,000 none to any cattle; from 2,000 none in calf. At the ends of the brackets and just inside.
    for (kind, ppm, fed) in [
        (COWS, 9000, false),
        (OPEN, 9000, false),
        (OPEN, 4001, false),
        (COWS, 2000, false),
        (COWS, 1999, true),
        (OPEN, 4000, true),
    ] {
        let most = pressed(&with(kind, ppm), "sorghum_sudan_hay").into_iter().fold(0.0, f64::max);
        assert_eq!(most > 1.0, fed, "{kind} at {ppm} ppm: {most} lb");
    }
    // The share of dry matter is what print allows, wherever the hay is worth more than the rest.
    for (kind, ppm, share) in
        [(COWS, 1200, 50.0), (COWS, 1800, 50.0), (OPEN, 1800, 50.0), (OPEN, 2500, 35.0), (OPEN, 3800, 25.0)]
    {
        let mut case = read(&with(kind, ppm));
        price(&mut case, "sorghum_sudan_hay", AT_ANY_PRICE);
        let report = planned(&case);
        let period = &report.groups[0].periods[0];
        let dry = |feed: &str| {
            let offer = case.offers.iter().find(|offer| offer.id == feed).unwrap();
            lb(period, feed) * offer.feed.dm_pct() / 100.0
        };
        let all: f64 = ["sorghum_sudan_hay", "bermuda_hay_good", "corn", "soybean_hulls"].map(dry).iter().sum();
        near(100.0 * dry("sorghum_sudan_hay") / all, share, 1e-6 * share, &format!("{kind} at {ppm} ppm"));
        assert!(told(&report, "nitrate-tested").is_some_and(|text| text.contains("ppm nitrate N in the whole diet")));
    }
    // Without a test nothing is held, and it is told.
    let report = planned(&read(&herd(COWS, "  sorghum_sudan_hay: {price_usd_per_ton: 20}\n")));
    assert!(report.groups[0].periods[0].limits.iter().all(|line| line.rule != "nitrate"));
    assert!(told(&report, "nitrate-untested").is_some_and(|text| text.contains("none in calf from 2,000")));
}

/// Two hays of 1,800 ppm take the half of the ration between them, not a half each.
#[test]
fn several_feeds_with_nitrate_share_one_room() {
    let fed = |first: f64, second: f64| {
        checked(&read(&format!(
            "{}fed:\n  herd: {{sorghum_sudan_hay: {first}, wheat_hay: {second}, bermuda_hay_good: 12}}\n",
            herd(
                COWS,
                "  sorghum_sudan_hay: {price_usd_per_ton: 60, test: {dm_pct: 90, nitrate_n_ppm_dm: 1800}}\n  wheat_hay: \
                 {price_usd_per_ton: 60, test: {dm_pct: 90, nitrate_n_ppm_dm: 1800}}\n"
            )
        )))
    };
    let within = fed(5.0, 5.0);
    assert!(!broken(&within).contains(&"nitrate"));
    // 10 lb of 22, at twice their weight each; all three hays hold near 90 % of dry matter.
    near(line(&within.groups[0].periods[0], "nitrate").value, 100.0 * 20.0 / 22.0, 1.0, "room taken");
    let over = fed(8.0, 8.0);
    assert!(broken(&over).contains(&"nitrate"));
    assert_eq!(over.status, "unfit");
    // Nine thousand ppm is unfit in any amount.
    let poison = checked(&read(&format!(
        "{}fed:\n  herd: {{sorghum_sudan_hay: 1, bermuda_hay_good: 24}}\n",
        herd(COWS, "  sorghum_sudan_hay: {price_usd_per_ton: 60, test: {nitrate_n_ppm_dm: 9000}}\n")
    )));
    assert!(broken(&poison).contains(&"barred"));
}

#[test]
fn urea_is_known_by_the_recipe() {
    let calves = |weight: u32| {
        format!("kind: stocker, head: 30, weight_lb: {weight}, mature_weight_lb: 1200, gain_lb_per_day: 1")
    };
    let liquid = "  liquid_feed_32: {price_usd_per_ton: 300}\n";
    let cube = "  range_cube_20: {price_usd_per_ton: 300, test: {npn_pct_cp: 20}}\n";
    for (feed, line) in [("liquid_feed_32", liquid), ("range_cube_20", cube)] {
        assert!(pressed(&herd(&calves(350), line), feed)[0] < 1e-9, "{feed} for calves of 350 lb");
        assert!(pressed(&herd(&calves(600), line), feed)[0] > 0.1, "{feed} for calves of 600 lb");
    }
    // Plain molasses and cubes without urea are for calves of 350 lb.
    for feed in ["molasses", "range_cube_20"] {
        let fed = pressed(&herd(&calves(350), &format!("  {feed}: {{price_usd_per_ton: 300}}\n")), feed);
        assert!(fed[0] > 0.1, "{feed}: {fed:?}");
    }
}

#[test]
fn calves_that_may_be_under_four_months_get_no_cotton_and_no_urea() {
    let calves = |weight: u32| {
        format!("kind: stocker, head: 30, weight_lb: {weight}, mature_weight_lb: 1200, gain_lb_per_day: 0.5")
    };
    let feeds = ["whole_cottonseed", "cottonseed_meal_direct", "cottonseed_hulls", "range_cube_38", "liquid_feed_32"];
    let offered = feeds.map(|feed| format!("  {feed}: {{price_usd_per_ton: 50}}\n")).concat();
    let report = planned(&read(&herd(&calves(150), &offered)));
    for feed in feeds {
        assert!(report.groups[0].barred.iter().any(|(barred, _)| barred == feed), "{feed} is not barred");
        assert!(report.groups[0].periods.iter().all(|period| lb(period, feed) == 0.0), "{feed}");
        let one = checked(&read(&format!(
            "{}fed:\n  herd: {{bermuda_hay_good: 4, {feed}: 0.5}}\n",
            herd(&calves(150), &offered)
        )));
        assert!(broken(&one).contains(&"barred"), "{feed} is not refused by the check");
    }
    let on_page = overwinter::report::text::plan_page(&report);
    let worth = on_page.lines().filter(|line| line.contains("may not be given to these cattle")).count();
    assert_eq!(worth, feeds.len(), "{on_page}");
    // The weight of the first day counts, not that of the middle of the month.
    let growing = calves(244).replace("per_day: 0.5", "per_day: 1.5");
    let more = "  soybean_meal_48: {price_usd_per_ton: 400}\n";
    let report = planned(&read(&herd(&growing, &(offered.clone() + more))));
    assert!(lb(&report.groups[0].periods[0], "whole_cottonseed") == 0.0);
    let page = overwinter::report::text::plan_page(&report);
    assert!(page.contains("calves under four months"), "{page}");
    let report = planned(&read(&herd(&calves(500), &offered)));
    assert!(report.groups[0].barred.is_empty(), "{:?}", report.groups[0].barred);
}

#[test]
fn direct_solvent_meal_stops_before_turnout() {
    let young = "kind: young_bull, head: 4, weight_lb: 900, mature_weight_lb: 1900, gain_lb_per_day: 1.5";
    let grown = "kind: bull, head: 4, weight_lb: 1800";
    for kind in [young, grown] {
        let fed = |turnout: &str, meal: &str, test: &str| {
            pressed(&herd(&format!("{kind}{turnout}"), &format!("  {meal}: {{price_usd_per_ton: 300{test}}}\n")), meal)
        };
        // Turned out 1 May, 90 days before is 31 January: nothing in February, and none in a January that ends after it.
        let direct = fed(", turnout: 2027-05-01", "cottonseed_meal_direct", "");
        assert!(direct[0] > 0.05 && direct[2] == 0.0, "{kind}: {direct:?}");
        let soon = fed(", turnout: 2027-03-02", "cottonseed_meal_direct", "");
        assert!(soon.iter().all(|lb| *lb == 0.0), "{kind}: {soon:?}");
        // Turned out 10 December, they breed until 10 March.
        let breeding = fed(", turnout: 2026-12-10", "cottonseed_meal_direct", "");
        assert!(breeding.iter().all(|lb| *lb == 0.0), "{kind}: {breeding:?}");
        // Meal of another process, and meal that tests low, may go on within its limit.
        assert!(fed(", turnout: 2027-03-02", "cottonseed_meal_expeller", "").iter().all(|lb| *lb > 0.05), "{kind}");
        let tested = fed(", turnout: 2027-03-02", "cottonseed_meal_direct", ", test: {free_gossypol_pct_dm: 0.05}");
        assert!(tested.iter().all(|lb| *lb > 0.05), "{kind}: {tested:?}");
        assert!(fed("", "cottonseed_meal_direct", "").iter().all(|lb| *lb > 0.05), "{kind}");
    }
}

#[test]
fn what_may_be_fed_how_seldom() {
    let with = |feed: &str, how: &str| try_read(&herd(COWS, &format!("  {feed}: {{price_usd_per_ton: 240, {how}}}\n")));
    for (feed, how, taken) in [
        ("whole_cottonseed", "every_days: 2", true),
        ("whole_cottonseed", "times_per_week: 3", true),
        ("whole_cottonseed", "every_days: 3", false),
        ("whole_cottonseed", "every_days: 7", false),
        ("distillers_grains", "every_days: 2", true),
        ("distillers_grains", "every_days: 7", false),
        ("corn_gluten_feed", "every_days: 4", false),
        ("liquid_feed_32", "every_days: 7", false),
        ("liquid_feed_32", "every_days: 2", false),
        ("range_cube_38", "every_days: 7", true),
        ("range_cube_38", "every_days: 2, test: {npn_pct_cp: 20}", false),
        ("cottonseed_meal_expeller", "times_per_week: 1", true),
    ] {
        assert_eq!(with(feed, how).is_ok(), taken, "{feed}, {how}");
        if let Err(why) = with(feed, how) {
            assert!(why.contains("H079"), "{why}");
        }
    }
    // Six pounds of seed a day every second day are twelve at once, 1.04 % of 1,150 lb.
    let text = herd(COWS, "  whole_cottonseed: {price_usd_per_ton: 240, every_days: 2}\n");
    let report = checked(&read(&format!("{text}fed:\n  herd: {{bermuda_hay_good: 20, whole_cottonseed: 6}}\n")));
    let words = told(&report, "several-days-at-once").unwrap();
    assert!(words.contains("whole_cottonseed 12.0 lb a head every 2 days, 1.0 % of body weight"), "{words}");
    let daily = checked(&read(&format!(
        "{}fed:\n  herd: {{bermuda_hay_good: 20, whole_cottonseed: 6}}\n",
        text.replace(", every_days: 2", "")
    )));
    assert_eq!(told(&daily, "several-days-at-once"), None);
    // Half a pound every second day is not worth a word; more at once than a day's intake is told as such.
    let little = checked(&read(&format!("{text}fed:\n  herd: {{bermuda_hay_good: 20, whole_cottonseed: 0.2}}\n")));
    assert_eq!(told(&little, "several-days-at-once"), None);
    let much = checked(&read(&format!("{text}fed:\n  herd: {{bermuda_hay_good: 8, whole_cottonseed: 16}}\n")));
    assert!(told(&much, "several-days-at-once").unwrap().contains("more than they eat in a day"));
}

/// Of several periods the one with the most at once is told, and each group has its own pounds.
#[test]
fn the_largest_dose_is_told() {
    let text = format!(
        "winter: {{from: 2026-12-01, to: 2027-03-01}}\ngroups:\n  cows: {{{COWS}}}\n  heifers: {{kind: bred_heifer, head: 20, \
         weight_lb: 900, mature_weight_lb: 1200, calving: 2027-02-20}}\nfeeds:\n  range_cube_38: {{price_usd_per_ton: 425, every_days: \
         7}}\n{REST}fed:\n  cows: {{2026-12: {{bermuda_hay_good: 24, range_cube_38: 1}}, 2027-01: {{bermuda_hay_good: 24, \
         range_cube_38: 3}}, 2027-02: {{bermuda_hay_good: 24, range_cube_38: 2}}}}\n  heifers: {{bermuda_hay_good: 20, range_cube_38: 1.5}}\n"
    );
    let report = checked(&read(&text));
    let on_page = overwinter::report::text::check_page(&report).split_whitespace().collect::<Vec<_>>().join(" ");
    for (group, words) in
        [("cows", "range_cube_38 21.0 lb a head every 7 days"), ("heifers", "range_cube_38 10.5 lb a head")]
    {
        let of_it = |one: &&overwinter::report::model::Caution| {
            one.rule == "several-days-at-once" && one.group.as_deref() == Some(group)
        };
        let text = &report.cautions.iter().find(of_it).unwrap().text;
        assert!(text.contains(words), "{group}: {text}");
        assert!(on_page.contains(words), "{group} is not on the page");
    }
}

#[test]
fn selenium_and_salt_are_told_with_figures() {
    let with = |feeds: &str| {
        let mut text = herd(COWS, "").replace("  mineral_12_12: {price_usd_per_ton: 900}\n", feeds);
        text.push_str("fed:\n  herd: {bermuda_hay_good: 24");
        text
    };
    // 16 oz × 28.35 g × 97 % dry × 26 ppm = 11.4 mg; 3 mg are 4.2 oz.
    let minerals = |oz: f64| {
        let text = with("  mineral_12_12: {price_usd_per_ton: 900}\n");
        checked(&read(&format!("{text}, mineral_12_12: {}}}\n", oz / 16.0)))
    };
    let report = minerals(16.0);
    let words = told(&report, "selenium-a-day").unwrap();
    assert!(
        words.contains("11.4 mg") && words.contains("3 mg") && words.contains("4.2 oz of mineral_12_12"),
        "{words}"
    );
    assert!(told(&minerals(8.0), "selenium-a-day").unwrap().contains("5.7 mg"));
    assert_eq!(told(&minerals(4.0), "selenium-a-day"), None);
    // A pound and a half of salt where 1,150-lb cows take about 1.15; a pound is within it.
    let salted = |lb: f64, how: &str| {
        let text = with(&format!("  salt: {{price_usd_per_ton: 200{how}}}\n"));
        checked(&read(&format!("{text}, salt: {lb}}}\n")))
    };
    let heavy = salted(1.5, "");
    let words = told(&heavy, "salt-a-day").unwrap();
    assert!(words.contains("1.5 lb a head") && words.contains("4 to 5 lb"), "{words}");
    assert_eq!(told(&salted(1.0, ""), "salt-a-day"), None);
    // Half a pound a day once a week is three and a half at once; at will nobody is handed it.
    assert!(told(&salted(0.5, ", every_days: 7"), "salt-a-day").unwrap().contains("3.5 lb"));
    assert_eq!(told(&salted(1.5, ", fed: free_choice"), "salt-a-day"), None);
    // Nobody means pounds of a mineral.
    for (ounces, taken) in [(2120.0, false), (40.0, false), (16.0, true)] {
        let text = herd(COWS, "").replace("900}", &format!("900, fixed_oz: {ounces}}}"));
        assert_eq!(try_read(&text).is_ok(), taken, "{ounces} oz");
    }
}

#[test]
fn wet_piles_are_told() {
    let fed = |feed: &str, dm: &str| {
        let text = herd(COWS, &format!("  {feed}: {{price_usd_per_ton: 40{dm}}}\n"));
        checked(&read(&format!("{text}fed:\n  herd: {{bermuda_hay_good: 20, {feed}: 4}}\n")))
    };
    for (feed, dm, words) in [
        ("gin_trash_stripper", ", test: {dm_pct: 60}", Some("40 % moisture")),
        ("gin_trash_stripper", ", test: {dm_pct: 88}", None),
        ("gin_trash_stripper", "", None),
        ("gin_trash_ensiled", ", test: {dm_pct: 50}", None),
        ("whole_cottonseed", ", test: {dm_pct: 83}", Some("17 % moisture")),
        ("whole_cottonseed", ", test: {dm_pct: 87}", None),
    ] {
        let report = fed(feed, dm);
        match (told(&report, "too-wet"), words) {
            (Some(text), Some(words)) => assert!(text.contains(words), "{text}"),
            (None, None) => {}
            (text, _) => panic!("{feed}{dm}: {text:?}"),
        }
    }
}

/// Nitrate of roughage that gathers it is told by what the table says of the feed, and of a feed of one's own by its name.
#[test]
fn unknown_nitrate_is_told_of_what_gathers_it() {
    let own = |name: &str| {
        format!(
            "  {name}: {{class: hay, price_usd_per_ton: 60, composition: {{dm_pct: 90, tdn_pct_dm: 55, cp_pct_dm: 9, rup_pct_cp: 30, \
             npn_pct_cp: 0, ndf_pct_dm: 65, fat_pct_dm: 2, ca_pct_dm: 0.4, p_pct_dm: 0.2, s_pct_dm: 0.15}}}}\n"
        )
    };
    for (feed, text, told_of) in [
        ("wheat_hay", "  wheat_hay: {price_usd_per_ton: 60}\n".to_owned(), true),
        ("wheat_hay", "  wheat_hay: {price_usd_per_ton: 60, test: {nitrate_n_ppm_dm: 300}}\n".to_owned(), false),
        ("pearl_millet", own("pearl_millet"), true),
        ("meadow", own("meadow"), false),
        ("wheat_straw", "  wheat_straw: {price_usd_per_ton: 60}\n".to_owned(), false),
    ] {
        let report =
            checked(&read(&format!("{}fed:\n  herd: {{bermuda_hay_good: 16, {feed}: 8}}\n", herd(COWS, &text))));
        assert_eq!(told(&report, "nitrate-untested").is_some(), told_of, "{feed}");
    }
}

/// Ounces that would close a gap of another mineral are never more than the law allows of selenium.
#[test]
fn no_advice_breaks_the_law_on_selenium() {
    let report = checked(&read(&format!(
        "{}fed:\n  herd: {{bermuda_hay_good: 24, mineral_12_12: 0.19}}\n",
        herd(COWS, "").replace("price_usd_per_ton: 900}", "price_usd_per_ton: 900, test: {se_ppm_dm: 40}}")
    )));
    let words = report.cautions.iter().map(|one| one.text.as_str()).collect::<Vec<_>>().join(" ");
    // 3 oz of 40 ppm are 3.3 mg already.
    assert!(words.contains("legal most") && !words.contains("oz more of"), "{words}");
}

/// Grain holds soluble nitrogen that is no urea.
#[test]
fn soluble_nitrogen_of_grain_is_no_urea() {
    let calves = "kind: stocker, head: 30, weight_lb: 350, mature_weight_lb: 1200, gain_lb_per_day: 1";
    let text = herd(calves, "  milo: {price_usd_per_ton: 150, test: {npn_pct_cp: 5}}\n");
    assert!(pressed(&text, "milo")[0] > 0.1);
}

/// A tested nitrate answers the caution that asks for the test.
#[test]
fn what_is_tested_is_not_asked_for() {
    let with = |test: &str| {
        let text = herd(OPEN, &format!("  wheat_hay: {{price_usd_per_ton: 60{test}}}\n"));
        let report = checked(&read(&format!("{text}fed:\n  herd: {{wheat_hay: 12, bermuda_hay_good: 12}}\n")));
        report.cautions.iter().any(|one| one.rule == "wheat_hay" && one.text.contains("nitrate"))
    };
    assert!(with("") && !with(", test: {nitrate_n_ppm_dm: 300}"));
}

/// By hand: 6 lb of cubes of 90 % dry matter and 42.2 % protein, half of it urea at 284 %, are 0.40 lb of urea.
#[test]
fn urea_in_cubes_counts_as_urea() {
    let feeds = "  range_cube_38: {price_usd_per_ton: 250, test: {npn_pct_cp: 50}}\n";
    let text = herd(COWS, feeds);
    let report = checked(&read(&format!("{text}fed:\n  herd: {{bermuda_hay_good: 18, range_cube_38: 6}}\n")));
    let case = read(&text);
    let cube = &case.offers.iter().find(|offer| offer.id == "range_cube_38").unwrap().feed;
    let dry = cube.dm_pct() / 100.0;
    let cp = cube.get(overwinter::feed::Nutrient::Cp).unwrap() / 100.0;
    let urea = 6.0 * dry * cp * 0.5 / 2.84;
    near(line(&report.groups[0].periods[0], "urea-a-day").value, urea, 1e-6, "pounds of urea");
    assert!(urea > 0.35 && broken(&report).contains(&"urea-a-day"), "{urea}");
    let planned = pressed(&text, "range_cube_38");
    assert!(planned.iter().all(|lb| lb * dry * cp * 0.5 / 2.84 <= 0.25 + 1e-6), "{planned:?}");
}
