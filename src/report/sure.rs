//! How sure: the chance that each need is met, and what covering the low case of a feed costs.

use super::model::{CoverLine, LimitLine, Report};
use super::page::Page;
use super::text::{short_label, usd};
use crate::value::low;
use crate::winter::Case;

/// What covering the low case of each feed costs, with its name.
#[must_use]
pub fn covers(case: &Case, list: &[low::Cover]) -> Vec<CoverLine> {
    let line = |cover: &low::Cover| CoverLine { feed: case.offers[cover.offer].id.clone(), more_usd: cover.more_usd };
    list.iter().map(line).collect()
}

/// What covering costs, in words; covers that cost next to nothing are left out.
pub(super) fn cover_words(report: &Report) -> Option<String> {
    let told: Vec<String> = report
        .low_case_covers
        .iter()
        .filter_map(|cover| match cover.more_usd {
            Some(more) if more >= 1.0 => Some(format!("{} {}", cover.feed, usd(more))),
            Some(_) => None,
            None => Some(format!("{}: nothing here meets the needs then", cover.feed)),
        })
        .collect();
    (!told.is_empty()).then(|| {
        format!(
            "To cover one feed that is known to be so low (TDN and protein), the winter costs more: {}.",
            told.join("; ")
        )
    })
}

/// The kinds of needs on the page, with the rules of each.
const KINDS: [(&str, &[&str]); 4] = [
    ("energy", &["energy", "growth", "tdn"]),
    ("protein", &["crude-protein", "protein-by-energy", "protein-by-degradable", "protein-floor"]),
    ("calcium", &["calcium"]),
    ("phosphorus", &["phosphorus"]),
];

/// The chance that each kind of need is met in the period where it is least, by group.
pub(super) fn chances(page: &mut Page, report: &Report) {
    let mut rows = Vec::new();
    for group in &report.groups {
        let mut row = vec![format!("  {}", group.name)];
        for (_, rules) in KINDS {
            let of = |line: &&LimitLine| rules.contains(&line.rule);
            let least = group
                .periods
                .iter()
                .flat_map(|period| {
                    period.limits.iter().filter(of).filter_map(move |line| Some((line.chance_pct?, period)))
                })
                .min_by(|a, b| a.0.total_cmp(&b.0));
            row.push(match least {
                Some((pct, _)) if pct >= 99.5 => "over 99".to_owned(),
                Some((pct, period)) => format!("{pct:.0} ({})", short_label(period)),
                None => String::new(),
            });
        }
        rows.push(row);
    }
    let mut header = vec![String::new()];
    header.extend(KINDS.iter().map(|(name, _)| (*name).to_owned()));
    page.words("  ", "Chance that a need is met, given how the feeds may vary, %, in the period where it is least:");
    page.table("Chance that a need is met, %", 1, &header, &rows);
    let asked = if report.status != "plan" {
        String::new()
    } else if report.certainty_pct > 50.0 {
        format!("Asked for was {:.0} % for each need. ", report.certainty_pct)
    } else {
        "Nothing is added for safety, so a need that binds is met in half of all piles; `--certainty 90` asks for more. ".to_owned()
    };
    page.words(
        "  ",
        format!(
            "{asked}Feeds vary by themselves; what one feed is off by is the same for every group and month, so needs fail together, \
             and all of them hold together less often than the least figure. Spreads are those of the feed table, of tested feeds what \
             a test leaves (judgement); weights, weather and what is eaten at will are not in them. What a test saves: `plan --tests`."
        ),
    );
}
