//! The reference herd that screening lines stand for: 100 head of one class on bought hay, with what else such a place
//! has. Its text is read like any herd file, so its needs and limits are those of every other herd.

use crate::herd::AnimalClass;

/// Head of the reference herd.
pub const HEAD: u32 = 100;
/// Price of hay where none is given, US dollars per ton delivered: judgement, in the printed 120 to 160 of Texas bermuda
/// in 2019 and 2020 and 134 of Alabama in 2024.
pub const HAY_USD_PER_TON: f64 = 130.0;
/// Price of corn in it, US dollars per ton: judgement, near those printed for 2022.
pub const CORN_USD_PER_TON: f64 = 190.0;
/// Price of distillers grain in it, US dollars per ton: judgement, near those printed for 2022.
pub const DISTILLERS_USD_PER_TON: f64 = 240.0;
/// Classes a screening line can be of.
pub const CLASSES: [AnimalClass; 3] = [AnimalClass::Cow, AnimalClass::BredHeifer, AnimalClass::Stocker];

/// What it is, in words.
#[must_use]
pub fn words(class: AnimalClass, hay_usd_per_ton: f64) -> String {
    let cattle = match class {
        AnimalClass::Stocker => "stockers of 500 lb gaining 1.0 lb a day",
        AnimalClass::BredHeifer => "bred heifers of 950 lb calving 1 March",
        _ => "cows of 1,200 lb calving 1 March",
    };
    format!(
        "{cattle}, 15 November to 1 April, on mature bermuda hay at ${hay_usd_per_ton:.0} a ton, distillers grain at ${DISTILLERS_USD_PER_TON:.0}, corn at ${CORN_USD_PER_TON:.0}, 38 % cubes at $425"
    )
}

/// Its text.
#[must_use]
pub fn herd_text(class: AnimalClass, weather: Option<&str>, year: i16, hay_usd_per_ton: f64) -> String {
    let next = year + 1;
    let cattle = match class {
        AnimalClass::Stocker => {
            format!(
                "stockers: {{kind: stocker, head: {HEAD}, weight_lb: 500, mature_weight_lb: 1200, gain_lb_per_day: 1.0}}"
            )
        }
        AnimalClass::BredHeifer => format!(
            "bred_heifers: {{kind: bred_heifer, head: {HEAD}, weight_lb: 950, mature_weight_lb: 1200, condition: 5.5, calving: {next}-03-01}}"
        ),
        _ => format!("cows: {{kind: cow, head: {HEAD}, weight_lb: 1200, condition: 5.5, calving: {next}-03-01}}"),
    };
    let place = weather.map_or(String::new(), |weather| format!("place: {{weather: {weather}}}\n"));
    format!(
        "{place}winter: {{from: {year}-11-15, to: {next}-04-01}}\ngroups:\n  {cattle}\nfeeds:\n  \
         bermuda_hay_mature: {{price_usd_per_ton: {hay_usd_per_ton}}}\n  range_cube_38: {{price_usd_per_ton: 425}}\n  \
         distillers_grains: {{price_usd_per_ton: {DISTILLERS_USD_PER_TON}}}\n  corn: {{price_usd_per_ton: {CORN_USD_PER_TON}}}\n  limestone: {{price_usd_per_ton: 180}}\n  \
         mineral_12_12: {{price_usd_per_ton: 900}}\n"
    )
}
