//! What a sum over feeds may be off by, since each feed may be off from its figures.
//!
//! Feeds are independent of each other. What one feed is off by is the same for every group and in every period: it is
//! the pile that is poorer than counted, not the pound. So a need is met surely enough if
//! mean − z·√Σ(sd·x)² ≥ need (van de Panne and Popp 1963; St-Pierre and Harvey 1986, from memory), which is convex:
//! the root is nowhere below its tangents, and tangents are rows of a linear programme.

use super::measure::Measure;
use super::{Block, normal};
use crate::feed::{Feed, Offer};

/// The spread of a sum over feeds: for each cause that stands by itself, what one kg of dry matter of each offer falls
/// short by when that cause is one standard deviation on the bad side, in the unit of the sum.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Spread {
    causes: Vec<Vec<f64>>,
}

impl Spread {
    /// From the causes, each with a figure for every offer.
    #[must_use]
    pub fn new(mut causes: Vec<Vec<f64>>) -> Self {
        causes.retain(|cause| cause.iter().any(|each| *each != 0.0));
        Self { causes }
    }

    /// The spread of a measure in a block, times `scale`.
    #[must_use]
    pub fn of(measure: Measure, scale: f64, block: &Block<'_>, offers: &[Offer], piles: &Piles) -> Self {
        let mut causes = vec![vec![0.0; offers.len()]; piles.causes];
        for (index, (offer, pile)) in offers.iter().zip(&piles.piles).enumerate() {
            let Ok(mean) = measure.per_kg_dm(index, &offer.feed, block) else { continue };
            for (place, moved) in pile.moved.iter().enumerate() {
                let low = measure.per_kg_dm(index, moved, block).unwrap_or(mean);
                causes[pile.begin + place][index] = (mean - low) * scale;
            }
        }
        Self::new(causes)
    }

    /// Nothing is uncertain.
    #[must_use]
    pub fn is_none(&self) -> bool {
        self.causes.is_empty()
    }

    /// Standard deviation of the sum in a ration, kg of dry matter by offer.
    #[must_use]
    pub fn sd(&self, kg_dm: &[f64]) -> f64 {
        self.causes.iter().map(|cause| dot(cause, kg_dm).powi(2)).sum::<f64>().sqrt()
    }

    /// Slope of the standard deviation at a ration, by offer. The deviation of any ration is at least slope · ration,
    /// and just that where the slope was taken.
    #[must_use]
    pub fn slope(&self, kg_dm: &[f64]) -> Vec<f64> {
        let sd = self.sd(kg_dm);
        let mut slope = vec![0.0; kg_dm.len()];
        if sd > 0.0 {
            for cause in &self.causes {
                let share = dot(cause, kg_dm) / sd;
                for (slope, each) in slope.iter_mut().zip(cause) {
                    *slope += share * each;
                }
            }
        }
        slope
    }
}

/// What the feeds of a case would be if one thing about each came out one standard deviation on the bad side: the same for
/// every rule, group and period.
#[derive(Debug)]
pub struct Piles {
    piles: Vec<Pile>,
    /// Causes of all piles together.
    causes: usize,
}

#[derive(Debug)]
struct Pile {
    /// Where its causes begin. Lots that test alike are one pile as far as anyone knows.
    begin: usize,
    moved: Vec<Feed>,
}

impl Piles {
    /// Of some offers.
    #[must_use]
    pub fn of(offers: &[Offer]) -> Self {
        let mut piles: Vec<Pile> = Vec::new();
        let mut causes = 0;
        for (index, offer) in offers.iter().enumerate() {
            let alike = |first: &usize| {
                offers[*first].feed_name() == offer.feed_name() && offers[*first].feed.values == offer.feed.values
            };
            let moved: Vec<Feed> = offer.feed.causes().iter().map(|cause| offer.feed.moved(cause)).collect();
            let begin = (0..index).find(alike).map_or(causes, |first| piles[first].begin);
            causes = causes.max(begin + moved.len());
            piles.push(Pile { begin, moved });
        }
        Self { piles, causes }
    }

    /// Of offers that come out as counted.
    #[must_use]
    pub fn none(offers: &[Offer]) -> Self {
        Self { piles: offers.iter().map(|_| Pile { begin: 0, moved: Vec::new() }).collect(), causes: 0 }
    }
}

/// Probability that a sum with a mean and a standard deviation is at least a need, 0 to 1.
#[must_use]
pub fn chance(mean: f64, sd: f64, need: f64) -> f64 {
    let room = mean - need;
    if sd > 1e-12 * need.abs().max(1e-9) {
        normal::below(room / sd)
    } else if room >= -1e-6 * need.abs().max(1.0) {
        1.0
    } else {
        0.0
    }
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}
