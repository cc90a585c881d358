//! How far prices and requirements can move, as a page.

use super::grid::paragraph;
use super::ranges::{PriceEndLine, PriceLine, RangesReport, SideEndLine, SideLine};
use super::text::{short_name, usd};
use crate::limit::figure_text;
use std::fmt::Write as _;

/// The page.
#[must_use]
pub fn page(report: &RangesReport) -> String {
    let mut out =
        String::from("RANGES: how far each figure alone can move before the least-cost winter changes its kind\n");
    let tie = match report.unique {
        Some(true) => "No other winter costs as little.",
        Some(false) => "Another winter costs the same: feeds tie, and a range may end where the other plan takes over.",
        None => "Whether another winter costs the same was not settled.",
    };
    out.push_str(&paragraph(
        "",
        &format!(
            "Least cost, in part loads and before steadiness: {}. {tie} Each end says what the winter costs there and what changes beyond.",
            usd(report.winter_usd)
        ),
    ));
    out.push_str("\nPRICES, $ per short ton delivered: the same feeds are fed and the same limits bind\n");
    for price in &report.prices {
        price_words(&mut out, price);
    }
    if !report.prices_not_proved.is_empty() {
        let words = format!("Left out, since it could not be proved: {}.", report.prices_not_proved.join(", "));
        out.push_str(&paragraph("   ", &words));
    }
    out.push_str("\nREQUIREMENTS: what one unit more costs (−: saves), and between which figures that holds\n");
    let mut of = "";
    for line in &report.requirements {
        let group = line.group.as_deref().unwrap_or("stores");
        if group != of {
            let per = if line.group.is_some() { "$ per head and day" } else { "$ for the winter" };
            let _ = writeln!(out, " {group}, {per}");
            of = group;
        }
        side_words(&mut out, line);
    }
    out.push_str(&paragraph(
        "",
        "Limits on shares of the diet are taken at the dry matter of the plan. Where cattle grow, the split between keeping and growing \
         bends the programme: the price of their energy is told, its range is not, and tons may slide within a range.",
    ));
    out
}

fn price_words(out: &mut String, price: &PriceLine) {
    let to = |end: &PriceEndLine, open: &str| end.usd_per_ton.map_or_else(|| open.to_owned(), |at| figure_text(at, 2));
    let tied = if price.tied { "; at this price two plans cost the same" } else { "" };
    out.push_str(&paragraph(
        "   ",
        &format!(
            "{} {}: from {} to {}, {} tons bought{tied}",
            price.feed,
            figure_text(price.usd_per_ton, 2),
            to(&price.down, "any lower price"),
            to(&price.up, "any higher price"),
            figure_text(price.tons, 1)
        ),
    ));
    for (end, word) in [(&price.down, "below"), (&price.up, "above")] {
        let Some(at) = end.usd_per_ton else { continue };
        let list = |sign: f64| -> Vec<String> {
            let some = end.beyond.iter().filter(|one| one.tons * sign > 0.0).take(3);
            some.map(|one| format!("{} {}", one.feed, tons_words(one.tons.abs()))).collect()
        };
        out.push_str(&paragraph(
            "     ",
            &format!(
                "{word} {}, where the winter costs {}: {}",
                figure_text(at, 2),
                usd(end.winter_usd),
                parts(&[("more of", list(1.0)), ("less of", list(-1.0))])
            ),
        ));
    }
}

fn tons_words(tons: f64) -> String {
    format!("{} t", figure_text(tons, if tons < 10.0 { 2 } else { 1 }))
}

/// Lists with a word before each; `no feed changes` where all are empty.
fn parts(lists: &[(&str, Vec<String>)]) -> String {
    let told: Vec<String> = lists
        .iter()
        .filter(|(_, list)| !list.is_empty())
        .map(|(word, list)| format!("{word} {}", list.join(", ")))
        .collect();
    if told.is_empty() { "no feed changes by more than dust".to_owned() } else { told.join("; ") }
}

fn side_words(out: &mut String, line: &SideLine) {
    let digits = line.digits + 1;
    let figure = |value: f64| figure_text(value, digits);
    let money = |value: f64| figure_text(value, if value.abs() < 0.1 { 4 } else { 2 });
    let when = line.period.as_ref().map_or_else(String::new, |period| format!("{} ", short_name(period)));
    let price = match (line.usd_per_unit_less, line.usd_per_unit_more) {
        (Some(less), Some(more)) => {
            let one = |value: f64, word: &str| {
                if value.is_finite() { format!("{} one {word}", money(value)) } else { format!("one {word} cannot be") }
            };
            format!("at a corner: {}, {}", one(less, "less"), one(more, "more"))
        }
        _ => money(line.usd_per_unit),
    };
    let (Some(down), Some(up)) = (&line.down, &line.up) else {
        out.push_str(&paragraph(
            "   ",
            &format!("{when}{}, {} {}: {price}", line.title, figure(line.figure), line.unit),
        ));
        return;
    };
    let to = |end: &SideEndLine| end.figure.map_or_else(|| "no end".to_owned(), &figure);
    out.push_str(&paragraph(
        "   ",
        &format!(
            "{when}{}, {} {}: {price}, from {} to {}",
            line.title,
            figure(line.figure),
            line.unit,
            to(down),
            to(up)
        ),
    ));
    for (end, word) in [(down, "below"), (up, "above")] {
        let Some(at) = end.figure else { continue };
        let some = |list: &[String]| -> Vec<String> {
            let mut told: Vec<String> = list.iter().take(3).cloned().collect();
            if list.len() > 3 {
                told.push(format!("{} more", list.len() - 3));
            }
            told
        };
        let words = if end.is_last {
            "nothing meets the needs".to_owned()
        } else {
            let price = end.usd_per_unit_beyond.map_or_else(String::new, |price| format!("then {}; ", money(price)));
            format!(
                "{price}{}",
                parts(&[
                    ("comes in", some(&end.comes_in)),
                    ("goes out", some(&end.goes_out)),
                    ("binds", some(&end.binds)),
                    ("comes free", some(&end.frees)),
                ])
            )
        };
        out.push_str(&paragraph(
            "     ",
            &format!("{word} {}, where the winter costs {}: {words}", figure(at), usd(end.winter_usd)),
        ));
    }
}
