//! Growing cattle: the same mix keeps them, at NEm, and grows them, at NEg.
//!
//! A share φ of the mix is for maintenance: Σ NEm·x ≥ M/φ and Σ NEg·x ≥ G/(1 − φ). Both sides are convex in φ, so
//! φ can be a column of the programme and tangents stand for the curves (NRC 1996; the split is ours).

use super::measure::{Measure, Missing};
use super::spread::{Piles, Spread};
use super::{Block, normal};
use crate::feed::Offer;
use std::borrow::Cow;

/// What growth asks of a ration, and what a ration gives it.
#[derive(Debug, Clone, PartialEq)]
pub struct Growth {
    /// NEm of each offer, Mcal per kg of dry matter.
    pub nem: Vec<f64>,
    /// NEg of each offer, Mcal per kg of dry matter.
    pub neg: Vec<f64>,
    /// Everything paid in NEm, Mcal a day.
    pub maintenance_nem_mcal: f64,
    /// Energy to be kept as growth, Mcal NEg a day.
    pub gain_neg_mcal: f64,
    /// What NEm may be off by.
    pub nem_spread: Spread,
    /// What NEg may be off by.
    pub neg_spread: Spread,
}

impl Growth {
    /// For a block whose animals grow.
    ///
    /// # Errors
    /// Feeds whose TDN is not known.
    pub fn new(block: &Block<'_>, offers: &[Offer], piles: &Piles) -> Result<Self, Vec<Missing>> {
        Ok(Self {
            nem: block.coefficients(Measure::Nem, offers)?,
            neg: block.coefficients(Measure::Retained, offers)?,
            maintenance_nem_mcal: block.nem_need(),
            gain_neg_mcal: block.needs.neg_mcal,
            nem_spread: Spread::of(Measure::Nem, 1.0, block, offers, piles),
            neg_spread: Spread::of(Measure::Retained, 1.0, block, offers, piles),
        })
    }

    /// The same with the feeds `z` standard deviations low together, as a ration mixes them. NEm and NEg of a feed come
    /// from its TDN alone, so they are low together. The coefficients are tangents of a convex bound at the ration:
    /// what they say of another ration is never below the truth.
    #[must_use]
    pub fn low(&self, z: f64, kg_dm: &[f64]) -> Cow<'_, Self> {
        if z <= 0.0 {
            return Cow::Borrowed(self);
        }
        let mut low = self.clone();
        for (own, spread) in [(&mut low.nem, &self.nem_spread), (&mut low.neg, &self.neg_spread)] {
            for (each, slope) in own.iter_mut().zip(spread.slope(kg_dm)) {
                *each -= z * slope;
            }
        }
        Cow::Owned(low)
    }
    /// Probability that the gain is made, given how far the feeds may be off: by how many standard deviations they can
    /// be low together before it is missed.
    #[must_use]
    pub fn chance(&self, kg_dm: &[f64]) -> f64 {
        let made = |z: f64| {
            let nem = self.nem_mcal(kg_dm) - z * self.nem_spread.sd(kg_dm);
            let neg = self.neg_mcal(kg_dm) - z * self.neg_spread.sd(kg_dm);
            nem > 0.0 && (1.0 - self.maintenance_nem_mcal / nem) * neg >= self.gain_neg_mcal * (1.0 - 1e-9)
        };
        let (mut low, mut high) = (-6.0, 6.0);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if made(middle) { low = middle } else { high = middle }
        }
        normal::below(0.5 * (low + high))
    }

    fn total(coefficients: &[f64], kg_dm: &[f64]) -> f64 {
        coefficients.iter().zip(kg_dm).map(|(a, b)| a * b).sum()
    }
    /// NEm of a ration, Mcal.
    #[must_use]
    pub fn nem_mcal(&self, kg_dm: &[f64]) -> f64 {
        Self::total(&self.nem, kg_dm)
    }
    /// NEg of a ration if all of it served growth, Mcal.
    #[must_use]
    pub fn neg_mcal(&self, kg_dm: &[f64]) -> f64 {
        Self::total(&self.neg, kg_dm)
    }
    /// Share of the mix that maintenance takes; above 1 when it falls short.
    #[must_use]
    pub fn maintenance_share(&self, kg_dm: &[f64]) -> f64 {
        let nem = self.nem_mcal(kg_dm);
        if nem > 0.0 { self.maintenance_nem_mcal / nem } else { f64::INFINITY }
    }
    /// Energy left for growth, Mcal NEg; 0 when maintenance is not met.
    #[must_use]
    pub fn retained_neg_mcal(&self, kg_dm: &[f64]) -> f64 {
        (1.0 - self.maintenance_share(kg_dm)).max(0.0) * self.neg_mcal(kg_dm)
    }
    /// The split to start from: what a middling mix would have.
    #[must_use]
    pub fn first_split(&self) -> f64 {
        let m = self.maintenance_nem_mcal / 1.4;
        let g = self.gain_neg_mcal / 0.8;
        (m / (m + g).max(1e-9)).clamp(0.05, 0.95)
    }
}
