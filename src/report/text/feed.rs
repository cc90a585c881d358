//! What the cattle get, what to buy, what leaves the stack.

use super::{count, strings, usd};
use crate::limit::caution::POOR_PROTEIN_INTAKE;
use crate::limit::figure_text;
use crate::report::model::{GroupReport, PeriodReport, Report, Stock};
use crate::report::page::{Block, Page, Table};
use indexmap::IndexMap;

/// Periods that fit beside each other.
const ACROSS: usize = 8;

pub(super) fn rations(page: &mut Page, report: &Report) {
    page.section("rations", "Rations", ", lb as fed per head and day");
    for group in &report.groups {
        if group.periods.is_empty() {
            page.push(Block::Line(format!("{}: no ration given", group.name)));
            continue;
        }
        for table in ration_tables(group) {
            page.push(Block::Table(table));
        }
        for words in learning_words(group) {
            page.words("  ", words);
        }
    }
    if report.groups.iter().flat_map(|group| &group.periods).flat_map(|period| &period.ration).any(|line| line.at_will)
    {
        let cut = report.cautions.iter().any(|caution| caution.rule == POOR_PROTEIN_INTAKE.id);
        page.words(
            "",
            if cut && report.status != "plan" {
                "* eaten at will: the figure is what is written; dry matter and condition are those of what they are expected to eat of it."
            } else {
                "* eaten at will: the figure is what they are expected to eat, waste not counted."
            },
        );
    }
}

/// The rations of a group, as many periods to a table as fit beside each other.
pub(in crate::report) fn ration_tables(group: &GroupReport) -> Vec<Table> {
    let title = format!("{} ({} head)", group.name, count(group.head));
    let table = |chunk: &[PeriodReport]| {
        let mut header = vec![title.clone()];
        header.extend(chunk.iter().map(short_label));
        let caption = format!("{title}, lb as fed per head and day");
        Table { caption, left: 1, header, rows: ration_rows(chunk), ..Table::default() }
    };
    group.periods.chunks(ACROSS).map(table).collect()
}

fn ration_rows(periods: &[PeriodReport]) -> Vec<Vec<String>> {
    let mut feeds: IndexMap<&str, bool> = IndexMap::new();
    for line in periods.iter().flat_map(|period| &period.ration) {
        feeds.insert(&line.feed, line.at_will);
    }
    let mut rows: Vec<Vec<String>> = feeds
        .iter()
        .map(|(feed, at_will)| {
            let mut row = vec![format!("  {feed}{}", if *at_will { " *" } else { "" })];
            row.extend(periods.iter().map(|period| {
                period
                    .ration
                    .iter()
                    .find(|line| line.feed == *feed)
                    .map_or(String::new(), |line| amount(line.lb_as_fed))
            }));
            row
        })
        .collect();
    let mut push = |name: &str, value: &dyn Fn(&PeriodReport) -> String| {
        let mut row = vec![format!("  {name}")];
        row.extend(periods.iter().map(value));
        rows.push(row);
    };
    push("dry matter, lb", &|period| figure_text(period.supply.dmi_lb, 1));
    push("$ per head and day", &|period| figure_text(period.cost_usd_per_head_day, 2));
    push("body condition at the end", &|period| score_words(period.condition.score_to));
    if periods.iter().any(|period| period.condition.gain_lb_per_day.is_some()) {
        push("growth, lb a day", &|period| {
            period.condition.gain_lb_per_day.map_or(String::new(), |gain| figure_text(gain, 2))
        });
    }
    rows
}

/// What is begun slowly, and how.
pub(in crate::report) fn learning_words(group: &GroupReport) -> Vec<String> {
    let lines = group.periods.iter().flat_map(|period| period.learning.iter().map(move |line| (period, line)));
    lines
        .map(|(period, line)| {
            format!(
                "{} in {}: {} lb to {} while they learn it, then {}; the table has the mean. Other roughage makes up the rest.",
                line.feed,
                short_label(period),
                amount(line.first_lb_as_fed),
                line.last,
                amount(line.after_lb_as_fed)
            )
        })
        .collect()
}

/// A body condition score; the scale ends at 1 and 9.
pub(in crate::report) fn score_words(score: f64) -> String {
    if score <= 1.0 {
        "under 1".to_owned()
    } else if score >= 9.0 {
        "over 9".to_owned()
    } else {
        figure_text(score, 1)
    }
}

/// Pounds as a scale shows them; ounces of mineral keep two decimals.
pub(in crate::report) fn amount(lb: f64) -> String {
    if lb < 0.005 {
        String::new()
    } else if lb < 1.0 {
        figure_text(lb, 2)
    } else {
        figure_text(lb, 1)
    }
}

pub(super) fn purchases(page: &mut Page, report: &Report) {
    if report.purchases.is_empty() && report.grazing.is_empty() {
        return;
    }
    page.section("buy", "Buy and haul", ", short tons as fed, waste and loss included");
    let mut periods: Vec<&str> = Vec::new();
    for period in report.groups.iter().flat_map(|group| &group.periods) {
        if !periods.contains(&period.label.as_str()) {
            periods.push(&period.label);
        }
    }
    let mut feeds: IndexMap<&str, (f64, f64, u32)> = IndexMap::new();
    for purchase in &report.purchases {
        let sum = feeds.entry(&purchase.feed).or_default();
        sum.0 += purchase.tons;
        sum.1 += purchase.usd;
    }
    // As many as the list of what to do has: what is left on a truck in one month is not hauled again in the next.
    for haul in &report.stores.hauling {
        if let Some(sum) = feeds.get_mut(haul.feed.as_str()) {
            sum.2 += haul.loads.unwrap_or(0);
        }
    }
    let labels: IndexMap<&str, String> = report
        .groups
        .iter()
        .flat_map(|group| &group.periods)
        .map(|period| (period.label.as_str(), short_label(period)))
        .collect();
    let chunks: Vec<&[&str]> = periods.chunks(ACROSS - 2).collect();
    for (index, chunk) in chunks.iter().enumerate() {
        let last = index + 1 == chunks.len();
        let mut header = vec![String::new()];
        header.extend(chunk.iter().map(|label| labels.get(label).cloned().unwrap_or_default()));
        if last {
            header.extend(strings(&["winter", "loads", "$"]));
        }
        let rows: Vec<Vec<String>> = feeds
            .iter()
            .map(|(feed, (tons, dollars, loads))| {
                let mut row = vec![format!("  {feed}")];
                row.extend(chunk.iter().map(|label| {
                    report
                        .purchases
                        .iter()
                        .find(|purchase| purchase.feed == *feed && purchase.period == *label)
                        .map_or(String::new(), |purchase| tonnage(purchase.tons))
                }));
                if last {
                    row.push(tonnage(*tons));
                    row.push(if *loads > 0 { loads.to_string() } else { String::new() });
                    row.push(usd(*dollars));
                }
                row
            })
            .collect();
        page.table("What to buy, short tons as fed, waste and loss included", 1, &header, &rows);
    }
    for line in &report.grazing {
        page.words(
            "  ",
            format!(
                "{}: grazing of {} head-months, {}, whatever they eat of it.",
                line.feed,
                figure_text(line.head_months, 0),
                usd(line.usd)
            ),
        );
    }
    crate::report::prices::add_to(page, report);
}

pub(in crate::report) fn tonnage(tons: f64) -> String {
    if tons < 0.005 {
        String::new()
    } else if tons < 1.0 {
        figure_text(tons, 2)
    } else {
        figure_text(tons, 1)
    }
}

pub(super) fn stocks(page: &mut Page, report: &Report) {
    let mut owned: IndexMap<&str, Vec<&Stock>> = IndexMap::new();
    for stock in &report.stocks {
        owned.entry(&stock.feed).or_default().push(stock);
    }
    if owned.is_empty() {
        return;
    }
    page.section("stack", "From the stack", ", short tons as fed");
    let rows: Vec<Vec<String>> = owned
        .iter()
        .map(|(feed, flows)| {
            let sum = |pick: fn(&Stock) -> f64| flows.iter().map(|flow| pick(flow)).sum::<f64>();
            let left = flows.last().map_or(0.0, |flow| flow.left_tons);
            let runs_out = if left < 0.05 {
                flows.iter().find(|flow| flow.left_tons < 0.05).map_or("", |flow| flow.period.as_str())
            } else {
                "lasts"
            };
            vec![
                format!("  {feed}"),
                tonnage(flows.first().map_or(0.0, |flow| flow.opening_tons)),
                tonnage(sum(|flow| flow.bought_tons)),
                tonnage(sum(|flow| flow.fed_tons)),
                tonnage(sum(|flow| flow.lost_tons)),
                tonnage(left),
                runs_out.to_owned(),
            ]
        })
        .collect();
    let header = strings(&["", "on hand", "bought", "fed", "lost in store", "left", "used up in"]);
    page.table("What is in store, short tons as fed", 1, &header, &rows);
}

/// A short head for a column: the month, or the day it starts.
pub(in crate::report) fn short_label(period: &PeriodReport) -> String {
    short_name(&period.label)
}

/// The same from the label of a period.
pub(in crate::report) fn short_name(label: &str) -> String {
    const MONTHS: [&str; 12] = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
    let parts: Vec<&str> = label.split('-').collect();
    let month =
        parts.get(1).and_then(|text| text.parse::<usize>().ok()).and_then(|number| MONTHS.get(number.wrapping_sub(1)));
    match (month, parts.get(2)) {
        (Some(month), None) => (*month).to_owned(),
        (Some(month), Some(day)) => format!("{month} {}", day.trim_start_matches('0')),
        _ => label.to_owned(),
    }
}
