//! The groups of cattle.

use super::code::Code;
use super::condition;
use super::fields::{Fields, Notes};
use super::measure::{
    ACTIVITY, BASE_INTAKE, BASE_INTAKE_DRY, BASE_INTAKE_MILKING, BIRTH_WEIGHT, BREED_FACTOR, CONDITION, HEAD,
    MATURE_WEIGHT, MILK_FAT, MILK_PROTEIN, MILK_SNF, Measure, PEAK_MILK, WATER_SULFATE, WATER_SULFUR, WEANING, WEIGHT,
};
use super::node::{Entry, Kind};
use super::place::COATS;
use super::target;
use super::values::name;
use super::winter::Winter;
use crate::diagnostic::{Diagnostic, Span};
use crate::feed::{FeedClass, Offer};
use crate::herd::{AnimalClass, Group, Hide, Sex};
use crate::limit::barred::CALF_LEAST_LB;
use crate::need::breed::{self, Breed};
use crate::need::{growth, lactation};
use crate::quantity::kg_from_lb;
use jiff::civil::Date;

/// Condition score where none is given: moderate. Judgement.
const USUAL_CONDITION: f64 = 5.0;
/// Peak milk of a grown cow where none is given, lb: the level of the commonest printed table for 1200-lb cows.
const USUAL_PEAK_MILK_LB: f64 = 20.0;
/// Age of a cow with her first calf, years.
const FIRST_CALF_AGE: u32 = 2;
/// Length of lactation where no weaning age is given, days: 30 weeks.
const USUAL_WEANING_DAYS: f64 = 210.0;
/// Water a cow drinks on a winter day, liters (12 gallons). Judgement; turns sulfate into grams of sulfur.
const WATER_LITERS: f64 = 45.0;
/// Sulfur in sulfate, by weight (32.06 / 96.06).
const SULFUR_IN_SULFATE: f64 = 0.334;
/// Farthest calving from the winter, days.
const CALVING_DAYS: i32 = 300;

/// Words for hides.
pub(crate) const HIDES: [(&str, Hide); 3] = [("thin", Hide::Thin), ("average", Hide::Average), ("thick", Hide::Thick)];
/// Words for the sex of stockers.
pub(crate) const SEXES: [(&str, Sex); 2] = [("steer", Sex::Steer), ("heifer", Sex::Female)];

/// Names of all groups, and the groups if every one of them could be read.
pub(crate) fn read(
    entry: &Entry,
    winter: Option<&Winter>,
    notes: &mut Notes,
) -> (Option<Vec<String>>, Option<Vec<Group>>) {
    let Some(entries) = super::values::map_or_nothing(entry, "`groups`", notes) else {
        return (None, None);
    };
    if entries.is_empty() {
        notes.push(
            Code::NoGroups
                .error("there is no group of cattle")
                .at(entry.key_span.clone(), "nothing under it")
                .help("add a group, such as `cows: {kind: cow, head: 85, weight_lb: 1200}`"),
        );
    }
    let names = entries.iter().filter_map(|entry| name(entry, "group", notes)).collect();
    let groups: Vec<Option<Group>> = entries.iter().map(|entry| group(entry, winter, notes)).collect();
    (Some(names), groups.into_iter().collect())
}

/// One group.
fn group(entry: &Entry, winter: Option<&Winter>, notes: &mut Notes) -> Option<Group> {
    let what = format!("group `{}`", super::values::shortened(&entry.key));
    let mut fields = Fields::open(&entry.value, what, entry.key_span.clone(), notes)?;
    let kind = fields.required("kind", "cow", notes);
    if let Some(at) = kind.filter(|kind| is_young_calf(kind)).map(Entry::place) {
        notes.push(young_calves(fields.what(), at));
        return None;
    }
    let class = kind.and_then(|kind| super::values::choice("kind", &kind.value, &kinds(), notes));
    let head = fields.whole(&HEAD, "85", notes);
    let weight_kg = fields.number_required(&WEIGHT, "1200", notes);
    // Without the kind nothing can be said of the other keys, not even that they are unknown.
    let class = class?;
    let sex = sex(&mut fields, class, notes);
    let mature_weight_kg = mature_weight(&mut fields, class, weight_kg, notes);
    let condition = fields.number(&CONDITION, notes).unwrap_or(USUAL_CONDITION);
    let wanted = condition::read(&mut fields, class, winter, notes);
    let calving = calving(&mut fields, class, winter, notes);
    let milk = milk(&mut fields, class, notes);
    let (gain_kg_per_day, weight_wanted_kg) = target::gain(
        &mut fields,
        &target::Animal { class, weight_kg, mature_weight_kg, breeding_share: milk.breeding_share, calving },
        winter,
        notes,
    );
    let under_a_year = fields.flag("under_a_year", notes).unwrap_or(false);
    if let Some(entry) = fields.entry("under_a_year").filter(|_| !class.grows()) {
        misfit(entry, class, "only growing cattle are so young", notes);
    }
    let turnout = turnout(&mut fields, class, winter, notes);
    let activity_share = fields.number(&ACTIVITY, notes).unwrap_or(0.0) / 100.0;
    let coat = fields.choice("coat", &COATS, notes).unwrap_or_default();
    let hide = fields.choice("hide", &HIDES, notes).unwrap_or_default();
    let limit_fed = fields.flag("limit_fed", notes).unwrap_or(false);
    let water_sulfur_g = water_sulfur(&mut fields, notes);
    let base_intake_pct = base_intake(&mut fields, notes);
    let weighed = ["weight_lb", "weight_kg"].into_iter().find_map(|key| fields.entry(key));
    let at = weighed.map_or(fields.place(), Entry::place);
    let what = fields.what().to_owned();
    let kind_at = kind.map_or(fields.place(), Entry::place);
    fields.close(notes);
    light(class, weight_kg, &what, at, notes);
    uncalved(class, weight_kg.zip(mature_weight_kg), calving.zip(winter), (&what, kind_at), notes);
    let group = Group {
        name: entry.key.trim().to_owned(),
        class,
        sex,
        head: head?,
        weight_kg: weight_kg?,
        mature_weight_kg: mature_weight_kg?,
        condition,
        condition_wanted: wanted.by,
        condition_path: wanted.path.clone(),
        calving,
        peak_milk_kg: milk.peak_kg,
        milk_composition_pct: milk.composition_pct,
        weaning_days: milk.weaning_days,
        calf_birth_weight_kg: milk.birth_kg,
        breed_factor: milk.breed_factor,
        gain_kg_per_day,
        weight_wanted_kg,
        under_a_year,
        turnout,
        activity_share,
        coat,
        hide,
        limit_fed,
        water_sulfur_g,
        base_intake_pct,
    };
    condition::judge(&group, &what, &wanted, winter, notes);
    Some(group)
}

/// Warns of cattle so light that they may be calves under four months.
fn light(class: AnimalClass, weight_kg: Option<f64>, what: &str, at: Span, notes: &mut Notes) {
    let weight = weight_kg.map(crate::quantity::lb_from_kg).filter(|lb| *lb < CALF_LEAST_LB);
    if let Some(lb) = weight.filter(|_| class.grows()) {
        notes.push(
            Code::YoungCalf
                .warning(format!("{what} weighs {lb:.0} lb and may be calves under four months"))
                .at(at, "as light as calves of three months")
                .because("such calves are not ruminants yet: under 250 lb no cottonseed feed and no urea is given here")
                .help("correct the weight; if they are so young, delete the group and leave them with their dams"),
        );
    }
}

/// Warns of a first-calf cow that has most likely not calved yet.
fn uncalved(
    class: AnimalClass,
    weights: Option<(f64, f64)>,
    calving: Option<(Date, &Winter)>,
    (what, at): (&str, Span),
    notes: &mut Notes,
) {
    let (Some((weight, mature)), Some((day, winter))) = (weights, calving) else { return };
    let share = weight / mature;
    if class == AnimalClass::FirstCalfCow && winter.days_in(day) > 0 && share < growth::FIRST_CALVING {
        notes.push(
            Code::Uncalved
                .warning(format!(
                    "{what} is to calve on {day} at {:.0} % of mature weight, which is a heifer's first calf",
                    100.0 * share
                ))
                .at(at, "a cow that has had her first calf")
                .because("a cow is fed to grow from 85 to 92 % of mature weight until her next calf; a heifer must reach 85 % by her first")
                .help("write `kind: bred_heifer` if she has not calved yet"),
        );
    }
}

/// The kinds a ration is made for.
pub(crate) fn kinds() -> Vec<(&'static str, AnimalClass)> {
    let fed = AnimalClass::ALL.into_iter().filter(|class| *class != AnimalClass::YoungCalf);
    fed.map(|class| (class.key(), class)).collect()
}

fn is_young_calf(kind: &Entry) -> bool {
    matches!(&kind.value.kind, Kind::Scalar { text, .. } if text == AnimalClass::YoungCalf.key() || text == "calf")
}

fn young_calves(what: &str, at: Span) -> Diagnostic {
    Code::YoungCalf
        .error(format!("{what} is of calves under four months; no ration is made for them"))
        .at(at, "they stay with their dams")
        .because("they are not ruminants yet: no whole cottonseed and no other source of gossypol for them")
        .help("delete the group, and give the dams their `calving` date and `peak_milk_lb`")
}

fn sex(fields: &mut Fields<'_>, class: AnimalClass, notes: &mut Notes) -> Sex {
    let given = fields.choice("sex", &SEXES, notes);
    if class == AnimalClass::Stocker {
        given.unwrap_or(Sex::Steer)
    } else {
        if let Some(entry) = fields.entry("sex") {
            misfit(entry, class, "the kind says it already", notes);
        }
        if matches!(class, AnimalClass::YoungBull | AnimalClass::Bull) { Sex::Bull } else { Sex::Female }
    }
}

/// An error for a key that does not fit the kind of cattle.
pub(super) fn misfit(entry: &Entry, class: AnimalClass, words: &str, notes: &mut Notes) {
    notes.push(
        Code::WrongClass
            .error(format!("`{}` does not fit a {}", entry.key, class.name()))
            .at(entry.key_span.clone(), words)
            .help(format!("delete `{}`, or correct `kind`", entry.key)),
    );
}

fn mature_weight(fields: &mut Fields<'_>, class: AnimalClass, weight: Option<f64>, notes: &mut Notes) -> Option<f64> {
    if !class.grows() {
        return fields.number(&MATURE_WEIGHT, notes).or(weight);
    }
    let mature = fields.number_required(&MATURE_WEIGHT, "1200", notes)?;
    if let Some(weight) = weight.filter(|weight| *weight >= mature) {
        let at = fields.measured(&MATURE_WEIGHT, notes).map_or(fields.place(), |(entry, _)| entry.place());
        notes.push(
            Code::AboveMature
                .error(format!(
                    "{} weighs {:.0} lb, not below its mature weight of {:.0} lb",
                    fields.what(),
                    crate::quantity::lb_from_kg(weight),
                    crate::quantity::lb_from_kg(mature)
                ))
                .at(at, format!("a {} is still growing", class.name()))
                .help("correct one of the weights, or write a grown kind"),
        );
        return None;
    }
    Some(mature)
}

fn calving(fields: &mut Fields<'_>, class: AnimalClass, winter: Option<&Winter>, notes: &mut Notes) -> Option<Date> {
    let entry = fields.entry("calving");
    if !class.calves() {
        if let Some(entry) = entry {
            misfit(entry, class, "only cows and bred heifers calve", notes);
        }
        return None;
    }
    let Some(entry) = entry else {
        if class == AnimalClass::BredHeifer {
            notes.push(fields.missing("calving", "2027-02-15"));
        } else {
            notes.push(
                Code::Open
                    .warning(format!("{} has no calving date and is counted as open", fields.what()))
                    .at(fields.place(), "no calf, no milk")
                    .because("nothing is then added for a calf or for milk")
                    .help("add `calving: 2027-03-01` with your date, or `calving: open` if that is right"),
            );
        }
        return None;
    };
    if matches!(&entry.value.kind, Kind::Scalar { text, .. } if matches!(text.as_str(), "open" | "none")) {
        if class == AnimalClass::BredHeifer {
            notes.push(
                Code::WrongClass
                    .error("bred heifers cannot be open")
                    .at(entry.place(), "no calf is due")
                    .help("write `kind: replacement_heifer`, with a gain, for open heifers, or the calving date"),
            );
        }
        return None;
    }
    let day = fields.date("calving", notes)?;
    let winter = winter?;
    let (before, after) = (-winter.days_in(day), winter.days_past(day));
    if before <= CALVING_DAYS && after <= CALVING_DAYS {
        return Some(day);
    }
    let (days, side) = if before > 0 { (before, "before") } else { (after, "after") };
    notes.push(
        Code::CalvingFar
            .error(format!("calving on {day} is {days} days {side} this winter"))
            .at(entry.place(), format!("at most {CALVING_DAYS} days before or after it"))
            .help("write the calving date nearest this winter; check the year"),
    );
    None
}

fn turnout(fields: &mut Fields<'_>, class: AnimalClass, winter: Option<&Winter>, notes: &mut Notes) -> Option<Date> {
    let entry = fields.entry("turnout")?;
    if !matches!(class, AnimalClass::Bull | AnimalClass::YoungBull) {
        misfit(entry, class, "turn-out with the cows is for bulls", notes);
        return None;
    }
    let day = fields.date("turnout", notes)?;
    let winter = winter?;
    let words = if winter.days_in(day) < 0 {
        format!("before this winter begins on {}", winter.from)
    } else if winter.days_past(day) > CALVING_DAYS {
        format!("more than {CALVING_DAYS} days after this winter")
    } else {
        return Some(day);
    };
    notes.push(
        Code::TargetDate
            .error(format!("turn-out on {day} is {words}"))
            .at(entry.place(), format!("after {} and at most {CALVING_DAYS} days after the winter", winter.from))
            .help("write the turn-out that follows; check the year"),
    );
    None
}

/// Warns of bulls that may get cottonseed feeds and have no turn-out date, before which these are kept from them.
pub(super) fn bulls_without_turnout(entry: Option<&Entry>, groups: &[Group], offers: &[Offer], notes: &mut Notes) {
    let Some(Kind::Map(entries)) = entry.map(|entry| &entry.value.kind) else { return };
    for group in groups {
        let young = match group.class {
            AnimalClass::YoungBull => true,
            AnimalClass::Bull => false,
            _ => continue,
        };
        let kept_back = |offer: &&Offer| {
            let gets = offer.bounds_for(&group.name).max.is_none_or(|most| most.0 > 0.0);
            let class = offer.feed.class;
            gets && (class == FeedClass::CottonseedMeal || young && class == FeedClass::WholeCottonseed)
        };
        let Some(first) = offers.iter().find(kept_back).filter(|_| group.turnout.is_none()) else { continue };
        let at = entries.iter().find(|one| one.key.trim() == group.name).map_or(0..0, |one| one.key_span.clone());
        notes.push(
            Code::NoTurnout
                .warning(format!("group `{}` may get `{}` and has no `turnout`", group.name, first.feed_name()))
                .at(at, "nothing is kept from them before turn-out")
                .because("gossypol harms the semen of bulls: 60 to 90 days before turn-out untested seed and direct-solvent meal stop")
                .help("add a line such as `turnout: 2027-05-15`, or leave the group out of the feed's `groups`"),
        );
    }
}

/// Milk, calf and breed.
struct Milk {
    peak_kg: f64,
    composition_pct: (f64, f64, f64),
    weaning_days: f64,
    birth_kg: f64,
    breed_factor: f64,
    breeding_share: f64,
}

/// The breed, or two of them for a cross: the mean of the parents.
fn breed(fields: &mut Fields<'_>, notes: &mut Notes) -> Option<Breed> {
    let breeds: Vec<(&str, Breed)> = breed::LIST.iter().map(|one| (one.key, *one)).collect();
    let entry = fields.entry("breed")?;
    let Kind::List(parents) = &entry.value.kind else {
        return fields.choice("breed", &breeds, notes);
    };
    let mut of = |node| super::values::choice("breed", node, &breeds, notes);
    if let [one, other] = parents.as_slice() {
        let (one, other) = (of(one), of(other));
        return Some(breed::cross(&one?, &other?));
    }
    notes.push(
        Code::WrongShape
            .error("a cross has two parents")
            .at(entry.place(), "two breeds belong here")
            .help("write `breed: [angus, brahman]`, or one breed"),
    );
    None
}

fn milk(fields: &mut Fields<'_>, class: AnimalClass, notes: &mut Notes) -> Milk {
    let breed = breed(fields, notes);
    let breed_factor = fields.number(&BREED_FACTOR, notes).or(breed.map(|breed| breed.maintenance_factor));
    let first_calf = if class == AnimalClass::Cow { 1.0 } else { lactation::age_factor(FIRST_CALF_AGE) };
    let grown_peak = breed.and_then(|breed| breed.peak_milk_kg).unwrap_or(kg_from_lb(USUAL_PEAK_MILK_LB));
    let mut own = |measure: &Measure, notes: &mut Notes| {
        let given = fields.measured(measure, notes).map(|(entry, _)| entry);
        if let Some(entry) = given.filter(|_| !class.calves()) {
            misfit(entry, class, "it has no milk and no calf", notes);
            return None;
        }
        fields.number(measure, notes)
    };
    let peak = own(&PEAK_MILK, notes);
    let (fat, snf, protein) = lactation::TABLE_MILK_PCT;
    let composition_pct = (
        own(&MILK_FAT, notes).unwrap_or(fat),
        own(&MILK_SNF, notes).unwrap_or(snf),
        own(&MILK_PROTEIN, notes).unwrap_or(protein),
    );
    let weaning_days = own(&WEANING, notes).unwrap_or(USUAL_WEANING_DAYS);
    let usual_birth = breed.and_then(|breed| breed.birth_weight_kg).unwrap_or(breed::BIRTH_WEIGHT_KG);
    let birth_kg = own(&BIRTH_WEIGHT, notes).unwrap_or(usual_birth);
    let peak_kg = if class.calves() { peak.unwrap_or(grown_peak * first_calf) } else { 0.0 };
    Milk {
        peak_kg,
        composition_pct,
        weaning_days,
        birth_kg,
        breed_factor: breed_factor.unwrap_or(1.0),
        breeding_share: breed.map_or(growth::BREEDING_TAURUS, |breed| breed.breeding_share),
    }
}

fn water_sulfur(fields: &mut Fields<'_>, notes: &mut Notes) -> f64 {
    let sulfate = fields.number(&WATER_SULFATE, notes);
    let sulfur = fields.number(&WATER_SULFUR, notes);
    if let (Some(_), Some(_), Some(first), Some(second)) =
        (sulfate, sulfur, fields.entry("water_sulfate_ppm"), fields.entry("water_sulfur_g"))
    {
        notes.push(exclusive(first, second));
    }
    sulfur.or(sulfate.map(|ppm| ppm * WATER_LITERS / 1000.0 * SULFUR_IN_SULFATE)).unwrap_or(0.0)
}

/// An error for two keys that exclude each other.
pub(super) fn exclusive(first: &Entry, second: &Entry) -> Diagnostic {
    Code::Exclusive
        .error(format!("`{}` and `{}` exclude each other", first.key, second.key))
        .at(second.key_span.clone(), "and here")
        .and_at(first.key_span.clone(), "here")
        .help("keep one of the two")
}

fn base_intake(fields: &mut Fields<'_>, notes: &mut Notes) -> Option<(f64, f64)> {
    let entry = fields.entry("base_intake_pct")?;
    if !matches!(entry.value.kind, Kind::Map(_)) {
        return fields.number(&BASE_INTAKE, notes).map(|value| (value, value));
    }
    let mut each = Fields::open(&entry.value, "`base_intake_pct`", entry.key_span.clone(), notes)?;
    let dry = each.number_required(&BASE_INTAKE_DRY, "1.8", notes);
    let milking = each.number_required(&BASE_INTAKE_MILKING, "2.2", notes);
    each.close(notes);
    Some((dry?, milking?))
}
