//! The units feed is priced in: the ton, and what people hear at the elevator and in the hay lot.

use crate::quantity::{KG_PER_TON, LB_PER_TON};
use std::f64::consts::PI;

/// Density of a round bale where none is given, lb of hay as fed per cubic foot: the reference bale of Texas A&M Extension
/// E-319 (Banta 2012), 5 by 5 ft and 1,100 lb. Bales run from 9 to above 12 (the upper end from memory).
pub const ROUND_BALE_LB_PER_FT3: f64 = 1100.0 / (PI * 2.5 * 2.5 * 5.0);

/// Weight of a round bale, lb as fed, from its diameter and width in feet and its density in lb per cubic foot: that of
/// the cylinder π (d/2)² w ρ (E-319).
#[must_use]
pub fn round_bale_lb(diameter_ft: f64, width_ft: f64, lb_per_ft3: f64) -> f64 {
    PI * (diameter_ft / 2.0).powi(2) * width_ft * lb_per_ft3
}

/// How the weight of a bale is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BaleWeight {
    /// It was given.
    Given,
    /// From size and density.
    FromDensity,
    /// From size, at [`ROUND_BALE_LB_PER_FT3`].
    FromUsualDensity,
}

/// The unit a price is written in.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum PriceUnit {
    /// Short ton as fed.
    #[default]
    Ton,
    /// Metric ton as fed.
    MetricTon,
    /// Hundred pounds as fed.
    Cwt,
    /// Bushel of so many pounds as fed.
    Bushel {
        /// Test weight, lb.
        lb: f64,
    },
    /// Bale of so many pounds as fed.
    Bale {
        /// Weight, lb.
        lb: f64,
        /// How it is known.
        known: BaleWeight,
    },
    /// Short ton of dry matter.
    TonDm {
        /// Dry matter, % of as fed.
        dm_pct: f64,
    },
}

impl PriceUnit {
    /// Short tons as fed in one unit, above 0.
    #[must_use]
    pub fn tons(self) -> f64 {
        match self {
            Self::Ton => 1.0,
            Self::MetricTon => 1000.0 / KG_PER_TON,
            Self::Cwt => 100.0 / LB_PER_TON,
            Self::Bushel { lb } | Self::Bale { lb, .. } => lb / LB_PER_TON,
            Self::TonDm { dm_pct } => 100.0 / dm_pct,
        }
    }
    /// A price per unit as US dollars per short ton as fed.
    #[must_use]
    pub fn usd_per_ton(self, usd_per_unit: f64) -> f64 {
        usd_per_unit / self.tons()
    }
    /// A price in US dollars per short ton as fed as one per unit.
    #[must_use]
    pub fn usd_per_unit(self, usd_per_ton: f64) -> f64 {
        usd_per_ton * self.tons()
    }
    /// One unit, for people.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Ton => "ton",
            Self::MetricTon => "metric ton",
            Self::Cwt => "cwt",
            Self::Bushel { .. } => "bushel",
            Self::Bale { .. } => "bale",
            Self::TonDm { .. } => "ton of dry matter",
        }
    }
    /// Several, for people.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Ton => "tons",
            Self::MetricTon => "metric tons",
            Self::Cwt => "cwt",
            Self::Bushel { .. } => "bushels",
            Self::Bale { .. } => "bales",
            Self::TonDm { .. } => "tons of dry matter",
        }
    }
    /// End of a key or column that holds a price in this unit.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Ton => "ton",
            Self::MetricTon => "metric_ton",
            Self::Cwt => "cwt",
            Self::Bushel { .. } => "bushel",
            Self::Bale { .. } => "bale",
            Self::TonDm { .. } => "ton_dm",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// E-319 (Banta 2012), and what follows from its reference bale (gin notes).
    #[test]
    fn round_bales_weigh_what_is_printed() {
        let lb = |diameter: f64, width: f64| round_bale_lb(diameter, width, ROUND_BALE_LB_PER_FT3).round();
        // width by diameter as the sheet writes them
        let printed = [(4.0, 4.0, 563.0), (5.0, 5.0, 1100.0), (5.0, 6.0, 1584.0)];
        for (width, diameter, weight) in printed {
            assert!((lb(diameter, width) - weight).abs() < 0.5, "{width} x {diameter}: {}", lb(diameter, width));
        }
        assert!((round_bale_lb(5.0, 5.0, 1.0) - 98.17).abs() < 0.005);
        assert!((ROUND_BALE_LB_PER_FT3 - 11.2).abs() < 0.05);
        // $50 a bale: $90.91 and $177.56 a ton as printed.
        let per_ton = |size: f64| {
            let lb = round_bale_lb(size, size, ROUND_BALE_LB_PER_FT3);
            PriceUnit::Bale { lb, known: BaleWeight::FromUsualDensity }.usd_per_ton(50.0)
        };
        assert!((per_ton(5.0) - 90.91).abs() < 0.005, "{}", per_ton(5.0));
        assert!((per_ton(4.0) - 177.56).abs() < 0.005, "{}", per_ton(4.0));
    }

    #[test]
    fn every_unit_goes_there_and_back() {
        let bale = PriceUnit::Bale { lb: 1100.0, known: BaleWeight::Given };
        let bushel = PriceUnit::Bushel { lb: 56.0 };
        for unit in
            [PriceUnit::Ton, PriceUnit::MetricTon, PriceUnit::Cwt, bushel, bale, PriceUnit::TonDm { dm_pct: 88.0 }]
        {
            assert!((unit.usd_per_unit(unit.usd_per_ton(3.65)) - 3.65).abs() < 1e-12, "{}", unit.word());
        }
        assert!((PriceUnit::Cwt.usd_per_ton(12.0) - 240.0).abs() < 1e-9);
        assert!((bushel.usd_per_ton(5.60) - 200.0).abs() < 1e-9);
        // A ton of feed at 88 % holds 0.88 ton of dry matter.
        assert!((PriceUnit::TonDm { dm_pct: 88.0 }.usd_per_ton(100.0) - 88.0).abs() < 1e-9);
    }
}
