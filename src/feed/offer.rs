//! A feed as it can be had: owned or bought, hauled, stored, lost, wasted, and how it is put out.

use super::Feed;
use super::price_unit::PriceUnit;
use super::supply::{Supply, days};
use crate::quantity::{DAYS_PER_MONTH, KG_PER_TON, KgAsFed};
use indexmap::IndexMap;
use jiff::ToSpan;
use jiff::civil::Date;

/// Days that a feed bought as it is fed lies on average before it is fed: half a month (judgement). The same whatever
/// the periods are, so that cutting them finer changes no cost.
pub const USUAL_STAY_DAYS: f64 = 0.5 * DAYS_PER_MONTH;

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
    /// The share of what stands in store for `days` of feeding that reaches the feeder when it is drawn evenly over
    /// them, above 0 to 1.
    ///
    /// With a loss at the rate k, one ton a day for d days takes (e^(kd) − 1)/k tons at the start; so cutting a period
    /// in two changes nothing.
    #[must_use]
    pub fn drawn_over(self, days: f64) -> f64 {
        match self {
            Self::Flat(share) => 1.0 - share,
            Self::PerMonth(share) => {
                let lost = -(1.0 - share).ln() * days / DAYS_PER_MONTH;
                if lost < 1e-9 { 1.0 } else { lost / lost.exp_m1() }
            }
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

/// A price that holds in one month.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MonthPrice {
    /// Year.
    pub year: i16,
    /// Month, 1 to 12.
    pub month: i8,
    /// US dollars per short ton at the seller.
    pub usd_per_ton: f64,
}

/// How often a feed that is put out by hand is put out, and what a trip costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Feeding {
    /// Days from one feeding to the next, at least 1.
    pub every_days: f64,
    /// Labor and machine of one feeding, US dollars. `None`: not given, so not counted.
    pub usd_per_feeding: Option<f64>,
    /// What one bale of it weighs, lb as fed. `None`: not given, so no bales are counted.
    pub bale_lb: Option<f64>,
    /// What one bucket of it holds, lb as fed. `None`: not given, so no buckets are counted.
    pub bucket_lb: Option<f64>,
}

impl Default for Feeding {
    fn default() -> Self {
        Self { every_days: 1.0, usd_per_feeding: None, bale_lb: None, bucket_lb: None }
    }
}

/// The feed of which an offer is one lot, with the amounts that hold for all its lots together.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LotOf {
    /// Name of the feed in the herd file.
    pub feed: String,
    /// Bounds for every group that has none of its own.
    pub bounds_all: AmountBounds,
    /// Bounds by group name.
    pub bounds: IndexMap<String, AmountBounds>,
}

impl LotOf {
    /// The bounds that hold for a group.
    #[must_use]
    pub fn bounds_for(&self, group: &str) -> AmountBounds {
        self.bounds.get(group).copied().unwrap_or(self.bounds_all)
    }
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
    /// What a short ton left at the end is worth, US dollars. `None`: what was owned, its sale value; what was bought,
    /// nothing.
    pub leftover_usd_per_ton: Option<f64>,
    /// Price at the seller, US dollars per short ton as fed; of the first month where it goes by month. `None`: it
    /// cannot be bought.
    pub price_usd_per_ton: Option<f64>,
    /// Prices that hold from their month on, in order.
    pub price_by_month: Vec<MonthPrice>,
    /// The unit its price is written in.
    pub price_unit: PriceUnit,
    /// What the seller has.
    pub supply: Supply,
    /// Room for it, short tons. `None`: as much as is wanted.
    pub storage_tons: Option<f64>,
    /// Hauled in full loads only.
    pub whole_loads: bool,
    /// Haul, if it is not delivered.
    pub freight: Option<Freight>,
    /// Loss in storage.
    pub loss: StorageLoss,
    /// Share wasted while feeding, 0 to below 1.
    pub waste: f64,
    /// First day it can be had; of a feed without a store or a price, the first day it can be fed.
    pub from: Option<Date>,
    /// The last such day.
    pub to: Option<Date>,
    /// Eaten where it stands, at a cost by the head.
    pub grazing: Option<Grazing>,
    /// First day it is put out, where the file says.
    pub fed_from: Option<Date>,
    /// Last day it is put out, where the file says.
    pub fed_to: Option<Date>,
    /// How it is put out.
    pub fed: FedHow,
    /// How it is put out for some groups.
    pub fed_by_group: IndexMap<String, FedHow>,
    /// How often it is put out.
    pub feeding: Feeding,
    /// The feed it is one lot of.
    pub lot_of: Option<LotOf>,
    /// Bounds for every group that has none of its own.
    pub bounds_all: AmountBounds,
    /// Bounds by group name.
    pub bounds: IndexMap<String, AmountBounds>,
}

impl Offer {
    /// A feed that is simply bought, US dollars per short ton delivered, without loss or waste.
    #[must_use]
    pub fn bought(feed: Feed, usd_per_ton: f64) -> Self {
        Self {
            id: feed.id.clone(),
            feed,
            tested: false,
            tested_on: None,
            on_hand: KgAsFed(0.0),
            value_usd_per_ton: 0.0,
            leftover_usd_per_ton: None,
            price_usd_per_ton: Some(usd_per_ton),
            price_by_month: Vec::new(),
            price_unit: PriceUnit::Ton,
            supply: Supply::Unlimited,
            storage_tons: None,
            whole_loads: false,
            freight: None,
            loss: StorageLoss::Flat(0.0),
            waste: 0.0,
            from: None,
            to: None,
            grazing: None,
            fed_from: None,
            fed_to: None,
            fed: FedHow::ByHand,
            fed_by_group: IndexMap::new(),
            feeding: Feeding::default(),
            lot_of: None,
            bounds_all: AmountBounds::default(),
            bounds: IndexMap::new(),
        }
    }
    /// Whether it is kept: bought in one period, it can be fed in a later one. Any other feed is bought as it is fed.
    #[must_use]
    pub fn is_stored(&self) -> bool {
        // What stands on so many acres is a store too.
        self.on_hand.0 > 0.0
            || !self.feed.class.is_grazed()
                && (self.supply != Supply::Unlimited
                    || self.storage_tons.is_some()
                    || self.price_by_month.len() > 1
                    || self.whole_loads)
    }
    /// Name of the feed in the herd file: that of the feed it is a lot of, if it is one.
    #[must_use]
    pub fn feed_name(&self) -> &str {
        self.lot_of.as_ref().map_or(&self.id, |lot| &lot.feed)
    }
    /// Whether days may be skipped at all.
    #[must_use]
    pub fn may_skip_days(&self) -> bool {
        most_days_apart(&self.feed) > 1.0
    }
    /// How it is put out for a group.
    #[must_use]
    pub fn fed_for(&self, group: &str) -> FedHow {
        self.fed_by_group.get(group).copied().unwrap_or(self.fed)
    }
    /// First and last day it is put out in a way. What is kept and can be bought is measured out while it lasts: its
    /// `from` and `to` are those of buying. Put out at will, it is put out only while it comes, unless the file says
    /// otherwise: nobody fills a ring from a pile that is not replaced.
    #[must_use]
    pub fn feeding_dates(&self, way: FedHow) -> (Option<Date>, Option<Date>) {
        let kept = self.is_stored() && self.price_usd_per_ton.is_some();
        let (first, last) = match (&self.supply, way) {
            (_, FedHow::ByHand) if kept => (None, None),
            (Supply::Curve(curve), FedHow::FreeChoice) => {
                let ends = (curve.points.first().map(|point| point.0), curve.points.last().map(|point| point.0));
                (self.from.max(ends.0), self.to.or(ends.1))
            }
            _ => (self.from, self.to),
        };
        (self.fed_from.or(first), self.fed_to.or(last))
    }
    /// Whether it can be fed in a way on most of the days from `from` to the day before `to`, as far as dates go.
    #[must_use]
    pub fn fed_between(&self, from: Date, to: Date, way: FedHow) -> bool {
        let (first, last) = self.feeding_dates(way);
        let (first, end) = window((first, last), from, to);
        2 * days(first, end) >= days(from, to)
    }
    /// Short tons that can be bought from a day to the day before another; infinite without limit.
    #[must_use]
    pub fn tons_offered(&self, from: Date, to: Date) -> f64 {
        if self.price_usd_per_ton.is_none() {
            return 0.0;
        }
        let (first, end) = window((self.from, self.to), from, to);
        self.supply.tons_between(first, end)
    }
    /// The same if the seller had everything some weeks earlier. What would then begin inside the period is not counted,
    /// since the period is fed from its first day on.
    #[must_use]
    pub fn tons_offered_earlier(&self, from: Date, to: Date, weeks: u32) -> f64 {
        let later = |day: Date| day.checked_add(i64::from(7 * weeks).days()).unwrap_or(day);
        if weeks > 0 && self.from.is_some_and(|first| first > later(from)) {
            return 0.0;
        }
        self.tons_offered(later(from), later(to))
    }
    /// Price at the seller on a day, US dollars per short ton. `None`: it cannot be bought.
    #[must_use]
    pub fn price_on(&self, day: Date) -> Option<f64> {
        let holds = |price: &&MonthPrice| (price.year, price.month) <= (day.year(), day.month());
        self.price_by_month.iter().rev().find(holds).map(|price| price.usd_per_ton).or(self.price_usd_per_ton)
    }
    /// Delivered price on a day, US dollars per short ton as fed, haul included.
    #[must_use]
    pub fn delivered_on(&self, day: Date) -> Option<f64> {
        self.price_on(day).map(|price| price + self.freight.map_or(0.0, |freight| freight.usd_per_ton()))
    }
    /// The least delivered price of all months, US dollars per short ton; infinite if it cannot be bought.
    #[must_use]
    pub fn least_delivered_usd_per_ton(&self) -> f64 {
        let haul = self.freight.map_or(0.0, |freight| freight.usd_per_ton());
        let months = self.price_by_month.iter().map(|price| price.usd_per_ton);
        months.chain(self.price_usd_per_ton).fold(f64::INFINITY, f64::min) + haul
    }
    /// What a short ton already owned would sell for, US dollars. Never more than the least price.
    #[must_use]
    pub fn own_value_usd_per_ton(&self) -> f64 {
        self.value_usd_per_ton.min(self.least_delivered_usd_per_ton())
    }
    /// What a short ton left at the end is worth, US dollars. Never more than the least price, or a plan would buy to
    /// sell.
    #[must_use]
    pub fn end_value_usd_per_ton(&self) -> f64 {
        let own = if self.on_hand.0 > 0.0 { self.value_usd_per_ton } else { 0.0 };
        self.leftover_usd_per_ton.unwrap_or(own).min(self.least_delivered_usd_per_ton())
    }
    /// Delivered price, US dollars per short ton as fed, haul included; of the first month where it goes by month.
    #[must_use]
    pub fn delivered_usd_per_ton(&self) -> Option<f64> {
        self.price_usd_per_ton.map(|price| price + self.freight.map_or(0.0, |freight| freight.usd_per_ton()))
    }
    /// The share of what stands in store for `days` of feeding that reaches the feeder.
    #[must_use]
    pub fn kept_over(&self, days: f64) -> f64 {
        if self.is_stored() {
            self.loss.drawn_over(days)
        } else {
            match self.loss {
                StorageLoss::Flat(share) => 1.0 - share,
                StorageLoss::PerMonth(_) => self.loss.carried(USUAL_STAY_DAYS),
            }
        }
    }
    /// Short tons that must stand in store at the start of `days` for one kg of dry matter eaten in them.
    ///
    /// Loss and waste are shares of what was bought, so they divide: 1/((1 − loss)(1 − waste)).
    #[must_use]
    pub fn tons_per_kg_dm_eaten(&self, days: f64) -> f64 {
        1.0 / (self.feed.dm_pct() / 100.0) / (self.kept_over(days) * (1.0 - self.waste)) / KG_PER_TON
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

/// The part of the days from `from` to the day before `to` that lies between a first and a last day.
fn window((first, last): (Option<Date>, Option<Date>), from: Date, to: Date) -> (Date, Date) {
    let begin = first.map_or(from, |day| day.max(from));
    let end = last.and_then(|day| day.tomorrow().ok()).map_or(to, |day| day.min(to));
    (begin, end)
}

/// Days apart at which whole seed and what carries fat, sulfur or much energy may be fed: three times a week. Seed is
/// printed daily or every second day, and 3 to 4 days' supply only in feeders, once cattle know it (Rankins, Auburn);
/// three times a week by hand, and the same for distillers feed and milling byproducts, is judgement.
pub const SEED_DAYS_APART: f64 = 7.0 / 3.0;
/// Days apart at which anything else may be fed: protein was fed once in 6 to 7 days without loss of weight or condition
/// (Harty and Olson 2012; Oregon 2005).
pub const PROTEIN_DAYS_APART: f64 = 7.0;

/// Most days from one feeding of a feed by hand to the next. Grain, urea, and whatever holds urea by recipe are fed daily
/// (feeding notes, from memory); so is molasses, whose sugar is eaten as fast as grain (judgement).
#[must_use]
pub fn most_days_apart(feed: &Feed) -> f64 {
    use super::FeedClass::{Byproduct, Distillers, Grain, Liquid, WholeCottonseed};
    match feed.class {
        _ if feed.holds_npn() => 1.0,
        Grain | Liquid => 1.0,
        WholeCottonseed | Distillers | Byproduct => SEED_DAYS_APART,
        _ => PROTEIN_DAYS_APART,
    }
}
