//! What lab tests save: plain data, the page and the CSV of `overwinter plan --tests`.

use super::csv::table as csv_table;
use super::grid::{grid, paragraph};
use super::text::usd;
use crate::limit::figure_text;
use crate::value::testing::Tests;
use crate::winter::Case;
use serde::Serialize;

/// What a test of one feed saves.
#[derive(Debug, Clone, Serialize)]
pub struct TestLine {
    /// The feed.
    pub feed: String,
    /// Standard deviation of TDN before a test, points of DM.
    pub tdn_sd_before: f64,
    /// After it.
    pub tdn_sd_after: f64,
    /// Standard deviation of crude protein before a test, points of DM.
    pub cp_sd_before: f64,
    /// After it.
    pub cp_sd_after: f64,
    /// Mean least cost of the winter over what the test may find, US dollars; absent where too few outcomes have a plan.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub winter_with_usd: Option<f64>,
    /// What it saves on the mean, US dollars; below 0: costs.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub saves_usd: Option<f64>,
    /// Least cost of the best outcome counted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub best_outcome_usd: Option<f64>,
    /// Of the worst.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub worst_outcome_usd: Option<f64>,
    /// Outcomes in which nothing meets the needs, percent; they are in no figure.
    pub no_plan_pct: f64,
    /// Plans made for it.
    pub plans: usize,
}

/// What lab tests save.
#[derive(Debug, Clone, Serialize)]
pub struct TestsReport {
    /// Certainty asked for, percent.
    pub certainty_pct: f64,
    /// Least cost of the winter as the file has it, US dollars.
    pub winter_without_usd: f64,
    /// By feed, the most saved first.
    pub tests: Vec<TestLine>,
}

/// The plain data.
#[must_use]
pub fn of(case: &Case, found: &Tests) -> TestsReport {
    let mut tests: Vec<TestLine> = found
        .tests
        .iter()
        .map(|one| {
            let told = |usd: f64| usd.is_finite().then_some(usd);
            TestLine {
                feed: case.offers[one.offer].id.clone(),
                tdn_sd_before: one.tdn_sd.0,
                tdn_sd_after: one.tdn_sd.1,
                cp_sd_before: one.cp_sd.0,
                cp_sd_after: one.cp_sd.1,
                winter_with_usd: told(one.with_usd),
                saves_usd: told(found.without_usd - one.with_usd),
                best_outcome_usd: told(one.outcomes_usd.0),
                worst_outcome_usd: told(one.outcomes_usd.1),
                no_plan_pct: 100.0 * one.no_plan_share,
                plans: one.solved,
            }
        })
        .collect();
    let saved = |line: &TestLine| line.saves_usd.unwrap_or(f64::NEG_INFINITY);
    tests.sort_by(|a, b| saved(b).total_cmp(&saved(a)));
    TestsReport { certainty_pct: case.settings.certainty_pct, winter_without_usd: found.without_usd, tests }
}

/// The page.
#[must_use]
pub fn page(report: &TestsReport) -> String {
    let mut out = String::from("TESTS: what a lab test of a feed saves before anything is bought\n");
    let pct = report.certainty_pct;
    let asked = if pct > 50.0 {
        format!("with every need met at {pct} % certainty")
    } else {
        "on the averages (`--certainty` asks for more)".to_owned()
    };
    out.push_str(&paragraph(
        "",
        &format!("The winter as the file has it costs {} at least, {asked}.", usd(report.winter_without_usd)),
    ));
    if report.tests.is_empty() {
        out.push_str("Every feed whose figures vary is tested.\n");
        return out;
    }
    out.push('\n');
    let rows: Vec<Vec<String>> = report
        .tests
        .iter()
        .map(|line| {
            let money = |value: Option<f64>| value.map_or_else(String::new, usd);
            let none =
                if line.no_plan_pct > 0.05 { format!("{} %", figure_text(line.no_plan_pct, 1)) } else { String::new() };
            vec![
                format!("  {}", line.feed),
                format!("{} to {}", figure_text(line.tdn_sd_before, 1), figure_text(line.tdn_sd_after, 1)),
                format!("{} to {}", figure_text(line.cp_sd_before, 1), figure_text(line.cp_sd_after, 1)),
                money(line.winter_with_usd),
                money(line.saves_usd),
                line.best_outcome_usd
                    .zip(line.worst_outcome_usd)
                    .map_or_else(String::new, |(best, worst)| format!("{} to {}", usd(best), usd(worst))),
                none,
            ]
        })
        .collect();
    let header = ["", "TDN sd", "protein sd", "winter then", "saves", "from best to worst", "no plan in"];
    out.push_str(&grid(1, &header.map(str::to_owned), &rows));
    if let Some(best) = report.tests.first()
        && let Some(saves) = best.saves_usd
        && pct > 50.0
        && saves >= 1.0
        && best.no_plan_pct <= 0.05
    {
        out.push_str(&paragraph(
            "",
            &format!("Test {} first: it saves about {}, less what the test costs.", best.feed, usd(saves)),
        ));
    }
    let plans: usize = report.tests.iter().map(|line| line.plans).sum();
    let mut how = format!(
        "How it was computed: without a test the plan allows for the whole spread of the feed (sd: one standard deviation, points of dry \
         matter). A test comes out by chance within it and leaves the second figure; the winter is planned anew for each of some outcomes \
         and its mean taken ({plans} plans, Gauss-Hermite points, normal spreads). Both sides keep the same certainty. What a test leaves is \
         judgement, and the spreads of gin trash are the spread of printed means. Not in it: the price of the test, a price that follows \
         the test, and feeds already tested."
    );
    if pct <= 50.0 {
        how.push_str(
            " On the averages an untested plan misses its needs in half of all piles, and what that costs in condition, calves and feed \
             bought late is not counted: a test may then seem to save nothing, or to cost.",
        );
    }
    if report.tests.iter().any(|line| line.no_plan_pct > 0.05) {
        how.push_str(
            " Where some outcomes leave no plan they are left out of the mean, which flatters the test; without one those piles are among \
             the ones that fail.",
        );
    }
    out.push_str(&paragraph("", &how));
    out
}

/// One row for each feed.
#[must_use]
pub fn csv(report: &TestsReport) -> String {
    let header = [
        "feed",
        "certainty_pct",
        "tdn_sd_before",
        "tdn_sd_after",
        "cp_sd_before",
        "cp_sd_after",
        "winter_without_usd",
        "winter_with_usd",
        "saves_usd",
        "best_outcome_usd",
        "worst_outcome_usd",
        "no_plan_pct",
    ];
    let money = |value: Option<f64>| value.map_or_else(String::new, |value| format!("{value:.2}"));
    let rows = report.tests.iter().map(|line| {
        vec![
            line.feed.clone(),
            report.certainty_pct.to_string(),
            format!("{:.3}", line.tdn_sd_before),
            format!("{:.3}", line.tdn_sd_after),
            format!("{:.3}", line.cp_sd_before),
            format!("{:.3}", line.cp_sd_after),
            format!("{:.2}", report.winter_without_usd),
            money(line.winter_with_usd),
            money(line.saves_usd),
            money(line.best_outcome_usd),
            money(line.worst_outcome_usd),
            format!("{:.3}", line.no_plan_pct),
        ]
    });
    csv_table(&header, rows)
}
