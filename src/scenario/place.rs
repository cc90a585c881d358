//! The place: its name, its weather by month, shelter, and the cold spell to be ready for.

use super::Library;
use super::code::Code;
use super::fields::{Fields, Notes};
use super::measure::{MEAN_TEMPERATURE, SHELTER, SPELL_DAYS, WIND};
use super::near;
use super::node::{Entry, Kind};
use super::winter::Winter;
use crate::diagnostic::Span;
use crate::herd::{Coat, ColdSpell, MonthWeather, Place};

/// Words for the coat.
pub(crate) const COATS: [(&str, Coat); 5] = [
    ("dry", Coat::Dry),
    ("heavy", Coat::Heavy),
    ("some_mud", Coat::SomeMud),
    ("wet", Coat::Wet),
    ("muddy", Coat::Muddy),
];

/// Keys of the months.
/// Keys of the months.
pub(crate) const MONTHS: [&str; 12] =
    ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];
/// Names of the months.
const NAMES: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// Reads `place:`; all of it may be left out.
pub(crate) fn read(
    entry: Option<&Entry>,
    winter: Option<&Winter>,
    library: Library<'_>,
    notes: &mut Notes,
) -> Option<Place> {
    let mut place = Place::default();
    let mut span = winter.map_or(0..0, |winter| winter.span.clone());
    let mut right = true;
    if let Some(entry) = entry {
        span = entry.key_span.clone();
        let mut fields = Fields::open(&entry.value, "`place`", entry.key_span.clone(), notes)?;
        place.name = fields.text("name", notes).unwrap_or_default().to_owned();
        if let Some(entry) = fields.entry("weather") {
            span = entry.key_span.clone();
            let before = notes.list.len();
            weather(entry, &mut place, library, notes);
            right = notes.list.len() == before;
        }
        place.sun = fields.flag("sun", notes).unwrap_or(false);
        place.shelter_share = fields.number(&SHELTER, notes).unwrap_or(0.0) / 100.0;
        place.acclimatization = fields.flag("acclimatization", notes).unwrap_or(false);
        let before = notes.list.len();
        if let Some(entry) = fields.entry("cold_spell") {
            place.cold_spell = cold_spell(entry, &mut place.cold_spell_kind, &place.weather, winter, library, notes);
        }
        // That a spell lacks weather says it all.
        right &= notes.list[before..].iter().all(|one| one.code != Code::SpellWeather.text());
        fields.close(notes);
    }
    // Where the weather itself is wrong, months that fail to be read are not missing.
    if let Some(winter) = winter.filter(|_| right) {
        missing_months(&place, winter, span, notes);
    }
    Some(place)
}

fn weather(entry: &Entry, place: &mut Place, library: Library<'_>, notes: &mut Notes) {
    if let Kind::Scalar { text, .. } = &entry.value.kind {
        region(text, entry.place(), place, library, notes);
        return;
    }
    let opened = Fields::open(&entry.value, "`weather`", entry.key_span.clone(), notes);
    let Some(mut fields) = opened else { return };
    if let Some(name) = fields.text("region", notes) {
        let at = fields.entry("region").map_or(entry.key_span.clone(), Entry::place);
        region(name, at, place, library, notes);
    }
    if let Some(months) = fields.entry("months") {
        let opened = Fields::open(&months.value, "`months`", months.key_span.clone(), notes);
        if let Some(mut each) = opened {
            for (index, key) in MONTHS.iter().enumerate() {
                if let Some(month) = each.entry(key) {
                    place.weather[index] = own_month(month, NAMES[index], place.weather[index], notes);
                    place.own_months.push(index);
                }
            }
            each.close(notes);
        }
    }
    fields.close(notes);
}

/// A month of the file's own; what it leaves out is taken from the region, if one is named.
fn own_month(entry: &Entry, name: &str, usual: Option<MonthWeather>, notes: &mut Notes) -> Option<MonthWeather> {
    let mut fields = Fields::open(&entry.value, format!("weather of {name}"), entry.key_span.clone(), notes)?;
    let (mean, wind) = match usual {
        Some(usual) => (
            fields.number(&MEAN_TEMPERATURE, notes).or(Some(usual.mean_c)),
            fields.number(&WIND, notes).or(Some(usual.wind_kmh)),
        ),
        None => (fields.number_required(&MEAN_TEMPERATURE, "40", notes), fields.number_required(&WIND, "10", notes)),
    };
    fields.close(notes);
    Some(MonthWeather { mean_c: mean?, wind_kmh: wind? })
}

fn region(name: &str, at: Span, place: &mut Place, library: Library<'_>, notes: &mut Notes) {
    if let Some((key, months)) = library.regions.iter().find(|(key, _)| *key == name) {
        place.region = Some((*key).to_owned());
        place.weather = *months;
        return;
    }
    let keys = library.regions.iter().map(|(key, _)| *key);
    let help = match near::nearest(name, keys.clone()) {
        Some(key) => format!("write `{key}`"),
        None => format!("write one of {}", near::list(keys).unwrap_or_default()),
    };
    notes.push(
        Code::UnknownRegion
            .error(format!("no weather is known for `{}`", super::values::shortened(name)))
            .at(at, "not a region")
            .help(format!("{help}, or give `weather: {{months: {{jan: {{mean_f: 40, wind_mph: 10}}, …}}}}`")),
    );
}

/// A spell by its kind alone, or as a map: with `kind` what it leaves out is the kind's.
fn cold_spell(
    entry: &Entry,
    kind: &mut Option<String>,
    weather: &[Option<MonthWeather>; 12],
    winter: Option<&Winter>,
    library: Library<'_>,
    notes: &mut Notes,
) -> Option<ColdSpell> {
    let kinds: Vec<(&str, (&str, u32, f64))> = library.spells.iter().map(|one| (one.0, *one)).collect();
    if matches!(entry.value.kind, Kind::Scalar { .. }) {
        let named = super::values::choice("cold_spell", &entry.value, &kinds, notes)?;
        let usual = usual_spell(named, entry, weather, winter?, notes)?;
        *kind = Some(named.0.to_owned());
        return Some(usual);
    }
    let mut fields = Fields::open(&entry.value, "`cold_spell`", entry.key_span.clone(), notes)?;
    let named = fields.choice("kind", &kinds, notes);
    let usual = match (named, winter) {
        (Some(named), Some(winter)) => {
            *kind = Some(named.0.to_owned());
            usual_spell(named, entry, weather, winter, notes)
        }
        _ => None,
    };
    let coat = fields.choice("coat", &COATS, notes).unwrap_or_default();
    let spell = if named.is_some() {
        let days = fields.present("days").then(|| fields.whole(&SPELL_DAYS, "7", notes));
        let mean_c = fields.number(&MEAN_TEMPERATURE, notes);
        let wind_kmh = fields.number(&WIND, notes);
        usual.and_then(|usual| {
            Some(ColdSpell {
                days: days.unwrap_or(Some(usual.days))?,
                mean_c: mean_c.unwrap_or(usual.mean_c),
                wind_kmh: wind_kmh.unwrap_or(usual.wind_kmh),
                coat,
            })
        })
    } else {
        let days = fields.whole(&SPELL_DAYS, "7", notes);
        let mean_c = fields.number_required(&MEAN_TEMPERATURE, "10", notes);
        let wind_kmh = fields.number_required(&WIND, "15", notes);
        days.zip(mean_c).zip(wind_kmh).map(|((days, mean_c), wind_kmh)| ColdSpell { days, mean_c, wind_kmh, coat })
    };
    fields.close(notes);
    spell
}

/// A spell of a kind in the coldest month of the winter, with the wind of that month.
fn usual_spell(
    (kind, days, below_f): (&str, u32, f64),
    entry: &Entry,
    weather: &[Option<MonthWeather>; 12],
    winter: &Winter,
    notes: &mut Notes,
) -> Option<ColdSpell> {
    let months = winter.periods.iter().flat_map(crate::herd::Period::dates);
    let coldest = months
        .filter_map(|day| weather[usize::from(day.month().unsigned_abs()).saturating_sub(1) % 12])
        .min_by(|a, b| a.mean_c.total_cmp(&b.mean_c));
    let Some(month) = coldest else {
        notes.push(
            Code::SpellWeather
                .error(format!("a cold spell is `{kind}` against the mean of the month, and no weather is known"))
                .at(entry.place(), "no mean to go by")
                .help("name a region under `weather`, or write the spell out: `{days: 7, mean_f: 10, wind_mph: 15}`"),
        );
        return None;
    };
    Some(ColdSpell { days, mean_c: month.mean_c - below_f / 1.8, wind_kmh: month.wind_kmh, coat: Coat::Dry })
}

/// Warns of the months of the winter whose weather is not known.
fn missing_months(place: &Place, winter: &Winter, span: Span, notes: &mut Notes) {
    let mut missing: Vec<&str> = Vec::new();
    for period in &winter.periods {
        for day in period.dates() {
            let month = usize::from(day.month().unsigned_abs()).saturating_sub(1) % 12;
            if place.weather[month].is_none() && !missing.contains(&NAMES[month]) {
                missing.push(NAMES[month]);
            }
        }
    }
    if missing.is_empty() {
        return;
    }
    let all = place.weather.iter().all(Option::is_none);
    let message = if all {
        "no weather is given, so no cold is counted".to_owned()
    } else {
        format!("no weather for {}, so no cold is counted then", missing.join(", "))
    };
    notes.push(
        Code::NoWeather
            .warning(message)
            .at(span, if all { "no weather for this winter" } else { "months are missing here" })
            .because("cattle need more feed in cold and wind; without it the ration may be too small")
            .help(match &place.region {
                Some(region) => {
                    format!("the region has the winter months; write `weather: {{region: {region}, months: {{{}: {{mean_f: 60, wind_mph: 10}}}}}}` with your figures", missing[0][..3].to_lowercase())
                }
                None => "name a region under `weather:`, or give `mean_f` and `wind_mph` for each month".to_owned(),
            }),
    );
}
