//! How much hangs on what cattle eat at will: the winter costed at both ends of a guess that no print settles.

use crate::feed::FeedClass;
use crate::limit::block::{BASE_INTAKE_DRY_PCT, BASE_INTAKE_MILKING_PCT};
use crate::limit::catalog::forage_ndf_pct;
use crate::lp;
use crate::winter::known::Known;
use crate::winter::program::Program;
use crate::winter::{Case, Cell, Cells, assemble_like};
use serde::Serialize;

/// Points of body weight to each side: 1.6 and 2.0 % around the default of 1.8 (judgement).
const STEP_PCT: f64 = 0.2;

/// Least cost of the winter when the base roughage is eaten less and more than counted.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Ends {
    /// The feed.
    pub feed: String,
    /// Counted, % of body weight as dry matter, dry cattle.
    pub counted_pct: f64,
    /// Less.
    pub low_pct: f64,
    /// Cost then, US dollars; `None` if needs cannot be met.
    pub low_usd: Option<f64>,
    /// More.
    pub high_pct: f64,
    /// Cost then, US dollars; `None` if needs cannot be met.
    pub high_usd: Option<f64>,
    /// Some group is held below `high_pct` by the fiber it can hold.
    pub high_held_by_fiber: bool,
}

/// Both ends, where some group eats gin trash at will; `None` otherwise.
///
/// # Errors
/// That one of them could not be proved.
pub fn ends(case: &Case, cells: &Cells<'_>, known: &Known) -> Result<Option<Ends>, lp::Failure> {
    let base = cells
        .iter()
        .flatten()
        .filter_map(|cell| cell.block.base.as_ref())
        .find(|base| case.offers[base.offer].feed.class == FeedClass::GinTrash);
    let Some(base) = base else { return Ok(None) };
    let counted_pct =
        case.groups.iter().find_map(|group| group.base_intake_pct).map_or(BASE_INTAKE_DRY_PCT, |(dry, _)| dry);
    let (low_usd, high_usd) =
        rayon::join(|| cost(case, cells, known, -STEP_PCT), || cost(case, cells, known, STEP_PCT));
    Ok(Some(Ends {
        feed: case.offers[base.offer].id.clone(),
        counted_pct,
        low_pct: counted_pct - STEP_PCT,
        low_usd: low_usd?,
        high_pct: counted_pct + STEP_PCT,
        high_usd: high_usd?,
        high_held_by_fiber: case.groups.iter().zip(cells).any(|(group, row)| {
            group.base_intake_pct.is_none()
                && row.iter().find_map(fiber_pct).is_some_and(|most| most < BASE_INTAKE_DRY_PCT + STEP_PCT)
        }),
    }))
}

fn cost(case: &Case, cells: &Cells<'_>, known: &Known, step: f64) -> Result<Option<f64>, lp::Failure> {
    let mut other = case.clone();
    for (group, row) in other.groups.iter_mut().zip(cells) {
        let (dry, milking) = group.base_intake_pct.unwrap_or((BASE_INTAKE_DRY_PCT, BASE_INTAKE_MILKING_PCT));
        // The fiber they can hold caps the guess, unless the figure is the user's own.
        let most = if group.base_intake_pct.is_some() { None } else { row.iter().find_map(fiber_pct) };
        let capped = |pct: f64| most.map_or(pct, |most| pct.min(most));
        group.base_intake_pct = Some((capped(dry + step), capped(milking + step)));
    }
    let missing = |_| lp::Failure::Invalid("a figure that a rule needs is not known".to_owned());
    let cells = assemble_like(&other, cells).map_err(missing)?;
    match known.solve(&mut Program::build(&other, &cells), &cells) {
        Ok(found) => Ok(Some(found.objective)),
        Err(lp::Failure::Infeasible) => Ok(None),
        Err(other) => Err(other),
    }
}

/// What the fiber of the base roughage allows of it, % of body weight as dry matter.
fn fiber_pct(cell: &Cell<'_>) -> Option<f64> {
    let base = cell.block.base.as_ref()?;
    forage_ndf_pct(&cell.block).map(|pct| pct / (base.ndf_pct / 100.0))
}
