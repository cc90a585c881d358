//! The condition a group is fed toward, and whether the loss planned is one that cattle can bear.

use super::code::Code;
use super::fields::{Fields, Notes};
use super::groups::exclusive;
use super::measure::{SCORE, figure};
use super::node::{Entry, Kind};
use super::winter::Winter;
use crate::diagnostic::Span;
use crate::herd::stage::{CALVING_INTERVAL_DAYS, GESTATION_DAYS};
use crate::herd::{AnimalClass, Group, Stage};
use crate::need::ConditionPath;
use crate::need::condition::{SAFE_LOSS, SafeLoss};
use crate::need::path::days_between;
use crate::need::target::has_reserves;
use jiff::ToSpan;
use jiff::civil::Date;

/// What is wanted of the condition.
#[derive(Debug, Default)]
pub(crate) struct Wanted {
    /// A score by a day.
    pub(crate) by: Option<(f64, Date)>,
    /// Scores by days.
    pub(crate) path: Vec<(Date, f64)>,
    /// Why more may be lost than is safe.
    because: Option<String>,
    /// Where it is written.
    at: Option<Span>,
}

/// Reads `condition_wanted` or `condition_path`.
pub(crate) fn read(fields: &mut Fields<'_>, class: AnimalClass, winter: Option<&Winter>, notes: &mut Notes) -> Wanted {
    let (wanted, path) = (fields.entry("condition_wanted"), fields.entry("condition_path"));
    if let (Some(first), Some(second)) = (wanted, path) {
        notes.push(exclusive(first, second));
        return Wanted::default();
    }
    let Some(entry) = wanted.or(path) else { return Wanted::default() };
    if matches!(class, AnimalClass::Stocker | AnimalClass::ReplacementHeifer | AnimalClass::YoungBull) {
        notes.push(
            Code::NoReserves
                .warning(format!("`{}` has no effect on a {}", entry.key, class.name()))
                .at(entry.key_span.clone(), "growing cattle are fed to a gain")
                .because("in growing cattle gain and condition are one: the equations count the gain")
                .help(format!("delete `{}`, and set the gain or the weight wanted", entry.key)),
        );
    }
    let mut read = if wanted.is_some() { one(entry, winter, notes) } else { several(entry, winter, notes) };
    read.at = Some(entry.key_span.clone());
    read
}

fn one(entry: &Entry, winter: Option<&Winter>, notes: &mut Notes) -> Wanted {
    let Some(mut each) = Fields::open(&entry.value, "`condition_wanted`", entry.key_span.clone(), notes) else {
        return Wanted::default();
    };
    let score = each.number_required(&SCORE, "5", notes);
    let by = each.date_required("by", "2027-03-01", notes);
    let at = each.entry("by").map_or(entry.key_span.clone(), Entry::place);
    let because = each.text("because", notes).map(str::to_owned);
    each.close(notes);
    let by = by.filter(|by| inside(*by, at, winter, notes));
    Wanted { by: score.zip(by), because, ..Wanted::default() }
}

/// Whether a day lies in the winter; an error if not. Its end, the turn-out day, may be meant.
fn inside(day: Date, at: Span, winter: Option<&Winter>, notes: &mut Notes) -> bool {
    let Some(winter) = winter.filter(|winter| winter.days_in(day) < 1 || winter.days_past(day) > 0) else {
        return true;
    };
    notes.push(
        Code::TargetDate
            .error(format!("the condition is wanted by {day}, which is not in this winter"))
            .at(at, format!("after {} and up to {}", winter.from, winter.to))
            .help("write a day of this winter"),
    );
    false
}

/// Scores by the end of months (`2026-12: 5.5`) or by days.
fn several(entry: &Entry, winter: Option<&Winter>, notes: &mut Notes) -> Wanted {
    let mut wanted = Wanted::default();
    let Kind::Map(entries) = &entry.value.kind else {
        notes.push(
            Code::WrongShape
                .error("`condition_path` is not a map of months and scores")
                .at(entry.place(), "a map belongs here")
                .help("write `condition_path: {2026-12: 5.5, 2027-02: 5}`"),
        );
        return wanted;
    };
    for each in entries {
        if each.key == "because" {
            wanted.because =
                super::values::scalar("because", &each.value, "a few words", notes).map(|(text, _)| text.to_owned());
            continue;
        }
        let Some(day) = end_of(&each.key, winter) else {
            notes.push(
                Code::NotDate
                    .error(format!("`{}` is neither a month nor a day", super::values::shortened(&each.key)))
                    .at(each.key_span.clone(), "a month or a day is expected")
                    .help("write `2026-12` for the end of December, or a day such as `2026-12-15`"),
            );
            continue;
        };
        let score = super::values::quantity(&each.key, &each.value, &SCORE.units[0], SCORE.range, notes);
        if inside(day, each.key_span.clone(), winter, notes)
            && let Some(score) = score
        {
            wanted.path.push((day, score));
        }
    }
    wanted.path.sort_by_key(|(day, _)| *day);
    wanted
}

/// The day a key of a path means: a day, or the day after a month; the last month ends with the winter.
fn end_of(key: &str, winter: Option<&Winter>) -> Option<Date> {
    let key = key.trim();
    if key.len() == 10 {
        return key.parse().ok();
    }
    let (year, month) = key.split_once('-')?;
    let first = Date::new(year.parse().ok()?, month.parse().ok()?, 1).ok()?;
    let after = first.checked_add(1.month()).ok()?;
    Some(match winter {
        Some(winter) if winter.to > first && winter.to < after => winter.to,
        _ => after,
    })
}

/// What a group loses by the path wanted, in scores.
#[derive(Debug, Default)]
struct Loss {
    before_calving: f64,
    last_days: f64,
    after_calving: f64,
    at_calving: Option<f64>,
}

fn loss(group: &Group, rule: &SafeLoss, winter: &Winter) -> Loss {
    let path = ConditionPath::of(group, winter.from);
    let mut loss = Loss::default();
    let days = winter.from.series(1.day()).take_while(|day| *day < winter.to);
    for day in days {
        let lost = (path.score_on(day) - path.score_on(day.tomorrow().unwrap_or(day))).max(0.0);
        let stage = Stage::on(group, day);
        let left = GESTATION_DAYS - stage.gestation_days;
        if group.calving == Some(day) || stage.since_calving_days == Some(0.0) {
            loss.at_calving = Some(path.score_on(day));
        }
        if stage.gestation_days > 0.0 && !stage.milking() {
            loss.before_calving += lost;
        }
        if stage.gestation_days > 0.0 && left <= rule.no_loss_days_before_calving {
            loss.last_days += lost;
        }
        // Bred again 85 days after calving for a calf every 365 days.
        if stage.since_calving_days.is_some_and(|since| since < CALVING_INTERVAL_DAYS - GESTATION_DAYS) {
            loss.after_calving += lost;
        }
    }
    // Calving after the winter: she calves as she leaves it, at best.
    if loss.at_calving.is_none() && group.calving.is_some_and(|calving| days_between(winter.to, calving) >= 0.0) {
        loss.at_calving = Some(path.score_on(winter.to));
    }
    loss
}

/// Judges the loss a group is planned to take by the safe-loss rules.
pub(crate) fn judge(group: &Group, what: &str, wanted: &Wanted, winter: Option<&Winter>, notes: &mut Notes) {
    let (Some(winter), Some(at)) = (winter, wanted.at.clone()) else { return };
    if group.calving.is_none() || !has_reserves(group) {
        return;
    }
    let id = match group.class {
        AnimalClass::Cow if group.condition >= 6.0 => "fleshy_cow",
        AnimalClass::Cow => "moderate_cow",
        _ => "heifer",
    };
    let Some(rule) = SAFE_LOSS.iter().find(|rule| rule.id == id) else { return };
    let loss = loss(group, rule, winter);
    // Less than this is no plan but rounding.
    let slack = 0.05;
    let score = |value: f64| figure((value * 100.0).round() / 100.0);
    let source = "safe-loss rule, from memory; ask your veterinarian";
    let mut never = Vec::new();
    if let Some(calves_at) = loss.at_calving.filter(|score| *score < rule.at_calving_least - slack)
        && loss.before_calving > slack
    {
        never.push(format!(
            "it would calve at score {}; no cow is planned down to less than {} at calving",
            score(calves_at),
            score(rule.at_calving_least)
        ));
    }
    if loss.after_calving > rule.calving_to_breeding_most + slack {
        never.push(format!(
            "it would lose {} between calving and breeding; the most is {}",
            score(loss.after_calving),
            score(rule.calving_to_breeding_most)
        ));
    }
    let told = !never.is_empty();
    for fault in never {
        notes.push(
            Code::UnsafeLoss
                .error(format!("{what} is planned to lose too much condition: {fault}"))
                .at(at.clone(), "too low or too fast")
                .because(format!("thin cows breed late or not at all ({source})"))
                .help("plan for a higher score, or for a later day"),
        );
    }
    if told {
        return;
    }
    let mut keep = Vec::new();
    if loss.last_days > slack {
        keep.push(format!(
            "it would lose {} in the last {:.0} days before calving; none is planned there",
            score(loss.last_days),
            rule.no_loss_days_before_calving
        ));
    }
    if loss.before_calving > rule.may_lose + slack {
        keep.push(format!(
            "it would lose {} before calving; a {} may lose {}",
            score(loss.before_calving),
            rule.who,
            if rule.may_lose > 0.0 { score(rule.may_lose) } else { "none".to_owned() }
        ));
    }
    for fault in keep {
        let message = format!("{what} is planned to lose condition: {fault}");
        notes.push(match &wanted.because {
            Some(because) => Code::UnsafeLoss
                .warning(message)
                .at(at.clone(), format!("because: {because}"))
                .because(source.to_owned())
                .help("score them again in a month, and feed the thin ones apart"),
            None => Code::UnsafeLoss
                .error(message)
                .at(at.clone(), "more than is safe")
                .because(source.to_owned())
                .help("plan for a higher score, or say why with `because:` beside it"),
        });
    }
}
