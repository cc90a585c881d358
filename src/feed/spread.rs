//! How far the figures of a feed may be off: what a test leaves of the spread, and which figures move together.

use super::{Feed, FeedClass, Figure, Nutrient};
use crate::source::Origin;

/// Spread of book values where the table has none: 15 % for protein and fiber, 30 % for minerals, 10 % for energy are
/// "how far off they can be" (Colorado State fact sheet 1.615, Stanton and `LeValley`), read as two standard deviations
/// (judgement).
const BOOK_CV_ENERGY: f64 = 0.05;
const BOOK_CV_PROTEIN: f64 = 0.075;
const BOOK_CV_MINERAL: f64 = 0.15;

/// Share of the spread that a test leaves, by kind of analysis (judgement: no print that gives it was found). Protein is
/// measured; energy is computed from fiber, so a test says less about it; minerals stand between. What is left is the
/// sample, which is never the whole pile, and the laboratory.
const LEFT_OF_ENERGY: f64 = 0.6;
const LEFT_OF_PROTEIN: f64 = 0.3;
const LEFT_OF_MINERAL: f64 = 0.4;

/// Figures whose spread counts when a need is to be met surely, and ash, which tells of dirt.
const COUNTED: [Nutrient; 5] = [Nutrient::Tdn, Nutrient::Cp, Nutrient::Ca, Nutrient::P, Nutrient::Ash];

/// One thing that can be off about a feed: its figures, each with the change when it comes out one standard deviation
/// on the bad side, in the unit of the figure.
pub type Cause = Vec<(Nutrient, f64)>;

/// Share of the spread of a figure that a test leaves by default, 0 to 1.
#[must_use]
pub fn left_by_test(nutrient: Nutrient) -> f64 {
    match nutrient {
        Nutrient::Tdn => LEFT_OF_ENERGY,
        Nutrient::Ca | Nutrient::P => LEFT_OF_MINERAL,
        _ => LEFT_OF_PROTEIN,
    }
}

/// Gives a tested figure what its test leaves of the spread of the figure it replaces.
pub fn after_test(tested: &mut Figure, nutrient: Nutrient, class: FeedClass, book: Option<&Figure>, left: Option<f64>) {
    let before = book.and_then(|book| book.sd).or_else(|| book_sd(nutrient, class, tested.mean));
    if let Some(before) = before {
        tested.sd = Some(before * left.unwrap_or_else(|| left_by_test(nutrient)));
        tested.sd_origin = Some(Origin::Judgement);
    }
}

/// The spread of a book value that carries none of its own.
fn book_sd(nutrient: Nutrient, class: FeedClass, mean: f64) -> Option<f64> {
    // A mineral is mixed to its tag.
    if class.is_mineral() {
        return None;
    }
    let cv = match nutrient {
        Nutrient::Tdn => BOOK_CV_ENERGY,
        Nutrient::Cp => BOOK_CV_PROTEIN,
        Nutrient::Ca | Nutrient::P => BOOK_CV_MINERAL,
        _ => return None,
    };
    Some(cv * mean)
}

impl Feed {
    /// Standard deviation of a figure in its own unit, that of book values where it has none of its own.
    #[must_use]
    pub fn spread(&self, nutrient: Nutrient) -> Option<f64> {
        let figure = self.values.get(&nutrient)?;
        figure.sd.or_else(|| book_sd(nutrient, self.class, figure.mean)).filter(|sd| *sd > 0.0)
    }

    /// What can be off about it, each cause independent of the others. In gin trash dirt moves TDN, protein and ash
    /// together (judgement: taking them as independent understates the bad tail), wholly so here.
    #[must_use]
    pub fn causes(&self) -> Vec<Cause> {
        let mut causes: Vec<Cause> = Vec::new();
        let dirt = self.class == FeedClass::GinTrash;
        for nutrient in COUNTED {
            let Some(sd) = self.spread(nutrient) else { continue };
            let bad = if nutrient == Nutrient::Ash { sd } else { -sd };
            let by_dirt = dirt && matches!(nutrient, Nutrient::Tdn | Nutrient::Cp | Nutrient::Ash);
            match causes.first_mut().filter(|_| by_dirt) {
                Some(first) => first.push((nutrient, bad)),
                None => causes.push(vec![(nutrient, bad)]),
            }
        }
        causes
    }

    /// The feed with some figures changed; none falls below 0.
    #[must_use]
    pub fn moved(&self, by: &[(Nutrient, f64)]) -> Self {
        let mut moved = self.clone();
        for (nutrient, change) in by {
            if let Some(figure) = moved.values.get_mut(nutrient) {
                figure.mean = (figure.mean + change).max(0.0);
            }
        }
        moved
    }
}
