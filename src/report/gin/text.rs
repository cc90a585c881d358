//! The page of a gin: what to ask, of whom, when the pile is full, how far it hauls, and what to tell.

use super::market::{curve, neighbors};
use super::model::{GinReport, Outcome, ProductReport};
use super::sheet;
use super::supply::supply;
use super::units::Units;
use crate::gin::product::NOWHERE;
use crate::limit::figure_text;
use crate::report::page::Page;
use crate::report::text::usd;
use std::fmt::Write as _;

/// Tons below this are none.
const SOLD_TONS: f64 = 1e-6;

/// The page.
#[must_use]
pub fn page(report: &GinReport, units: Units) -> String {
    sections(report, units).text()
}

/// The page as data.
#[must_use]
pub fn sections(report: &GinReport, units: Units) -> Page {
    let season = report.season_of.as_ref().map_or("its own weeks".to_owned(), |region| {
        let behind = if report.behind_weeks > 0.0 {
            format!(", {} weeks behind", figure_text(report.behind_weeks, 0))
        } else {
            String::new()
        };
        format!("season of the {region}{behind}")
    });
    let wet = if report.wet_harvest { ", wet harvest" } else { "" };
    let rest = format!(": {} bales, {}, {season}{wet}", figure_text(report.bales, 0), report.harvest);
    let mut page = Page::new(&report.gin, rest);
    page.section("answer", "The answer", "");
    for product in &report.products {
        answer(&mut page, product, units);
    }
    bale(&mut page, report, units);
    yard(&mut page, report, units);
    supply(&mut page, report, units);
    for (index, product) in report.products.iter().enumerate() {
        neighbors(&mut page, product, index == 0, units);
    }
    for product in &report.products {
        curve(&mut page, product, units);
    }
    sheets(&mut page, report, units);
    radius(&mut page, report, units);
    handling(&mut page, report, units);
    telling(&mut page, report);
    assumed(&mut page, report);
    page
}

fn names(product: &ProductReport) -> String {
    let of = |least: f64| -> Vec<&str> {
        product.neighbors.iter().filter(|one| one.tons >= least).map(|one| one.name.as_str()).collect()
    };
    let buyers = of(0.5);
    if buyers.is_empty() { of(SOLD_TONS) } else { buyers }.join(", ")
}

/// Tons that are there or sold, with hundredths where there is less than half of one.
fn some(tons: f64, units: Units) -> String {
    units.tons(tons, if tons < 0.5 { 2 } else { 0 })
}

fn answer(page: &mut Page, product: &ProductReport, units: Units) {
    let at = &product.at_ask;
    let mut text = format!("{}: {} tons this season. ", capital(product.product), some(product.season_tons, units));
    if !product.do_not_sell.is_empty() {
        text.push_str("NO PRICE: as it is it may not be sold as feed.");
        page.words("  ", text);
        sheet::add_wrong(page, &product.do_not_sell, &product.warnings);
        let money = format!(
            "{} over the season only if the other outlets take it as it is; tell them what is known.",
            usd(at.net_usd)
        );
        page.words("    ", money);
        page.words("    ", where_it_goes(product, at, units));
        return;
    }
    match product.ask_usd_per_ton {
        Some(ask) if ask >= 0.0 => {
            let _ = write!(
                text,
                "ASK {} a {} at the gin: {} tons to {}.",
                units.per_ton(ask),
                units.ton(),
                some(at.sold_tons, units),
                names(product)
            );
            text.push_str(&a_cent_more(product, ask, units));
        }
        Some(ask) => {
            let _ = write!(
                text,
                "PAY {} a {} to have it taken: {} tons by {}.",
                units.per_ton(-ask),
                units.ton(),
                some(at.sold_tons, units),
                names(product)
            );
        }
        None if product.neighbors.is_empty() => text.push_str(&nobody(product)),
        None => text.push_str(&none_near(product, units)),
    }
    page.words("  ", text);
    sheet::add_wrong(page, &[], &product.warnings);
    let more = at.net_usd - product.without_neighbors.net_usd;
    let mut money = format!("It nets {} over the season", usd(at.net_usd));
    if product.ask_usd_per_ton.is_some() {
        let _ =
            write!(money, ", {} more than without neighbors ({})", usd(more), usd(product.without_neighbors.net_usd));
    }
    money.push('.');
    if let Some(now) = &product.at_asked_now {
        let _ = write!(
            money,
            " At the {} asked now: {} tons sold, {}.",
            units.per_ton(now.usd_per_ton),
            units.tons(now.sold_tons, 0),
            usd(now.net_usd)
        );
    }
    page.words("    ", money);
    page.words("    ", where_it_goes(product, at, units));
    around(page, product, units);
}

/// What a few dollars either way sell and net, and how far to trust the tons.
fn around(page: &mut Page, product: &ProductReport, units: Units) {
    let Some(ask) = product.ask_usd_per_ton else { return };
    let header = ["$ at the gin", "ask", "tons sold", "season nets"].map(str::to_owned);
    let rows: Vec<Vec<String>> = product
        .around_ask
        .iter()
        .map(|point| {
            let more = point.usd_per_ton - ask;
            let apart = if more.abs() < 0.005 { "the ask".to_owned() } else { units.per_ton_apart(more) };
            vec![units.per_ton(point.usd_per_ton), apart, units.tons(point.sold_tons, 0), usd(point.net_usd)]
        })
        .collect();
    let caption = format!("{} at a few dollars a {} less and more", capital(product.product), units.full_ton());
    page.table(caption, 0, &header, &rows);
    page.words(
        "    ",
        "These tons are of each neighbor's cheapest winter to the last cent. The plan that `overwinter plan` prints for him \
         gives up half a percent (his `steady_pct`) for steadier rations and may buy less. The ask stands at the edge of a \
         step: a little lower is safer.",
    );
}

/// Why nobody is asked.
fn nobody(product: &ProductReport) -> String {
    if product.not_asked.is_empty() {
        return "No neighbors are given.".to_owned();
    }
    let each: Vec<String> = product.not_asked.iter().map(|one| format!("{} ({})", one.name, one.why)).collect();
    format!("None of the neighbors given can be counted: {}.", each.join("; "))
}

/// Why nothing is sold near.
fn none_near(product: &ProductReport, units: Units) -> String {
    let best = product.without_neighbors.elsewhere.iter().map(|one| one.usd_per_ton).fold(f64::NEG_INFINITY, f64::max);
    let highest = product.highest_looked_at_usd_per_ton;
    if product.neighbors.iter().all(|one| one.most_tons < 1e-6) {
        return format!(
            "SELL NONE NEAR: no neighbor would use a load of {} tons on the days it is sold, at any price.",
            units.tons(product.tons_per_load, 0)
        );
    }
    if highest < best + product.loading_usd_per_ton {
        return format!(
            "SELL NONE NEAR: no price up to {}, the highest looked at, nets as much as it brings elsewhere.",
            units.per_ton(highest)
        );
    }
    "SELL NONE NEAR: no neighbor pays more for a load than it brings elsewhere.".to_owned()
}

/// What the next price at which anything changes would sell.
fn a_cent_more(product: &ProductReport, ask: f64, units: Units) -> String {
    let next = product.demand.iter().find(|point| point.usd_per_ton > ask + 1e-9);
    match next.filter(|point| product.at_ask.sold_tons - point.sold_tons >= 1.0) {
        Some(point) => format!(" Above that {} tons.", units.tons(point.sold_tons, 0)),
        None => String::new(),
    }
}

fn where_it_goes(product: &ProductReport, at: &Outcome, units: Units) -> String {
    let mut text = match (&at.overflows_in_week_of, product.room_tons) {
        (Some(week), Some(room)) => format!(
            "The pile of {} tons is full in the week of {week}; {} tons must go after that.",
            units.tons(room, 0),
            units.tons(at.overflow_tons, 0)
        ),
        (_, Some(room)) => format!(
            "The pile never fills: {} tons at most of the {} there is room for.",
            units.tons(at.largest_pile_tons, 0),
            units.tons(room, 0)
        ),
        (_, None) => {
            format!("The largest pile is {} tons; no limit of room is given.", units.tons(at.largest_pile_tons, 0))
        }
    };
    let away: Vec<String> = at
        .elsewhere
        .iter()
        .filter(|one| one.tons >= 0.5)
        .map(|one| {
            let tons = units.tons(one.tons, 0);
            if one.outlet == NOWHERE {
                return format!("{tons} tons left over, for which no price is given");
            }
            let own = if one.given { "" } else { ", not given" };
            format!("{tons} tons to {} at {}{own}", one.outlet.replace('_', " "), units.per_ton(one.usd_per_ton))
        })
        .collect();
    if !away.is_empty() {
        let _ = write!(text, " Elsewhere: {}.", away.join("; "));
    }
    if at.lost_tons >= 0.5 {
        let _ = write!(
            text,
            " The pile loses {} tons, at no cost here: clear away what rots.",
            units.tons(at.lost_tons, 0)
        );
    }
    if product.neighbors.is_empty() {
        return text;
    }
    match product.clears_usd_per_ton {
        Some(price) => {
            let _ = write!(text, " All of it would sell at {} or less.", units.per_ton(price));
        }
        None => text.push_str(" At no price do these neighbors take all of it."),
    }
    text
}

pub(in crate::report) fn capital(word: &str) -> String {
    let mut chars = word.chars();
    chars.next().map_or(String::new(), |first| first.to_uppercase().chain(chars).collect())
}

fn bale(page: &mut Page, report: &GinReport, units: Units) {
    page.section("bale", "A bale", format!(", {}", units.pound()));
    let header = ["", "usual", "from", "to", "of seed cotton"].map(str::to_owned);
    let mut rows: Vec<Vec<String>> = report
        .bale
        .parts
        .iter()
        .map(|part| {
            let ranged = (part.high_lb - part.low_lb).abs() > 0.5;
            let end = |lb: f64| if ranged { units.lb(lb) } else { String::new() };
            let share = format!("{} %", figure_text(part.lb / report.bale.seed_cotton_lb * 100.0, 1));
            vec![part.part.to_owned(), units.lb(part.lb), end(part.low_lb), end(part.high_lb), share]
        })
        .collect();
    let bale = &report.bale;
    let ranged = bale.seed_cotton_high_lb - bale.seed_cotton_low_lb > 0.5;
    let end = |lb: f64| if ranged { units.lb(lb) } else { String::new() };
    rows.push(vec![
        "seed cotton".to_owned(),
        units.lb(bale.seed_cotton_lb),
        end(bale.seed_cotton_low_lb),
        end(bale.seed_cotton_high_lb),
        String::new(),
    ]);
    let labels: Vec<String> = report
        .bale
        .parts
        .iter()
        .map(|part| {
            let source =
                [part.source, part.place].into_iter().filter(|text| !text.is_empty()).collect::<Vec<_>>().join(", ");
            if source.is_empty() {
                format!("{} {}", part.part, part.origin.words())
            } else {
                format!("{} {source} ({})", part.part, part.origin.words())
            }
        })
        .collect();
    page.table("What a bale comes from", 1, &header, &rows);
    let motes = if report.motes_tons > 0.0 {
        format!(
            " Motes of the season: {} tons, most often worth more as fiber than as feed.",
            units.tons(report.motes_tons, 0)
        )
    } else {
        String::new()
    };
    page.words(
        "  ",
        format!(
            "Turnout {} %, {} of seed for each of lint.{motes} From: {}.",
            figure_text(bale.turnout_pct, 1),
            figure_text(bale.seed_to_lint, 2),
            labels.join("; ")
        ),
    );
}

fn yard(page: &mut Page, report: &GinReport, units: Units) {
    let Some(yard) = &report.yard else { return };
    let mut text = format!(
        "{} round modules: {} bales to come ({} to {}), with {} tons of seed and {} of trash.",
        figure_text(yard.round_modules, 0),
        figure_text(yard.bales, 0),
        figure_text(yard.bales_low, 0),
        figure_text(yard.bales_high, 0),
        units.tons(yard.seed_tons, 0),
        units.tons(yard.trash_tons, 0)
    );
    if let Some(weeks) = yard.weeks_to_gin {
        let _ = write!(text, " At the rate given that is {} weeks of ginning.", figure_text(weeks, 1));
    }
    if let Some(weeks) = yard.waiting_weeks {
        let _ = write!(text, " A module waits {} weeks; four to eight are common practice.", figure_text(weeks, 0));
    }
    page.section("yard", "On the yard", "");
    page.words("  ", text);
}

fn sheets(page: &mut Page, report: &GinReport, units: Units) {
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

fn radius(page: &mut Page, report: &GinReport, units: Units) {
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
                units.miles(row.miles_at_ask_first),
                units.miles(row.miles_at_fallback),
            ]);
        }
        if let (Some(half), Some(first)) = (product.delivered_half_usd_per_ton, product.delivered_first_usd_per_ton) {
            let some = if product.neighbors.iter().any(|one| one.buys_at_any_price) { "at least " } else { "" };
            let two = product.two_prices_usd_per_ton.filter(|_| product.product == "trash").map_or(String::new(), |usd| {
                format!(
                    " (not the {} that the prices of energy and protein in corn and distillers grain would make it: they charge a roughage nothing for the room it takes)",
                    units.per_ton(usd)
                )
            });
            worth.push(format!(
                "{} is worth {} delivered for half of what the herds would take, {some}{} for the first load of the keenest buyer{two}",
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
        "1st load",
        "at the fallback, half",
    ]
    .map(str::to_owned);
    page.section("radius", "How far it hauls", format!(", {}", units.mile()));
    page.table(format!("How far it hauls, {}", units.mile()), 1, &header, &rows);
    page.words(
        "  ",
        format!(
                "By the least-cost winters of the herds, {}. At the fallback the sale nets no more than the next-best outlet. What the buyer loses and wastes is in the worth. Hauls are by full loads. Other gins are not counted: a neighbor who can buy nearer or cheaper will.",
                worth.join("; ")
        ),
    );
}

fn handling(page: &mut Page, report: &GinReport, units: Units) {
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
                 the waste of a bunk, and ground trash is dusty for cattle and people: grind it coarse and damp it (from memory).{point} Grinding or mixing may change what the law asks of you."
        ),
    );
}

fn telling(page: &mut Page, report: &GinReport) {
    page.section("telling", "What to tell them", "");
    for paper in &report.papers {
        for saying in paper.sayings.iter().take(paper.sayings.len() - 2) {
            page.item(format!("{}: {saying}", capital(paper.product)));
        }
        sheet::add_missing(page, paper);
    }
    if let Some(paper) = report.papers.first() {
        for saying in paper.sayings.iter().skip(paper.sayings.len() - 2) {
            page.item(*saying);
        }
    }
    page.words("  ", "`--ticket` prints the delivery slips, `--buyer-sheet` the sheets with figures and sources.");
}

fn assumed(page: &mut Page, report: &GinReport) {
    if report.assumed.is_empty() {
        return;
    }
    page.section("assumed", "Taken because the file does not say", "");
    for one in &report.assumed {
        page.item(one);
    }
}
