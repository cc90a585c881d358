//! What is eaten of a ration as it is written: of roughage at will less, where the diet is short of protein.

use crate::feed::{FedHow, Offer};
use crate::limit::caution::{Finding, POOR_PROTEIN_INTAKE, PROTEIN_FORGIVEN_PCT};
use crate::limit::{Block, Measure, figure_text};
use crate::need::intake::{ENOUGH_PROTEIN_PCT, POOR_PROTEIN_INTAKE_PCT, POOR_PROTEIN_PCT, share_eaten_on_poor_protein};
use crate::quantity::lb_from_kg;

/// A ration of which less is eaten than is written.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// What is eaten, kg of dry matter by offer.
    pub kg_dm: Vec<f64>,
    /// Roughages at will in the ration, by offer.
    at_will: Vec<usize>,
    /// Their dry matter as written and as eaten, kg.
    roughage_kg: (f64, f64),
    /// Crude protein of the diet as eaten, % of dry matter without minerals.
    cp_pct: f64,
}

impl Cut {
    /// What to know of it, with figures.
    pub(super) fn finding(&self, offers: &[Offer]) -> Finding {
        let names: Vec<&str> = self.at_will.iter().map(|index| offers[*index].id.as_str()).collect();
        let lb = |kg: f64| figure_text(lb_from_kg(kg), 1);
        let (written, eaten) = self.roughage_kg;
        Finding {
            caution: &POOR_PROTEIN_INTAKE,
            text: format!(
                "On {:.1} % protein they will eat about {} lb of dry matter of {}, not the {} written: {ENOUGH_PROTEIN_PCT:.0} % is enough, at \
                 {POOR_PROTEIN_PCT:.0} % cattle eat about {POOR_PROTEIN_INTAKE_PCT} % of body weight. Needs, energy and condition here are \
                 those of what they eat; the cost is that of what is written.",
                self.cp_pct,
                lb(eaten),
                names.join(" and "),
                lb(written)
            ),
        }
    }
}

/// What is eaten of a ration, kg of dry matter per head and day by offer; `None` where all of it is.
///
/// Where the diet holds less than 7 % crude protein (a tenth of a point is forgiven), the roughages at will fill no more
/// than [`share_eaten_on_poor_protein`] of the room they would, less what hand-fed feeds take of it. What is written may
/// be less than that anyway, and is then eaten. The protein is that of the diet as eaten: with the roughage cut, what is
/// fed by hand is more of the whole, so the share is looked for by halving.
#[must_use]
pub fn cut(block: &Block<'_>, offers: &[Offer], kg_dm: &[f64]) -> Option<Cut> {
    let base = block.base.as_ref()?;
    let is_at_will = |index: usize| {
        offers[index].fed_for(&block.group.name) == FedHow::FreeChoice && offers[index].feed.class.is_roughage()
    };
    let at_will: Vec<usize> = (0..offers.len()).filter(|index| is_at_will(*index) && kg_dm[*index] > 0.0).collect();
    let eaten = |share: f64| -> Vec<f64> {
        kg_dm.iter().enumerate().map(|(index, kg)| if is_at_will(index) { share * kg } else { *kg }).collect()
    };
    let total = |measure: Measure, kg_dm: &[f64]| -> f64 {
        offers
            .iter()
            .zip(kg_dm)
            .enumerate()
            .map(|(index, (offer, kg))| measure.per_kg_dm(index, &offer.feed, block).map_or(0.0, |value| value * kg))
            .sum()
    };
    let cp_pct = |kg_dm: &[f64]| 100.0 * total(Measure::Cp, kg_dm) / total(Measure::OrganicDm, kg_dm).max(1e-9);
    if at_will.is_empty() || cp_pct(kg_dm) >= ENOUGH_PROTEIN_PCT - PROTEIN_FORGIVEN_PCT {
        return None;
    }
    let full_pct = 100.0 * base.alone_kg / block.needs.weight_kg;
    let fits = |share: f64| {
        let ration = eaten(share);
        let room = base.alone_kg * share_eaten_on_poor_protein(cp_pct(&ration), full_pct);
        total(Measure::AtWill, &ration) <= room
    };
    if fits(1.0) {
        return None;
    }
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if fits(middle) { low = middle } else { high = middle }
    }
    let ration = eaten(low);
    let written: f64 = at_will.iter().map(|index| kg_dm[*index]).sum();
    Some(Cut { cp_pct: cp_pct(&ration), kg_dm: ration, at_will, roughage_kg: (written, low * written) })
}
