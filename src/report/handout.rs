//! Tables of needs without a herd file: the year by months since calving, heifers by months to calving, growing cattle by
//! weight and gain, bulls by weight.

use super::needs::{GroupNeeds, NeedsTable, row};
use crate::herd::stage::GESTATION_DAYS;
use crate::herd::{AnimalClass, Coat, Group, Hide, Sex, Stage};
use crate::limit::figure_text;
use crate::need::breed::{self, Breed};
use crate::need::daily::{needs_at, needs_in_month};
use crate::need::moment::Moment;
use crate::need::{growth, lactation};
use crate::quantity::{DAYS_PER_MONTH, kg_from_lb, lb_from_kg};

/// Peak milk of a grown cow where none is given, lb: the level of the commonest printed table.
const USUAL_PEAK_MILK_LB: f64 = 20.0;
/// Weight of a grown cow where none is given, lb: the same table.
const USUAL_COW_LB: f64 = 1200.0;
/// Mature weight of bulls against cows of their kind where none is given. Judgement, near the 1800 to 1925 lb that fit
/// the printed bull table.
const BULL_TO_COW: f64 = 1.6;

/// What a table is asked for; what is not given has a usual value, named in the table.
#[derive(Debug, Clone, Default)]
pub struct HandoutWish {
    /// Weights, lb: of the cow; of the bred heifer at breeding; of growing cattle and bulls, one table row each.
    pub weight_lb: Vec<f64>,
    /// Peak milk, lb.
    pub milk_lb: Option<f64>,
    /// Mature weight, lb.
    pub mature_weight_lb: Option<f64>,
    /// Gains of growing cattle, lb a day.
    pub gain_lb: Vec<f64>,
    /// Breed.
    pub breed: Option<Breed>,
    /// Condition score; 5 if not given.
    pub condition: Option<f64>,
    /// Growing cattle over a year old: the yearling intake equation.
    pub yearling: bool,
    /// Words and labels in kilograms.
    pub metric: bool,
}

impl HandoutWish {
    /// A weight in words.
    fn weight_words(&self, lb: f64) -> String {
        if self.metric {
            format!("{} kg", figure_text(kg_from_lb(lb), 0))
        } else {
            format!("{} lb", figure_text(lb, 0))
        }
    }

    /// Milk in words: whole figures without a point.
    fn milk_words(&self, lb: f64) -> String {
        let (value, unit) = if self.metric { (kg_from_lb(lb), "kg") } else { (lb, "lb") };
        format!("{} {unit}", figure_text(value, usize::from((value - value.round()).abs() > 0.05)))
    }

    /// What of the wish says nothing for a class, as a flag of the command line.
    fn idle(&self, class: AnimalClass) -> Option<(&'static str, &'static str)> {
        let milks = matches!(class, AnimalClass::Cow | AnimalClass::FirstCalfCow);
        let grows = matches!(class, AnimalClass::ReplacementHeifer | AnimalClass::Stocker | AnimalClass::YoungBull);
        if self.milk_lb.is_some() && !milks {
            Some(("--milk-lb", "cow or first_calf_cow"))
        } else if !self.gain_lb.is_empty() && !grows {
            Some(("--gain-lb", "stocker, replacement_heifer or young_bull"))
        } else if self.yearling && !grows {
            Some(("--yearling", "stocker, replacement_heifer or young_bull"))
        } else {
            None
        }
    }
}

/// A table of needs for one class.
///
/// # Errors
/// Why no table can be made of the wish, in words for people.
pub fn of(class: AnimalClass, wish: &HandoutWish) -> Result<NeedsTable, String> {
    for weight in &wish.weight_lb {
        if !(60.0..=3000.0).contains(weight) {
            return Err(format!("a weight of {weight} lb cannot be meant; write 60 to 3000"));
        }
    }
    if let Some((flag, of)) = wish.idle(class) {
        return Err(format!("`{flag}` says nothing of a {}; it belongs to the table of {of}", class.name()));
    }
    let groups = match class {
        AnimalClass::Cow | AnimalClass::FirstCalfCow => cows(class, wish),
        AnimalClass::BredHeifer => bred_heifers(wish)?,
        AnimalClass::ReplacementHeifer | AnimalClass::Stocker | AnimalClass::YoungBull => growing(class, wish)?,
        AnimalClass::Bull => bulls(wish),
        AnimalClass::YoungCalf => {
            return Err(
                "calves under four months stay with their dams and get no ration; print the cow's table".to_owned()
            );
        }
    };
    Ok(NeedsTable { place: String::new(), weather: "no weather".to_owned(), groups })
}

fn group(class: AnimalClass, weight_lb: f64, mature_lb: f64, wish: &HandoutWish) -> Group {
    let breed = wish.breed;
    let bull = matches!(class, AnimalClass::YoungBull | AnimalClass::Bull);
    Group {
        name: String::new(),
        class,
        sex: if bull { Sex::Bull } else { Sex::default() },
        head: 1,
        weight_kg: kg_from_lb(weight_lb),
        mature_weight_kg: kg_from_lb(mature_lb),
        condition: wish.condition.unwrap_or(5.0),
        condition_wanted: None,
        condition_path: Vec::new(),
        calving: None,
        peak_milk_kg: kg_from_lb(peak_milk_lb(class, wish)),
        milk_composition_pct: lactation::TABLE_MILK_PCT,
        weaning_days: 7.0 * lactation::WEEKS,
        calf_birth_weight_kg: breed.and_then(|breed| breed.birth_weight_kg).unwrap_or(breed::BIRTH_WEIGHT_KG),
        breed_factor: breed.map_or(1.0, |breed| breed.maintenance_factor),
        gain_kg_per_day: None,
        weight_wanted_kg: None,
        under_a_year: !wish.yearling,
        turnout: None,
        activity_share: 0.0,
        coat: Coat::Dry,
        hide: Hide::Average,
        limit_fed: false,
        water_sulfur_g: 0.0,
        base_intake_pct: None,
    }
}

fn peak_milk_lb(class: AnimalClass, wish: &HandoutWish) -> f64 {
    if !class.calves() {
        return 0.0;
    }
    wish.milk_lb.unwrap_or_else(|| {
        let grown = wish.breed.and_then(|breed| breed.peak_milk_kg).map_or(USUAL_PEAK_MILK_LB, lb_from_kg);
        if class == AnimalClass::Cow { grown } else { grown * lactation::age_factor(2) }
    })
}

fn named(class: AnimalClass, words: &str, wish: &HandoutWish) -> String {
    let breed = wish.breed.map_or(String::new(), |breed| format!(", {}", breed.key.replace('_', " ")));
    format!("{}{words}{breed}, condition {}", class.name(), figure_text(wish.condition.unwrap_or(5.0), 1))
}

fn cows(class: AnimalClass, wish: &HandoutWish) -> Vec<GroupNeeds> {
    let young = class == AnimalClass::FirstCalfCow;
    let mature_of =
        |weight: f64| wish.mature_weight_lb.unwrap_or(if young { weight / growth::FIRST_CALVING } else { weight });
    let usual = if young {
        growth::FIRST_CALVING * wish.mature_weight_lb.unwrap_or(USUAL_COW_LB)
    } else {
        wish.mature_weight_lb.unwrap_or(USUAL_COW_LB)
    };
    let weights = if wish.weight_lb.is_empty() { vec![usual] } else { wish.weight_lb.clone() };
    weights
        .into_iter()
        .map(|weight| {
            let mature = mature_of(weight);
            let start = group(class, weight, mature, wish);
            let gain = if young { growth::first_calf_gain_kg(start.mature_weight_kg) } else { 0.0 };
            let periods = (1..=12)
                .map(|month| {
                    let grown = gain * DAYS_PER_MONTH * f64::from(month);
                    let now = Group { weight_kg: start.weight_kg + grown, ..start.clone() };
                    row(&needs_in_month(&now, month), month.to_string())
                })
                .collect();
            let growing =
                if young { format!(" at calving, mature {}", wish.weight_words(mature)) } else { String::new() };
            let milk = wish.milk_words(peak_milk_lb(class, wish));
            let words = format!(", {}{growing}, peak milk {milk}", wish.weight_words(weight));
            GroupNeeds {
                name: named(class, &words, wish),
                kind: class.name(),
                head: None,
                condition: start.condition,
                by: "months since calving",
                periods,
            }
        })
        .collect()
}

fn bred_heifers(wish: &HandoutWish) -> Result<Vec<GroupNeeds>, String> {
    let class = AnimalClass::BredHeifer;
    let mature = wish.mature_weight_lb.unwrap_or(USUAL_COW_LB);
    let share = wish.breed.map_or(growth::BREEDING_TAURUS, |breed| breed.breeding_share);
    let weights = if wish.weight_lb.is_empty() { vec![share * mature] } else { wish.weight_lb.clone() };
    if let Some(weight) = weights.iter().find(|weight| **weight >= mature) {
        return Err(above_mature(wish, *weight, mature));
    }
    let groups = weights
        .into_iter()
        .map(|weight| {
            let start = group(class, weight, mature, wish);
            let gain = growth::pregnant_heifer_gain_kg(start.weight_kg, start.mature_weight_kg);
            let periods = (0..=8)
                .rev()
                .map(|to_calving| {
                    let t = GESTATION_DAYS - DAYS_PER_MONTH * f64::from(to_calving);
                    let now = Moment {
                        weight_kg: start.weight_kg + gain * t,
                        stage: Stage { gestation_days: t, milking_days: None, since_calving_days: None },
                        gain_kg: gain,
                        score: start.condition,
                        reserve_mcal: 0.0,
                        last_month_c: None,
                        weather: None,
                    };
                    row(&needs_at(&start, &now), to_calving.to_string())
                })
                .collect();
            let words = format!(", {} at breeding, mature {}", wish.weight_words(weight), wish.weight_words(mature));
            GroupNeeds {
                name: named(class, &words, wish),
                kind: class.name(),
                head: None,
                condition: start.condition,
                by: "months to calving",
                periods,
            }
        })
        .collect();
    Ok(groups)
}

fn above_mature(wish: &HandoutWish, weight: f64, mature: f64) -> String {
    format!(
        "{} is not below the mature weight of {}; give `--mature-weight-lb`, or the table of a grown class",
        wish.weight_words(weight),
        wish.weight_words(mature)
    )
}

fn growing(class: AnimalClass, wish: &HandoutWish) -> Result<Vec<GroupNeeds>, String> {
    let bull = class == AnimalClass::YoungBull;
    let mature = wish.mature_weight_lb.unwrap_or(if bull { BULL_TO_COW * USUAL_COW_LB } else { USUAL_COW_LB });
    if let Some(weight) = wish.weight_lb.iter().find(|weight| **weight >= mature) {
        return Err(above_mature(wish, *weight, mature));
    }
    let steps = [300.0, 500.0, 700.0, 900.0, 1100.0, 1300.0, 1500.0];
    let weights = if wish.weight_lb.is_empty() {
        steps.into_iter().filter(|weight| *weight <= 0.85 * mature).collect()
    } else {
        wish.weight_lb.clone()
    };
    let gains = if wish.gain_lb.is_empty() { vec![0.0, 0.5, 1.0, 1.5, 2.0, 2.5] } else { wish.gain_lb.clone() };
    let groups = weights
        .into_iter()
        .map(|weight| {
            let start = group(class, weight, mature, wish);
            let periods = gains
                .iter()
                .map(|gain| {
                    let now = Moment {
                        weight_kg: start.weight_kg,
                        stage: Stage::default(),
                        gain_kg: kg_from_lb(*gain),
                        score: start.condition,
                        reserve_mcal: 0.0,
                        last_month_c: None,
                        weather: None,
                    };
                    row(&needs_at(&start, &now), figure_text(if wish.metric { kg_from_lb(*gain) } else { *gain }, 2))
                })
                .collect();
            let words = format!(", {}, mature {}", wish.weight_words(weight), wish.weight_words(mature));
            GroupNeeds {
                name: named(class, &words, wish),
                kind: class.name(),
                head: None,
                condition: start.condition,
                by: if wish.metric { "gain,_kg a_day" } else { "gain,_lb a_day" },
                periods,
            }
        })
        .collect();
    Ok(groups)
}

fn bulls(wish: &HandoutWish) -> Vec<GroupNeeds> {
    let class = AnimalClass::Bull;
    let weights =
        if wish.weight_lb.is_empty() { vec![1400.0, 1600.0, 1800.0, 2000.0, 2200.0] } else { wish.weight_lb.clone() };
    let periods = weights
        .iter()
        .map(|weight| {
            let bull = group(class, *weight, *weight, wish);
            let now = Moment {
                weight_kg: bull.weight_kg,
                stage: Stage::default(),
                gain_kg: 0.0,
                score: bull.condition,
                reserve_mcal: 0.0,
                last_month_c: None,
                weather: None,
            };
            row(&needs_at(&bull, &now), figure_text(if wish.metric { kg_from_lb(*weight) } else { *weight }, 0))
        })
        .collect();
    vec![GroupNeeds {
        name: named(class, ", holding weight", wish),
        kind: class.name(),
        head: None,
        condition: wish.condition.unwrap_or(5.0),
        by: if wish.metric { "weight, kg" } else { "weight, lb" },
        periods,
    }]
}
