//! What herd files in tests refer to: everything shipped with the program.

use overwinter::feed::{FeedTable, Losses};
use overwinter::herd::MonthWeather;
use overwinter::herd::weather::WeatherTable;
use overwinter::limit::RULES;
use overwinter::scenario::Library;
use std::sync::LazyLock;

type Region = (&'static str, [Option<MonthWeather>; 12]);

static FEEDS: LazyLock<FeedTable> = LazyLock::new(|| FeedTable::shipped().unwrap());
static LOSSES: LazyLock<Losses> = LazyLock::new(|| Losses::shipped(FEEDS.bibliography()).unwrap());
static WEATHER: LazyLock<WeatherTable> = LazyLock::new(|| WeatherTable::shipped().unwrap());
static REGIONS: LazyLock<Vec<Region>> =
    LazyLock::new(|| WEATHER.regions.iter().map(|(key, region)| (key.as_str(), region.by_month())).collect());
static SPELLS: LazyLock<Vec<(&str, u32, f64)>> =
    LazyLock::new(|| WEATHER.cold_spells.iter().map(|(key, row)| (key.as_str(), row.days, row.below_mean_f)).collect());
static RULE_IDS: LazyLock<Vec<&str>> = LazyLock::new(|| RULES.iter().map(|rule| rule.id).collect());

/// What ships with the program.
pub(crate) fn library() -> Library<'static> {
    Library { feeds: &FEEDS, losses: &LOSSES, regions: &REGIONS, spells: &SPELLS, rules: &RULE_IDS }
}
