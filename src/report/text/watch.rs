//! Condition and the low case, what to watch, how sure.

use super::feed::short_label;
use super::usd;
use crate::limit::figure_text;
use crate::report::cautions::items_of_feeds;
use crate::report::model::{Caution, GroupReport, Report};
use crate::report::page::Page;
use crate::report::sure::{chances, cover_words};
use indexmap::IndexMap;

/// Condition gained beyond what was asked is told from here on, scores (judgement: what an eye can tell).
const TOLD_UNASKED: f64 = 0.25;

pub(super) fn condition(page: &mut Page, report: &Report) {
    let mut lines = Vec::new();
    for group in &report.groups {
        if let (Some(gain), Some(saved)) = (group.score_to_gain_usd_per_head, group.score_saved_usd_per_head) {
            lines.push(format!(
                "{}: one score more by the end costs about {} a head; letting one go saves about {}.",
                group.name,
                usd(gain),
                usd(saved)
            ));
        }
        if let Some(text) = balance_words(group) {
            lines.push(text);
        }
        lines.extend(unasked_words(report, group));
        if let Some(text) = low_words(group) {
            lines.push(text);
        }
    }
    lines.extend(cover_words(report));
    if lines.is_empty() {
        return;
    }
    page.section("condition", "Condition and the low case", "");
    for line in lines {
        page.words("  ", line);
    }
}

/// The period that loses or gains condition fastest beyond what was planned.
fn balance_words(group: &GroupReport) -> Option<String> {
    let worst = group
        .periods
        .iter()
        .filter_map(|period| period.condition.days_to_lose_a_score.map(|days| (period, days)))
        .filter(|(_, days)| days.abs() < 400.0)
        .min_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))?;
    let (period, days) = worst;
    Some(format!(
        "{}: in {} the ration {} one score in {:.0} days ({:.1} of {:.1} Mcal NEm).",
        group.name,
        short_label(period),
        if days > 0.0 { "loses" } else { "gains" },
        days.abs(),
        period.condition.supplied_nem_mcal,
        period.condition.needed_nem_mcal
    ))
}

/// Condition that nobody asked for, where it comes of filling them at will and measuring out would be cheaper.
fn unasked_words(report: &Report, group: &GroupReport) -> Option<String> {
    let at_will =
        |feed: &str| group.periods.iter().flat_map(|period| &period.ration).any(|l| l.at_will && l.feed == feed);
    let by_hand = report.by_hand.iter().find(|one| at_will(&one.feed))?;
    let gained: f64 = group
        .periods
        .iter()
        .filter_map(|period| period.condition.days_to_lose_a_score.map(|days| -f64::from(period.days) / days))
        .sum();
    if gained < TOLD_UNASKED {
        return None;
    }
    let binds = |rule: &str| {
        let mut lines = group.periods.iter().flat_map(|period| &period.limits);
        lines.any(|line| line.rule == rule && line.binding)
    };
    let (stopped, or) = if binds("gin-trash") {
        (
            " Gin trash stops at its limit and dearer feed fills the rest of what they eat at will.",
            " Raising `gin-trash` under `limits:`, with your reason, may cost less too.",
        )
    } else {
        ("", "")
    };
    let least = report.winter.least_cost_usd.unwrap_or(report.winter.cost_usd);
    Some(format!(
        "{}: they gain {} of a score beyond what was asked, because {} is eaten at will.{stopped} Measured out (`fed: by_hand`) the winter \
         costs {}, {} less.{or}",
        group.name,
        figure_text(gained, 1),
        by_hand.feed,
        usd(by_hand.winter_usd),
        usd(least - by_hand.winter_usd)
    ))
}

fn low_words(group: &GroupReport) -> Option<String> {
    let (period, low) = group
        .periods
        .iter()
        .filter_map(|period| period.low_case.as_ref().map(|low| (period, low)))
        .min_by(|a, b| a.1.days_to_lose_a_score.total_cmp(&b.1.days_to_lose_a_score))?;
    let protein = match low.short_cp_lb {
        short if short >= 0.005 => format!(" and {short:.2} lb of protein"),
        _ => String::new(),
    };
    Some(format!(
        "{}: if {} comes out low, {:.0} % TDN and {:.1} % protein instead of {:.0} and {:.1}, they are {:.1} lb of TDN{protein} a day short \
         and lose a score in {:.0} days ({}).",
        group.name,
        low.feed,
        low.low_tdn_pct_dm,
        low.low_cp_pct_dm,
        low.tdn_pct_dm,
        low.cp_pct_dm,
        low.short_tdn_lb,
        low.days_to_lose_a_score,
        short_label(period)
    ))
}

/// Where more of it is.
pub(in crate::report) const MORE: &str =
    "More on each feed: `overwinter feeds NAME`; on a source or a rule: `overwinter explain NAME`.";
/// What comes before any page of ours.
pub(in crate::report) const LAW: &str = "The law where you are, the feed tag, the label of what was sprayed, your veterinarian and your \
                              nutritionist come before this page.";

pub(super) fn watch(page: &mut Page, report: &Report) {
    page.section("watch", "Watch", "");
    // One caution of several groups is told once, with the figures of the first.
    let mut of_groups: IndexMap<&str, (Vec<&str>, &Caution)> = IndexMap::new();
    for caution in &report.cautions {
        if let Some(group) = &caution.group {
            of_groups.entry(&caution.rule).or_insert_with(|| (Vec::new(), caution)).0.push(group);
        }
    }
    for (groups, caution) in of_groups.values() {
        let (first, others) = groups.split_first().map_or(("", &[][..]), |(first, others)| (*first, others));
        let also = if others.is_empty() { String::new() } else { format!(" Likewise {}.", others.join(", ")) };
        page.item(format!("{first}: {}{also} [{}]", caution.text, caution.mark));
    }
    for item in feed_items(report).into_iter().chain(barred_items(report)) {
        page.item(item);
    }
    page.words("  ", format!("{MORE} {LAW}"));
}

/// What is to be watched with the cattle of one group.
pub(in crate::report) fn group_items(report: &Report, name: &str) -> Vec<String> {
    let of_it = report.cautions.iter().filter(|caution| caution.group.as_deref() == Some(name));
    of_it.map(|caution| format!("{} [{}]", caution.text, caution.mark)).collect()
}

/// What is to be watched with each feed, as far as the page tells it.
pub(in crate::report) fn feed_items(report: &Report) -> Vec<String> {
    items_of_feeds(&report.cautions)
}

/// Feeds that may not be given, with the reason.
pub(in crate::report) fn barred_items(report: &Report) -> Vec<String> {
    let of_group = |group: &GroupReport| -> Vec<String> {
        let barred = group.barred.iter();
        barred.map(|(feed, reason)| format!("{}: {feed} may not be given: {reason}.", group.name)).collect()
    };
    report.groups.iter().flat_map(of_group).collect()
}

pub(super) fn sure(page: &mut Page, report: &Report) {
    page.section("sure", "How sure", "");
    if let Some(certificate) = report.certificate {
        page.words(
            "  ",
            format!(
                "The cost is proved least: the gap to the proved bound is {} of it, rows are held to {}, prices to {}; an independent check of \
                 every ration agrees. {}",
                tiny(certificate.relative_gap),
                tiny(certificate.primal),
                tiny(certificate.dual),
                match report.unique {
                    Some(true) => "No other winter costs as little.",
                    Some(false) => "Another winter costs the same: feeds tie.",
                    None => "Whether another winter costs the same was not settled.",
                }
            ),
        );
    }
    if !report.left_out.is_empty() {
        page.words("  ", format!("Left out, since it could not be proved: {}.", report.left_out.join("; ")));
    }
    chances(page, report);
    if let Some(ends) = &report.at_will_ends {
        let cost = |then: Option<f64>| then.map_or("needs that cannot be met".to_owned(), usd);
        page.words(
            "  ",
            format!(
                "How much {} cattle eat at will is printed nowhere. Counted is {:.1} % of body weight when it is eaten alone and dry; at \
                 {:.1} % the cheapest winter is {}, at {:.1} %{} {}. `base_intake_pct` of a group sets it.",
                ends.feed,
                ends.counted_pct,
                ends.low_pct,
                cost(ends.low_usd),
                ends.high_pct,
                if ends.high_held_by_fiber { ", or what fiber lets each group hold," } else { "" },
                cost(ends.high_usd)
            ),
        );
    }
    page.words(
        "  ",
        format!("Counted: {}. Prices and head are yours; a feed without a test is a table average.", report.weather),
    );
}

/// A very small number.
fn tiny(value: f64) -> String {
    if value <= 0.0 { "0".to_owned() } else { format!("{value:.0e}") }
}
