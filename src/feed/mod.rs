//! Feeds: composition with the origin of every value, lab tests, and offers (price, freight, loss, waste).

pub mod energy;
pub mod nutrient;
pub mod offer;
pub mod table;

use indexmap::IndexMap;

pub use nutrient::{Figure, Nutrient};
pub use offer::{AmountBounds, FedHow, Freight, Offer};

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
    pub values: IndexMap<Nutrient, Figure>,
    /// Bulk density, lb per cubic foot, if known.
    pub bulk_lb_per_ft3: Option<Figure>,
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
    /// Dry matter, percent of as fed. Every feed has one: the table and the herd file insist on it.
    #[must_use]
    pub fn dm_pct(&self) -> f64 {
        self.get(Nutrient::Dm).unwrap_or(100.0)
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
