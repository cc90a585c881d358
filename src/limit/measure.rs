//! What a rule adds up over the feeds of a ration, and what it sets that sum against.

use super::Block;
use crate::feed::{Feed, FeedClass, GossypolForm, Nutrient};
use crate::quantity::KG_PER_LB;

/// A sum over feeds. Every measure is linear: so much for each kg of dry matter of a feed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    /// Net energy for maintenance, Mcal.
    Nem,
    /// Energy kept as growth, Mcal NEg. Not linear alone: the programme splits it (see `winter::growth`).
    Retained,
    /// Total digestible nutrients, kg.
    Tdn,
    /// Crude protein that may be credited, kg.
    Cp,
    /// Metabolizable protein if energy limits the microbes, g.
    MpByEnergy,
    /// Metabolizable protein if degradable protein limits the microbes, g.
    MpByDegradable,
    /// Calcium, g.
    Ca,
    /// Phosphorus, g.
    P,
    /// Sulfur, g; the water's comes on top.
    Sulfur,
    /// All dry matter, kg.
    Dm,
    /// Dry matter without minerals, kg.
    OrganicDm,
    /// Dry matter that sulfur is shared over where forage is scarce, kg (see the rule).
    SulfurRoom,
    /// Long roughage dry matter, kg; ground or pelleted roughage by its effective share (see [`long_share`]).
    LongRoughage,
    /// NDF from roughage, kg.
    ForageNdf,
    /// Effective NDF of everything, kg.
    EffectiveNdf,
    /// Straw and stover, kg of dry matter.
    StrawDm,
    /// All fat, kg.
    Fat,
    /// Fat above 2 % in feeds that are not roughage, kg.
    AddedFat,
    /// Free gossypol of seed and meal as if all came from seed, mg.
    Gossypol,
    /// Free gossypol of meal, hulls and cubes, mg.
    GossypolOfMeal,
    /// Whole cottonseed, kg as fed.
    SeedAsFed,
    /// Whole cottonseed, kg of dry matter.
    SeedDm,
    /// Distillers feed, kg as fed.
    DistillersAsFed,
    /// Gin trash, kg of dry matter.
    GinTrashDm,
    /// Limestone, kg as fed.
    LimestoneAsFed,
    /// Grain, kg as fed.
    GrainAsFed,
    /// Crude protein from urea and liquid feed, kg.
    NpnCp,
    /// All crude protein, credited or not, kg.
    AllCp,
    /// Urea, kg of dry matter.
    UreaDm,
    /// Room that feeds tested for nitrate take of the ration by the printed brackets, kg (see [`super::nitrate::room`]).
    Nitrate,
    /// Urea, and what is not protein of liquid feed and cubes as urea, kg.
    UreaEquivalent,
    /// Urea a head may have, kg: so much on a diet without grain, and more with grain (see the rule).
    UreaRoom,
    /// Room taken of what is eaten at will, kg of the base roughage.
    AtWill,
    /// TDN of everything that is not roughage or mineral, kg.
    SupplementTdn,
    /// Degradable protein, kg.
    Rdp,
    /// One offer alone, kg as fed.
    OneFeed(usize),
    /// One: turns a sum into an amount per head and day.
    Head,
    /// Body weight, kg.
    BodyWeight,
}

/// A nutrient of a feed that a rule needs and nobody knows.
#[derive(Debug, Clone, PartialEq)]
pub struct Missing {
    /// The feed.
    pub feed: String,
    /// The nutrient.
    pub nutrient: Nutrient,
}

/// Fat that plain forage brings, share of dry matter (feeds notes; common figure of forage tables).
pub const FORAGE_FAT_SHARE: f64 = 0.02;
/// Share of microbial crude protein that becomes metabolizable: 0.80 true × 0.80 digestible (NRC 1996).
pub const MICROBIAL_TO_MP: f64 = 0.64;
/// Digestibility of undegraded protein (NRC 1996).
pub const RUP_TO_MP: f64 = 0.80;
/// Microbial crude protein per unit of TDN (NRC 1996).
pub const MICROBIAL_PER_TDN: f64 = 0.13;

/// Crude protein that urea counts as, per kg: 45.4 % nitrogen × 6.25.
pub const UREA_CP: f64 = 2.84;
/// Urea a head may have a day on a diet without grain, lb (about 0.1 on low-energy roughage, from memory).
pub const UREA_WITHOUT_GRAIN_LB: f64 = 0.1;
/// Urea more for each pound of grain as fed, lb: 15 lb of grain, a high-grain diet, makes the printed 0.25 (judgement).
pub const UREA_PER_GRAIN: f64 = 0.01;
/// Effective NDF from which dry roughage counts as long, % of NDF: hay and straw have 92 to 98 (judgement).
const LONG_FROM_PCT: f64 = 90.0;

/// How much of a roughage counts as long, 0 to 1. Ground or pelleted, by the effective share of its fiber (of gin trash
/// 60 and 30 %, judgement); hay, straw, hulls and trash as they are, silage and pasture wholly. Where nobody says, wholly.
#[must_use]
pub fn long_share(feed: &Feed) -> f64 {
    let dry = !feed.class.is_grazed() && feed.class != FeedClass::Silage;
    match feed.get(Nutrient::Endf) {
        Some(pct) if dry && pct < LONG_FROM_PCT => pct / 100.0,
        _ => 1.0,
    }
}

fn known(feed: &Feed, nutrient: Nutrient) -> Result<f64, Missing> {
    match feed.get(nutrient) {
        Some(value) => Ok(value),
        // A mineral or premix brings none of the organic nutrients, and traces of the rest are far below any limit.
        None if feed.class.is_mineral() => Ok(0.0),
        None => Err(Missing { feed: feed.id.clone(), nutrient }),
    }
}

fn share(feed: &Feed, nutrient: Nutrient) -> Result<f64, Missing> {
    Ok(known(feed, nutrient)? / 100.0)
}

/// Nitrogen that is not protein by recipe (urea, liquid feed, cubes whose tag says so), as distinct from the soluble
/// nitrogen of silage. Of liquid feed the little of plain molasses counts, too.
fn is_npn_feed(feed: &Feed) -> bool {
    feed.class == FeedClass::Liquid || feed.holds_npn()
}

fn if_so(holds: bool, value: f64) -> f64 {
    if holds { value } else { 0.0 }
}

impl Measure {
    /// How much of it one kg of dry matter of a feed brings.
    ///
    /// # Errors
    /// The nutrient that is not known.
    pub fn per_kg_dm(self, index: usize, feed: &Feed, block: &Block<'_>) -> Result<f64, Missing> {
        let class = feed.class;
        let as_fed = 100.0 / feed.dm_pct();
        Ok(match self {
            Self::Nem => crate::feed::energy::nem_mcal_per_kg(known(feed, Nutrient::Tdn)?),
            Self::Retained => crate::feed::energy::neg_mcal_per_kg(known(feed, Nutrient::Tdn)?),
            Self::Tdn => share(feed, Nutrient::Tdn)?,
            Self::Cp => share(feed, Nutrient::Cp)? * Self::npn_credit(feed, block)?,
            Self::AllCp => share(feed, Nutrient::Cp)?,
            Self::NpnCp => {
                if is_npn_feed(feed) {
                    share(feed, Nutrient::Cp)? * share(feed, Nutrient::Npn)?
                } else {
                    0.0
                }
            }
            Self::MpByEnergy => {
                1000.0
                    * (MICROBIAL_TO_MP * MICROBIAL_PER_TDN * share(feed, Nutrient::Tdn)? + RUP_TO_MP * Self::rup(feed)?)
            }
            Self::MpByDegradable => 1000.0 * (MICROBIAL_TO_MP * Self::rdp(feed, block)? + RUP_TO_MP * Self::rup(feed)?),
            Self::Rdp => Self::rdp(feed, block)?,
            Self::Ca => 1000.0 * share(feed, Nutrient::Ca)?,
            Self::P => 1000.0 * share(feed, Nutrient::P)?,
            Self::Sulfur => 1000.0 * share(feed, Nutrient::S)?,
            Self::Dm => 1.0,
            Self::OrganicDm => if_so(!class.is_mineral(), 1.0),
            // 0.30 % + 0.80 (forage share − 0.15), times dry matter: 0.18 % of all and 0.80 % of forage.
            Self::SulfurRoom => if_so(!class.is_mineral(), 1.8) + if_so(class.is_roughage(), 8.0),
            Self::LongRoughage => if_so(class.is_roughage(), long_share(feed)),
            Self::ForageNdf => {
                if class.is_roughage() {
                    share(feed, Nutrient::Ndf)?
                } else {
                    0.0
                }
            }
            Self::EffectiveNdf => share(feed, Nutrient::Ndf)? * share(feed, Nutrient::Endf)?,
            Self::StrawDm => if_so(class == FeedClass::Straw, 1.0),
            Self::Fat => share(feed, Nutrient::Fat)?,
            Self::AddedFat => {
                if class.is_roughage() || class.is_mineral() {
                    0.0
                } else {
                    (share(feed, Nutrient::Fat)? - FORAGE_FAT_SHARE).max(0.0)
                }
            }
            Self::Gossypol => match class.gossypol_form() {
                Some(GossypolForm::Seed) => known(feed, Nutrient::FreeGossypol)? * 1e4,
                Some(GossypolForm::Meal) => known(feed, Nutrient::FreeGossypol)? * 1e4 * block.meal_gossypol_weight(),
                Some(GossypolForm::Trash) | None => 0.0,
            },
            Self::GossypolOfMeal => match class.gossypol_form() {
                Some(GossypolForm::Meal) => known(feed, Nutrient::FreeGossypol)? * 1e4,
                _ => 0.0,
            },
            Self::SeedAsFed => if_so(class == FeedClass::WholeCottonseed, as_fed),
            Self::SeedDm => if_so(class == FeedClass::WholeCottonseed, 1.0),
            Self::DistillersAsFed => if_so(class == FeedClass::Distillers, as_fed),
            Self::GinTrashDm => if_so(class == FeedClass::GinTrash, 1.0),
            Self::LimestoneAsFed => if_so(class == FeedClass::Limestone, as_fed),
            Self::GrainAsFed => if_so(class == FeedClass::Grain, as_fed),
            Self::UreaDm => if_so(class == FeedClass::Urea, 1.0),
            // Only where it was tested: what is not known is told, for it cannot be counted.
            Self::Nitrate => feed
                .get(Nutrient::NitrateN)
                .map_or(0.0, |ppm| super::nitrate::room(ppm, super::nitrate::in_calf(block.group, block.period))),
            Self::UreaEquivalent => Self::NpnCp.per_kg_dm(index, feed, block)? / UREA_CP,
            Self::UreaRoom => if_so(class == FeedClass::Grain, UREA_PER_GRAIN * as_fed),
            Self::AtWill => block.at_will_room(feed)?,
            Self::SupplementTdn => {
                if class.is_roughage() || class.is_mineral() {
                    0.0
                } else {
                    share(feed, Nutrient::Tdn)?
                }
            }
            Self::OneFeed(one) => if_so(one == index, as_fed),
            Self::Head | Self::BodyWeight => 0.0,
        })
    }

    /// What is there whatever is fed.
    #[must_use]
    pub fn constant(self, block: &Block<'_>) -> f64 {
        match self {
            Self::Sulfur => block.group.water_sulfur_g,
            Self::UreaRoom => UREA_WITHOUT_GRAIN_LB * KG_PER_LB,
            Self::Head => 1.0,
            Self::BodyWeight => block.needs.weight_kg,
            _ => 0.0,
        }
    }

    /// Share of a feed's crude protein that may be credited: none of urea's to growing cattle.
    fn npn_credit(feed: &Feed, block: &Block<'_>) -> Result<f64, Missing> {
        if is_npn_feed(feed) && block.group.class.grows() { Ok(1.0 - share(feed, Nutrient::Npn)?) } else { Ok(1.0) }
    }
    fn rup(feed: &Feed) -> Result<f64, Missing> {
        Ok(share(feed, Nutrient::Cp)? * share(feed, Nutrient::Rup)?)
    }
    fn rdp(feed: &Feed, block: &Block<'_>) -> Result<f64, Missing> {
        let credited = share(feed, Nutrient::Cp)? * Self::npn_credit(feed, block)?;
        Ok((credited - Self::rup(feed)?).max(0.0))
    }
}
