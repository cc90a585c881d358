//! The gin file.

use super::{Keys, Known, Shape, feeds, one_number, words};
use crate::gin::harvest::Harvest;
use crate::gin::product::Form;
use crate::gin::reference;
use crate::herd::AnimalClass;
use crate::scenario::gin::measure::{
    ACRES, AFLATOXIN, ASH_POINTS, ASKED, BALES_PER_ROUND, BALES_PER_WEEK, BEHIND, CEILING, COST, DENSITY, HAY, KEEPING,
    LINT, LOADING, LOSS as UNSEEN, MODULE_LOADS, MOTES, OUTLET, ROUND_MODULES, SEED, SEED_COTTON, SEED_TO_LINT,
    TAKEN_OUT, TRAILER, TRASH, TURNOUT, WASTE, WITHIN, YEAR, YIELD,
};
use crate::scenario::gin::product::OUTLETS;
use crate::scenario::measure::{
    BALES, BULK, BULK_ROOM, HEAD, LOAD, LOSS, MILES, MINIMUM, MONTHLY_LOSS, Measure, PER_WEEK, RATE, SHARE, STORAGE,
    WAITING,
};

/// The whole file.
#[must_use]
pub fn gin(known: &Known<'_>) -> Shape {
    let head = Keys::gin("`gin`")
        .key("name", Shape::Text)
        .key("region", words(known.ginning))
        .key("harvest_weather", words(["ordinary", "wet"]))
        .end();
    let hay = Keys::gin("The whole file").number(&HAY).end();
    let neighbors = Shape::List { of: Box::new(neighbor()), count: (0, 1000) };
    Keys::gin("The whole file")
        .key("gin", head)
        .must()
        .key("season", season())
        .must()
        .key("bale", bale())
        .key("yard", yard())
        .key("trash", product(known, true))
        .key("seed", product(known, false))
        .key("freight", freight())
        .key("processing", processing())
        .key("reference", hay)
        .key("neighbors", Shape::Either(vec![neighbors, Shape::Empty]))
        .key("ticket", ticket())
        .end()
}

fn season() -> Shape {
    let count = Shape::Number { least: 0.0, most: 100_000.0, whole: false };
    let weeks = Keys::gin("")
        .key("from", Shape::Date)
        .must()
        .key("bales", Shape::List { of: Box::new(count), count: (1, 60) })
        .must()
        .end();
    Keys::gin("`season`")
        .number(&YEAR)
        .number(&BALES)
        .number(&ACRES)
        .number(&YIELD)
        .key("harvest", words(Harvest::ALL.map(Harvest::key)))
        .key("irrigated", Shape::Flag)
        .number(&BEHIND)
        .key("weekly_bales", weeks)
        .end()
}

fn bale() -> Shape {
    // The ends of a range have the bounds of the figure itself.
    let ranged = |number: Shape| {
        let ends = Keys::gin("").key("low", number.clone()).must().key("usual", number.clone()).must();
        Shape::Either(vec![number.clone(), ends.key("high", number).must().end()])
    };
    Keys::gin("`bale`")
        .number(&LINT)
        .quantity(&SEED, ranged)
        .number(&SEED_TO_LINT)
        .quantity(&MOTES, ranged)
        .quantity(&TRASH, ranged)
        .number(&UNSEEN)
        .number(&SEED_COTTON)
        .number(&TURNOUT)
        .end()
}

fn yard() -> Shape {
    [&ROUND_MODULES, &MODULE_LOADS, &BALES_PER_ROUND, &WAITING, &BALES_PER_WEEK]
        .into_iter()
        .fold(Keys::gin("`yard`"), Keys::number)
        .end()
}

fn product(known: &Known<'_>, trash: bool) -> Shape {
    let outlet = Keys::gin("").number(&OUTLET).must().number(&PER_WEEK).end();
    let outlet = Shape::Either(vec![one_number(&OUTLET), outlet]);
    let uses = OUTLETS.iter().fold(Keys::gin(""), |keys, name| keys.key(name, outlet.clone())).end();
    let keys = Keys::gin("`trash` and `seed`");
    let keys = if trash { keys.key("form", words(Form::TRASH.map(Form::key))) } else { keys };
    let keys = keys.key("test", feeds::nutrients()).number(&BULK).number(&LOAD).number(&STORAGE).number(&BULK_ROOM);
    let keys = keys.key("stored", words(known.stored));
    let more: [&Measure; 6] = [&MONTHLY_LOSS, &LOSS, &KEEPING, &LOADING, &ASKED, &CEILING];
    more.into_iter()
        .fold(keys, Keys::number)
        .key("from", Shape::Date)
        .key("to", Shape::Date)
        .key("uses", Shape::Either(vec![uses, Shape::Empty]))
        .end()
}

fn freight() -> Shape {
    Keys::gin("`freight`").number(&RATE).must().number(&MINIMUM).number(&TRAILER).end()
}

fn processing() -> Shape {
    let way = || Keys::gin("`processing`").number(&COST).number(&WASTE);
    Keys::gin("`processing`")
        .key("module", way().end())
        .key("bale", way().end())
        .key("grind", way().end())
        .key("screen", way().number(&TAKEN_OUT).number(&ASH_POINTS).end())
        .end()
}

fn neighbor() -> Shape {
    Keys::gin("`neighbors`")
        .key("name", Shape::Text)
        .must()
        .key("herd", Shape::Text)
        .key("trash_feed", Shape::Text)
        .key("seed_feed", Shape::Text)
        .key("head", one_number(&HEAD))
        .number(&DENSITY)
        .number(&WITHIN)
        .key("kind", words(reference::CLASSES.map(AnimalClass::key)))
        .number(&MILES)
        .number(&SHARE)
        .end()
}

fn ticket() -> Shape {
    let spray = Keys::gin("").key("what", Shape::Text).must().key("on", Shape::Date).key("told_by", Shape::Text).end();
    let list = Shape::List { of: Box::new(spray), count: (0, 1000) };
    let aflatoxin = Keys::gin("").number(&AFLATOXIN).must().key("tested", Shape::Date).end();
    Keys::gin("`ticket`")
        .key("sprayed", Shape::Either(vec![list, Shape::Empty]))
        .key("wrap_off", Shape::Flag)
        .key("no_treated_seed", Shape::Flag)
        .key("weighed", Shape::Flag)
        .key("aflatoxin", aflatoxin)
        .end()
}
