//! Why there is no plan, for other programs: what falls short, and the single changes that would do.

use super::csv::table;
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
