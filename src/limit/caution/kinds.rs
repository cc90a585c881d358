//! Every kind of caution, with its meaning and source.

use super::Caution;
use crate::need::{mineral, vitamin};
use crate::source::{Cite, Origin};

pub(super) static DEGRADABLE_PROTEIN: Caution = Caution {
    id: "degradable-protein",
    title: "degradable protein",
    meaning: "Degradable protein as a share of TDN. The book asks 13 % for full microbial yield; on poor roughage nitrogen is recycled and 10 % serves.",
    cite: Cite::new("koster1996", "about 11 % of digestible organic matter at the peak", Origin::Memory),
};
pub(super) static SUPPLEMENT_FOR_ROUGHAGE: Caution = Caution {
    id: "supplement-for-roughage",
    title: "supplement in place of roughage",
    meaning: "TDN of everything that is not roughage, as a share of body weight.",
    cite: Cite::new("moore1999", "", Origin::Abstract),
};
pub(super) static FAT_WARNING: Caution = Caution {
    id: "fat-warning",
    title: "fat near its end",
    meaning: "All fat as a share of dry matter, from 5 % on.",
    cite: Cite::new("nsw_primefact303", "6 %; the warning at 5 % is judgement", Origin::Judgement),
};
pub(super) static MICROBES_ON_FAT: Caution = Caution {
    id: "microbes-on-fat",
    title: "microbial protein on fat",
    meaning: "Microbial protein by the later equation, which leaves fat out of the energy microbes can use, against the 13 % of TDN that is counted.",
    cite: Cite::new("galyean_tedeschi2014", "coefficients and the 3.9 % switch from memory", Origin::Memory),
};
pub(super) static DIRTY_TRASH: Caution = Caution {
    id: "dirty-trash",
    title: "dirty gin trash",
    meaning: "Ash of gin trash above 15 % of dry matter is soil.",
    cite: Cite::judgement("ash against TDN of corn-stalk bales, Banta 2018: about 1 point a point"),
};
pub(super) static UNTESTED_TRASH: Caution = Caution {
    id: "untested-trash",
    title: "untested gin trash",
    meaning: "Gin trash varies more than any other feed: 4 to 12 % protein, 38 to 47 % TDN in print.",
    cite: Cite::new("uga_b1311", "with Texas 2001, Alabama, Oklahoma State 2022 and NASEM 2021", Origin::Published),
};
pub(super) static GOSSYPOL_OF_TRASH: Caution = Caution {
    id: "gossypol-of-trash",
    title: "gossypol of gin trash",
    meaning: "A guess of the free gossypol gin trash itself brings; not counted in any limit.",
    cite: Cite::judgement("5 % immature seed at 0.63 %"),
};
pub(super) static MINERAL_CEILING: Caution = Caution {
    id: "mineral-ceiling",
    title: "mineral above what is tolerated",
    meaning: "A mineral above the tolerable level in the diet.",
    cite: mineral::CEILINGS_2016,
};
pub(super) static MINERAL_GAP: Caution = Caution {
    id: "mineral-gap",
    title: "mineral below the need",
    meaning: "Minerals other than calcium and phosphorus that fall more than 10 % short, with the ounces of an offered mineral that would close the gap. They are told, not chosen.",
    cite: mineral::NEEDS_AND_1996_CEILINGS,
};
pub(super) static IRON: Caution = Caution {
    id: "iron",
    title: "iron of gin trash",
    meaning: "Iron above 500 ppm of dry matter, nearly always soil.",
    cite: mineral::CEILINGS_2016,
};
pub(super) static VITAMIN_A: Caution = Caution {
    id: "vitamin-a",
    title: "vitamin A",
    meaning: "Vitamin A from feeds and mineral against the need.",
    cite: vitamin::VITAMINS,
};
pub(super) static COLD_BEYOND_FEEDING: Caution = Caution {
    id: "cold-beyond-feeding",
    title: "cold beyond feeding",
    meaning: "Cold that asks more than 40 % of maintenance is not fed for; the rest comes off the animal.",
    cite: Cite::new("kreager_osu", "25 to 30 % is what a ruminant can lift; the 40 % is judgement", Origin::Judgement),
};
pub(super) static BULLS_AND_GOSSYPOL: Caution = Caution {
    id: "bulls-and-gossypol",
    title: "bulls and gossypol",
    meaning: "Cottonseed feeds to bulls and the days before turn-out.",
    cite: Cite::new(
        "hassan2004",
        "8 mg per kg of body weight a day from meal; the days are judgement",
        Origin::Abstract,
    ),
};
pub(super) static CONDITION_AT_CALVING: Caution = Caution {
    id: "condition-at-calving",
    title: "condition at calving",
    meaning: "The score a female is on her way to at calving, against 5 for grown cows and 6 for heifers with their first calf.",
    cite: crate::need::condition::TARGETS,
};
pub(super) static GRAZING_WITHOUT_WALKING: Caution = Caution {
    id: "grazing-without-walking",
    title: "grazing without walking",
    meaning: "Cattle graze and the file counts nothing for walking.",
    cite: Cite::new(
        "nrc1996",
        "ch. 1: 10 to 20 % of maintenance on good easy pasture, to 50 on poor hills",
        Origin::Memory,
    ),
};
pub(super) static SULFUR_A_DAY: Caution = Caution {
    id: "sulfur-a-day",
    title: "sulfur a day",
    meaning: "Sulfur from feed and water together, g a day, for grazing cows.",
    cite: mineral::SULFUR_PER_DAY,
};
pub(super) static POOR_PROTEIN_INTAKE: Caution = Caution {
    id: "intake-on-poor-protein",
    title: "intake on little protein",
    meaning: "Under 7 % crude protein cattle eat less roughage than they would: about 10 % less for each point short.",
    cite: Cite::judgement(
        "10 % a point; Arizona AZ9523 has intake falling sharply below 6.25 %, to 1.2 % of body weight at 4 %",
    ),
};

/// Every caution.
pub static CAUTIONS: &[&Caution] = &[
    &POOR_PROTEIN_INTAKE,
    &DEGRADABLE_PROTEIN,
    &SUPPLEMENT_FOR_ROUGHAGE,
    &FAT_WARNING,
    &MICROBES_ON_FAT,
    &DIRTY_TRASH,
    &UNTESTED_TRASH,
    &GOSSYPOL_OF_TRASH,
    &MINERAL_CEILING,
    &MINERAL_GAP,
    &IRON,
    &VITAMIN_A,
    &COLD_BEYOND_FEEDING,
    &BULLS_AND_GOSSYPOL,
    &CONDITION_AT_CALVING,
    &GRAZING_WITHOUT_WALKING,
    &SULFUR_A_DAY,
];
