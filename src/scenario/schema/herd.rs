//! The sections of a herd file but groups and feeds.

use super::{Keys, Known, Shape, feeds, groups, named, names_or_nothing, one_number, words};
use crate::scenario::measure::{
    CERTAINTY, FED, LIMIT_MAX, LIMIT_MIN, LIMIT_VALUE, MEAN_TEMPERATURE, MINERAL, MIXER, NEED_CA, NEED_CP, NEED_DMI,
    NEED_MP, NEED_NEM, NEED_P, NEED_TDN, SCOOP, SHELTER, SPELL_DAYS, STEADY, SUBSTITUTION, WIND,
};
use crate::scenario::place::{COATS, MONTHS};
use crate::scenario::winter::CUTS;

/// The whole file.
#[must_use]
pub fn herd(known: &Known<'_>) -> Shape {
    let amounts = |number: Shape| {
        let ration = named(number, 0);
        let by_period = Shape::Months { days: true, of: Box::new(ration.clone()) };
        names_or_nothing(Shape::Either(vec![by_period, ration]))
    };
    Keys::of("The whole file")
        .key("place", place(known))
        .key("winter", winter())
        .must()
        .key("groups", named(groups::group(), 1))
        .must()
        .key("feeds", named(feeds::feed(known), 1))
        .must()
        .key("needs_override", names_or_nothing(needs()))
        .key("limits", Shape::Either(vec![limits(known), Shape::Empty]))
        .quantity(&FED, amounts)
        .number(&SCOOP)
        .number(&MIXER)
        .number(&STEADY)
        .number(&SUBSTITUTION)
        .number(&CERTAINTY)
        .number(&MINERAL)
        .end()
}

fn place(known: &Known<'_>) -> Shape {
    let month = || Keys::of("").number(&MEAN_TEMPERATURE).number(&WIND).end();
    let months = MONTHS.iter().fold(Keys::of(""), |keys, name| keys.key(name, month())).end();
    let weather = Keys::of("").key("region", words(known.weather)).key("months", months).end();
    let spell = Keys::of("")
        .key("kind", words(known.spells))
        .number(&SPELL_DAYS)
        .number(&MEAN_TEMPERATURE)
        .number(&WIND)
        .key("coat", words(COATS.map(|(word, _)| word)))
        .end();
    let section = Keys::of("`place`")
        .key("name", Shape::Text)
        .key("weather", Shape::Either(vec![words(known.weather), weather]))
        .key("sun", Shape::Flag)
        .number(&SHELTER)
        .key("acclimatization", Shape::Flag)
        .key("cold_spell", Shape::Either(vec![words(known.spells), spell]))
        .end();
    Shape::Either(vec![section, Shape::Empty])
}

fn winter() -> Shape {
    let dates = Shape::List { of: Box::new(Shape::Date), count: (1, 60) };
    Keys::of("`winter`")
        .key("from", Shape::Date)
        .must()
        .key("to", Shape::Date)
        .must()
        .key("periods", Shape::Either(vec![words(CUTS.map(|(word, _)| word)), dates]))
        .end()
}

fn needs() -> Shape {
    [&NEED_NEM, &NEED_TDN, &NEED_CP, &NEED_MP, &NEED_CA, &NEED_P, &NEED_DMI]
        .into_iter()
        .fold(Keys::of("`needs_override`"), Keys::number)
        .end()
}

fn limits(known: &Known<'_>) -> Shape {
    let change = || {
        let one = Keys::of("`limits`")
            .key("value", one_number(&LIMIT_VALUE))
            .key("min", one_number(&LIMIT_MIN))
            .key("max", one_number(&LIMIT_MAX))
            .key("off", Shape::Flag)
            .key("because", Shape::Text)
            .key("group", Shape::Text)
            .end();
        Shape::Either(vec![one.clone(), Shape::List { of: Box::new(one), count: (0, 1000) }])
    };
    known.rules.iter().fold(Keys::of("`limits`"), |keys, rule| keys.key(rule, change())).end()
}
