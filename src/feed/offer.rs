//! A feed as it can be had: owned or bought, hauled, stored, lost, wasted, and how it is put out.

use super::Feed;
use crate::quantity::{KG_PER_TON, KgAsFed};
use indexmap::IndexMap;
use jiff::civil::Date;

/// What a haul costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Freight {
    /// One way, loaded miles.
    pub miles: f64,
    /// US dollars per loaded mile.
    pub usd_per_loaded_mile: f64,
    /// Short tons on a load.
    pub tons_per_load: f64,
    /// Least charge for a load, US dollars.
    pub minimum_usd: f64,
}

impl Freight {
    /// US dollars for one load.
    #[must_use]
    pub fn usd_per_load(&self) -> f64 {
        (self.miles * self.usd_per_loaded_mile).max(self.minimum_usd)
    }
    /// US dollars per short ton on a full load.
    #[must_use]
    pub fn usd_per_ton(&self) -> f64 {
        self.usd_per_load() / self.tons_per_load
    }
}

/// How a feed is put before cattle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum FedHow {
    /// Measured out.
    #[default]
    ByHand,
    /// Eaten at will.
    FreeChoice,
}

/// Bounds on what one head of one group gets, kg as fed per day.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct AmountBounds {
    /// At least.
    pub min: Option<KgAsFed>,
    /// At most.
    pub max: Option<KgAsFed>,
    /// Exactly.
    pub fixed: Option<KgAsFed>,
}

/// Share of feed lost in storage between arrival and feeding.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum StorageLoss {
    /// A flat share, 0 to below 1, whenever it is fed.
    Flat(f64),
    /// A share for each month (30.4 days) of storage, 0 to below 1, compounded.
    PerMonth(f64),
}

impl StorageLoss {
    /// The share of what stands in store on a day that is left `days` later, above 0 to 1.
    #[must_use]
    pub fn carried(self, days: f64) -> f64 {
        match self {
            Self::Flat(_) => 1.0,
            Self::PerMonth(share) => (1.0 - share).powf(days / crate::quantity::DAYS_PER_MONTH),
        }
    }
    /// The share of what is drawn from store that reaches the feeder when it is drawn evenly over `days`, above 0
    /// to 1: on average it has lain half of them.
    #[must_use]
    pub fn drawn_over(self, days: f64) -> f64 {
        match self {
            Self::Flat(share) => 1.0 - share,
            Self::PerMonth(_) => self.carried(0.5 * days),
        }
    }
}

/// Grass or stalks eaten where they stand: the cost is that of the land, whatever they eat of it.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Grazing {
    /// US dollars per head and month of 30.4 days, for every group that can be on it, while it can be had.
    pub usd_per_head_month: f64,
    /// Most of the dry matter eaten (minerals aside), 0 to 1. `None`: as it comes.
    pub most_of_intake: Option<f64>,
}

/// A feed as this place can have it.
#[derive(Debug, Clone, PartialEq)]
pub struct Offer {
    /// Name in the herd file.
    pub id: String,
    /// Composition, with the user's tests laid over the table.
    pub feed: Feed,
    /// Whether any figure of it comes from a test.
    pub tested: bool,
    /// Date of the test, if given.
    pub tested_on: Option<Date>,
    /// Already owned at the start.
    pub on_hand: KgAsFed,
    /// What a short ton already owned would sell for, US dollars.
    pub value_usd_per_ton: f64,
    /// Price at the seller, US dollars per short ton as fed. `None`: it cannot be bought.
    pub price_usd_per_ton: Option<f64>,
    /// Haul, if it is not delivered.
    pub freight: Option<Freight>,
    /// Loss in storage.
    pub loss: StorageLoss,
    /// Share wasted while feeding, 0 to below 1.
    pub waste: f64,
    /// First and last day it can be had or fed.
    pub from: Option<Date>,
    /// Last day it can be had or fed.
    pub to: Option<Date>,
    /// Eaten where it stands, at a cost by the head.
    pub grazing: Option<Grazing>,
    /// How it is put out.
    pub fed: FedHow,
    /// Bounds for every group that has none of its own.
    pub bounds_all: AmountBounds,
    /// Bounds by group name.
    pub bounds: IndexMap<String, AmountBounds>,
}

impl Offer {
    /// Delivered price, US dollars per short ton as fed, haul included.
    #[must_use]
    pub fn delivered_usd_per_ton(&self) -> Option<f64> {
        self.price_usd_per_ton.map(|price| price + self.freight.map_or(0.0, |freight| freight.usd_per_ton()))
    }
    /// Short tons that must stand in store at the start of `days` for one kg of dry matter eaten in them.
    ///
    /// Loss and waste are shares of what was bought, so they divide: 1/((1 − loss)(1 − waste)).
    #[must_use]
    pub fn tons_per_kg_dm_eaten(&self, days: f64) -> f64 {
        1.0 / (self.feed.dm_pct() / 100.0) / (self.loss.drawn_over(days) * (1.0 - self.waste)) / KG_PER_TON
    }
    /// Cost of grazing, US dollars per head and day; 0 for feeds that are hauled.
    #[must_use]
    pub fn usd_per_head_day(&self) -> f64 {
        self.grazing.map_or(0.0, |grazing| grazing.usd_per_head_month / crate::quantity::DAYS_PER_MONTH)
    }
    /// Whether a plan can have it at all: bought, owned or grazed.
    #[must_use]
    pub fn can_be_had(&self) -> bool {
        self.price_usd_per_ton.is_some() || self.on_hand.0 > 0.0 || self.grazing.is_some()
    }
    /// The bounds that hold for a group.
    #[must_use]
    pub fn bounds_for(&self, group: &str) -> AmountBounds {
        self.bounds.get(group).copied().unwrap_or(self.bounds_all)
    }
}
