//! A rule: declared once, used as a row of the programme, as a check of a finished ration, and as a line of the page.

use super::spread::{Piles, Spread, chance};
use super::{Block, Measure};
use crate::feed::Offer;
use crate::herd::AnimalClass;
use crate::limit::measure::Missing;
use crate::source::Cite;

/// How binding a rule is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Force {
    /// A need of the animal: a plan meets it; a checked ration may fall short, and is told by how much.
    Need,
    /// No plan breaks it; a checked ration that does is unfit.
    Never,
    /// A plan stays inside unless the file lifts it with a reason; a checked ration outside is warned about.
    Keep,
}

impl Force {
    /// The word printed.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Need => "need",
            Self::Never => "never",
            Self::Keep => "keep",
        }
    }
}

/// Which side of the figure is right.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Sense {
    /// At least.
    AtLeast,
    /// At most.
    AtMost,
    /// Just so.
    Exactly,
}

/// The figure of a rule and how it is found.
#[derive(Clone, Copy)]
pub enum Figure {
    /// By class, in the order of [`AnimalClass::ALL`] without the calf; `None`: the rule does not hold for it.
    ByClass([Option<f64>; 7]),
    /// By class when dry and when at peak milk; in between by how far she milks.
    DryMilking([Option<f64>; 7], [Option<f64>; 7]),
    /// From the block.
    Of(fn(&Block<'_>) -> Option<f64>),
}

/// A rule.
#[derive(Clone, Copy)]
pub struct Rule {
    /// Id in files, reports and docs.
    pub id: &'static str,
    /// Name for people.
    pub title: &'static str,
    /// Unit of the figure for people.
    pub unit: &'static str,
    /// Decimals a person wants.
    pub digits: usize,
    /// What is added up.
    pub over: Measure,
    /// What it is set against.
    pub per: Measure,
    /// Turns the quotient into the unit.
    pub scale: f64,
    /// Which side is right.
    pub sense: Sense,
    /// The figure.
    pub figure: Figure,
    /// Force for grown cows (cow, first-calf cow).
    pub force_cow: Force,
    /// Force for all others.
    pub force_other: Force,
    /// Source of the figure.
    pub cite: Cite,
    /// Why it matters.
    pub why: &'static str,
    /// What to do about it.
    pub remedy: &'static str,
}

impl std::fmt::Debug for Rule {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Rule({})", self.id)
    }
}

/// Position of a class in the tables of [`Figure`]; `None` for young calves, which get no ration.
#[must_use]
pub fn class_index(class: AnimalClass) -> Option<usize> {
    AnimalClass::ALL[..7].iter().position(|one| *one == class)
}

impl Rule {
    /// The force for a class.
    #[must_use]
    pub fn force(&self, class: AnimalClass) -> Force {
        if matches!(class, AnimalClass::Cow | AnimalClass::FirstCalfCow) { self.force_cow } else { self.force_other }
    }
    /// The default figure for a block; `None`: the rule does not hold.
    #[must_use]
    pub fn figure_for(&self, block: &Block<'_>) -> Option<f64> {
        match self.figure {
            Figure::ByClass(table) => table[class_index(block.group.class)?],
            Figure::DryMilking(dry, milking) => {
                let index = class_index(block.group.class)?;
                let share = block.milk_level();
                Some(dry[index]? * (1.0 - share) + milking[index]? * share)
            }
            Figure::Of(find) => find(block),
        }
    }
}

/// A rule as it holds for one group in one period: coefficients ready, figure settled.
#[derive(Debug, Clone)]
pub struct Instance {
    /// The rule.
    pub rule: &'static Rule,
    /// What it is about, where one rule holds for several feeds (the feed's id).
    pub about: Option<String>,
    /// The figure, in the rule's unit.
    pub limit: f64,
    /// Force here.
    pub force: Force,
    /// The user's reason, where the figure is the user's.
    pub because: Option<String>,
    /// Numerator per kg of dry matter of each offer, scaled to the rule's unit.
    pub over: Vec<f64>,
    /// Numerator whatever is fed, scaled.
    pub over_constant: f64,
    /// Denominator per kg of dry matter of each offer.
    pub per: Vec<f64>,
    /// Denominator whatever is fed.
    pub per_constant: f64,
    /// What the numerator of a need may be off by, scaled; nothing for limits.
    pub spread: Spread,
}

fn dot(coefficients: &[f64], kg_dm: &[f64]) -> f64 {
    coefficients.iter().zip(kg_dm).map(|(a, b)| a * b).sum()
}

impl Instance {
    /// Makes it ready for a block.
    ///
    /// # Errors
    /// Every nutrient the rule needs that is not known.
    pub fn new(
        rule: &'static Rule,
        limit: f64,
        block: &Block<'_>,
        offers: &[Offer],
        piles: &Piles,
    ) -> Result<Self, Vec<Missing>> {
        let over = block.coefficients(rule.over, offers);
        let per = block.coefficients(rule.per, offers);
        let force = rule.force(block.group.class);
        match (over, per) {
            (Ok(over), Ok(per)) => Ok(Self {
                rule,
                about: None,
                limit,
                force,
                because: None,
                over: over.into_iter().map(|value| value * rule.scale).collect(),
                over_constant: rule.over.constant(block) * rule.scale,
                per,
                per_constant: rule.per.constant(block),
                spread: match (force, rule.sense) {
                    (Force::Need, Sense::AtLeast) => Spread::of(rule.over, rule.scale, block, offers, piles),
                    _ => Spread::default(),
                },
            }),
            (over, per) => Err([over.err(), per.err()].into_iter().flatten().flatten().collect()),
        }
    }

    /// What the rule's figure is set against: 1 for amounts, kg of dry matter or of body weight for shares.
    #[must_use]
    pub fn per_value(&self, kg_dm: &[f64]) -> f64 {
        dot(&self.per, kg_dm) + self.per_constant
    }
    /// The value a ration has, in the rule's unit. With nothing to set it against: 0 if there is nothing to
    /// measure either, else without bound.
    #[must_use]
    pub fn value(&self, kg_dm: &[f64]) -> f64 {
        let over = dot(&self.over, kg_dm) + self.over_constant;
        let per = self.per_value(kg_dm);
        if per.abs() > 1e-12 {
            over / per
        } else if over.abs() <= 1e-12 {
            0.0
        } else {
            f64::INFINITY
        }
    }
    /// The value when the feeds come out `z` standard deviations low together, in the rule's unit.
    #[must_use]
    pub fn low_value(&self, z: f64, kg_dm: &[f64]) -> f64 {
        let (value, per) = (self.value(kg_dm), self.per_value(kg_dm));
        if z > 0.0 && per.abs() > 1e-12 { value - z * self.spread.sd(kg_dm) / per } else { value }
    }
    /// Probability that the need is met, given how far the feeds may be off; `None` for what is no need.
    #[must_use]
    pub fn chance(&self, kg_dm: &[f64]) -> Option<f64> {
        let per = self.per_value(kg_dm);
        let told = self.force == Force::Need && self.rule.sense == Sense::AtLeast && per.abs() > 1e-12;
        told.then(|| chance(self.value(kg_dm), self.spread.sd(kg_dm) / per, self.limit))
    }
    /// Coefficients of the row `Σ coefficient·x (≥, ≤, =) right-hand side`.
    #[must_use]
    pub fn row(&self) -> (Vec<f64>, f64) {
        let coefficients = self.over.iter().zip(&self.per).map(|(over, per)| over - self.limit * per).collect();
        (coefficients, self.limit * self.per_constant - self.over_constant)
    }
    /// Lower and upper side of the row.
    #[must_use]
    pub fn sides(&self) -> (f64, f64) {
        let (_, side) = self.row();
        match self.rule.sense {
            Sense::AtLeast => (side, f64::INFINITY),
            Sense::AtMost => (f64::NEG_INFINITY, side),
            Sense::Exactly => (side, side),
        }
    }
    /// By how much a value misses the figure, in the rule's unit; 0 or less where it does not.
    #[must_use]
    pub fn miss(&self, value: f64) -> f64 {
        match self.rule.sense {
            Sense::AtLeast => self.limit - value,
            Sense::AtMost => value - self.limit,
            Sense::Exactly => (value - self.limit).abs(),
        }
    }
    /// Whether a value keeps the rule, up to rounding of arithmetic (1e-6 of the figure).
    #[must_use]
    pub fn kept(&self, value: f64) -> bool {
        self.miss(value) <= 1e-6 * self.limit.abs().max(1.0)
    }
    /// Whether a value stands at the figure.
    #[must_use]
    pub fn tight(&self, value: f64) -> bool {
        (value - self.limit).abs() <= 1e-6 * self.limit.abs().max(1.0)
    }
    /// Name of the row: rule, and feed where there is one.
    #[must_use]
    pub fn name(&self) -> String {
        self.about.as_ref().map_or_else(|| self.rule.id.to_owned(), |about| format!("{} {about}", self.rule.id))
    }
}
