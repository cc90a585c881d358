//! What a bale is made of.

use super::measure::{HIGH, LINT, LOSS, LOW, MOTES, SEED, SEED_COTTON, SEED_TO_LINT, TRASH, TURNOUT, USUAL};
use super::season::Head;
use crate::gin::balance::{GivenBale, GivenFigure, Impossible, balance};
use crate::gin::harvest::STATISTICAL_BALE_LB;
use crate::gin::{Balance, Harvest};
use crate::scenario::code::Code;
use crate::scenario::fields::{Fields, Notes};
use crate::scenario::groups::exclusive;
use crate::scenario::measure::{Measure, figure};
use crate::scenario::node::Kind;
use crate::scenario::values::quantity;

/// Reads `bale` and balances it.
pub(super) fn read(
    fields: &mut Fields<'_>,
    harvest: Option<Harvest>,
    head: Option<&Head>,
    notes: &mut Notes,
) -> Option<Balance> {
    let entry = fields.entry("bale");
    let mut given = GivenBale::default();
    if let Some(entry) = entry {
        let mut each = Fields::open(&entry.value, "`bale`", entry.key_span.clone(), notes)?;
        given.lint_lb = each.number(&LINT, notes);
        given.seed_lb = ranged(&mut each, &SEED, notes);
        given.motes_lb = ranged(&mut each, &MOTES, notes);
        given.trash_lb = ranged(&mut each, &TRASH, notes);
        given.loss_pct = each.number(&LOSS, notes);
        given.seed_cotton_lb = each.number(&SEED_COTTON, notes);
        let lint = given.lint_lb.unwrap_or(STATISTICAL_BALE_LB);
        let turnout = each.number(&TURNOUT, notes);
        let ratio = each.number(&SEED_TO_LINT, notes);
        for (first, second) in [(SEED_COTTON.key(), TURNOUT.key()), (SEED.key(), SEED_TO_LINT.key())] {
            let both = (each.entry(first), each.entry(second));
            if let (Some(first), Some(second)) = both {
                notes.push(exclusive(first, second));
            }
        }
        given.seed_cotton_lb = given.seed_cotton_lb.or(turnout.map(|pct| lint / pct * 100.0));
        given.seed_lb = given.seed_lb.or(ratio.map(|ratio| GivenFigure::only(ratio * lint)));
        each.close(notes);
    }
    let harvest = harvest?;
    match balance(harvest, head.is_some_and(|it| it.wet), &given) {
        Ok(found) => {
            let usual = harvest.trash_lb();
            let scale = found.lint.lb / STATISTICAL_BALE_LB;
            let (low, high) = (usual.low * scale, usual.high * scale);
            // A third beyond the printed range is most likely a slip (judgement); inside that, gins differ.
            if let (Some(entry), true) = (entry, found.trash.lb < low / 1.5 || found.trash.lb > high * 1.5) {
                notes.push(
                    Code::UnusualTrash
                        .warning(format!(
                            "{} lb of trash a bale is far from the {} to {} lb printed for {}",
                            figure(found.trash.lb.round()),
                            figure(low.round()),
                            figure(high.round()),
                            harvest.words()
                        ))
                        .at(
                            entry.key_span.clone(),
                            if found.rest == Some("trash") { "what these figures leave" } else { "as given here" },
                        )
                        .help("check the seed cotton, the seed and `harvest`; if they are right nothing is wrong"),
                );
            }
            Some(found)
        }
        Err(why) => {
            let at = entry.map_or(fields.place(), |entry| entry.key_span.clone());
            notes.push(match why {
                Impossible::PartsExceed { seed_cotton_lb, parts } => {
                    let sum: f64 = parts.iter().map(|one| one.1).sum();
                    let names: Vec<String> =
                        parts.iter().map(|(name, lb)| format!("{name} {}", figure(lb.round()))).collect();
                    Code::PartsExceed
                        .error(format!(
                            "the parts of a bale come to {} lb, more than its {} lb of seed cotton",
                            figure(sum.round()),
                            figure(seed_cotton_lb.round())
                        ))
                        .at(at, "these cannot all be right")
                        .because(format!("{}, lb", names.join(" + ")))
                        .help("correct one of them, or leave out the one you know least: it is then the rest")
                }
                Impossible::Unaccounted { seed_cotton_lb, lb } => Code::Unaccounted
                    .error(format!(
                        "{} lb of the {} lb of seed cotton is in no part",
                        figure(lb.round()),
                        figure(seed_cotton_lb.round())
                    ))
                    .at(at, "these leave too much out")
                    .because("moisture and dust take 1 to 3 %, up to 5 of wet cotton (from memory)")
                    .help("correct one of them, or leave out the one you know least: it is then the rest"),
            });
            None
        }
    }
}

/// A figure, or `{low, usual, high}`.
fn ranged(fields: &mut Fields<'_>, measure: &Measure, notes: &mut Notes) -> Option<GivenFigure> {
    let (entry, unit) = fields.measured(measure, notes)?;
    if !matches!(entry.value.kind, Kind::Map(_)) {
        return quantity(&entry.key, &entry.value, unit, measure.range, notes).map(GivenFigure::only);
    }
    let mut each = Fields::open(&entry.value, format!("`{}`", entry.key), entry.key_span.clone(), notes)?;
    let mut part = |end: &'static Measure, example: &str| {
        let found = each.required(end.key(), example, notes)?;
        quantity(end.key(), &found.value, unit, measure.range, notes)
    };
    let (low, usual, high) = (part(&LOW, "300"), part(&USUAL, "375"), part(&HIGH, "450"));
    each.close(notes);
    let (low, usual, high) = (low?, usual?, high?);
    if low > usual || usual > high {
        notes.push(
            Code::BoundOrder
                .error(format!("`{}` has its low, usual and high out of order", entry.key))
                .at(entry.key_span.clone(), format!("{}, {}, {}", figure(low), figure(usual), figure(high)))
                .help("write `low` at most `usual` and `usual` at most `high`"),
        );
        return None;
    }
    Some(GivenFigure { low, usual, high })
}
