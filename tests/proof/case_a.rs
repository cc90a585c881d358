//! A dry cow on five feeds with limits, solved elsewhere in exact arithmetic: cost, amounts, prices, price ranges and
//! steps, through a herd file.
//!
//! Rules of ours that the case does not have are lifted in the file with `because:`; gossypol, added fat, share of
//! seed, fiber, gin trash, distillers, limestone, both calcium ratios and the appetite floor are such. Rules that no
//! file may lift (roughage floor, seed by weight, total fat, sulfur, 7 % protein) stand and do not bind at the weights
//! used.

use super::kit::{herd, lb, line, line_of, planned, price};
use crate::rows::{Inputs, Ours, run};
use indexmap::indexmap;
use overwinter::quantity::kg_from_lb;
use overwinter::report::model::Report;

/// Three cents from the end of a step is inside it.
const INSIDE_USD: f64 = 0.03;

fn at(feed: &str, usd_per_ton: f64, weight_lb: f64) -> Report {
    let mut case = herd("case-a.yaml");
    price(&mut case, feed, usd_per_ton);
    case.groups[0].weight_kg = kg_from_lb(weight_lb);
    planned(&case)
}

#[test]
fn the_case_comes_out_to_the_last_printed_digit() {
    run("plan_case_a.yaml", |row: &Inputs| -> Ours {
        let mut case = herd("case-a.yaml");
        let asked = case.needs_override.get_mut("cows").unwrap();
        asked.dmi_max_kg = Some(kg_from_lb(row.number("dmi_max_lb")));
        asked.tdn_kg = Some(kg_from_lb(row.number("tdn_lb")));
        let report = planned(&case);
        let period = &report.groups[0].periods[0];
        let most = |feed: &str| line_of(period, "your-max", feed).usd_per_unit.unwrap();
        let seed = report.worth.iter().find(|worth| worth.feed == "cottonseed").unwrap();
        assert_eq!(report.unique, Some(true));
        let mut ours = indexmap! {
            "usd_per_day" => report.winter.cost_usd_per_head_day,
            "hay_lb" => lb(period, "hay"),
            "gin_trash_lb" => lb(period, "gin_trash"),
            "distillers_lb" => lb(period, "distillers"),
            "soyhulls_lb" => lb(period, "soyhulls"),
            "cottonseed_lb" => lb(period, "cottonseed"),
            "tdn_usd_per_lb" => line(period, "tdn").usd_per_unit.unwrap(),
            "intake_usd_per_lb" => line(period, "intake").usd_per_unit.unwrap(),
            "gin_trash_limit_usd_per_lb" => most("gin_trash"),
            "distillers_limit_usd_per_lb" => most("distillers"),
            "soyhulls_limit_usd_per_lb" => most("soyhulls"),
        };
        if row.has("cottonseed_comes_in_usd_per_ton") {
            ours.insert("cottonseed_comes_in_usd_per_ton", seed.break_even_usd_per_ton.unwrap());
        }
        ours
    });
}

#[test]
fn the_steps_come_out() {
    run("plan_case_a_steps.yaml", |row: &Inputs| -> Ours {
        let feed = row.text("feed");
        let pounds = |usd: f64| {
            let report = at(feed, usd, row.number("weight_lb"));
            let period = &report.groups[0].periods[0];
            // No rule of ours stands in for one of the case's.
            for line in period.limits.iter().filter(|line| line.binding) {
                assert!(
                    [
                        "tdn",
                        "crude-protein",
                        "calcium",
                        "phosphorus",
                        "intake",
                        "your-max",
                        "fat",
                        "calcium-to-phosphorus-least"
                    ]
                    .contains(&line.rule),
                    "{feed} at {usd}: {} binds",
                    line.rule
                );
            }
            lb(period, feed)
        };
        let (low, high) = (pounds(row.number("from_usd") + INSIDE_USD), pounds(row.number("to_usd") - INSIDE_USD));
        indexmap! { "lb_at_from" => low, "lb_at_to" => high, "lb4_at_from" => low, "lb4_at_to" => high }
    });
}

/// The printed range of the hay price in which the ration stays: 128.41 to 136.68.
#[test]
fn the_ration_stays_within_the_printed_range_of_the_hay_price_and_not_outside() {
    let whole = |usd: f64| {
        let report = at("hay", usd, 900.0);
        ["hay", "gin_trash", "cottonseed", "meal", "distillers", "soyhulls", "stone"]
            .map(|feed| lb(&report.groups[0].periods[0], feed))
    };
    let same = |usd: f64| whole(134.0).iter().zip(whole(usd)).all(|(a, b)| (a - b).abs() < 1e-6);
    assert!(same(128.41 + 0.01) && same(136.68 - 0.01));
    assert!(!same(128.41 - 0.01) && !same(136.68 + 0.01));
}
