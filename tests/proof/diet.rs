//! Rules of the diet as a whole, against arithmetic by hand: urea by grain, long roughage, hunger, straw, sulfur, fiber,
//! dirt in gin trash.

use super::kit::{FEEDS, checked, lb, line, near, planned, read, words};
use overwinter::feed::{Feed, FeedClass, Nutrient};
use overwinter::plan;
use overwinter::report::model::Report;
use overwinter::source::Origin;

fn herd(calving: &str, rest: &str) -> String {
    format!(
        "place: {{weather: rolling_plains}}\nwinter: {{from: 2026-12-01, to: 2027-01-01}}\ngroups:\n  cows: {{kind: cow, head: 50, weight_lb: \
         1200, calving: {calving}}}\nfeeds:\n  mineral_12_12: {{price_usd_per_ton: 900}}\n  limestone: {{price_usd_per_ton: 180}}\n{rest}"
    )
}

fn told(report: &Report, caution: &str) -> Option<String> {
    report.cautions.iter().find(|one| one.rule == caution).map(|one| one.text.clone())
}

/// Cheap urea beside poor roughage: a tenth of a pound, and a hundredth more for each pound of grain; 284 % protein, 99 % dry.
#[test]
fn urea_stays_at_a_tenth_of_a_pound_and_rises_with_grain() {
    let feeds = |grain: &str| {
        format!(
            "  sorghum_stover: {{price_usd_per_ton: 50}}\n  gin_trash_stripper: {{price_usd_per_ton: 30, test: {{cp_pct_dm: 5, tdn_pct_dm: 47}}}}\n  \
             soybean_hulls: {{price_usd_per_ton: 400}}\n  range_cube_38: {{price_usd_per_ton: 425}}\n  urea: {{price_usd_per_ton: 50}}\n{grain}"
        )
    };
    let plain = planned(&read(&herd("2027-05-15", &feeds(""))));
    let urea = lb(&plain.groups[0].periods[0], "urea");
    near(urea, 0.1 / 0.99, 1e-6, "urea without grain");
    let milo = feeds("  milo: {price_usd_per_ton: 80}\n");
    let with = planned(&read(&herd("2027-05-15", &milo)));
    let period = &with.groups[0].periods[0];
    let grain = lb(period, "milo");
    assert!(grain > 1.0, "{grain}");
    assert!(lb(period, "urea") <= (0.1 + 0.01 * grain) / 0.99 + 1e-6, "{} with {grain} lb of milo", lb(period, "urea"));
    assert!(line(period, "urea-by-grain").kept && line(period, "urea-a-day").kept);
}

/// Liquid feed of 51.6 % protein, 82 % of it urea: 2 lb at 62 % dry hold 1.24 × 0.516 × 0.82 / 2.84 = 0.185 lb of urea.
#[test]
fn liquid_feed_counts_as_urea_and_is_unfit_on_straw() {
    let rest = "  wheat_straw: {price_usd_per_ton: 60}\n  liquid_feed_32: {price_usd_per_ton: 250}\nfed: {cows: {wheat_straw: 20, liquid_feed_32: 2}}\n";
    let report = checked(&read(&herd("2027-05-15", rest)));
    let period = &report.groups[0].periods[0];
    let urea = 2.0 * 0.62 * 0.516 * 0.82 / 2.84;
    near(line(period, "urea-a-day").value, urea, 1e-9, "as urea");
    near(line(period, "urea-by-grain").value, 100.0 * urea / 0.1, 1e-6, "of a tenth of a pound");
    assert!(line(period, "urea-a-day").kept && !line(period, "urea-by-grain").kept);
    assert_eq!(report.status, "unfit");
}

/// 18.7 lb of pellets at 91 % dry and 30 % effective are 5.1 lb of long roughage: 0.43 % of 1,200 lb against 1.
#[test]
fn pellets_alone_are_no_long_roughage() {
    let feeds = "  gin_trash_pellet: {price_usd_per_ton: 60}\n  distillers_grains: {price_usd_per_ton: 200}\n  soybean_hulls: {price_usd_per_ton: 200}\n";
    let alone = plan(&read(&herd("2027-03-15", feeds))).unwrap_err();
    assert!(words(&alone).contains("roughage-floor"), "{}", words(&alone));
    let fed = format!("{feeds}fed: {{cows: {{gin_trash_pellet: 18.7, distillers_grains: 4.2}}}}\n");
    let report = checked(&read(&herd("2027-03-15", &fed)));
    let floor = line(&report.groups[0].periods[0], "roughage-floor");
    near(floor.value, 100.0 * 18.7 * 0.91 * 0.30 / 1200.0, 1e-9, "long roughage of pellets");
    assert_eq!(report.status, "unfit");
    // With hay at hand there is a plan, and hay and the effective part of the pellets make the floor.
    let mixed = planned(&read(&herd("2027-03-15", &format!("{feeds}  prairie_hay: {{price_usd_per_ton: 400}}\n"))));
    let words = told(&mixed, "short-roughage").unwrap();
    assert!(words.contains("count as") && words.contains("1.00 % of body weight"), "{words}");
    let period = &mixed.groups[0].periods[0];
    let dm = |feed: &str| period.ration.iter().find(|line| line.feed == feed).map_or(0.0, |line| line.lb_dm);
    near(
        line(period, "roughage-floor").value,
        100.0 * (dm("prairie_hay") + 0.3 * dm("gin_trash_pellet")) / 1200.0,
        1e-6,
        "floor",
    );
    assert!(dm("prairie_hay") > 5.0 && dm("gin_trash_pellet") > 5.0, "{period:#?}");
    // A lab or a look at the pile can say that trash is ground.
    let ground = "  gin_trash_stripper: {price_usd_per_ton: 20, test: {endf_pct_ndf: 60}}\nfed: {cows: {gin_trash_stripper: 20}}\n";
    let report = checked(&read(&herd("2027-03-15", ground)));
    near(
        line(&report.groups[0].periods[0], "roughage-floor").value,
        100.0 * 18.0 * 0.6 / 1200.0,
        1e-9,
        "ground by test",
    );
}

/// Three pounds of salt fill no cow: the floor is on dry matter without minerals, and no salt is bought to thin it.
#[test]
fn salt_does_not_stand_for_feed() {
    let feeds = "  prairie_hay: {price_usd_per_ton: 180}\n  distillers_grains: {price_usd_per_ton: 160}\n  soybean_hulls: {price_usd_per_ton: 160}\n  \
                 salt: {price_usd_per_ton: 60, max_lb: 3}\n";
    let period = planned(&read(&herd("2027-03-15", feeds))).groups[0].periods[0].clone();
    assert!(lb(&period, "salt") < 1e-6, "{} lb of salt", lb(&period, "salt"));
    let organic: f64 = ["prairie_hay", "distillers_grains", "soybean_hulls"]
        .iter()
        .map(|feed| period.ration.iter().find(|line| line.feed == *feed).map_or(0.0, |line| line.lb_dm))
        .sum();
    near(line(&period, "appetite-floor").value, 100.0 * organic / 1200.0, 1e-6, "feed without minerals");
    assert!(organic >= 0.0175 * 1200.0 - 1e-6, "{organic} lb");
}

/// Montana State 2021: half of the diet, a quarter in the last third. Calving 15 March: from 16 December on she is in it,
/// 16 of the 31 days of December, so 50 − 25 × 16 / 31 = 37.1.
#[test]
fn straw_is_held_to_half_and_to_a_quarter_late() {
    let feeds = "  wheat_straw: {price_usd_per_ton: 10}\n  prairie_hay: {price_usd_per_ton: 200}\n  distillers_grains: {price_usd_per_ton: 200}\n  \
                 soybean_hulls: {price_usd_per_ton: 300}\n";
    for (calving, most) in [("2027-05-15", 50.0), ("2027-03-15", 50.0 - 25.0 * 16.0 / 31.0), ("2027-02-15", 25.0)] {
        let period = planned(&read(&herd(calving, feeds))).groups[0].periods[0].clone();
        let straw = line(&period, "straw");
        near(straw.limit, most, 1e-9, calving);
        near(straw.value, most, 1e-4, "cheap straw fills it");
    }
    let lifted = format!("{feeds}limits: {{straw: {{value: 90, because: tested at 46 % TDN}}}}\n");
    let period = planned(&read(&herd("2027-03-15", &lifted))).groups[0].periods[0].clone();
    assert!(line(&period, "straw").value > 50.0, "lifted with a reason");
    let open = planned(&read(&herd("open", feeds))).groups[0].periods[0].clone();
    near(line(&open, "straw").limit, 50.0, 1e-9, "an open cow is held to the half");
}

/// 0.30 % flat below 15 % forage in a check: steers on 10 % hay and 0.28 % sulfur keep it, though the programme's line
/// stands at 0.18 + 0.80 × 0.10 = 0.26 there.
#[test]
fn a_check_takes_the_flat_sulfur_figure_where_forage_is_scarce() {
    let check = |sulfur: f64| {
        let text = format!(
            "winter: {{from: 2026-12-01, to: 2027-01-01}}\ngroups: {{st: {{kind: stocker, head: 9, weight_lb: 800, mature_weight_lb: 1300, \
             gain_lb_per_day: 2}}}}\nfeeds:\n  prairie_hay: {{price_usd_per_ton: 100, test: {{dm_pct: 100, s_pct_dm: {sulfur}}}}}\n  corn: \
             {{price_usd_per_ton: 100, test: {{dm_pct: 100, s_pct_dm: {sulfur}}}}}\nfed: {{st: {{prairie_hay: 2, corn: 18}}}}\n"
        );
        checked(&read(&text)).groups[0].periods[0].clone()
    };
    let near_it = check(0.28);
    let rule = line(&near_it, "sulfur-with-little-forage");
    near(rule.value, 100.0 * 0.28 / 0.30, 1e-9, "of what is allowed");
    assert!(rule.kept);
    let above = check(0.33);
    let rule = line(&above, "sulfur-with-little-forage");
    near(rule.value, 110.0, 1e-9, "of what is allowed");
    assert!(!rule.kept && rule.miss > 9.9);
}

/// 2 lb of hay (70 % NDF, all but 2 % effective) and 18 of corn (9 %, 30 %): 1.372 + 0.486 of 20 lb is 9.3 % effective
/// fiber, 10.7 under 20, so 2.2 × 10.7 = 23.6 % less microbial protein.
#[test]
fn little_effective_fiber_costs_microbial_protein() {
    let herd = |hay: f64, corn: f64| {
        format!(
            "winter: {{from: 2026-12-01, to: 2027-01-01}}\ngroups: {{st: {{kind: stocker, head: 9, weight_lb: 800, mature_weight_lb: 1300, \
             gain_lb_per_day: 2}}}}\nfeeds:\n  prairie_hay: {{price_usd_per_ton: 100, test: {{dm_pct: 100, ndf_pct_dm: 70, endf_pct_ndf: 98, tdn_pct_dm: \
             50}}}}\n  corn: {{price_usd_per_ton: 100, test: {{dm_pct: 100, ndf_pct_dm: 9, endf_pct_ndf: 30, tdn_pct_dm: 88}}}}\nfed: {{st: {{prairie_hay: \
             {hay}, corn: {corn}}}}}\n"
        )
    };
    let report = checked(&read(&herd(2.0, 18.0)));
    let text = told(&report, "microbes-on-little-fiber").unwrap();
    let full = 0.13 * (2.0 * 0.50 + 18.0 * 0.88) * 453.592_37;
    let pct = 100.0 * (2.0 * 0.70 * 0.98 + 18.0 * 0.09 * 0.30) / 20.0;
    let then = full * (1.0 - 0.022 * (20.0 - pct));
    assert!(text.contains("fiber is 9 %"), "{text}");
    assert!(text.contains(&format!("about {then:.0} g")) && text.contains(&format!("where {full:.0} are")), "{text}");
    assert_eq!(told(&checked(&read(&herd(10.0, 8.0))), "microbes-on-little-fiber"), None);
}

/// The trash of a case, as it is counted.
fn trash(row: &str, test: &str) -> Feed {
    let case = read(&herd("2027-05-15", &format!("  {row}: {{price_usd_per_ton: 10, test: {{{test}}}}}\n")));
    case.offers.into_iter().find(|offer| offer.feed.class == FeedClass::GinTrash).unwrap().feed
}

/// One point of TDN for each of ash above what the row stands for: 45 at 14.5 % for picker trash, 43 at 12 for stripper.
#[test]
fn tested_ash_takes_energy_from_gin_trash() {
    let tdn = |row: &str, test: &str| trash(row, test).get(Nutrient::Tdn).unwrap();
    near(tdn("gin_trash_picker", "ash_pct_dm: 25"), 45.0 - 10.5, 1e-12, "picker");
    near(tdn("gin_trash_stripper", "ash_pct_dm: 25"), 43.0 - 13.0, 1e-12, "stripper");
    // What the row stands for changes nothing, and less ash promises nothing.
    near(tdn("gin_trash_picker", "ash_pct_dm: 14.5"), 45.0, 1e-12, "its own ash");
    near(tdn("gin_trash_stripper", "ash_pct_dm: 8"), 43.0, 1e-12, "clean");
    // Motes hold 8 % ash: below 11 there is nothing to take.
    near(tdn("gin_motes", "ash_pct_dm: 11"), 50.0, 1e-12, "to eleven");
    near(tdn("gin_motes", "ash_pct_dm: 13"), 48.0, 1e-12, "above eleven");
    // A test of TDN wins, and other roughage is no gin trash.
    near(tdn("gin_trash_picker", "ash_pct_dm: 25, tdn_pct_dm: 41"), 41.0, 1e-12, "tested");
    let figure = trash("gin_trash_picker", "ash_pct_dm: 25").values.remove(&Nutrient::Tdn).unwrap();
    assert_eq!(figure.origin, Origin::Judgement);
    assert!(figure.low.unwrap().to < figure.mean, "the low case lies below it");
    let hay = read(&herd("2027-05-15", "  prairie_hay: {price_usd_per_ton: 10, test: {ash_pct_dm: 25}}\n"));
    let hay = hay.offers.into_iter().find(|offer| offer.feed.class == FeedClass::Hay).unwrap().feed;
    assert_eq!(hay.get(Nutrient::Tdn), FEEDS.get("prairie_hay").unwrap().get(Nutrient::Tdn));
}

/// The change stands on the page, and a test of protein and ash is no test of energy.
#[test]
fn the_page_tells_what_ash_took_and_that_energy_is_untested() {
    let page = |test: &str| {
        let rest = format!(
            "  gin_trash_picker: {{price_usd_per_ton: 10, fed: free_choice, test: {{{test}}}}}\n  distillers_grains: {{price_usd_per_ton: 200}}\n  corn: \
             {{price_usd_per_ton: 200}}\n"
        );
        planned(&read(&herd("2027-05-15", &rest)))
    };
    let dirty = page("cp_pct_dm: 9, ash_pct_dm: 20");
    let text = told(&dirty, "tdn-less-dirt").unwrap();
    assert!(text.contains("39.5 %") && text.contains("45 of the table less 5.5") && text.contains("14.5"), "{text}");
    assert!(told(&dirty, "untested-trash").unwrap().contains("no TDN test"));
    let tested = page("cp_pct_dm: 9, ash_pct_dm: 20, tdn_pct_dm: 44");
    assert_eq!((told(&tested, "tdn-less-dirt"), told(&tested, "untested-trash")), (None, None));
    // Poorer trash costs more supplement.
    assert!(dirty.winter.cost_usd > page("cp_pct_dm: 9, ash_pct_dm: 12").winter.cost_usd + 1.0);
}
