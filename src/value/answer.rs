//! The least-cost winter of one case in short: what it costs, what is fed, what binds. Part loads, not made steadier.

use super::worth::{drawn_tons, lb_by_group};
use crate::check::{self, Judgement};
use crate::diagnostic::Diagnostic;
use crate::lp::{self, Certificate, Certified};
use crate::winter::plan::solve_growing;
use crate::winter::program::Program;
use crate::winter::short::shortage;
use crate::winter::{Case, Cell, Cells, NoPlan, Short, assemble};

/// A need or limit that holds the cost up in one group.
#[derive(Debug, Clone, PartialEq)]
pub struct Binding {
    /// Group.
    pub group: usize,
    /// Id of the rule.
    pub rule: &'static str,
    /// Title of the rule.
    pub title: &'static str,
    /// The feed it is about, where it is about one.
    pub about: Option<String>,
    /// Periods in which it binds, in order.
    pub periods: Vec<usize>,
    /// US dollars for the winter that the figure itself costs at the margin, over all periods: price times figure. Ranks.
    pub weight_usd: f64,
}

/// The ration of one group in one period and the verdict of the independent check on it.
#[derive(Debug, Clone)]
pub struct Checked {
    /// kg of dry matter per head and day, by offer.
    pub kg_dm: Vec<f64>,
    /// The verdict: every limit kept, and what is to be watched.
    pub verdict: Judgement,
}

/// The least-cost winter.
#[derive(Debug, Clone)]
pub struct Answer {
    /// US dollars for the winter.
    pub cost_usd: f64,
    /// Pounds as fed per head and day, the mean of the winter, by group, then by offer.
    pub lb: Vec<Vec<f64>>,
    /// Short tons drawn for feeding over the winter, by offer.
    pub fed_tons: Vec<f64>,
    /// Short tons bought over the winter, by offer.
    pub bought_tons: Vec<f64>,
    /// What binds, by group, the weightiest first.
    pub binding: Vec<Binding>,
    /// Every ration with its verdict, by group, then by period.
    pub rations: Vec<Vec<Checked>>,
    /// Proof.
    pub certificate: Certificate,
}

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq)]
pub enum NoAnswer {
    /// The case cannot be used.
    Input(Vec<Diagnostic>),
    /// Needs and limits cannot all hold.
    Short(Box<Short>),
    /// The answer could not be proved, or the independent check does not agree. Our fault.
    Unproven(String),
}

/// Head × days of a case.
#[must_use]
pub fn head_days(case: &Case) -> f64 {
    let head: f64 = case.groups.iter().map(|group| f64::from(group.head)).sum();
    let days: f64 = case.periods.iter().map(|period| f64::from(period.days())).sum();
    head * days
}

/// The least-cost winter of a case.
///
/// # Errors
/// See [`NoAnswer`].
pub fn answer(case: &Case) -> Result<Answer, NoAnswer> {
    let cells = assemble(case).map_err(NoAnswer::Input)?;
    let mut program = Program::build(case, &cells);
    match solve_growing(&mut program, &cells) {
        Ok(best) => read(case, &cells, &program, &best),
        Err(failure) => Err(short(case, &cells, &program, &failure)),
    }
}

/// What is short where nothing was found.
pub(super) fn short(case: &Case, cells: &Cells<'_>, program: &Program, failure: &lp::Failure) -> NoAnswer {
    match shortage(case, cells, program, failure) {
        NoPlan::Short(short) => NoAnswer::Short(short),
        NoPlan::Unproven(why) => NoAnswer::Unproven(why),
    }
}

/// A certified answer read back, every ration of it found clean by the independent check.
///
/// # Errors
/// That the check does not agree.
pub(super) fn read(case: &Case, cells: &Cells<'_>, program: &Program, best: &Certified) -> Result<Answer, NoAnswer> {
    let rations = checked(case, cells, program, &best.x)?;
    let by_offer: Vec<Vec<f64>> =
        (0..case.offers.len()).map(|f| lb_by_group(case, cells, program, f, &best.x)).collect();
    let lb = (0..cells.len()).map(|g| by_offer.iter().map(|groups| groups[g]).collect()).collect();
    Ok(Answer {
        cost_usd: best.objective,
        lb,
        fed_tons: drawn_tons(case, cells, program, &best.x),
        bought_tons: bought_tons(case, program, &best.x),
        binding: binding(cells, program, best),
        rations,
        certificate: best.certificate,
    })
}

/// Short tons of each offer that a point buys over the winter.
#[must_use]
pub fn bought_tons(case: &Case, program: &Program, x: &[f64]) -> Vec<f64> {
    (0..case.offers.len())
        .map(|f| program.purchases(case, f).iter().map(|(col, tons)| tons * x[col.0].max(0.0)).sum())
        .collect()
}

/// The independent check of every ration at a point.
///
/// # Errors
/// The first figure that is not kept.
fn checked(case: &Case, cells: &Cells<'_>, program: &Program, x: &[f64]) -> Result<Vec<Vec<Checked>>, NoAnswer> {
    let one = |g: usize, t: usize, cell: &Cell<'_>| {
        let kg_dm = program.ration(g, t, x);
        let verdict = check::judge(&cell.block, &cell.demands, &case.offers, &kg_dm);
        match verdict.lines.iter().find(|line| !line.kept) {
            None => Ok(Checked { kg_dm, verdict }),
            Some(line) => Err(NoAnswer::Unproven(format!(
                "the check of {} in {} finds {} at {} against {}",
                cell.block.group.name, cell.block.period.label, line.rule.id, line.value, line.limit
            ))),
        }
    };
    let row = |(g, row): (usize, &Vec<Cell<'_>>)| row.iter().enumerate().map(|(t, cell)| one(g, t, cell)).collect();
    cells.iter().enumerate().map(row).collect()
}

/// A price below this share of the cost is none.
const NO_PRICE: f64 = 1e-7;

fn binding(cells: &Cells<'_>, program: &Program, best: &Certified) -> Vec<Binding> {
    let mut list: Vec<Binding> = Vec::new();
    for (group, row) in cells.iter().enumerate() {
        let first = list.len();
        for (period, cell) in row.iter().enumerate() {
            let block = &program.blocks[group][period];
            let kg_dm = program.ration(group, period, &best.x);
            let mut note = |rule: &'static crate::limit::Rule, about: Option<&String>, weight_usd: f64| {
                if weight_usd.abs() <= NO_PRICE * best.objective.abs().max(1.0) {
                    return;
                }
                let same = |one: &&mut Binding| one.rule == rule.id && one.about.as_ref() == about;
                if let Some(one) = list[first..].iter_mut().find(same) {
                    one.periods.push(period);
                    one.weight_usd += weight_usd.abs();
                } else {
                    let (periods, about) = (vec![period], about.cloned());
                    list.push(Binding {
                        group,
                        rule: rule.id,
                        title: rule.title,
                        about,
                        periods,
                        weight_usd: weight_usd.abs(),
                    });
                }
            };
            for (index, instance) in cell.demands.rules.iter().enumerate() {
                // An amount the user fixed is a wish, not a limit that was found to bind.
                if instance.rule.id != "your-fixed" {
                    let price: f64 = block.rows_of(index).map(|row| best.row_dual[row.0]).sum();
                    let usd = price * instance.per_value(&kg_dm) * instance.limit;
                    note(instance.rule, instance.about.as_ref(), usd);
                }
            }
            if let (Some(rows), Some(rule)) = (&block.growth, crate::limit::rule("growth")) {
                let usd: f64 = rows
                    .tangents
                    .iter()
                    .flat_map(|(_, keep, grow)| [keep, grow])
                    .map(|row| best.row_dual[row.0] * program.lp.row_value(*row, &best.x))
                    .sum();
                note(rule, None, usd);
            }
        }
        list[first..].sort_by(|a, b| b.weight_usd.total_cmp(&a.weight_usd));
    }
    list
}
