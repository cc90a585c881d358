//! What the weather of a case counted, in words.

use crate::herd::Period;
use crate::winter::Case;

/// What the weather counted and what not.
#[must_use]
pub fn words(case: &Case) -> String {
    let months: Vec<usize> =
        case.periods.iter().flat_map(Period::dates).map(|day| usize::try_from(day.month() - 1).unwrap_or(0)).collect();
    let known = months.iter().filter(|month| case.place.weather[**month].is_some()).count();
    let acclimatized =
        if case.place.acclimatization { "acclimatization counted" } else { "acclimatization not counted" };
    if known == 0 {
        "cold not counted: the file gives no weather".to_owned()
    } else {
        let own = case.place.own_months.iter().filter(|month| months.contains(month)).count();
        let source = match &case.place.region {
            Some(region) if own > 0 => format!("weather of {region} with months of the file's own"),
            Some(region) => format!("weather of {region}"),
            None => "the file's weather".to_owned(),
        };
        let shelter = if case.place.shelter_share > 0.0 {
            format!(", {:.0} % of the wind kept off", 100.0 * case.place.shelter_share)
        } else {
            String::new()
        };
        let sun = if case.place.sun { ", sun counted" } else { "" };
        let part = if known < months.len() { ", some months without" } else { "" };
        format!("cold counted from {source}{part}, monthly means with wind{shelter}{sun}; {acclimatized}")
    }
}
