//! What growing cattle are fed toward: a gain, or a weight by a day.

use super::code::Code;
use super::fields::{Fields, Notes};
use super::groups::{exclusive, misfit};
use super::measure::{GAIN, WEIGHT};
use super::node::Entry;
use super::winter::Winter;
use crate::diagnostic::Span;
use crate::herd::AnimalClass;
use crate::need::growth::FIRST_CALVING;
use crate::quantity::{KG_PER_LB, lb_from_kg};
use jiff::civil::Date;

/// Fastest shrunk gain that can be meant, kg a day. Judgement.
const FASTEST_KG: f64 = 2.0;
/// Gain beyond which a target of the kind is more likely a slip than a plan, kg a day (2 lb). Judgement.
const UNLIKELY_KG: f64 = 2.0 * KG_PER_LB;
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
    /// Share of mature weight wanted at first breeding.
    pub(crate) breeding_share: f64,
    /// When a bred heifer calves.
    pub(crate) calving: Option<Date>,
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
    let breeding = breeding(fields, animal, gain_entry.or(weight_entry), winter, notes);
    let asks = matches!(class, AnimalClass::Stocker | AnimalClass::ReplacementHeifer | AnimalClass::YoungBull);
    if asks && weight_entry.is_none() && breeding.is_none() && !fields.has(&GAIN) && !fields.present("breeding") {
        notes.push(
            Code::NoGain
                .error(format!("{} has no gain to be fed for", fields.what()))
                .at(fields.place(), format!("a {} grows", class.name()))
                .help("add `gain_lb_per_day: 1.0`, or `weight_wanted: {weight_lb: 750, by: 2027-04-01}`"),
        );
    }
    let gain = fields.number(&GAIN, notes);
    if class == AnimalClass::BredHeifer && gain_entry.is_none() && weight_entry.is_none() {
        heifer_target(fields, animal, winter, notes);
    }
    (gain, weight_entry.and_then(|entry| weight(entry, animal, winter, notes)).or(breeding))
}

/// Reads `breeding`: the weight wanted is then the share of mature weight that heifers breed at, by that day.
fn breeding(
    fields: &mut Fields<'_>,
    animal: &Animal,
    other: Option<&Entry>,
    winter: Option<&Winter>,
    notes: &mut Notes,
) -> Option<(f64, Date)> {
    let entry = fields.entry("breeding")?;
    if animal.class != AnimalClass::ReplacementHeifer {
        misfit(entry, animal.class, "the day of first breeding is for replacement heifers", notes);
        return None;
    }
    if let Some(other) = other {
        notes.push(exclusive(other, entry));
        return None;
    }
    let by = fields.date("breeding", notes)?;
    let mature = animal.mature_weight_kg?;
    let wanted = animal.breeding_share * mature;
    let words = format!("breeding weight is {:.0} % of {:.0} lb", 100.0 * animal.breeding_share, lb_from_kg(mature));
    Judged { by, by_at: entry.place(), weight_at: entry.place(), words: &words }.judge(wanted, animal, winter, notes)
}

/// Warns of a target of bred heifers that no heifer makes.
fn heifer_target(fields: &Fields<'_>, animal: &Animal, winter: Option<&Winter>, notes: &mut Notes) {
    let (Some(winter), Some(calving), Some(weight), Some(mature)) =
        (winter, animal.calving, animal.weight_kg, animal.mature_weight_kg)
    else {
        return;
    };
    let days = winter.days_in(calving);
    let missing = FIRST_CALVING * mature - weight;
    if days < 1 || missing / f64::from(days) <= UNLIKELY_KG {
        return;
    }
    notes.push(
        Code::UnlikelyGain
            .warning(format!(
                "{} would have to gain {:.1} lb a day to calve at {:.0} lb",
                fields.what(),
                lb_from_kg(missing) / f64::from(days),
                lb_from_kg(FIRST_CALVING * mature)
            ))
            .at(fields.place(), format!("{:.0} % of mature weight at calving is the target", 100.0 * FIRST_CALVING))
            .because("few rations make it, and late in calf a heifer eats less than the equations say (judgement)")
            .help("check the weights and the calving date, or set a gain of your own with `gain_lb_per_day`"),
    );
}

fn weight(entry: &Entry, animal: &Animal, winter: Option<&Winter>, notes: &mut Notes) -> Option<(f64, Date)> {
    let mut each = Fields::open(&entry.value, "`weight_wanted`", entry.key_span.clone(), notes)?;
    let wanted = each.number_required(&WEIGHT, "750", notes);
    let weight_at = each.measured(&WEIGHT, notes).map_or(entry.key_span.clone(), |(entry, _)| entry.place());
    let by = each.date_required("by", "2027-04-01", notes);
    let by_at = each.entry("by").map_or(entry.key_span.clone(), Entry::place);
    each.close(notes);
    Judged { by: by?, by_at, weight_at, words: "" }.judge(wanted?, animal, winter, notes)
}

/// A weight wanted by a day, and where both are written.
struct Judged<'a> {
    by: Date,
    by_at: Span,
    weight_at: Span,
    words: &'a str,
}

impl Judged<'_> {
    fn judge(self, wanted: f64, animal: &Animal, winter: Option<&Winter>, notes: &mut Notes) -> Option<(f64, Date)> {
        let Self { by, by_at, weight_at, words: because } = self;
        let winter = winter?;
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
        let error = Code::TargetWeight
            .error(format!("a weight of {:.0} lb by {by} cannot be meant", lb_from_kg(wanted)))
            .at(weight_at, fault)
            .help("correct the weight or the date");
        notes.push(if because.is_empty() { error } else { error.because(because) });
        None
    }
}
