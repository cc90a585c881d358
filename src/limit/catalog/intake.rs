//! What she will eat, and the roughage she must have.

use super::{BASE, ByClass, LB, NEVER, NRC1996, PCT, by};
use crate::herd::AnimalClass;
use crate::limit::Block;
use crate::limit::measure::Measure;
use crate::limit::rule::{Figure, Rule, Sense, class_index};
use crate::need::intake::{OVER_PREDICTED, OVER_PREDICTED_CITE};
use crate::source::{Cite, Origin};

const FORAGE_NDF_DRY: ByClass = by([1.3, 1.3, 1.2, 1.0, 1.0, 1.0, 1.2]);
const FORAGE_NDF_MILKING: ByClass = by([1.5, 1.5, 1.2, 1.0, 1.0, 1.0, 1.2]);

/// Forage NDF a block's animals can hold, % of body weight.
#[must_use]
pub fn forage_ndf_pct(block: &Block<'_>) -> Option<f64> {
    let index = class_index(block.group.class)?;
    let milking = block.milk_level();
    Some(FORAGE_NDF_DRY[index]? * (1.0 - milking) + FORAGE_NDF_MILKING[index]? * milking)
}

fn intake(block: &Block<'_>) -> Option<f64> {
    let ceiling = block.replaced.dmi_max_kg.unwrap_or(block.needs.dmi_kg);
    block.base.is_none().then_some(ceiling * LB)
}
fn intake_at_will(block: &Block<'_>) -> Option<f64> {
    let ceiling = block.replaced.dmi_max_kg.unwrap_or(OVER_PREDICTED * block.needs.dmi_kg);
    block.base.is_some().then_some(ceiling * LB)
}
fn at_will(block: &Block<'_>) -> Option<f64> {
    block.base.as_ref().map(|base| base.alone_kg * LB)
}
fn appetite(block: &Block<'_>) -> Option<f64> {
    if block.group.limit_fed || block.base.is_some() {
        return None;
    }
    let milking = block.milk_level();
    Some(match block.group.class {
        AnimalClass::Bull => 1.5,
        _ => 1.75 * (1.0 - milking) + 2.0 * milking,
    })
}

/// In the order of the page.
pub(super) const RULES: [Rule; 7] = [
    Rule {
        id: "intake",
        title: "dry matter they will eat",
        unit: "lb DM",
        digits: 1,
        over: Measure::Dm,
        scale: LB,
        figure: Figure::Of(intake),
        cite: Cite::new(NRC1996, "ch. 7, at the density where need and intake meet", Origin::MemoryChecked),
        why: "what they cannot eat does not feed them",
        remedy: "a denser feed",
        ..BASE
    },
    Rule {
        id: "intake-at-will",
        title: "dry matter they will eat, roughage at will",
        unit: "lb DM",
        digits: 1,
        over: Measure::Dm,
        scale: LB,
        figure: Figure::Of(intake_at_will),
        cite: OVER_PREDICTED_CITE,
        why: "supplement on top of roughage at will has an end",
        remedy: "a denser feed",
        ..BASE
    },
    Rule {
        id: "roughage-at-will",
        title: "room filled by what is eaten at will",
        unit: "lb DM of the roughage",
        digits: 1,
        over: Measure::AtWill,
        scale: LB,
        sense: Sense::Exactly,
        figure: Figure::Of(at_will),
        cite: Cite::new(
            "lalman_okstate2024",
            "1.8 % of body weight dry, 2.2 % milking, for roughage under 52 % TDN; between dry and peak milk by how far she milks, and 0.3 lb that a pound of supplement displaces (judgement)",
            Origin::Published,
        ),
        why: "nobody measures out a pile: supplement takes only part of its room",
        remedy: "set `base_intake_pct` of the group, or `substitution`",
        ..BASE
    },
    Rule {
        id: "heifer-intake",
        title: "dry matter of bred heifers",
        unit: "% of body weight",
        digits: 2,
        over: Measure::Dm,
        per: Measure::BodyWeight,
        scale: PCT,
        figure: Figure::ByClass([None, None, Some(2.4), None, None, None, None]),
        cite: Cite::judgement("the yearling intake equation is generous near calving"),
        why: "a heifer close to calving has little room",
        remedy: "a denser feed",
        ..BASE
    },
    Rule {
        id: "appetite-floor",
        title: "dry matter that keeps them from going hungry",
        unit: "% of body weight",
        digits: 2,
        over: Measure::OrganicDm,
        per: Measure::BodyWeight,
        scale: PCT,
        sense: Sense::AtLeast,
        figure: Figure::Of(appetite),
        cite: Cite::judgement(
            "1.75 dry, 2.0 at peak milk, between by how far she milks, 1.5 bulls, minerals not counted: dense rations meet needs on less, and hungry cattle break fences",
        ),
        why: "cattle on less than this are hungry and chew fences",
        remedy: "`limit_fed: true` for the group lifts it",
        ..BASE
    },
    Rule {
        id: "roughage-floor",
        title: "long roughage, least",
        unit: "% of body weight",
        digits: 2,
        over: Measure::LongRoughage,
        per: Measure::BodyWeight,
        scale: PCT,
        sense: Sense::AtLeast,
        figure: Figure::ByClass(by([1.0, 1.0, 1.0, 0.5, 0.5, 0.5, 1.0])),
        cite: Cite::new(
            "rankins_auburn2000",
            "at least 0.5 % of body weight as forage; 1.0 for cows, bred heifers and grown bulls is judgement, and so is the effective share by which ground or pelleted roughage counts",
            Origin::Judgement,
        ),
        why: "the rumen needs long roughage; without it: acidosis, bloat, founder",
        remedy: "more hay, grass, straw, hulls or gin trash that is neither ground nor pelleted",
        ..NEVER
    },
    Rule {
        id: "forage-ndf",
        title: "fiber of roughage, most",
        unit: "% of body weight",
        digits: 2,
        over: Measure::ForageNdf,
        per: Measure::BodyWeight,
        scale: PCT,
        figure: Figure::DryMilking(FORAGE_NDF_DRY, FORAGE_NDF_MILKING),
        cite: Cite::new(
            "missouri_ndf",
            "1.2 % of body weight; 1.2 to 1.5 at Ohio State 2019; by class 1.3 dry, 1.5 at peak milk, 1.2, 1.0 judgement, and so is the line between dry and peak milk",
            Origin::Judgement,
        ),
        why: "fiber fills cattle before the feed does",
        remedy: "better hay, or a denser supplement",
        ..BASE
    },
];
