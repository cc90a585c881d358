//! Plans that cost little more than the cheapest, side by side: plain data, the page and the CSV.

use super::compare::{BindingRow, RationRow, binding, cautions, rations};
use super::csv::table;
use super::grid::paragraph;
use super::model::Caution;
use super::page::Page;
use super::side;
use super::text::usd;
use crate::limit::figure_text;
use crate::value::answer::head_days;
use crate::value::within::{Aim, CLEARLY, Choice, Within};
use crate::winter::{Case, Cells};
use serde::Serialize;
use std::fmt::Write as _;

/// More or less of a feed than in the cheapest plan.
#[derive(Debug, Clone, Serialize)]
pub struct FedChange {
    /// Feed.
    pub feed: String,
    /// Short tons fed over the winter; below 0: less.
    pub tons: f64,
}

/// One plan.
#[derive(Debug, Clone, Serialize)]
pub struct PlanColumn {
    /// What it is best at.
    pub best_at: &'static str,
    /// US dollars for the winter.
    pub winter_usd: f64,
    /// US dollars per head and day.
    pub usd_per_head_day: f64,
    /// More than the cheapest, US dollars for the winter.
    pub more_usd: f64,
    /// The same, percent.
    pub more_pct: f64,
    /// Feeds used, minerals aside.
    pub feeds: usize,
    /// Short tons bought and hauled in.
    pub hauled_tons: f64,
    /// Short tons of gin trash fed.
    pub gin_trash_fed_tons: f64,
    /// Short tons of owned roughage fed.
    pub own_roughage_fed_tons: f64,
    /// Rations.
    pub rations: Vec<RationRow>,
    /// What binds.
    pub binding: Vec<BindingRow>,
    /// What to watch.
    pub cautions: Vec<Caution>,
    /// What is fed more or less than in the cheapest plan, the largest first.
    pub against_the_cheapest: Vec<FedChange>,
    /// Gap of the proof: the cost is the least among plans as good by the aim.
    pub relative_gap: f64,
}

/// The best plan by an aim that is not clearly different from another.
#[derive(Debug, Clone, Serialize)]
pub struct NoOther {
    /// The aim.
    pub best_at: &'static str,
    /// The plan it is about the same as.
    pub about: &'static str,
    /// The best that can be reached, in words.
    pub reaches: String,
    /// More than the cheapest, US dollars for the winter.
    pub more_usd: f64,
}

/// Plans within a share of the least cost.
#[derive(Debug, Clone, Serialize)]
pub struct WithinReport {
    /// Place.
    pub place: String,
    /// Share, percent.
    pub within_pct: f64,
    /// Cost that none passes, US dollars for the winter.
    pub ceiling_usd: f64,
    /// The plans, the cheapest first.
    pub plans: Vec<PlanColumn>,
    /// Aims without a plan of their own.
    pub no_other: Vec<NoOther>,
}

/// The plain data.
#[must_use]
pub fn of(case: &Case, cells: &Cells<'_>, within: &Within) -> WithinReport {
    let least = within.choices.first();
    WithinReport {
        place: case.place.name.clone(),
        within_pct: within.pct,
        ceiling_usd: within.ceiling_usd,
        plans: within.choices.iter().map(|choice| column(case, cells, least.unwrap_or(choice), choice)).collect(),
        no_other: within
            .no_other
            .iter()
            .map(|(choice, about)| NoOther {
                best_at: choice.aim.words(),
                about: about.words(),
                reaches: reaches(choice),
                more_usd: choice.answer.cost_usd - least.unwrap_or(choice).answer.cost_usd,
            })
            .collect(),
    }
}

/// What a plan comes to by its own aim.
fn reaches(choice: &Choice) -> String {
    let measures = &choice.measures;
    let tons = |tons: f64, what: &str| format!("{} tons {what}", figure_text(tons, 1));
    match choice.aim {
        Aim::Cheapest => String::new(),
        Aim::FewestFeeds => format!("{} feeds", measures.feeds),
        Aim::LeastHauling => tons(measures.hauled_tons, "hauled in"),
        Aim::LeastGinTrash => tons(measures.gin_trash_tons, "fed"),
        Aim::MostOwnRoughage => tons(measures.own_roughage_tons, "fed"),
    }
}

fn column(case: &Case, cells: &Cells<'_>, least: &Choice, choice: &Choice) -> PlanColumn {
    let (cost, base) = (choice.answer.cost_usd, least.answer.cost_usd);
    let mut changes: Vec<FedChange> = case
        .offers
        .iter()
        .zip(choice.answer.fed_tons.iter().zip(&least.answer.fed_tons))
        .map(|(offer, (tons, before))| FedChange { feed: offer.id.clone(), tons: tons - before })
        .filter(|change| change.tons.abs() > 0.005)
        .collect();
    changes.sort_by(|a, b| b.tons.abs().total_cmp(&a.tons.abs()));
    PlanColumn {
        best_at: choice.aim.words(),
        winter_usd: cost,
        usd_per_head_day: cost / head_days(case).max(1.0),
        more_usd: cost - base,
        more_pct: 100.0 * (cost - base) / base.abs().max(1e-9),
        feeds: choice.measures.feeds,
        hauled_tons: choice.measures.hauled_tons,
        gin_trash_fed_tons: choice.measures.gin_trash_tons,
        own_roughage_fed_tons: choice.measures.own_roughage_tons,
        rations: rations(case, &choice.answer),
        binding: binding(case, &choice.answer),
        cautions: cautions(case, cells, &choice.answer),
        against_the_cheapest: changes,
        relative_gap: choice.answer.certificate.relative_gap,
    }
}

/// The page.
#[must_use]
pub fn page(report: &WithinReport) -> String {
    let mut out = String::new();
    let place = if report.place.is_empty() { "This winter" } else { &report.place };
    let least = report.plans.first().map_or(0.0, |plan| plan.winter_usd);
    let _ = writeln!(
        out,
        "{place}: plans within {} % of the cheapest, {} to {} for the winter",
        figure_text(report.within_pct, usize::from(report.within_pct.fract() != 0.0)),
        usd(least),
        usd(report.ceiling_usd)
    );
    let names: Vec<String> = report.plans.iter().map(|plan| plan.best_at.to_owned()).collect();
    let line = |label: &str, tell: &dyn Fn(&PlanColumn) -> String| {
        (label.to_owned(), report.plans.iter().map(tell).collect::<Vec<String>>())
    };
    let mut lines = vec![
        line("for the winter", &|plan| usd(plan.winter_usd)),
        line("per head and day", &|plan| format!("${:.2}", plan.usd_per_head_day)),
        line("more than the cheapest", &|plan| {
            if plan.more_usd < 0.005 {
                String::new()
            } else {
                format!("{}, {:.1} %", usd(plan.more_usd), plan.more_pct)
            }
        }),
        line("feeds, minerals aside", &|plan| plan.feeds.to_string()),
        line("bought and hauled in, tons", &|plan| side::tons(plan.hauled_tons)),
    ];
    if report.plans.iter().any(|plan| plan.gin_trash_fed_tons > 0.005) {
        lines.push(line("gin trash fed, tons", &|plan| side::tons(plan.gin_trash_fed_tons)));
    }
    if report.plans.iter().any(|plan| plan.own_roughage_fed_tons > 0.005) {
        lines.push(line("own roughage fed, tons", &|plan| side::tons(plan.own_roughage_fed_tons)));
    }
    out.push_str(&side::side_text(("each", "What each comes to", ""), &names, &lines));
    let of: Vec<_> = report.plans.iter().map(|plan| plan.rations.as_slice()).collect();
    let title = ("rations", "Rations", ", lb as fed per head and day, the mean of the winter");
    out.push_str(&side::side_text(title, &names, &side::rations(&of)));
    out.push_str("\nWHAT DIFFERS FROM THE CHEAPEST, short tons fed over the winter\n");
    for plan in report.plans.iter().skip(1) {
        let words: Vec<String> = plan
            .against_the_cheapest
            .iter()
            .filter(|change| change.tons.abs() >= 0.05)
            .take(6)
            .map(|change| {
                let sign = if change.tons < 0.0 { "−" } else { "+" };
                format!("{} {sign}{}", change.feed, figure_text(change.tons.abs(), 1))
            })
            .collect();
        out.push_str(&paragraph("  ", &format!("{}: {}.", plan.best_at, words.join(", "))));
    }
    for none in &report.no_other {
        let about = if none.about == Aim::Cheapest.words() { "the cheapest" } else { none.about };
        let more = if none.more_usd < 0.5 { String::new() } else { format!(" for {} more", usd(none.more_usd)) };
        out.push_str(&paragraph(
            "  ",
            &format!("{}: {}{more}; about the same plan as {about}.", none.best_at, none.reaches),
        ));
    }
    let of: Vec<(&str, &[_])> = report.plans.iter().map(|plan| (plan.best_at, plan.cautions.as_slice())).collect();
    let mut watched = Page::default();
    side::watch(&mut watched, &of);
    out.push('\n');
    out.push_str(&watched.text());
    out.push('\n');
    out.push_str(&paragraph(
        "",
        &format!(
            "Each plan is the best at what it is called, within the ceiling, and the cheapest of those; both are proved, and the \
             independent check finds every ration clean. The fewest feeds are those found by leaving feeds out one at a time, \
             each step proved; fewer may exist. Plans of which less than {:.0} % of the tons differ are one (judgement). Loads \
             may be part loads; rations are not made steadier here.",
            100.0 * CLEARLY
        ),
    ));
    out
}

/// Every ration of every plan, a line for each feed.
#[must_use]
pub fn csv(report: &WithinReport) -> String {
    let header = ["plan", "winter_usd", "usd_per_head_day", "group", "feed", "lb_as_fed_per_head_day"];
    let rows = report.plans.iter().flat_map(|plan| {
        plan.rations.iter().map(move |row| {
            vec![
                plan.best_at.to_owned(),
                format!("{:.2}", plan.winter_usd),
                format!("{:.6}", plan.usd_per_head_day),
                row.group.clone(),
                row.feed.clone(),
                format!("{:.4}", row.lb_as_fed_per_head_day),
            ]
        })
    });
    table(&header, rows)
}
