//! What carries the difference between two cases, in words and dollars.

use super::grid::WIDTH;
use super::page::Page;
use super::text::usd;
use crate::feed::{Nutrient, Offer, Supply};
use crate::herd::Group;
use crate::limit::figure_text;
use crate::quantity::lb_from_kg;
use crate::value::driver::{Driver, Input};
use crate::winter::Case;
use serde::Serialize;
use std::fmt::Write as _;

/// One input changed alone.
#[derive(Debug, Clone, Serialize)]
pub struct Change {
    /// The input, in words.
    pub input: String,
    /// How it is in the first case.
    pub from: String,
    /// How it is in the second.
    pub to: String,
    /// What it changes alone, US dollars; absent: with it alone there is no ration.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub usd: Option<f64>,
    /// With it alone no answer could be proved.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub unproven: bool,
}

/// What carries the difference between two cases.
#[derive(Debug, Clone, Serialize)]
pub struct Difference {
    /// Name of the first case.
    pub from_case: String,
    /// Name of the second.
    pub to_case: String,
    /// `winter`, or `head_day` where head or days differ: what the dollars are for.
    pub usd_for: &'static str,
    /// First case, US dollars.
    pub from_usd: f64,
    /// Second case, US dollars.
    pub to_usd: f64,
    /// Every input that differs, the largest change first.
    pub changes: Vec<Change>,
    /// What the single changes do not add up to, US dollars; absent where one of them has no ration.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub together_usd: Option<f64>,
    /// The driver in a sentence.
    pub driver: String,
}

/// The plain data of a driver.
#[must_use]
pub fn of(first: (&str, &Case), second: (&str, &Case), driver: &Driver) -> Difference {
    let changes: Vec<Change> = driver
        .swaps
        .iter()
        .map(|swap| {
            let (input, from, to) = words(first.1, second.1, &swap.input);
            Change { input, from, to, usd: swap.usd, unproven: swap.unproven }
        })
        .collect();
    Difference {
        from_case: first.0.to_owned(),
        to_case: second.0.to_owned(),
        usd_for: if driver.per_head_day { "head_day" } else { "winter" },
        from_usd: driver.from_usd,
        to_usd: driver.to_usd,
        driver: sentence(driver, &changes),
        together_usd: driver.together_usd(),
        changes,
    }
}

/// Dollars of a difference below this are none: half a dollar a winter, a twentieth of a cent per head and day.
fn nothing(per_head_day: bool) -> f64 {
    if per_head_day { 5e-4 } else { 0.5 }
}

fn dollars(value: f64, per_head_day: bool) -> String {
    if per_head_day { format!("${:.3}", value.abs()) } else { usd(value.abs()) }
}

fn signed(value: f64, per_head_day: bool) -> String {
    if value.abs() < nothing(per_head_day) {
        return String::new();
    }
    format!("{}{}", if value < 0.0 { "−" } else { "+" }, dollars(value, per_head_day))
}

fn sentence(driver: &Driver, changes: &[Change]) -> String {
    let per = driver.per_head_day;
    let whole = driver.difference_usd();
    if changes.is_empty() {
        return "The two cases do not differ in anything that a plan counts.".to_owned();
    }
    let Some((first, alone)) = changes.first().and_then(|one| Some((one, one.usd?))) else {
        return "No single input can be changed alone: with any one of them there is no ration.".to_owned();
    };
    if alone.abs() < nothing(per) {
        return "No single input changes the cost.".to_owned();
    }
    let from_to = if first.from.is_empty() && first.to.is_empty() {
        String::new()
    } else if first.from.is_empty() {
        format!(" ({})", first.to)
    } else if first.to.is_empty() {
        format!(" ({})", first.from)
    } else {
        format!(" ({} → {})", first.from, first.to)
    };
    let way = if alone > 0.0 { "adds" } else { "takes off" };
    let mut text = format!("The driver is {}{from_to}: alone it {way} {}", first.input, dollars(alone, per));
    let share = if whole.abs() >= nothing(per) { 100.0 * alone / whole } else { f64::NAN };
    if share.is_nan() {
        text.push_str(", which other changes make up for.");
    } else if share < 0.0 {
        text.push_str(", against the difference as a whole.");
    } else if share > 101.0 {
        text.push_str(", more than the whole difference; other changes make up for part of it.");
    } else {
        let _ = write!(text, ", {share:.0} % of the difference.");
    }
    if let Some((next, usd)) = changes.get(1).and_then(|one| Some((one, one.usd?)))
        && usd.abs() >= nothing(per)
    {
        let _ = write!(text, " Next is {}: {}.", next.input, signed(usd, per));
    }
    if let Some(together) = driver.together_usd().filter(|together| together.abs() > alone.abs()) {
        let _ = write!(text, " More than to any one, {}, belongs to all of them together.", signed(together, per));
    }
    text
}

/// Most changes shown that have a ration.
const MOST: usize = 10;

/// Adds its part to a page.
pub fn add(page: &mut Page, difference: &Difference) {
    let per = difference.usd_for == "head_day";
    let whole = difference.to_usd - difference.from_usd;
    let unit = if per { "per head and day" } else { "for the winter" };
    let more = if whole.abs() < nothing(per) {
        "the same".to_owned()
    } else {
        format!("{} {}", dollars(whole, per), if whole > 0.0 { "more" } else { "less" })
    };
    let words = format!(
        "{} to {}: {} to {} {unit}, {more}",
        difference.from_case,
        difference.to_case,
        dollars(difference.from_usd, per),
        dollars(difference.to_usd, per),
    );
    page.words(" ", words);
    page.words("   ", &difference.driver);
    let told: Vec<&Change> =
        difference.changes.iter().filter(|change| change.usd.is_none_or(|usd| usd.abs() >= nothing(per))).collect();
    let (priced, none): (Vec<&Change>, Vec<&Change>) = told.iter().partition(|change| change.usd.is_some());
    let rows: Vec<Vec<String>> = priced
        .iter()
        .take(MOST)
        .chain(&none)
        .map(|change| {
            let none = if change.unproven { "not proved" } else { "no ration" };
            let alone = change.usd.map_or_else(|| none.to_owned(), |usd| signed(usd, per));
            vec![format!("  {}", change.input), change.from.clone(), change.to.clone(), alone]
        })
        .collect();
    if rows.is_empty() {
        return;
    }
    let mut rows = rows;
    if let Some(together) = difference.together_usd.filter(|_| difference.changes.len() > 1) {
        let text = if together.abs() < nothing(per) { "0".to_owned() } else { signed(together, per) };
        rows.push(vec!["  together, beyond the sum".to_owned(), String::new(), String::new(), text]);
    }
    fitted(&mut rows);
    let header = ["  changed alone", "from", "to", "cost"].map(str::to_owned);
    page.table(
        format!("What differs from {} to {}, changed alone", difference.from_case, difference.to_case),
        3,
        &header,
        &rows,
    );
    let mut more = Vec::new();
    if priced.len() > MOST {
        let count = priced.len() - MOST;
        let differ = if count == 1 { "differs and changes" } else { "differ and change" };
        more.push(format!("{count} more {differ} less (`--format json` has them)"));
    }
    let silent = difference.changes.len() - told.len();
    if silent > 0 {
        more.push(format!(
            "{silent} more {} nothing alone",
            if silent == 1 { "differs and changes" } else { "differ and change" }
        ));
    }
    if !more.is_empty() {
        page.words("   ", format!("{}.", more.join("; ")));
    }
}

/// Cuts the two middle columns so that a row fits the page.
fn fitted(rows: &mut [Vec<String>]) {
    let widest =
        |rows: &[Vec<String>], column: usize| rows.iter().map(|row| row[column].chars().count()).max().unwrap_or(0);
    // A blank before, two between columns.
    let left = WIDTH.saturating_sub(widest(rows, 0) + widest(rows, 3).max(4) + 7);
    let from = widest(rows, 1).min(left.saturating_sub(widest(rows, 2).min(left / 2)));
    for row in rows {
        for (column, most) in [(1, from), (2, left - from)] {
            if row[column].chars().count() > most {
                let cut: String = row[column].chars().take(most.saturating_sub(1)).collect();
                row[column] = format!("{}…", cut.trim_end());
            }
        }
    }
}

/// An input in words, and how it is in both cases.
fn words(a: &Case, b: &Case, input: &Input) -> (String, String, String) {
    let offer = |case: &Case, name: &String, tell: &dyn Fn(&Offer) -> String| {
        case.offers.iter().find(|offer| offer.id == *name).map(tell).unwrap_or_default()
    };
    let group = |case: &Case, name: &String, tell: &dyn Fn(&Group) -> String| {
        case.groups.iter().find(|group| group.name == *name).map(tell).unwrap_or_default()
    };
    let both = |name: &String, tell: &dyn Fn(&Offer) -> String| (offer(a, name, tell), offer(b, name, tell));
    let (title, (from, to)) = match input {
        Input::Price(name) => (format!("the price of {name}"), both(name, &price)),
        Input::Stock(name) => (format!("the supply of {name}"), both(name, &stock)),
        Input::Test(name) => (format!("what {name} tests"), both(name, &test)),
        Input::Handling(name) => (format!("the handling of {name}"), both(name, &handling)),
        Input::Added(name) => (format!("{name} offered"), (String::new(), offer(b, name, &price))),
        Input::Dropped(name) => (format!("{name} not offered"), (offer(a, name, &price), String::new())),
        Input::Head(name) => {
            let head = |group: &Group| format!("{} head", figure_text(f64::from(group.head), 0));
            (format!("the number of {name}"), (group(a, name, &head), group(b, name, &head)))
        }
        Input::Cattle(name) => {
            let kind = |group: &Group| {
                let calving = group.calving.map_or_else(String::new, |day| format!(", {day}"));
                format!("{} lb, score {}{calving}", figure_text(lb_from_kg(group.weight_kg), 0), group.condition)
            };
            (format!("what {name} are"), (group(a, name, &kind), group(b, name, &kind)))
        }
        Input::Herd => ("the groups of cattle".to_owned(), (herd(a), herd(b))),
        Input::Weather => ("the weather".to_owned(), (weather(a), weather(b))),
        Input::Winter => ("the dates of the winter".to_owned(), (dates(a), dates(b))),
        Input::Limits => ("limits, needs and settings of the file".to_owned(), (String::new(), String::new())),
    };
    (title, from, to)
}

fn price(offer: &Offer) -> String {
    let months = if offer.price_by_month.len() > 1 { ", by month" } else { "" };
    match offer.delivered_usd_per_ton() {
        Some(price) => format!("${price:.2} a ton{months}"),
        None if offer.grazing.is_some() => {
            format!("${:.2} a head-month", offer.grazing.map_or(0.0, |grazing| grazing.usd_per_head_month))
        }
        None => format!("own, worth ${:.2} a ton", offer.value_usd_per_ton),
    }
}

fn stock(offer: &Offer) -> String {
    let mut parts = Vec::new();
    if offer.on_hand.0 > 0.0 {
        parts.push(format!("{} tons on hand", figure_text(offer.on_hand.tons(), 0)));
    }
    match &offer.supply {
        Supply::Unlimited => {}
        Supply::PerWeek(tons) => parts.push(format!("{} tons a week", figure_text(*tons, 1))),
        Supply::Curve(_) => parts.push("by the gin's season".to_owned()),
    }
    if let Some(room) = offer.storage_tons {
        parts.push(format!("room for {} tons", figure_text(room, 0)));
    }
    if let Some(from) = offer.from {
        parts.push(format!("from {from}"));
    }
    if let Some(to) = offer.to {
        parts.push(format!("to {to}"));
    }
    if parts.is_empty() { "as much as is wanted".to_owned() } else { parts.join(", ") }
}

fn test(offer: &Offer) -> String {
    let figure = |nutrient: Nutrient| offer.feed.get(nutrient).map_or_else(|| "?".to_owned(), |pct| format!("{pct}"));
    format!("TDN {}, CP {} % of DM", figure(Nutrient::Tdn), figure(Nutrient::Cp))
}

fn handling(offer: &Offer) -> String {
    let lost = 100.0 * (1.0 - offer.kept_over(crate::quantity::DAYS_PER_MONTH));
    let fixed = offer.bounds_all.fixed.map_or_else(String::new, |fixed| format!("{:.2} lb, ", fixed.lb()));
    format!("{fixed}lost {lost:.0} %, wasted {:.0} %", 100.0 * offer.waste)
}

fn herd(case: &Case) -> String {
    let head: u32 = case.groups.iter().map(|group| group.head).sum();
    let groups = case.groups.len();
    format!("{head} head, {groups} {}", if groups == 1 { "group" } else { "groups" })
}

fn weather(case: &Case) -> String {
    match &case.place.region {
        Some(region) if case.place.own_months.is_empty() => region.clone(),
        Some(region) => format!("{region}, months of its own"),
        None if case.place.weather.iter().all(Option::is_none) => "none".to_owned(),
        None => "the file's".to_owned(),
    }
}

fn dates(case: &Case) -> String {
    match (case.periods.first(), case.periods.last()) {
        (Some(first), Some(last)) => format!("{} to {}", first.from, last.to),
        _ => String::new(),
    }
}
