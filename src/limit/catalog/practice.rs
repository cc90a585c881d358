//! What good practice keeps to: grain, distillers feed, gin trash, straw, limestone.

use super::{BASE, LB, PCT, all, by};
use crate::herd::AnimalClass;
use crate::limit::Block;
use crate::limit::learning::LEARNING_HALF;
use crate::limit::measure::Measure;
use crate::limit::rule::{Figure, Rule};
use crate::source::{Cite, Origin};

fn gin_trash(block: &Block<'_>) -> Option<f64> {
    block.other_roughage.then(|| 1.0 - (1.0 - LEARNING_HALF) * block.learning_share())
}

/// Grown cattle: what holds for a cow in calf is not too little for one in milk, open, or a bull.
fn straw(block: &Block<'_>) -> Option<f64> {
    let grown = block.group.class.calves() || block.group.class == AnimalClass::Bull;
    grown.then_some(50.0 - 25.0 * block.needs.last_third_share)
}

/// In the order of the page.
pub(super) const RULES: [Rule; 5] = [
    Rule {
        id: "grain",
        title: "grain",
        unit: "% of body weight, as fed",
        digits: 2,
        over: Measure::GrainAsFed,
        per: Measure::BodyWeight,
        scale: PCT,
        figure: Figure::ByClass(by([0.4, 0.4, 0.4, 0.8, 0.8, 0.8, 0.4])),
        cite: Cite::new(
            "colostate1608",
            "pasture cattle 0.3 to 0.5 % of body weight from memory; 0.8 for growing cattle fed daily is judgement",
            Origin::Memory,
        ),
        why: "starch above it cuts the digestion of roughage, and a hungry cow that finds the pile founders",
        remedy: "digestible-fiber byproducts in its place",
        ..BASE
    },
    Rule {
        id: "distillers",
        title: "distillers feed",
        unit: "% of body weight, as fed",
        digits: 2,
        over: Measure::DistillersAsFed,
        per: Measure::BodyWeight,
        scale: PCT,
        figure: Figure::ByClass(all(0.5)),
        cite: Cite::judgement("about 6 lb to a 1,200-lb cow; sulfur and fat ride on it and nothing else stops it"),
        why: "cheap energy that brings fat and sulfur along",
        remedy: "raise it under `limits` with your reason and a sulfur test",
        ..BASE
    },
    Rule {
        id: "gin-trash",
        title: "gin trash where other roughage is offered",
        unit: "% of body weight, DM",
        digits: 2,
        over: Measure::GinTrashDm,
        per: Measure::BodyWeight,
        scale: PCT,
        figure: Figure::Of(gin_trash),
        cite: Cite::judgement(
            "1.0: about half the roughage is plenty of an untested feed; half of that in the first two weeks it is fed. Any other roughage counts, straw, hulls and grazing too: it thins what nobody knows of the trash",
        ),
        why: "it varies from straw to fair hay, and cattle learn to eat it slowly",
        remedy: "have it tested, then raise it under `limits` with your reason",
        ..BASE
    },
    Rule {
        id: "straw",
        title: "straw and stover in the diet",
        unit: "% of DM",
        digits: 0,
        over: Measure::StrawDm,
        per: Measure::OrganicDm,
        scale: PCT,
        figure: Figure::Of(straw),
        cite: Cite::new(
            "montana_straw2021",
            "at most 50 % of the diet, 25 % in the last third of gestation; between them by the days of each, and 50 for bulls and open cows, is judgement",
            Origin::Published,
        ),
        why: "straw fills cattle without feeding them; with a big calf inside there is less room still, and it can pack in them",
        remedy: "hay in its place; or raise it under `limits` with your reason and a test of the straw",
        ..BASE
    },
    Rule {
        id: "limestone",
        title: "limestone",
        unit: "lb as fed",
        digits: 2,
        over: Measure::LimestoneAsFed,
        scale: LB,
        figure: Figure::ByClass(all(0.3)),
        cite: Cite::judgement("more is ballast"),
        why: "stone must not be used to thin fat or sulfur",
        remedy: "a feed with calcium in it",
        ..BASE
    },
];
