//! What a group is fed toward: a condition score, a gain, a weight.

use super::code::Code;
use super::fields::{Fields, Notes};
use super::groups::{exclusive, misfit};
use super::measure::{GAIN, SCORE, WEIGHT};
use super::node::Entry;
use super::winter::Winter;
use crate::herd::AnimalClass;
use crate::quantity::lb_from_kg;
use jiff::civil::Date;

/// Fastest shrunk gain that can be meant, kg a day. Judgement.
const FASTEST_KG: f64 = 2.0;
/// Farthest target date past the first day of the winter, days.
const FARTHEST_DAYS: i32 = 700;

/// What is known of the animal so far.
pub(crate) struct Animal {
    /// Class.
    pub(crate) class: AnimalClass,
    /// Weight now, kg.
    pub(crate) weight_kg: Option<f64>,
    /// Mature weight, kg.
    pub(crate) mature_weight_kg: Option<f64>,
}

/// Reads `condition_wanted`.
pub(crate) fn condition(fields: &mut Fields<'_>, winter: Option<&Winter>, notes: &mut Notes) -> Option<(f64, Date)> {
    let entry = fields.entry("condition_wanted")?;
    let mut each = Fields::open(&entry.value, "`condition_wanted`", entry.key_span.clone(), notes)?;
    let score = each.number_required(&SCORE, "5", notes);
    let by = each.date_required("by", "2027-03-01", notes);
    let at = each.entry("by").map_or(entry.key_span.clone(), Entry::place);
    each.close(notes);
    let (score, by) = (score?, by?);
    if let Some(winter) = winter.filter(|winter| winter.days_in(by) < 1 || winter.days_past(by) > 0) {
        notes.push(
            Code::TargetDate
                .error(format!("the condition is wanted by {by}, which is not in this winter"))
                .at(at, format!("after {} and up to {}", winter.from, winter.to))
                .help("write a day of this winter"),
        );
        return None;
    }
    Some((score, by))
}

/// Reads the gain and the weight wanted, of which growing cattle without a target of their class need one.
pub(crate) fn gain(
    fields: &mut Fields<'_>,
    animal: &Animal,
    winter: Option<&Winter>,
    notes: &mut Notes,
) -> (Option<f64>, Option<(f64, Date)>) {
    let class = animal.class;
    let gain_entry = fields.measured(&GAIN, notes).map(|(entry, _)| entry);
    let weight_entry = fields.entry("weight_wanted");
    if !class.grows() {
        for entry in [gain_entry, weight_entry].into_iter().flatten() {
            misfit(entry, class, "grown cattle are fed to a condition, not to a gain", notes);
        }
        return (None, None);
    }
    if let (Some(first), Some(second)) = (gain_entry, weight_entry) {
        notes.push(exclusive(first, second));
    }
    let asks = matches!(class, AnimalClass::Stocker | AnimalClass::ReplacementHeifer | AnimalClass::YoungBull);
    if asks && weight_entry.is_none() && !fields.has(&GAIN) {
        notes.push(
            Code::NoGain
                .error(format!("{} has no gain to be fed for", fields.what()))
                .at(fields.place(), format!("a {} grows", class.name()))
                .help("add `gain_lb_per_day: 1.0`, or `weight_wanted: {weight_lb: 750, by: 2027-04-01}`"),
        );
    }
    let gain = fields.number(&GAIN, notes);
    (gain, weight_entry.and_then(|entry| weight(entry, animal, winter, notes)))
}

fn weight(entry: &Entry, animal: &Animal, winter: Option<&Winter>, notes: &mut Notes) -> Option<(f64, Date)> {
    let mut each = Fields::open(&entry.value, "`weight_wanted`", entry.key_span.clone(), notes)?;
    let wanted = each.number_required(&WEIGHT, "750", notes);
    let weight_at = each.measured(&WEIGHT, notes).map_or(entry.key_span.clone(), |(entry, _)| entry.place());
    let by = each.date_required("by", "2027-04-01", notes);
    let by_at = each.entry("by").map_or(entry.key_span.clone(), Entry::place);
    each.close(notes);
    let (wanted, by, winter) = (wanted?, by?, winter?);
    let days = winter.days_in(by);
    if !(1..=FARTHEST_DAYS).contains(&days) {
        let words = if days < 1 { "not after" } else { "long after" };
        notes.push(
            Code::TargetDate
                .error(format!("the weight is wanted by {by}, {words} this winter begins on {}", winter.from))
                .at(by_at, format!("1 to {FARTHEST_DAYS} days after the first day of this winter"))
                .help("check the year"),
        );
        return None;
    }
    let (now, mature) = (animal.weight_kg?, animal.mature_weight_kg?);
    let daily = (wanted - now) / f64::from(days);
    let fault = if wanted < now {
        format!("it is below the weight now, {:.0} lb", lb_from_kg(now))
    } else if wanted > mature {
        format!("it is above the mature weight, {:.0} lb", lb_from_kg(mature))
    } else if daily > FASTEST_KG {
        format!("it asks for {:.1} lb a day", lb_from_kg(daily))
    } else {
        return Some((wanted, by));
    };
    notes.push(
        Code::TargetWeight
            .error(format!("a weight of {:.0} lb by {by} cannot be meant", lb_from_kg(wanted)))
            .at(weight_at, fault)
            .help("correct the weight or the date"),
    );
    None
}
