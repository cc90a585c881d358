//! Cases side by side as a page: cost, prices, rations, what binds, what carries the difference, what nutrients cost.

use super::compare::{CaseColumn, Comparison, NutrientTable};
use super::page::{Block, Page, Table};
use super::side::{Line, binding, rations, side, tons, unique, watch};
use super::text::usd;
use crate::limit::figure_text;
use std::fmt::Write as _;

/// The page.
#[must_use]
pub fn page(comparison: &Comparison) -> String {
    sections(comparison).text()
}

/// The page as data.
#[must_use]
pub fn sections(comparison: &Comparison) -> Page {
    let cases = &comparison.cases;
    let names: Vec<String> = cases.iter().map(|case| case.name.clone()).collect();
    let mut page = Page::new(
        if cases.len() == 1 { "One case".to_owned() } else { format!("{} cases side by side", cases.len()) },
        if cases.len() == 1 { " at its least cost" } else { ", each at its least cost" },
    );
    page.words("", in_short(comparison));
    side(&mut page, ("cost", "Cost", ""), &names, &costs(cases));
    for case in cases {
        if let Some(why) = &case.why {
            page.words(" ", format!("{}: no ration can meet it. {why}.", case.name));
        }
    }
    side(&mut page, ("prices", "Prices that differ", ", $ per short ton delivered"), &names, &prices(cases));
    let of: Vec<_> = cases.iter().map(|case| case.rations.as_slice()).collect();
    let rest = ", lb as fed per head and day, the mean of the winter";
    side(&mut page, ("rations", "Rations", rest), &names, &rations(&of));
    side(&mut page, ("buy", "Buy", ", short tons as fed"), &names, &bought(cases));
    let of: Vec<_> = cases.iter().map(|case| case.binding.as_slice()).collect();
    let rest = ", and when: what the cost hangs on, the weightiest first";
    side(&mut page, ("binds", "What binds", rest), &names, &binding(&of));
    if !comparison.differences.is_empty() {
        page.section("difference", "What carries the difference", "");
        for difference in &comparison.differences {
            super::driver::add(&mut page, difference);
        }
        page.words(
            " ",
            "How: each input that differs is changed alone from the first case to the other, and the winter is solved and proved \
             again. What the single changes do not add up to belongs to them together; it is not shared out.",
        );
    }
    nutrients(&mut page, cases);
    let planned: Vec<_> = cases.iter().filter(|case| case.winter_usd.is_some()).collect();
    if !planned.is_empty() {
        let of: Vec<(&str, &[_])> = planned.iter().map(|case| (case.name.as_str(), case.cautions.as_slice())).collect();
        watch(&mut page, &of);
    }
    page.section("proof", "", "");
    page.words(
        "",
        "Every cost is the least of its case in part loads, proved, its rations found clean by the independent check; rations are \
         not made steadier here. `overwinter plan` has the months and the proof of each.",
    );
    page
}

/// The ends of the list and the driver, in a few sentences.
fn in_short(comparison: &Comparison) -> String {
    let mut known: Vec<(&str, f64)> =
        comparison.cases.iter().filter_map(|case| Some((case.name.as_str(), case.usd_per_head_day?))).collect();
    known.sort_by(|a, b| a.1.total_cmp(&b.1));
    let mut text = String::new();
    if let ([(low, least), .., (high, most)], true) = (known.as_slice(), known.len() > 1) {
        text = if format!("{least:.2}") == format!("{most:.2}") {
            format!("Per head and day all cost ${least:.2}.")
        } else {
            format!(
                "Per head and day \"{low}\" is the cheapest at ${least:.2} and \"{high}\" the dearest at ${most:.2}."
            )
        };
    }
    let none = comparison.cases.iter().filter(|case| case.winter_usd.is_none()).count();
    match none {
        0 => {}
        1 => text.push_str(" For one case there is no ration."),
        _ => {
            let _ = write!(text, " For {none} cases there is no ration.");
        }
    }
    if let Some(first) = comparison.differences.first() {
        let _ = write!(text, " From \"{}\" to \"{}\": {}", first.from_case, first.to_case, first.driver);
    }
    text.trim().to_owned()
}

fn costs(cases: &[CaseColumn]) -> Vec<Line> {
    let line = |label: &str, tell: &dyn Fn(&CaseColumn) -> String| (label.to_owned(), cases.iter().map(tell).collect());
    let none = |case: &CaseColumn| if case.status == "short" { "no ration" } else { "not proved" }.to_owned();
    let mut lines = vec![
        line("head", &|case| figure_text(f64::from(case.head), 0)),
        line("days", &|case| case.days.to_string()),
        line("for the winter", &|case| case.winter_usd.map_or_else(|| none(case), usd)),
        line("per head and day", &|case| case.usd_per_head_day.map_or_else(String::new, |usd| format!("${usd:.2}"))),
    ];
    if let Some(first) = cases.first().and_then(|case| case.usd_per_head_day) {
        lines.push(line("against the first", &|case| {
            let Some(cost) = case.usd_per_head_day else { return String::new() };
            let pct = 100.0 * (cost - first) / first.abs().max(1e-9);
            if pct.abs() < 0.05 {
                String::new()
            } else {
                format!("{}{:.1} %", if pct < 0.0 { "−" } else { "+" }, pct.abs())
            }
        }));
    }
    lines
}

fn prices(cases: &[CaseColumn]) -> Vec<Line> {
    let feeds = unique(cases.iter().flat_map(|case| case.prices.iter().map(|price| price.feed.as_str())));
    let text = |case: &CaseColumn, feed: &str| match case.prices.iter().find(|price| price.feed == feed) {
        None => "not offered".to_owned(),
        Some(price) => match (price.delivered_usd_per_ton, price.own_usd_per_ton) {
            (Some(usd), None) => figure_text(usd, 2),
            (None, Some(own)) => format!("own {}", figure_text(own, 2)),
            (Some(usd), Some(own)) => format!("own {}, {}", figure_text(own, 2), figure_text(usd, 2)),
            (None, None) => "not bought".to_owned(),
        },
    };
    feeds
        .into_iter()
        .map(|feed| (feed.to_owned(), cases.iter().map(|case| text(case, feed)).collect::<Vec<String>>()))
        .filter(|(_, cells)| cells.iter().any(|cell| *cell != cells[0]))
        .collect()
}

fn bought(cases: &[CaseColumn]) -> Vec<Line> {
    let bought = |case: &CaseColumn, feed: &str| {
        case.tons.iter().find(|row| row.feed == feed).map_or_else(String::new, |row| tons(row.bought_tons))
    };
    let feeds = cases.iter().flat_map(|case| case.tons.iter());
    unique(feeds.filter(|row| row.bought_tons >= 0.005).map(|row| row.feed.as_str()))
        .into_iter()
        .map(|feed| (feed.to_owned(), cases.iter().map(|case| bought(case, feed)).collect()))
        .collect()
}

/// What nutrients cost: in the first case, and in the others what differs from it.
fn nutrients(page: &mut Page, cases: &[CaseColumn]) {
    let mut tables = cases.iter().filter_map(|case| case.nutrient_costs.as_ref().map(|table| (case, table)));
    let Some((first_case, first)) = tables.next() else { return };
    let rest = format!(", {}: each column prices one thing and is blind to the rest", first_case.name);
    page.section("nutrients", "What one nutrient costs", rest);
    let lines = nutrient_lines(first);
    nutrient_table(page, first_case, String::new(), &lines);
    under(page, first, None);
    for (case, table) in tables {
        let differ: Vec<Vec<String>> = nutrient_lines(table).into_iter().filter(|line| !lines.contains(line)).collect();
        if !differ.is_empty() {
            nutrient_table(page, case, format!("{}, where it differs", case.name), &differ);
            under(page, table, Some(first));
        }
    }
    page.words(
        " ",
        "None of these is a reason to buy: each prices one nutrient as if the rest of the feed were worth nothing and the cow had \
         no end of room. A free roughage still takes room in her (lb DM/lb: what she must hold for one pound of protein). * The \
         two-feed figure puts roughage too high: it counts no fiber, intake, fat or hazard (Petersen 1932, from memory). Let the \
         plan decide; `overwinter worth` says what a feed is worth here.",
    );
}

fn nutrient_lines(table: &NutrientTable) -> Vec<Vec<String>> {
    let figure = |value: Option<f64>, digits: usize| value.map_or_else(String::new, |value| figure_text(value, digits));
    table
        .feeds
        .iter()
        .map(|row| {
            let raises = match row.cp_pct_dm {
                Some(pct) if row.cannot_raise_protein => format!("no: {pct:.1} %"),
                Some(pct) => format!("yes: {pct:.1} %"),
                None => String::new(),
            };
            vec![
                format!("{}{}", row.feed, if row.roughage { " *" } else { "" }),
                format!("{}{}", if row.owned { "own " } else { "" }, figure_text(row.usd_per_ton, 0)),
                figure(row.usd_per_lb_cp, 2),
                raises,
                figure(row.lb_dm_per_lb_cp, 1),
                figure(row.usd_per_lb_tdn, 3),
                figure(row.usd_per_mcal_nem, 3),
                figure(row.two_feed_usd_per_ton, 0),
            ]
        })
        .collect()
}

fn nutrient_table(page: &mut Page, case: &CaseColumn, lead: String, lines: &[Vec<String>]) {
    let header = ["", "$/ton", "$/lb CP", "raises CP?", "lb DM/lb", "$/lb TDN", "$/Mcal", "two-feed"];
    page.push(Block::Table(Table {
        caption: format!("What one nutrient costs: {}", case.name),
        lead,
        left: 1,
        header: header.map(str::to_owned).to_vec(),
        rows: lines.to_vec(),
        ..Table::default()
    }));
}

/// What stands under a table where it is not what stands under the first: who is no protein source, and the bench marks.
fn under(page: &mut Page, table: &NutrientTable, first: Option<&NutrientTable>) {
    let parts = |table: &NutrientTable| [poor_words(table), bench_words(table)];
    let before = first.map(parts);
    let new = parts(table)
        .into_iter()
        .enumerate()
        .filter(|(index, text)| !text.is_empty() && before.as_ref().is_none_or(|before| before[*index] != *text));
    let text: Vec<String> = new.map(|(_, text)| text).collect();
    if !text.is_empty() {
        page.words(" ", text.join(" "));
    }
}

fn poor_words(table: &NutrientTable) -> String {
    let poor: Vec<&str> =
        table.feeds.iter().filter(|row| row.cannot_raise_protein).map(|row| row.feed.as_str()).collect();
    match &table.most_cp_asked {
        Some((pct, group, period)) if !poor.is_empty() => format!(
            "No protein source here, however cheap its pound looks: {}. The ration of {group} must hold {pct:.1} % of its dry matter \
             in {period}, and what holds less thins it.",
            poor.join(", ")
        ),
        _ => String::new(),
    }
}

fn bench_words(table: &NutrientTable) -> String {
    match (&table.bench_marks, table.bench_usd_per_lb_cp_and_tdn) {
        (Some((energy, protein)), Some((cp, tdn))) => format!(
            "Two-feed: $ a ton, with a pound of protein at ${cp:.3} and one of TDN at ${tdn:.3}, as {energy} and {protein} at \
             their prices say."
        ),
        _ => "Two-feed: no two bought concentrates here fix a worth of protein and of TDN that is above nothing."
            .to_owned(),
    }
}

/// Most cases that are shown side by side; more of them are shown a line each.
pub const SIDE_BY_SIDE: usize = 8;

/// One case of a long list.
pub struct ListLine {
    /// Its name.
    pub name: String,
    /// Least cost of the winter, US dollars.
    pub winter_usd: Option<f64>,
    /// The same per head and day.
    pub usd_per_head_day: Option<f64>,
}

/// Many cases, a line each, and the ends of the list.
#[must_use]
pub fn list_page(lines: &[ListLine]) -> Page {
    let rows: Vec<Vec<String>> = lines
        .iter()
        .map(|line| {
            vec![
                line.name.clone(),
                line.usd_per_head_day.map_or_else(String::new, |usd| format!("{usd:.2}")),
                line.winter_usd.map_or_else(|| "no ration".to_owned(), usd),
            ]
        })
        .collect();
    let mut page = Page::new(format!("{} cases", lines.len()), ", each at its least cost");
    page.section("list", "", "");
    let header = ["", "$ per head and day", "for the winter"].map(str::to_owned);
    page.table("Each case at its least cost", 1, &header, &rows);
    let mut known: Vec<(&ListLine, f64)> =
        lines.iter().filter_map(|line| line.winter_usd.map(|usd| (line, usd))).collect();
    known.sort_by(|a, b| a.1.total_cmp(&b.1));
    if let (Some((low, least)), Some((high, most))) = (known.first(), known.last()) {
        let middle = known[known.len() / 2].1;
        page.section("ends", "", "");
        page.words(
            "",
            format!(
                "From {} ({}) to {} ({}); the middle is {}. `--format csv` gives rations and what binds, a line a case; up to \
                 {SIDE_BY_SIDE} cases stand side by side.",
                usd(*least),
                low.name,
                usd(*most),
                high.name,
                usd(middle)
            ),
        );
    }
    page
}
