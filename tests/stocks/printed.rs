//! Loads, tons, feeders and weeks against printed arithmetic.

use super::{AMOUNTS, fixed, only, plan_by};
use approx::assert_relative_eq;
use overwinter::feed::Supply;
use overwinter::feed::ginning::{GinOutput, Ginning};
use overwinter::winter;
use overwinter::winter::NoPlan;

#[derive(serde::Deserialize)]
struct Printed {
    loads: Vec<Load>,
    tons_per_cow: Vec<PerCow>,
    feeders: Vec<Feeder>,
    season: Vec<Weeks>,
}
#[derive(serde::Deserialize)]
struct Load {
    tons: f64,
    waste_pct: f64,
    loss_pct: f64,
    lb: f64,
    head: u32,
    days: u32,
}
#[derive(serde::Deserialize)]
struct PerCow {
    lb_dm: f64,
    days: u32,
    dm_pct: f64,
    waste_pct: f64,
    tons_dm: f64,
    tons_as_fed: f64,
    tons_with_waste: f64,
}
#[derive(serde::Deserialize)]
struct Feeder {
    name: String,
    gone: f64,
    waste: f64,
    eaten: f64,
}
#[derive(serde::Deserialize)]
struct Weeks {
    lb_per_bale: f64,
    from: jiff::civil::Date,
    to: jiff::civil::Date,
    tons: f64,
    tons_a_week: f64,
}

fn printed() -> Printed {
    serde_yaml::from_str(include_str!("../published/stocks.yaml")).unwrap()
}

#[test]
fn a_load_feeds_so_many_cows_so_many_days() {
    for row in printed().loads {
        let keys = format!("on_hand_tons: {}, waste_pct: {}, loss_pct: {}", row.tons, row.waste_pct, row.loss_pct);
        let enough = fixed("prairie_hay", row.lb, row.head, row.days, &keys);
        let plan = plan_by(&enough, &AMOUNTS);
        let left = plan.feeds[0].flows.last().unwrap().left_tons;
        assert!(left.abs() < 1e-6 * row.tons, "{} tons leave {left}", row.tons);
        // One day more than it lasts cannot be fed from it.
        let longer = fixed("prairie_hay", row.lb, row.head, row.days + 1, &keys);
        assert!(matches!(winter::plan(&longer, &only(&longer, &AMOUNTS)), Err(NoPlan::Short(_))), "{} tons", row.tons);
    }
}

#[test]
fn tons_for_a_cow_over_a_winter() {
    for row in printed().tons_per_cow {
        let lb = row.lb_dm / (row.dm_pct / 100.0);
        let keys = format!("price_usd_per_ton: 100, waste_pct: 0, loss_pct: 0, test: {{dm_pct: {}}}", row.dm_pct);
        let bare = plan_by(&fixed("prairie_hay", lb, 1, row.days, &keys), &AMOUNTS);
        let tons = bare.feeds[0].bought_tons();
        assert_relative_eq!(tons * row.dm_pct / 100.0, row.tons_dm, max_relative = 1e-9);
        assert!((tons - row.tons_as_fed).abs() <= 0.0005 + 1e-9, "{tons} against {}", row.tons_as_fed);
        assert_relative_eq!(bare.cost_usd, 100.0 * tons, max_relative = 1e-9);
        let keys = keys.replace("waste_pct: 0", &format!("waste_pct: {}", row.waste_pct));
        let wasted = plan_by(&fixed("prairie_hay", lb, 1, row.days, &keys), &AMOUNTS).feeds[0].bought_tons();
        assert!((wasted - row.tons_with_waste).abs() <= 0.0005 + 1e-9, "{wasted} against {}", row.tons_with_waste);
    }
}

/// The shares that a feeder trial prints, put in as waste, give back what disappeared for what was eaten. The printed
/// means are of separate measurements: they close to 1 % only, and so does ours.
#[test]
fn what_disappears_at_a_feeder() {
    for row in printed().feeders {
        let share = 100.0 * row.waste / row.gone;
        let keys = format!("price_usd_per_ton: 100, loss_pct: 0, waste_pct: {share}, test: {{dm_pct: 88}}");
        let case = fixed("prairie_hay", row.eaten / 0.88, 1, 30, &keys);
        let gone = plan_by(&case, &AMOUNTS).feeds[0].bought_tons() * 2000.0 * 0.88 / 30.0;
        assert!((gone / row.gone - 1.0).abs() < 0.01, "{}: {gone} against {}", row.name, row.gone);
    }
}

#[test]
fn a_gin_season_by_weeks() {
    let table = Ginning::shipped().unwrap();
    for row in printed().season {
        let output = GinOutput { bales: 30_000.0, lb_per_bale: row.lb_per_bale, waiting_weeks: 0.0, share: 1.0 };
        let supply = Supply::Curve(table.regions["southeast"].supply(&output, row.from));
        let tons = supply.tons_between(row.from, row.to);
        assert_relative_eq!(tons, row.tons, max_relative = 1e-9);
        let days = f64::from(row.from.until(row.to).unwrap().get_days());
        assert!((tons * 7.0 / days - row.tons_a_week).abs() <= 0.05 + 1e-9, "{}", tons * 7.0 / days);
    }
}
