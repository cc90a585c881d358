//! The page when there is no plan: what cannot all hold, by how much, and the smallest single ways out.

use super::grid::{grid, paragraph};
use crate::limit::{Force, figure_text};
use crate::winter::{Case, Short, Shortfall};
use std::fmt::Write as _;

/// The page.
#[must_use]
pub fn page(case: &Case, short: &Short) -> String {
    let mut out = String::new();
    let place = if case.place.name.is_empty() { "This winter" } else { &case.place.name };
    let _ = writeln!(out, "{place}: no ration can meet it");
    out.push_str(&paragraph(
        "",
        "With these feeds the needs and limits below cannot all hold. When everything that can be met is met, this is what is missing:",
    ));
    out.push_str(&table(case, &short.shortfalls));
    if !short.ways_out.is_empty() {
        out.push_str("\nOne change that alone would make a plan possible, the smallest first:\n");
        for way in &short.ways_out {
            let group = &case.groups[way.group].name;
            let period = &case.periods[way.period].label;
            let advice = if way.force == Force::Need {
                "ask for less, or offer a feed that brings it".to_owned()
            } else if way.rule.starts_with("your-") {
                "change your own amount".to_owned()
            } else {
                format!("set `{}` under `limits:` with `because:`", way.rule)
            };
            out.push_str(&paragraph(
                "  - ",
                &format!(
                    "{group}, {period}: {} {} {} instead of {}: {advice}.",
                    way.title,
                    figure_text(way.reached, way.digits),
                    way.unit,
                    figure_text(way.limit, way.digits)
                ),
            ));
        }
    }
    out.push_str(&paragraph(
        "",
        "Other ways: offer another feed, buy what is owned only in part, plan for condition to come off (`condition_wanted`), or sell head.",
    ));
    out
}

fn table(case: &Case, list: &[Shortfall]) -> String {
    let rows: Vec<Vec<String>> = list
        .iter()
        .map(|short| {
            vec![
                format!("  {}", case.groups[short.group].name),
                case.periods[short.period].label.clone(),
                short.title.clone(),
                figure_text(short.short, short.digits.max(1)),
                figure_text(short.limit, short.digits),
                short.unit.to_owned(),
            ]
        })
        .collect();
    let header = ["", "when", "what", "missed by", "asked", "unit"].map(str::to_owned);
    grid(3, &header, &rows)
}
