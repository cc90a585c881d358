//! Rations people feed, judged by `check` and by an independent recomputation.

use super::kit::read;
use crate::rows::{Inputs, Ours, run};
use indexmap::indexmap;
use overwinter::check::judge;
use overwinter::limit::Block;
use overwinter::need::{NeedsOverride, needs_in_month};
use overwinter::quantity::{KgAsFed, kg_from_lb, lb_from_kg};

/// Feeds and amounts of a ration in words: `feed amount`, `feed amount dm`, `feed amount bw`.
fn parts(words: &str) -> Vec<(String, f64, String)> {
    words
        .split(" + ")
        .map(|part| {
            let mut fields = part.split(' ');
            let (feed, amount) = (fields.next().unwrap(), fields.next().unwrap());
            (feed.to_owned(), amount.parse().unwrap(), fields.next().unwrap_or("").to_owned())
        })
        .collect()
}

#[test]
fn rations_people_feed() {
    run("plan_practice.yaml", |row: &Inputs| -> Ours {
        let ration = parts(row.text("ration"));
        let feeds: Vec<String> =
            ration.iter().map(|(id, ..)| format!("  {id}: {{price_usd_per_ton: 100}}\n")).collect();
        let feeds = feeds.concat();
        let case = read(&format!(
            "winter: {{from: 2026-12-01, to: 2027-01-01}}\ngroups:\n  cows: {{kind: cow, head: 1, weight_lb: 1200, \
             peak_milk_lb: 20, calving: 2027-03-01, activity_pct: {}}}\nfeeds:\n{feeds}",
            row.number("activity_pct")
        ));
        let kg_dm: Vec<f64> = ration
            .iter()
            .zip(&case.offers)
            .map(|((_, amount, unit), offer)| match unit.as_str() {
                "" => KgAsFed::from_lb(*amount).dry(offer.feed.dm_pct()).0,
                "dm" => kg_from_lb(*amount),
                "bw" => kg_from_lb(1200.0 * amount / 100.0),
                other => panic!("unit {other}"),
            })
            .collect();
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let needs = needs_in_month(&case.groups[0], row.number("month") as u32);
        let (group, period) = (&case.groups[0], &case.periods[0]);
        let block = Block::new(group, period, period.from, needs, NeedsOverride::default(), &case.offers, 0.3);
        let demands = block.demands(&case.offers, &[]).unwrap();
        let verdict = judge(&block, &demands, &case.offers, &kg_dm);
        let value = |rule: &str| verdict.lines.iter().find(|line| line.rule.id == rule).unwrap().value;
        let days = verdict.energy.days_to_lose_a_score.unwrap_or(f64::INFINITY);
        indexmap! {
            "nem_has" => verdict.energy.supplied_nem_mcal,
            "nem_needs" => verdict.energy.needed_nem_mcal,
            "cp_has" => value("crude-protein"),
            "cp_needs" => lb_from_kg(block.needs.cp_g / 1000.0),
            "cp_pct" => value("protein-floor"),
            "seed_pct" => value("seed-of-dry-matter"),
            "fat_pct" => value("fat"),
            "fg_ppm" => value("gossypol"),
            "days_to_lose" => days,
            "days_to_gain" => -days,
        }
    });
}
