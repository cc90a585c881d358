//! Feeds: composition with the origin of every value, lab tests, and offers (price, freight, loss, waste).

pub mod bibliography;
pub mod dirt;
pub mod energy;
pub mod ginning;
mod judge;
pub mod losses;
pub mod nutrient;
pub mod offer;
pub mod price_unit;
mod raw;
pub mod spread;
pub mod supply;
pub mod table;

use std::collections::BTreeMap;

use crate::source::Origin;

pub use bibliography::Bibliography;
pub use losses::Losses;
pub use nutrient::{Figure, Nutrient, OtherFigure};
pub use offer::{AmountBounds, FedHow, Feeding, Freight, Grazing, LotOf, MonthPrice, Offer};
pub use price_unit::{BaleWeight, PriceUnit};
pub use supply::{Supply, SupplyCurve};
pub use table::FeedTable;

/// What a feed is, as the rules see it. The traits below follow from it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum FeedClass {
    /// Whole cottonseed of any kind.
    WholeCottonseed,
    /// Cottonseed meal by any process.
    CottonseedMeal,
    /// Cottonseed hulls.
    CottonseedHulls,
    /// Gin trash, burrs, motes: what the gin blows out.
    GinTrash,
    /// Hay of grass or legume.
    Hay,
    /// Straw, stover, peanut hulls: residues that are hauled.
    Straw,
    /// Standing dormant grass or stalks, grazed where they stand.
    Dormant,
    /// Green pasture, grazed.
    Pasture,
    /// Silage.
    Silage,
    /// Cereal grain.
    Grain,
    /// Distillers grains.
    Distillers,
    /// Digestible-fiber and milling byproducts: soybean hulls, gluten feed, middlings.
    Byproduct,
    /// Oilseed meals other than cottonseed.
    OilseedMeal,
    /// Range cubes.
    Cube,
    /// Molasses and liquid feeds.
    Liquid,
    /// Urea and other non-protein nitrogen.
    Urea,
    /// Limestone and other plain calcium sources.
    Limestone,
    /// Salt, minerals, vitamin premixes.
    Mineral,
}

/// The form in which free gossypol comes, because the limits differ.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GossypolForm {
    /// In whole seed, released slowly.
    Seed,
    /// In meal, hulls or cubes, quickly available.
    Meal,
    /// In gin trash: a guess, never counted in a limit, only mentioned.
    Trash,
}

impl FeedClass {
    /// Every class, in the order tables show them.
    pub const ALL: [Self; 18] = [
        Self::WholeCottonseed,
        Self::CottonseedMeal,
        Self::CottonseedHulls,
        Self::GinTrash,
        Self::Hay,
        Self::Straw,
        Self::Dormant,
        Self::Pasture,
        Self::Silage,
        Self::Grain,
        Self::Byproduct,
        Self::Distillers,
        Self::OilseedMeal,
        Self::Cube,
        Self::Liquid,
        Self::Urea,
        Self::Limestone,
        Self::Mineral,
    ];

    /// Key in files.
    #[must_use]
    pub fn key(self) -> &'static str {
        self.facts().0
    }
    /// Heading for people.
    #[must_use]
    pub fn heading(self) -> &'static str {
        self.facts().1
    }
    /// From the key in files.
    #[must_use]
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|class| class.key() == key)
    }

    fn facts(self) -> (&'static str, &'static str) {
        match self {
            Self::WholeCottonseed => ("whole_cottonseed", "Whole cottonseed"),
            Self::CottonseedMeal => ("cottonseed_meal", "Cottonseed meal"),
            Self::CottonseedHulls => ("cottonseed_hulls", "Cottonseed hulls"),
            Self::GinTrash => ("gin_trash", "Gin trash, motes, burrs"),
            Self::Hay => ("hay", "Hay"),
            Self::Straw => ("straw", "Straw, stover, peanut hulls"),
            Self::Dormant => ("dormant", "Dormant grass and stalks, grazed"),
            Self::Pasture => ("pasture", "Green pasture, grazed"),
            Self::Silage => ("silage", "Silage"),
            Self::Grain => ("grain", "Grain"),
            Self::Byproduct => ("byproduct", "Milling byproducts"),
            Self::Distillers => ("distillers", "Distillers grains"),
            Self::OilseedMeal => ("oilseed_meal", "Other oilseed meals"),
            Self::Cube => ("cube", "Range cubes"),
            Self::Liquid => ("liquid", "Molasses and liquid feed"),
            Self::Urea => ("urea", "Urea"),
            Self::Limestone => ("limestone", "Limestone"),
            Self::Mineral => ("mineral", "Salt, minerals, vitamins"),
        }
    }

    /// Counts as roughage for the roughage floor, forage share and forage NDF.
    #[must_use]
    pub fn is_roughage(self) -> bool {
        matches!(
            self,
            Self::CottonseedHulls
                | Self::GinTrash
                | Self::Hay
                | Self::Straw
                | Self::Dormant
                | Self::Pasture
                | Self::Silage
        )
    }
    /// Counts as mineral: no share rule counts its dry matter.
    #[must_use]
    pub fn is_mineral(self) -> bool {
        matches!(self, Self::Limestone | Self::Mineral)
    }
    /// Eaten where it stands, not hauled.
    #[must_use]
    pub fn is_grazed(self) -> bool {
        matches!(self, Self::Dormant | Self::Pasture)
    }
    /// How its gossypol counts, if it can hold any.
    #[must_use]
    pub fn gossypol_form(self) -> Option<GossypolForm> {
        match self {
            Self::WholeCottonseed => Some(GossypolForm::Seed),
            Self::CottonseedMeal | Self::CottonseedHulls | Self::Cube => Some(GossypolForm::Meal),
            Self::GinTrash => Some(GossypolForm::Trash),
            _ => None,
        }
    }
}

/// Protein from nitrogen that is no protein up to which a liquid feed is plain molasses, % of DM: one percent of urea
/// brings 2.8 (judgement; the table's molasses holds 2.3).
const PLAIN_LIQUID_NPN_PCT: f64 = 2.8;
/// What a hazard can do at worst; the gravest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Gravity {
    /// Kills cattle, people or other stock, or breaks the law.
    Kills,
    /// Harms cattle.
    Harms,
    /// Makes the feed worth less than it seems.
    Quality,
}

/// A herd that a hazard weighs for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Who {
    /// Calves at side.
    Calves,
    /// Females in calf.
    Bred,
    /// Bulls, young or grown.
    Bulls,
}

/// Something to watch with a feed. It defers to local law, the feed tag, the label of what was sprayed,
/// the veterinarian and the nutritionist.
#[derive(Debug, Clone, PartialEq)]
pub struct FeedCaution {
    /// What it is about: its key in `feeds/cautions.yaml`.
    pub about: String,
    /// What it can do at worst.
    pub gravity: Gravity,
    /// The same in a few words, for the sheet in the truck; every caution that kills has it.
    pub short: Option<String>,
    /// Herds it weighs for; empty: all.
    pub who: Vec<Who>,
    /// What to do or not to do, a sentence for people.
    pub text: String,
    /// The figure behind it, if there is one.
    pub figure: Option<String>,
    /// How the figure, or the caution where it has none, was obtained.
    pub origin: Origin,
    /// Key in `feeds/sources.yaml`, if there is a source.
    pub source: Option<String>,
    /// Place in the source, or a remark.
    pub place: Option<String>,
}

/// A feed with its composition. Everything but dry matter itself is on dry matter.
#[derive(Debug, Clone, PartialEq)]
pub struct Feed {
    /// Row of the feed table, or the user's own name.
    pub id: String,
    /// Name for people.
    pub name: String,
    /// What it is.
    pub class: FeedClass,
    /// What is known of it. A nutrient that is not here is not known, which is not zero.
    pub values: BTreeMap<Nutrient, Figure>,
    /// Bulk density, lb per cubic foot, if known.
    pub bulk_lb_per_ft3: Option<Figure>,
    /// Test weight, lb per bushel as fed, of feeds sold by the bushel.
    pub lb_per_bushel: Option<Figure>,
    /// A remark for people.
    pub note: Option<String>,
    /// What to watch with it.
    pub cautions: Vec<FeedCaution>,
}

impl Feed {
    /// The mean of a nutrient in its own unit, if known.
    #[must_use]
    pub fn get(&self, nutrient: Nutrient) -> Option<f64> {
        self.values.get(&nutrient).map(|figure| figure.mean)
    }
    /// The standard deviation of a nutrient in its own unit, if known.
    #[must_use]
    pub fn sd(&self, nutrient: Nutrient) -> Option<f64> {
        self.values.get(&nutrient).and_then(|figure| figure.sd)
    }
    /// The low case of a nutrient in its own unit, if sources put one far below the mean.
    #[must_use]
    pub fn low(&self, nutrient: Nutrient) -> Option<&OtherFigure> {
        self.values.get(&nutrient).and_then(|figure| figure.low.as_ref())
    }
    /// Dry matter, percent of as fed. Every feed has one: the table and the herd file insist on it.
    #[must_use]
    pub fn dm_pct(&self) -> f64 {
        self.get(Nutrient::Dm).unwrap_or(100.0)
    }
    /// Holds urea or other non-protein nitrogen by recipe: urea itself, liquid feed, and cubes or meal whose tag says so;
    /// the soluble nitrogen of silage and grain and the little of plain molasses (2 % of its dry matter as protein) are none.
    #[must_use]
    pub fn holds_npn(&self) -> bool {
        let npn_cp_pct_dm = self.get(Nutrient::Cp).unwrap_or(0.0) * self.get(Nutrient::Npn).unwrap_or(0.0) / 100.0;
        match self.class {
            FeedClass::Urea => true,
            FeedClass::Liquid => npn_cp_pct_dm > PLAIN_LIQUID_NPN_PCT,
            class => !class.is_roughage() && class != FeedClass::Grain && npn_cp_pct_dm > 0.0,
        }
    }
    /// NEm, Mcal per kg of dry matter, from TDN by the cubic. `None` if TDN is not known.
    #[must_use]
    pub fn nem_mcal_per_kg(&self) -> Option<f64> {
        self.get(Nutrient::Tdn).map(energy::nem_mcal_per_kg)
    }
    /// NEg, Mcal per kg of dry matter, from TDN by the cubic. `None` if TDN is not known.
    #[must_use]
    pub fn neg_mcal_per_kg(&self) -> Option<f64> {
        self.get(Nutrient::Tdn).map(energy::neg_mcal_per_kg)
    }
}
