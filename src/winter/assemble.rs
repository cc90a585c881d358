//! From a case to its blocks: needs by group and period, what can be given, and every rule made ready.

use super::Case;
use crate::diagnostic::Diagnostic;
use crate::limit::{Block, Demands, Piles, Trouble, normal};
use crate::need::Needs;
use crate::need::daily::mean_needs;
use indexmap::IndexSet;

/// One block with its rules.
#[derive(Debug, Clone)]
pub struct Cell<'a> {
    /// The block.
    pub block: Block<'a>,
    /// Its rules.
    pub demands: Demands,
}

/// All blocks: by group, then by period.
pub type Cells<'a> = Vec<Vec<Cell<'a>>>;

/// Makes every block of a case.
///
/// # Errors
/// Figures of feeds that the rules need and nobody gave, and limits that cannot be taken; all of them, once each.
pub fn assemble(case: &Case) -> Result<Cells<'_>, Vec<Diagnostic>> {
    let Some(first) = case.periods.first() else { return Ok(Cells::new()) };
    let needs = |g: usize, t: usize| mean_needs(&case.groups[g], &case.periods[t], &case.place, first.from, None);
    with(case, &Piles::of(&case.offers), needs)
}

/// As [`assemble`] for other feeds, or other amounts eaten at will, of the same cattle, days and weather, where only the
/// cost is asked: needs are taken over, and what a sum may be off by is found only if the plan has to hold it.
///
/// # Errors
/// As [`assemble`].
pub fn assemble_like<'a>(case: &'a Case, known: &Cells<'_>) -> Result<Cells<'a>, Vec<Diagnostic>> {
    let piles = if case.settings.certainty_pct > 50.0 { Piles::of(&case.offers) } else { Piles::none(&case.offers) };
    with(case, &piles, |g, t| known[g][t].block.needs.clone())
}

fn with<'a>(
    case: &'a Case,
    piles: &Piles,
    needs: impl Fn(usize, usize) -> Needs,
) -> Result<Cells<'a>, Vec<Diagnostic>> {
    let mut problems: IndexSet<String> = IndexSet::new();
    let mut diagnostics = Vec::new();
    let mut cells = Vec::new();
    let Some(first) = case.periods.first() else { return Ok(cells) };
    // 50 is on the averages, to the last digit.
    let sure = case.settings.certainty_pct / 100.0;
    let z = if sure > 0.5 { normal::point(sure) } else { 0.0 };
    for (g, group) in case.groups.iter().enumerate() {
        let replaced = case.needs_override.get(&group.name).copied().unwrap_or_default();
        let mut row = Vec::new();
        for (t, period) in case.periods.iter().enumerate() {
            let (needs, substitution) = (needs(g, t), case.settings.substitution);
            let block = Block::new(group, period, first.from, needs, replaced, &case.offers, substitution);
            match block.demands_of(&case.offers, piles, &case.limits) {
                Ok(demands) => row.push(Cell { block, demands: Demands { z, ..demands } }),
                Err(list) => {
                    for trouble in list {
                        let diagnostic = explain(&trouble);
                        if problems.insert(diagnostic.message.clone()) {
                            diagnostics.push(diagnostic);
                        }
                    }
                }
            }
        }
        cells.push(row);
    }
    diagnostics.sort_by_key(|one| one.label.as_ref().map_or(0, |(span, _)| span.start));
    if diagnostics.is_empty() { Ok(cells) } else { Err(diagnostics) }
}

fn explain(trouble: &Trouble) -> Diagnostic {
    match trouble {
        Trouble::Missing(missing) => Diagnostic::error(
            "H087",
            format!("{} of `{}` is not known, and a rule needs it", missing.nutrient.name(), missing.feed),
        )
        .because("what is not known is not zero")
        .help(format!(
            "write `{}:` under `test:` of the feed (from a lab report or the tag), or `like:` a row of the feed table",
            missing.nutrient.key()
        )),
        Trouble::Change(span, why) => Diagnostic::error("H088", why.clone())
            .at(span.clone(), "this limit cannot be taken as written")
            .help("correct the change, or delete it; `overwinter explain` has every limit with its reason"),
    }
}
