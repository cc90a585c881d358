//! The keys of quantities that stand in gin files only.

use crate::quantity::{KM_PER_MILE, kg_from_lb, lb_from_kg};
use crate::scenario::measure::{ACRES_PER_HECTARE, Measure, Unit, plain, usd_per_metric_ton};

/// Pounds on an acre for one kilogram on a hectare.
const LB_PER_ACRE: f64 = 2.204_622_622 / ACRES_PER_HECTARE;

/// Pounds stay pounds here: bales are weighed in them.
const fn kg(key: &'static str) -> Unit {
    Unit { key, words: "kg", inward: lb_from_kg, outward: kg_from_lb }
}
macro_rules! measures {
    ($($(#[$doc:meta])* $name:ident: [$($unit:expr),+], $low:expr, $high:expr;)*) => {
        $($(#[$doc])* pub(in crate::scenario) const $name: Measure = Measure { units: &[$($unit),+], range: ($low, $high) };)*
    };
}

measures! {
    /// Year of the harvest.
    YEAR: [plain("year", "")], 1990.0, 2100.0;
    /// Planted or harvested acres.
    ACRES: [plain("acres", "acres"), Unit {
        key: "hectares", words: "hectares", inward: |ha| ha * ACRES_PER_HECTARE, outward: |acres| acres / ACRES_PER_HECTARE,
    }], 1.0, 1.0e7;
    /// Yield of lint, lb an acre.
    YIELD: [plain("lint_lb_per_acre", "lb of lint an acre"), Unit {
        key: "lint_kg_per_hectare", words: "kg of lint a hectare", inward: |kg| kg * LB_PER_ACRE, outward: |lb| lb / LB_PER_ACRE,
    }], 20.0, 4000.0;
    /// Weeks the gin runs behind its region.
    BEHIND: [plain("behind_weeks", "weeks")], 0.0, 26.0;
    /// Lint of a bale, lb.
    LINT: [plain("lint_lb", "lb"), kg("lint_kg")], 300.0, 650.0;
    /// Seed of a bale, lb.
    SEED: [plain("seed_lb", "lb"), kg("seed_kg")], 200.0, 1200.0;
    /// Motes of a bale, lb.
    MOTES: [plain("motes_lb", "lb"), kg("motes_kg")], 0.0, 150.0;
    /// Trash of a bale, lb.
    TRASH: [plain("trash_lb", "lb"), kg("trash_kg")], 0.0, 2000.0;
    /// Seed for each pound of lint.
    SEED_TO_LINT: [plain("seed_to_lint", "lb per lb")], 0.5, 2.5;
    /// Unseen loss, percent of seed cotton.
    LOSS: [plain("loss_pct", "percent")], 0.0, 12.0;
    /// Seed cotton for a bale, lb.
    SEED_COTTON: [plain("seed_cotton_lb", "lb"), kg("seed_cotton_kg")], 500.0, 4000.0;
    /// Lint out of seed cotton.
    TURNOUT: [plain("turnout_pct", "percent")], 10.0, 55.0;
    /// Round modules on the yard.
    ROUND_MODULES: [plain("round_modules", "round modules")], 0.0, 100_000.0;
    /// Module loads on the yard.
    MODULE_LOADS: [plain("module_loads", "module loads")], 0.0, 100_000.0;
    /// Bales in a round module.
    BALES_PER_ROUND: [plain("bales_per_round_module", "bales")], 1.0, 8.0;
    /// Bales ginned in a week.
    BALES_PER_WEEK: [plain("bales_per_week", "bales a week")], 1.0, 100_000.0;
    /// Price asked now at the gin.
    ASKED: [plain("asked_usd_per_ton", "dollars per short ton"), usd_per_metric_ton("asked_usd_per_metric_ton")], -200.0, 5000.0;
    /// No higher price is asked.
    CEILING: [plain("highest_usd_per_ton", "dollars per short ton"), usd_per_metric_ton("highest_usd_per_metric_ton")], 1.0, 5000.0;
    /// Loading at the gin.
    LOADING: [plain("loading_usd_per_ton", "dollars per short ton"), usd_per_metric_ton("loading_usd_per_metric_ton")], 0.0, 200.0;
    /// Keeping at the gin.
    KEEPING: [plain("keep_usd_per_ton_month", "dollars per short ton and month")], 0.0, 100.0;
    /// What an outlet nets.
    OUTLET: [plain("usd_per_ton", "dollars per short ton"), usd_per_metric_ton("usd_per_metric_ton")], -500.0, 5000.0;
    /// Room of a trailer.
    TRAILER: [plain("trailer_ft3", "cubic feet")], 100.0, 10_000.0;
    /// Cattle to a square mile.
    DENSITY: [plain("cows_per_square_mile", "head a square mile")], 0.01, 2000.0;
    /// Radius of a screening line.
    WITHIN: [plain("within_miles", "miles"), Unit {
        key: "within_km", words: "km", inward: |km| km / KM_PER_MILE, outward: |miles| miles * KM_PER_MILE,
    }], 0.1, 500.0;
    /// Price of hay of the reference herd.
    HAY: [plain("hay_usd_per_ton", "dollars per short ton"), usd_per_metric_ton("hay_usd_per_metric_ton")], 1.0, 2000.0;
    /// Cost of a way of handling.
    COST: [plain("usd_per_ton", "dollars per short ton"), usd_per_metric_ton("usd_per_metric_ton")], 0.0, 500.0;
    /// Taken out by screening.
    TAKEN_OUT: [plain("taken_out_pct", "percent")], 0.0, 80.0;
    /// Ash taken off by screening.
    ASH_POINTS: [plain("ash_points", "points of ash")], 0.0, 20.0;
    /// Waste at the feeder.
    WASTE: [plain("waste_pct", "percent")], 0.0, 95.0;
    /// Aflatoxin.
    AFLATOXIN: [plain("ppb", "ppb")], 0.0, 100_000.0;
    /// Low end of a range.
    LOW: [plain("low", "")], 0.0, 1.0e6;
    /// Usual figure of a range.
    USUAL: [plain("usual", "")], 0.0, 1.0e6;
    /// High end of a range.
    HIGH: [plain("high", "")], 0.0, 1.0e6;
}
