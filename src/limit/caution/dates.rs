//! What is fed at a time when it is not to be had.

use super::{Finding, Mix, NOT_AT_HAND};

/// Feeds of a ration that the file does not have on most days of the period.
pub(super) fn dates(mix: &Mix<'_>, list: &mut Vec<Finding>) {
    let block = mix.block;
    for (offer, kg) in mix.offers.iter().zip(mix.kg_dm) {
        let way = offer.fed_for(&block.group.name);
        if *kg <= 1e-6 || offer.fed_between(block.period.from, block.period.to, way) {
            continue;
        }
        let (first, last) = offer.feeding_dates(way);
        let day =
            |word: &str, day: Option<jiff::civil::Date>| day.map(|day| format!(" {word} {day}")).unwrap_or_default();
        list.push(Finding {
            caution: &NOT_AT_HAND,
            text: format!(
                "{} is in the ration, but the file has it to feed only{}{}. What it brings is counted here; it may not be there.",
                offer.id,
                day("from", first),
                day("to", last)
            ),
        });
    }
}
