//! The nutrients a feed is described by, their names, units and plausible range, and a single figure.

use crate::source::Origin;
use serde::Deserialize;

/// What is measured in a feed. Names in files are the `snake_case` keys with the unit at the end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Deserialize)]
pub enum Nutrient {
    /// Dry matter, % of as fed.
    #[serde(rename = "dm_pct")]
    Dm,
    /// Total digestible nutrients, % of DM.
    #[serde(rename = "tdn_pct_dm")]
    Tdn,
    /// Crude protein, % of DM.
    #[serde(rename = "cp_pct_dm")]
    Cp,
    /// Protein not degraded in the rumen, % of CP.
    #[serde(rename = "rup_pct_cp")]
    Rup,
    /// Non-protein nitrogen, % of CP.
    #[serde(rename = "npn_pct_cp")]
    Npn,
    /// Neutral detergent fiber, % of DM.
    #[serde(rename = "ndf_pct_dm")]
    Ndf,
    /// Effective NDF, % of NDF.
    #[serde(rename = "endf_pct_ndf")]
    Endf,
    /// Acid detergent fiber, % of DM.
    #[serde(rename = "adf_pct_dm")]
    Adf,
    /// Fat (ether extract), % of DM.
    #[serde(rename = "fat_pct_dm")]
    Fat,
    /// Ash, % of DM.
    #[serde(rename = "ash_pct_dm")]
    Ash,
    /// Calcium, % of DM.
    #[serde(rename = "ca_pct_dm")]
    Ca,
    /// Phosphorus, % of DM.
    #[serde(rename = "p_pct_dm")]
    P,
    /// Magnesium, % of DM.
    #[serde(rename = "mg_pct_dm")]
    Mg,
    /// Potassium, % of DM.
    #[serde(rename = "k_pct_dm")]
    K,
    /// Sodium, % of DM.
    #[serde(rename = "na_pct_dm")]
    Na,
    /// Sulfur, % of DM.
    #[serde(rename = "s_pct_dm")]
    S,
    /// Copper, ppm of DM.
    #[serde(rename = "cu_ppm_dm")]
    Cu,
    /// Iron, ppm of DM.
    #[serde(rename = "fe_ppm_dm")]
    Fe,
    /// Manganese, ppm of DM.
    #[serde(rename = "mn_ppm_dm")]
    Mn,
    /// Zinc, ppm of DM.
    #[serde(rename = "zn_ppm_dm")]
    Zn,
    /// Selenium, ppm of DM.
    #[serde(rename = "se_ppm_dm")]
    Se,
    /// Cobalt, ppm of DM.
    #[serde(rename = "co_ppm_dm")]
    Co,
    /// Iodine, ppm of DM.
    #[serde(rename = "i_ppm_dm")]
    I,
    /// Carotene, mg per kg of DM.
    #[serde(rename = "carotene_mg_per_kg_dm")]
    Carotene,
    /// Vitamin A value, IU per kg of DM (400 IU per mg of carotene, or added vitamin A).
    #[serde(rename = "vitamin_a_iu_per_kg_dm")]
    VitaminA,
    /// Free gossypol, % of DM.
    #[serde(rename = "free_gossypol_pct_dm")]
    FreeGossypol,
    /// Total gossypol, % of DM.
    #[serde(rename = "total_gossypol_pct_dm")]
    TotalGossypol,
    /// Nitrate nitrogen, ppm of DM.
    #[serde(rename = "nitrate_n_ppm_dm")]
    NitrateN,
}

impl Nutrient {
    /// Every nutrient, in the order tables show them.
    pub const ALL: [Self; 28] = [
        Self::Dm,
        Self::Tdn,
        Self::Cp,
        Self::Rup,
        Self::Npn,
        Self::Ndf,
        Self::Endf,
        Self::Adf,
        Self::Fat,
        Self::Ash,
        Self::Ca,
        Self::P,
        Self::Mg,
        Self::K,
        Self::Na,
        Self::S,
        Self::Cu,
        Self::Fe,
        Self::Mn,
        Self::Zn,
        Self::Se,
        Self::Co,
        Self::I,
        Self::Carotene,
        Self::VitaminA,
        Self::FreeGossypol,
        Self::TotalGossypol,
        Self::NitrateN,
    ];

    /// Key in files, unit at the end.
    #[must_use]
    pub fn key(self) -> &'static str {
        self.facts().0
    }
    /// Name for people.
    #[must_use]
    pub fn name(self) -> &'static str {
        self.facts().1
    }
    /// Unit for people.
    #[must_use]
    pub fn unit(self) -> &'static str {
        self.facts().2
    }
    /// The largest value that can be meant; anything above is a slip of the pen.
    #[must_use]
    pub fn most(self) -> f64 {
        self.facts().3
    }
    /// From the key in files.
    #[must_use]
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|nutrient| nutrient.key() == key)
    }

    fn facts(self) -> (&'static str, &'static str, &'static str, f64) {
        match self {
            Self::Dm => ("dm_pct", "dry matter", "% as fed", 100.0),
            Self::Tdn => ("tdn_pct_dm", "TDN", "% of DM", 110.0),
            Self::Cp => ("cp_pct_dm", "crude protein", "% of DM", 300.0),
            Self::Rup => ("rup_pct_cp", "undegraded protein", "% of CP", 100.0),
            Self::Npn => ("npn_pct_cp", "non-protein nitrogen", "% of CP", 100.0),
            Self::Ndf => ("ndf_pct_dm", "NDF", "% of DM", 100.0),
            Self::Endf => ("endf_pct_ndf", "effective NDF", "% of NDF", 100.0),
            Self::Adf => ("adf_pct_dm", "ADF", "% of DM", 100.0),
            Self::Fat => ("fat_pct_dm", "fat", "% of DM", 100.0),
            Self::Ash => ("ash_pct_dm", "ash", "% of DM", 100.0),
            Self::Ca => ("ca_pct_dm", "calcium", "% of DM", 45.0),
            Self::P => ("p_pct_dm", "phosphorus", "% of DM", 30.0),
            Self::Mg => ("mg_pct_dm", "magnesium", "% of DM", 60.0),
            Self::K => ("k_pct_dm", "potassium", "% of DM", 55.0),
            Self::Na => ("na_pct_dm", "sodium", "% of DM", 40.0),
            Self::S => ("s_pct_dm", "sulfur", "% of DM", 30.0),
            Self::Cu => ("cu_ppm_dm", "copper", "ppm of DM", 300_000.0),
            Self::Fe => ("fe_ppm_dm", "iron", "ppm of DM", 300_000.0),
            Self::Mn => ("mn_ppm_dm", "manganese", "ppm of DM", 700_000.0),
            Self::Zn => ("zn_ppm_dm", "zinc", "ppm of DM", 800_000.0),
            Self::Se => ("se_ppm_dm", "selenium", "ppm of DM", 50_000.0),
            Self::Co => ("co_ppm_dm", "cobalt", "ppm of DM", 500_000.0),
            Self::I => ("i_ppm_dm", "iodine", "ppm of DM", 800_000.0),
            Self::Carotene => ("carotene_mg_per_kg_dm", "carotene", "mg/kg of DM", 1000.0),
            Self::VitaminA => ("vitamin_a_iu_per_kg_dm", "vitamin A", "IU/kg of DM", 1.0e9),
            Self::FreeGossypol => ("free_gossypol_pct_dm", "free gossypol", "% of DM", 2.5),
            Self::TotalGossypol => ("total_gossypol_pct_dm", "total gossypol", "% of DM", 3.0),
            Self::NitrateN => ("nitrate_n_ppm_dm", "nitrate nitrogen", "ppm of DM", 30_000.0),
        }
    }
}

/// A figure some other source prints, or the low end to be ready for.
#[derive(Debug, Clone, PartialEq)]
pub struct OtherFigure {
    /// Lower end; equal to `to` for a single figure.
    pub from: f64,
    /// Upper end.
    pub to: f64,
    /// How it was obtained.
    pub origin: Origin,
    /// Key in `feeds/sources.yaml`, if there is a source.
    pub source: Option<String>,
    /// Place in the source, or a remark.
    pub place: Option<String>,
}

/// One figure: mean, spread, and where it comes from.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// Mean.
    pub mean: f64,
    /// Standard deviation in the unit of the mean, if known.
    pub sd: Option<f64>,
    /// How the spread was obtained.
    pub sd_origin: Option<Origin>,
    /// How the mean was obtained.
    pub origin: Origin,
    /// Key in `feeds/sources.yaml`, if there is a source.
    pub source: Option<String>,
    /// Place in the source, or a remark (published range, why this one).
    pub place: Option<String>,
    /// The low case to be ready for, where sources put one far below the mean.
    pub low: Option<OtherFigure>,
    /// What other sources print.
    pub also: Vec<OtherFigure>,
}

impl Figure {
    /// A figure with its origin and nothing else.
    #[must_use]
    pub fn new(mean: f64, origin: Origin) -> Self {
        Self { mean, sd: None, sd_origin: None, origin, source: None, place: None, low: None, also: Vec::new() }
    }
    /// A figure of the user's own: a lab test or a tag.
    #[must_use]
    pub fn given(mean: f64) -> Self {
        Self::new(mean, Origin::Given)
    }
    /// Lowest and highest of the mean and everything other sources print.
    #[must_use]
    pub fn printed_range(&self) -> (f64, f64) {
        self.also.iter().fold((self.mean, self.mean), |(low, high), other| (low.min(other.from), high.max(other.to)))
    }
}
