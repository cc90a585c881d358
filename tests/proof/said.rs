//! What a page says: cautions by how grave they are, ways out of a winter without a plan, the lines of the bill, and how
//! gin trash is begun. Held against plans made anew, arithmetic by hand, and the feed table.

use super::kit::{FEEDS, near, planned, read, root, words};
use super::random::winter;
use overwinter::feed::{FedHow, Gravity};
use overwinter::report::model::Report;
use overwinter::report::{html, sheet, short, text};
use overwinter::winter::causes::Cause;
use overwinter::winter::{Case, Short};
use overwinter::{Stop, plan};

const MINERAL: &str = "  mineral_12_12: {price_usd_per_ton: 900}\n";
const COWS: &str = "place: {weather: rolling_plains}\nwinter: {from: 2026-12-01, to: 2027-03-01}\ngroups:\n  cows: {kind: cow, \
                    head: 60, weight_lb: 1150, calving: 2027-03-10}\n";

fn with(base: &str, feeds: &str) -> String {
    format!("{base}feeds:\n{feeds}{MINERAL}")
}

/// Trash at will beside so many tons of hay of one's own.
fn trash_at_will(hay_tons: f64) -> String {
    with(
        COWS,
        &format!(
            "  prairie_hay: {{on_hand_tons: {hay_tons}}}\n  gin_trash_stripper: {{price_usd_per_ton: 30, fed: free_choice}}\n  \
             whole_cottonseed: {{price_usd_per_ton: 250}}\n  corn: {{price_usd_per_bushel: 5}}\n  range_cube_38: \
             {{price_usd_per_ton: 425}}\n"
        ),
    )
}

fn shortage(text: &str) -> (Case, Short) {
    let case = read(text);
    match plan(&case) {
        Err(Stop::Short(short)) => (case, *short),
        Err(other) => panic!("{}", words(&other)),
        Ok(_) => panic!("there is a plan:\n{text}"),
    }
}

fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Everything that kills and is fed stands on the sheet, the card and the page.
fn all_deadly_is_said(report: &Report) {
    let (page, sheet, card) = (flat(&text::plan_page(report)), flat(&sheet::page(report)), html::card(report));
    for one in report.cautions.iter().filter(|one| one.group.is_none() && one.gravity == Gravity::Kills) {
        let few = one.short.as_ref().unwrap_or_else(|| panic!("{one:?} has no few words"));
        assert!(page.contains(&flat(&one.text)) || page.contains(few.as_str()), "{few}\n{page}");
        assert!(sheet.contains(few.as_str()), "{few}\n{sheet}");
        assert!(card.contains(few.as_str()), "{few}");
    }
}

#[test]
fn what_kills_has_few_words_and_stands_before_all_else() {
    for feed in FEEDS.iter() {
        for caution in &feed.cautions {
            let few = caution.short.as_ref().map_or(0, |text| text.chars().count());
            assert!(few <= 90, "{}: {few}", caution.about);
            assert!(few > 0 || caution.gravity != Gravity::Kills, "{}", caution.about);
        }
    }
    let feeds = "  sorghum_sudan_hay: {price_usd_per_ton: 100}\n  gin_trash_stripper: {price_usd_per_ton: 20, min_lb: 4}\n  whole_cottonseed: \
                 {price_usd_per_ton: 250, min_lb: 1}\n  corn: {price_usd_per_bushel: 4, min_lb: 1}\n";
    let report = planned(&read(&with(COWS, feeds)));
    all_deadly_is_said(&report);
    for feed in ["sorghum_sudan_hay", "gin_trash_stripper", "whole_cottonseed", "corn"] {
        let grades: Vec<Gravity> =
            report.cautions.iter().filter(|one| one.rule == feed).map(|one| one.gravity).collect();
        assert!(grades.is_sorted() && grades[0] == Gravity::Kills, "{feed}: {grades:?}");
    }
    let page = flat(&text::plan_page(&report));
    for said in
        ["test it for nitrate", "prussic acid", "open water", "start slowly", "Raise grain slowly", "poor in calcium"]
    {
        assert!(page.contains(said), "{said}\n{page}");
    }
}

#[test]
fn what_is_said_of_seed_hangs_on_who_is_in_the_herd() {
    let feeds = "  bermuda_hay_good: {price_usd_per_ton: 100}\n  whole_cottonseed: {price_usd_per_ton: 150, min_lb: 1}\n  range_cube_38: \
                 {price_usd_per_ton: 425}\n";
    let says = |base: &str| {
        let report = planned(&read(&with(base, feeds)));
        (
            flat(&text::plan_page(&report)).contains("calves under four months"),
            flat(&sheet::page(&report)).contains("calves under four months"),
        )
    };
    // They calve nine days after the winter ends: no calf is there.
    assert_eq!(says(COWS), (false, false));
    assert_eq!(says(&COWS.replace("2027-03-10", "2027-02-10")), (true, true));
    assert_eq!(says(&COWS.replace("2027-03-10", "2026-09-10")), (true, true));
    // Without a date they may have calves any day.
    assert_eq!(says(&COWS.replace(", calving: 2027-03-10", "")), (true, true));
}

#[test]
fn the_deadly_stands_on_every_page_of_the_examples() {
    for name in ["dry-fork/herd", "first-file/herd", "high-plains/herd", "two-gins/herd", "ranches/salt-fork"] {
        let text = std::fs::read_to_string(root().join(format!("examples/{name}.yaml"))).unwrap();
        all_deadly_is_said(&planned(&read(&text)));
    }
}

/// Written into the file as the page says it, each way out leads to a plan at the cost told.
#[test]
fn wider_ways_out_lead_out_at_the_cost_told() {
    let text = trash_at_will(20.0);
    let (case, short) = shortage(&text);
    let page = flat(&short::page(&case, &short));
    let costs = |case: &Case| plan(case).ok().map(|report| report.winter.least_cost_usd.unwrap());
    let by_hand = short.by_hand.first().unwrap();
    let mut out = case.clone();
    assert_eq!(out.offers[by_hand.offer].fed, FedHow::FreeChoice);
    out.offers[by_hand.offer].fed = FedHow::ByHand;
    near(costs(&out).unwrap(), by_hand.cost_usd, 1e-6, &page);
    let lift = short.lifts.iter().find(|one| one.rule == "gin-trash").unwrap_or_else(|| panic!("{page}"));
    let at = |figure: f64| costs(&read(&format!("{text}limits: {{gin-trash: {{max: {figure}, because: tried}}}}\n")));
    near(at(lift.reached).unwrap(), lift.cost_usd, 1e-6, &page);
    assert!(at(lift.reached - 0.02).is_none(), "less would do\n{page}");
    let (figure, usd) = lift.cheapest.unwrap();
    near(at(figure).unwrap(), usd, 1e-6, &page);
    // Beyond it nothing is saved.
    near(at(figure + 0.1).unwrap(), usd, 1e-6, &page);
    assert!(page.contains("fed: by_hand") && page.contains("`gin-trash`") && !page.contains("or sell head"), "{page}");
}

#[test]
fn nobody_is_told_to_make_cows_eat_more() {
    let feeds = "  prairie_hay: {price_usd_per_ton: 100}\n  whole_cottonseed: {price_usd_per_ton: 200}\n  cottonseed_hulls: {price_usd_per_ton: \
                 200, min_lb: 6}\n";
    let (case, short) = shortage(&with(&COWS.replace("2027-03-10", "2027-03-20"), feeds));
    let page = flat(&short::page(&case, &short));
    assert!(!page.contains("dry matter they will eat") && page.contains("One change that alone"), "{page}");
    let rules = short.ways_out.iter().map(|one| one.rule).chain(short.lifts.iter().map(|one| one.rule));
    assert!(rules.into_iter().all(|rule| !["intake", "forage-ndf", "intake-at-will"].contains(&rule)), "{page}");
}

#[test]
fn what_stands_behind_a_shortage_is_told() {
    let bulls = "place: {weather: rolling_plains}\nwinter: {from: 2026-12-01, to: 2027-03-01}\ngroups:\n  bulls: {kind: young_bull, head: 6, \
                 weight_lb: 900, mature_weight_lb: 1900, gain_lb_per_day: GAIN, turnout: 2027-04-01}\n";
    let feeds = "  bermuda_hay_good: {price_usd_per_ton: 100}\n  whole_cottonseed: {price_usd_per_ton: 200TEST}\n  limestone: {price_usd_per_ton: 180}\n";
    let file = |gain: &str, test: &str| with(&bulls.replace("GAIN", gain), &feeds.replace("TEST", test));
    let (case, short) = shortage(&file("2.6", ""));
    let page = flat(&short::page(&case, &short));
    let barred = short.causes.iter().find_map(|cause| match cause {
        Cause::Barred { test_frees, then_a_plan, .. } => Some((*test_frees, *then_a_plan)),
        _ => None,
    });
    let then = plan(&read(&file("2.6", ", test: {free_gossypol_pct_dm: 0.63}"))).is_ok();
    assert_eq!(barred, Some((true, then)), "{page}");
    assert!(page.contains("whole_cottonseed may not be given") && page.contains("free_gossypol_pct_dm"), "{page}");
    // 3,000 ppm of sulfate in 45 liters is 135 g of sulfate, a third of it sulfur: 45 g.
    let wet = COWS.replace("calving: 2027-03-10", "calving: 2027-03-10, water_sulfate_ppm: 3000");
    let feeds = "  gin_trash_picker: {price_usd_per_ton: 20, min_lb: 12}\n  prairie_hay: {price_usd_per_ton: 100}\n";
    let (case, short) = shortage(&with(&wet, feeds));
    let page = flat(&short::page(&case, &short));
    assert!(page.contains("the water alone brings 45 g of sulfur"), "{page}");
    let cold = COWS.replace(
        "place: {weather: rolling_plains}",
        "place: {weather: {months: {dec: {mean_f: -10, wind_mph: 25}, jan: {mean_f: -20, wind_mph: 30}, feb: {mean_f: 0, wind_mph: 20}}}, \
         cold_spell: record}",
    );
    let (case, short) = shortage(&with(&cold, "  prairie_hay: {price_usd_per_ton: 100}\n"));
    let page = flat(&short::page(&case, &short));
    assert!(
        page.contains("cold takes") && page.contains("40 % of maintenance") && page.contains("cold spell"),
        "{page}"
    );
    let needs = &overwinter::winter::assemble(&case).unwrap()[0][1].block.needs;
    let told = short.causes.iter().find_map(|cause| match cause {
        Cause::Cold { period, counted_nem_mcal, .. } => Some((*period, *counted_nem_mcal)),
        _ => None,
    });
    assert_eq!(told, Some((1, needs.energy.cold_nem_mcal)), "January is coldest\n{page}");
    // Warm cattle short of feed are not told of cold.
    let (_, short) =
        shortage(&with(&COWS.replace("rolling_plains", "southeast"), "  wheat_straw: {price_usd_per_ton: 100}\n"));
    assert!(short.causes.is_empty(), "{:?}", short.causes);
}

#[test]
fn a_score_nobody_asked_for_is_told_with_its_way_out() {
    let text = trash_at_will(30.0);
    let report = planned(&read(&text));
    let by_hand = planned(&read(&text.replace(", fed: free_choice", "")));
    let line = report.by_hand.first().unwrap();
    near(line.winter_usd, by_hand.winter.least_cost_usd.unwrap(), 1e-5, &line.feed);
    let page = flat(&text::plan_page(&report));
    assert!(page.contains("of a score beyond what was asked, because gin_trash_stripper is eaten at will"), "{page}");
    let gained = report.groups[0].periods.last().unwrap().condition.score_to - 5.0;
    assert!(page.contains(&format!("they gain {gained:.1} of a score")), "{gained}\n{page}");
    assert!(by_hand.by_hand.is_empty());
}

/// A rule that hangs on straw being there can make the winter without it the cheaper one: said, not hidden.
#[test]
fn a_winter_without_a_feed_may_cost_less() {
    let base = "place: {weather: rolling_plains}\nwinter: {from: 2026-12-01, to: 2027-01-01}\ngroups:\n  cows: {kind: cow, head: 50, \
                weight_lb: 1200, calving: 2027-05-15}\n";
    let feeds = "  gin_trash_stripper: {price_usd_per_ton: 20}\n  distillers_grains: {price_usd_per_ton: 240}\n";
    let straw = "  wheat_straw: {price_usd_per_ton: 60}\n";
    let report = planned(&read(&with(base, &format!("{feeds}{straw}"))));
    let without = planned(&read(&with(base, feeds)));
    let worth = report.worth.iter().find(|one| one.feed == "wheat_straw").unwrap();
    near(worth.winter_without_usd.unwrap(), without.winter.least_cost_usd.unwrap(), 1e-6, "without");
    assert!(worth.winter_without_usd.unwrap() < report.winter.least_cost_usd.unwrap() - 100.0);
    assert!(worth.winter_without_because.unwrap().contains("only roughage"));
    let page = flat(&text::plan_page(&report));
    let less = (report.winter.cost_usd - without.winter.least_cost_usd.unwrap()).round();
    assert!(page.contains(&format!("(${less} less, see below)")), "{less}\n{page}");
    assert!(page.contains("wheat_straw: the winter costs less where it is not even offered"), "{page}");
}

/// Purchases, grazing, labor and what own feed would have sold for are the bill.
fn adds_up(case: &Case, report: &Report, what: &str) {
    let bought: f64 = report.purchases.iter().map(|one| one.usd).sum();
    // Reckoned here from the file: by the head and month while it can be had.
    let grazing: f64 = report.grazing.iter().map(|one| one.usd).sum();
    let by_hand: f64 = case
        .offers
        .iter()
        .map(|offer| {
            let month = offer.grazing.map_or(0.0, |grazing| grazing.usd_per_head_month);
            let paid = report.groups.iter().zip(&case.groups).map(|(told, group)| {
                let here = told.periods.iter().zip(&case.periods).filter(|(_, period)| {
                    offer.fed_between(period.from, period.to, offer.fed_for(&group.name))
                        && offer.bounds_for(&group.name).max.is_none_or(|most| most.0 > 0.0)
                });
                f64::from(group.head) * here.map(|(_, period)| f64::from(period.days())).sum::<f64>()
            });
            month / 30.4 * paid.sum::<f64>()
        })
        .sum();
    near(grazing, by_hand, 1e-6, what);
    let owned: f64 = case
        .offers
        .iter()
        .map(|offer| {
            let left = report.stocks.iter().rfind(|stock| stock.feed == offer.id).map_or(0.0, |stock| stock.left_tons);
            offer.own_value_usd_per_ton() * offer.on_hand.tons() - offer.end_value_usd_per_ton() * left
        })
        .sum();
    near(report.winter.owned_value_usd, owned, 1e-5, what);
    near(bought + grazing + owned + report.winter.labor_usd, report.winter.cost_usd, 1e-6, what);
    let groups: f64 = report.groups.iter().map(|group| group.cost_usd).sum();
    // What spoils of feed that nobody is fed is no group's.
    let never_fed: f64 = case
        .offers
        .iter()
        .map(|offer| {
            let flows = || report.stocks.iter().filter(|stock| stock.feed == offer.id);
            if flows().next().is_none() || flows().any(|stock| stock.fed_tons > 1e-9) {
                return 0.0;
            }
            let left = flows().next_back().map_or(0.0, |stock| stock.left_tons);
            offer.own_value_usd_per_ton() * offer.on_hand.tons() - offer.end_value_usd_per_ton() * left
        })
        .sum();
    near(report.winter.never_fed_usd, never_fed, 1e-5, what);
    near(groups + never_fed + report.winter.labor_usd, report.winter.cost_usd, 1e-5, what);
    let rations: f64 = report
        .groups
        .iter()
        .flat_map(|group| group.periods.iter().map(move |period| (group, period)))
        .map(|(group, period)| {
            let a_head: f64 = period.ration.iter().map(|line| line.usd_per_head_day).sum();
            a_head * f64::from(group.head) * f64::from(period.days)
        })
        .sum();
    near(rations, groups, 1e-6, what);
}

#[test]
fn the_lines_of_the_bill_add_up_to_it() {
    let mut told = 0;
    for name in [
        "dry-fork/herd",
        "first-file/herd",
        "high-plains/herd",
        "two-gins/herd",
        "ranches/salt-fork",
        "ranches/lone-mott",
    ] {
        let case = read(&std::fs::read_to_string(root().join(format!("examples/{name}.yaml"))).unwrap());
        let report = planned(&case);
        adds_up(&case, &report, name);
        let page = flat(&text::plan_page(&report));
        assert_eq!(page.contains("of it grazing"), report.winter.grazing_usd > 0.0, "{page}");
        told += usize::from(report.winter.grazing_usd > 0.0);
    }
    assert!(told > 0, "no example grazes for money");
    let mut plans = 0;
    for seed in 0..25 {
        let case = read(&winter(seed));
        match plan(&case) {
            Ok(report) => {
                adds_up(&case, &report, &format!("seed {seed}"));
                plans += 1;
            }
            Err(Stop::Short(_)) => {}
            Err(other) => panic!("seed {seed}: {other:?}"),
        }
    }
    assert!(plans >= 10, "only {plans} of the drawn winters have a plan");
}

/// By hand: 14 days at half of 1 % of body weight and 17 at 1 % are a mean of 0.774 %.
#[test]
fn gin_trash_is_begun_at_half_from_the_day_it_comes() {
    let feeds = |from: &str| {
        format!(
            "  prairie_hay: {{price_usd_per_ton: 160}}\n  gin_trash_stripper: {{price_usd_per_ton: 10{from}}}\n  range_cube_38: \
             {{price_usd_per_ton: 300}}\n"
        )
    };
    let of = |from: &str, label: &str| {
        let report = planned(&read(&with(COWS, &feeds(from))));
        let period = report.groups[0].periods.iter().find(|period| period.label == label).unwrap().clone();
        (period, report)
    };
    let limit = |from: &str, label: &str| {
        let (period, _) = of(from, label);
        period.limits.iter().find(|line| line.rule == "gin-trash").unwrap().limit
    };
    near(limit("", "2026-12"), (14.0 * 0.5 + 17.0) / 31.0, 1e-9, "from the first day");
    near(limit("", "2027-01"), 1.0, 1e-9, "learnt");
    // It comes with January: December says nothing of it, January learns.
    near(limit(", from: 2027-01-01", "2027-01"), (14.0 * 0.5 + 17.0) / 31.0, 1e-9, "from January");
    near(limit(", from: 2027-01-01", "2027-02"), 1.0, 1e-9, "February");
    near(limit(", fed_from: 2027-02-01", "2027-02"), (14.0 * 0.5 + 14.0) / 28.0, 1e-9, "fed from February");
    let (period, report) = of("", "2026-12");
    let mean = period.ration.iter().find(|line| line.feed == "gin_trash_stripper").unwrap().lb_as_fed;
    let [begun] = period.learning.as_slice() else { panic!("{:?}", period.learning) };
    assert_eq!(begun.last, "2026-12-14");
    near(14.0 * begun.first_lb_as_fed + 17.0 * begun.after_lb_as_fed, 31.0 * mean, 1e-9, "the mean");
    near(begun.after_lb_as_fed, 2.0 * begun.first_lb_as_fed, 1e-6, "half");
    for page in [text::plan_page(&report), sheet::page(&report)] {
        assert!(flat(&page).contains("to 2026-12-14"), "{page}");
    }
    assert!(html::card(&report).contains("to 2026-12-14"));
    // Where the file sets the limit it is the file's.
    let own = format!("{}limits: {{gin-trash: {{max: 1.2, because: tested}}}}\n", with(COWS, &feeds("")));
    assert!(planned(&read(&own)).groups[0].periods[0].learning.is_empty());
}
