//! A feed, its lots and its nutrients.

use super::{Keys, Known, Shape, or_by_name, words};
use crate::feed::{FeedClass, Nutrient};
use crate::scenario::feeding;
use crate::scenario::measure::{
    ACRES, AT_LEAST, AT_MOST, BALE_DENSITY, BALE_DIAMETER, BALE_WEIGHT, BALE_WIDTH, BALES, BUCKET, BULK, BULK_ROOM,
    EVERY_DAYS, FIXED, FORAGE_PER_ACRE, HEAD_MONTH, LABOR, LB_PER_BALE, LEFTOVER, LOAD, LOSS, MILES, MINIMUM,
    MONTHLY_LOSS, ON_HAND, PER_WEEK, PRICE, RATE, SHARE, SHARE_OF_INTAKE, STORAGE, TEST_WEIGHT, TIMES_PER_WEEK, VALUE,
    WAITING, WASTE,
};

/// The keys of a feed.
pub(super) fn feed(known: &Known<'_>) -> Shape {
    // A lot may leave out whatever the feed says; only its name must be there.
    let lot = match keys(known).end() {
        Shape::Section(mut list) => {
            for field in list.iter_mut().filter(|field| field.keys[0].0 == "name") {
                field.required = true;
            }
            Shape::Section(list)
        }
        other => other,
    };
    keys(known).key("lots", Shape::List { of: Box::new(lot), count: (1, 1000) }).end()
}

fn keys<'m>(known: &Known<'_>) -> Keys<'m> {
    let freight = Keys::of("").number(&MILES).must().number(&RATE).must().number(&LOAD).must().number(&MINIMUM).end();
    let supply = Keys::of("")
        .key("region", words(known.ginning))
        .must()
        .number(&BALES)
        .must()
        .number(&LB_PER_BALE)
        .must()
        .number(&WAITING)
        .number(&SHARE)
        .end();
    let prices =
        |number: Shape| Shape::Either(vec![number.clone(), Shape::Months { days: false, of: Box::new(number) }]);
    let bale = Keys::of("").number(&BALE_WEIGHT).number(&BALE_DIAMETER).number(&BALE_WIDTH).number(&BALE_DENSITY).end();
    Keys::of("`feeds`")
        .key("like", Shape::Text)
        .key("name", Shape::Text)
        .key("class", words(FeedClass::ALL.map(FeedClass::key)))
        .key("composition", nutrients())
        .key("test", nutrients())
        .number(&BULK)
        .quantity(&PRICE, prices)
        .number(&TEST_WEIGHT)
        .key("bale", bale)
        .key("freight", freight)
        .number(&ON_HAND)
        .number(&VALUE)
        .key("stored", words(known.stored))
        .number(&MONTHLY_LOSS)
        .number(&LOSS)
        .key("feeder", words(known.feeders))
        .number(&WASTE)
        .number(&LEFTOVER)
        .number(&PER_WEEK)
        .key("supply", supply)
        .number(&STORAGE)
        .number(&BULK_ROOM)
        .key("whole_loads", Shape::Flag)
        .key("from", Shape::Date)
        .key("to", Shape::Date)
        .key("fed_from", Shape::Date)
        .key("fed_to", Shape::Date)
        .key("fed", or_by_name(words(feeding::WORDS.map(|(word, _)| word))))
        .number(&EVERY_DAYS)
        .number(&TIMES_PER_WEEK)
        .number(&LABOR)
        .number(&BUCKET)
        .key("groups", Shape::List { of: Box::new(Shape::Text), count: (1, 1000) })
        .number(&HEAD_MONTH)
        .number(&ACRES)
        .number(&FORAGE_PER_ACRE)
        .number(&SHARE_OF_INTAKE)
        .quantity(&AT_LEAST, or_by_name)
        .quantity(&AT_MOST, or_by_name)
        .quantity(&FIXED, or_by_name)
}

/// The nutrients of a lab test or of a feed of one's own.
pub(super) fn nutrients() -> Shape {
    let figure = |nutrient: Nutrient| Shape::Number {
        least: if nutrient == Nutrient::Dm { 1.0 } else { 0.0 },
        most: nutrient.most(),
        whole: false,
    };
    let keys = Nutrient::ALL
        .into_iter()
        .fold(Keys::of("Nutrients"), |keys, nutrient| keys.key(nutrient.key(), figure(nutrient)));
    keys.key("tested", Shape::Date).end()
}
