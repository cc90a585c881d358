//! The plan and the check as a page for the terminal: the bill, rations, what to buy, what decides, what to watch, how
//! sure.

pub(super) mod feed;
mod money;
pub(super) mod watch;

use super::model::Report;
use super::page::{Block, Page, Table};
use crate::limit::{Force, Sense, figure_text};
use feed::{purchases, rations, stocks};
pub(super) use feed::{short_label, short_name};
use money::{decides, worth};
use std::fmt::Write as _;
use watch::{condition, sure, watch};

/// A part of the bill below this is not told, US dollars: less than a cent.
const LEAST_TOLD_USD: f64 = 0.005;

/// A difference between the herd and its groups below this is not told, US dollars: the page has whole ones.
const LEAST_SHOWN_USD: f64 = 0.5;

/// The page of a plan.
#[must_use]
pub fn plan_page(report: &Report) -> String {
    plan_sections(report).text()
}

/// The page of a check.
#[must_use]
pub fn check_page(report: &Report) -> String {
    check_sections(report).text()
}

/// The page of a plan as data.
#[must_use]
pub fn plan_sections(report: &Report) -> Page {
    let mut page = Page::new(place(report), heading(report));
    bill(&mut page, report);
    rations(&mut page, report);
    purchases(&mut page, report);
    stocks(&mut page, report);
    super::sheet::rounding(&mut page, report);
    super::haul_page::add(&mut page, report);
    decides(&mut page, report);
    worth(&mut page, report);
    condition(&mut page, report);
    if let Some(spell) = &report.cold_spell {
        super::spell::add(&mut page, spell);
    }
    watch(&mut page, report);
    sure(&mut page, report);
    page
}

/// The page of a check as data.
#[must_use]
pub fn check_sections(report: &Report) -> Page {
    let mut page = Page::new(place(report), heading(report));
    verdict(&mut page, report);
    rations(&mut page, report);
    kept_and_broken(&mut page, report);
    condition(&mut page, report);
    watch(&mut page, report);
    page.section("counted", "", "");
    page.words("", format!("Counted: {}.", report.weather));
    page
}

/// US dollars with a sign and commas: two decimals under 100, none above.
#[must_use]
pub fn usd(value: f64) -> String {
    let digits = if value.abs() < 100.0 { 2 } else { 0 };
    let text = figure_text(value.abs(), digits);
    format!("{}${text}", if value < 0.0 && text.chars().any(|c| matches!(c, '1'..='9')) { "−" } else { "" })
}

/// The place, or a word for it.
#[must_use]
pub fn place(report: &Report) -> &str {
    if report.place.is_empty() { "Winter" } else { &report.place }
}

fn heading(report: &Report) -> String {
    let winter = &report.winter;
    format!(
        ": {} head, {} to {} ({} {})",
        count(winter.head),
        winter.from,
        winter.to,
        winter.days,
        if winter.days == 1 { "day" } else { "days" }
    )
}

fn bill(page: &mut Page, report: &Report) {
    let winter = &report.winter;
    page.section("bill", "The bill", "");
    let mut rows = vec![vec![
        "whole herd".to_owned(),
        figure_text(f64::from(winter.head), 0),
        usd(winter.cost_usd),
        usd(winter.cost_usd_per_head_day),
    ]];
    for group in &report.groups {
        rows.push(vec![
            format!("{} ({})", group.name, group.kind),
            figure_text(f64::from(group.head), 0),
            usd(group.cost_usd),
            usd(group.cost_usd_per_head_day),
        ]);
    }
    if winter.never_fed_usd.abs() > LEAST_SHOWN_USD {
        rows.push(vec!["lost of feed never fed".to_owned(), String::new(), usd(winter.never_fed_usd), String::new()]);
    }
    bill_parts(&mut rows, report);
    page.table("What the winter costs", 1, &strings(&["", "head", "for the winter", "per head and day"]), &rows);
    page.words("", format!("Every need is met and every limit kept. {}", least_words(report)));
}

/// What the bill is made of beside purchases; with them these add up to it.
fn bill_parts(rows: &mut Vec<Vec<String>>, report: &Report) {
    let winter = &report.winter;
    let bought: f64 = report.purchases.iter().map(|purchase| purchase.usd).sum();
    let parts = [
        ("grazing", winter.grazing_usd),
        ("own feed, at its value", winter.owned_value_usd),
        ("labor of feeding", winter.labor_usd),
    ];
    // Where everything is bought the buying list says it all.
    if parts.iter().all(|(_, part)| part.abs() < LEAST_TOLD_USD) {
        return;
    }
    let shown = [("feed bought", bought)].into_iter().chain(parts).filter(|(_, part)| part.abs() >= LEAST_TOLD_USD);
    rows.extend(shown.map(|(name, part)| vec![format!("of it {name}"), String::new(), usd(part), String::new()]));
}

/// How the bill stands to the least possible, and what the difference buys.
fn least_words(report: &Report) -> String {
    let winter = &report.winter;
    let least = winter.least_cost_usd.unwrap_or(winter.cost_usd);
    let mut text = "No winter at these prices, needs and limits costs less than ".to_owned();
    match &report.stores.whole_loads {
        // What is proved is the cost of part loads; whole loads are searched.
        Some(loads) if loads.found => {
            let part = usd(least - loads.more_than_part_loads_usd);
            let _ = write!(
                text,
                "{part}, and that is in part loads; the cheapest found in whole loads costs {}.",
                usd(least)
            );
        }
        _ => {
            let _ = write!(text, "{}.", usd(least));
        }
    }
    let rounding = report.rounding_usd.unwrap_or(0.0);
    let steadiness = winter.cost_usd - rounding - least;
    if let (Some(now), Some(before)) = (winter.changes_lb, winter.changes_at_least_cost_lb)
        && report.rounding_usd.is_none()
        && (steadiness > 0.5 || before > now + 0.05)
    {
        let _ = write!(
            text,
            " This one costs {} more and is steadier: {now:.0} lb of dry matter change hands between periods instead of {before:.0} lb.",
            usd(steadiness.max(0.0))
        );
    }
    if report.rounding_usd.is_some() {
        let _ = write!(
            text,
            " This one is rounded to what is weighed, for {} more, and kept steadier, for {} more.",
            usd(rounding),
            usd(steadiness.max(0.0))
        );
    }
    text
}

fn verdict(page: &mut Page, report: &Report) {
    page.section("verdict", "The verdict", "");
    let words = match report.status {
        "unfit" => "UNFIT: a limit that may never be broken is broken. Do not feed this.",
        "short" => "SHORT: a need is not met; see by how much and what it does to the cattle.",
        "outside" => "TAKE CARE: every need is met, but the ration lies outside a limit that plans keep.",
        _ => "FIT: every need is met and every limit kept.",
    };
    page.words("", words);
    let winter = &report.winter;
    let mut line = format!(
        "As fed now: {} for the winter, {} per head and day.",
        usd(winter.cost_usd),
        usd(winter.cost_usd_per_head_day)
    );
    if let Some(best) = report.best_plan_usd {
        let saved = winter.cost_usd - best;
        let _ = if saved >= 0.0 {
            write!(line, " The best plan for the same cattle and days costs {}: {} less.", usd(best), usd(saved))
        } else {
            write!(line, " A plan that meets every need costs {}: {} more.", usd(best), usd(-saved))
        };
    }
    page.words("", line);
}

fn kept_and_broken(page: &mut Page, report: &Report) {
    for force in [Force::Never, Force::Need, Force::Keep] {
        let mut rows = Vec::new();
        for group in &report.groups {
            for period in &group.periods {
                for line in period.limits.iter().filter(|line| !line.kept && line.force == force) {
                    let (has, asked) = apart(line.value, line.limit, line.digits);
                    rows.push(vec![
                        format!("  {}", group.name),
                        short_label(period),
                        line.feed
                            .as_ref()
                            .map_or_else(|| line.title.to_owned(), |feed| format!("{}: {feed}", line.title)),
                        has,
                        format!("{} {asked}", side(line.sense)),
                        line.unit.to_owned(),
                    ]);
                }
            }
        }
        if rows.is_empty() {
            continue;
        }
        let (id, title) = match force {
            Force::Never => ("broken", "Never to be broken, and broken"),
            Force::Need => ("short", "Needs not met"),
            Force::Keep => ("outside", "Outside what a plan keeps"),
        };
        page.section(id, title, "");
        page.table(title, 3, &strings(&["", "when", "what", "has", "needs", "unit"]), &rows);
    }
    page.section("needs", "Needs", ", has of what is needed, per head and day");
    page.push(Block::Table(needs_table(report)));
}

/// What the rations have of what is needed.
pub(in crate::report) fn needs_table(report: &Report) -> Table {
    let mut rows = Vec::new();
    for group in &report.groups {
        for period in &group.periods {
            let (has, need) = (&period.supply, &period.need);
            let of = |has: f64, need: f64, digits: usize| {
                format!("{} / {}", figure_text(has, digits), figure_text(need, digits))
            };
            rows.push(vec![
                format!("  {}", group.name),
                short_label(period),
                of(has.nem_mcal, need.nem_mcal, 1),
                of(has.cp_lb, need.cp_lb, 2),
                of(has.mp_g, need.mp_g, 0),
                of(has.ca_g, need.ca_g, 0),
                of(has.p_g, need.p_g, 0),
                of(has.dmi_lb, need.dmi_lb, 1),
            ]);
        }
    }
    let header = strings(&["", "", "NEm Mcal", "CP lb", "MP g", "Ca g", "P g", "DM lb / will eat"]);
    let caption = "What the rations have of what is needed, per head and day".to_owned();
    Table { caption, left: 2, header, rows, ..Table::default() }
}

/// So many digits more than usual where two figures would look the same.
const MORE_DIGITS: usize = 4;

/// Two different figures with as many digits as tell them apart.
pub(in crate::report) fn apart(a: f64, b: f64, digits: usize) -> (String, String) {
    let told = |digits: usize| (figure_text(a, digits), figure_text(b, digits));
    (digits..=digits + MORE_DIGITS).map(told).find(|(a, b)| a != b).unwrap_or_else(|| told(digits))
}

/// A count with commas.
pub(in crate::report) fn count(many: u32) -> String {
    figure_text(f64::from(many), 0)
}

fn side(sense: Sense) -> &'static str {
    match sense {
        Sense::AtLeast => "at least",
        Sense::AtMost => "at most",
        Sense::Exactly => "just",
    }
}

fn strings(items: &[&str]) -> Vec<String> {
    items.iter().map(|item| (*item).to_owned()).collect()
}
