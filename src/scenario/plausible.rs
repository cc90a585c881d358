//! Whether the figures of a test can be those of such a feed, and its date one of this winter.

use super::Library;
use super::code::Code;
use super::composition::Values;
use super::fields::Notes;
use super::measure::figure;
use super::node::{Entry, Kind};
use super::values::date;
use crate::feed::{Feed, FeedClass, Nutrient};
use jiff::civil::Date;

/// Spreads of a row that still belong to it.
const SPREADS: f64 = 3.0;
/// Spread of a row whose spread is not known, as a share of its mean. Judgement.
const USUAL_SPREAD: f64 = 0.2;
/// How much wider than the rows of a class its figures may be without a word, as a share of their width on either side.
/// Judgement: a warning is for slips of the pen, not for odd lots.
const FAR: f64 = 0.5;
/// Points of dry matter by which a lot of one feed may differ from its row without a word. Judgement.
const DM_WIDE: f64 = 25.0;
/// What TDN counts fat more than once, by its definition.
const FAT_IN_TDN: f64 = 1.25;
/// Days after which a test is of another crop.
const OLD_DAYS: i32 = 366;
/// What is held against the class.
const JUDGED: [Nutrient; 7] =
    [Nutrient::Dm, Nutrient::Tdn, Nutrient::Cp, Nutrient::Ndf, Nutrient::Adf, Nutrient::Fat, Nutrient::Ash];

/// Judges the figures of a test or composition laid over a feed of the table.
pub(crate) fn judge(entry: &Entry, values: &Values, feed: &Feed, library: Library<'_>, notes: &mut Notes) {
    nothing_in_it(entry, values, notes);
    // What cannot be is not also told to be unlikely.
    if too_much_energy(entry, values, feed, notes) || values.contradict {
        return;
    }
    for nutrient in JUDGED {
        let Some(given) = values.figures.get(&nutrient).map(|figure| figure.mean) else { continue };
        let Some((low, high)) = known(feed, nutrient, library) else { continue };
        if given >= low && given <= high {
            continue;
        }
        notes.push(
            Code::Unlikely
                .warning(format!(
                    "{} of {} {} is far outside what {} has, {} to {}",
                    nutrient.name(),
                    figure(given),
                    nutrient.unit(),
                    feed.class.key().replace('_', " "),
                    figure(low.ceil()),
                    figure(high.floor())
                ))
                .at(place(entry, nutrient.key()), if given < low { "very low" } else { "very high" })
                .help(if nutrient == Nutrient::Dm {
                    "check the figure: is it dry matter, or moisture, or of another feed? If it is right nothing is wrong"
                } else {
                    "check the figure: is it as fed where dry matter is asked, or of another feed? If it is right nothing is wrong"
                }),
        );
    }
}

/// Where a key of a map stands.
fn place(entry: &Entry, key: &str) -> crate::diagnostic::Span {
    let inside = match &entry.value.kind {
        Kind::Map(entries) => entries.iter().find(|each| each.key == key),
        _ => None,
    };
    inside.map_or_else(|| entry.key_span.clone(), Entry::place)
}

/// A test without a figure.
fn nothing_in_it(entry: &Entry, values: &Values, notes: &mut Notes) {
    let empty =
        matches!(&entry.value.kind, Kind::Map(list) if list.iter().all(|each| Nutrient::from_key(&each.key).is_none()));
    if empty && values.figures.is_empty() {
        notes.push(
            Code::Unused
                .warning(format!("`{}` holds no figure of a test", entry.key))
                .at(entry.key_span.clone(), "changes nothing")
                .help("add the figures of the lab, such as `cp_pct_dm: 7.2`, or delete it"),
        );
    }
}

/// Tells of more TDN than there can be, which is digested protein, fiber and sugar, and fat 2.25 times: never more than what is no ash, and 1.25 times the fat.
fn too_much_energy(entry: &Entry, values: &Values, feed: &Feed, notes: &mut Notes) -> bool {
    let given = |nutrient: Nutrient| values.figures.get(&nutrient).map(|figure| figure.mean);
    if given(Nutrient::Tdn).or(given(Nutrient::Ash)).is_none() {
        return false;
    }
    let of = |nutrient: Nutrient| given(nutrient).or_else(|| feed.get(nutrient));
    let (Some(tdn), Some(ash), Some(fat)) = (of(Nutrient::Tdn), of(Nutrient::Ash), of(Nutrient::Fat)) else {
        return false;
    };
    let most = 100.0 - ash + FAT_IN_TDN * fat;
    if tdn <= most {
        return false;
    }
    let book = |nutrient: Nutrient| if given(nutrient).is_some() { "" } else { " (of the table)" };
    let key = if given(Nutrient::Tdn).is_some() { Nutrient::Tdn } else { Nutrient::Ash };
    notes.push(
        Code::Contradiction
            .error(format!(
                "TDN {}{} is more than there can be with ash {}{} and fat {}{}",
                figure(tdn),
                book(Nutrient::Tdn),
                figure(ash),
                book(Nutrient::Ash),
                figure(fat),
                book(Nutrient::Fat)
            ))
            .at(place(entry, key.key()), format!("at most {} % of dry matter", figure(most.floor())))
            .because("what is ash feeds nothing, and fat counts 2.25 times")
            .help("check the figures and that all are on dry matter; give the others of the test, too"),
    );
    true
}

/// Least and most of a nutrient in feeds of a class, generously; `None` where the table does not know. Minerals, liquids and
/// urea are what their tag says, byproducts are of every kind.
fn known(feed: &Feed, nutrient: Nutrient, library: Library<'_>) -> Option<(f64, f64)> {
    let class = feed.class;
    // A class holds wet and dry feeds; of one feed the row tells, and moisture in its place stands out.
    if nutrient == Nutrient::Dm
        && class != FeedClass::Distillers
        && let Some(mean) = library.feeds.get(&feed.id).and_then(|row| row.get(Nutrient::Dm))
    {
        return Some(((mean - DM_WIDE).max(0.0), (mean + DM_WIDE).min(100.0)));
    }
    if class.is_mineral() || matches!(class, FeedClass::Liquid | FeedClass::Urea | FeedClass::Byproduct) {
        return None;
    }
    // Distillers feed is sold wet and dried.
    if class == FeedClass::Distillers && nutrient == Nutrient::Dm {
        return None;
    }
    let rows = library.feeds.iter().filter(|row| row.class == class);
    let ends = rows.filter_map(|row| {
        let mean = row.get(nutrient)?;
        let wide = SPREADS * row.spread(nutrient).unwrap_or(USUAL_SPREAD * mean);
        Some((mean - wide, mean + wide))
    });
    let (low, high) = ends.reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))?;
    let more = FAR * (high - low);
    Some(((low - more).max(0.0), (high + more).min(nutrient.most())))
}

/// Judges `tested` of a map: not after the days it is for, nor more than a year before them.
pub(crate) fn dated(entry: &Entry, days: Option<(Date, Date)>, what: &str, notes: &mut Notes) {
    let (Some((first, last)), Kind::Map(entries)) = (days, &entry.value.kind) else { return };
    let Some(each) = entries.iter().find(|each| each.key == "tested") else { return };
    // What is wrong with its form was told where it was read.
    let Some(day) = date("tested", &each.value, &mut Notes::default()) else { return };
    if day > last {
        notes.push(
            Code::TestDate
                .error(format!("a test of {day} is later than this {what}, which ends on {last}"))
                .at(each.place(), "not yet")
                .help("correct the year"),
        );
    } else if super::winter::days_between(day, first) > OLD_DAYS {
        notes.push(
            Code::TestDate
                .warning(format!("a test of {day} is more than a year older than this {what}"))
                .at(each.place(), "of another crop?")
                .because("feeds differ from crop to crop and change in the stack")
                .help("test what will be fed, or correct the year"),
        );
    }
}
