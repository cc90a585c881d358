//! The gin itself, its season, and its yard.

use super::measure::{ACRES, BALES_PER_ROUND, BALES_PER_WEEK, BEHIND, LINT, MODULE_LOADS, ROUND_MODULES, YEAR, YIELD};
use crate::diagnostic::Span;
use crate::feed::SupplyCurve;
use crate::feed::ginning::{GinOutput, Season as GinningSeason};
use crate::gin::Harvest;
use crate::gin::harvest::{STATISTICAL_BALE_LB, Usual};
use crate::gin::weeks::of_weekly;
use crate::gin::yard::Yard;
use crate::quantity::LB_PER_TON;
use crate::scenario::code::Code;
use crate::scenario::fields::{Fields, Notes};
use crate::scenario::groups::exclusive;
use crate::scenario::measure::{BALES, WAITING, figure};
use crate::scenario::node::{Entry, Kind};
use crate::scenario::supply;
use crate::scenario::values::number;
use crate::source::{Cite, Origin};
use jiff::civil::Date;

/// Weeks a wet harvest puts a gin behind its region where the file does not say. Judgement.
const WET_WEEKS: f64 = 2.0;
/// Share of the bales by which weekly counts may differ from the bales of the season. Judgement.
const CLOSE: f64 = 0.001;

/// What stands under `gin`.
pub(super) struct Head {
    pub(super) name: String,
    /// Key of the region and its season.
    pub(super) region: Option<(String, GinningSeason)>,
    /// Whether the file names a region, right or wrong.
    pub(super) names_region: bool,
    pub(super) wet: bool,
}

/// What stands under `season`.
pub(super) struct Season {
    pub(super) year: i16,
    pub(super) bales: f64,
    pub(super) ginned: SupplyCurve,
    pub(super) name: Option<String>,
    pub(super) behind_weeks: f64,
}

/// The days on which anything of a season can be sold: from the first bale to the end of June after the harvest, by which
/// neighbors' winters have begun.
pub(super) fn days(season: &Season) -> Option<(Date, Date)> {
    Some((season.ginned.points.first()?.0, Date::new(season.year + 1, 6, 30).ok()?))
}

/// Reads `gin`.
pub(super) fn head(entry: &Entry, notes: &mut Notes) -> Option<Head> {
    let mut fields = Fields::open(&entry.value, "`gin`", entry.key_span.clone(), notes)?;
    let name = match fields.text("name", notes) {
        Some(text) if text.trim().is_empty() => {
            let at = fields.entry("name").map_or(fields.place(), Entry::place);
            notes.push(
                Code::BadName
                    .error("the gin has an empty name")
                    .at(at, "it stands on every slip")
                    .help("write the gin's name, or delete the line"),
            );
            return None;
        }
        Some(text) => text.to_owned(),
        None => "this gin".to_owned(),
    };
    let named = fields.entry("region");
    let region = named.and_then(|entry| supply::season(entry, "give `weekly_bales` under `season`", notes));
    let wet = fields.choice("harvest_weather", &[("ordinary", false), ("wet", true)], notes).unwrap_or(false);
    fields.close(notes);
    Some(Head { name, region, names_region: named.is_some(), wet })
}

/// Lint of a bale, which acres and yield need before the rest of `bale` is read; what is wrong with it is told there.
pub(super) fn lint_of(fields: &mut Fields<'_>, notes: &mut Notes) -> f64 {
    let Some(entry) = fields.entry("bale") else { return STATISTICAL_BALE_LB };
    let before = notes.list.len();
    let lint = Fields::open(&entry.value, "`bale`", entry.key_span.clone(), notes)
        .and_then(|mut each| each.number(&LINT, notes));
    notes.list.truncate(before);
    lint.unwrap_or(STATISTICAL_BALE_LB)
}

/// Reads `season`: the harvest, and the rest if it is whole.
pub(super) fn read(
    entry: &Entry,
    head: Option<&Head>,
    lint_lb: f64,
    assumed: &mut Vec<String>,
    notes: &mut Notes,
) -> (Option<Harvest>, Option<Season>) {
    let Some(mut fields) = Fields::open(&entry.value, "`season`", entry.key_span.clone(), notes) else {
        return (None, None);
    };
    let harvest = harvest(&mut fields, assumed, notes);
    let season = weeks_of(entry, fields, (head, lint_lb), assumed, notes);
    (harvest, season)
}

/// Everything of `season` but the harvest.
fn weeks_of(
    entry: &Entry,
    mut fields: Fields<'_>,
    (head, lint_lb): (Option<&Head>, f64),
    assumed: &mut Vec<String>,
    notes: &mut Notes,
) -> Option<Season> {
    let behind = fields.number(&BEHIND, notes);
    let weekly = fields.entry("weekly_bales").map(|entry| (entry, weekly(entry, notes)));
    if weekly.is_some() {
        idle_behind(&mut fields, notes);
    }
    let bales = bales(&mut fields, lint_lb, weekly.is_some(), assumed, notes);
    let year = if weekly.is_some() && !fields.present("year") {
        fields.entry(YEAR.key());
        None
    } else {
        fields.whole(&YEAR, "2026", notes)
    };
    let year_at = fields.entry(YEAR.key()).map(Entry::place);
    fields.close(notes);
    if let Some((entry, found)) = weekly {
        let (from, list) = found?;
        let year = year.and_then(|year| i16::try_from(year).ok());
        if let (Some(year), Some(at)) = (year, year_at) {
            other_year(year, at, from, notes);
        }
        let sum: f64 = list.iter().sum();
        if let Some(stated) = bales.filter(|stated| (stated - sum).abs() > CLOSE * sum) {
            notes.push(
                Code::BalesDiffer
                    .error(format!("the weeks add up to {} bales, the season has {}", figure(sum), figure(stated)))
                    .at(entry.key_span.clone(), format!("{} bales in these weeks", figure(sum)))
                    .help("correct a week, or leave `bales` out: the weeks are the season"),
            );
        }
        return Some(Season {
            year: year.unwrap_or(from.year()),
            bales: sum,
            ginned: of_weekly(from, &list),
            name: None,
            behind_weeks: 0.0,
        });
    }
    let Some((_, season)) = head?.region.as_ref() else {
        if head?.names_region {
            return None;
        }
        notes.push(
            Code::NoSeason
                .error("nothing says when this gin runs")
                .at(entry.key_span.clone(), "no weeks and no region")
                .because("tons by week follow from the bales by week")
                .help("add `region:` under `gin` (`overwinter` ships seasons of four), or `weekly_bales` here"),
        );
        return None;
    };
    let behind_weeks = behind.unwrap_or_else(|| {
        if head.is_some_and(|it| it.wet) {
            assumed.push(format!("a wet harvest runs {WET_WEEKS:.0} weeks behind the region (judgement)"));
            WET_WEEKS
        } else {
            0.0
        }
    });
    #[expect(clippy::cast_possible_truncation, reason = "a year from 1990 to 2100")]
    let year = year? as i16;
    let bales = bales?;
    let output = GinOutput { bales, lb_per_bale: LB_PER_TON, waiting_weeks: behind_weeks, share: 1.0 };
    let ginned = season.supply(&output, Date::new(year, 10, 15).ok()?);
    Some(Season { year, bales, ginned, name: Some(season.name.clone()), behind_weeks })
}

/// Weeks are the gin's own, so it is behind no region.
fn idle_behind(fields: &mut Fields<'_>, notes: &mut Notes) {
    let Some(entry) = fields.entry(BEHIND.key()) else { return };
    notes.push(
        Code::Unused
            .warning(format!("`{}` changes nothing beside `weekly_bales`", BEHIND.key()))
            .at(entry.key_span.clone(), "the weeks are your own")
            .help("delete it"),
    );
}

/// A year beside weeks that begin in the season of another: July to June.
fn other_year(year: i16, at: Span, from: Date, notes: &mut Notes) {
    let begins = if from.month() < 7 { from.year() - 1 } else { from.year() };
    // A gin of the far south may begin in June.
    if year == begins || year == from.year() {
        return;
    }
    notes.push(
        Code::BalesDiffer
            .error(format!("the weeks begin on {from}, the season is of {year}"))
            .at(at, "another year")
            .help("correct one of them, or leave `year` out: the weeks are the season"),
    );
}

fn harvest(fields: &mut Fields<'_>, assumed: &mut Vec<String>, notes: &mut Notes) -> Option<Harvest> {
    let said = fields.entry("harvest");
    let irrigated = fields.entry("irrigated");
    let found = fields.choice("harvest", &Harvest::ALL.map(|one| (one.key(), one)), notes);
    let water = fields.flag("irrigated", notes);
    match (said, irrigated, water) {
        (Some(_), Some(entry), _) => {
            notes.push(
                Code::Unused
                    .warning("`irrigated` changes nothing beside `harvest`")
                    .at(entry.key_span.clone(), "how it was harvested is known")
                    .help("delete it"),
            );
            found
        }
        (Some(_), None, _) => found,
        (None, Some(entry), Some(water)) => {
            let taken = if water { Harvest::Picker } else { Harvest::StripperWithFieldCleaner };
            notes.push(
                Code::HarvestGuessed
                    .warning(format!(
                        "harvest is taken as {} because the land is {}",
                        taken.words(),
                        if water { "irrigated" } else { "dryland" }
                    ))
                    .at(entry.key_span.clone(), "a sign, not a fact")
                    .because("a stripper without field cleaner brings six times the trash of a picker")
                    .help(format!("write `harvest: {}`, or what it is", taken.key())),
            );
            assumed.push(format!("{}, by the usual sign of irrigation (common practice)", taken.words()));
            Some(taken)
        }
        (None, Some(_), None) => None,
        (None, None, _) => {
            notes.push(fields.missing("harvest", "stripper_with_field_cleaner"));
            None
        }
    }
}

fn bales(
    fields: &mut Fields<'_>,
    lint_lb: f64,
    weekly: bool,
    assumed: &mut Vec<String>,
    notes: &mut Notes,
) -> Option<f64> {
    let acres = fields.number(&ACRES, notes);
    let lint = fields.number(&YIELD, notes);
    let has_land = fields.has(&ACRES) || fields.has(&YIELD);
    let entries = (fields.entry(BALES.key()), fields.entry(ACRES.key()));
    if let (Some(first), Some(second)) = entries {
        notes.push(exclusive(first, second));
    }
    if !has_land {
        // Counted, not weighed: half a bale is a slip of the pen.
        let stated = if weekly && !fields.has(&BALES) { None } else { fields.whole(&BALES, "30000", notes) };
        return stated.map(f64::from);
    }
    for (measure, example) in [(&ACRES, "40000"), (&YIELD, "420")] {
        if !fields.has(measure) {
            notes.push(fields.missing(measure.key(), example));
        }
    }
    let bales = acres? * lint? / lint_lb;
    assumed.push(format!("{} bales from acres and yield", figure(bales.round())));
    Some(bales)
}

/// `{from: 2026-10-12, bales: [500, 1200, …]}`.
fn weekly(entry: &Entry, notes: &mut Notes) -> Option<(Date, Vec<f64>)> {
    let mut fields = Fields::open(&entry.value, "`weekly_bales`", entry.key_span.clone(), notes)?;
    let from = fields.date_required("from", "2026-10-12", notes);
    let list = fields.required("bales", "[500, 1200, 1800]", notes);
    fields.close(notes);
    let list = list?;
    let Kind::List(items) = &list.value.kind else {
        notes.push(
            Code::WrongShape
                .error(format!("`bales` is {}, not a list", list.value.describe()))
                .at(list.place(), "a list belongs here")
                .help("write the bales of each week, such as `[500, 1200, 1800]`"),
        );
        return None;
    };
    let counts: Vec<Option<f64>> = items
        .iter()
        .map(|item| {
            let value = number("bales", item, notes)?;
            if !(0.0..=100_000.0).contains(&value) {
                notes.push(
                    Code::OutOfRange
                        .error(format!("a week cannot have {} bales", figure(value)))
                        .at(item.place(), if value < 0.0 { "too small" } else { "too large" })
                        .help("write a value from 0 to 100000"),
                );
                return None;
            }
            Some(value)
        })
        .collect();
    let counts: Option<Vec<f64>> = counts.into_iter().collect();
    let counts = counts?;
    if counts.iter().sum::<f64>() < 1.0 || counts.len() > 60 {
        notes.push(
            Code::WrongShape
                .error("the weeks hold no bales, or there are more than 60 of them")
                .at(list.place(), "bales of each week")
                .help("write the bales of each week of the season, such as `[500, 1200, 1800]`"),
        );
        return None;
    }
    Some((from?, counts))
}

/// Reads `yard`.
pub(super) fn yard(entry: &Entry, harvest: Harvest, season_bales: Option<f64>, notes: &mut Notes) -> Option<Yard> {
    let mut fields = Fields::open(&entry.value, "`yard`", entry.key_span.clone(), notes)?;
    let round_modules = fields.number(&ROUND_MODULES, notes);
    let module_loads = fields.number(&MODULE_LOADS, notes);
    let own = fields.number(&BALES_PER_ROUND, notes);
    let waiting_weeks = fields.number(&WAITING, notes);
    let bales_per_week = fields.number(&BALES_PER_WEEK, notes);
    if !fields.has(&ROUND_MODULES) && !fields.has(&MODULE_LOADS) {
        notes.push(fields.missing(ROUND_MODULES.key(), "220"));
    }
    fields.close(notes);
    let bales_per_round = own.map_or(harvest.bales_per_round_module(), |own| Usual {
        low: own,
        usual: own,
        high: own,
        cite: Cite::new("", "", Origin::Given),
    });
    let yard = Yard {
        round_modules: round_modules.unwrap_or(0.0),
        module_loads: module_loads.unwrap_or(0.0),
        bales_per_round,
        waiting_weeks,
        bales_per_week,
    };
    let (least, usual, _) = yard.bales();
    if let Some(season) = season_bales.filter(|season| least > *season) {
        notes.push(
            Code::FullYard
                .warning(format!(
                    "the yard holds {} bales, the season has {}",
                    figure(usual.round()),
                    figure(season.round())
                ))
                .at(entry.key_span.clone(), format!("at least {} bales", figure(least.round())))
                .help("correct the modules, `bales_per_round_module`, or the bales of the season"),
        );
    }
    Some(yard)
}
