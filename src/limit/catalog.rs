//! Every rule, its figures by class, and where they come from.

use super::Block;
use super::measure::Measure;
use super::rule::{Figure, Force, Rule, Sense, class_index};
use crate::herd::AnimalClass;
use crate::quantity::KG_PER_LB;
use crate::source::{Cite, Origin};

const LB: f64 = 1.0 / KG_PER_LB;
const PCT: f64 = 100.0;

/// By class: cow, first-calf cow, bred heifer, replacement heifer, stocker, young bull, bull.
type ByClass = [Option<f64>; 7];

const fn all(value: f64) -> ByClass {
    [Some(value); 7]
}
const fn by(values: [f64; 7]) -> ByClass {
    let mut out = [None; 7];
    let mut i = 0;
    while i < 7 {
        out[i] = Some(values[i]);
        i += 1;
    }
    out
}

/// Free gossypol from seed alone, ppm of diet dry matter.
pub const GOSSYPOL_SEED_PPM: ByClass = by([1200.0, 1200.0, 900.0, 900.0, 900.0, 600.0, 900.0]);
/// Free gossypol from meal alone, ppm of diet dry matter.
pub const GOSSYPOL_MEAL_PPM: ByClass = by([600.0, 600.0, 400.0, 200.0, 200.0, 150.0, 200.0]);

const FORAGE_NDF_DRY: ByClass = by([1.3, 1.3, 1.2, 1.0, 1.0, 1.0, 1.2]);
const FORAGE_NDF_MILKING: ByClass = by([1.5, 1.5, 1.2, 1.0, 1.0, 1.0, 1.2]);

/// Forage NDF a block's animals can hold, % of body weight.
#[must_use]
pub fn forage_ndf_pct(block: &Block<'_>) -> Option<f64> {
    let index = class_index(block.group.class)?;
    let milking = block.milk_level();
    Some(FORAGE_NDF_DRY[index]? * (1.0 - milking) + FORAGE_NDF_MILKING[index]? * milking)
}

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
#[expect(clippy::unnecessary_wraps, reason = "one signature for every `Figure::Of`")]
fn calcium(block: &Block<'_>) -> Option<f64> {
    Some(block.replaced.ca_g.unwrap_or_else(|| block.needs.ca.total_g()))
}
#[expect(clippy::unnecessary_wraps, reason = "one signature for every `Figure::Of`")]
fn phosphorus(block: &Block<'_>) -> Option<f64> {
    Some(block.replaced.p_g.unwrap_or_else(|| block.needs.p.total_g()))
}
fn intake(block: &Block<'_>) -> Option<f64> {
    let ceiling = block.replaced.dmi_max_kg.unwrap_or(block.needs.dmi_kg);
    block.base.is_none().then_some(ceiling * LB)
}
fn intake_at_will(block: &Block<'_>) -> Option<f64> {
    let ceiling = block.replaced.dmi_max_kg.unwrap_or(1.10 * block.needs.dmi_kg);
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
fn gin_trash(block: &Block<'_>) -> Option<f64> {
    block.other_roughage.then(|| 1.0 - 0.5 * block.learning_share())
}

const NRC1996: &str = "nrc1996";

const BASE: Rule = Rule {
    id: "",
    title: "",
    unit: "",
    digits: 2,
    over: Measure::Dm,
    per: Measure::Head,
    scale: 1.0,
    sense: Sense::AtMost,
    figure: Figure::ByClass([None; 7]),
    force_cow: Force::Keep,
    force_other: Force::Keep,
    cite: Cite::judgement(""),
    why: "",
    remedy: "",
};

const NEED: Rule = Rule { sense: Sense::AtLeast, force_cow: Force::Need, force_other: Force::Need, ..BASE };
const NEVER: Rule = Rule { force_cow: Force::Never, force_other: Force::Never, ..BASE };

/// Your own least amount of one feed.
pub static YOUR_MIN: Rule = Rule {
    id: "your-min",
    title: "your least amount",
    unit: "lb as fed",
    digits: 1,
    sense: Sense::AtLeast,
    cite: Cite::new("", "herd file", Origin::Given),
    why: "you asked for at least this much",
    remedy: "change `min_lb` of the feed",
    ..BASE
};
/// Your own largest amount of one feed.
pub static YOUR_MAX: Rule = Rule {
    id: "your-max",
    title: "your largest amount",
    unit: "lb as fed",
    digits: 1,
    cite: Cite::new("", "herd file", Origin::Given),
    why: "you asked for at most this much",
    remedy: "change `max_lb` of the feed",
    ..BASE
};
/// Your own fixed amount of one feed.
pub static YOUR_FIXED: Rule = Rule {
    id: "your-fixed",
    title: "your fixed amount",
    unit: "lb as fed",
    digits: 2,
    sense: Sense::Exactly,
    cite: Cite::new("", "herd file, or 3 oz of a mineral by default", Origin::Given),
    why: "you asked for exactly this much, or it is a mineral with no amount of its own",
    remedy: "change `fixed_lb` or `fixed_oz` of the feed",
    ..BASE
};

/// Every rule, in the order of the page.
pub static RULES: &[Rule] = &[
    Rule {
        id: "energy",
        title: "energy",
        unit: "Mcal NEm",
        digits: 1,
        over: Measure::Nem,
        figure: Figure::Of(energy),
        cite: Cite::new(NRC1996, "ch. 10; maintenance, pregnancy, milk, cold, condition", Origin::MemoryChecked),
        why: "short of energy she lives off her back: she loses condition, and thin cows breed late or not at all",
        remedy: "feed more of the cheapest energy that the limits allow, or plan for the condition she may lose",
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
        why: "protein feeds the rumen first; short of it she eats and digests less",
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
            Origin::MemoryChecked,
        ),
        why: "the protein that reaches her own tissues",
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
        cite: Cite::new(NRC1996, "microbes make no more protein than they get degradable", Origin::MemoryChecked),
        why: "the protein that reaches her own tissues",
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
        figure: Figure::ByClass(all(7.0)),
        cite: Cite::new(
            "sprinkle_az9523",
            "7 % for rumen microbes; intake falls sharply below 6.25 %",
            Origin::Published,
        ),
        why: "below it the rumen slows, she eats less, and dry stemmy feed can pack in her",
        remedy: "add protein",
        ..NEED
    },
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
            "0.30 % under 15 % forage, rising to 0.50 % at 40 %; the straight line between is judgement, and goes on below 15 %",
            Origin::Judgement,
        ),
        why: "grain diets bring out sulfur polio sooner than hay diets",
        remedy: "more roughage, less sulfur",
        ..NEVER
    },
    Rule {
        id: "intake",
        title: "dry matter she will eat",
        unit: "lb DM",
        digits: 1,
        over: Measure::Dm,
        scale: LB,
        figure: Figure::Of(intake),
        cite: Cite::new(NRC1996, "ch. 7, at the density where her need and her intake meet", Origin::MemoryChecked),
        why: "what she cannot eat does not feed her",
        remedy: "a denser feed",
        ..BASE
    },
    Rule {
        id: "intake-at-will",
        title: "dry matter she will eat, roughage at will",
        unit: "lb DM",
        digits: 1,
        over: Measure::Dm,
        scale: LB,
        figure: Figure::Of(intake_at_will),
        cite: Cite::new(
            "gross2024",
            "the intake equation runs 14 to 17 % low; 1.10 times it is the end we believe (judgement)",
            Origin::Judgement,
        ),
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
            "1.8 % of body weight dry, 2.2 % milking, for roughage under 52 % TDN; a pound of supplement displaces 0.3 lb (judgement)",
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
        title: "dry matter that keeps her from going hungry",
        unit: "% of body weight",
        digits: 2,
        over: Measure::Dm,
        per: Measure::BodyWeight,
        scale: PCT,
        sense: Sense::AtLeast,
        figure: Figure::Of(appetite),
        cite: Cite::judgement(
            "1.75 dry, 2.0 milking, 1.5 bulls: dense rations meet needs on less, and hungry cattle break fences",
        ),
        why: "cattle on less than this are hungry and chew fences",
        remedy: "`limit_fed: true` for the group lifts it",
        ..BASE
    },
    Rule {
        id: "roughage-floor",
        title: "roughage, least",
        unit: "% of body weight",
        digits: 2,
        over: Measure::Roughage,
        per: Measure::BodyWeight,
        scale: PCT,
        sense: Sense::AtLeast,
        figure: Figure::ByClass(by([1.0, 1.0, 1.0, 0.5, 0.5, 0.5, 1.0])),
        cite: Cite::new(
            "rankins_auburn2000",
            "at least 0.5 % of body weight as forage; 1.0 for cows, bred heifers and grown bulls is judgement",
            Origin::Judgement,
        ),
        why: "the rumen needs long roughage; without it: acidosis, bloat, founder",
        remedy: "more hay, grass, straw, hulls or gin trash",
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
            "1.2 % of body weight; 1.2 to 1.5 at Ohio State 2019; by class 1.3 dry, 1.5 milking, 1.2, 1.0 judgement",
            Origin::Judgement,
        ),
        why: "fiber fills her before the feed does",
        remedy: "better hay, or a denser supplement",
        ..BASE
    },
    Rule {
        id: "fat",
        title: "fat, all of it",
        unit: "% of DM",
        digits: 1,
        over: Measure::Fat,
        per: Measure::OrganicDm,
        scale: PCT,
        figure: Figure::ByClass(all(6.0)),
        cite: Cite::new("nsw_primefact303", "oil can inhibit the rumen above 6 % of the diet", Origin::Published),
        why: "more fat than this stops the bugs that digest roughage; cattle scour and go off feed",
        remedy: "less seed or distillers feed",
        ..NEVER
    },
    Rule {
        id: "added-fat",
        title: "fat above what forage brings",
        unit: "% of DM",
        digits: 1,
        over: Measure::AddedFat,
        per: Measure::OrganicDm,
        scale: PCT,
        figure: Figure::ByClass(all(4.0)),
        cite: Cite::new(
            "hess2008",
            "3 % of DM on forage diets from memory; 4 % did no harm on straw (Moore, Swingle and Hale 1986, abstract)",
            Origin::Memory,
        ),
        why: "fat takes the place of energy that the rumen can use",
        remedy: "less seed or distillers feed",
        ..BASE
    },
    Rule {
        id: "gossypol",
        title: "free gossypol, meal weighed as seed",
        unit: "ppm of DM",
        digits: 0,
        over: Measure::Gossypol,
        per: Measure::OrganicDm,
        figure: Figure::ByClass(GOSSYPOL_SEED_PPM),
        force_other: Force::Never,
        cite: Cite::new(
            "rogers2002",
            "ppm by class as commonly quoted; from memory, the table was not read",
            Origin::Memory,
        ),
        why: "gossypol builds up: heart and liver in the young, fragile red cells, harm to young bulls' semen",
        remedy: "less seed or meal; have the seed tested for free gossypol",
        ..BASE
    },
    Rule {
        id: "gossypol-of-meal",
        title: "free gossypol from meal, hulls and cubes",
        unit: "ppm of DM",
        digits: 0,
        over: Measure::GossypolOfMeal,
        per: Measure::OrganicDm,
        figure: Figure::ByClass(GOSSYPOL_MEAL_PPM),
        cite: Cite::new(
            "rogers2002",
            "ppm by class as commonly quoted; from memory, the table was not read",
            Origin::Memory,
        ),
        why: "gossypol of meal is free at once; direct-solvent meal holds many times that of screw-press meal",
        remedy: "ask the mill which process it uses and what the meal tests",
        ..NEVER
    },
    Rule {
        id: "seed-of-body-weight",
        title: "whole cottonseed",
        unit: "% of body weight, as fed",
        digits: 2,
        over: Measure::SeedAsFed,
        per: Measure::BodyWeight,
        scale: PCT,
        figure: Figure::ByClass(by([0.5, 0.5, 0.5, 0.33, 0.33, 0.33, 0.5])),
        cite: Cite::new(
            "edis_an134",
            "0.5 % mature cows, 0.33 % weaned calves and stockers; bred heifers and bulls as those by judgement",
            Origin::Published,
        ),
        why: "above it seed means scours, too much fat, and gossypol that builds up",
        remedy: "less seed",
        ..NEVER
    },
    Rule {
        id: "seed-of-dry-matter",
        title: "whole cottonseed in the diet",
        unit: "% of DM",
        digits: 1,
        over: Measure::SeedDm,
        per: Measure::OrganicDm,
        scale: PCT,
        figure: Figure::ByClass(by([20.0, 20.0, 15.0, 15.0, 15.0, 10.0, 15.0])),
        force_other: Force::Never,
        cite: Cite::new(
            "edis_an134",
            "15 % of DM; 20 % of the ration for cows after the University of Georgia; 10 % young bulls by judgement",
            Origin::Published,
        ),
        why: "fat and gossypol both ride on the share of seed",
        remedy: "less seed, or more of the rest",
        ..BASE
    },
    Rule {
        id: "npn",
        title: "protein from urea and liquid feed",
        unit: "% of crude protein",
        digits: 0,
        over: Measure::NpnCp,
        per: Measure::AllCp,
        scale: PCT,
        figure: Figure::ByClass(all(33.0)),
        cite: Cite::new("colostate1608", "one third of total crude protein (the third from memory)", Origin::Memory),
        why: "urea without energy poisons: ammonia faster than the rumen can use it",
        remedy: "natural protein in its place",
        ..NEVER
    },
    Rule {
        id: "urea",
        title: "urea",
        unit: "% of DM",
        digits: 2,
        over: Measure::UreaDm,
        per: Measure::OrganicDm,
        scale: PCT,
        figure: Figure::ByClass(all(1.0)),
        cite: Cite::new("colostate1608", "1 % of diet dry matter", Origin::Memory),
        why: "urea poisons hungry and unused cattle",
        remedy: "less urea; mix it well; never with poor roughage alone",
        ..NEVER
    },
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
            "half the roughage is plenty of an untested feed; half of that while they learn it (two weeks)",
        ),
        why: "it varies from straw to fair hay, and cattle learn to eat it slowly",
        remedy: "have it tested, then raise it under `limits` with your reason",
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
