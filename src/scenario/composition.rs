//! What a feed is made of: a row of the table, the user's own feed, and lab tests laid over either.

use super::Library;
use super::code::Code;
use super::fields::{Fields, Notes};
use super::near;
use super::node::Entry;
use super::plausible;
use super::values::{number, shortened};
use crate::feed::{Feed, FeedCaution, FeedClass, Figure, Nutrient, spread};
use crate::source::Origin;
use jiff::civil::Date;
use std::collections::BTreeMap;

/// International units of vitamin A in a milligram of carotene, as the requirement books count for cattle.
const IU_PER_MG_CAROTENE: f64 = 400.0;

/// A feed with its test.
pub(crate) struct Composed {
    /// Composition, tests laid over it.
    pub(crate) feed: Feed,
    /// Whether a test changed it.
    pub(crate) tested: bool,
    /// Date of the test.
    pub(crate) tested_on: Option<Date>,
}

/// Reads `like`, `class`, `name`, `composition` and `test` of a feed called `id`; `days` are the first and last of the winter.
pub(crate) fn read(
    entry: &Entry,
    fields: &mut Fields<'_>,
    days: Option<(Date, Date)>,
    library: Library<'_>,
    notes: &mut Notes,
) -> Option<Composed> {
    let like = fields.entry("like");
    let class = fields.entry("class");
    let own_class = fields.choice("class", &FeedClass::ALL.map(|class| (class.key(), class)), notes);
    let own_name = fields.text("name", notes).map(str::to_owned);
    let composition = fields.entry("composition");
    let own_values = composition.map(|each| values(each, "composition", notes));
    let test = fields.entry("test");
    let tested_values = test.map(|each| values(each, "test", notes));
    let base = match (like, class) {
        (Some(like), Some(class)) => {
            notes.push(super::groups::exclusive(like, class));
            None
        }
        (Some(like), None) => {
            let (text, _) = super::values::scalar("like", &like.value, "a row of the feed table", notes)?;
            row(text, like.place(), library, notes)
        }
        (None, Some(_)) => {
            let of_own = own_values.clone().unwrap_or_default();
            let mut known = of_own.figures.clone();
            known.extend(tested_values.clone().unwrap_or_default().figures);
            complete(&known, class?, own_class?, fields, notes);
            let own = own_feed(&entry.key, own_class?, of_own.figures.clone(), library);
            if let Some(composition) = composition {
                plausible::judge(composition, &of_own, &own, library, notes);
            }
            Some(own)
        }
        (None, None) => row(&entry.key, entry.key_span.clone(), library, notes),
    };
    if let (Some(composition), None) = (composition, class) {
        notes.push(
            Code::Exclusive
                .error(format!("{} takes its composition from the table", fields.what()))
                .at(composition.key_span.clone(), "`composition` is for feeds of your own")
                .help("write your values under `test:`, or add `class:` to make it a feed of your own"),
        );
    }
    let mut feed = base?;
    if let Some(name) = own_name {
        feed.name = name;
    }
    if let (Some(test), Some(values)) = (test, &tested_values) {
        plausible::judge(test, values, &feed, library, notes);
        plausible::dated(test, days, "winter", notes);
    }
    let tested_on = tested_values.as_ref().and_then(|values| values.tested);
    let tested = tested_values.as_ref().is_some_and(|values| !values.figures.is_empty());
    if let Some(mut tested) = tested_values {
        for (nutrient, figure) in &mut tested.figures {
            spread::after_test(figure, *nutrient, feed.class, feed.values.get(nutrient), tested.spread_left);
        }
        lay_over(&mut feed, tested.figures);
    }
    Some(Composed { feed, tested, tested_on })
}

/// A feed that is not in the table. Of what its class implies it has the cautions and, without cotton, no gossypol.
fn own_feed(id: &str, class: FeedClass, figures: BTreeMap<Nutrient, Figure>, library: Library<'_>) -> Feed {
    let mut feed = Feed {
        id: id.to_owned(),
        name: id.replace('_', " "),
        class,
        values: BTreeMap::new(),
        bulk_lb_per_ft3: None,
        lb_per_bushel: None,
        note: None,
        cautions: class_cautions(class, library),
    };
    if class.gossypol_form().is_none() {
        for nutrient in [Nutrient::FreeGossypol, Nutrient::TotalGossypol] {
            let place = Some("no cotton in it".to_owned());
            feed.values.insert(nutrient, Figure { place, ..Figure::new(0.0, Origin::Judgement) });
        }
    }
    lay_over(&mut feed, figures);
    feed
}

/// The cautions that every feed of a class has.
fn class_cautions(class: FeedClass, library: Library<'_>) -> Vec<FeedCaution> {
    let mut rows = library.feeds.iter().filter(|feed| feed.class == class);
    let first = rows.next().map(|feed| feed.cautions.clone()).unwrap_or_default();
    rows.fold(first, |mut common, feed| {
        common.retain(|caution| feed.cautions.iter().any(|other| other.about == caution.about));
        common
    })
}

/// Lays the user's figures over those of a feed; what follows from them follows.
pub(crate) fn lay_over(feed: &mut Feed, figures: BTreeMap<Nutrient, Figure>) {
    if let Some(carotene) = figures.get(&Nutrient::Carotene)
        && !figures.contains_key(&Nutrient::VitaminA)
    {
        let place = Some("400 IU per mg of carotene".to_owned());
        let figure = Figure { place, ..Figure::new(carotene.mean * IU_PER_MG_CAROTENE, Origin::Computed) };
        feed.values.insert(Nutrient::VitaminA, figure);
    }
    if let Some(ash) = figures.get(&Nutrient::Ash)
        && !figures.contains_key(&Nutrient::Tdn)
        && let Some(tdn) = feed.tdn_less_dirt(ash.mean)
    {
        feed.values.insert(Nutrient::Tdn, tdn);
    }
    feed.values.extend(figures);
}

/// A row of the table by name.
fn row(name: &str, at: crate::diagnostic::Span, library: Library<'_>, notes: &mut Notes) -> Option<Feed> {
    if let Some(feed) = library.feeds.get(name) {
        return Some(feed.clone());
    }
    let nearest = near::nearest(name, library.feeds.iter().map(|feed| feed.id.as_str()));
    let help = nearest.map_or("write".to_owned(), |id| format!("did you mean `{id}`? Or write"));
    notes.push(
        Code::UnknownFeed
            .error(format!("`{}` is not in the feed table", shortened(name)))
            .at(at, "not a row of the table")
            .help(format!(
                "{help} `like: ROW` with a row that `overwinter feeds` lists, or `class:` and `composition:`"
            )),
    );
    None
}

/// Insists on what no feed can do without.
fn complete(
    known: &BTreeMap<Nutrient, Figure>,
    class_entry: &Entry,
    class: FeedClass,
    fields: &Fields<'_>,
    notes: &mut Notes,
) {
    let asked: &[Nutrient] =
        if class.is_mineral() { &[Nutrient::Dm] } else { &[Nutrient::Dm, Nutrient::Tdn, Nutrient::Cp] };
    let missing: Vec<&str> =
        asked.iter().filter(|nutrient| !known.contains_key(*nutrient)).map(|nutrient| nutrient.key()).collect();
    if let Some(names) = near::list(missing) {
        notes.push(
            Code::Incomplete
                .error(format!("{} is of your own and has no {names}", fields.what()))
                .at(class_entry.place(), "a feed of your own")
                .because("a missing value is not zero, and no plan can be made without these")
                .help("add them under `composition:`, from a lab test or the tag"),
        );
    }
}

/// Values of a test or composition.
#[derive(Debug, Clone, Default)]
pub(crate) struct Values {
    /// Figures by nutrient.
    pub(crate) figures: BTreeMap<Nutrient, Figure>,
    /// Date of the test.
    pub(crate) tested: Option<Date>,
    /// Share of the spread that the test leaves, 0 to 1, where the file says.
    pub(crate) spread_left: Option<f64>,
    /// Some of them cannot be right together, which was told.
    pub(crate) contradict: bool,
}

pub(crate) fn values(entry: &Entry, what: &str, notes: &mut Notes) -> Values {
    let mut found = Values::default();
    let what = format!("`{what}`");
    for each in super::values::map(&entry.value, &what, &entry.key_span, notes).unwrap_or_default() {
        if each.key == "tested" {
            found.tested = super::values::date("tested", &each.value, notes);
            continue;
        }
        if each.key == SPREAD_LEFT && what == "`test`" {
            found.spread_left = spread_left(each, notes);
            continue;
        }
        let Some(nutrient) = Nutrient::from_key(&each.key) else {
            notes.push(unknown_nutrient(each));
            continue;
        };
        let Some(value) = number(&each.key, &each.value, notes) else { continue };
        let least = if nutrient == Nutrient::Dm { 1.0 } else { 0.0 };
        if value < least || value > nutrient.most() {
            let range = format!("write a value from {} to {}", figure(least), figure(nutrient.most()));
            let slipped = value > nutrient.most() && value / 10.0 <= nutrient.most();
            notes.push(
                Code::OutOfRange
                    .error(format!("{} cannot be {} {}", nutrient.name(), figure(value), nutrient.unit()))
                    .at(each.place(), if value < least { "too small" } else { "too large" })
                    .help(if slipped {
                        format!("{range}; {} if the point slipped", figure(value / 10.0))
                    } else {
                        range
                    }),
            );
            continue;
        }
        found.figures.insert(nutrient, Figure::given(value));
    }
    found.contradict = contradictions(entry, &found.figures, notes);
    found
}

/// Key of the share of the spread that a test leaves.
const SPREAD_LEFT: &str = "spread_left_pct";

fn spread_left(entry: &Entry, notes: &mut Notes) -> Option<f64> {
    let value = number(&entry.key, &entry.value, notes)?;
    if (0.0..=100.0).contains(&value) {
        return Some(value / 100.0);
    }
    notes.push(
        Code::OutOfRange
            .error(format!("a test cannot leave {} percent of the spread", figure(value)))
            .at(entry.place(), if value < 0.0 { "too small" } else { "too large" })
            .help("write a percent from 0 (the test is exact) to 100 (it tells nothing)"),
    );
    None
}

fn figure(value: f64) -> String {
    super::measure::figure(value)
}

fn unknown_nutrient(entry: &Entry) -> crate::diagnostic::Diagnostic {
    let error = Code::UnknownNutrient
        .error(format!("`{}` is not a nutrient", shortened(&entry.key)))
        .at(entry.key_span.clone(), "not known");
    if ["ne_", "nem", "neg", "nel"].iter().any(|start| entry.key.to_lowercase().starts_with(start)) {
        return error.help("write `tdn_pct_dm`; net energy is computed from it");
    }
    let keys = Nutrient::ALL.map(Nutrient::key);
    match near::advice(&entry.key, keys.into_iter().chain(["tested", SPREAD_LEFT])) {
        Some(help) => error.help(help),
        None => error,
    }
}

/// Protein, fat, ash and NDF of a lab sheet that may still be right, % of dry matter (judgement).
const MOST_WITH_NDF: f64 = 110.0;

/// Tells of values of one test that cannot all be right; whether there are any.
fn contradictions(entry: &Entry, figures: &BTreeMap<Nutrient, Figure>, notes: &mut Notes) -> bool {
    let of = |nutrient: Nutrient| figures.get(&nutrient).map(|figure| figure.mean);
    let above = |part: Nutrient, whole: Nutrient| of(part).zip(of(whole)).is_some_and(|(part, whole)| part > whole);
    let fault = if above(Nutrient::Adf, Nutrient::Ndf) {
        "ADF is above NDF"
    } else if above(Nutrient::FreeGossypol, Nutrient::TotalGossypol) {
        "free gossypol is above total gossypol"
    } else {
        // Urea holds 281 % crude protein by the way it is counted, so protein alone may pass 100.
        let parts = [Nutrient::Cp, Nutrient::Fat, Nutrient::Ash, Nutrient::Ndf].map(|one| of(one).unwrap_or(0.0));
        let [cp, fat, ash, ndf] = parts;
        // NDF holds some of the protein, and of dirty feed some of the sand: with it good sheets pass 100 by a little.
        if cp > 100.0 || (cp + fat + ash <= 100.0 && cp + fat + ash + ndf <= MOST_WITH_NDF) {
            return false;
        }
        "protein, fat, ash and NDF together are more than all of the dry matter"
    };
    notes.push(
        Code::Contradiction
            .error(format!("{fault} in `{}`", entry.key))
            .at(entry.key_span.clone(), "these values cannot all be right")
            .help("check the figures and that all are on dry matter"),
    );
    true
}
