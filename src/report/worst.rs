//! Doses differ from period to period: of each group the largest is told.

use super::model::Caution;
use crate::check::Judgement;
use crate::limit::caution::{DOSES, dose_told};
use crate::winter::{Case, Cells};

/// Gives cautions of a dose the text of the period with the largest.
pub(super) fn tell<'r>(
    cautions: &mut [Caution],
    case: &Case,
    cells: &Cells<'_>,
    ration: impl Fn(usize, usize) -> Option<(&'r [f64], &'r Judgement)>,
) {
    for caution in cautions.iter_mut().filter(|one| DOSES.contains(&one.rule.as_str())) {
        let group = case.groups.iter().position(|group| Some(&group.name) == caution.group.as_ref());
        let Some((g, row)) = group.and_then(|g| Some((g, cells.get(g)?))) else { continue };
        let told = row.iter().enumerate().filter_map(|(t, cell)| {
            let (kg_dm, judgement) = ration(g, t)?;
            let dose = dose_told(&caution.rule, &cell.block, &case.offers, kg_dm)?;
            let finding = judgement.findings.iter().find(|finding| finding.caution.id == caution.rule)?;
            Some((dose, &finding.text))
        });
        if let Some((_, text)) = told.max_by(|one, other| one.0.total_cmp(&other.0)) {
            caution.text.clone_from(text);
        }
    }
}
