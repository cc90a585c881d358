//! The cold spell as plain data and as a part of the page.

use super::page::Page;
use crate::herd::Coat;
use crate::limit::figure_text;
use crate::quantity::{KM_PER_MILE, f_from_c};
use crate::value::spell::{ExtraFeed, Spell};
use crate::winter::Case;
use indexmap::IndexMap;
use serde::Serialize;

/// So much more of a feed.
#[derive(Debug, Clone, Serialize)]
pub struct SpellFeed {
    /// Feed.
    pub feed: String,
    /// Extra pounds as fed per head and day of the spell.
    pub lb_as_fed: f64,
    /// To hold in reserve for the group, short tons as fed, loss and waste included.
    pub reserve_tons: f64,
}

/// What the spell asks of a group, per head and day.
#[derive(Debug, Clone, Serialize)]
pub struct SpellGroup {
    /// Group.
    pub name: String,
    /// Lower critical temperature in it, °F.
    pub lower_critical_f: f64,
    /// Cold by the heat balance, Mcal NEm.
    pub cold_nem_mcal: f64,
    /// The same, % of maintenance.
    pub cold_pct_of_maintenance: f64,
    /// By the rule of thumb, % of maintenance.
    pub rule_of_thumb_pct: f64,
    /// Already in the ration of the month, Mcal NEm.
    pub in_ration_nem_mcal: f64,
    /// To feed beyond the ration, Mcal NEm; cold is fed for up to 40 % of maintenance.
    pub extra_nem_mcal: f64,
    /// Beyond that, Mcal NEm a day of the spell: to be made good after it.
    pub left_over_nem_mcal: f64,
    /// Days after the spell, fed the same extra, that make it good; none where nothing is left over.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub days_to_make_good: Option<f64>,
    /// The roughage to feed more of.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub roughage: Option<SpellFeed>,
    /// Or the supplement to feed more of.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub supplement: Option<SpellFeed>,
}

/// Tons to hold of one feed.
#[derive(Debug, Clone, Serialize)]
pub struct SpellReserve {
    /// Feed.
    pub feed: String,
    /// Fed as the roughage; else as the supplement in its place.
    pub as_roughage: bool,
    /// Groups it serves.
    pub groups: Vec<String>,
    /// Short tons as fed beyond the plan.
    pub reserve_tons: f64,
}

/// The spell.
#[derive(Debug, Clone, Serialize)]
pub struct SpellReport {
    /// Kind, if the file names one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kind: Option<String>,
    /// Days.
    pub days: u32,
    /// Mean air temperature, °F.
    pub mean_f: f64,
    /// Wind, mph.
    pub wind_mph: f64,
    /// Wind chill for cattle, °F, behind the place's shelter.
    pub wind_chill_f: f64,
    /// Coat.
    pub coat: &'static str,
    /// The day it is laid on.
    pub day: String,
    /// By group.
    pub groups: Vec<SpellGroup>,
    /// Reserve by feed: the roughage, or the supplement in its place.
    pub feeds: Vec<SpellReserve>,
}

fn coat_words(coat: Coat) -> &'static str {
    match coat {
        Coat::Dry => "dry winter coat",
        Coat::Heavy => "heavy dry coat",
        Coat::SomeMud => "some mud on the lower body",
        Coat::Wet => "wet coat",
        Coat::Muddy => "coat covered with wet snow or mud",
    }
}

/// The data of a spell.
#[must_use]
pub fn of(case: &Case, spell: &Spell) -> SpellReport {
    let feed = |extra: &ExtraFeed| SpellFeed {
        feed: case.offers[extra.offer].id.clone(),
        lb_as_fed: extra.lb_as_fed(&case.offers),
        reserve_tons: extra.reserve_tons,
    };
    let groups: Vec<SpellGroup> = case
        .groups
        .iter()
        .zip(&spell.groups)
        .map(|(group, one)| {
            let need = &one.need;
            SpellGroup {
                name: group.name.clone(),
                lower_critical_f: f_from_c(need.lower_critical_c),
                cold_nem_mcal: need.cold_uncapped_nem_mcal,
                cold_pct_of_maintenance: 100.0 * need.cold_uncapped_nem_mcal / need.maintenance_nem_mcal.max(1e-9),
                rule_of_thumb_pct: need.rule_pct,
                in_ration_nem_mcal: need.in_ration_nem_mcal,
                extra_nem_mcal: need.extra_nem_mcal(),
                left_over_nem_mcal: need.left_over_nem_mcal(),
                days_to_make_good: need.days_to_make_good().filter(|days| *days > 1e-9),
                roughage: one.roughage.as_ref().map(feed),
                supplement: one.supplement.as_ref().map(feed),
            }
        })
        .collect();
    SpellReport {
        kind: case.place.cold_spell_kind.clone(),
        days: spell.spell.days,
        mean_f: f_from_c(spell.spell.mean_c),
        wind_mph: spell.spell.wind_kmh / KM_PER_MILE,
        wind_chill_f: spell.groups.first().map_or(f_from_c(spell.spell.mean_c), |group| group.need.wind_chill_f),
        coat: coat_words(spell.spell.coat),
        day: spell.day.to_string(),
        feeds: reserves(&groups),
        groups,
    }
}

fn reserves(groups: &[SpellGroup]) -> Vec<SpellReserve> {
    let mut sums: IndexMap<(&str, bool), SpellReserve> = IndexMap::new();
    for as_roughage in [true, false] {
        for group in groups {
            let feed = if as_roughage { &group.roughage } else { &group.supplement };
            let Some(feed) = feed else { continue };
            let sum = sums.entry((&feed.feed, as_roughage)).or_insert_with(|| SpellReserve {
                feed: feed.feed.clone(),
                as_roughage,
                groups: Vec::new(),
                reserve_tons: 0.0,
            });
            sum.groups.push(group.name.clone());
            sum.reserve_tons += feed.reserve_tons;
        }
    }
    sums.into_values().collect()
}

/// Adds its part to a page.
pub fn add(page: &mut Page, report: &SpellReport) {
    let rest = format!(
        "{}: {} days at {} °F, wind {} mph, {}",
        report.kind.as_ref().map_or(String::new(), |kind| format!(", {kind}")),
        report.days,
        figure_text(report.mean_f, 0),
        figure_text(report.wind_mph, 0),
        report.coat
    );
    page.section("spell", "Cold spell", rest);
    let head = |one: &str, two: &str| format!("{one}\n{two}");
    let header = vec![
        String::new(),
        head("cold", "< °F"),
        head("asks %", "maint."),
        head("thumb", "rule %"),
        head("more", "Mcal"),
        head("lb a head and day", "more roughage"),
        head("or lb", "supplement"),
        head("days", "after"),
    ];
    let pounds = |feed: &Option<SpellFeed>, asked: f64| match feed {
        Some(feed) => format!("{} {}", figure_text(feed.lb_as_fed, 1), feed.feed),
        None if asked > 0.005 => "none can".to_owned(),
        None => String::new(),
    };
    let rows: Vec<Vec<String>> = report
        .groups
        .iter()
        .map(|group| {
            let asked = group.extra_nem_mcal;
            vec![
                group.name.clone(),
                figure_text(group.lower_critical_f, 0),
                figure_text(group.cold_pct_of_maintenance, 0),
                figure_text(group.rule_of_thumb_pct, 0),
                if asked > 0.005 { figure_text(asked, 1) } else { String::new() },
                pounds(&group.roughage, asked),
                pounds(&group.supplement, asked),
                group.days_to_make_good.map_or(String::new(), |days| figure_text(days.ceil(), 0)),
            ]
        })
        .collect();
    page.table("What the cold spell asks, per head and day", 1, &header, &rows);
    reserve_words(page, report);
}

fn reserve_words(page: &mut Page, report: &SpellReport) {
    let list = |as_roughage: bool| -> String {
        let words: Vec<String> = report
            .feeds
            .iter()
            .filter(|feed| feed.as_roughage == as_roughage)
            .map(|feed| {
                format!("{} tons of {} ({})", figure_text(feed.reserve_tons, 1), feed.feed, feed.groups.join(", "))
            })
            .collect();
        words.join(", ")
    };
    let (roughage, supplement) = (list(true), list(false));
    let reserve = match (roughage.is_empty(), supplement.is_empty()) {
        (true, true) => String::new(),
        (false, true) => format!("Hold in reserve beyond the plan: {roughage}. "),
        (true, false) => format!("Hold in reserve beyond the plan: {supplement}. "),
        (false, false) => format!("Hold in reserve beyond the plan: {roughage}; or instead {supplement}. "),
    };
    let over: Vec<String> = report
        .groups
        .iter()
        .filter(|group| group.left_over_nem_mcal > 0.05)
        .map(|group| format!("{} {} Mcal", group.name, figure_text(group.left_over_nem_mcal, 1)))
        .collect();
    let left = if over.is_empty() {
        String::new()
    } else {
        format!(
            "More than 40 % of maintenance cannot be eaten: on each day of the spell {} come off their backs, and the same extra \
             is fed on for the days in the last column to put it back; the reserve counts them. ",
            over.join(", ")
        )
    };
    let none = if report.groups.iter().all(|group| group.extra_nem_mcal <= 0.005) {
        "By the heat balance the ration of the month carries this spell. "
    } else {
        ""
    };
    page.words(
        "  ",
        format!(
            "{reserve}{left}{none}Rule of thumb: 1 % for each °F of wind chill (°F less mph, here {} °F) under 32 °F dry, 2 % under 59 °F \
             wet. It is made for a dry cow at maintenance: a cow close to calving or in milk makes heat of her own. Hay is fed before \
             the front comes, at dusk; bring grain or cubes up over some days. Laid on {}.",
            figure_text(report.wind_chill_f, 0),
            report.day
        ),
    );
}
