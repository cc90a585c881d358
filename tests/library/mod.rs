//! What herd files in tests refer to.

use overwinter::feed::{Feed, FeedClass, Figure, Nutrient, offer::StorageLoss};
use overwinter::herd::MonthWeather;
use overwinter::scenario::{FeedTable, Library, Losses};
use std::sync::LazyLock;

static FEEDS: LazyLock<FeedTable> = LazyLock::new(|| {
    let mut table = FeedTable::default();
    for (id, class) in [
        ("prairie_hay", FeedClass::Hay),
        ("range_cube_38", FeedClass::Cube),
        ("whole_cottonseed", FeedClass::WholeCottonseed),
        ("gin_trash_stripper", FeedClass::GinTrash),
        ("mineral_12_12", FeedClass::Mineral),
        ("native_range_dormant", FeedClass::Dormant),
    ] {
        let values = [(Nutrient::Dm, 90.0), (Nutrient::Tdn, 50.0), (Nutrient::Cp, 6.0)]
            .into_iter()
            .map(|(nutrient, mean)| (nutrient, Figure::given(mean)))
            .collect();
        let feed = Feed { id: id.to_owned(), name: id.to_owned(), class, values, bulk_lb_per_ft3: None };
        table.rows.insert(id.to_owned(), feed);
    }
    table
});

static LOSSES: LazyLock<Losses> = LazyLock::new(|| Losses {
    stored: [
        ("barn".to_owned(), StorageLoss::PerMonth(0.002)),
        ("outside_on_ground".to_owned(), StorageLoss::PerMonth(0.02)),
    ]
    .into_iter()
    .collect(),
    feeders: [("open_ring".to_owned(), 0.2), ("bunk".to_owned(), 0.05)].into_iter().collect(),
});

const MILD: [Option<MonthWeather>; 12] = [Some(MonthWeather { mean_c: 5.0, wind_kmh: 18.0 }); 12];

/// The library of the tests.
pub fn library() -> Library<'static> {
    Library {
        feeds: &FEEDS,
        losses: &LOSSES,
        regions: &[("rolling_plains", MILD), ("high_plains", MILD)],
        rules: &["added_fat", "total_fat", "seed_body_weight"],
    }
}
