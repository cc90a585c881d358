//! Things to know about a ration that are no rows of the programme: each fires with its figures and its source.

mod kinds;
mod minerals;

pub use kinds::CAUTIONS;

use super::Block;
use super::measure::Measure;
use crate::feed::{Feed, FeedClass, Nutrient, Offer};
use crate::herd::AnimalClass;
use crate::need::{ConditionPath, condition, mineral};
use crate::source::{Cite, Origin};
use kinds::{
    BULLS_AND_GOSSYPOL, COLD_BEYOND_FEEDING, CONDITION_AT_CALVING, DEGRADABLE_PROTEIN, DIRTY_TRASH, FAT_WARNING,
    GOSSYPOL_OF_TRASH, GRAZING_WITHOUT_WALKING, MICROBES_ON_FAT, POOR_PROTEIN_INTAKE, SULFUR_A_DAY,
    SUPPLEMENT_FOR_ROUGHAGE, UNTESTED_TRASH,
};
use minerals::minerals;

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

/// Crude protein of the diet below which intake falls, % of DM (Arizona AZ9523).
const PROTEIN_FLOOR_PCT: f64 = 7.0;
/// Roughage left uneaten for each point of protein short, percent (judgement).
const INTAKE_LOST_PER_POINT_PCT: f64 = 10.0;
/// Degradable protein below this share of TDN slows the rumen, percent (13 % is the book's need of microbes; on poor
/// roughage nitrogen is recycled and 10 % serves: judgement, near Koster 1996).
const RDP_OF_TDN_PCT: f64 = 10.0;
/// Supplement TDN above this share of body weight lowers roughage intake, percent.
const SUPPLEMENT_TDN_PCT: f64 = 0.7;
/// Fat at which to be warned, % of DM.
const FAT_WARN_PCT: f64 = 5.0;
/// Fat above which the later microbial-protein equation is the relevant one, % of DM.
const FAT_SWITCH_PCT: f64 = 3.9;
/// Ash at which gin trash is dirt, % of DM.
const ASH_DIRT_PCT: f64 = 15.0;

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
    rumen(&mix, &mut list);
    fat(&mix, &mut list);
    trash(&mix, &mut list);
    minerals(&mix, &mut list);
    cold(&mix, &mut list);
    bulls(&mix, &mut list);
    calving(&mix, &mut list);
    grazing(&mix, &mut list);
    list
}

fn rumen(mix: &Mix<'_>, list: &mut Vec<Finding>) {
    let (Some(rdp), Some(tdn), Some(supplement)) =
        (mix.total(Measure::Rdp), mix.total(Measure::Tdn), mix.total(Measure::SupplementTdn))
    else {
        return;
    };
    let weight = mix.block.needs.weight_kg;
    if let (Some(protein), Some(dm)) = (mix.total(Measure::Cp), mix.total(Measure::OrganicDm))
        && dm > 0.0
    {
        let pct = 100.0 * protein / dm;
        // A tenth of a point is forgiven, as the rule itself does.
        if pct < PROTEIN_FLOOR_PCT - 0.1 {
            list.push(Finding {
                caution: &POOR_PROTEIN_INTAKE,
                text: format!(
                    "On {pct:.1} % protein they will eat about {:.0} % less roughage than written here, so the energy below is more than they get.",
                    INTAKE_LOST_PER_POINT_PCT * (PROTEIN_FLOOR_PCT - pct)
                ),
            });
        }
    }
    if tdn > 0.0 && 100.0 * rdp / tdn < RDP_OF_TDN_PCT {
        list.push(Finding {
            caution: &DEGRADABLE_PROTEIN,
            text: format!(
                "Degradable protein is {:.1} % of TDN; under {RDP_OF_TDN_PCT:.0} % the rumen may slow and she may eat less.",
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
        let asked = mix.offers.iter().any(|offer| offer.feed.id == feed.id && !offer.tested);
        if asked {
            list.push(Finding {
                caution: &UNTESTED_TRASH,
                text: format!(
                    "{} is untested: printed tests run from 4 to 12 % protein and 38 to 47 % TDN. Test it, ash too.",
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

fn cold(mix: &Mix<'_>, list: &mut Vec<Finding>) {
    let energy = &mix.block.needs.energy;
    let asked = mix.block.needs.cold_uncapped_nem_mcal;
    if asked > energy.cold_nem_mcal + 1e-9 {
        list.push(Finding {
            caution: &COLD_BEYOND_FEEDING,
            text: format!(
                "Cold asks {asked:.1} Mcal a day, more than 40 % of maintenance: {:.1} are in the ration, the rest comes off her back. Shelter and a \
                 dry coat save more than feed.",
                energy.cold_nem_mcal
            ),
        });
    }
}

fn bulls(mix: &Mix<'_>, list: &mut Vec<Finding>) {
    let is_bull = matches!(mix.block.group.class, AnimalClass::Bull | AnimalClass::YoungBull);
    let cotton = mix.fed().any(|(feed, _)| {
        matches!(feed.class, FeedClass::WholeCottonseed | FeedClass::CottonseedMeal | FeedClass::Cube)
            && feed.get(Nutrient::FreeGossypol).unwrap_or(0.0) > 0.0
    });
    if is_bull && cotton {
        list.push(Finding {
            caution: &BULLS_AND_GOSSYPOL,
            text: "Cottonseed feeds to bulls: stop 60 to 90 days before turn-out if the meal is direct-solvent or the seed untested; young bulls \
                   on meal showed sperm defects that passed after the feed was stopped."
                .to_owned(),
        });
    }
}

fn calving(mix: &Mix<'_>, list: &mut Vec<Finding>) {
    let (group, period) = (mix.block.group, mix.block.period);
    let Some(calving) = group.calving.filter(|day| *day >= period.from && *day < period.to) else { return };
    let wanted = if group.class == AnimalClass::BredHeifer { condition::TARGET_HEIFER } else { condition::TARGET_COW };
    let score = ConditionPath::of(group, mix.block.winter_start).score_on(calving);
    // A quarter of a score is what a practiced eye can tell.
    if score < wanted - 0.25 {
        list.push(Finding {
            caution: &CONDITION_AT_CALVING,
            text: format!(
                "The path given leads to score {score:.1} at calving; {wanted:.0} is wanted. The cheapest time to add condition is before \
                 the last 60 days."
            ),
        });
    }
}

fn grazing(mix: &Mix<'_>, list: &mut Vec<Finding>) {
    let grazes = mix.fed().any(|(feed, _)| feed.class.is_grazed());
    if grazes && mix.block.group.activity_share <= 0.0 {
        list.push(Finding {
            caution: &GRAZING_WITHOUT_WALKING,
            text: "They graze, and nothing is counted for walking: 10 to 20 % of maintenance on easy ground, up to 50 % on poor hills. \
                   Write `activity_pct`."
                .to_owned(),
        });
    }
    let sulfur = mix.total(Measure::Sulfur).unwrap_or(0.0);
    if grazes && mix.block.group.class.calves() && sulfur > mineral::SULFUR_MOST_G {
        list.push(Finding {
            caution: &SULFUR_A_DAY,
            text: format!(
                "Sulfur is {sulfur:.0} g a day with the water; more than about {:.0} g is too much for a grazing cow.",
                mineral::SULFUR_MOST_G
            ),
        });
    }
}
