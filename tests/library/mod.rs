//! What herd files in tests refer to.

use overwinter::feed::{FeedTable, Losses};
use overwinter::herd::MonthWeather;
use overwinter::scenario::Library;
use std::sync::LazyLock;

static FEEDS: LazyLock<FeedTable> = LazyLock::new(|| FeedTable::shipped().unwrap());
static LOSSES: LazyLock<Losses> = LazyLock::new(|| Losses::shipped(FEEDS.bibliography()).unwrap());

const MILD: [Option<MonthWeather>; 12] = [Some(MonthWeather { mean_c: 5.0, wind_kmh: 18.0 }); 12];

/// The library of the tests.
pub(crate) fn library() -> Library<'static> {
    Library {
        feeds: &FEEDS,
        losses: &LOSSES,
        regions: &[("rolling_plains", MILD), ("high_plains", MILD)],
        rules: &["added_fat", "total_fat", "seed_body_weight"],
    }
}
