//! Things to know about a ration that are no rows of the programme: each fires with its figures and its source.

mod animal;
mod dates;
mod dose;
mod minerals;
mod store;

use super::Block;
use super::measure::Measure;
use crate::feed::{Feed, FeedClass, Nutrient, Offer};
use crate::need::{intake, mineral, protein, vitamin};
use crate::source::{Cite, Origin};

/// A kind of thing to know.
#[derive(Debug, PartialEq)]
pub struct Caution {
    /// Id, for reports and `explain`.
    pub id: &'static str,
    /// Name for people.
    pub title: &'static str,
    /// What is measured and when it fires.
    pub meaning: &'static str,
    /// Where the figure comes from.
    pub cite: Cite,
}

/// One thing to know about a ration.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Its kind.
    pub caution: &'static Caution,
    /// What it is, with figures, in one or two sentences.
    pub text: String,
}

static DEGRADABLE_PROTEIN: Caution = Caution {
    id: "degradable-protein",
    title: "degradable protein",
    meaning: "Degradable protein as a share of TDN. The book asks 13 % for full microbial yield; on poor roughage nitrogen is recycled and 10 % serves.",
    cite: Cite::new("koster1996", "about 11 % of digestible organic matter at the peak", Origin::Memory),
};
static SUPPLEMENT_FOR_ROUGHAGE: Caution = Caution {
    id: "supplement-for-roughage",
    title: "supplement in place of roughage",
    meaning: "TDN of everything that is not roughage, as a share of body weight.",
    cite: Cite::new("moore1999", "", Origin::Abstract),
};
static FAT_WARNING: Caution = Caution {
    id: "fat-warning",
    title: "fat near its end",
    meaning: "All fat as a share of dry matter, from 5 % on.",
    cite: Cite::new("nsw_primefact303", "6 %; the warning at 5 % is judgement", Origin::Judgement),
};
static MICROBES_ON_FAT: Caution = Caution {
    id: "microbes-on-fat",
    title: "microbial protein on fat",
    meaning: "Microbial protein by the later equation, which leaves fat out of the energy microbes can use, against the 13 % of TDN that is counted.",
    cite: Cite::new("galyean_tedeschi2014", "coefficients and the 3.9 % switch from memory", Origin::Memory),
};
static MICROBES_ON_LITTLE_FIBER: Caution = Caution {
    id: "microbes-on-little-fiber",
    title: "microbial protein on little fiber",
    meaning: "Effective fiber (NDF times its effective share) under 20 % of dry matter: the rumen turns acid and makes less protein \
              than the 13 % of TDN that is counted. Not told where a feed has no effective fiber of its own.",
    cite: crate::need::protein::FIBER_ADJUSTMENT,
};
static DIRTY_TRASH: Caution = Caution {
    id: "dirty-trash",
    title: "dirty gin trash",
    meaning: "Ash of gin trash above 15 % of dry matter is soil.",
    cite: Cite::judgement("ash against TDN of corn-stalk bales, Banta 2018: about 1 point a point"),
};
static TDN_LESS_DIRT: Caution = Caution {
    id: "tdn-less-dirt",
    title: "energy of gin trash by its ash",
    meaning: "Gin trash whose ash was tested and whose TDN was not: a point of TDN is taken for each point of ash above what its row stands for.",
    cite: Cite::new(
        crate::feed::dirt::SOURCE,
        "corn-stalk bales, more ash, less TDN; one point a point is judgement",
        Origin::Judgement,
    ),
};
static UNTESTED_TRASH: Caution = Caution {
    id: "untested-trash",
    title: "untested gin trash",
    meaning: "Gin trash varies more than any other feed: 4 to 12 % protein, 38 to 47 % TDN in print.",
    cite: Cite::new("uga_b1311", "with Texas 2001, Alabama, Oklahoma State 2022 and NASEM 2021", Origin::Published),
};
static GOSSYPOL_FIGURES: Caution = Caution {
    id: "gossypol-figures",
    title: "how sure the gossypol limits are",
    meaning: "Free gossypol above half of what the class is allowed, with the limit and how it was obtained.",
    cite: Cite::new(
        "rogers2002",
        "ppm by class as commonly quoted; from memory, the table was not read",
        Origin::Memory,
    ),
};
static GOSSYPOL_OF_TRASH: Caution = Caution {
    id: "gossypol-of-trash",
    title: "gossypol of gin trash",
    meaning: "A guess of the free gossypol gin trash itself brings; not counted in any limit.",
    cite: Cite::judgement("5 % immature seed at 0.63 %"),
};
static MINERAL_CEILING: Caution = Caution {
    id: "mineral-ceiling",
    title: "mineral above what is tolerated",
    meaning: "A mineral above the tolerable level in the diet.",
    cite: mineral::CEILINGS_2016,
};
static MINERAL_GAP: Caution = Caution {
    id: "mineral-gap",
    title: "mineral below the need",
    meaning: "Minerals other than calcium and phosphorus that fall more than 10 % short, with the ounces of an offered mineral that would close the gap. They are told, not chosen.",
    cite: mineral::NEEDS_AND_1996_CEILINGS,
};
static IRON: Caution = Caution {
    id: "iron",
    title: "iron of gin trash",
    meaning: "Iron above 500 ppm of dry matter, nearly always soil.",
    cite: mineral::CEILINGS_2016,
};
static VITAMIN_A: Caution = Caution {
    id: "vitamin-a",
    title: "vitamin A",
    meaning: "Vitamin A from feeds and mineral against the need.",
    cite: vitamin::VITAMINS,
};
static COLD_BEYOND_FEEDING: Caution = Caution {
    id: "cold-beyond-feeding",
    title: "cold beyond feeding",
    meaning: "Cold that asks more than 40 % of maintenance is not fed for; the rest comes off the animal.",
    cite: Cite::new("kreager_osu", "25 to 30 % is what a ruminant can lift; the 40 % is judgement", Origin::Judgement),
};
static BULLS_AND_GOSSYPOL: Caution = Caution {
    id: "bulls-and-gossypol",
    title: "bulls and gossypol",
    meaning: "Cottonseed feeds to bulls and the days before turn-out.",
    cite: Cite::new(
        "hassan2004",
        "8 mg per kg of body weight a day from meal; the days are judgement",
        Origin::Abstract,
    ),
};
static CONDITION_AT_CALVING: Caution = Caution {
    id: "condition-at-calving",
    title: "condition at calving",
    meaning: "The score a female is on her way to at calving, against 5 for grown cows and 6 for heifers with their first calf.",
    cite: crate::need::condition::TARGETS,
};
static GRAZING_WITHOUT_WALKING: Caution = Caution {
    id: "grazing-without-walking",
    title: "grazing without walking",
    meaning: "Cattle graze and the file counts nothing for walking.",
    cite: Cite::new(
        "nrc1996",
        "ch. 1: 10 to 20 % of maintenance on good easy pasture, to 50 on poor hills",
        Origin::Memory,
    ),
};
static SULFUR_A_DAY: Caution = Caution {
    id: "sulfur-a-day",
    title: "sulfur a day",
    meaning: "Sulfur from feed and water together, g a day, for grazing cows.",
    cite: mineral::SULFUR_PER_DAY,
};

static NOT_AT_HAND: Caution = Caution {
    id: "not-at-hand",
    title: "fed when it is not to be had",
    meaning: "A ration of your own holds a feed that the dates in the file leave out on most days of the period.",
    cite: Cite::judgement("the dates are the file's own"),
};
/// Less roughage is eaten for want of protein.
pub static POOR_PROTEIN_INTAKE: Caution = Caution {
    id: "intake-on-poor-protein",
    title: "intake on little protein",
    meaning: "Under 7 % crude protein of the diet cattle eat less roughage than they would: at 4 % about 1.2 % of body weight. \
              Where roughage is eaten at will, a check counts needs, energy and condition from what is then eaten.",
    cite: intake::POOR_PROTEIN,
};

/// Every caution.
pub static CAUTIONS: &[&Caution] = &[
    &POOR_PROTEIN_INTAKE,
    &DEGRADABLE_PROTEIN,
    &SUPPLEMENT_FOR_ROUGHAGE,
    &FAT_WARNING,
    &MICROBES_ON_FAT,
    &MICROBES_ON_LITTLE_FIBER,
    &DIRTY_TRASH,
    &TDN_LESS_DIRT,
    &UNTESTED_TRASH,
    &GOSSYPOL_FIGURES,
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
    &NOT_AT_HAND,
    &dose::NITRATE_TESTED,
    &dose::NITRATE_UNTESTED,
    &dose::SEVERAL_DAYS_AT_ONCE,
    &dose::SELENIUM_A_DAY,
    &dose::SALT_A_DAY,
    &store::TOO_WET,
];

/// Points of crude protein short of the floor that are forgiven, as the rule itself does in a check.
pub const PROTEIN_FORGIVEN_PCT: f64 = 0.1;
/// Degradable protein below this share of TDN slows the rumen, percent (13 % is the book's need of microbes; on poor
/// roughage nitrogen is recycled and 10 % serves: judgement, near Koster 1996).
const RDP_OF_TDN_PCT: f64 = 10.0;
/// Supplement TDN above this share of body weight lowers roughage intake, percent.
const SUPPLEMENT_TDN_PCT: f64 = 0.7;
/// Fat at which to be warned, % of DM.
const FAT_WARN_PCT: f64 = 5.0;
/// Fat above which the later microbial-protein equation is the relevant one, % of DM.
const FAT_SWITCH_PCT: f64 = 3.9;
/// Iron tolerated, ppm of DM.
const IRON_PPM: f64 = 500.0;
/// Ash at which gin trash is dirt, % of DM.
const ASH_DIRT_PCT: f64 = 15.0;
/// Shortages smaller than this share of the need are not worth a line.
const WORTH_TELLING: f64 = 0.10;

struct Mix<'a> {
    block: &'a Block<'a>,
    offers: &'a [Offer],
    kg_dm: &'a [f64],
}

impl Mix<'_> {
    fn total(&self, measure: Measure) -> Option<f64> {
        let mut sum = measure.constant(self.block);
        for (index, (offer, kg)) in self.offers.iter().zip(self.kg_dm).enumerate() {
            if *kg > 0.0 {
                sum += kg * measure.per_kg_dm(index, &offer.feed, self.block).ok()?;
            }
        }
        Some(sum)
    }
    /// Dry-matter-weighted sum of a nutrient and the feeds that do not tell it. Minerals that do not state a
    /// nutrient bring none.
    fn nutrient(&self, nutrient: Nutrient) -> (f64, Vec<&str>) {
        let mut sum = 0.0;
        let mut silent = Vec::new();
        for (offer, kg) in self.offers.iter().zip(self.kg_dm) {
            if *kg <= 0.0 {
                continue;
            }
            match offer.feed.get(nutrient) {
                Some(value) => sum += kg * value,
                None if offer.feed.class.is_mineral() => {}
                None => silent.push(offer.feed.name.as_str()),
            }
        }
        (sum, silent)
    }
    fn fed(&self) -> impl Iterator<Item = (&Feed, f64)> {
        self.offers.iter().zip(self.kg_dm).filter(|(_, kg)| **kg > 1e-6).map(|(offer, kg)| (&offer.feed, *kg))
    }
}

/// Everything worth knowing about a ration, kg of dry matter per head and day by offer.
#[must_use]
pub fn findings(block: &Block<'_>, offers: &[Offer], kg_dm: &[f64]) -> Vec<Finding> {
    let mix = Mix { block, offers, kg_dm };
    let mut list = Vec::new();
    // First what kills or breaks the law: the feeding sheet has room for few.
    dose::dose(&mix, &mut list);
    rumen(&mix, &mut list);
    fiber(&mix, &mut list);
    fat(&mix, &mut list);
    gossypol(&mix, &mut list);
    trash(&mix, &mut list);
    dose::nitrate_untested(&mix, &mut list);
    store::too_wet(&mix, &mut list);
    minerals::minerals(&mix, &mut list);
    animal::cold(&mix, &mut list);
    animal::bulls(&mix, &mut list);
    animal::calving(&mix, &mut list);
    animal::grazing(&mix, &mut list);
    dates::dates(&mix, &mut list);
    list
}

fn rumen(mix: &Mix<'_>, list: &mut Vec<Finding>) {
    let (Some(rdp), Some(tdn), Some(supplement)) =
        (mix.total(Measure::Rdp), mix.total(Measure::Tdn), mix.total(Measure::SupplementTdn))
    else {
        return;
    };
    let weight = mix.block.needs.weight_kg;
    // Of roughage at will the check itself counts what is left, and tells it.
    if let (None, Some(protein), Some(dm)) = (&mix.block.base, mix.total(Measure::Cp), mix.total(Measure::OrganicDm))
        && dm > 0.0
    {
        let pct = 100.0 * protein / dm;
        if pct < intake::ENOUGH_PROTEIN_PCT - PROTEIN_FORGIVEN_PCT {
            let lost = 1.0 - intake::share_eaten_on_poor_protein(pct, mix.block.thumb_intake_pct());
            list.push(Finding {
                caution: &POOR_PROTEIN_INTAKE,
                text: format!(
                    "On {pct:.1} % protein cattle eat about {:.0} % less roughage than they would. If that is less than what is written \
                     here, the energy below is more than they get.",
                    100.0 * lost
                ),
            });
        }
    }
    if tdn > 0.0 && 100.0 * rdp / tdn < RDP_OF_TDN_PCT {
        list.push(Finding {
            caution: &DEGRADABLE_PROTEIN,
            text: format!(
                "Degradable protein is {:.1} % of TDN; under {RDP_OF_TDN_PCT:.0} % the rumen may slow and they may eat less.",
                100.0 * rdp / tdn
            ),
        });
    }
    let share = 100.0 * supplement / weight;
    if share > SUPPLEMENT_TDN_PCT {
        list.push(Finding {
            caution: &SUPPLEMENT_FOR_ROUGHAGE,
            text: format!(
                "Supplement TDN is {share:.2} % of body weight; above {SUPPLEMENT_TDN_PCT} % it takes the place of roughage and the \
                 diet digests less than the sum of its parts."
            ),
        });
    }
}

/// What too little effective fiber does to the protein the rumen makes.
fn fiber(mix: &Mix<'_>, list: &mut Vec<Finding>) {
    let totals =
        [Measure::EffectiveNdf, Measure::OrganicDm, Measure::Tdn, Measure::MpByEnergy, Measure::MpByDegradable]
            .map(|measure| mix.total(measure));
    let [Some(effective), Some(dm), Some(tdn), Some(by_energy), Some(by_degradable)] = totals else { return };
    let pct = if dm > 0.0 { 100.0 * effective / dm } else { return };
    if pct >= protein::LEAST_EFFECTIVE_NDF_PCT {
        return;
    }
    let full = protein::microbial_1996_g(1000.0 * tdn, 100.0);
    let then = protein::microbial_1996_g(1000.0 * tdn, pct);
    let mp = (by_energy - protein::MICROBIAL_TO_MP * (full - then)).min(by_degradable);
    let (needs, replaced) = (&mix.block.needs, &mix.block.replaced);
    let need = replaced.mp_g.unwrap_or_else(|| needs.mp.total_g());
    list.push(Finding {
        caution: &MICROBES_ON_LITTLE_FIBER,
        text: format!(
            "Effective fiber is {pct:.0} % of dry matter; under {:.0} the rumen makes less protein: about {then:.0} g a day where {full:.0} are \
             counted. Metabolizable protein is then {mp:.0} of {need:.0} g. More long roughage mends it.",
            protein::LEAST_EFFECTIVE_NDF_PCT
        ),
    });
}

fn fat(mix: &Mix<'_>, list: &mut Vec<Finding>) {
    let (Some(fat), Some(dm), Some(tdn)) =
        (mix.total(Measure::Fat), mix.total(Measure::OrganicDm), mix.total(Measure::Tdn))
    else {
        return;
    };
    if dm <= 0.0 {
        return;
    }
    let share = 100.0 * fat / dm;
    if share > FAT_WARN_PCT {
        list.push(Finding {
            caution: &FAT_WARNING,
            text: format!(
                "Fat is {share:.1} % of dry matter; from 5 % on watch for scours and slack appetite, 6 % is the end."
            ),
        });
    }
    if share > FAT_SWITCH_PCT {
        let before = crate::need::protein::microbial_1996_g(1000.0 * tdn, 100.0);
        let later = crate::need::protein::microbial_2016_g(1000.0 * dm, 100.0 * tdn / dm, share);
        if later < before {
            list.push(Finding {
                caution: &MICROBES_ON_FAT,
                text: format!(
                    "On this much fat the rumen may make less protein: {later:.0} g a day by the later equation against {before:.0} g \
                     counted here."
                ),
            });
        }
    }
}

fn gossypol(mix: &Mix<'_>, list: &mut Vec<Finding>) {
    let class = mix.block.group.class;
    let most = super::rule::class_index(class).and_then(|index| super::catalog::GOSSYPOL_SEED_PPM[index]);
    let (Some(most), Some(gossypol), Some(dm)) = (most, mix.total(Measure::Gossypol), mix.total(Measure::OrganicDm))
    else {
        return;
    };
    if dm > 0.0 && gossypol / dm > 0.5 * most {
        list.push(Finding {
            caution: &GOSSYPOL_FIGURES,
            text: format!(
                "Free gossypol is {} ppm of dry matter, meal weighed as seed, of the {} counted as the most for a {}. That figure is from \
                 memory; its table was not read. Have the seed tested: it runs from 0.5 to 0.8 %.",
                super::figure_text(gossypol / dm, 0),
                super::figure_text(most, 0),
                class.name()
            ),
        });
    }
}

fn trash(mix: &Mix<'_>, list: &mut Vec<Finding>) {
    let mut guess = 0.0;
    for (feed, kg) in mix.fed().filter(|(feed, _)| feed.class == FeedClass::GinTrash) {
        guess += kg * feed.get(Nutrient::FreeGossypol).unwrap_or(0.0) * 1e4;
        if let Some(ash) = feed.get(Nutrient::Ash).filter(|ash| *ash > ASH_DIRT_PCT) {
            list.push(Finding {
                caution: &DIRTY_TRASH,
                text: format!("{} holds {ash:.0} % ash; above {ASH_DIRT_PCT:.0} % it is dirt, and each point takes about one from TDN.", feed.name),
            });
        }
        if let (Some(words), Some(tdn)) = (feed.dirt_words(), feed.get(Nutrient::Tdn)) {
            list.push(Finding {
                caution: &TDN_LESS_DIRT,
                text: format!("TDN of {} is counted at {tdn:.1} %: {words}. A test of TDN wins.", feed.name),
            });
        }
        let given =
            |nutrient: Nutrient| feed.values.get(&nutrient).is_some_and(|figure| figure.origin == Origin::Given);
        if !given(Nutrient::Tdn) {
            let what = if given(Nutrient::Cp) || given(Nutrient::Ash) { "has no TDN test" } else { "is untested" };
            list.push(Finding {
                caution: &UNTESTED_TRASH,
                text: format!(
                    "{} {what}: printed tests run from 4 to 12 % protein and 38 to 47 % TDN. Test it, ash too.",
                    feed.name
                ),
            });
        }
    }
    let dm = mix.total(Measure::OrganicDm).unwrap_or(0.0);
    if guess > 0.0 && dm > 0.0 && guess / dm > 50.0 {
        list.push(Finding {
            caution: &GOSSYPOL_OF_TRASH,
            text: format!(
                "Gin trash may add about {:.0} ppm free gossypol of its own; nobody has measured it, so no limit counts it.",
                guess / dm
            ),
        });
    }
}
