//! A group of cattle.

use super::{Keys, Shape, one_number, words};
use crate::need::breed;
use crate::scenario::groups::{HIDES, SEXES, kinds};
use crate::scenario::measure::{
    ACTIVITY, BASE_INTAKE, BASE_INTAKE_DRY, BASE_INTAKE_MILKING, BIRTH_WEIGHT, BREED_FACTOR, CONDITION, GAIN, HEAD,
    MATURE_WEIGHT, MILK_FAT, MILK_PROTEIN, MILK_SNF, PEAK_MILK, SCORE, WATER_SULFATE, WATER_SULFUR, WEANING, WEIGHT,
};
use crate::scenario::place::COATS;

pub(super) fn group() -> Shape {
    let breeds = words(breed::LIST.iter().map(|one| one.key));
    let cross = Shape::List { of: Box::new(breeds.clone()), count: (2, 2) };
    let wanted = Keys::of("").number(&SCORE).must().key("by", Shape::Date).must().key("because", Shape::Text).end();
    let path = Shape::Months { days: true, of: Box::new(Shape::Either(vec![one_number(&SCORE), Shape::Text])) };
    let weight = Keys::of("").number(&WEIGHT).must().key("by", Shape::Date).must().end();
    let intake = Keys::of("").number(&BASE_INTAKE_DRY).must().number(&BASE_INTAKE_MILKING).must().end();
    Keys::of("`groups`")
        .key("kind", words(kinds().into_iter().map(|(word, _)| word)))
        .must()
        .number(&HEAD)
        .must()
        .number(&WEIGHT)
        .must()
        .number(&MATURE_WEIGHT)
        .number(&CONDITION)
        .key("condition_wanted", wanted)
        .key("condition_path", path)
        .key("calving", Shape::Either(vec![Shape::Date, words(["open", "none"])]))
        .number(&PEAK_MILK)
        .number(&MILK_FAT)
        .number(&MILK_SNF)
        .number(&MILK_PROTEIN)
        .number(&WEANING)
        .number(&BIRTH_WEIGHT)
        .key("breed", Shape::Either(vec![breeds, cross]))
        .number(&BREED_FACTOR)
        .key("sex", words(SEXES.map(|(word, _)| word)))
        .number(&GAIN)
        .key("weight_wanted", weight)
        .key("breeding", Shape::Date)
        .key("under_a_year", Shape::Flag)
        .key("turnout", Shape::Date)
        .number(&ACTIVITY)
        .key("coat", words(COATS.map(|(word, _)| word)))
        .key("hide", words(HIDES.map(|(word, _)| word)))
        .key("limit_fed", Shape::Flag)
        .number(&WATER_SULFUR)
        .number(&WATER_SULFATE)
        .quantity(&BASE_INTAKE, |number| Shape::Either(vec![number, intake.clone()]))
        .end()
}
