//! What is eaten of a checked ration, against arithmetic by hand from the printed points.

use super::kit::{checked, line, near, planned, read};
use overwinter::quantity::KG_PER_LB;

const COWS: &str = "winter: {from: 2026-12-01, to: 2027-01-01}\ngroups:\n  cows: {kind: cow, head: 50, weight_lb: 1200, calving: 2027-04-15}\n";

/// NEm of a feed from its TDN, Mcal per lb, by the printed cubic.
fn nem_per_lb(tdn_pct: f64) -> f64 {
    let me = 0.82 * 0.044_09 * tdn_pct;
    (1.37 * me - 0.138 * me * me + 0.0105 * me.powi(3) - 1.12) * KG_PER_LB
}

fn low_protein_text(cautions: &[overwinter::report::model::Caution]) -> Option<String> {
    cautions.iter().find(|one| one.rule == "intake-on-poor-protein").map(|one| one.text.clone())
}

/// Range of 4 % protein and nothing else: 1.2 % of 1,200 lb is 14.4 lb, whatever is written above it.
#[test]
fn at_four_percent_protein_a_cow_eats_the_printed_share_of_her_weight() {
    let check = |lb: f64| {
        let feeds = "feeds:\n  native_range_dormant: {price_usd_per_ton: 10, fed: free_choice, test: {dm_pct: 92, tdn_pct_dm: 48, cp_pct_dm: 4}}\n";
        checked(&read(&format!("{COWS}{feeds}fed: {{cows: {{native_range_dormant: {lb}}}}}\n")))
    };
    for lb in [23.5, 30.0] {
        let report = check(lb);
        let period = &report.groups[0].periods[0];
        near(period.supply.dmi_lb, 14.4, 1e-6, "dry matter eaten");
        near(period.condition.supplied_nem_mcal, 14.4 * nem_per_lb(48.0), 1e-9, "energy");
        near(line(period, "energy").value, 14.4 * nem_per_lb(48.0), 1e-9, "energy against the need");
        near(line(period, "crude-protein").value, 14.4 * 0.04, 1e-9, "protein");
        let short = period.condition.needed_nem_mcal - 14.4 * nem_per_lb(48.0);
        let days = period.condition.days_to_lose_a_score.unwrap();
        // A 1,200-lb cow holds 226 Mcal from score 5 to 4 (printed); each spares 0.8 of feed.
        near(days, 0.8 * 226.0 / short, 0.5, "days to a score");
        let text = low_protein_text(&report.cautions).unwrap();
        assert!(text.contains("14.4 lb") && text.contains("1.2 % of body weight"), "{text}");
    }
    // Half of it is written: they eat that.
    let little = check(12.0);
    near(little.groups[0].periods[0].supply.dmi_lb, 12.0 * 0.92, 1e-9, "all of what is less");
    assert_eq!(low_protein_text(&little.cautions), None);
}

/// A pound of 40 % protein beside it takes 0.3 lb of room. With r lb of range eaten, all of it dry, the diet holds
/// (0.04 r + 0.4) / (r + 1) protein, and the line gives r + 0.3 = 21.6 − (21.6 − 14.4)(7 − CP) / 3: looked for by trying
/// every ten-thousandth of a pound.
#[test]
fn supplement_brings_back_part_of_the_intake() {
    let feeds = "feeds:\n  native_range_dormant: {price_usd_per_ton: 10, fed: free_choice, test: {dm_pct: 100, tdn_pct_dm: 48, cp_pct_dm: 4, ndf_pct_dm: 70}}\n  \
                 soybean_meal_48: {price_usd_per_ton: 300, test: {dm_pct: 100, cp_pct_dm: 40}}\n";
    let report =
        checked(&read(&format!("{COWS}{feeds}fed: {{cows: {{native_range_dormant: 24, soybean_meal_48: 1}}}}\n")));
    let eaten = (0..240_000).map(|step| f64::from(step) / 10_000.0).take_while(|range| {
        let cp = 100.0 * (0.04 * range + 0.4) / (range + 1.0);
        range + 0.3 <= 21.6 - (21.6 - 14.4) * (7.0 - cp) / 3.0
    });
    let range = eaten.last().unwrap();
    assert!(range > 15.0 && range < 21.0, "more than on range alone, less than with enough protein: {range}");
    near(report.groups[0].periods[0].supply.dmi_lb, range + 1.0, 2e-4, "dry matter eaten");
    // Two pounds lift the diet to (0.96 + 0.8) / 26 = 6.8 %; three to 8 %: nothing is lost any more.
    let enough =
        checked(&read(&format!("{COWS}{feeds}fed: {{cows: {{native_range_dormant: 20, soybean_meal_48: 3}}}}\n")));
    near(enough.groups[0].periods[0].supply.dmi_lb, 23.0, 1e-9, "all of it");
    assert_eq!(low_protein_text(&enough.cautions), None);
}

/// With roughage left uneaten, seed is more of what is eaten: the limits see that share.
#[test]
fn limits_see_the_share_that_is_nearer_to_harm() {
    let feeds = "feeds:\n  native_range_dormant: {price_usd_per_ton: 10, fed: free_choice, test: {dm_pct: 100, cp_pct_dm: 2, tdn_pct_dm: 46}}\n  \
                 whole_cottonseed: {price_usd_per_ton: 200, test: {dm_pct: 100, cp_pct_dm: 20}}\n";
    let report =
        checked(&read(&format!("{COWS}{feeds}fed: {{cows: {{native_range_dormant: 24, whole_cottonseed: 3}}}}\n")));
    let period = &report.groups[0].periods[0];
    let share = line(period, "seed-of-dry-matter").value;
    near(share, 100.0 * 3.0 / period.supply.dmi_lb, 1e-9, "seed in what is eaten");
    assert!(share > 100.0 * 3.0 / 27.0 + 1.0, "{share}");
    // The roughage is before them all the same.
    near(line(period, "roughage-floor").value, 100.0 * 24.0 / 1200.0, 1e-9, "roughage offered");
}

/// A plan keeps seven percent, so nothing of it is left.
#[test]
fn a_plan_is_never_cut() {
    let feeds = "feeds:\n  native_range_dormant: {price_usd_per_ton: 10}\n  range_cube_38: {price_usd_per_ton: 425}\n  mineral_12_12: {price_usd_per_ton: 900}\n";
    let report = planned(&read(&format!("{COWS}{feeds}")));
    let period = &report.groups[0].periods[0];
    assert!(period.ration.iter().any(|line| line.at_will));
    assert!(line(period, "protein-floor").value >= 7.0 - 1e-6);
    assert_eq!(low_protein_text(&report.cautions), None);
    near(period.supply.dmi_lb, period.ration.iter().map(|line| line.lb_dm).sum(), 1e-9, "all of it is eaten");
}
