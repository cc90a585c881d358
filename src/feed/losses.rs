//! What is lost in storage and wasted in feeding, by way of storing and feeding.

use super::bibliography::Bibliography;
use super::judge::{Judge, nearest};
use super::offer::StorageLoss;
use super::raw::{Pairs, RawDefault, RawFigure, RawFull, RawLoss, RawLosses, from_yaml};
use super::{FeedClass, Figure};
use crate::diagnostic::Diagnostic;
use crate::source::Origin;
use indexmap::IndexMap;

/// One way of storing or feeding and the share of feed it costs.
#[derive(Debug, Clone, PartialEq)]
pub struct LossEntry {
    /// Key in herd files.
    pub key: String,
    /// Words for people.
    pub words: String,
    /// Percent lost as the source has it: of a season if `months` is given, flat otherwise.
    pub printed: Figure,
    /// Length of the season the printed figure is for, months.
    pub months: Option<f64>,
}

impl LossEntry {
    /// The loss as a stored feed undergoes it.
    ///
    /// A season's loss s over m months is 1 − (1 − s)^(1/m) a month, compounded.
    #[must_use]
    pub fn storage_loss(&self) -> StorageLoss {
        match self.months {
            Some(months) => StorageLoss::PerMonth(1.0 - (1.0 - self.share()).powf(1.0 / months)),
            None => StorageLoss::Flat(self.share()),
        }
    }
    /// The printed percent as a share, 0 to below 1.
    #[must_use]
    pub fn share(&self) -> f64 {
        self.printed.mean / 100.0
    }
    /// How the share in use was obtained: computed if it was turned into a share of a month.
    #[must_use]
    pub fn origin(&self) -> Origin {
        match (self.months, self.printed.origin) {
            (Some(_), Origin::Published | Origin::Abstract) => Origin::Computed,
            (_, origin) => origin,
        }
    }
}

/// What is assumed of a class of feed where the user does not say.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ClassDefault {
    /// Key of the way of storing.
    pub storage: String,
    /// Key of the way of feeding.
    pub feeder: String,
    /// Why. The choice is a judgement.
    pub because: String,
}

/// Ways of storing and feeding, and what is assumed of each class of feed.
#[derive(Debug, Clone, PartialEq)]
pub struct Losses {
    storage: IndexMap<String, LossEntry>,
    feeders: IndexMap<String, LossEntry>,
    defaults: IndexMap<FeedClass, ClassDefault>,
}

impl Losses {
    /// The losses shipped with the program.
    ///
    /// # Errors
    /// If the shipped file is faulty; a test holds that it is not.
    pub fn shipped(bibliography: &Bibliography) -> Result<Self, Vec<Diagnostic>> {
        Self::read(bibliography, "feeds/losses.yaml", include_str!("../../feeds/losses.yaml"))
    }

    /// From the text of a losses file.
    ///
    /// # Errors
    /// Everything that is wrong, all at once: F001 unreadable, F002 given twice, F003 an unknown class,
    /// F005 an unknown source, F006 an impossible value, F007 a class without a default, F010 an unknown way.
    pub fn read(bibliography: &Bibliography, file: &str, text: &str) -> Result<Self, Vec<Diagnostic>> {
        let raw: RawLosses = from_yaml(file, text)?;
        let mut judge = Judge::new(bibliography);
        let storage = entries(&mut judge, file, raw.storage);
        let feeders = entries(&mut judge, file, raw.feeders);
        let mut defaults = IndexMap::new();
        for (key, default) in raw.defaults.0 {
            let at = format!("{file}: defaults: {key}");
            for (way, ways) in [(&default.storage, &storage), (&default.feeder, &feeders)] {
                if !ways.contains_key(way) {
                    judge.error("F010", format!("{at} names a way that is not there: {way}"));
                }
            }
            if let Some(class) = judge.class(&at, &key) {
                let (storage, feeder, because) = (default.storage, default.feeder, default.because);
                if defaults.insert(class, ClassDefault { storage, feeder, because }).is_some() {
                    judge.error("F002", format!("{at} is there twice"));
                }
            }
        }
        for class in FeedClass::ALL.into_iter().filter(|class| !defaults.contains_key(class)) {
            judge.error("F007", format!("{file}: defaults has nothing for {}", class.key()));
        }
        if judge.found.is_empty() { Ok(Self { storage, feeders, defaults }) } else { Err(judge.found) }
    }

    /// The way of storing with this key.
    #[must_use]
    pub fn storage(&self, key: &str) -> Option<&LossEntry> {
        self.storage.get(key)
    }
    /// The way of feeding with this key.
    #[must_use]
    pub fn feeder(&self, key: &str) -> Option<&LossEntry> {
        self.feeders.get(key)
    }
    /// Every way of storing.
    pub fn storage_ways(&self) -> impl Iterator<Item = &LossEntry> {
        self.storage.values()
    }
    /// Every way of feeding.
    pub fn feeder_ways(&self) -> impl Iterator<Item = &LossEntry> {
        self.feeders.values()
    }
    /// What is assumed of a class where the user does not say. Every class has a default in a table that was read.
    #[must_use]
    pub fn default_for(&self, class: FeedClass) -> Option<(&LossEntry, &LossEntry, &str)> {
        let default = self.defaults.get(&class)?;
        Some((self.storage(&default.storage)?, self.feeder(&default.feeder)?, default.because.as_str()))
    }
    /// Up to three ways of storing that a mistyped key may mean.
    #[must_use]
    pub fn suggest_storage(&self, key: &str) -> Vec<&str> {
        nearest(key, self.storage.keys().map(String::as_str), 3)
    }
    /// Up to three ways of feeding that a mistyped key may mean.
    #[must_use]
    pub fn suggest_feeder(&self, key: &str) -> Vec<&str> {
        nearest(key, self.feeders.keys().map(String::as_str), 3)
    }
}

fn entries(judge: &mut Judge<'_>, file: &str, raw: Pairs<RawLoss>) -> IndexMap<String, LossEntry> {
    let mut entries = IndexMap::new();
    for (key, raw) in raw.0 {
        let at = format!("{file}: {key}");
        let RawLoss { words, pct, months, origin, source, place, also } = raw;
        let written = RawFull { mean: pct, origin: Some(origin), source, place, also, ..RawFull::default() };
        let printed = judge.figure(&at, RawFigure(written), &RawDefault::default(), 99.0, "%");
        if months.is_some_and(|months| !(0.1..=36.0).contains(&months)) {
            judge.error("F006", format!("{at}: months must lie between 0.1 and 36"));
        }
        let entry = LossEntry { key: key.clone(), words, printed, months };
        if entries.insert(key, entry).is_some() {
            judge.error("F002", format!("{at} is there twice"));
        }
    }
    entries
}
