//! What neighbors can pay, how far it hauls, and what else can be done with trash.

use super::BAR;
use crate::limit::figure_text;
use crate::report::gin::model::{DemandPoint, GinReport, NeighborReport, ProductReport};
use crate::report::gin::units::Units;
use crate::report::page::{Block, Page, Table};
use crate::report::text::usd;

/// Most rows of the demand curve on the page; JSON has every point.
const MOST_PRICES: usize = 12;

pub(super) fn neighbors(page: &mut Page, product: &ProductReport, units: Units) {
    if product.neighbors.is_empty() && product.not_asked.is_empty() {
        return;
    }
    let title = format!("What neighbors can pay for {}", product.product);
    page.section(
        if product.product == "seed" { "neighbors-seed" } else { "neighbors-trash" },
        &title,
        format!(", $ a {} at the gin", units.ton()),
    );
    let header = ["", units.mile(), "head", "haul", "any up to", "half up to", "most tons"].map(str::to_owned);
    let rows: Vec<Vec<String>> = product.neighbors.iter().map(|one| neighbor_row(one, units)).collect();
    if !rows.is_empty() {
        page.table(format!("{title}, $ a {} at the gin", units.ton()), 1, &header, &rows);
        buys_when(page, product, units);
    }
    for one in &product.neighbors {
        if let Some(words) = &one.stands_for {
            page.words("  ", format!("{}: {words} (screening).", one.name));
        }
    }
    let bound: Vec<&str> =
        product.neighbors.iter().filter(|one| one.buys_at_any_price).map(|one| one.name.as_str()).collect();
    if !bound.is_empty() {
        page.words(
            "  ",
            format!(
                "* {}: buys at every price looked at (to {} at the gin), because the file has nothing in its place. Add the \
                 feed he would turn to before you count on it.",
                bound.join(", "),
                units.per_ton(product.highest_looked_at_usd_per_ton)
            ),
        );
    }
    for one in &product.not_asked {
        page.words("  ! ", format!("{} is not counted: {}.", one.name, one.why));
    }
}

/// Months in which any neighbor gets any.
fn month_names(product: &ProductReport) -> Vec<String> {
    let Some(first) = product.neighbors.first() else { return Vec::new() };
    let month = |index: usize| first.months[index].month.clone();
    (0..first.months.len())
        .filter(|index| {
            product.neighbors.iter().any(|one| one.months.get(*index).is_some_and(|month| month.tons >= 0.5))
        })
        .map(month)
        .collect()
}

/// `2026-11` as `Nov`.
fn short_month(month: &str) -> String {
    const NAMES: [&str; 12] = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
    let number: Option<usize> = month.rsplit('-').next().and_then(|text| text.parse().ok());
    number.and_then(|number| NAMES.get(number.wrapping_sub(1))).map_or(month.to_owned(), |name| (*name).to_owned())
}

/// A name that fits a column.
fn short_name(name: &str) -> String {
    const MOST: usize = 22;
    if name.chars().count() <= MOST {
        return name.to_owned();
    }
    format!("{}…", name.chars().take(MOST - 1).collect::<String>().trim_end())
}

fn neighbor_row(one: &NeighborReport, units: Units) -> Vec<String> {
    let price = |usd: Option<f64>| usd.map_or("none".to_owned(), |usd| units.per_ton(usd));
    let (any, half) = if one.buys_at_any_price {
        ("any *".to_owned(), String::new())
    } else {
        (price(one.worth_at_gin_usd_per_ton), price(one.half_at_gin_usd_per_ton))
    };
    vec![
        short_name(&one.name),
        units.miles(one.miles),
        figure_text(one.head, 0),
        units.per_ton(one.freight_usd_per_ton),
        any,
        half,
        units.tons(one.most_tons, 0),
    ]
}

/// Tons by month at the price that nets most, of those who buy.
fn buys_when(page: &mut Page, product: &ProductReport, units: Units) {
    let buyers: Vec<&NeighborReport> = product.neighbors.iter().filter(|one| one.tons >= 0.5).collect();
    let Some(ask) = product.ask_usd_per_ton.filter(|_| !buyers.is_empty()) else { return };
    let months = month_names(product);
    let mut header: Vec<String> =
        [format!("at {}", units.per_ton(ask)), "tons".to_owned(), "loads".to_owned(), "$".to_owned()].to_vec();
    header.extend(months.iter().map(|month| short_month(month)));
    let rows: Vec<Vec<String>> = buyers
        .into_iter()
        .map(|one| {
            let mut row = vec![
                short_name(&one.name),
                units.tons(one.tons, 0),
                figure_text(one.loads, 1),
                figure_text(one.usd, 0),
            ];
            for month in &months {
                let tons = one.months.iter().find(|each| &each.month == month).map_or(0.0, |each| each.tons);
                row.push(units.tons_or_blank(tons));
            }
            row
        })
        .collect();
    let caption = format!("Who buys {} at {}, tons by month", product.product, units.per_ton(ask));
    page.table(caption, 1, &header, &rows);
}

/// Points of the curve to show: where tons change by most, evenly over the tons.
pub(in crate::report) fn shown(points: &[DemandPoint]) -> Vec<&DemandPoint> {
    let Some(best) = points.iter().max_by(|a, b| a.net_usd.total_cmp(&b.net_usd)) else { return Vec::new() };
    let most = points.first().map_or(0.0, |point| point.demand_tons);
    let step = (most / 8.0).max(1e-9);
    let mut list: Vec<&DemandPoint> = Vec::new();
    for (index, point) in points.iter().enumerate() {
        // The last price before the tons fall.
        let falls = points.get(index + 1).is_none_or(|next| point.demand_tons - next.demand_tons > 1e-6);
        let is_best = (point.usd_per_ton - best.usd_per_ton).abs() < 1e-9;
        let far = list.last().is_none_or(|last| last.demand_tons - point.demand_tons >= step);
        let last = index + 1 == points.len();
        if is_best || last || index == 0 || falls && far {
            list.push(point);
        }
    }
    while list.len() > MOST_PRICES {
        let drop =
            (1..list.len() - 1).filter(|at| (list[*at].usd_per_ton - best.usd_per_ton).abs() > 1e-9).min_by(|a, b| {
                let gap = |at: &usize| list[at - 1].demand_tons - list[at + 1].demand_tons;
                gap(a).total_cmp(&gap(b))
            });
        let Some(drop) = drop else { break };
        list.remove(drop);
    }
    list
}

pub(super) fn curve(page: &mut Page, product: &ProductReport, units: Units) {
    if product.neighbors.is_empty() {
        return;
    }
    let title = format!("Price and tons of {}", product.product);
    page.section(if product.product == "seed" { "curve-seed" } else { "curve-trash" }, &title, "");
    let header =
        ["$ at the gin".to_owned(), "wanted".to_owned(), "sold".to_owned(), "season nets".to_owned(), String::new()];
    let most = product.demand.first().map_or(0.0, |point| point.demand_tons).max(1e-9);
    let rows: Vec<Vec<String>> = shown(&product.demand)
        .into_iter()
        .map(|point| {
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                clippy::cast_precision_loss,
                reason = "a bar of few columns"
            )]
            let bar = (point.demand_tons / most * BAR as f64).round().max(0.0) as usize;
            let is_best = (point.usd_per_ton - product.at_ask.usd_per_ton).abs() < 1e-9;
            let mark = if is_best { " <- nets most" } else { "" };
            vec![
                units.per_ton(point.usd_per_ton),
                units.tons(point.demand_tons, 0),
                units.tons(point.sold_tons, 0),
                usd(point.net_usd),
                format!("{:<44}", format!("{}{mark}", "=".repeat(bar.min(BAR)))),
            ]
        })
        .collect();
    page.push(Block::Table(Table {
        caption: title,
        left: 0,
        header: header.to_vec(),
        rows,
        drawn: Some(4),
        ..Table::default()
    }));
    page.words(
        "  ",
        "Wanted is over the winters of the herds, up to each price; sold is what the weeks can give. A price below zero is paid to the buyer.",
    );
}

pub(super) fn sheets(page: &mut Page, report: &GinReport, units: Units) {
    let mut rows = Vec::new();
    for product in &report.products {
        for sheet in &product.sheets {
            rows.push(vec![
                product.product.to_owned(),
                if sheet.not_in_both.is_empty() {
                    sheet.prices.clone()
                } else {
                    format!("{} (other neighbors: {})", sheet.prices, sheet.not_in_both.join(", "))
                },
                sheet.ask_usd_per_ton.map_or("none".to_owned(), |ask| units.per_ton(ask)),
                units.tons(sheet.sold_tons, 0),
                usd(sheet.net_usd),
            ]);
        }
    }
    if rows.is_empty() {
        return;
    }
    let header = ["", "prices of other feeds", "ask", "tons sold", "season nets"].map(str::to_owned);
    page.section("prices", "If prices change", "");
    page.table("What to ask if prices change", 2, &header, &rows);
}

pub(super) fn radius(page: &mut Page, report: &GinReport, units: Units) {
    let mut rows = Vec::new();
    let mut worth = Vec::new();
    for product in &report.products {
        for row in &product.radius {
            rows.push(vec![
                format!("{} {}", product.product, if row.form == "seed" { "" } else { row.form }).trim().to_owned(),
                units.tons(row.tons_per_load, 1),
                units.per_ton_mile(row.usd_per_ton_mile),
                units.per_ton(row.handling_usd_per_ton),
                units.miles(row.miles_at_ask_half),
                units.miles(row.miles_at_ask_last),
                units.miles(row.miles_at_fallback),
            ]);
        }
        if let (Some(half), Some(first)) = (product.delivered_half_usd_per_ton, product.delivered_first_usd_per_ton) {
            let some = if product.neighbors.iter().any(|one| one.buys_at_any_price) { "at least " } else { "" };
            worth.push(format!(
                "{} is worth {} delivered for half of what the herds would take, {some}{} for the last ton",
                product.product,
                units.per_ton(half),
                units.per_ton(first)
            ));
        }
    }
    if rows.is_empty() {
        return;
    }
    let header = [
        "",
        "tons a load",
        if units.metric { "$/t-km" } else { "$/ton-mile" },
        "handling",
        "at the ask, half",
        "last ton",
        "at the fallback, half",
    ]
    .map(str::to_owned);
    page.section("radius", "How far it hauls", format!(", {}", units.mile()));
    page.table(format!("How far it hauls, {}", units.mile()), 1, &header, &rows);
    page.words(
        "  ",
        format!(
                "By the least-cost winters of the herds, {}. At the fallback the sale nets no more than the next-best outlet. What the buyer loses and wastes is in the worth. Other gins are not counted: a neighbor who can buy nearer or cheaper will.",
                worth.join("; ")
        ),
    );
}

pub(super) fn handling(page: &mut Page, report: &GinReport, units: Units) {
    if report.processing.is_empty() {
        return;
    }
    let header =
        ["trash", "cost", "tons a load", "room, tons", "ask", "tons sold", "season nets", "more"].map(str::to_owned);
    let rows: Vec<Vec<String>> = report
        .processing
        .iter()
        .map(|one| {
            vec![
                one.way.to_owned(),
                units.per_ton(one.usd_per_ton),
                units.tons(one.tons_per_load, 1),
                one.room_tons.map_or("any".to_owned(), |tons| units.tons(tons, 0)),
                units.per_ton(one.ask_usd_per_ton),
                units.tons(one.sold_tons, 0),
                usd(one.net_usd),
                usd(one.more_usd),
            ]
        })
        .collect();
    let point = report.usd_per_tdn_point.map_or(String::new(), |usd| {
        format!(
            " A point of TDN is worth {} a {} to the largest buyer; trash gains about one for each point of ash above 11 it loses (judgement).",
            units.per_ton(usd),
            units.ton()
        )
    });
    page.section("handling", "Handling", "");
    page.table("What handling trash otherwise brings", 1, &header, &rows);
    page.words(
        "  ",
        format!(
                "Cost is paid on what is sold, by judgement or from memory unless you give it under `processing`; grinding is counted with \
                 the waste of a bunk.{point} Grinding or mixing may change what the law asks of you."
        ),
    );
}
