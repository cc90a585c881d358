//! When to haul what: every load with its date, and what the stores, the loads and the feedings of a winter cost.

use crate::feed::{FedHow, Offer};
use crate::winter::loads::WholeLoads;
use crate::winter::reserve::{reserves, runs_out};
use crate::winter::{Case, Cells, FeedFlow, Plan};
use jiff::ToSpan;
use jiff::civil::Date;
use serde::Serialize;

/// Something to buy or haul on a day.
#[derive(Debug, Clone, Serialize)]
pub struct Haul {
    /// Day.
    pub date: String,
    /// Feed.
    pub feed: String,
    /// Loads; `None` where the size of a load is not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub loads: Option<u32>,
    /// Short tons as fed.
    pub tons: f64,
    /// US dollars, haul included.
    pub usd: f64,
    /// Days it lasts at the rate of feeding then.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lasts_days: Option<f64>,
}

/// What to keep for a cold spell.
#[derive(Debug, Clone, Serialize)]
pub struct ReserveLine {
    /// Feed.
    pub feed: String,
    /// Short tons beyond the plan.
    pub tons: f64,
    /// US dollars.
    pub usd: f64,
    /// Day the plan uses it up; missing: it lasts.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub runs_out: Option<String>,
    /// Day no more than the reserve is left of it; missing: it lasts.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub down_to_reserve: Option<String>,
}

/// The day a store is used up.
#[derive(Debug, Clone, Serialize)]
pub struct UsedUp {
    /// Feed.
    pub feed: String,
    /// Day, the feed of each period fed evenly over it.
    pub date: String,
}

/// What the limits of a store cost.
#[derive(Debug, Clone, Serialize)]
pub struct BindingStore {
    /// Feed.
    pub feed: String,
    /// Saved by one more short ton on hand at the start, US dollars.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub one_more_ton_usd: Option<f64>,
    /// Saved by room for one more short ton, US dollars.
    pub room_usd_per_ton: f64,
    /// Saved by one more short ton offered, at the most of all periods, US dollars.
    pub supply_usd_per_ton: f64,
    /// The period of that.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub supply_period: Option<String>,
    /// Saved if all of it came a week earlier, US dollars for the winter.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub week_earlier_usd: Option<f64>,
    /// Short tons of dry matter each group eats of it, the largest first.
    pub eaten_tons_dm: Vec<(String, f64)>,
}

/// How often a feed is put out by hand and what that costs.
#[derive(Debug, Clone, Serialize)]
pub struct FeedingLine {
    /// Feed.
    pub feed: String,
    /// Days from one feeding to the next.
    pub every_days: f64,
    /// Feedings over the winter.
    pub feedings: f64,
    /// US dollars of labor.
    pub labor_usd: f64,
    /// US dollars of labor if it were fed daily.
    pub labor_daily_usd: f64,
    /// Labor of one feeding, US dollars.
    pub usd_per_feeding: f64,
    /// Days could be skipped.
    pub may_skip: bool,
}

/// What one degree of steadiness costs.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct SteadyLine {
    /// Cost that may be given up, percent.
    pub steady_pct: f64,
    /// Pounds of dry matter that change hands.
    pub changes_lb: f64,
    /// More than the least cost, US dollars.
    pub more_usd: f64,
}

/// How whole loads were found.
#[derive(Debug, Clone, Serialize)]
pub struct LoadsLine {
    /// A plan in whole loads was found.
    pub found: bool,
    /// Within so many percent of the best possible.
    pub within_pct: f64,
    /// What whole loads cost more than part loads, US dollars.
    pub more_than_part_loads_usd: f64,
    /// The search ran out of time.
    pub out_of_time: bool,
}

/// Everything about hauling and stores.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Stores {
    /// What to buy and haul, by date.
    pub hauling: Vec<Haul>,
    /// What the loads listed cost beyond the bill if each is paid as a load, US dollars: freight is counted by the ton of
    /// a full load.
    pub part_loads_more_usd: f64,
    /// When each store is used up; one that lasts is not named.
    pub used_up: Vec<UsedUp>,
    /// What to keep for a cold spell.
    pub reserve: Vec<ReserveLine>,
    /// What the limits of the stores cost.
    pub binding_store: Vec<BindingStore>,
    /// Labor of feedings.
    pub feedings: Vec<FeedingLine>,
    /// What steadiness costs.
    pub steadiness: Vec<SteadyLine>,
    /// Whole loads.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub whole_loads: Option<LoadsLine>,
    /// Owned feeds whose leftovers count for nothing.
    pub leftover_worth_nothing: Vec<String>,
    /// Too big a winter for the questions that need it solved again and again.
    pub big_winter: bool,
}

/// Reads them from a plan.
#[must_use]
pub fn stores(case: &Case, cells: &Cells<'_>, plan: &Plan) -> Stores {
    let kept = reserves(case, cells, plan);
    let date = |day: Option<Date>| day.map(|day| day.to_string());
    let hauling = hauling(case, plan);
    Stores {
        part_loads_more_usd: part_loads_more_usd(case, &hauling),
        hauling,
        reserve: kept
            .iter()
            .map(|one| ReserveLine {
                feed: case.offers[one.offer].id.clone(),
                tons: one.tons,
                usd: one.usd,
                runs_out: date(runs_out(case, &plan.feeds[one.offer], 0.0)),
                down_to_reserve: date(runs_out(case, &plan.feeds[one.offer], one.tons)),
            })
            .collect(),
        used_up: case
            .offers
            .iter()
            .zip(&plan.feeds)
            .filter(|(offer, _)| offer.is_stored())
            .filter_map(|(offer, feed)| {
                Some(UsedUp { feed: offer.id.clone(), date: runs_out(case, feed, 0.0)?.to_string() })
            })
            .collect(),
        binding_store: binding(case, plan),
        feedings: feedings(case, plan),
        steadiness: plan
            .steadiness
            .iter()
            .map(|one| SteadyLine { steady_pct: one.percent, changes_lb: one.changes_lb, more_usd: one.more_usd })
            .collect(),
        whole_loads: plan.whole.as_ref().map(|whole| match whole {
            WholeLoads::Found { gap, part_loads_usd, out_of_time, .. } => LoadsLine {
                found: true,
                within_pct: gap * 100.0,
                more_than_part_loads_usd: plan.least_cost_usd - part_loads_usd,
                out_of_time: *out_of_time,
            },
            WholeLoads::Failed(_) => {
                LoadsLine { found: false, within_pct: 0.0, more_than_part_loads_usd: 0.0, out_of_time: false }
            }
        }),
        leftover_worth_nothing: case
            .offers
            .iter()
            .zip(&plan.feeds)
            .filter(|(offer, feed)| {
                let left = feed.flows.last().map_or(0.0, |flow| flow.left_tons);
                offer.is_stored() && left > 0.05 && offer.end_value_usd_per_ton() <= 0.0
            })
            .map(|(offer, _)| offer.id.clone())
            .collect(),
        big_winter: plan.big,
    }
}

/// What paying every load listed as a load costs beyond its tons at the price of a full load, US dollars.
fn part_loads_more_usd(case: &Case, hauling: &[Haul]) -> f64 {
    let more = hauling.iter().filter_map(|haul| {
        let freight = case.offers.iter().find(|offer| offer.id == haul.feed)?.freight?;
        Some(f64::from(haul.loads?) * freight.usd_per_load() - haul.tons * freight.usd_per_ton())
    });
    more.map(|usd| usd.max(0.0)).sum::<f64>().max(0.0)
}

/// US dollars of labor over the winter.
#[must_use]
pub fn labor_usd(stores: &Stores) -> f64 {
    // The sum of nothing is −0.
    0.0 + stores.feedings.iter().map(|line| line.labor_usd).sum::<f64>()
}

fn binding(case: &Case, plan: &Plan) -> Vec<BindingStore> {
    let eaten = |f: usize| {
        let mut list: Vec<(String, f64)> = case
            .groups
            .iter()
            .zip(&plan.rations)
            .map(|(group, row)| {
                let kg: f64 =
                    row.iter().zip(&case.periods).map(|(one, period)| one.kg_dm[f] * f64::from(period.days())).sum();
                (group.name.clone(), kg * f64::from(group.head) / crate::quantity::KG_PER_TON)
            })
            .filter(|(_, tons)| *tons > 0.005)
            .collect();
        list.sort_by(|a, b| b.1.total_cmp(&a.1));
        list
    };
    let stores = case.offers.iter().zip(&plan.stores).enumerate();
    stores
        .filter_map(|(f, (offer, store))| {
            let store = store.as_ref()?;
            let most = (0..store.supply_usd_per_ton.len())
                .max_by(|a, b| store.supply_usd_per_ton[*a].total_cmp(&store.supply_usd_per_ton[*b]));
            let supply = most.map_or(0.0, |t| store.supply_usd_per_ton[t]);
            Some(BindingStore {
                feed: offer.id.clone(),
                one_more_ton_usd: plan.feeds[f].one_more_ton_usd,
                room_usd_per_ton: store.room_usd_per_ton,
                supply_usd_per_ton: supply,
                supply_period: most.filter(|_| supply > 0.0).map(|t| case.periods[t].label.clone()),
                week_earlier_usd: store.week_earlier_usd,
                eaten_tons_dm: eaten(f),
            })
        })
        .collect()
}

fn feedings(case: &Case, plan: &Plan) -> Vec<FeedingLine> {
    let one = |(f, offer): (usize, &Offer)| {
        let usd_per_feeding = offer.feeding.usd_per_feeding?;
        let days: u32 = (0..case.periods.len())
            .filter(|t| {
                case.groups
                    .iter()
                    .zip(&plan.rations)
                    .any(|(group, row)| row[*t].kg_dm[f] > 1e-6 && offer.fed_for(&group.name) == FedHow::ByHand)
            })
            .map(|t| case.periods[t].days())
            .sum();
        let feedings = f64::from(days) / offer.feeding.every_days;
        (days > 0).then(|| FeedingLine {
            feed: offer.id.clone(),
            every_days: offer.feeding.every_days,
            feedings,
            labor_usd: feedings * usd_per_feeding,
            labor_daily_usd: f64::from(days) * usd_per_feeding,
            usd_per_feeding,
            may_skip: offer.may_skip_days(),
        })
    };
    case.offers.iter().enumerate().filter_map(one).collect()
}

/// Everything to buy or haul, in the order of dates.
#[must_use]
pub fn hauling(case: &Case, plan: &Plan) -> Vec<Haul> {
    let mut list = Vec::new();
    for (offer, feed) in case.offers.iter().zip(&plan.feeds) {
        if feed.bought_tons() <= 1e-6 {
            continue;
        }
        if offer.is_stored() {
            for (t, flow) in feed.flows.iter().enumerate() {
                kept_loads(&mut list, case, offer, t, flow);
            }
        } else {
            used_loads(&mut list, case, offer, &feed.flows);
        }
    }
    list.sort_by_key(|one| one.0);
    list.into_iter().map(|(_, haul)| haul).collect()
}

/// Loads of a feed that is kept: those of a period spread evenly over it.
fn kept_loads(list: &mut Vec<(Date, Haul)>, case: &Case, offer: &Offer, t: usize, flow: &FeedFlow) {
    if flow.bought_tons <= 1e-6 {
        return;
    }
    let period = &case.periods[t];
    let size = offer.freight.map(|freight| freight.tons_per_load);
    let count = size.map_or(1, |size| super::build::whole_loads(flow.bought_tons, size).max(1));
    let tons = flow.bought_tons / f64::from(count);
    let drawn_a_day = (flow.fed_tons / offer.kept_over(f64::from(period.days()))) / f64::from(period.days());
    for load in 0..count {
        let day = i64::from(load) * i64::from(period.days()) / i64::from(count);
        let date = period.from.checked_add(day.days()).unwrap_or(period.from);
        list.push((
            date,
            Haul {
                date: date.to_string(),
                feed: offer.id.clone(),
                loads: size.map(|_| 1),
                tons,
                usd: flow.usd / f64::from(count),
                lasts_days: (drawn_a_day > 1e-9).then(|| tons / drawn_a_day),
            },
        ));
    }
}

/// Loads of a feed bought as it is fed: the next comes when the last is used up. Without a size of load, what a period
/// takes; small things are bought once.
fn used_loads(list: &mut Vec<(Date, Haul)>, case: &Case, offer: &Offer, flows: &[FeedFlow]) {
    /// Feeds of which a winter takes less are bought once, short tons.
    const SMALL_TONS: f64 = 3.0;
    let total: f64 = flows.iter().map(|flow| flow.bought_tons).sum();
    let paid: f64 = flows.iter().map(|flow| flow.usd).sum();
    let size = match offer.freight {
        Some(freight) => freight.tons_per_load,
        None if total < SMALL_TONS => total,
        None => {
            for (flow, period) in flows.iter().zip(&case.periods).filter(|(flow, _)| flow.bought_tons > 1e-6) {
                let (date, lasts_days) = (period.from, Some(f64::from(period.days())));
                let (feed, loads, tons, usd) = (offer.id.clone(), None, flow.bought_tons, flow.usd);
                list.push((date, Haul { date: date.to_string(), feed, loads, tons, usd, lasts_days }));
            }
            return;
        }
    };
    let (mut hauled, mut used, mut last) = (0.0, 0.0, None::<usize>);
    for (flow, period) in flows.iter().zip(&case.periods) {
        let a_day = flow.bought_tons / f64::from(period.days());
        for date in period.dates() {
            used += a_day;
            if used > hauled + 1e-9 && hauled < total - 1e-6 {
                let tons = size.min(total - hauled);
                if let Some(before) = last {
                    let days = list[before].0.until(date).map_or(0, |span| span.get_days());
                    list[before].1.lasts_days = Some(f64::from(days));
                }
                last = Some(list.len());
                let (feed, loads) = (offer.id.clone(), offer.freight.map(|_| 1));
                let usd = paid * tons / total;
                list.push((date, Haul { date: date.to_string(), feed, loads, tons, usd, lasts_days: None }));
                hauled += tons;
            }
        }
    }
}
