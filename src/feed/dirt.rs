//! Dirt in gin trash: what ash that was tested takes from a TDN that was not.

use super::{Feed, FeedClass, Figure, Nutrient, OtherFigure};
use crate::source::Origin;

/// Ash of trash that loses no energy to dirt, percent of dry matter: judgement.
pub const CLEAN_ASH_PCT: f64 = 11.0;
/// Points of TDN that a point of ash takes: judgement. A straight line through the ends of what corn-stalk bales tested
/// (5.6 % ash and 63 % TDN, 32 and 32) falls by 1.17, of which ash by itself explains 0.7 to 1.
pub const TDN_PER_ASH: f64 = 1.0;
/// Source of the bales: more ash, less TDN.
pub const SOURCE: &str = "banta_stalks2018";

impl Feed {
    /// TDN of gin trash whose ash was tested and whose TDN was not, with what was taken off in its place; `None` where
    /// nothing is: another class, a TDN of the user's own, or no more ash than its TDN stands for.
    ///
    /// A row of the table is trash of its own mean ash, so its TDN stands for that ash (for 11 % where it is cleaner or
    /// has none), and a test that finds just that ash changes nothing. Only ash beyond it takes TDN. Less ash than that adds none: what is
    /// not dirt may still be burr, and only a test of TDN can say. Judgement throughout.
    #[must_use]
    pub fn tdn_less_dirt(&self, ash_pct: f64) -> Option<Figure> {
        let table = self.values.get(&Nutrient::Tdn).filter(|_| self.class == FeedClass::GinTrash)?;
        let stands_for = self.get(Nutrient::Ash).unwrap_or(CLEAN_ASH_PCT).max(CLEAN_ASH_PCT);
        let less = TDN_PER_ASH * (ash_pct - stands_for);
        if table.origin == Origin::Given || less <= 0.0 {
            return None;
        }
        let as_it_was = OtherFigure {
            from: table.mean,
            to: table.mean,
            origin: table.origin,
            source: table.source.clone(),
            place: table.place.clone(),
        };
        let low = table.low.clone().map(|low| OtherFigure {
            from: (low.from - less).max(0.0),
            to: (low.to - less).max(0.0),
            origin: Origin::Judgement,
            ..low
        });
        Some(Figure {
            mean: (table.mean - less).max(0.0),
            origin: Origin::Judgement,
            source: Some(SOURCE.to_owned()),
            place: Some(format!(
                "{} of the table less {}, a point for each of ash above the {} it stands for",
                number(table.mean),
                number(less),
                number(stands_for)
            )),
            low,
            also: [as_it_was].into_iter().chain(table.also.iter().cloned()).collect(),
            ..table.clone()
        })
    }

    /// What tested ash took from its TDN, in words; `None` if nothing.
    #[must_use]
    pub fn dirt_words(&self) -> Option<&str> {
        let tdn = self.values.get(&Nutrient::Tdn)?;
        let by_dirt = tdn.origin == Origin::Judgement && tdn.source.as_deref() == Some(SOURCE);
        tdn.place.as_deref().filter(|_| by_dirt)
    }
}

/// A figure without needless decimals.
fn number(value: f64) -> String {
    format!("{}", (10.0 * value).round() / 10.0)
}
