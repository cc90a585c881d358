//! Every class of cattle from the herd file to a plan and its check: growth, cold, spells, grazing, protein, water, and
//! that no page holds a figure that is none.
#![allow(missing_docs, clippy::panic, clippy::unwrap_used)]

mod library;

use library::library;
use overwinter::check;
use overwinter::feed::{Nutrient, Offer};
use overwinter::herd::{AnimalClass, Coat};
use overwinter::limit::Measure;
use overwinter::need::cold;
use overwinter::quantity::{KM_PER_MILE, c_from_f, kg_from_lb};
use overwinter::report::handout::{self, HandoutWish};
use overwinter::report::model::Report;
use overwinter::report::needs_page::{self, PageStyle};
use overwinter::report::{needs, text};
use overwinter::winter::{Case, Plan, assemble};
use overwinter::{check_rations, plan, scenario, winter};
use serde_json::Value;

const HIGH_PLAINS: &str = include_str!("../examples/high-plains/herd.yaml");

fn case(text: &str) -> Case {
    match scenario::read(text, library()) {
        Ok(read) => read.value,
        Err(list) => panic!("{list:?}"),
    }
}

fn report(case: &Case) -> Report {
    plan(case).unwrap_or_else(|stop| panic!("{stop:?}"))
}

fn solved(case: &Case) -> Plan {
    winter::plan(case, &assemble(case).unwrap()).unwrap()
}

/// A herd file of one group on hay, milo, cubes and mineral in one month.
fn one(place: &str, group: &str, more_feeds: &str) -> String {
    format!(
        "place: {{{place}}}\nwinter: {{from: 2027-01-01, to: 2027-02-01}}\ngroups:\n  them: {{{group}}}\nfeeds:\n  \
         sorghum_sudan_hay: {{price_usd_per_ton: 120}}\n  milo: {{price_usd_per_ton: 175}}\n  range_cube_38: \
         {{price_usd_per_ton: 425}}\n  limestone: {{price_usd_per_ton: 190}}\n  mineral_12_12: {{price_usd_per_ton: \
         900}}\n{more_feeds}"
    )
}

const MILD: &str = "weather: {months: {jan: {mean_f: 60, wind_mph: 0}}}";

/// One of every class that is given a ration.
const CLASSES: [&str; 9] = [
    "kind: cow, head: 10, weight_lb: 1200, calving: 2027-03-10",
    "kind: cow, head: 10, weight_lb: 1200, calving: 2026-10-10, peak_milk_lb: 18",
    "kind: cow, head: 10, weight_lb: 1200, calving: open",
    "kind: first_calf_cow, head: 10, weight_lb: 1040, mature_weight_lb: 1200, calving: 2027-03-10",
    "kind: bred_heifer, head: 10, weight_lb: 950, mature_weight_lb: 1200, calving: 2027-03-01",
    "kind: replacement_heifer, head: 10, weight_lb: 600, mature_weight_lb: 1200, breeding: 2027-05-01",
    "kind: stocker, head: 10, weight_lb: 500, mature_weight_lb: 1250, gain_lb_per_day: 1.5, under_a_year: yes",
    "kind: young_bull, head: 10, weight_lb: 900, mature_weight_lb: 1900, gain_lb_per_day: 2, turnout: 2027-06-01",
    "kind: bull, head: 10, weight_lb: 1850, turnout: 2027-05-15",
];

#[test]
fn every_class_is_planned_and_its_plan_checked() {
    for class in CLASSES {
        let report = report(&case(&one(MILD, class, "")));
        let period = &report.groups[0].periods[0];
        assert!(period.limits.iter().all(|line| line.kept), "{class}");
        let weight = case(&one(MILD, class, "")).groups[0].weight_kg;
        let eaten = 100.0 * kg_from_lb(period.supply.dmi_lb) / weight;
        assert!((1.4..3.2).contains(&eaten), "{class}: eats {eaten} % of body weight");
    }
}

/// The gain that the planned ration makes, reckoned from the feeds alone, is the gain asked for.
#[test]
fn planned_gain_is_the_gain_of_the_ration() {
    for class in CLASSES {
        let case = case(&one(MILD, class, ""));
        let group = &case.groups[0];
        if !group.class.grows() {
            continue;
        }
        let cells = assemble(&case).unwrap();
        let ration = &solved(&case).rations[0][0].kg_dm;
        let total =
            |of: fn(&Offer) -> f64| case.offers.iter().zip(ration).map(|(offer, kg)| of(offer) * kg).sum::<f64>();
        let nem =
            total(|offer| if offer.feed.class.is_mineral() { 0.0 } else { offer.feed.nem_mcal_per_kg().unwrap() });
        let neg =
            total(|offer| if offer.feed.class.is_mineral() { 0.0 } else { offer.feed.neg_mcal_per_kg().unwrap() });
        let needs = &cells[0][0].block.needs;
        let left = neg * (1.0 - needs.energy.total_nem_mcal() / nem);
        assert!((left / needs.neg_mcal - 1.0).abs() < 1e-6, "{class}: {left} of {} Mcal", needs.neg_mcal);
        // The printed inverse, by which gain is told, is 0.44 % low everywhere.
        let verdict = check::judge(&cells[0][0].block, &cells[0][0].demands, &case.offers, ration);
        assert!((verdict.energy.gain_kg.unwrap() / needs.gain_kg - 1.0).abs() < 0.005, "{class}");
    }
}

/// The price of a Mcal of gain is what one more costs, solved anew.
#[test]
fn the_price_of_gain_is_what_more_of_it_costs() {
    let case = case(&one(MILD, CLASSES[6], ""));
    let cells = assemble(&case).unwrap();
    let here = winter::plan(&case, &cells).unwrap();
    let (_, price) = here.rations[0][0].growth_prices.unwrap();
    let step = 1e-3;
    let cost = |by: f64| {
        let mut cells = cells.clone();
        cells[0][0].demands.growth.as_mut().unwrap().gain_neg_mcal += by;
        winter::plan(&case, &cells).unwrap().least_cost_usd
    };
    let head_days = 10.0 * 31.0;
    let measured = (cost(step) - cost(-step)) / (2.0 * step) / head_days;
    assert!((price / measured - 1.0).abs() < 1e-3, "{price} against {measured} $ per Mcal");
}

#[test]
fn a_hand_made_ration_tells_the_gain_it_makes() {
    let fed = "fed: {them: {sorghum_sudan_hay: 9, milo: 3, range_cube_38: 1.5}}\n";
    let report = check_rations(&case(&one(MILD, CLASSES[6], fed))).unwrap();
    let gain = report.groups[0].periods[0].condition.gain_lb_per_day.unwrap();
    // 7.65 lb of hay at 55 % TDN, 2.7 of milo, 1.35 of cubes in dry matter: between 1.2 and 1.9 by any table.
    assert!((1.2..1.9).contains(&gain), "{gain}");
    let page = text::check_page(&report);
    assert!(page.contains("growth, lb a day") && page.contains("CP lb") && page.contains("MP g"), "{page}");
}

/// Nothing of urea's protein is credited to cattle that grow, all of it to grown ones.
#[test]
fn urea_is_protein_to_grown_cattle_only() {
    for class in CLASSES {
        let case = case(&one(MILD, class, "  urea: {price_usd_per_ton: 600}\n"));
        let cells = assemble(&case).unwrap();
        let block = &cells[0][0].block;
        let (index, urea) = case.offers.iter().enumerate().find(|(_, offer)| offer.id == "urea").unwrap();
        let credited = Measure::Cp.per_kg_dm(index, &urea.feed, block).unwrap();
        let whole = urea.feed.get(Nutrient::Cp).unwrap() / 100.0;
        let expected = if case.groups[0].class.grows() { 0.0 } else { whole };
        assert!((credited - expected).abs() < 1e-9, "{class}: {credited}");
    }
}

#[test]
fn sulfate_of_the_water_stands_in_the_sulfur_of_the_diet() {
    let value = |water: &str| {
        let group = format!("{}, {water}", CLASSES[0]);
        let report = report(&case(&one(MILD, &group, "")));
        let period = report.groups[0].periods.first().unwrap();
        let line = period.limits.iter().find(|line| line.rule == "sulfur").unwrap();
        (line.value, period.supply.dmi_lb)
    };
    let (dry, dm) = value("water_sulfur_g: 0");
    let (wet, _) = value("water_sulfate_ppm: 800");
    // 800 ppm in 45 liters is 36 g of sulfate, 12 g of sulfur; minerals are no dry matter in shares.
    let organic_kg = kg_from_lb(dm) - 0.085;
    let expected = 0.1 * 12.024 / organic_kg;
    assert!((wet - dry - expected).abs() < 0.1 * expected, "{dry} {wet}, expected {expected} more");
}

/// Soil in gin trash, minerals past what is tolerated, and vitamin A with the months the liver lasts.
#[test]
fn dirt_and_gaps_are_told_with_figures() {
    let trash = "  gin_trash_stripper: {price_usd_per_ton: 20, min_lb: 8, test: {ash_pct_dm: 21, fe_ppm_dm: 2500, k_pct_dm: 6}}\n";
    let group = format!("{}, base_intake_pct: 2", CLASSES[0]);
    let bleached = "sorghum_sudan_hay: {price_usd_per_ton: 120, test: {carotene_mg_per_kg_dm: 1}}";
    let file = one(MILD, &group, trash).replace("sorghum_sudan_hay: {price_usd_per_ton: 120}", bleached);
    let case = case(&file.replace("  mineral_12_12: {price_usd_per_ton: 900}\n", ""));
    let report = report(&case);
    let said = |rule: &str| {
        let found = report.cautions.iter().find(|caution| caution.rule == rule);
        found.unwrap_or_else(|| panic!("{rule} in {:?}", report.cautions)).text.clone()
    };
    assert!(said("dirty-trash").contains("21 % ash"), "{}", said("dirty-trash"));
    let period = &report.groups[0].periods[0];
    let lb = |feed: &str| period.ration.iter().find(|line| line.feed == feed).map_or(0.0, |line| line.lb_dm);
    // Only what states its iron is counted; the trash alone brings this much.
    let least = 2500.0 * lb("gin_trash_stripper") / period.supply.dmi_lb;
    let iron: f64 =
        said("iron").split(" ppm").next().unwrap().rsplit(' ').next().unwrap().replace(',', "").parse().unwrap();
    assert!(iron >= least - 1.0, "{iron} of {least}");
    assert!(said("mineral-ceiling").contains("Potassium"), "{}", said("mineral-ceiling"));
    assert!(said("vitamin-a").contains("2 to 4 months"), "{}", said("vitamin-a"));
}

#[test]
fn cold_raises_the_ration_and_the_report_says_what_was_counted() {
    let january = |f: f64, more: &str| {
        format!("weather: {{months: {{jan: {{mean_f: {f}, wind_mph: 12}}, dec: {{mean_f: 25, wind_mph: 12}}}}}}{more}")
    };
    let asked = |place: String, coat: &str| {
        let report = report(&case(&one(&place, &format!("{}, coat: {coat}", CLASSES[2]), "")));
        (report.groups[0].periods[0].need.nem_mcal, report.weather)
    };
    let (mild, words) = asked(january(50.0, ""), "dry");
    assert!(words.contains("the file's weather") && words.contains("acclimatization not counted"), "{words}");
    let (cold, _) = asked(january(30.0, ""), "dry");
    let (wet, _) = asked(january(30.0, ""), "wet");
    let (sheltered, words) = asked(january(30.0, ", shelter_pct: 90"), "dry");
    assert!(words.contains("90 % of the wind kept off"), "{words}");
    let (sunny, words) = asked(january(30.0, ", sun: yes"), "dry");
    assert!(words.contains("sun counted"), "{words}");
    let (hardened, words) = asked(january(50.0, ", acclimatization: on"), "dry");
    assert!(words.contains("acclimatization counted"), "{words}");
    assert!(mild <= sheltered && sheltered < cold, "{mild} {sheltered} {cold}");
    assert!(sunny < cold && cold < wet, "{sunny} {cold} {wet}");
    assert!(hardened > mild, "{hardened} {mild}");
}

#[test]
fn a_region_alone_counts_cold_with_its_wind() {
    let cow =
        "kind: stocker, head: 10, weight_lb: 450, mature_weight_lb: 1200, gain_lb_per_day: 0.5, under_a_year: yes";
    let report = report(&case(&one("weather: high_plains", cow, "")));
    assert!(report.weather.contains("weather of high_plains"), "{}", report.weather);
    let table = needs::of(&case(&one("weather: high_plains", cow, "")));
    assert!(table.groups[0].periods[0].lower_critical_f.is_some());
}

/// The spell of the file, worked by hand from its own parts.
#[test]
fn a_cold_spell_becomes_pounds_tons_and_days() {
    let place = "weather: {months: {jan: {mean_f: 45, wind_mph: 5}}}, cold_spell: {days: 7, mean_f: 10, wind_mph: 15, coat: wet}";
    let case = case(&one(place, CLASSES[0], ""));
    let report = report(&case);
    let spell = report.cold_spell.as_ref().unwrap();
    let group = &spell.groups[0];
    assert!((spell.wind_chill_f - (-5.0)).abs() < 1e-9);
    // 2 % for each degree under 59.
    assert!((group.rule_of_thumb_pct - 128.0).abs() < 1e-9);
    let maintenance = 100.0 * group.cold_nem_mcal / group.cold_pct_of_maintenance;
    assert!((group.extra_nem_mcal + group.in_ration_nem_mcal - 0.4 * maintenance).abs() < 1e-9);
    let left = group.cold_nem_mcal - 0.4 * maintenance;
    assert!(left > 0.0 && (group.left_over_nem_mcal - left).abs() < 1e-9);
    let days = group.days_to_make_good.unwrap();
    assert!((days - 7.0 * left / group.extra_nem_mcal).abs() < 1e-9);
    let feed = group.roughage.as_ref().unwrap();
    let hay = case.offers.iter().find(|offer| offer.id == feed.feed).unwrap();
    let per_lb = hay.feed.nem_mcal_per_kg().unwrap() * kg_from_lb(1.0) * hay.feed.dm_pct() / 100.0;
    assert!((feed.lb_as_fed * per_lb - group.extra_nem_mcal).abs() < 1e-9);
    let eaten_tons = feed.lb_as_fed * 10.0 * (7.0 + days) / 2000.0;
    assert!(
        feed.reserve_tons > eaten_tons && feed.reserve_tons < 1.5 * eaten_tons,
        "{} {eaten_tons}",
        feed.reserve_tons
    );
    assert!((spell.feeds[0].reserve_tons - feed.reserve_tons).abs() < 1e-12);
    let page = text::plan_page(&report);
    for words in ["COLD SPELL", "Hold in reserve", "More than 40 % of maintenance cannot be eaten", "Rule of thumb"] {
        assert!(page.contains(words), "{words}:\n{page}");
    }
}

/// Colder, windier or wetter never asks for less.
#[test]
fn a_worse_spell_never_asks_less() {
    let asked = |f: f64, mph: f64, coat: &str| {
        let place = format!("{MILD}, cold_spell: {{days: 5, mean_f: {f}, wind_mph: {mph}, coat: {coat}}}");
        let report = report(&case(&one(&place, CLASSES[0], "")));
        let group = report.cold_spell.unwrap().groups.remove(0);
        group.extra_nem_mcal + group.left_over_nem_mcal
    };
    let mut before = 0.0;
    for f in [40.0, 20.0, 0.0, -20.0] {
        let now = asked(f, 10.0, "dry");
        assert!(now >= before && asked(f, 20.0, "dry") >= now && asked(f, 10.0, "wet") >= now, "{f} °F");
        before = now;
    }
    assert!(before > 0.0);
}

/// Ohio State prints what effective 10 and −10 °F ask in hay and in grain: 20 % and 40 % more TDN. Ours, by the rule it
/// stands on (1 % for each °F, here from its 30 °F), for a 1,200-lb dry cow at maintenance.
#[test]
fn pounds_for_cold_as_ohio_state_prints_them() {
    let case = case(&one(MILD, CLASSES[2], ""));
    let cells = assemble(&case).unwrap();
    let maintenance = cells[0][0].block.needs.energy.maintenance_nem_mcal;
    let pounds = |id: &str, share: f64| {
        let offer = case.offers.iter().find(|offer| offer.id == id).unwrap();
        let per_lb = offer.feed.nem_mcal_per_kg().unwrap() * kg_from_lb(1.0) * offer.feed.dm_pct() / 100.0;
        share * maintenance / per_lb
    };
    // Printed 3.5 to 4 lb hay or 2 to 2.5 lb grain, and 7 to 8 or 4 to 6. The rule itself is 2 points of 20 wide (from
    // 30 or from 32 °F), a tenth: so much is allowed on either side.
    for (share, hay, grain) in [(0.20, (3.5, 4.0), (2.0, 2.5)), (0.40, (7.0, 8.0), (4.0, 6.0))] {
        for (id, (low, high)) in [("sorghum_sudan_hay", hay), ("milo", grain)] {
            let ours = pounds(id, share);
            assert!((0.9 * low..=1.1 * high).contains(&ours), "{id}: {ours} lb, printed {low} to {high}");
        }
    }
    let chill = cold::wind_chill_f(c_from_f(20.0), 10.0 * KM_PER_MILE);
    assert!((cold::rule_pct(Coat::Dry, chill) - 22.0).abs() < 1e-9);
}

#[test]
fn grazing_costs_by_the_head_and_stops_at_the_acres() {
    let range = |more: &str| format!("  native_range_dormant: {{price_usd_per_head_month: 12{more}}}\n");
    let group = format!("{}, activity_pct: 10", CLASSES[0]);
    let eaten = |report: &Report| {
        let ration = &report.groups[0].periods[0].ration;
        ration.iter().find(|line| line.feed == "native_range_dormant").map_or(0.0, |line| line.lb_dm)
    };
    let free = report(&case(&one(MILD, &group, &range(""))));
    assert!(eaten(&free) > 15.0, "{}", eaten(&free));
    // 10 head, 31 days: 10 · 12 · 31/30.4 dollars, whatever they eat.
    let cheaper = report(&case(&one(MILD, &group, &range("").replace("12", "0"))));
    assert!((free.winter.cost_usd - cheaper.winter.cost_usd - 120.0 * 31.0 / 30.4).abs() < 1e-6);
    assert!((free.winter.cost_usd - free.groups[0].cost_usd).abs() < 1e-6);
    // 4 acres of 500 lb are 2,000 lb of dry matter for 310 head-days.
    let little = report(&case(&one(MILD, &group, &range(", acres: 4, lb_dm_per_acre: 500"))));
    assert!((eaten(&little) - 2000.0 / 310.0).abs() < 0.01, "{}", eaten(&little));
    let share = report(&case(&one(MILD, &group, &range(", max_share_of_intake_pct: 40"))));
    let dm = share.groups[0].periods[0].supply.dmi_lb;
    assert!(eaten(&share) <= 0.4 * dm + 1e-6 && eaten(&share) > 0.3 * dm, "{} of {dm}", eaten(&share));
    let still = report(&case(&one(MILD, CLASSES[0], &range(""))));
    assert!(still.cautions.iter().any(|caution| caution.rule == "grazing-without-walking"));
    assert!(free.cautions.iter().all(|caution| caution.rule != "grazing-without-walking"));
}

#[test]
fn a_path_of_condition_is_followed_and_its_end_told() {
    let feeds = "feeds:\n  sorghum_sudan_hay: {price_usd_per_ton: 120}\n  milo: {price_usd_per_ton: 175}\n  mineral_12_12: \
                 {price_usd_per_ton: 900}\n";
    let file = |path: &str| {
        format!(
            "place: {{weather: rolling_plains}}\nwinter: {{from: 2026-12-01, to: 2027-03-01}}\ngroups:\n  cows: {{kind: cow, \
             head: 10, weight_lb: 1200, condition: 5, calving: 2027-03-20{path}}}\n{feeds}"
        )
    };
    let held = report(&case(&file("")));
    let raised = report(&case(&file(", condition_path: {2026-12: 5, 2027-02: 5.4}")));
    let scores: Vec<f64> = raised.groups[0].periods.iter().map(|period| period.condition.score_to).collect();
    // What the floors feed beyond the need puts a little more on in December; the path is on top.
    assert!((scores[0] - 5.0).abs() < 0.2, "{scores:?}");
    assert!((scores[1] - scores[0] - 0.4 * 31.0 / 59.0).abs() < 0.03, "{scores:?}");
    assert!((scores[2] - scores[0] - 0.4).abs() < 0.03, "{scores:?}");
    assert!(raised.winter.cost_usd > held.winter.cost_usd);
    let low = report(&case(
        &file(", condition_path: {2026-12: 5}")
            .replace("condition: 5,", "condition: 4.5,")
            .replace("calving: 2027-03-20", "calving: 2027-02-10")
            .replace("2026-12: 5", "2026-12: 4.6"),
    ));
    assert!(low.cautions.iter().any(|caution| caution.rule == "condition-at-calving"), "{:?}", low.cautions);
}

/// Every figure of a value, with its path.
fn figures(value: &Value, path: &str, bad: &mut Vec<String>) {
    match value {
        Value::Null => bad.push(path.to_owned()),
        Value::String(text) if text.contains("NaN") || text.contains("inf ") => bad.push(format!("{path}: {text}")),
        Value::Array(items) => {
            for (i, item) in items.iter().enumerate() {
                figures(item, &format!("{path}/{i}"), bad);
            }
        }
        Value::Object(map) => {
            for (key, item) in map {
                figures(item, &format!("{path}/{key}"), bad);
            }
        }
        _ => {}
    }
}

#[test]
fn five_groups_on_the_high_plains() {
    let case = case(HIGH_PLAINS);
    let report = report(&case);
    let check = check_rations(&case).unwrap();
    let table = needs::of(&case);
    for value in [
        serde_json::to_value(&report).unwrap(),
        serde_json::to_value(&check).unwrap(),
        serde_json::to_value(&table).unwrap(),
    ] {
        let mut bad = Vec::new();
        figures(&value, "", &mut bad);
        assert!(bad.is_empty(), "{bad:?}");
    }
    let page = needs_page::page(&table, PageStyle { metric: false, parts: true });
    for text in [&page, &text::plan_page(&report), &text::check_page(&check)] {
        assert!(!text.contains("NaN") && !text.contains("inf "), "{text}");
    }
    assert!(page.lines().all(|line| line.chars().count() <= 100), "{page}");
    let classes: Vec<AnimalClass> = case.groups.iter().map(|group| group.class).collect();
    assert_eq!(
        classes,
        [AnimalClass::Cow, AnimalClass::FirstCalfCow, AnimalClass::BredHeifer, AnimalClass::Stocker, AnimalClass::Bull]
    );
    let spell = report.cold_spell.as_ref().unwrap();
    let mut page = overwinter::report::page::Page::default();
    overwinter::report::spell::add(&mut page, spell);
    let page = page.text();
    assert!(page.lines().all(|line| line.chars().count() <= 100), "{page}");
    assert_eq!((spell.days, spell.kind.as_deref()), (7, Some("hard")));
    // 25 °F under the 29 °F of the file's own January.
    assert!((spell.mean_f - 4.0).abs() < 1e-9);
    assert!(report.weather.contains("high_plains with months of the file's own"), "{}", report.weather);
}

#[test]
fn tables_without_a_herd_file() {
    let wish = HandoutWish { weight_lb: vec![1200.0], milk_lb: Some(20.0), ..HandoutWish::default() };
    for class in AnimalClass::ALL {
        let wish = if class == AnimalClass::Cow { wish.clone() } else { HandoutWish::default() };
        let Ok(table) = handout::of(class, &wish) else {
            assert_eq!(class, AnimalClass::YoungCalf);
            continue;
        };
        for style in [PageStyle::default(), PageStyle { metric: true, parts: true }] {
            let page = needs_page::page(&table, style);
            assert!(page.lines().all(|line| line.chars().count() <= 100), "{page}");
            assert!(!page.contains("NaN"), "{page}");
        }
        let mut bad = Vec::new();
        figures(&serde_json::to_value(&table).unwrap(), "", &mut bad);
        assert!(bad.is_empty(), "{bad:?}");
        for row in table.groups.iter().flat_map(|group| &group.periods) {
            assert_eq!(row.gain_lb > 0.0, row.neg_mcal > 0.0, "{class:?}: no gain, no energy of gain");
        }
    }
    let cow = handout::of(AnimalClass::Cow, &wish).unwrap();
    insta::assert_snapshot!(needs_page::page(&cow, PageStyle::default()));
    let too_heavy = HandoutWish { weight_lb: vec![1300.0], ..HandoutWish::default() };
    assert!(handout::of(AnimalClass::Stocker, &too_heavy).unwrap_err().contains("mature weight"));
}
