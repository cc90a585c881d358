//! Feed budgets as printed: loss and waste, feeders, loads. Several print times (1 + loss); ours divides by
//! (1 − loss), and compounds storage and feeding, since both are shares of what was bought.

use super::kit::{FEEDS, LOSSES, near};
use crate::rows::{Inputs, Ours, run};
use indexmap::indexmap;
use overwinter::feed::offer::StorageLoss;
use overwinter::feed::{Figure, Nutrient, Offer};
use overwinter::quantity::{KG_PER_LB, KG_PER_TON};

const DAYS: f64 = 120.0;

/// A feed of the table at a dry matter, price, loss and waste.
fn offer(feed: &str, dm_pct: f64, usd_per_ton: f64, loss_pct: f64, waste_pct: f64) -> Offer {
    let mut feed = FEEDS.get(feed).unwrap().clone();
    feed.values.insert(Nutrient::Dm, Figure::given(dm_pct));
    Offer { loss: StorageLoss::Flat(loss_pct / 100.0), waste: waste_pct / 100.0, ..Offer::bought(feed, usd_per_ton) }
}

/// US dollars for a short ton of dry matter eaten.
fn usd_per_dm_ton_eaten(offer: &Offer) -> f64 {
    offer.delivered_usd_per_ton().unwrap() * offer.tons_per_kg_dm_eaten(DAYS) * KG_PER_TON
}

#[test]
fn the_budget_with_whole_cottonseed() {
    run("plan_budget_whole_cottonseed.yaml", |row: &Inputs| -> Ours {
        let (dm, price) = (row.number("dm_pct") / 100.0, row.number("usd_per_ton"));
        let (storage, feeding) = (row.number("storage_usd"), row.number("feeding_usd"));
        let (loss, waste) = (row.number("storage_loss_pct"), row.number("waste_pct"));
        // As printed.
        let per_dm_ton = price / dm;
        let with = per_dm_ton + storage + feeding;
        let multiplied = with * (1.0 + (loss + waste) / 100.0);
        let day = multiplied / 2000.0 * row.number("lb_dm");
        let herd = day * DAYS * 100.0;
        // Ours: the dollars of storage and feeding go into the price of a ton as fed.
        let all_in = price + (storage + feeding) * dm;
        let once = offer(row.text("feed"), row.number("dm_pct"), all_in, 0.0, loss + waste);
        let compounded = offer(row.text("feed"), row.number("dm_pct"), all_in, loss, waste);
        indexmap! {
            "usd_per_dm_ton" => per_dm_ton,
            "with_storage_and_feeding" => with,
            "multiplied" => multiplied,
            "usd_per_lb_dm" => multiplied / 2000.0,
            "usd_per_cow_day" => day,
            "usd_per_cow" => herd / 100.0,
            "usd_100_cows" => herd,
            "usd_100_cows_last_digit_lost" => herd,
            "divided_once" => usd_per_dm_ton_eaten(&once),
            "divided_compounded" => usd_per_dm_ton_eaten(&compounded),
        }
    });
}

#[test]
fn hay_feeders() {
    run("plan_hay_feeders.yaml", |row: &Inputs| -> Ours {
        let share = LOSSES.feeder(row.text("feeder")).unwrap().share();
        let (lb, usd) = (row.number("bale_lb"), row.number("bale_usd"));
        let ring = offer("prairie_hay", 90.0, usd / lb * 2000.0, 0.0, 100.0 * share);
        // A bale put in the feeder is what must be bought for what is eaten out of it.
        let eaten_kg_dm = lb * (1.0 - share) * KG_PER_LB * 0.90;
        let bought = ring.tons_per_kg_dm_eaten(1.0) * eaten_kg_dm;
        near(bought * 2000.0, lb, 1e-9, "a bale");
        let wasted_usd = ring.delivered_usd_per_ton().unwrap() * (bought - eaten_kg_dm / 0.90 / KG_PER_TON);
        indexmap! {
            "waste_pct" => 100.0 * share,
            "lb_per_bale" => bought * 2000.0 * share,
            "usd_per_bale" => wasted_usd,
            "usd_per_month" => wasted_usd * row.number("bales_per_month"),
            "usd_per_season" => wasted_usd * row.number("bales_per_season"),
        }
    });
}

#[test]
fn hay_to_haul() {
    run("plan_hay_hauled.yaml", |row: &Inputs| -> Ours {
        let dm = row.number("weight_lb") * row.number("intake_pct") / 100.0;
        let hay = offer("prairie_hay", row.number("dm_pct"), 100.0, 0.0, row.number("waste_pct"));
        let unwasted = offer("prairie_hay", row.number("dm_pct"), 100.0, 0.0, 0.0);
        let hauled = |offer: &Offer| offer.tons_per_kg_dm_eaten(1.0) * dm * KG_PER_LB * 2000.0;
        // Their way, to show where the difference is from.
        near(hauled(&unwasted) * 1.15, 30.0, 0.5, "their multiplication");
        indexmap! { "lb_dm" => dm, "lb_as_fed" => hauled(&unwasted), "lb_hauled" => hauled(&hay) }
    });
}

#[test]
fn how_long_a_load_lasts() {
    run("plan_loads.yaml", |row: &Inputs| -> Ours {
        let feed = offer(row.text("feed"), 90.0, 100.0, row.number("loss_pct"), row.number("waste_pct"));
        let tons_a_day =
            feed.tons_per_kg_dm_eaten(1.0) * row.number("lb_eaten") * 0.90 * KG_PER_LB * row.number("head");
        indexmap! { "days" => row.number("tons") / tons_a_day }
    });
}
