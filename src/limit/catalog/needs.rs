//! Needs: energy and protein.

use super::{LB, NEED, NRC1996, PCT, all};
use crate::limit::Block;
use crate::limit::measure::Measure;
use crate::limit::rule::{Figure, Rule};
use crate::source::{Cite, Origin};

fn energy(block: &Block<'_>) -> Option<f64> {
    (block.replaced.tdn_kg.is_none() && block.needs.neg_mcal <= 0.0).then(|| block.nem_need())
}
fn growth(block: &Block<'_>) -> Option<f64> {
    (block.replaced.tdn_kg.is_none() && block.needs.neg_mcal > 0.0).then_some(block.needs.neg_mcal)
}
fn tdn(block: &Block<'_>) -> Option<f64> {
    block.replaced.tdn_kg.map(|kg| kg * LB)
}
#[expect(clippy::unnecessary_wraps, reason = "one signature for every `Figure::Of`")]
fn crude_protein(block: &Block<'_>) -> Option<f64> {
    Some(block.replaced.cp_kg.unwrap_or(block.needs.cp_g / 1000.0) * LB)
}
fn mp(block: &Block<'_>) -> Option<f64> {
    match (block.replaced.mp_g, block.replaced.cp_kg) {
        (Some(given), _) => Some(given),
        (None, Some(_)) => None,
        (None, None) => Some(block.needs.mp.total_g()),
    }
}

/// Protein of the whole diet below which the rumen slows, % of DM.
pub const PROTEIN_FLOOR_PCT: f64 = 7.0;

/// In the order of the page.
pub(super) const RULES: [Rule; 7] = [
    Rule {
        id: "energy",
        title: "energy",
        unit: "Mcal NEm",
        digits: 1,
        over: Measure::Nem,
        figure: Figure::Of(energy),
        cite: Cite::new(NRC1996, "ch. 10; maintenance, pregnancy, milk, cold, condition", Origin::MemoryChecked),
        why: "short of energy cattle live off their backs: they lose condition, and thin cows breed late or not at all",
        remedy: "feed more of the cheapest energy that the limits allow, or plan for the condition they may lose",
        ..NEED
    },
    Rule {
        id: "growth",
        title: "energy for growth",
        unit: "Mcal NEg",
        digits: 2,
        over: Measure::Retained,
        figure: Figure::Of(growth),
        cite: Cite::new(NRC1996, "ch. 3 and 10; a share of the mix maintains, the rest grows", Origin::MemoryChecked),
        why: "what is left after maintenance makes the gain",
        remedy: "feed a denser mix, or ask for less gain",
        ..NEED
    },
    Rule {
        id: "tdn",
        title: "TDN",
        unit: "lb",
        digits: 1,
        over: Measure::Tdn,
        scale: LB,
        figure: Figure::Of(tdn),
        cite: Cite::new("", "herd file", Origin::Given),
        why: "the requirement you gave in place of net energy",
        remedy: "change `needs_override`",
        ..NEED
    },
    Rule {
        id: "crude-protein",
        title: "crude protein",
        unit: "lb",
        digits: 2,
        over: Measure::Cp,
        scale: LB,
        figure: Figure::Of(crude_protein),
        cite: Cite::new("uark_mp391", "CP = metabolizable protein / 0.67", Origin::Published),
        why: "protein feeds the rumen first; short of it cattle eat and digest less",
        remedy: "add the cheapest pound of protein: cubes, meal, seed or distillers feed",
        ..NEED
    },
    Rule {
        id: "protein-by-energy",
        title: "metabolizable protein, microbes limited by energy",
        unit: "g",
        digits: 0,
        over: Measure::MpByEnergy,
        figure: Figure::Of(mp),
        cite: Cite::new(
            NRC1996,
            "microbial protein 13 % of TDN, 0.64 of it and 0.80 of undegraded protein used",
            Origin::Memory,
        ),
        why: "the protein that reaches the animal's own tissues",
        remedy: "more energy, or protein that passes the rumen",
        ..NEED
    },
    Rule {
        id: "protein-by-degradable",
        title: "metabolizable protein, microbes limited by degradable protein",
        unit: "g",
        digits: 0,
        over: Measure::MpByDegradable,
        figure: Figure::Of(mp),
        cite: Cite::new(NRC1996, "microbes make no more protein than they get degradable", Origin::Memory),
        why: "the protein that reaches the animal's own tissues",
        remedy: "more degradable protein: seed, meal, alfalfa",
        ..NEED
    },
    Rule {
        id: "protein-floor",
        title: "crude protein of the whole diet",
        unit: "% of DM",
        digits: 1,
        over: Measure::Cp,
        per: Measure::OrganicDm,
        scale: PCT,
        figure: Figure::ByClass(all(PROTEIN_FLOOR_PCT)),
        cite: Cite::new(
            "sprinkle_az9523",
            "7 % for rumen microbes; intake falls sharply below 6.25 %",
            Origin::Published,
        ),
        why: "below it the rumen slows, cattle eat less, and dry stemmy feed can pack in them",
        remedy: "add protein",
        ..NEED
    },
];
