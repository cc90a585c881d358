//! Reading herd files with everything that ships, planning, and looking things up in a report.

use overwinter::feed::{FeedTable, Losses, Offer};
use overwinter::herd::{MonthWeather, WeatherTable};
use overwinter::limit::RULES;
use overwinter::report::model::{LimitLine, PeriodReport, Report};
use overwinter::scenario::{self, Library};
use overwinter::winter::Case;
use overwinter::{Stop, check_rations, plan};
use std::path::PathBuf;
use std::sync::LazyLock;

pub(crate) static FEEDS: LazyLock<FeedTable> = LazyLock::new(|| FeedTable::shipped().unwrap());
pub(crate) static LOSSES: LazyLock<Losses> = LazyLock::new(|| Losses::shipped(FEEDS.bibliography()).unwrap());
static WEATHER: LazyLock<WeatherTable> = LazyLock::new(|| WeatherTable::shipped().unwrap());
type Regions = Vec<(&'static str, [Option<MonthWeather>; 12])>;
static REGIONS: LazyLock<Regions> =
    LazyLock::new(|| WEATHER.regions.iter().map(|(key, region)| (key.as_str(), region.by_month())).collect());
static SPELLS: LazyLock<Vec<(&str, u32, f64)>> =
    LazyLock::new(|| WEATHER.cold_spells.iter().map(|(key, row)| (key.as_str(), row.days, row.below_mean_f)).collect());
static IDS: LazyLock<Vec<&'static str>> = LazyLock::new(|| RULES.iter().map(|rule| rule.id).collect());

/// A herd file as a case, or its errors.
pub(crate) fn try_read(text: &str) -> Result<Case, String> {
    let library = Library { feeds: &FEEDS, losses: &LOSSES, regions: &REGIONS, spells: &SPELLS, rules: &IDS };
    scenario::read(text, library).map(|read| read.value).map_err(|list| format!("{list:#?}\nin\n{text}"))
}

/// A herd file as a case.
pub(crate) fn read(text: &str) -> Case {
    try_read(text).unwrap_or_else(|why| panic!("{why}"))
}

pub(crate) fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// The text of a herd file of `tests/herds`.
pub(crate) fn herd_text(name: &str) -> String {
    let path = root().join("tests/herds").join(name);
    std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// A herd file of `tests/herds`.
pub(crate) fn herd(name: &str) -> Case {
    read(&herd_text(name))
}

/// Why there is no report, in words.
pub(crate) fn words(stop: &Stop) -> String {
    match stop {
        Stop::Input(list) => format!("input: {list:#?}"),
        Stop::Short(short) => format!("short: {short:#?}"),
        Stop::Unproven(why) => format!("unproven: {why}"),
    }
}

/// The plan of a case that has one.
pub(crate) fn planned(case: &Case) -> Report {
    plan(case).unwrap_or_else(|stop| panic!("{}", words(&stop)))
}

/// The check of a case whose rations are written down.
pub(crate) fn checked(case: &Case) -> Report {
    check_rations(case).unwrap_or_else(|stop| panic!("{}", words(&stop)))
}

/// An offer by name.
pub(crate) fn offer<'a>(case: &'a mut Case, id: &str) -> &'a mut Offer {
    case.offers.iter_mut().find(|offer| offer.id == id).unwrap_or_else(|| panic!("no offer {id}"))
}

/// Sets the price of an offer, US dollars per ton.
pub(crate) fn price(case: &mut Case, id: &str, usd_per_ton: f64) {
    offer(case, id).price_usd_per_ton = Some(usd_per_ton);
}

/// Pounds as fed of a feed in a period, 0 where it is not fed.
pub(crate) fn lb(period: &PeriodReport, feed: &str) -> f64 {
    period.ration.iter().find(|line| line.feed == feed).map_or(0.0, |line| line.lb_as_fed)
}

/// The line of a rule.
pub(crate) fn line<'a>(period: &'a PeriodReport, rule: &str) -> &'a LimitLine {
    period.limits.iter().find(|line| line.rule == rule).unwrap_or_else(|| panic!("no line {rule}"))
}

/// The line of a rule about one feed.
pub(crate) fn line_of<'a>(period: &'a PeriodReport, rule: &str, feed: &str) -> &'a LimitLine {
    let found = period.limits.iter().find(|line| line.rule == rule && line.feed.as_deref() == Some(feed));
    found.unwrap_or_else(|| panic!("no line {rule} of {feed}"))
}

/// Both within a distance, with words.
#[track_caller]
pub(crate) fn near(ours: f64, theirs: f64, within: f64, what: &str) {
    assert!((ours - theirs).abs() <= within, "{what}: {ours} against {theirs}, more than {within} apart");
}
