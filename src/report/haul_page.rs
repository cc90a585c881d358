//! When to haul what, and what stores, loads and feedings cost, as parts of a page.

use super::haul::{BindingStore, LoadsLine, Stores};
use super::model::Report;
use super::page::Page;
use super::text::usd;
use crate::limit::figure_text;
use std::fmt::Write as _;

fn tons(value: f64) -> String {
    if value < 0.05 {
        return format!("{} lb", figure_text(value * crate::quantity::LB_PER_TON, 0));
    }
    figure_text(value, if value < 1.0 { 2 } else { 1 })
}

/// Adds the list of hauls and the worth of stores to a page.
pub fn add(page: &mut Page, report: &Report) {
    let stores = &report.stores;
    if !stores.hauling.is_empty() {
        page.section("hauling", "To do", ", by date: buy and haul");
        let rows: Vec<Vec<String>> = stores
            .hauling
            .iter()
            .map(|haul| {
                vec![
                    haul.date.clone(),
                    haul.feed.clone(),
                    haul.loads.map_or(String::new(), |loads| loads.to_string()),
                    tons(haul.tons),
                    usd(haul.usd),
                    haul.lasts_days.map_or(String::new(), |days| figure_text(days, 0)),
                ]
            })
            .collect();
        let header = ["", "", "loads", "tons", "$", "lasts, days"].map(str::to_owned);
        page.table("What to buy and haul, by date", 2, &header, &rows);
        if let Some(loads) = &stores.whole_loads {
            page.words("", loads_words(loads));
        }
        if stores.part_loads_more_usd >= 1.0 {
            page.words(
                "",
                format!(
                    "Freight is counted by the ton of a full load. Paid by the load as listed, part loads cost about {} more than the \
                     bill; `whole_loads: true` plans full loads only, and sharing a truck saves the rest.",
                    usd(stores.part_loads_more_usd)
                ),
            );
        }
    }
    let words: Vec<String> = stores.binding_store.iter().filter_map(binding_words).collect();
    if !words.is_empty() {
        page.section("stores", "What binds the stores", "");
        for line in words {
            page.item(line);
        }
    }
    for feed in &stores.leftover_worth_nothing {
        page.words(
            "  ",
            format!("What is left of {feed} at the end counts for nothing; `leftover_usd_per_ton` gives it a worth."),
        );
    }
    reserve_words(page, report);
    feeding_words(page, stores);
    if stores.steadiness.len() > 1 {
        page.section(
            "steadiness",
            "Steadiness",
            ": lb of dry matter that change hands between periods, and what that costs",
        );
        let rows: Vec<Vec<String>> = stores
            .steadiness
            .iter()
            .map(|line| {
                vec![format!("  --steady {}", line.steady_pct), figure_text(line.changes_lb, 0), usd(line.more_usd)]
            })
            .collect();
        let header = ["", "lb", "more than the least cost"].map(str::to_owned);
        page.table("What steadier rations cost", 1, &header, &rows);
    }
    if stores.big_winter {
        page.words("", "This is a big winter: what it would cost without each feed, a week's earlier supply and the table of steadiness are left out.");
    }
}

fn loads_words(loads: &LoadsLine) -> String {
    if !loads.found {
        return "No plan in whole loads was found; this one hauls part loads.".to_owned();
    }
    let mut line = format!(
        "Whole loads cost {} more than part loads would: other whole loads can save no more than that, which is proved, and by the \
         search's own bound no more than {:.2} % of the cost.",
        usd(loads.more_than_part_loads_usd.max(0.0)),
        loads.within_pct
    );
    if loads.out_of_time {
        line.push_str(" The search for better loads ran out of time; another run may find others.");
    }
    line
}

fn binding_words(line: &BindingStore) -> Option<String> {
    let mut parts = Vec::new();
    if let Some(ton) = line.one_more_ton_usd.filter(|ton| *ton > 0.5) {
        parts.push(format!("another ton on hand is worth {}", usd(ton)));
    }
    if line.room_usd_per_ton > 0.05 {
        parts.push(format!("room for another ton would save {}", usd(line.room_usd_per_ton)));
    }
    if let Some(period) = line.supply_period.as_ref().filter(|_| line.supply_usd_per_ton > 0.05) {
        parts.push(format!("another ton offered in {period} would save {}", usd(line.supply_usd_per_ton)));
    }
    if let Some(week) = line.week_earlier_usd.filter(|week| *week > 0.5) {
        parts.push(format!("all of it a week earlier would save {}", usd(week)));
    }
    if parts.is_empty() {
        return None;
    }
    let total: f64 = line.eaten_tons_dm.iter().map(|(_, tons)| tons).sum();
    let mut text = format!("{}: {}.", line.feed, parts.join("; "));
    if line.one_more_ton_usd.is_some() && total > 0.0 {
        let shares: Vec<String> = line
            .eaten_tons_dm
            .iter()
            .map(|(group, tons)| format!("{group} {} %", figure_text(100.0 * tons / total, 0)))
            .collect();
        let _ = write!(text, " It goes to {}.", shares.join(", "));
    }
    Some(text)
}

fn reserve_words(page: &mut Page, report: &Report) {
    if report.stores.reserve.is_empty() {
        return;
    }
    page.section("reserve", "Reserve", " for the cold spell, on top of the plan");
    for line in &report.stores.reserve {
        let when = |day: &Option<String>| day.clone().unwrap_or_else(|| "it lasts past turn-out".to_owned());
        page.item(format!(
            "{}: keep {} tons ({}). Used up by the plan: {}; down to the reserve: {}.",
            line.feed,
            tons(line.tons),
            usd(line.usd),
            when(&line.runs_out),
            when(&line.down_to_reserve)
        ));
    }
}

fn feeding_words(page: &mut Page, stores: &Stores) {
    if stores.feedings.is_empty() {
        return;
    }
    page.section("feedings", "Feedings", ", labor in the bill");
    for line in &stores.feedings {
        let mut text = format!("{}: {} feedings, {}.", line.feed, figure_text(line.feedings, 0), usd(line.labor_usd));
        if line.every_days > 1.0 {
            let _ = write!(text, " Daily it would be {}.", usd(line.labor_daily_usd));
        } else if line.may_skip {
            let thrice = line.labor_daily_usd * 3.0 / 7.0;
            let _ = write!(
                text,
                " Every second day it would be {}, thrice a week {}.",
                usd(line.labor_daily_usd / 2.0),
                usd(thrice)
            );
        }
        page.item(text);
    }
}
