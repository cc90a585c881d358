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

/// A library for tests of the reader: the shipped feeds, two regions without weather, one kind of spell.
#[cfg(test)]
pub(super) fn with_test_library<T>(run: impl FnOnce(Library<'_>) -> T) -> T {
    let feeds = crate::feed::FeedTable::shipped().unwrap();
    let losses = crate::feed::Losses::shipped(feeds.bibliography()).unwrap();
    let rules: Vec<&str> = crate::limit::RULES.iter().map(|rule| rule.id).collect();
    run(Library {
        feeds: &feeds,
        losses: &losses,
        regions: &[("high_plains", [None; 12]), ("rolling_plains", [None; 12])],
        spells: &[("hard", 7, 25.0)],
        rules: &rules,
    })
}
