//! Why there is no plan, for other programs: what falls short, and the single changes that would do.

use super::csv::table;
use super::model::ByHandLine;
use crate::winter::{Case, Short, Shortfall};
use serde::Serialize;

/// There is no plan.
#[derive(Debug, Clone, Serialize)]
pub struct NoPlanReport {
    /// Always `short`.
    pub status: &'static str,
    /// What is missing when everything that can be met is met.
    pub short: Vec<ShortLine>,
    /// Each change of one figure that alone would make a plan possible, the smallest first.
    pub ways_out: Vec<ShortLine>,
    /// Each limit that, lifted for a group all winter, alone would do, the cheapest winter first.
    pub lifts: Vec<LiftLine>,
    /// Each feed eaten at will that, measured out, alone would do.
    pub by_hand: Vec<ByHandLine>,
    /// What stands behind the shortage, in words: feeds that may not be given, water, cold.
    pub behind: Vec<String>,
}

/// A limit that, lifted for a group all winter, alone makes a plan possible.
#[derive(Debug, Clone, Serialize)]
pub struct LiftLine {
    /// Group.
    pub group: String,
    /// Id of the limit.
    pub rule: &'static str,
    /// What it is now.
    pub limit: f64,
    /// What would do.
    pub reached: f64,
    /// Unit of both.
    pub unit: &'static str,
    /// Least cost of the winter then, US dollars, labor of feeding aside.
    pub winter_usd: f64,
    /// The figure beyond which nothing more is saved, where it saves more.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cheapest_at: Option<f64>,
    /// Least cost of the winter then, US dollars.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cheapest_winter_usd: Option<f64>,
}

/// A figure of one group in one period that is not reached, in its own unit.
#[derive(Debug, Clone, Serialize)]
pub struct ShortLine {
    /// Group.
    pub group: String,
    /// Period.
    pub period: String,
    /// Id of the need or limit.
    pub rule: &'static str,
    /// Its name for people.
    pub title: String,
    /// `need`, `never` or `keep`.
    pub force: &'static str,
    /// What was asked for.
    pub asked: f64,
    /// What is reached; absent where it is a share of nothing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reached: Option<f64>,
    /// By how much it is missed; absent likewise.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub missed_by: Option<f64>,
    /// Unit of the three.
    pub unit: &'static str,
}

/// The plain data.
#[must_use]
pub fn of(case: &Case, short: &Short) -> NoPlanReport {
    let line = |one: &Shortfall| ShortLine {
        group: case.groups[one.group].name.clone(),
        period: case.periods[one.period].label.clone(),
        rule: one.rule,
        title: one.title.clone(),
        force: one.force.word(),
        asked: one.limit,
        reached: Some(one.reached).filter(|value| value.is_finite()),
        missed_by: Some(one.short).filter(|value| value.is_finite()),
        unit: one.unit,
    };
    NoPlanReport {
        status: "short",
        short: short.shortfalls.iter().map(line).collect(),
        ways_out: short.ways_out.iter().map(line).collect(),
        lifts: short
            .lifts
            .iter()
            .map(|one| LiftLine {
                group: case.groups[one.group].name.clone(),
                rule: one.rule,
                limit: one.limit,
                reached: one.reached,
                unit: one.unit,
                winter_usd: one.cost_usd,
                cheapest_at: one.cheapest.map(|(figure, _)| figure),
                cheapest_winter_usd: one.cheapest.map(|(_, usd)| usd),
            })
            .collect(),
        by_hand: super::beside::by_hand(case, &short.by_hand, 0.0),
        behind: short.causes.iter().map(|cause| super::short::cause_words(case, cause)).collect(),
    }
}

/// What falls short, a line each.
#[must_use]
pub fn csv(report: &NoPlanReport) -> String {
    let header = ["status", "group", "period", "rule", "force", "asked", "reached", "missed_by", "unit"];
    let rows = report.short.iter().map(|one| {
        let figure = |value: Option<f64>| value.map_or_else(String::new, |value| format!("{value:.6}"));
        let [asked, reached, missed_by] = [Some(one.asked), one.reached, one.missed_by].map(figure);
        let words = [report.status, &one.group, &one.period, one.rule, one.force].map(str::to_owned);
        words.into_iter().chain([asked, reached, missed_by, one.unit.to_owned()]).collect()
    });
    table(&header, rows)
}
