//! What a herd file may refer to: the feed table, loss defaults, regions with weather, and the names of the limits.

use crate::feed::{Feed, FeedClass, offer::StorageLoss};
use crate::herd::MonthWeather;
use indexmap::IndexMap;

/// Stand-in for the shipped table.
#[derive(Debug, Default)]
pub struct FeedTable {
    /// Rows.
    pub rows: IndexMap<String, Feed>,
}

impl FeedTable {
    /// A row.
    #[must_use]
    pub fn get(&self, id: &str) -> Option<&Feed> {
        self.rows.get(id)
    }
    /// Names of the rows.
    pub fn ids(&self) -> impl Iterator<Item = &str> + Clone {
        self.rows.keys().map(String::as_str)
    }
}

/// Stand-in for the loss defaults.
#[derive(Debug, Default)]
pub struct Losses {
    /// Ways of storing.
    pub stored: IndexMap<String, StorageLoss>,
    /// Feeders.
    pub feeders: IndexMap<String, f64>,
}

impl Losses {
    /// Default loss.
    #[must_use]
    pub fn default_loss(&self, _class: FeedClass) -> StorageLoss {
        StorageLoss::Flat(0.0)
    }
    /// Default waste.
    #[must_use]
    pub fn default_waste(&self, _class: FeedClass) -> f64 {
        0.0
    }
}

/// What a herd file may refer to.
#[derive(Debug, Clone, Copy)]
pub struct Library<'a> {
    /// The feed table.
    pub feeds: &'a FeedTable,
    /// Loss in storage and waste at the feeder.
    pub losses: &'a Losses,
    /// Regions with monthly weather, January first.
    pub regions: &'a [(&'a str, [Option<MonthWeather>; 12])],
    /// Names of the limits.
    pub rules: &'a [&'a str],
}
