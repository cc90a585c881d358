//! Net energy to keep alive and to walk.

use crate::source::{Cite, Origin};

/// Where the maintenance equation comes from. All five terms were read in the summary of the 2016 committee's work.
pub const MAINTENANCE: Cite = Cite::new("nasem2016_abstracts", "no. 1022; unchanged from nrc1996", Origin::Abstract);
/// Where the breed factors come from.
pub const BREED_FACTORS: Cite = Cite::new("nrc1996", "breed maintenance table", Origin::Memory);
/// Where the higher factor for first-calf heifers in milk comes from.
pub const FIRST_CALF_FACTOR: Cite = Cite::new("uark_mp391", "2018 revision, contents page", Origin::Published);
/// Where the grazing equation comes from.
pub const GRAZING: Cite = Cite::new("nrc1996", "chapter 10, after CSIRO 1990", Origin::Memory);

/// Mcal NEm per kg of metabolic weight and day.
pub const FASTING_NEM_MCAL: f64 = 0.077;
/// Factor on maintenance while she milks.
pub const MILKING: f64 = 1.20;
/// Factor on maintenance of a first-calf heifer in milk that one state table uses in place of [`MILKING`].
pub const MILKING_FIRST_CALF_OPTION: f64 = 1.25;
/// Factor on maintenance of intact bulls.
pub const INTACT_BULL: f64 = 1.15;
/// Temperature at which acclimatization is nil, °C. Every printed table stands here.
pub const NEUTRAL_C: f64 = 20.0;

/// Metabolic weight, kg to the power 0.75.
#[must_use]
pub fn metabolic_weight(sbw_kg: f64) -> f64 {
    sbw_kg.max(0.0).powf(0.75)
}

/// The terms that multiply or add to maintenance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MaintenanceTerms {
    /// BE: 1.00 most beef breeds, 0.90 *Bos indicus*, 1.20 dairy and some dual-purpose.
    pub breed_factor: f64,
    /// L: 1.20 in milk, 1.00 dry.
    pub milking_factor: f64,
    /// SEX: 1.15 intact bulls, 1.00 others.
    pub sex_factor: f64,
    /// COMP: see [`previous_plane_factor`]; 1.00 for grown cattle, whose condition is counted as reserves.
    pub previous_plane_factor: f64,
    /// Mean air temperature of the month before, °C, if acclimatization is counted.
    pub last_month_c: Option<f64>,
}

impl Default for MaintenanceTerms {
    fn default() -> Self {
        Self { breed_factor: 1.0, milking_factor: 1.0, sex_factor: 1.0, previous_plane_factor: 1.0, last_month_c: None }
    }
}

/// Net energy for maintenance, Mcal NEm a day.
///
/// SBW^0.75 · (0.077 · BE · L · SEX · COMP + a2), a2 = 0.0007 · (20 − Tp). `sbw_kg` is shrunk weight without the
/// conceptus, 30 to 1200 kg. Source: [`MAINTENANCE`].
#[must_use]
pub fn maintenance_nem_mcal(sbw_kg: f64, terms: &MaintenanceTerms) -> f64 {
    let a1 =
        FASTING_NEM_MCAL * terms.breed_factor * terms.milking_factor * terms.sex_factor * terms.previous_plane_factor;
    metabolic_weight(sbw_kg) * (a1 + terms.last_month_c.map_or(0.0, acclimatization_mcal)).max(0.0)
}

/// a2: what last month's weather adds per kg of metabolic weight, Mcal NEm a day.
///
/// `last_month_c` is the mean air temperature of the month before, °C. Above 20 °C it is negative.
#[must_use]
pub fn acclimatization_mcal(last_month_c: f64) -> f64 {
    0.0007 * (NEUTRAL_C - last_month_c)
}

/// COMP: the effect of the previous plane of nutrition on growing cattle, by condition score 1 to 9.
///
/// 0.80 + 0.05 · (score − 1); 1.00 at score 5. Not for grown cows: their condition is counted as reserves, and both
/// together would count it twice.
#[must_use]
pub fn previous_plane_factor(score: f64) -> f64 {
    0.80 + (score - 1.0) * 0.05
}

/// Lie of the land, for grazing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Terrain {
    /// Level.
    Level,
    /// Undulating.
    Undulating,
    /// Hilly.
    Hilly,
}

impl Terrain {
    fn factor(self) -> f64 {
        match self {
            Self::Level => 1.0,
            Self::Undulating => 1.5,
            Self::Hilly => 2.0,
        }
    }
}

/// Net energy of grazing and walking, Mcal NEm a day.
///
/// `[0.006 · pI · (0.9 − TDNp) + 0.05 · TERRAIN / (pAVAIL + 3)] · SBW / 4.184`: `pasture_kg_dm` eaten a day, its TDN
/// as a percent of dry matter, metric tons of dry matter per hectare on offer. Source: [`GRAZING`], from memory. It comes
/// out far over the rule beside it in the same book, 10 to 20 % of maintenance on good easy pasture and up to 50 % on
/// poor hilly range (45 % on the former), so a group's share of maintenance is asked for and this stays a second opinion.
#[must_use]
pub fn grazing_nem_mcal(sbw_kg: f64, pasture_kg_dm: f64, tdn_pct: f64, terrain: Terrain, tonnes_dm_per_ha: f64) -> f64 {
    let eating = 0.006 * pasture_kg_dm * (0.9 - tdn_pct / 100.0);
    let walking = 0.05 * terrain.factor() / (tonnes_dm_per_ha.max(0.0) + 3.0);
    (eating + walking).max(0.0) * sbw_kg / 4.184
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn acclimatization_is_nil_at_twenty_and_adds_fourteen_percent_at_five() {
        let at = |c| maintenance_nem_mcal(500.0, &MaintenanceTerms { last_month_c: Some(c), ..Default::default() });
        let still = maintenance_nem_mcal(500.0, &MaintenanceTerms::default());
        assert!((at(20.0) / still - 1.0).abs() < 1e-12);
        for (c, added) in [(10.0, 0.09), (5.0, 0.14), (0.0, 0.18), (-5.0, 0.23)] {
            assert!((at(c) / still - 1.0 - added).abs() < 0.005, "{c} °C");
        }
    }

    #[test]
    fn previous_plane_is_one_at_score_five() {
        assert!((previous_plane_factor(5.0) - 1.0).abs() < 1e-12);
        assert!((previous_plane_factor(3.0) - 0.90).abs() < 1e-12);
    }

    #[test]
    fn hills_and_poor_thin_pasture_ask_more() {
        let ask = |tdn, terrain, offer| grazing_nem_mcal(545.0, 11.0, tdn, terrain, offer);
        assert!(ask(60.0, Terrain::Hilly, 2.0) > ask(60.0, Terrain::Undulating, 2.0));
        assert!(ask(60.0, Terrain::Undulating, 2.0) > ask(60.0, Terrain::Level, 2.0));
        assert!(ask(48.0, Terrain::Level, 2.0) > ask(60.0, Terrain::Level, 2.0));
        assert!(ask(60.0, Terrain::Level, 0.5) > ask(60.0, Terrain::Level, 2.0));
        // By hand: (0.006 · 11 · 0.3 + 0.05 / 5) · 545 / 4.184.
        assert!((ask(60.0, Terrain::Level, 2.0) - 3.8817).abs() < 1e-4);
    }
}
