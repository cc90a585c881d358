//! Least-cost winter rations for beef cattle on cotton-gin byproducts.
//!
//! The pipeline on one page: [`scenario`] reads a herd file into a [`winter::Case`]; [`winter::assemble()`] finds what each
//! group [`need`]s in each period and makes every [`limit`] ready; [`winter::plan()`] builds the linear programme, has [`lp`]
//! solve and prove it, and reads it back; [`check`] judges every ration without the programme; [`report`] turns the lot
//! into plain data and pages; [`cli`] is the command line. A module uses only what stands above it in this list.

pub mod check;
pub mod cli;
pub mod diagnostic;
pub mod feed;
pub mod gin;
pub mod herd;
pub mod limit;
pub mod lp;
pub mod need;
pub mod quantity;
pub mod report;
pub mod scenario;
pub mod source;
pub mod value;
pub mod winter;

use check::Judgement;
use diagnostic::Diagnostic;
use report::model::Report;
use winter::{Case, Cells, NoPlan, Plan, PlannedRation};

/// Why there is no report.
#[derive(Debug)]
pub enum Stop {
    /// The input cannot be used.
    Input(Vec<Diagnostic>),
    /// No ration can meet it; what is short.
    Short(Box<winter::Short>),
    /// The answer could not be proved, or the independent check does not agree. Our fault; nothing is printed.
    Unproven(String),
}

impl From<NoPlan> for Stop {
    fn from(no: NoPlan) -> Self {
        match no {
            NoPlan::Short(short) => Self::Short(short),
            NoPlan::Unproven(why) => Self::Unproven(why),
        }
    }
}

/// Plans a case, has every ration checked without the programme, and reports.
///
/// # Errors
/// What is wrong with the input, what is short, or that the answer could not be proved.
pub fn plan(case: &Case) -> Result<Report, Stop> {
    let cells = winter::assemble(case).map_err(Stop::Input)?;
    let (plan, judged) = proved_plan(case, &cells)?;
    let mut report = report::build::of_plan(case, &cells, &plan, &judged);
    beside(&mut report, case, &cells, &plan);
    Ok(report)
}

/// What a page tells beside a plan and the winter has to be solved again for; a big winter goes without.
fn beside(report: &mut Report, case: &Case, cells: &Cells<'_>, plan: &Plan) {
    // Where certainty is asked for every block bends, and ranges take longer than the plan. The end of what is not bought
    // is its worth, which the page has already.
    let asked = !plan.big && case.settings.certainty_pct <= 50.0;
    let ranges = || {
        asked.then(|| {
            // The page has whole dollars.
            let curve = 10.0 * value::worth::CURVE;
            value::price_range::price_ranges(case, cells, |f| plan.feeds[f].bought_tons() > 1e-6, curve)
        })
    };
    let covers = || if plan.big { Default::default() } else { value::low::covers(case, cells, plan) };
    let ends = || value::at_will::ends(case, cells, &plan.known);
    let by_hand = || winter::wider::cheaper_by_hand(case, cells, &plan.known);
    let ((ranges, by_hand), (covers, ends)) =
        rayon::join(|| rayon::join(ranges, by_hand), || rayon::join(covers, ends));
    let ids = |feeds: &[usize]| feeds.iter().map(|f| case.offers[*f].id.clone()).collect::<Vec<_>>().join(", ");
    let mut left_out = |what: &str, feeds: &[usize]| {
        if !feeds.is_empty() {
            report.left_out.push(format!("{what} {}", ids(feeds)));
        }
    };
    let (covers, covers_unproved) = covers;
    left_out("the winter without", &plan.without_unproved);
    left_out("the low case of", &covers_unproved);
    if let Some((_, unproved)) = &ranges {
        left_out("the range of the price of", unproved);
    }
    if plan.steady_unproved {
        report.left_out.push("steadier rations, so these are the cheapest as they stand".to_owned());
    }
    if ends.is_err() {
        report.left_out.push("what hangs on the guess of what is eaten at will".to_owned());
    }
    report.at_will_ends = ends.unwrap_or_default();
    report.by_hand = report::beside::by_hand(case, &by_hand, report.winter.labor_usd);
    report.low_case_covers = report::sure::covers(case, &covers);
    if let Some((ranges, _)) = ranges {
        report::ranges::beside_worth(case, &ranges, &mut report.worth);
    }
}

/// As [`plan`], rounded to what is weighed in practice, checked again and paid anew. Where no practical amounts near
/// the plan keep every rule, the exact plan is reported and says so.
///
/// # Errors
/// As [`plan`].
pub fn plan_practical(case: &Case) -> Result<Report, Stop> {
    let cells = winter::assemble(case).map_err(Stop::Input)?;
    let (plan, judged) = proved_plan(case, &cells)?;
    match winter::practical::round(case, &cells, &plan) {
        Ok(rounded) => {
            let again = judged_clean(case, &cells, &rounded)?;
            let mut report = report::build::of_plan(case, &cells, &rounded, &again);
            report.rounding_usd = Some(rounded.cost_usd - plan.cost_usd);
            beside(&mut report, case, &cells, &plan);
            Ok(report)
        }
        Err(why) => {
            let mut report = report::build::of_plan(case, &cells, &plan, &judged);
            report.not_rounded = Some(report::sheet::not_rounded(case, &why));
            Ok(report)
        }
    }
}

/// A plan whose every ration the independent check finds clean.
fn proved_plan(case: &Case, cells: &Cells<'_>) -> Result<(Plan, Vec<Vec<Judgement>>), Stop> {
    let plan = winter::plan(case, cells).map_err(Stop::from)?;
    let judged = judged_clean(case, cells, &plan)?;
    Ok((plan, judged))
}

/// The independent check of every ration of a plan, all of them clean.
fn judged_clean(case: &Case, cells: &Cells<'_>, plan: &Plan) -> Result<Vec<Vec<Judgement>>, Stop> {
    let mut judged = Vec::new();
    for (g, row) in cells.iter().enumerate() {
        let mut verdicts = Vec::new();
        for (t, cell) in row.iter().enumerate() {
            let verdict = check::judge(&cell.block, &cell.demands, &case.offers, &plan.rations[g][t].kg_dm);
            if let Some(line) = verdict.lines.iter().find(|line| !line.kept) {
                return Err(Stop::Unproven(format!(
                    "the check of {} in {} finds {} at {} against {}",
                    cell.block.group.name, cell.block.period.label, line.rule.id, line.value, line.limit
                )));
            }
            if !cell.demands.sure_enough(&plan.rations[g][t].kg_dm) {
                return Err(Stop::Unproven(format!(
                    "the check of {} in {} finds a need less sure than {} %",
                    cell.block.group.name, cell.block.period.label, case.settings.certainty_pct
                )));
            }
            verdicts.push(verdict);
        }
        judged.push(verdicts);
    }
    Ok(judged)
}

/// Judges the rations written in the file, and says what the best plan for the same cattle and days would cost.
///
/// # Errors
/// What is wrong with the input.
pub fn check_rations(case: &Case) -> Result<Report, Stop> {
    let cells = winter::assemble(case).map_err(Stop::Input)?;
    let judged: Vec<Vec<Option<(PlannedRation, Judgement)>>> = cells
        .iter()
        .map(|row| {
            row.iter()
                .enumerate()
                .map(|(t, cell)| {
                    let hand = case.fed.get(&cell.block.group.name)?.get(t)?.as_ref()?;
                    let kg_dm = case
                        .offers
                        .iter()
                        .map(|offer| hand.get(&offer.id).map_or(0.0, |amount| amount.dry(offer.feed.dm_pct()).0))
                        .collect();
                    let ration = report::build::hand_ration(case, cell.block.period, kg_dm);
                    let mut verdict = check::judge_fed(&cell.block, &cell.demands, &case.offers, &ration.kg_dm);
                    // A fixed amount is a wish for the plan, most often the usual ounces of a mineral; what is fed is fed.
                    verdict.lines.retain(|line| line.rule.id != "your-fixed");
                    Some((ration, verdict))
                })
                .collect()
        })
        .collect();
    let mut report = report::build::of_check(case, &cells, &judged);
    // What the best plan costs for the blocks that were judged; no plan, no comparison.
    if let Ok((best, _)) = proved_plan(case, &cells) {
        let mut usd = 0.0;
        for (g, row) in judged.iter().enumerate() {
            for (t, one) in row.iter().enumerate() {
                if one.is_some() {
                    let head_days = f64::from(case.groups[g].head) * f64::from(case.periods[t].days());
                    usd += best.rations[g][t].usd() * head_days;
                }
            }
        }
        report.best_plan_usd = Some(usd);
    }
    Ok(report)
}
