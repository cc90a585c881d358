//! What harms: fat, gossypol, seed, urea, nitrate.

use super::{BASE, ByClass, LB, NEVER, PCT, all, by};
use crate::limit::Block;
use crate::limit::measure::Measure;
use crate::limit::rule::{Figure, Force, Rule};
use crate::source::{Cite, Origin};

/// Free gossypol from seed alone, ppm of diet dry matter.
pub const GOSSYPOL_SEED_PPM: ByClass = by([1200.0, 1200.0, 900.0, 900.0, 900.0, 600.0, 900.0]);
/// Free gossypol from meal alone, ppm of diet dry matter.
pub const GOSSYPOL_MEAL_PPM: ByClass = by([600.0, 600.0, 400.0, 200.0, 200.0, 150.0, 200.0]);

fn nitrate(block: &Block<'_>) -> Option<f64> {
    block.nitrate_tested.then_some(100.0)
}

/// In the order of the page.
pub(super) const RULES: [Rule; 11] = [
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
        id: "nitrate",
        title: "nitrate of feeds tested for it",
        unit: "% of what is allowed",
        digits: 0,
        over: Measure::Nitrate,
        per: Measure::OrganicDm,
        scale: PCT,
        figure: Figure::Of(nitrate),
        cite: Cite::new(
            "clemson_nitrate",
            "printed shares of the ration: half from 1,500 ppm nitrate N (in calf from 1,000), 35 % from 2,000, 25 % from \
             3,500; that the shares of several feeds add up, and ppm/1,000 below, is judgement",
            Origin::Judgement,
        ),
        why: "nitrate takes the oxygen out of blood: cattle die of it, and females in calf lose the calf",
        remedy: "less of it, thinned with feed that tests low",
        ..NEVER
    },
    Rule {
        id: "urea-by-grain",
        title: "urea by the grain (0.1 lb, 0.01 more a lb of grain)",
        unit: "% of what is allowed",
        digits: 0,
        over: Measure::UreaEquivalent,
        per: Measure::UreaRoom,
        scale: PCT,
        figure: Figure::ByClass(all(100.0)),
        cite: Cite::new(
            "colostate1608",
            "0.1 to 0.25 lb a head and day on high-grain diets; about 0.1 on low-energy roughage from memory; the straight line between, with 15 lb of grain as a high-grain diet, is judgement",
            Origin::Judgement,
        ),
        why: "liquid feed and cubes count by the urea in them; urea turns to ammonia at once, and without grain the rumen has no energy to use it, and it poisons",
        remedy: "natural protein in its place: meal, seed, cubes, distillers feed",
        ..NEVER
    },
    Rule {
        id: "urea-a-day",
        title: "urea a day, that in feeds counted",
        unit: "lb",
        digits: 2,
        over: Measure::UreaEquivalent,
        scale: LB,
        figure: Figure::ByClass(all(0.25)),
        cite: Cite::new("colostate1608", "0.1 to 0.25 lb a head and day on high-grain diets", Origin::Published),
        why: "more than this poisons even on grain",
        remedy: "natural protein in its place",
        ..NEVER
    },
];
