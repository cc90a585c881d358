//! The feed table shipped with the program: read, judged, and looked up.

use super::bibliography::Bibliography;
use super::judge::{Judge, nearest};
use super::raw::{Pairs, RawCaution, RawFeed, from_yaml};
use super::{Feed, FeedCaution, FeedClass, Figure, Gravity, Nutrient};
use crate::diagnostic::Diagnostic;
use crate::source::Origin;
use indexmap::IndexMap;
use std::collections::BTreeMap;

/// A text and the name of the file it came from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TableText<'a> {
    /// Name of the file, for messages.
    pub file: &'a str,
    /// What stands in it.
    pub text: &'a str,
}

macro_rules! shipped {
    ($name:literal) => {
        TableText { file: concat!("feeds/", $name), text: include_str!(concat!("../../feeds/", $name)) }
    };
}

const FEEDS: [TableText<'static>; 9] = [
    shipped!("cotton.yaml"),
    shipped!("gin_trash.yaml"),
    shipped!("hay.yaml"),
    shipped!("straw.yaml"),
    shipped!("dormant_and_pasture.yaml"),
    shipped!("silage.yaml"),
    shipped!("energy.yaml"),
    shipped!("protein.yaml"),
    shipped!("minerals.yaml"),
];
const CAUTIONS: TableText<'static> = shipped!("cautions.yaml");

/// International units of vitamin A in a milligram of carotene, as the requirement books count for cattle.
const VITAMIN_A_IU_PER_MG_CAROTENE: f64 = 400.0;

/// The feed table: every feed by its id, in the order of the files.
#[derive(Debug, Clone, PartialEq)]
pub struct FeedTable {
    feeds: IndexMap<String, Feed>,
    bibliography: Bibliography,
}

impl FeedTable {
    /// The table shipped with the program. It is part of the binary, so no file is opened.
    ///
    /// # Errors
    /// If the shipped files are faulty; a test holds that they are not.
    pub fn shipped() -> Result<Self, Vec<Diagnostic>> {
        Self::read(Bibliography::shipped()?, &FEEDS, CAUTIONS)
    }

    /// A table from the texts of its files.
    ///
    /// # Errors
    /// Everything that is wrong, all at once: F001 unreadable, F002 a name given twice, F003 an unknown class,
    /// F004 an unknown nutrient, F005 a source that is not in the bibliography, F006 an impossible value,
    /// F007 a value that must be there, F008 a figure without origin or source, F009 an unknown feed.
    pub fn read(
        bibliography: Bibliography,
        feeds: &[TableText<'_>],
        cautions: TableText<'_>,
    ) -> Result<Self, Vec<Diagnostic>> {
        let mut reader = Reader { judge: Judge::new(&bibliography), feeds: IndexMap::new() };
        for text in feeds {
            match from_yaml::<Pairs<RawFeed>>(text.file, text.text) {
                Ok(pairs) => pairs.0.into_iter().for_each(|(id, raw)| reader.feed(text.file, id, raw)),
                Err(errors) => reader.judge.found.extend(errors),
            }
        }
        match from_yaml::<Pairs<RawCaution>>(cautions.file, cautions.text) {
            Ok(pairs) => pairs.0.into_iter().for_each(|(about, raw)| reader.caution(cautions.file, &about, &raw)),
            Err(errors) => reader.judge.found.extend(errors),
        }
        let Reader { feeds, judge } = reader;
        let found = judge.found;
        if found.is_empty() { Ok(Self { feeds, bibliography }) } else { Err(found) }
    }

    /// The feed with this id.
    #[must_use]
    pub fn get(&self, id: &str) -> Option<&Feed> {
        self.feeds.get(id)
    }
    /// Every feed, in the order of the files.
    pub fn iter(&self) -> impl Iterator<Item = &Feed> {
        self.feeds.values()
    }
    /// How many feeds there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.feeds.len()
    }
    /// Whether there is none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.feeds.is_empty()
    }
    /// Where the figures come from.
    #[must_use]
    pub fn bibliography(&self) -> &Bibliography {
        &self.bibliography
    }
    /// Up to three ids that a mistyped name may mean, the likeliest first.
    #[must_use]
    pub fn suggest(&self, name: &str) -> Vec<&str> {
        nearest(name, self.feeds.keys().map(String::as_str), 3)
    }
}

/// Reads feeds one after the other and gathers everything that is wrong.
struct Reader<'a> {
    judge: Judge<'a>,
    feeds: IndexMap<String, Feed>,
}

impl Reader<'_> {
    fn feed(&mut self, file: &str, id: String, raw: RawFeed) {
        let at = format!("{file}: {id}");
        if self.feeds.contains_key(&id) {
            self.judge.found.push(
                Diagnostic::error("F002", format!("{at} is there twice"))
                    .help("give one of the two another name; a name means one feed across all files"),
            );
            return;
        }
        let Some(class) = self.judge.class(&at, &raw.class) else { return };
        let mut values = BTreeMap::new();
        if let Some(like) = &raw.like {
            let Some(other) = self.feeds.get(like) else {
                self.judge.error("F009", format!("{at} is like {like}, which is not a feed above it"));
                return;
            };
            values.clone_from(&other.values);
        }
        let mut given = Vec::new();
        for (key, figure) in raw.values.0 {
            let Some(nutrient) = Nutrient::from_key(&key) else {
                self.unknown_nutrient(&at, &key);
                continue;
            };
            if given.contains(&nutrient) {
                self.judge.found.push(Diagnostic::error("F002", format!("{at} has {key} twice")));
            }
            given.push(nutrient);
            let place = format!("{at}: {key}");
            let figure = self.judge.figure(&place, figure, &raw.default, nutrient.most(), nutrient.unit());
            values.insert(nutrient, figure);
        }
        if raw.no_cotton {
            for nutrient in [Nutrient::FreeGossypol, Nutrient::TotalGossypol] {
                let mut none = Figure::new(0.0, Origin::Judgement);
                none.place = Some("no cotton in it".to_owned());
                values.insert(nutrient, none);
            }
        }
        if let Some(carotene) = values.get(&Nutrient::Carotene)
            && !given.contains(&Nutrient::VitaminA)
        {
            let mut figure = Figure::new(carotene.mean * VITAMIN_A_IU_PER_MG_CAROTENE, Origin::Computed);
            figure.place = Some("400 IU per mg of carotene".to_owned());
            values.insert(Nutrient::VitaminA, figure);
        }
        self.must_be_there(&at, class, &values);
        let mut weight =
            |key: &str, figure, unit| self.judge.figure(&format!("{at}: {key}"), figure, &raw.default, 200.0, unit);
        let feed = Feed {
            id: id.clone(),
            name: raw.name,
            class,
            values,
            bulk_lb_per_ft3: raw.bulk_lb_per_ft3.map(|figure| weight("bulk_lb_per_ft3", figure, "lb/ft3")),
            lb_per_bushel: raw.lb_per_bushel.map(|figure| weight("lb_per_bushel", figure, "lb/bushel")),
            note: raw.note,
            cautions: Vec::new(),
        };
        self.feeds.insert(id, feed);
    }

    fn unknown_nutrient(&mut self, at: &str, key: &str) {
        let near = nearest(key, Nutrient::ALL.into_iter().map(Nutrient::key), 1);
        let mut error = Diagnostic::error("F004", format!("{at} has an unknown value: {key}"));
        if let Some(near) = near.first() {
            error = error.help(format!("did you mean {near}?"));
        }
        self.judge.found.push(error);
    }

    fn must_be_there(&mut self, at: &str, class: FeedClass, values: &BTreeMap<Nutrient, Figure>) {
        let needed: &[Nutrient] =
            if class.is_mineral() { &[Nutrient::Dm] } else { &[Nutrient::Dm, Nutrient::Tdn, Nutrient::Cp] };
        for nutrient in needed.iter().filter(|nutrient| !values.contains_key(*nutrient)) {
            self.judge.found.push(
                Diagnostic::error("F007", format!("{at} has no {}", nutrient.key()))
                    .because(format!("no ration can be made without the {} of a feed", nutrient.name())),
            );
        }
        if values.get(&Nutrient::Dm).is_some_and(|figure| figure.mean <= 0.0) {
            self.judge.found.push(Diagnostic::error("F006", format!("{at} has no dry matter at all")));
        }
    }

    fn caution(&mut self, file: &str, about: &str, raw: &RawCaution) {
        let at = format!("{file}: {about}");
        self.judge.source(&at, raw.origin, raw.source.as_deref());
        let classes: Vec<FeedClass> = raw.classes.iter().filter_map(|key| self.judge.class(&at, key)).collect();
        for id in raw.feeds.iter().filter(|id| !self.feeds.contains_key(*id)) {
            self.judge
                .found
                .push(Diagnostic::error("F009", format!("{at} names a feed that is not in the table: {id}")));
        }
        if raw.gravity == Gravity::Kills && raw.short.is_none() {
            self.judge.found.push(
                Diagnostic::error("F007", format!("{at} has no short"))
                    .because("what kills stands on the feeding sheet, which has room for a few words"),
            );
        }
        for feed in self.feeds.values_mut().filter(|feed| classes.contains(&feed.class) || raw.feeds.contains(&feed.id))
        {
            feed.cautions.push(FeedCaution {
                about: about.to_owned(),
                gravity: raw.gravity,
                short: raw.short.clone(),
                who: raw.who.clone(),
                text: raw.text.clone(),
                figure: raw.figure.clone(),
                origin: raw.origin,
                source: raw.source.clone(),
                place: raw.place.clone(),
            });
        }
    }
}
