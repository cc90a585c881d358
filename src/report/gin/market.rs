//! What neighbors can pay, who buys when, and the curve of price and tons.

use super::model::{DemandPoint, NeighborReport, ProductReport};
use super::units::Units;
use crate::limit::figure_text;
use crate::report::page::{Block, Page, Table};
use crate::report::text::{short_name, usd};

/// Widest bar of the picture.
const BAR: usize = 30;
/// Most rows of the demand curve on the page; JSON has every point.
const MOST_PRICES: usize = 12;

/// What neighbors can pay, and what each buys by month.
pub(super) fn neighbors(page: &mut Page, product: &ProductReport, first: bool, units: Units) {
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
    // What a line of screening stands for is told once.
    for one in product.neighbors.iter().filter(|_| first) {
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
                "* {}: still buys at {} at the gin, the highest price looked at (`highest_usd_per_ton`). What he would turn to \
                 above it is not known; if his file has nothing in its place, add that feed before you count on him.",
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

/// A name that fits a column.
fn fitted(name: &str) -> String {
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
        fitted(&one.name),
        units.miles(one.miles),
        figure_text(one.head, 0),
        units.per_ton(one.freight_usd_per_ton),
        any,
        half,
        units.tons(one.most_tons, 0),
    ]
}

/// What is not sold because it is less than a load.
fn left_out(page: &mut Page, product: &ProductReport, units: Units) {
    let total: f64 = product.neighbors.iter().map(|one| one.left_out_tons).sum();
    if total < 0.5 {
        return;
    }
    let none: Vec<String> = product
        .neighbors
        .iter()
        .filter(|one| one.tons < 0.5 && one.left_out_tons >= 0.5)
        .map(|one| format!("{} {}", one.name, units.tons(one.left_out_tons, 0)))
        .collect();
    let none =
        if none.is_empty() { String::new() } else { format!(", of them without a full one: {}", none.join(", ")) };
    page.words(
        "  ",
        format!(
            "Left out: {} tons that they would use at this price and that fill no load of {} tons, since a trip costs the \
             same whatever it carries{none}.",
            units.tons(total, 0),
            units.tons(product.tons_per_load, 0)
        ),
    );
}

/// Tons by month at the price that nets most, of those who buy.
fn buys_when(page: &mut Page, product: &ProductReport, units: Units) {
    let buyers: Vec<&NeighborReport> = product.neighbors.iter().filter(|one| one.tons >= 0.5).collect();
    let Some(ask) = product.ask_usd_per_ton.filter(|_| !buyers.is_empty()) else { return };
    let months = month_names(product);
    let mut header: Vec<String> =
        [format!("at {}", units.per_ton(ask)), "tons".to_owned(), "loads".to_owned(), "$".to_owned()].to_vec();
    header.extend(months.iter().map(|month| short_name(month)));
    let rows: Vec<Vec<String>> = buyers
        .into_iter()
        .map(|one| {
            let mut row =
                vec![fitted(&one.name), units.tons(one.tons, 0), figure_text(one.loads, 1), figure_text(one.usd, 0)];
            for month in &months {
                let tons = one.months.iter().find(|each| &each.month == month).map_or(0.0, |each| each.tons);
                row.push(units.tons_or_blank(tons));
            }
            row
        })
        .collect();
    let caption = format!("Who buys {} at {}, tons by month", product.product, units.per_ton(ask));
    page.table(caption, 1, &header, &rows);
    left_out(page, product, units);
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

/// Price and tons.
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
