//! Prices as people hear them: what was written by the bale, the bushel or the hundredweight, beside the ton.

use super::model::Report;
use super::page::Page;
use super::text::usd;
use crate::feed::{BaleWeight, PriceUnit};
use crate::limit::figure_text;
use crate::winter::{Case, Plan};
use serde::Serialize;
use std::fmt::Write as _;

/// The price of one feed in the unit it is written in.
#[derive(Debug, Clone, Serialize)]
pub struct PriceLine {
    /// Feed.
    pub feed: String,
    /// The unit: `cwt`, `bushel`, `bale`, `metric_ton`, `ton_dm`.
    pub unit: &'static str,
    /// At the seller, US dollars per unit; of the first month where it goes by month.
    pub usd_per_unit: f64,
    /// Pounds as fed in one unit.
    pub lb_per_unit: f64,
    /// At the seller, US dollars per short ton as fed.
    pub usd_per_ton: f64,
    /// Bought over the winter, in the unit.
    pub units_bought: f64,
    /// The weight of a bale is that of its size at a usual density, not of a scale.
    pub weight_is_a_guess: bool,
    #[serde(skip)]
    word: &'static str,
    #[serde(skip)]
    words: &'static str,
    #[serde(skip)]
    by_month: bool,
}

/// Every price of a plan that is not written by the ton.
#[must_use]
pub fn of(case: &Case, plan: &Plan) -> Vec<PriceLine> {
    let offers = case.offers.iter().zip(&plan.feeds);
    offers
        .filter(|(offer, _)| offer.price_unit != PriceUnit::Ton)
        .filter_map(|(offer, feed)| {
            let unit = offer.price_unit;
            let usd_per_ton = offer.price_usd_per_ton?;
            Some(PriceLine {
                feed: offer.id.clone(),
                unit: unit.key(),
                usd_per_unit: unit.usd_per_unit(usd_per_ton),
                lb_per_unit: unit.tons() * crate::quantity::LB_PER_TON,
                usd_per_ton,
                units_bought: feed.bought_tons() / unit.tons(),
                weight_is_a_guess: matches!(unit, PriceUnit::Bale { known: BaleWeight::FromUsualDensity, .. }),
                word: unit.word(),
                words: unit.words(),
                by_month: offer.price_by_month.len() > 1,
            })
        })
        .collect()
}

/// A line for each of them, for the list of what to buy.
pub(super) fn add_to(page: &mut Page, report: &Report) {
    for line in report.prices.iter().filter(|line| line.units_bought > 1e-6) {
        let mut text = format!(
            "{}: {} {}{} at ${} a {}",
            line.feed,
            figure_text(line.units_bought, usize::from(line.units_bought < 10.0)),
            line.words,
            // A hundredweight is a hundred pounds.
            if ["bushel", "bale"].contains(&line.unit) {
                format!(" of {} lb", figure_text(line.lb_per_unit, 0))
            } else {
                String::new()
            },
            figure_text(line.usd_per_unit, 2),
            line.word,
        );
        let _ = write!(text, " = {} a ton at the seller", usd(line.usd_per_ton));
        if line.by_month {
            text.push_str(" in the first month");
        }
        text.push('.');
        if line.weight_is_a_guess {
            text.push_str(
                " The bale's weight is reckoned from its size at the density of a reference bale (E-319: 5 by 5 ft, 1,100 \
                 lb); weigh a few, for guesses miss by about 100 lb.",
            );
        }
        page.words("   ", text);
    }
}
