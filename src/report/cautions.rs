//! What to watch: every caution of a plan or a check, the gravest first, and how much of it stands where.

use super::model::Caution;
use crate::check::Judgement;
use crate::feed::{Feed, FeedCaution, Gravity, Nutrient, Who};
use crate::herd::{AnimalClass, Group, Period, Stage};
use crate::limit::Sense;
use crate::limit::barred::CALF_LEAST_LB;
use crate::quantity::KG_PER_LB;
use crate::source::Origin;
use crate::winter::{Case, Cells};
use indexmap::{IndexMap, IndexSet};

/// Findings that can kill, or break the law.
const KILLING: &[&str] =
    &["mineral-ceiling", "sulfur-a-day", "nitrate-tested", "nitrate-untested", "selenium-a-day", "salt-a-day"];
/// Findings that say how far a figure can be trusted.
const OF_QUALITY: &[&str] =
    &["dirty-trash", "untested-trash", "gossypol-of-trash", "microbes-on-fat", "grazing-without-walking"];

fn gravity_of(finding: &str) -> Gravity {
    if KILLING.contains(&finding) {
        Gravity::Kills
    } else if OF_QUALITY.contains(&finding) {
        Gravity::Quality
    } else {
        Gravity::Harms
    }
}

/// Findings of every block (by group and period: kg of dry matter by offer, and the verdict), those of one group and id
/// told once, at their worst, with the periods they hold in; then what the feeds that are fed bring. The gravest of the
/// cattle first, and the gravest of each feed.
pub(super) fn of<'r>(
    case: &Case,
    cells: &Cells<'_>,
    ration: impl Fn(usize, usize) -> Option<(&'r [f64], &'r Judgement)>,
) -> Vec<Caution> {
    let mut list: IndexMap<(usize, &'static str), Caution> = IndexMap::new();
    // The groups that are fed each feed.
    let mut fed: Vec<IndexSet<usize>> = vec![IndexSet::new(); case.offers.len()];
    for (g, row) in cells.iter().enumerate() {
        for (t, cell) in row.iter().enumerate() {
            let Some((kg_dm, judgement)) = ration(g, t) else { continue };
            for (groups, _) in fed.iter_mut().zip(kg_dm).filter(|(_, kg)| **kg > 1e-6) {
                groups.insert(g);
            }
            for finding in &judgement.findings {
                let caution = list.entry((g, finding.caution.id)).or_insert_with(|| Caution {
                    rule: finding.caution.id.to_owned(),
                    group: Some(cell.block.group.name.clone()),
                    periods: Vec::new(),
                    gravity: gravity_of(finding.caution.id),
                    text: finding.text.clone(),
                    short: None,
                    source: finding.caution.cite.to_string(),
                    mark: mark(finding.caution.cite.source, finding.caution.cite.origin),
                });
                caution.periods.push(cell.block.period.label.clone());
            }
            for line in judgement.lines.iter().filter(|line| line.because.is_some()) {
                let Some(because) = &line.because else { continue };
                list.entry((g, line.rule.id)).or_insert_with(|| Caution {
                    rule: line.rule.id.to_owned(),
                    group: Some(cell.block.group.name.clone()),
                    periods: Vec::new(),
                    gravity: Gravity::Harms,
                    text: format!(
                        "You set {} {} {} {} because: {because}.",
                        line.rule.title,
                        if line.rule.sense == Sense::AtLeast { "at least" } else { "at most" },
                        crate::limit::figure_text(line.limit, line.rule.digits),
                        line.rule.unit
                    ),
                    short: None,
                    source: "herd file".to_owned(),
                    mark: "herd file".to_owned(),
                });
            }
        }
    }
    let mut out: Vec<Caution> = list.into_values().collect();
    super::worst::tell(&mut out, case, cells, &ration);
    out.sort_by_key(|caution| caution.gravity);
    for (offer, groups) in case.offers.iter().zip(&fed).filter(|(_, groups)| !groups.is_empty()) {
        let groups: Vec<&Group> = groups.iter().map(|g| &case.groups[*g]).collect();
        let mut of_it: Vec<Caution> = offer
            .feed
            .cautions
            .iter()
            .filter(|one| !answered(one, &offer.feed))
            .map(|caution| of_feed(&offer.id, caution, &groups, &case.periods))
            .collect();
        of_it.sort_by_key(|caution| caution.gravity);
        out.append(&mut of_it);
    }
    out
}

/// A caution to test what was tested.
fn answered(caution: &FeedCaution, feed: &Feed) -> bool {
    caution.about.starts_with("nitrate") && feed.get(Nutrient::NitrateN).is_some()
}

fn of_feed(feed: &str, caution: &FeedCaution, groups: &[&Group], periods: &[Period]) -> Caution {
    let weighs = caution.who.is_empty()
        || caution.who.iter().any(|who| groups.iter().any(|group| stands_for(*who, group, periods)));
    let figure = caution.figure.as_ref().map_or_else(String::new, |figure| format!(" ({figure})"));
    Caution {
        rule: feed.to_owned(),
        group: None,
        periods: Vec::new(),
        // It stays in the list, for a group can be bred or bought any day, but the page has others to tell first.
        gravity: if weighs { caution.gravity } else { Gravity::Quality },
        text: format!("{}{figure}", caution.text),
        short: caution.short.clone().filter(|_| weighs),
        source: source_words(caution),
        mark: mark(caution.source.as_deref().unwrap_or_default(), caution.origin),
    }
}

/// Whether a group is, on any day of the winter, of the herd a caution weighs for. Where the file does not say when they
/// calve, they may be.
fn stands_for(who: Who, group: &Group, periods: &[Period]) -> bool {
    let on_any_day = |of: fn(&Stage) -> bool| {
        group.class.calves()
            && (group.calving.is_none()
                || periods.iter().any(|period| {
                    let days = period.from.series(jiff::Span::new().days(1)).take_while(|day| *day < period.to);
                    days.map(|day| Stage::on(group, day)).any(|stage| of(&stage))
                }))
    };
    match who {
        Who::Calves => on_any_day(Stage::milking) || group.weight_kg < CALF_LEAST_LB * KG_PER_LB,
        Who::Bred => on_any_day(|stage| stage.gestation_days > 0.0),
        Who::Bulls => matches!(group.class, AnimalClass::Bull | AnimalClass::YoungBull),
    }
}

/// A source in short: its key, and the mark unless it was simply read in print.
fn mark(source: &str, origin: Origin) -> String {
    match (source.is_empty(), origin) {
        (true, _) => origin.words().to_owned(),
        (false, Origin::Published) => source.to_owned(),
        (false, Origin::Abstract) => format!("{source}, abstract"),
        (false, _) => format!("{source}, {}", origin.words()),
    }
}

fn source_words(caution: &FeedCaution) -> String {
    match (&caution.source, &caution.place) {
        (Some(source), Some(place)) => format!("{source}, {place} ({})", caution.origin.words()),
        (Some(source), None) => format!("{source} ({})", caution.origin.words()),
        (None, _) => caution.origin.words().to_owned(),
    }
}

/// Cautions of a feed that stand on the page in full; `feeds NAME` has all of them.
fn in_full(feed: &str) -> usize {
    // What the gin leaves carries the hazards people do not expect.
    if feed.contains("trash") || feed.contains("cottonseed") || feed.contains("burr") { 2 } else { 1 }
}

/// Cautions of feeds under their text, each with the feeds it goes with.
type Said<'a> = IndexMap<&'a str, (Vec<&'a str>, &'a Caution)>;

/// What is to be watched with each feed, as far as a page tells it: the gravest in full, the other grave ones in a few
/// words. What is said of several feeds is said once, and counts for the first.
pub(super) fn items_of_feeds(cautions: &[Caution]) -> Vec<String> {
    let of_feeds = || cautions.iter().filter(|caution| caution.group.is_none());
    let mut full: IndexSet<&str> = IndexSet::new();
    // By feed, all its lots together: how many it has told itself, and whether anything is told of it.
    let mut told: IndexMap<&str, (usize, bool)> = IndexMap::new();
    for caution in of_feeds() {
        let feed = caution.rule.split('/').next().unwrap_or(&caution.rule);
        let (own, any) = told.entry(feed).or_default();
        let new = !full.contains(caution.text.as_str());
        // Of a feed that shares its gravest with another only what kills is told beside it.
        if new && *own < in_full(feed) && (!*any || *own > 0 || caution.gravity == Gravity::Kills) {
            *own += 1;
            full.insert(&caution.text);
        }
        *any |= full.contains(caution.text.as_str());
    }
    let mut said: Said<'_> = IndexMap::new();
    let mut rest: Said<'_> = IndexMap::new();
    for caution in of_feeds() {
        let (list, text) = match &caution.short {
            _ if full.contains(caution.text.as_str()) => (&mut said, caution.text.as_str()),
            Some(short) => (&mut rest, short.as_str()),
            None => continue,
        };
        list.entry(text).or_insert_with(|| (Vec::new(), caution)).0.push(&caution.rule);
    }
    let full = said.iter().map(|(text, (feeds, caution))| format!("{}: {text} [{}]", feeds.join(", "), caution.mark));
    full.chain(together(&rest, true)).collect()
}

/// What kills, in a few words for the truck.
pub(super) fn deadly(cautions: &[Caution]) -> Vec<String> {
    let mut said: Said<'_> = IndexMap::new();
    for caution in cautions.iter().filter(|one| one.group.is_none() && one.gravity == Gravity::Kills) {
        let text = caution.short.as_deref().unwrap_or(&caution.text);
        said.entry(text).or_insert_with(|| (Vec::new(), caution)).0.push(&caution.rule);
    }
    together(&said, false)
}

/// What goes with the same feeds on one line.
fn together(said: &Said<'_>, marked: bool) -> Vec<String> {
    let mut lines: IndexMap<String, (Vec<&str>, IndexSet<&str>)> = IndexMap::new();
    for (text, (feeds, caution)) in said {
        let (texts, marks) = lines.entry(feeds.join(", ")).or_default();
        texts.push(text);
        marks.insert(&caution.mark);
    }
    let line = |(feeds, (texts, marks)): (String, (Vec<&str>, IndexSet<&str>))| {
        let marks: Vec<&str> = marks.into_iter().collect();
        let of = if marked { format!(" [{}]", marks.join("; ")) } else { String::new() };
        format!("{feeds}: {}.{of}", texts.join("; "))
    };
    lines.into_iter().map(line).collect()
}
