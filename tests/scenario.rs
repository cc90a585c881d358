//! Herd files that are right: every value in the unit inside, defaults, periods, and metric twins; and text that is
//! not a herd file at all.
#![expect(clippy::unwrap_used, reason = "helpers of tests")]

use approx::assert_relative_eq;
use jiff::civil::{Date, date};
use overwinter::feed::offer::StorageLoss;
use overwinter::feed::{AmountBounds, FedHow, Nutrient, Offer, PriceUnit};
use overwinter::herd::{AnimalClass, Coat, Group, Hide, Sex};
use overwinter::quantity::KgAsFed;
use overwinter::scenario;
use overwinter::source::Origin;
use overwinter::winter::Case;
use proptest::prelude::*;

mod library;
use library::library;

const ORDINARY: &str = include_str!("herd_files/ordinary.yaml");
const EVERYTHING_US: &str = include_str!("herd_files/everything_us.yaml");
const EVERYTHING_METRIC: &str = include_str!("herd_files/everything_metric.yaml");

fn case(text: &str) -> Case {
    let warned = scenario::read(text, library()).unwrap();
    assert_eq!(warned.warnings, [], "no warning is expected");
    warned.value
}

fn group<'c>(case: &'c Case, name: &str) -> &'c Group {
    case.groups.iter().find(|group| group.name == name).unwrap()
}

fn offer<'c>(case: &'c Case, id: &str) -> &'c Offer {
    case.offers.iter().find(|offer| offer.id == id).unwrap()
}

fn lb(pounds: f64) -> KgAsFed {
    KgAsFed::from_lb(pounds)
}

#[test]
fn an_ordinary_file() {
    let case = case(ORDINARY);
    assert_eq!((case.place.name.as_str(), case.place.region.as_deref()), ("Dry Fork", Some("rolling_plains")));
    let periods: Vec<(&str, Date, u32)> =
        case.periods.iter().map(|period| (period.label.as_str(), period.from, period.days())).collect();
    assert_eq!(
        periods,
        [
            ("2026-11", date(2026, 11, 15), 5),
            // The gin trash of the file comes and ends inside a month.
            ("2026-11-20", date(2026, 11, 20), 11),
            ("2026-12", date(2026, 12, 1), 31),
            ("2027-01", date(2027, 1, 1), 31),
            ("2027-02", date(2027, 2, 1), 20),
            ("2027-02-21", date(2027, 2, 21), 8),
            ("2027-03", date(2027, 3, 1), 31),
        ]
    );

    let cows = group(&case, "cows");
    assert_eq!((cows.class, cows.sex, cows.head), (AnimalClass::Cow, Sex::Female, 85));
    assert_relative_eq!(cows.weight_kg, 544.310_844);
    assert_relative_eq!(cows.mature_weight_kg, cows.weight_kg);
    assert_relative_eq!(cows.condition, 5.5);
    assert_relative_eq!(cows.peak_milk_kg, 9.071_847_4);
    assert_relative_eq!(cows.calf_birth_weight_kg, 37.0);
    assert_relative_eq!(cows.breed_factor, 1.0);
    assert_eq!(cows.milk_composition_pct, (4.0, 8.3, 3.4));
    assert_eq!((cows.calving, cows.condition_wanted), (Some(date(2027, 3, 1)), None));

    let heifers = group(&case, "bred_heifers");
    assert_relative_eq!(heifers.mature_weight_kg, 544.310_844);
    assert_relative_eq!(heifers.condition, 5.0);
    // Her first milk is 0.74 of a grown cow's 20 lb.
    assert_relative_eq!(heifers.peak_milk_kg, 0.74 * 9.071_847_4);

    let hay = offer(&case, "prairie_hay");
    assert_eq!((hay.tested, hay.tested_on), (true, Some(date(2026, 10, 12))));
    assert_eq!(hay.feed.get(Nutrient::Cp), Some(5.6));
    assert_eq!(hay.feed.values[&Nutrient::Cp].origin, Origin::Given);
    assert!(hay.feed.get(Nutrient::Ca).is_some(), "what was not tested is the table's");
    assert_relative_eq!(hay.on_hand.tons(), 110.0);
    assert_eq!((hay.price_usd_per_ton, hay.value_usd_per_ton), (None, 0.0));
    let StorageLoss::PerMonth(share) = hay.loss else { panic!("{:?}", hay.loss) };
    assert_relative_eq!(1.0 - (1.0 - share).powi(9), 0.20, max_relative = 1e-12);
    assert_relative_eq!(hay.waste, 0.205);

    let trash = offer(&case, "gin_trash_stripper");
    assert_eq!(
        (trash.fed, trash.from, trash.to),
        (FedHow::FreeChoice, Some(date(2026, 11, 20)), Some(date(2027, 2, 20)))
    );
    // 14 miles at 4 dollars is 56, so the least charge of 120 dollars holds for 11 tons.
    assert_relative_eq!(trash.delivered_usd_per_ton().unwrap(), 20.0 + 120.0 / 11.0);

    let seed = offer(&case, "whole_cottonseed");
    assert_eq!(seed.bounds_for("cows"), AmountBounds { max: Some(lb(6.0)), ..AmountBounds::default() });
    assert_eq!(seed.bounds_for("bred_heifers"), AmountBounds::default());
    let mineral = offer(&case, "mineral_12_12").bounds_all.fixed.unwrap();
    assert_relative_eq!(mineral.lb(), 0.25, max_relative = 1e-12);
    assert!(case.needs_override.is_empty() && case.limits.is_empty() && case.fed.is_empty());
}

#[test]
fn every_key_reaches_its_place() {
    let case = case(EVERYTHING_US);
    let place = &case.place;
    assert_eq!((place.sun, place.acclimatization), (true, true));
    assert_relative_eq!(place.shelter_share, 0.4);
    let january = place.weather[0].unwrap();
    assert_relative_eq!(january.mean_c, -10.0);
    assert_relative_eq!(january.wind_kmh, 16.093_44);
    assert!(place.weather[11].is_some(), "December is the region's");
    assert!(place.weather[6].is_none(), "July is not known");
    let spell = place.cold_spell.unwrap();
    assert_eq!((spell.days, spell.coat), (7, Coat::Wet));
    assert_relative_eq!(spell.mean_c, -15.0);

    let cows = group(&case, "cows");
    assert_eq!(cows.condition_wanted, Some((5.5, date(2027, 3, 1))));
    assert_eq!(cows.milk_composition_pct, (4.1, 8.4, 3.5));
    assert_eq!((cows.coat, cows.hide, cows.limit_fed), (Coat::SomeMud, Hide::Thick, true));
    assert_eq!(cows.base_intake_pct, Some((1.9, 2.3)));
    assert_relative_eq!(cows.weaning_days, 205.0);
    assert_relative_eq!(cows.activity_share, 0.15);
    assert_relative_eq!(cows.breed_factor, 0.95);
    assert_relative_eq!(cows.water_sulfur_g, 6.0);
    let steers = group(&case, "steers");
    assert_eq!((steers.sex, steers.under_a_year, steers.peak_milk_kg), (Sex::Steer, true, 0.0));
    assert_relative_eq!(steers.gain_kg_per_day.unwrap(), 0.680_388_555);
    assert_relative_eq!(steers.breed_factor, 0.98);
    assert_eq!(steers.base_intake_pct, Some((2.0, 2.0)));
    let heifers = group(&case, "heifers");
    let (wanted, by) = heifers.weight_wanted_kg.unwrap();
    assert_relative_eq!(wanted, 344.730_201_2);
    assert_eq!((by, heifers.sex), (date(2027, 4, 15), Sex::Female));
    // 1000 ppm of sulfate in 45 liters is 45 g, a third of it sulfur.
    assert_relative_eq!(heifers.water_sulfur_g, 15.03);
    // Bred at 62.5 % of mature weight: half Hereford, half Brahman.
    let (bred_at, by) = group(&case, "young_heifers").weight_wanted_kg.unwrap();
    assert_relative_eq!(bred_at, 0.625 * 544.310_844);
    assert_eq!(by, date(2027, 5, 1));
    assert_relative_eq!(group(&case, "young_heifers").breed_factor, 0.95);
    let path = &group(&case, "dry_cows").condition_path;
    assert_eq!(path, &[(date(2027, 1, 1), 5.0), (date(2027, 2, 15), 5.5)]);
    let range = offer(&case, "native_range_dormant");
    assert_relative_eq!(range.on_hand.dry(range.feed.dm_pct()).lb(), 512_000.0, max_relative = 1e-12);
    assert_relative_eq!(range.usd_per_head_day(), 12.0 / 30.4);
    assert_eq!(range.grazing.unwrap().most_of_intake, Some(0.8));
    assert_eq!(range.bounds_for("cows").max, Some(lb(0.0)));
    assert_eq!(range.bounds_for("dry_cows"), AmountBounds::default());
    let bulls = group(&case, "bulls");
    assert_eq!((bulls.sex, bulls.turnout), (Sex::Bull, Some(date(2027, 5, 15))));

    let hay = offer(&case, "our_hay");
    assert_eq!((hay.feed.id.as_str(), hay.feed.name.as_str()), ("prairie_hay", "Meadow hay, second cutting"));
    assert_eq!((hay.loss, hay.tested), (StorageLoss::PerMonth(0.02), false));
    assert_eq!(hay.bounds_for("cows"), AmountBounds { min: Some(lb(5.0)), max: Some(lb(30.0)), fixed: None });
    assert_eq!(hay.bounds_for("bulls"), AmountBounds { max: Some(lb(30.0)), ..AmountBounds::default() });
    let own = offer(&case, "bakery_waste");
    assert_eq!((own.feed.get(Nutrient::Cp), own.feed.get(Nutrient::Fat)), (Some(12.0), Some(11.0)));
    assert_eq!(own.feed.get(Nutrient::FreeGossypol), Some(0.0), "there is no cotton in it");
    assert_eq!((own.feed.get(Nutrient::Ca), own.tested, own.loss), (None, true, StorageLoss::Flat(0.06)));
    // Salt has no amount, so it gets the usual ounces, which this file sets to 2.
    assert_relative_eq!(offer(&case, "salt").bounds_all.fixed.unwrap().lb(), 0.125, max_relative = 1e-12);

    let needs = case.needs_override["cows"];
    assert_eq!((needs.nem_mcal, needs.mp_g, needs.ca_g, needs.p_g), (None, Some(500.0), Some(25.0), Some(18.0)));
    assert_relative_eq!(needs.tdn_kg.unwrap(), 5.878_557_115_2);

    let limits: Vec<_> = case
        .limits
        .iter()
        .map(|change| (change.rule.as_str(), change.group.as_deref(), change.value, change.off))
        .collect();
    assert_eq!(
        limits,
        [
            ("added-fat", None, Some(3.5), false),
            ("fat", Some("cows"), Some(5.0), false),
            ("fat", Some("steers"), None, true),
        ]
    );
    assert_eq!(&EVERYTHING_US[case.limits[0].span.clone()], "added-fat");

    let labels: Vec<&str> = case.periods.iter().map(|period| period.label.as_str()).collect();
    assert_eq!(labels[..4], ["2026-11-15", "2026-11-16", "2026-11-20", "2026-12-01"]);
    assert_eq!(case.fed["cows"].len(), case.periods.len());
    assert!(case.fed["cows"].iter().all(|ration| ration.as_ref().unwrap()["our_hay"] == lb(24.0)));
    let steers: Vec<usize> =
        case.fed["steers"].iter().enumerate().filter(|(_, ration)| ration.is_some()).map(|(index, _)| index).collect();
    assert_eq!(steers, [4, 5]);

    let settings = &case.settings;
    assert_eq!(
        (settings.steady_pct, settings.substitution, settings.certainty_pct, settings.mineral_oz),
        (1.0, 0.4, 80.0, 2.0)
    );
}

#[test]
fn the_metric_twin_is_the_same_case() {
    let strip = |mut case: Case| {
        case.limits.iter_mut().for_each(|change| change.span = 0..0);
        // The unit a price is written in is told beside the ton and changes nothing.
        case.offers.iter_mut().for_each(|offer| offer.price_unit = PriceUnit::Ton);
        case
    };
    assert_eq!(strip(case(EVERYTHING_US)), strip(case(EVERYTHING_METRIC)));
}

#[test]
fn line_ends_and_a_byte_order_mark_change_nothing() {
    assert_eq!(case(ORDINARY), case(&ORDINARY.replace('\n', "\r\n")));
    assert_eq!(case(ORDINARY), case(&format!("\u{feff}{ORDINARY}")));
    assert_eq!(case(ORDINARY), case(ORDINARY.trim_end()));
}

#[test]
fn ways_of_cutting_a_winter() {
    let cut = |winter: &str| -> Vec<(String, u32)> {
        let text = ORDINARY.replace("{from: 2026-11-15, to: 2027-04-01, periods: months}", winter);
        // Heifers that are near their weight at calving whenever the winter begins.
        let text = text.replace("weight_lb: 900,", "weight_lb: 1010,");
        // Without the days of a feed, which cut the winter too.
        let text = text.replace("from: 2026-11-20", "").replace("to: 2027-02-20", "");
        let periods = case(&text).periods;
        assert!(periods.windows(2).all(|pair| pair[0].to == pair[1].from), "{periods:?}");
        periods.iter().map(|period| (period.label.clone(), period.days())).collect()
    };
    let of = |list: &[(&str, u32)]| -> Vec<(String, u32)> {
        list.iter().map(|(label, days)| ((*label).to_owned(), *days)).collect()
    };
    assert_eq!(cut("{from: 2026-12-31, to: 2027-01-01}"), of(&[("2026-12", 1)]));
    assert_eq!(cut("{from: 2026-12-31, to: 2027-01-02}"), of(&[("2026-12", 1), ("2027-01", 1)]));
    assert_eq!(
        cut("{from: 2026-12-10, to: 2027-01-03, periods: weeks}"),
        of(&[("2026-12-10", 7), ("2026-12-17", 7), ("2026-12-24", 7), ("2026-12-31", 3)])
    );
    assert_eq!(
        cut("{from: 2027-02-10, to: 2027-03-10, periods: half-months}"),
        of(&[("2027-02-10", 6), ("2027-02-16", 13), ("2027-03-01", 9)])
    );
    let listed = of(&[("2026-12-10", 22), ("2027-01-01", 45), ("2027-02-15", 14)]);
    assert_eq!(cut("{from: 2026-12-10, to: 2027-03-01, periods: [2027-01-01, 2027-02-15]}"), listed);
    assert_eq!(cut("{from: 2026-12-10, to: 2027-03-01, periods: [2026-12-10, 2027-01-01, 2027-02-15]}"), listed);
}

#[test]
fn four_hundred_days_are_a_winter_and_one_more_is_not() {
    let with = |to: &str| {
        let text = ORDINARY.replace("to: 2027-04-01", &format!("to: {to}"));
        scenario::read(&text, library()).map_err(|list| list.iter().map(|one| one.code).collect::<Vec<_>>())
    };
    assert!(with("2027-12-20").is_ok());
    assert_eq!(with("2027-12-21").unwrap_err(), ["H041"]);
}

#[test]
fn bounds_of_a_group_set_aside_what_is_fixed_for_all() {
    let text = ORDINARY.replace(
        "range_cube_38: {price_usd_per_ton: 425}",
        "range_cube_38: {price_usd_per_ton: 425, fixed_lb: 2, max_lb: {cows: 3}}",
    );
    let case = case(&text);
    let cubes = offer(&case, "range_cube_38");
    assert_eq!(cubes.bounds_for("cows"), AmountBounds { max: Some(lb(3.0)), ..AmountBounds::default() });
    assert_eq!(cubes.bounds_for("bred_heifers"), AmountBounds { fixed: Some(lb(2.0)), ..AmountBounds::default() });
}

#[test]
fn an_open_cow_is_said_to_be_open() {
    let open = ORDINARY.replace("calving: 2027-03-01", "calving: open");
    assert_eq!(group(&case(&open), "cows").calving, None);
}

/// Lots take what the feed has, lay their own over it, and share the amounts given beside them; months have their price;
/// the ration of a month is that of each of its parts.
#[test]
fn lots_months_and_parts_of_months() {
    let text = ORDINARY.replace(
        "  range_cube_38: {price_usd_per_ton: 425}",
        "  range_cube_38: {price_usd_per_ton: {2026-11: 400, 2027-01: 440}}
  bermuda_hay_good:
    waste_pct: 8
    max_lb: {cows: 6}
    lots:
      - {name: barn, on_hand_tons: 10, test: {cp_pct_dm: 13}}
      - {name: next_door, price_usd_per_ton: 120, waste_pct: 12}",
    );
    let text = text.replace("fed: {}", "fed: {cows: {2026-11: {range_cube_38: 2}, 2027-02-21: {range_cube_38: 3}}}");
    let case = case(&text);
    let cubes = offer(&case, "range_cube_38");
    let price = |day: Date| cubes.price_on(day).unwrap();
    assert_eq!((price(date(2026, 11, 15)), price(date(2026, 12, 31)), price(date(2027, 1, 1))), (400.0, 400.0, 440.0));
    let (barn, next) = (offer(&case, "bermuda_hay_good/barn"), offer(&case, "bermuda_hay_good/next_door"));
    assert_eq!((barn.waste, next.waste), (0.08, 0.12));
    assert_eq!((barn.feed.get(Nutrient::Cp), barn.tested, next.tested), (Some(13.0), true, false));
    for lot in [barn, next] {
        assert_eq!((lot.feed_name(), lot.bounds_for("cows")), ("bermuda_hay_good", AmountBounds::default()));
        assert_eq!(lot.lot_of.as_ref().unwrap().bounds_for("cows").max, Some(lb(6.0)));
    }
    let fed: Vec<(&str, bool)> = case
        .periods
        .iter()
        .zip(&case.fed["cows"])
        .map(|(period, ration)| (period.label.as_str(), ration.is_some()))
        .filter(|(_, given)| *given)
        .collect();
    assert_eq!(fed, [("2026-11", true), ("2026-11-20", true), ("2027-02-21", true)]);
}

#[test]
fn grazed_feed_is_free_choice_unless_the_file_says_otherwise() {
    let with = |words: &str| {
        let feed = format!("native_range_dormant: {{price_usd_per_ton: 0{words}}}");
        let text = ORDINARY.replace("range_cube_38: {price_usd_per_ton: 425}", &feed);
        offer(&case(&text), "native_range_dormant").fed
    };
    assert_eq!(with(""), FedHow::FreeChoice);
    assert_eq!(with(", fed: by_hand"), FedHow::ByHand);
}

/// Each example of `docs/herd-file.md` is read as it stands, in a file that has what it refers to.
#[test]
fn the_examples_of_the_docs_are_right() {
    let page = include_str!("../docs/herd-file.md");
    let examples: Vec<&str> = page.split("```yaml\n").skip(1).map(|rest| rest.split("```").next().unwrap()).collect();
    assert_eq!(examples.len(), 6);
    let whole = case(examples[0]);
    assert_eq!(whole.offers.len(), 3);
    for example in &examples[1..] {
        let key = example.split(':').next().unwrap();
        // The whole section gives way: its line and what stands farther in under it.
        let mut gone = false;
        let kept: Vec<&str> = ORDINARY
            .lines()
            .filter(|line| {
                if !line.starts_with([' ', '#']) {
                    gone = line.starts_with(&format!("{key}:"));
                }
                !gone
            })
            .collect();
        case(&format!("{}\n{example}", kept.join("\n")));
    }
}

/// Words and marks that herd files and broken YAML are made of.
fn scrap() -> impl Strategy<Value = String> {
    let word = prop::sample::select(vec![
        "winter",
        "groups",
        "feeds",
        "cows",
        "kind",
        "head",
        "weight_lb",
        "limits",
        "fed",
        "place",
        ": ",
        ":",
        "\n",
        "\n  ",
        "\n    ",
        "- ",
        "{",
        "}",
        "[",
        "]",
        ",",
        "\"",
        "'",
        "#",
        "&a",
        "*a",
        "<<",
        "!t",
        "|",
        ">",
        "\t",
        "---",
        "\r\n",
        "\r",
        "ñ",
        "\u{feff}",
        "\u{85}",
        "\u{2028}",
        "1200",
        "-1",
        ".nan",
        "1e999",
        "2026-11-15",
        "cow",
        "~",
        "null",
        "?",
        "%",
        "@",
        "`",
        "\\",
    ]);
    prop::collection::vec(word, 0..40).prop_map(|words| words.concat())
}

fn read_and_draw(text: &str) {
    let list = scenario::read(text, library()).map_or_else(|list| list, |warned| warned.warnings);
    for one in &list {
        for (span, _) in one.label.iter().chain(&one.also) {
            assert!(text.get(span.clone()).is_some(), "{one:?} points nowhere in {text:?}");
        }
    }
    let drawn = overwinter::cli::diagnostics::render(&list, "herd.yaml", text, false);
    assert!(drawn.lines().count() < 2000);
    overwinter::cli::diagnostics::render_json(&list, "herd.yaml", text).unwrap();
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_text_is_read_without_panic(text in ".{0,200}") {
        read_and_draw(&text);
    }

    #[test]
    fn any_scrap_of_yaml_is_read_without_panic(text in scrap()) {
        read_and_draw(&text);
    }

    #[test]
    fn a_herd_file_with_a_hole_and_a_patch_is_read_without_panic(
        at in 0..EVERYTHING_US.len(), length in 0..60_usize, patch in scrap(),
    ) {
        let text = EVERYTHING_US;
        let end = (at + length).min(text.len());
        read_and_draw(&format!("{}{patch}{}", &text[..at], &text[end..]));
    }

    #[test]
    fn every_scalar_has_the_bytes_it_is_written_in(name in "[a-zñé漢🐄][a-z0-9ñé漢🐄]{0,20}") {
        let text = format!("# ñandú 漢 🐄\nplace: {{name: {name}, wether: {name}}}\n");
        let list = scenario::read(&text, library()).unwrap_err();
        let wrong = list.iter().find(|one| one.code == "H020").unwrap();
        prop_assert_eq!(&text[wrong.label.clone().unwrap().0], "wether");
    }
}

#[test]
fn large_and_hostile_texts_end_soon() {
    let start = std::time::Instant::now();
    read_and_draw(&"[".repeat(900_000));
    read_and_draw(&"a:\n ".repeat(200_000));
    read_and_draw(&format!("groups: {{{}}}", "ñx: 1, ".repeat(100_000)));
    read_and_draw(&"ganado: 1\n".repeat(90_000));
    read_and_draw(&(0..60_000).map(|n| format!("wnter{n}: 1\n")).collect::<Vec<_>>().concat());
    read_and_draw(&format!("place: \"{}", "x".repeat(900_000)));
    // Unoptimized and on a busy machine; what is ruled out is time that grows with the square of the length.
    assert!(start.elapsed().as_secs() < 60, "{:?}", start.elapsed());
}
