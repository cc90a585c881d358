//! The shape of a herd file as data: every key, what may stand behind it, and what it means. Editors are told it as a
//! JSON Schema.
//!
//! Quantities are those of `measure`, words those the reader knows, and meanings are read out of `docs/herd-file.md`, so
//! that nothing is said twice. Tests hold the keys to those that the reader asks for.

mod feeds;
mod gin;
mod groups;
mod herd;
mod meaning;

pub use gin::gin;
pub use herd::herd;

use super::measure::Measure;

/// What may stand behind a key.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A figure, its least and its most.
    Number {
        /// Least, in the unit of the key.
        least: f64,
        /// Most.
        most: f64,
        /// Only whole figures.
        whole: bool,
    },
    /// One of these words.
    Words(Vec<String>),
    /// Yes or no.
    Flag,
    /// A day, `2026-11-15`.
    Date,
    /// A few words.
    Text,
    /// Any of these.
    Either(Vec<Shape>),
    /// A map whose keys are names.
    Named {
        /// What stands behind each.
        of: Box<Shape>,
        /// Fewest of them.
        least: usize,
    },
    /// A map whose keys are months, `2026-11`, or days too.
    Months {
        /// Days may stand there, too.
        days: bool,
        /// What stands behind each.
        of: Box<Shape>,
    },
    /// A list, the fewest and the most in it.
    List {
        /// What is listed.
        of: Box<Shape>,
        /// Fewest and most.
        count: (usize, usize),
    },
    /// A map of known keys.
    Section(Vec<Field>),
    /// Nothing, or the shape.
    Empty,
}

/// One key, or the keys of one quantity in several units, of which one is written.
#[derive(Debug, Clone, PartialEq)]
pub struct Field {
    /// Its keys with what may stand behind each.
    pub keys: Vec<(String, Shape)>,
    /// Must be there.
    pub required: bool,
    /// What it means, with its default.
    pub meaning: String,
}

/// What a herd file refers to that ships with the program.
#[derive(Debug, Clone, Copy)]
pub struct Known<'a> {
    /// Regions with weather.
    pub weather: &'a [&'a str],
    /// Regions with a ginning season.
    pub ginning: &'a [&'a str],
    /// Kinds of cold spell.
    pub spells: &'a [&'a str],
    /// Ways of storing.
    pub stored: &'a [&'a str],
    /// Ways of feeding.
    pub feeders: &'a [&'a str],
    /// Names of the limits.
    pub rules: &'a [&'a str],
}

/// A section being written down.
struct Keys<'m> {
    /// The page its keys stand on, and the heading they stand under.
    page: &'static str,
    heading: &'m str,
    list: Vec<Field>,
}

impl<'m> Keys<'m> {
    fn of(heading: &'m str) -> Self {
        Self { page: meaning::HERD, heading, list: Vec::new() }
    }
    fn gin(heading: &'m str) -> Self {
        Self { page: meaning::GIN, ..Self::of(heading) }
    }
    /// A key and its shape.
    fn key(mut self, key: &str, shape: Shape) -> Self {
        let meaning = meaning::of(self.page, self.heading, key);
        self.list.push(Field { keys: vec![(key.to_owned(), shape)], required: false, meaning });
        self
    }
    /// A quantity in all its units.
    fn number(self, measure: &Measure) -> Self {
        self.quantity(measure, |number| number)
    }
    /// A quantity that may be more than one figure.
    fn quantity(mut self, measure: &Measure, more: impl Fn(Shape) -> Shape) -> Self {
        let meaning = measure
            .units
            .iter()
            .map(|unit| meaning::of(self.page, self.heading, unit.key))
            .find(|text| !text.is_empty());
        let keys = bounds(measure).map(|(key, number)| (key.to_owned(), more(number))).collect();
        self.list.push(Field { keys, required: false, meaning: meaning.unwrap_or_default() });
        self
    }
    /// Makes the key written last one that must be there.
    fn must(mut self) -> Self {
        if let Some(last) = self.list.last_mut() {
            last.required = true;
        }
        self
    }
    fn end(self) -> Shape {
        Shape::Section(self.list)
    }
}

/// The keys of a quantity with the figures that may stand behind each.
fn bounds(measure: &Measure) -> impl Iterator<Item = (&'static str, Shape)> {
    let (low, high) = measure.range;
    measure.units.iter().map(move |unit| {
        let ends = ((unit.outward)(low), (unit.outward)(high));
        // Four decimals, outward, so that what the reader takes is never refused for its last digit.
        let least = (ends.0.min(ends.1) * 1e4).floor() / 1e4;
        let most = (ends.0.max(ends.1) * 1e4).ceil() / 1e4;
        (unit.key, Shape::Number { least, most, whole: matches!(unit.key, "head" | "days" | "every_days" | "bales") })
    })
}

fn one_number(measure: &Measure) -> Shape {
    bounds(measure).map(|(_, shape)| shape).next().unwrap_or(Shape::Empty)
}

fn words<S: AsRef<str>>(list: impl IntoIterator<Item = S>) -> Shape {
    Shape::Words(list.into_iter().map(|word| word.as_ref().to_owned()).collect())
}

/// A map by names of one's own.
fn named(of: Shape, least: usize) -> Shape {
    Shape::Named { of: Box::new(of), least }
}

/// One for all, or by name.
fn or_by_name(shape: Shape) -> Shape {
    Shape::Either(vec![shape.clone(), named(shape, 0)])
}

/// Nothing behind the key, or a map of names.
fn names_or_nothing(shape: Shape) -> Shape {
    Shape::Either(vec![named(shape, 0), Shape::Empty])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::feed::Nutrient;
    use crate::scenario::fields::Notes;
    use crate::scenario::library::with_test_library;
    use crate::scenario::{build, spans};
    use std::collections::BTreeSet;

    /// Every key of the schema, wherever it stands.
    fn keys(shape: &Shape, found: &mut BTreeSet<String>) {
        match shape {
            Shape::Section(fields) => {
                for (key, shape) in fields.iter().flat_map(|field| &field.keys) {
                    found.insert(key.clone());
                    keys(shape, found);
                }
            }
            Shape::Either(list) => list.iter().for_each(|one| keys(one, found)),
            Shape::Named { of, .. } | Shape::Months { of, .. } | Shape::List { of, .. } => keys(of, found),
            _ => {}
        }
    }

    #[test]
    fn the_schema_has_the_keys_that_the_reader_asks_for() {
        with_test_library(|library| {
            let mut notes = Notes::default();
            // Together they open every map a herd file may hold.
            let files = [
                include_str!("../../../tests/herd_files/everything_us.yaml"),
                include_str!("../../../examples/two-gins/herd.yaml"),
                "feeds: {prairie_hay: {price_usd_per_bale: 50, bale: {diameter_ft: 5, width_ft: 5}}}",
            ];
            for file in files {
                build::whole(&spans::tree(file).0.unwrap(), library, &mut notes);
            }
            // Keys that are not asked for one by one: nutrients, and those that lead to other maps.
            let aside = Nutrient::ALL.map(Nutrient::key);
            let asked: BTreeSet<String> = notes.known.iter().map(|key| (*key).to_owned()).collect();
            let known = Known {
                weather: &["a"],
                ginning: &["a"],
                spells: &["a"],
                stored: &["a"],
                feeders: &["a"],
                rules: &["a"],
            };
            let mut said = BTreeSet::new();
            keys(&herd(&known), &mut said);
            let missing: Vec<&String> = asked.difference(&said).collect();
            assert!(missing.is_empty(), "the schema lacks {missing:?}");
            // `lots` is found by hand, `tested` beside the nutrients, `a` is the one limit of this test.
            let other = ["tested", "lots", "a"];
            let extra: Vec<&String> = said
                .difference(&asked)
                .filter(|key| !aside.contains(&key.as_str()) && !other.contains(&key.as_str()))
                .collect();
            assert!(extra.is_empty(), "the reader does not know {extra:?}");
        });
    }

    /// A gin file that opens every map a gin file may hold.
    const GIN: &str = "
gin: {name: a, region: high_plains}
season: {harvest: picker, weekly_bales: {from: 2026-10-12, bales: [500, 1200]}}
bale: {trash_lb: {low: 100, usual: 150, high: 250}}
yard: {round_modules: 10}
trash: {uses: {compost: {usd_per_ton: 2, tons_per_week: 6}}, test: {dm_pct: 90, tested: 2026-10-20}}
seed: {uses: {crush: 190}}
freight: {usd_per_loaded_mile: 4}
processing: {module: {usd_per_ton: 4}, bale: {usd_per_ton: 4}, grind: {usd_per_ton: 4}, screen: {usd_per_ton: 4}}
reference: {hay_usd_per_ton: 120}
neighbors:
  - {name: b, herd: b.yaml, miles: 6}
  - {name: c, head: 10, miles: 6}
  - {name: d, cows_per_square_mile: 12, within_miles: 25}
ticket: {sprayed: [{what: ethephon}], aflatoxin: {ppb: 5}}
";

    #[test]
    fn the_schema_of_a_gin_has_the_keys_that_the_reader_asks_for() {
        with_test_library(|library| {
            let herd = include_str!("../../../examples/first-file/herd.yaml");
            let mut notes = Notes::default();
            crate::scenario::gin::attempt(GIN, library, &|_| Ok(herd.to_owned()), &mut notes, &mut Vec::new());
            let known = Known { weather: &[], ginning: &[], spells: &[], stored: &[], feeders: &[], rules: &[] };
            let (mut said, mut of_herds) = (BTreeSet::new(), BTreeSet::new());
            keys(&gin(&known), &mut said);
            keys(&herd::herd(&known), &mut of_herds);
            let asked: BTreeSet<String> = notes.known.iter().map(|key| (*key).to_owned()).collect();
            let missing: Vec<&String> = asked.difference(&said).filter(|key| !of_herds.contains(*key)).collect();
            assert!(missing.is_empty(), "the schema lacks {missing:?}");
            let nutrients = Nutrient::ALL.map(Nutrient::key);
            let extra: Vec<&String> =
                said.difference(&asked).filter(|key| !nutrients.contains(&key.as_str())).collect();
            assert!(extra.iter().all(|key| **key == "tested"), "the reader does not know {extra:?}");
        });
    }

    #[test]
    fn every_key_says_what_it_means() {
        let known =
            Known { weather: &["a"], ginning: &["a"], spells: &["a"], stored: &["a"], feeders: &["a"], rules: &["a"] };
        let Shape::Section(top) = herd(&known) else { panic!("a herd file is a map") };
        for field in &top {
            assert!(!field.meaning.is_empty(), "{:?}", field.keys[0].0);
            let mut open = vec![&field.keys[0].1];
            while let Some(shape) = open.pop() {
                match shape {
                    Shape::Section(fields) => {
                        for inner in fields {
                            let named = [
                                "mean_f",
                                "wind_mph",
                                "days",
                                "coat",
                                "kind",
                                "score",
                                "by",
                                "because",
                                "weight_lb",
                                "dry",
                                "milking",
                                "a",
                            ];
                            let key = inner.keys[0].0.as_str();
                            assert!(
                                !inner.meaning.is_empty() || named.contains(&key) || inner.required,
                                "{key} of {}",
                                field.keys[0].0
                            );
                        }
                    }
                    Shape::Either(list) => open.extend(list),
                    Shape::Named { of, .. } => open.push(of),
                    _ => {}
                }
            }
        }
    }
}
