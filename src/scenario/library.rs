//! What a herd file may refer to: the feed table, loss defaults, regions with weather, and the names of the limits.

use crate::feed::{FeedTable, Losses};
use crate::herd::MonthWeather;

/// What a herd file may refer to.
#[derive(Debug, Clone, Copy)]
pub struct Library<'a> {
    /// The feed table.
    pub feeds: &'a FeedTable,
    /// Loss in storage and waste at the feeder.
    pub losses: &'a Losses,
    /// Regions with monthly weather, January first.
    pub regions: &'a [(&'a str, [Option<MonthWeather>; 12])],
    /// Kinds of cold spell: days, and °F below the mean of the month.
    pub spells: &'a [(&'a str, u32, f64)],
    /// Names of the limits.
    pub rules: &'a [&'a str],
}
