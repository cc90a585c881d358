//! How far it pays to haul, and how many cattle stand within a distance.

use crate::feed::Freight;

/// Loaded miles at which the haul has eaten what a ton is worth beyond price and loading: (value − price − loading) over
/// dollars per ton and mile. 0 where even the least charge for a load is more.
#[must_use]
pub fn miles(value_usd: f64, price_usd: f64, loading_usd: f64, truck: &Freight) -> f64 {
    let left = value_usd - price_usd - loading_usd;
    if left * truck.tons_per_load < truck.minimum_usd || left <= 0.0 {
        return 0.0;
    }
    if truck.usd_per_loaded_mile <= 0.0 {
        return f64::INFINITY;
    }
    left / (truck.usd_per_loaded_mile / truck.tons_per_load)
}

/// Square miles within a distance.
#[must_use]
pub fn square_miles(radius_miles: f64) -> f64 {
    std::f64::consts::PI * radius_miles * radius_miles
}

/// Mean distance of what lies evenly within a radius: two thirds of it.
#[must_use]
pub fn mean_miles(radius_miles: f64) -> f64 {
    2.0 / 3.0 * radius_miles
}

/// Tons that a share of some cattle eat: head × share × lb a day × days / 2000.
#[must_use]
pub fn screening_tons(head: f64, share: f64, lb_per_head_day: f64, days: f64) -> f64 {
    head * share * lb_per_head_day * days / crate::quantity::LB_PER_TON
}
