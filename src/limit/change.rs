//! A limit the user sets otherwise.

/// A limit the user sets otherwise, for one group or for all.
#[derive(Debug, Clone, PartialEq)]
pub struct LimitChange {
    /// Id of the rule.
    pub rule: String,
    /// Group it holds for; `None`: all.
    pub group: Option<String>,
    /// The new figure in the rule's own unit; `None` with `off` lifts the rule.
    pub value: Option<f64>,
    /// Lifted altogether.
    pub off: bool,
    /// Why, in the user's words.
    pub because: Option<String>,
    /// Where it stands in the file.
    pub span: crate::diagnostic::Span,
}

use super::rule::{Force, Instance, Sense};

/// Lays the file's changes over a rule: `Ok(None)` if it is lifted.
///
/// # Errors
/// The place and the reason why a change cannot be taken: stricter is free, looser needs a reason, and what may
/// never be broken may not be loosened at all.
pub fn apply(
    mut instance: Instance,
    group: &str,
    changes: &[LimitChange],
) -> Result<Option<Instance>, (crate::diagnostic::Span, String)> {
    let for_this = |change: &&LimitChange| {
        change.rule == instance.rule.id && change.group.as_deref().is_none_or(|name| name == group)
    };
    // A change for this group wins over one for all.
    let Some(change) =
        changes.iter().filter(for_this).find(|change| change.group.is_some()).or_else(|| changes.iter().find(for_this))
    else {
        return Ok(Some(instance));
    };
    let refuse = |why: String| Err((change.span.clone(), why));
    if instance.force == Force::Need {
        return refuse(format!("`{}` is a need of the animal; write it under `needs_override`", instance.rule.id));
    }
    let default = instance.limit;
    let looser = change.off
        || change.value.is_some_and(|value| match instance.rule.sense {
            Sense::AtLeast => value < default,
            Sense::AtMost => value > default,
            Sense::Exactly => (value - default).abs() > f64::EPSILON,
        });
    if looser && instance.force == Force::Never {
        return refuse(format!(
            "`{}` may be made stricter but never looser: {} {} holds here",
            instance.rule.id,
            crate::limit::figure_text(default, instance.rule.digits),
            instance.rule.unit
        ));
    }
    if looser && change.because.as_ref().is_none_or(|text| text.trim().is_empty()) {
        return refuse(format!(
            "`{}` is looser than {} {}; add `because:` with your reason, which the report will print",
            instance.rule.id,
            crate::limit::figure_text(default, instance.rule.digits),
            instance.rule.unit
        ));
    }
    if change.off {
        return Ok(None);
    }
    if let Some(value) = change.value {
        instance.limit = value;
        instance.because.clone_from(&change.because);
    }
    Ok(Some(instance))
}
