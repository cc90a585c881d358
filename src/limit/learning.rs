//! The first two weeks on gin trash, in which cattle learn to eat it: half of the limit, from the first day it can be fed.

use super::Block;
use super::block::Demands;
use crate::feed::{FeedClass, Offer, Supply};
use jiff::ToSpan as _;
use jiff::civil::Date;

/// Days in which cattle learn to eat gin trash (common practice: about two weeks).
pub const LEARNING_DAYS: u32 = 14;
/// Share of the limit that holds meanwhile (judgement).
pub const LEARNING_HALF: f64 = 0.5;

/// How the mean of a period falls apart where the cattle learn in its first days.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FirstDays {
    /// The last day of learning.
    pub last: Date,
    /// Gin trash until then, as a multiple of the mean of the period.
    pub first: f64,
    /// Gin trash after it, as a multiple of the mean of the period.
    pub after: f64,
}

/// The first day on which a group can be given gin trash; the first of the winter where there is none.
pub(super) fn first_day(winter_start: Date, group: &str, offers: &[Offer]) -> Date {
    let trash = offers.iter().filter(|offer| {
        offer.feed.class == FeedClass::GinTrash && offer.bounds_for(group).max.is_none_or(|most| most.0 > 0.0)
    });
    trash
        .map(|offer| {
            let here = if offer.on_hand.0 > 0.0 {
                None
            } else {
                let comes =
                    if let Supply::Curve(curve) = &offer.supply { curve.points.first().map(|one| one.0) } else { None };
                offer.from.max(comes)
            };
            let fed = offer.feeding_dates(offer.fed_for(group)).0;
            [here, fed].into_iter().flatten().fold(winter_start, Date::max)
        })
        .min()
        .unwrap_or(winter_start)
}

impl Block<'_> {
    /// Days of the period in which cattle still learn to eat gin trash.
    fn learning_days(&self) -> f64 {
        let first = self.trash_from;
        let end = first.checked_add(i64::from(LEARNING_DAYS).days()).unwrap_or(first);
        let (from, to) = (first.max(self.period.from), end.min(self.period.to));
        f64::from(from.until(to).map_or(0, |span| span.get_days()).max(0))
    }

    /// Share of the period's days in which cattle still learn to eat gin trash.
    #[must_use]
    pub fn learning_share(&self) -> f64 {
        (self.learning_days() / f64::from(self.period.days())).min(1.0)
    }

    /// How gin trash of a ration falls apart into the first days and the others, where its mean is more than may be fed in
    /// the first days. `None` also where the file sets a limit of its own.
    #[must_use]
    pub fn first_days(&self, demands: &Demands, kg_dm: &[f64]) -> Option<FirstDays> {
        let (days, all) = (self.learning_days(), f64::from(self.period.days()));
        let rule = demands.rules.iter().find(|one| one.rule.id == "gin-trash" && one.because.is_none())?;
        let full = rule.limit / (1.0 - (1.0 - LEARNING_HALF) * days / all);
        let mean = rule.value(kg_dm);
        let first = mean.min(LEARNING_HALF * full);
        // Less than a twentieth more is not worth two figures.
        if days <= 0.0 || days >= all || mean <= 1.05 * first {
            return None;
        }
        let after = (mean * all - first * days) / (all - days);
        let last = self.trash_from.checked_add(i64::from(LEARNING_DAYS - 1).days()).ok()?;
        Some(FirstDays { last: last.min(self.period.to.yesterday().ok()?), first: first / mean, after: after / mean })
    }
}
