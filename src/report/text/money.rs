//! What decides the cost, and what each feed is worth.

use super::feed::short_label;
use super::{strings, usd};
use crate::limit::figure_text;
use crate::report::model::{LimitLine, Report, SamePlan, Worth};
use crate::report::page::{Block, Page, Table};

/// A rule that binds in one group: figures and prices over its periods.
struct Binding<'a> {
    line: &'a LimitLine,
    periods: Vec<String>,
    low: f64,
    high: f64,
    weight: f64,
}

pub(super) fn decides(page: &mut Page, report: &Report) {
    page.section(
        "decides",
        "What decides",
        ": what one more unit asked for costs, or (−) one more allowed saves, per head and day",
    );
    let mut rows = Vec::new();
    for group in &report.groups {
        let mut binding: Vec<Binding<'_>> = Vec::new();
        for period in &group.periods {
            for line in period.limits.iter().filter(|line| line.binding && line.rule != "your-fixed") {
                let price = line.usd_per_unit.unwrap_or(0.0);
                let weight = (price * line.limit).abs();
                match binding.iter_mut().find(|one| one.line.rule == line.rule && one.line.feed == line.feed) {
                    Some(one) => {
                        one.periods.push(short_label(period));
                        one.low = one.low.min(price);
                        one.high = one.high.max(price);
                        one.weight += weight;
                    }
                    None => binding.push(Binding {
                        line,
                        periods: vec![short_label(period)],
                        low: price,
                        high: price,
                        weight,
                    }),
                }
            }
        }
        binding.retain(|one| one.low.abs().max(one.high.abs()) >= 1e-4);
        binding.sort_by(|a, b| b.weight.total_cmp(&a.weight));
        for one in binding.iter().take(5) {
            let name = one
                .line
                .feed
                .as_ref()
                .map_or_else(|| one.line.title.to_owned(), |feed| format!("{}: {feed}", one.line.title));
            let when =
                if one.periods.len() == group.periods.len() { "all winter".to_owned() } else { one.periods.join(" ") };
            rows.push(vec![group.name.clone(), name, when, price_words(one.low, one.high, one.line.unit)]);
        }
    }
    if rows.is_empty() {
        page.words("  ", "nothing binds");
    } else {
        page.push(Block::Table(Table {
            caption: "What one more unit costs, or saves (−), $ per head and day".to_owned(),
            left: 4,
            header: strings(&["", "need or limit", "binds in", "$ a day for one more"]),
            rows,
            fold: true,
            ..Table::default()
        }));
    }
}

/// A price or a range of prices per unit; per hundred units where one is worth next to nothing.
fn price_words(low: f64, high: f64, unit: &str) -> String {
    let largest = low.abs().max(high.abs());
    let (many, lead) = if largest < 0.005 { (100.0, "100 ") } else { (1.0, "") };
    let digits = if largest * many < 0.05 { 3 } else { 2 };
    let (low, high) = (figure_text(low * many, digits), figure_text(high * many, digits));
    if low == high { format!("{low} per {lead}{unit}") } else { format!("{low} to {high} per {lead}{unit}") }
}

/// Whether a feed is kept from every group.
fn barred_to_all(report: &Report, feed: &str) -> bool {
    report.groups.iter().all(|group| group.barred.iter().any(|(barred, _)| barred == feed))
}

pub(super) fn worth(page: &mut Page, report: &Report) {
    page.section("worth", "Worth", ", $ per short ton delivered");
    let rows: Vec<Vec<String>> = report
        .worth
        .iter()
        .map(|worth| {
            let price = worth.price_usd_per_ton.map_or_else(
                || if worth.usd_per_head_month.is_some() { "grazed".to_owned() } else { "owned".to_owned() },
                |price| figure_text(price, 0),
            );
            let words = if let Some(one_more) = worth.one_more_ton_usd {
                match worth.usd_per_head_month {
                    Some(month) => {
                        format!("{} a head-month; a ton more standing would be worth {}", usd(month), usd(one_more))
                    }
                    None => format!("a ton more in the stack would be worth {}", usd(one_more)),
                }
            } else if worth.cannot_do_without {
                "used; nothing meets the needs without it".to_owned()
            } else if let Some(cost) = worth.winter_without_usd {
                format!("used; the best winter without it costs {} ({})", usd(cost), without_words(report, worth, cost))
            } else if let Some(at) = worth.break_even_usd_per_ton {
                if at > 0.0 {
                    format!("not bought; comes in at {}", figure_text(at, 0))
                } else {
                    "not bought; not even free".to_owned()
                }
            } else if let Some(month) = worth.usd_per_head_month {
                format!("{} a head-month, whatever they eat", usd(month))
            } else if barred_to_all(report, &worth.feed) {
                "may not be given to these cattle".to_owned()
            } else {
                "used".to_owned()
            };
            vec![format!("  {}", worth.feed), price, worth.same_plan.map_or_else(String::new, same_plan), words]
        })
        .collect();
    let told = report.worth.iter().any(|worth| worth.same_plan.is_some());
    page.push(Block::Table(Table {
        caption: "What each feed is worth here, $ per short ton delivered".to_owned(),
        left: 1,
        header: strings(&["", "price", if told { "same plan" } else { "" }, ""]),
        rows,
        last_words: true,
        ..Table::default()
    }));
    for one in &report.worth {
        if let Some(because) = one.winter_without_because {
            page.words(
                "  ",
                format!("{}: the winter costs less where it is not even offered, since {because}.", one.feed),
            );
        }
    }
}

/// How the best winter without a feed stands to the bill. Only a rule that hangs on the feed makes it less than the least
/// cost with it; a steadier plan costs more than the least anyway.
fn without_words(report: &Report, worth: &Worth, cost: f64) -> String {
    let more = cost - report.winter.cost_usd;
    match worth.winter_without_because {
        Some(_) => format!("{} less, see below", usd(-more)),
        None if more < 0.0 => "no more".to_owned(),
        None => format!("{} more", usd(more)),
    }
}

/// Between which prices the plan stays of one kind.
fn same_plan(range: SamePlan) -> String {
    let at = |price: f64| figure_text(price, 0);
    let tie = if range.tied { ", tied" } else { "" };
    match (range.from_usd_per_ton, range.to_usd_per_ton) {
        (Some(from), Some(to)) => format!("{} to {}{tie}", at(from), at(to)),
        (Some(from), None) => format!("from {} up{tie}", at(from)),
        (None, Some(to)) => format!("up to {}{tie}", at(to)),
        (None, None) => "at any price".to_owned(),
    }
}
