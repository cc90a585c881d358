//! Calcium, phosphorus and sulfur.

use super::{BASE, NEED, NEVER, NRC1996, PCT, all};
use crate::limit::Block;
use crate::limit::measure::Measure;
use crate::limit::rule::{Figure, Rule, Sense};
use crate::source::{Cite, Origin};

#[expect(clippy::unnecessary_wraps, reason = "one signature for every `Figure::Of`")]
fn calcium(block: &Block<'_>) -> Option<f64> {
    Some(block.replaced.ca_g.unwrap_or_else(|| block.needs.ca.total_g()))
}
#[expect(clippy::unnecessary_wraps, reason = "one signature for every `Figure::Of`")]
fn phosphorus(block: &Block<'_>) -> Option<f64> {
    Some(block.replaced.p_g.unwrap_or_else(|| block.needs.p.total_g()))
}

/// In the order of the page.
pub(super) const RULES: [Rule; 6] = [
    Rule {
        id: "calcium",
        title: "calcium",
        unit: "g",
        digits: 0,
        over: Measure::Ca,
        figure: Figure::Of(calcium),
        cite: Cite::new(NRC1996, "ch. 5", Origin::MemoryChecked),
        why: "cottonseed, grain and meal are low in calcium",
        remedy: "limestone, a high-calcium mineral, alfalfa or gin trash",
        ..NEED
    },
    Rule {
        id: "phosphorus",
        title: "phosphorus",
        unit: "g",
        digits: 0,
        over: Measure::P,
        figure: Figure::Of(phosphorus),
        cite: Cite::new(NRC1996, "ch. 5", Origin::MemoryChecked),
        why: "dead grass and straw hold little",
        remedy: "a mineral with phosphorus, or a protein feed",
        ..NEED
    },
    Rule {
        id: "calcium-to-phosphorus-least",
        title: "calcium to phosphorus, least",
        unit: ": 1",
        digits: 1,
        over: Measure::Ca,
        per: Measure::P,
        sense: Sense::AtLeast,
        figure: Figure::ByClass(all(1.2)),
        cite: Cite::new("mullenix_auburn", "at least 1:1; 1.2 as a working floor from memory", Origin::Memory),
        why: "too little calcium beside phosphorus: stones in steers, milk fever in cows",
        remedy: "add limestone",
        ..BASE
    },
    Rule {
        id: "calcium-to-phosphorus-most",
        title: "calcium to phosphorus, most",
        unit: ": 1",
        digits: 1,
        over: Measure::Ca,
        per: Measure::P,
        figure: Figure::ByClass(all(7.0)),
        cite: Cite::new(NRC1996, "p. 56: 1:1 to 7:1 performs alike", Origin::Memory),
        why: "beyond it phosphorus is used badly",
        remedy: "less limestone, or add phosphorus",
        ..BASE
    },
    Rule {
        id: "sulfur",
        title: "sulfur, water counted",
        unit: "% of DM",
        digits: 2,
        over: Measure::Sulfur,
        per: Measure::OrganicDm,
        scale: 0.1,
        figure: Figure::ByClass(all(0.50)),
        cite: Cite::new(
            "nrc2005_minerals",
            "0.50 % where forage is over 40 % of the diet (the figure from memory)",
            Origin::Memory,
        ),
        why: "too much sulfur can cause polio (brain softening) and ties up copper and selenium",
        remedy: "less distillers or gluten feed, other water; test the water for sulfate",
        ..NEVER
    },
    Rule {
        id: "sulfur-with-little-forage",
        title: "sulfur where forage is scarce",
        unit: "% of what is allowed",
        digits: 0,
        over: Measure::Sulfur,
        per: Measure::SulfurRoom,
        scale: PCT,
        figure: Figure::ByClass(all(100.0)),
        cite: Cite::new(
            "nrc2005_minerals",
            "0.30 % under 15 % forage, rising to 0.50 % at 40 %; the straight line between is judgement; a plan keeps to it below 15 % too, where it is stricter, a check counts 0.30 %",
            Origin::Judgement,
        ),
        why: "grain diets bring out sulfur polio sooner than hay diets",
        remedy: "more roughage, less sulfur",
        ..NEVER
    },
];
