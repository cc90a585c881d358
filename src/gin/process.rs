//! Ways of handling trash before it is sold: what each costs a ton, and what it does to loads, waste, room and price.

use super::buyer::Buyer;
use super::pile::{Books, Season};
use super::price;
use super::product::{Form, Product};
use crate::feed::Nutrient;
use crate::feed::dirt::{CLEAN_ASH_PCT, TDN_PER_ASH};
use crate::source::Cite;
use jiff::civil::Date;

/// A way of handling.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// Its name in files: `module`, `bale`, `grind`, `screen`.
    pub name: &'static str,
    /// The form it leaves.
    pub form: Form,
    /// Cost, US dollars per ton sold.
    pub usd_per_ton: f64,
    /// Where that comes from.
    pub cite: Cite,
    /// Most that is then wasted at the feeder, 0 to 1; `None`: as before.
    pub waste: Option<f64>,
    /// Most of its fiber that is then long enough to scratch, percent of NDF; `None`: as before. Neighbors are asked anew.
    pub effective_ndf: Option<f64>,
    /// Share taken out and sent to the fallback, 0 to 1.
    pub taken_out: f64,
    /// Points of ash it takes off, percent of dry matter; those above [`CLEAN_ASH_PCT`] count.
    pub ash_points: f64,
}

/// What comes of a way of handling.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// Name of the way; `as it is` for none.
    pub name: &'static str,
    /// Form.
    pub form: Form,
    /// Cost, US dollars per ton sold.
    pub usd_per_ton: f64,
    /// Tons on a load.
    pub tons_per_load: f64,
    /// Haul for each mile, US dollars per ton and mile.
    pub usd_per_ton_mile: f64,
    /// Room, short tons; `None`: any.
    pub room_tons: Option<f64>,
    /// What a ton is worth more for what is taken out of it, US dollars.
    pub worth_more_usd: f64,
    /// The books at the price that then nets most.
    pub books: Books,
    /// What is sent to the fallback of what is taken out, US dollars.
    pub taken_out_usd: f64,
}

impl Outcome {
    /// What the season nets, US dollars.
    #[must_use]
    pub fn net_usd(&self) -> f64 {
        self.books.net_usd() + self.taken_out_usd
    }
}

/// Tries one way of handling. `usd_per_tdn_point` is what a point of TDN adds to the worth of a ton: trash gains about
/// one for each point of ash above 11 it loses (judgement, after corn-stalk bales).
#[must_use]
pub fn try_out(
    choice: &Choice,
    product: &Product,
    weeks: &[Date],
    produced: &[f64],
    buyers: &[Buyer],
    usd_per_tdn_point: f64,
) -> Outcome {
    let ash = product.feed.get(Nutrient::Ash).unwrap_or(CLEAN_ASH_PCT);
    let worth_more_usd = choice.ash_points.min((ash - CLEAN_ASH_PCT).max(0.0)) * TDN_PER_ASH * usd_per_tdn_point;
    let buyers: Vec<Buyer> =
        buyers.iter().map(|buyer| buyer.in_form(product, choice.form, choice.waste, worth_more_usd)).collect();
    let left: Vec<f64> = produced.iter().map(|tons| tons * (1.0 - choice.taken_out)).collect();
    let room_tons = product.room_tons_as(choice.form);
    let season = Season { product, weeks, produced: &left, room_tons, handling_usd_per_ton: choice.usd_per_ton };
    let books = price::search(&season, &buyers).best;
    let out: f64 = produced.iter().sum::<f64>() * choice.taken_out;
    let tons_per_load = product.tons_per_load_as(choice.form);
    Outcome {
        name: choice.name,
        form: choice.form,
        usd_per_ton: choice.usd_per_ton,
        tons_per_load,
        usd_per_ton_mile: product.rate.usd_per_loaded_mile / tons_per_load,
        room_tons,
        worth_more_usd,
        books,
        taken_out_usd: out * product.fallback_usd_per_ton(),
    }
}

/// Most that is wasted at the feeder of trash as it lies, 0 to 1: a gin whose trash is ground already has what grinding
/// saves. `None`: what the buyer wastes.
#[must_use]
pub fn waste_as_it_lies(product: &Product, choices: &[Choice]) -> Option<f64> {
    let way = product.form.made_by()?;
    choices.iter().find(|choice| choice.name == way)?.waste
}

/// The trash as it is.
#[must_use]
pub fn as_it_is(product: &Product, choices: &[Choice]) -> Choice {
    Choice {
        name: "as it is",
        form: product.form,
        usd_per_ton: 0.0,
        cite: Cite::judgement("nothing is done"),
        waste: waste_as_it_lies(product, choices),
        effective_ndf: None,
        taken_out: 0.0,
        ash_points: 0.0,
    }
}
