//! How far prices and requirements can move: plain data and the CSV of `overwinter plan --ranges`.

use super::csv::table as csv_table;
use super::model::{SamePlan, Worth};
use crate::limit::rule;
use crate::lp::Uniqueness;
use crate::value::price_range::{self, PriceRange};
use crate::value::ranges::{self, Names, Ranges, Side};
use crate::value::worth::Use;
use crate::winter::{Case, Cells};
use serde::Serialize;

/// More or less of a feed.
#[derive(Debug, Clone, Serialize)]
pub struct TonsChange {
    /// The feed.
    pub feed: String,
    /// Short tons over the winter; below 0: less.
    pub tons: f64,
}

/// One end of a price range.
#[derive(Debug, Clone, Serialize)]
pub struct PriceEndLine {
    /// Delivered price, US dollars per short ton; absent: no price changes the kind of plan.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub usd_per_ton: Option<f64>,
    /// Least cost of the winter there, US dollars.
    pub winter_usd: f64,
    /// What changes beyond: feeds that come in or grow, and feeds that go out or shrink.
    pub beyond: Vec<TonsChange>,
}

/// The range of one price.
#[derive(Debug, Clone, Serialize)]
pub struct PriceLine {
    /// The feed.
    pub feed: String,
    /// Delivered price now, US dollars per short ton.
    pub usd_per_ton: f64,
    /// Short tons bought over the winter at it.
    pub tons: f64,
    /// Two plans cost the same at it.
    pub tied: bool,
    /// Lower end.
    pub down: PriceEndLine,
    /// Upper end.
    pub up: PriceEndLine,
}

/// One end of the range of a requirement.
#[derive(Debug, Clone, Serialize)]
pub struct SideEndLine {
    /// The figure; absent: it can move without end.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub figure: Option<f64>,
    /// Least cost of the winter there, US dollars.
    pub winter_usd: f64,
    /// Nothing meets the needs beyond it.
    pub is_last: bool,
    /// US dollars for one unit more beyond it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub usd_per_unit_beyond: Option<f64>,
    /// Feeds that come in beyond it, with group and period.
    pub comes_in: Vec<String>,
    /// Feeds that go out.
    pub goes_out: Vec<String>,
    /// Rules that bind.
    pub binds: Vec<String>,
    /// Rules that come free.
    pub frees: Vec<String>,
}

/// The range of one requirement.
#[derive(Debug, Clone, Serialize)]
pub struct SideLine {
    /// Group; absent for stores.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub group: Option<String>,
    /// Period; absent for what holds all winter.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub period: Option<String>,
    /// Id of the rule, or `on-hand`, `room`, `supply`.
    pub rule: &'static str,
    /// Its name for people.
    pub title: String,
    /// The figure now.
    pub figure: f64,
    /// Its unit.
    pub unit: &'static str,
    /// US dollars for one unit more: per head and day for rules, for the winter for tons.
    pub usd_per_unit: f64,
    /// At a corner: the same for one unit less.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub usd_per_unit_less: Option<f64>,
    /// At a corner: the same for one unit more.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub usd_per_unit_more: Option<f64>,
    /// Lower end; absent where growth bends the programme.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub down: Option<SideEndLine>,
    /// Upper end.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub up: Option<SideEndLine>,
    /// Decimals a person wants.
    #[serde(skip)]
    pub digits: usize,
}

/// All ranges.
#[derive(Debug, Clone, Serialize)]
pub struct RangesReport {
    /// Least cost of the winter in part loads, US dollars.
    pub winter_usd: f64,
    /// No other plan costs the same; absent: not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub unique: Option<bool>,
    /// Of prices.
    pub prices: Vec<PriceLine>,
    /// Feeds for whose price no range could be proved.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub prices_not_proved: Vec<String>,
    /// Of requirements.
    pub requirements: Vec<SideLine>,
}

/// Lays the ends of price ranges beside what the feeds are worth: the short form for the page of a plan.
pub fn beside_worth(case: &Case, list: &[PriceRange], worth: &mut [Worth]) {
    for range in list {
        let feed = &case.offers[range.offer].id;
        if let Some(worth) = worth.iter_mut().find(|worth| worth.feed == *feed) {
            worth.same_plan = Some(SamePlan {
                from_usd_per_ton: range.down.usd_per_ton,
                to_usd_per_ton: range.up.usd_per_ton,
                tied: range.tied,
            });
        }
    }
}

/// The plain data.
#[must_use]
pub fn of(case: &Case, cells: &Cells<'_>, found: &Ranges) -> RangesReport {
    let tons = |changes: &[Use]| -> Vec<TonsChange> {
        changes.iter().map(|one| TonsChange { feed: case.offers[one.offer].id.clone(), tons: one.tons }).collect()
    };
    let price_end = |end: &price_range::PriceEnd| PriceEndLine {
        usd_per_ton: end.usd_per_ton,
        winter_usd: end.winter_usd,
        beyond: tons(&end.changes),
    };
    RangesReport {
        winter_usd: found.winter_usd,
        unique: match found.uniqueness {
            Uniqueness::Unique => Some(true),
            Uniqueness::Tied { .. } => Some(false),
            Uniqueness::Unknown => None,
        },
        prices: found
            .prices
            .iter()
            .map(|range| PriceLine {
                feed: case.offers[range.offer].id.clone(),
                usd_per_ton: range.usd_per_ton,
                tons: range.tons,
                tied: range.tied,
                down: price_end(&range.down),
                up: price_end(&range.up),
            })
            .collect(),
        prices_not_proved: found.prices_unproved.iter().map(|f| case.offers[*f].id.clone()).collect(),
        requirements: found.sides.iter().map(|range| side_line(case, cells, range)).collect(),
    }
}

fn side_line(case: &Case, cells: &Cells<'_>, range: &ranges::SideRange) -> SideLine {
    let block = |g: usize, t: usize| (Some(case.groups[g].name.clone()), Some(case.periods[t].label.clone()));
    let store = |f: usize, what: &str| format!("{}: {what}", case.offers[f].id);
    let tons = "short tons";
    let ((group, period), id, title, unit, digits) = match range.side {
        Side::Rule { group, period, rule } => {
            let instance = &cells[group][period].demands.rules[rule];
            let title = instance
                .about
                .as_ref()
                .map_or_else(|| instance.rule.title.to_owned(), |about| format!("{}: {about}", instance.rule.title));
            (block(group, period), instance.rule.id, title, instance.rule.unit, instance.rule.digits)
        }
        Side::Growing { group, period, gain } => {
            let id = if gain { "growth" } else { "energy" };
            let title = if gain { "energy for growth" } else { "energy to keep them" };
            (block(group, period), id, title.to_owned(), rule(id).map_or("Mcal", |rule| rule.unit), 2)
        }
        Side::OnHand(f) => ((None, None), "on-hand", store(f, "on hand"), tons, 1),
        Side::Room(f) => ((None, None), "room", store(f, "room for it"), tons, 1),
        Side::Supply(f, t) => ((None, Some(case.periods[t].label.clone())), "supply", store(f, "offered"), tons, 1),
    };
    let end = |end: &ranges::SideEnd| {
        let Names { enters, leaves, binds, frees } = end.change.clone();
        SideEndLine {
            figure: end.figure.is_finite().then_some(end.figure),
            winter_usd: end.winter_usd,
            is_last: end.is_last,
            usd_per_unit_beyond: end.usd_beyond,
            comes_in: enters,
            goes_out: leaves,
            binds,
            frees,
        }
    };
    let (down, up) = range.ends.as_ref().map(|(down, up)| (end(down), end(up))).unzip();
    SideLine {
        group,
        period,
        rule: id,
        title,
        figure: range.figure,
        unit,
        usd_per_unit: range.usd_per_unit,
        usd_per_unit_less: range.one_sided.map(|(less, _)| less),
        usd_per_unit_more: range.one_sided.map(|(_, more)| more),
        down,
        up,
        digits,
    }
}

/// One row for each end.
#[must_use]
pub fn csv(report: &RangesReport) -> String {
    let header = [
        "of",
        "group",
        "period",
        "figure",
        "unit",
        "usd_per_unit",
        "end",
        "end_figure",
        "winter_usd_at_end",
        "usd_per_unit_beyond",
        "comes_in",
        "goes_out",
        "binds",
        "comes_free",
    ];
    let number = |value: Option<f64>| value.map_or_else(String::new, |value| format!("{value:.6}"));
    let mut rows = Vec::new();
    for price in &report.prices {
        for (end, name) in [(&price.down, "down"), (&price.up, "up")] {
            let list = |sign: f64| {
                let some = end.beyond.iter().filter(|one| one.tons * sign > 0.0);
                some.map(|one| format!("{} {:.3}", one.feed, one.tons.abs())).collect::<Vec<_>>().join("; ")
            };
            rows.push(vec![
                format!("price of {}", price.feed),
                String::new(),
                String::new(),
                number(Some(price.usd_per_ton)),
                "usd per short ton delivered".to_owned(),
                number(Some(price.tons)),
                name.to_owned(),
                number(end.usd_per_ton),
                number(Some(end.winter_usd)),
                String::new(),
                list(1.0),
                list(-1.0),
                String::new(),
                String::new(),
            ]);
        }
    }
    for line in &report.requirements {
        for (end, name) in [(&line.down, "down"), (&line.up, "up")] {
            let of = |list: fn(&SideEndLine) -> &Vec<String>| {
                end.as_ref().map_or_else(String::new, |end| list(end).join("; "))
            };
            rows.push(vec![
                line.title.clone(),
                line.group.clone().unwrap_or_default(),
                line.period.clone().unwrap_or_default(),
                number(Some(line.figure)),
                line.unit.to_owned(),
                number(Some(line.usd_per_unit)),
                name.to_owned(),
                number(end.as_ref().and_then(|end| end.figure)),
                number(end.as_ref().map(|end| end.winter_usd)),
                number(end.as_ref().and_then(|end| end.usd_per_unit_beyond)),
                of(|end| &end.comes_in),
                of(|end| &end.goes_out),
                of(|end| &end.binds),
                of(|end| &end.frees),
            ]);
        }
    }
    csv_table(&header, rows)
}
