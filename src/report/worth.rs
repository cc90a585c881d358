//! What feeds are worth: plain data, the page and the CSV of `overwinter worth`.

use super::csv::table as csv_table;
use super::page::{Block, Page, Table as PageTable};
use super::text::usd;
use crate::limit::figure_text;
use crate::value::worth::{HIGHEST_USD_PER_TON, Row, RowEnd, Table, Use};
use crate::winter::Case;
use serde::Serialize;
use std::fmt::Write as _;

/// More or less of a feed.
#[derive(Debug, Clone, Serialize)]
pub struct FeedChange {
    /// The feed.
    pub feed: String,
    /// Short tons over the winter; below 0: less.
    pub tons: f64,
}

/// What one group gets.
#[derive(Debug, Clone, Serialize)]
pub struct GroupPounds {
    /// Group.
    pub group: String,
    /// Pounds as fed per head and day, the mean of the winter, at the row's lowest price.
    pub lb_at_from: f64,
    /// The same at its highest.
    pub lb_at_to: f64,
}

/// A step of the table.
#[derive(Debug, Clone, Serialize)]
pub struct WorthRow {
    /// Lowest delivered price, US dollars per short ton.
    pub from_usd_per_ton: f64,
    /// Highest delivered price; absent: any higher price.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to_usd_per_ton: Option<f64>,
    /// Short tons bought over the winter at the lowest price.
    pub tons_at_from: f64,
    /// The same at the highest; it differs only where growth bends the curve.
    pub tons_at_to: f64,
    /// Least cost of the winter at the lowest price, US dollars.
    pub winter_usd_at_from: f64,
    /// The same at the highest.
    pub winter_usd_at_to: f64,
    /// What each group gets of it.
    pub groups: Vec<GroupPounds>,
    /// What changes above this row's highest price: what comes in its place, and what goes with it.
    pub above: Vec<FeedChange>,
}

impl WorthRow {
    /// Its prices, in words.
    pub(super) fn words(&self) -> String {
        let to = self.to_usd_per_ton.map_or_else(|| "up".to_owned(), |to| format!("to {to:.2}"));
        format!("{:.2} {to}", self.from_usd_per_ton)
    }
}

/// The answer at one price.
#[derive(Debug, Clone, Serialize)]
pub struct WorthAt {
    /// Delivered price, US dollars per short ton.
    pub usd_per_ton: f64,
    /// Least tons bought at it.
    pub tons_least: f64,
    /// Most tons bought at it; it differs from the least at a break, where both cost the same.
    pub tons_most: f64,
    /// Least cost of the winter, US dollars.
    pub winter_usd: f64,
    /// Saved against a winter without any, US dollars; absent where there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub saves_usd: Option<f64>,
    /// What a winter without any has more or less of.
    pub without_it: Vec<FeedChange>,
    /// Pounds per head and day by group, where the tons are one figure.
    pub groups: Vec<GroupPounds>,
    /// Whether the price is a break.
    pub tie: bool,
}

/// What one feed is worth.
#[derive(Debug, Clone, Serialize)]
pub struct WorthReport {
    /// The feed.
    pub feed: String,
    /// Whether it stands in the herd file.
    pub in_file: bool,
    /// Haul, US dollars per short ton.
    pub freight_usd_per_ton: f64,
    /// Highest delivered price at which any is bought, US dollars per short ton.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub break_even_delivered_usd_per_ton: Option<f64>,
    /// The same at the seller's gate; below 0 where the haul costs more than the feed is worth.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub break_even_at_gate_usd_per_ton: Option<f64>,
    /// Nothing meets the needs without it.
    pub indispensable: bool,
    /// Pounds as fed per head and day that are given whatever it costs, where its amount is fixed: such a feed has no
    /// worth of its own in the plan.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fixed_lb_per_head_day: Option<f64>,
    /// Least cost of a winter without buying any, US dollars.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub winter_without_usd: Option<f64>,
    /// Prices begin here: what an owned ton would sell for.
    pub lowest_usd_per_ton: f64,
    /// The step table, by rising price.
    pub rows: Vec<WorthRow>,
    /// The answer at the file's price, or at the one asked about.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at: Option<WorthAt>,
    /// The file asks for whole loads; the table counts part loads.
    pub whole_loads: bool,
    /// Short tons of it already owned; the table is of what is bought on top.
    pub on_hand_tons: f64,
}

/// A feed whose price can be moved in a page: its table, and the answers at the stops.
#[derive(Debug, Clone)]
pub struct LiveFeed {
    /// The table.
    pub report: WorthReport,
    /// Answers at rising prices.
    pub stops: Vec<WorthAt>,
    /// Which of them is the price now.
    pub now: usize,
}

/// Stops between a price of nothing and twice the price now.
const STOPS: u32 = 40;

/// The answers at stops round the price now; `None` where there is no price.
#[must_use]
pub fn live(case: &Case, table: &Table, price: Option<f64>) -> Option<LiveFeed> {
    let now = price?;
    let low = table.lowest_usd_per_ton;
    // Whole dollars, or fives where the span is wide.
    let step = ((2.0 * now - low).max(10.0) / f64::from(STOPS) / 5.0).ceil() * 5.0;
    let mut prices: Vec<f64> = (0..=STOPS + 1)
        .map(|stop| (low / step).ceil() * step + step * f64::from(stop))
        .filter(|at| *at <= 2.0 * now + step && (at - now).abs() > 1e-6)
        .collect();
    prices.push(now);
    prices.sort_by(f64::total_cmp);
    let stops: Vec<WorthAt> = prices.iter().filter_map(|at| answer(case, table, *at)).collect();
    let now = stops.iter().position(|stop| (stop.usd_per_ton - now).abs() < 1e-9)?;
    Some(LiveFeed { report: of(case, table, true, price), stops, now })
}

/// What a stop says.
#[must_use]
pub fn stop_words(report: &WorthReport, stop: &WorthAt) -> String {
    let pounds: Vec<String> = stop
        .groups
        .iter()
        .map(|group| format!("{} {} lb", group.group, span(group.lb_at_from, group.lb_at_to, 1)))
        .collect();
    let each = if pounds.is_empty() { String::new() } else { format!(" A head and day: {}.", pounds.join(", ")) };
    format!("{}{each}", at_words(report, stop))
}

/// The plain data of a table. `price` is the delivered price to answer at.
#[must_use]
pub fn of(case: &Case, table: &Table, in_file: bool, price: Option<f64>) -> WorthReport {
    let offer = &case.offers[table.offer];
    let freight = offer.freight.map_or(0.0, |freight| freight.usd_per_ton());
    let break_even = table.break_even();
    let fixed = offer.bounds_all.fixed.map(crate::quantity::KgAsFed::lb);
    let others = |changes: &[Use], sign: f64| -> Vec<FeedChange> {
        changes
            .iter()
            .filter(|change| change.offer != table.offer)
            .map(|change| FeedChange { feed: case.offers[change.offer].id.clone(), tons: sign * change.tons })
            .collect()
    };
    let rows = table
        .rows
        .iter()
        .enumerate()
        .map(|(index, row)| WorthRow {
            from_usd_per_ton: row.low.usd_per_ton,
            to_usd_per_ton: Some(row.high.usd_per_ton).filter(|to| *to < HIGHEST_USD_PER_TON),
            tons_at_from: row.low.tons,
            tons_at_to: row.high.tons,
            winter_usd_at_from: row.low.cost_usd,
            winter_usd_at_to: row.high.cost_usd,
            groups: pounds(case, &row.low, &row.high),
            above: table.rows.get(index + 1).map(|next| others(&next.changes, 1.0)).unwrap_or_default(),
        })
        .collect();
    WorthReport {
        feed: offer.id.clone(),
        in_file,
        freight_usd_per_ton: freight,
        break_even_delivered_usd_per_ton: break_even,
        break_even_at_gate_usd_per_ton: break_even.map(|delivered| delivered - freight),
        indispensable: table.is_indispensable() && fixed.is_none(),
        fixed_lb_per_head_day: fixed,
        winter_without_usd: table.cost_without(),
        lowest_usd_per_ton: table.lowest_usd_per_ton,
        rows,
        at: price.and_then(|price| answer(case, table, price)),
        whole_loads: offer.whole_loads,
        on_hand_tons: offer.on_hand.tons(),
    }
}

fn pounds(case: &Case, low: &RowEnd, high: &RowEnd) -> Vec<GroupPounds> {
    let ends = low.lb_by_group.iter().zip(&high.lb_by_group);
    case.groups
        .iter()
        .zip(ends)
        .map(|(group, (low, high))| GroupPounds { group: group.name.clone(), lb_at_from: *low, lb_at_to: *high })
        .collect()
}

fn answer(case: &Case, table: &Table, price: f64) -> Option<WorthAt> {
    let rows = table.at(price);
    let ends: Vec<&RowEnd> = match rows.as_slice() {
        [row] if row.slides() => vec![&row.low, &row.high],
        [row] => vec![&row.low],
        [first, .., last] => vec![&first.high, &last.low],
        [] => return None,
    };
    let tons = |pick: fn(f64, f64) -> f64, start: f64| ends.iter().map(|end| end.tons).fold(start, pick);
    let winter_usd = table.cost_at(price)?;
    let none: Option<&Row> = table.rows.last().filter(|_| table.cost_without().is_some());
    let without_it = none.map_or_else(Vec::new, |none| {
        let mut list: Vec<FeedChange> = (0..case.offers.len())
            .filter(|f| *f != table.offer)
            .map(|f| FeedChange {
                feed: case.offers[f].id.clone(),
                tons: none.high.drawn_tons[f] - ends[0].drawn_tons[f],
            })
            .filter(|change| change.tons.abs() > 0.005)
            .collect();
        list.sort_by(|a, b| b.tons.abs().total_cmp(&a.tons.abs()));
        list
    });
    Some(WorthAt {
        usd_per_ton: price,
        tons_least: tons(f64::min, f64::INFINITY),
        tons_most: tons(f64::max, 0.0),
        winter_usd,
        saves_usd: table.cost_without().map(|without| without - winter_usd),
        without_it,
        groups: if rows.len() == 1 { pounds(case, &rows[0].low, &rows[0].high) } else { Vec::new() },
        tie: rows.len() > 1,
    })
}

/// A price, US dollars and cents.
#[must_use]
pub fn price(value: f64) -> String {
    if value < 0.0 { format!("−${:.2}", -value) } else { format!("${value:.2}") }
}

/// A figure, or both ends where they differ at the digits shown.
pub(super) fn span(low: f64, high: f64, digits: usize) -> String {
    let (low, high) = (figure_text(low, digits), figure_text(high, digits));
    if low == high { low } else { format!("{low}–{high}") }
}

fn change_words(changes: &[FeedChange]) -> String {
    let shown: Vec<String> = changes
        .iter()
        .filter(|change| change.tons.abs() >= 0.05)
        .take(4)
        .map(|change| {
            let digits = usize::from(change.tons.abs() < 10.0);
            let sign = if change.tons < 0.0 { "−" } else { "+" };
            format!("{} {sign}{}", change.feed, figure_text(change.tons.abs(), digits))
        })
        .collect();
    shown.join(", ")
}

/// The page of one feed.
#[must_use]
pub fn page(report: &WorthReport, place: &str, all: bool) -> String {
    sections(report, place, all).text()
}

/// The page of one feed as data.
#[must_use]
pub fn sections(report: &WorthReport, place: &str, all: bool) -> Page {
    let place = if place.is_empty() { "this herd" } else { place };
    let mut page = Page::new(&report.feed, format!(": what it is worth to {place}, this winter"));
    page.section("verdict", "", "");
    page.words("  ", verdict(report));
    if let Some(at) = &report.at {
        page.words("  ", at_words(report, at));
    }
    page.section("steps", "", "");
    let mut header: Vec<String> = ["delivered $/ton", "tons"].map(str::to_owned).to_vec();
    header.extend(report.rows[0].groups.iter().map(|group| format!("{} lb", group.group)));
    header.extend(["winter".to_owned(), "above that price, tons".to_owned()]);
    let shown = if all { report.rows.clone() } else { in_short(&report.rows) };
    let rows: Vec<Vec<String>> = shown
        .iter()
        .map(|row| {
            let mut cells = vec![row.words(), span(row.tons_at_from, row.tons_at_to, 1)];
            cells.extend(row.groups.iter().map(|group| span(group.lb_at_from, group.lb_at_to, 1)));
            let to = if row.to_usd_per_ton.is_some() { row.winter_usd_at_to } else { row.winter_usd_at_from };
            cells.push(format!("${}", span(row.winter_usd_at_from, to, 0)));
            cells.push(change_words(&row.above));
            cells
        })
        .collect();
    page.push(Block::Table(PageTable {
        caption: format!("{}: tons bought at each price, and what the winter costs", report.feed),
        left: 1,
        header,
        rows,
        last_words: true,
        ..PageTable::default()
    }));
    page.section("notes", "", "");
    page.words("  ", notes(report, report.rows.len() - shown.len()));
    page
}

/// The table in short: narrow rows between wide ones as one that slides, and rows of nearly the same tons as one.
pub(super) fn in_short(rows: &[WorthRow]) -> Vec<WorthRow> {
    let most = rows.iter().map(|row| row.tons_at_from).fold(0.0, f64::max);
    let narrow = |row: &WorthRow| {
        // Half a percent of the price, a dollar at least: nobody haggles closer (judgement).
        row.to_usd_per_ton.is_some_and(|to| to - row.from_usd_per_ton < (0.005 * to).max(1.0))
    };
    let mut list: Vec<WorthRow> = Vec::new();
    let mut last_narrow = false;
    for row in rows {
        let is_narrow = narrow(row);
        let is_last = row.to_usd_per_ton.is_none();
        match list.last_mut() {
            Some(before)
                if last_narrow && is_narrow
                    || !last_narrow
                        && !is_narrow
                        && !is_last
                        && (before.tons_at_from - row.tons_at_to).abs() <= 0.02 * most =>
            {
                before.to_usd_per_ton = row.to_usd_per_ton;
                before.tons_at_to = row.tons_at_to;
                before.winter_usd_at_to = row.winter_usd_at_to;
                for (group, more) in before.groups.iter_mut().zip(&row.groups) {
                    group.lb_at_to = more.lb_at_to;
                }
                for change in &row.above {
                    match before.above.iter_mut().find(|one| one.feed == change.feed) {
                        Some(one) => one.tons += change.tons,
                        None => before.above.push(change.clone()),
                    }
                }
            }
            _ => list.push(row.clone()),
        }
        last_narrow = is_narrow;
    }
    list
}

fn verdict(report: &WorthReport) -> String {
    if let Some(lb) = report.fixed_lb_per_head_day {
        return format!(
            "{} lb ({} oz) of {} a head and day are fixed (`fixed_oz`, or `mineral_oz` for minerals), not chosen: no price changes \
             that, and the plan can say nothing of what it is worth.",
            figure_text(lb, 2),
            figure_text(16.0 * lb, 1),
            report.feed
        );
    }
    if report.indispensable {
        return format!("Nothing meets the needs without buying {}: some is bought at any price.", report.feed);
    }
    match (report.break_even_delivered_usd_per_ton, report.break_even_at_gate_usd_per_ton) {
        (Some(delivered), Some(gate)) if report.freight_usd_per_ton > 0.0 => format!(
            "Worth buying up to {} a ton delivered, {} at the seller's gate (haul {}).",
            price(delivered),
            price(gate),
            price(report.freight_usd_per_ton)
        ),
        (Some(delivered), _) => format!("Worth buying up to {} a ton delivered.", price(delivered)),
        (None, _) if report.lowest_usd_per_ton > 0.0 => format!(
            "None is bought at any price from {} up, what a ton already owned would sell for.",
            price(report.lowest_usd_per_ton)
        ),
        (None, _) => "None is bought at any price, not even free.".to_owned(),
    }
}

fn at_words(report: &WorthReport, at: &WorthAt) -> String {
    let mut text = if at.tons_most <= 0.0 {
        let down = report.break_even_delivered_usd_per_ton.map_or_else(String::new, |break_even| {
            format!("; it must come down {} to be bought", price(at.usd_per_ton - break_even))
        });
        format!("At {} delivered: none{down}.", price(at.usd_per_ton))
    } else if at.tie {
        format!(
            "At {} delivered the price is a break: {} to {} tons all cost the same.",
            price(at.usd_per_ton),
            figure_text(at.tons_least, 1),
            figure_text(at.tons_most, 1)
        )
    } else {
        format!("At {} delivered: {} tons.", price(at.usd_per_ton), span(at.tons_least, at.tons_most, 1))
    };
    let _ = write!(text, " The winter costs {}", usd(at.winter_usd));
    match at.saves_usd {
        Some(saves) if saves > 0.5 => {
            let _ = write!(text, "; without it {} more", usd(saves));
            if !at.without_it.is_empty() {
                let _ = write!(text, " (tons: {})", change_words(&at.without_it));
            }
            text.push('.');
        }
        _ => text.push('.'),
    }
    text
}

fn notes(report: &WorthReport, left_out: usize) -> String {
    let mut text = "At a price that ends one row and begins the next both are cheapest and cost the same. Pounds are as \
                    fed per head and day, the mean of the winter; tons are over the winter. Every figure is that of the \
                    least-cost winter; rations are not made steadier here."
        .to_owned();
    if report.rows.iter().any(|row| (row.tons_at_from - row.tons_at_to).abs() > 0.05) || left_out > 0 {
        text.push_str(" Where two figures stand, the amount falls from one to the other as the price rises.");
    }
    if left_out > 0 {
        let _ = write!(text, " Steps close to each other are shown as one: `--all` prints all {}.", report.rows.len());
    }
    if report.on_hand_tons > 0.0 {
        let _ = write!(
            text,
            " Tons are what is bought on top of the {} on hand; pounds count both. Below {} a ton owned feed would be \
             sold, so the table starts there.",
            figure_text(report.on_hand_tons, 1),
            price(report.lowest_usd_per_ton)
        );
    }
    if report.whole_loads {
        text.push_str(" The file asks for whole loads; this table counts part loads.");
    }
    if !report.in_file {
        let _ = write!(
            text,
            " {} is not in the herd file: it is taken from the feed table, with the usual loss and waste for its kind, \
             delivered, measured out by hand.",
            report.feed
        );
    }
    text
}

/// The tables as CSV, a line for each step and group.
#[must_use]
pub fn csv(reports: &[WorthReport]) -> String {
    let header = [
        "feed",
        "from_usd_per_ton",
        "to_usd_per_ton",
        "tons_at_from",
        "tons_at_to",
        "winter_usd_at_from",
        "winter_usd_at_to",
        "group",
        "lb_as_fed_per_head_day_at_from",
        "lb_as_fed_per_head_day_at_to",
        "above_tons",
    ];
    let rows = reports.iter().flat_map(|report| {
        report.rows.iter().flat_map(move |row| {
            row.groups.iter().map(move |group| {
                let above: Vec<String> =
                    row.above.iter().map(|change| format!("{} {:+.3}", change.feed, change.tons)).collect();
                vec![
                    report.feed.clone(),
                    format!("{:.4}", row.from_usd_per_ton),
                    row.to_usd_per_ton.map_or_else(String::new, |to| format!("{to:.4}")),
                    format!("{:.4}", row.tons_at_from),
                    format!("{:.4}", row.tons_at_to),
                    format!("{:.2}", row.winter_usd_at_from),
                    format!("{:.2}", row.winter_usd_at_to),
                    group.group.clone(),
                    format!("{:.4}", group.lb_at_from),
                    format!("{:.4}", group.lb_at_to),
                    above.join("; "),
                ]
            })
        })
    });
    csv_table(&header, rows)
}
