//! The shipped feed table: complete, with an origin behind every figure, and equal to what is printed.

use overwinter::feed::{FeedTable, Losses};

fn table() -> FeedTable {
    FeedTable::shipped().unwrap_or_else(|found| panic!("{found:#?}"))
}

#[test]
fn the_table_holds_57_feeds() {
    let start = std::time::Instant::now();
    let table = table();
    eprintln!("{:?}", start.elapsed());
    assert_eq!(table.len(), 57);
    Losses::shipped(table.bibliography()).unwrap_or_else(|found| panic!("{found:#?}"));
}
