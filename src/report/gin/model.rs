//! A gin's season as plain data with units in the names: what JSON prints and every page is drawn from.

use crate::source::Origin;
use serde::Serialize;

/// Everything of one gin.
#[derive(Debug, Clone, Serialize)]
pub struct GinReport {
    /// Its name.
    pub gin: String,
    /// How the cotton was harvested.
    pub harvest: &'static str,
    /// Region whose season is taken; absent: the gin's own weeks.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub season_of: Option<String>,
    /// Weeks it runs behind that region.
    pub behind_weeks: f64,
    /// A wet harvest.
    pub wet_harvest: bool,
    /// Bales of the season.
    pub bales: f64,
    /// Where the seed cotton of a bale goes.
    pub bale: Bale,
    /// Motes of the season, short tons.
    pub motes_tons: f64,
    /// Modules on the yard, if counted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub yard: Option<YardReport>,
    /// Trash, then seed.
    pub products: Vec<ProductReport>,
    /// Ways of handling trash; the first is as it is.
    pub processing: Vec<Handling>,
    /// What a point of TDN adds to the worth of a ton to the largest buyer of trash, US dollars.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub usd_per_tdn_point: Option<f64>,
    /// Delivery slip and buyer's sheet of each byproduct.
    pub papers: Vec<Paper>,
    /// What was taken because the file does not say.
    pub assumed: Vec<String>,
}

/// A part of the seed cotton.
#[derive(Debug, Clone, Serialize)]
pub struct PartReport {
    /// Which.
    pub part: &'static str,
    /// lb a bale.
    pub lb: f64,
    /// Low end, lb a bale.
    pub low_lb: f64,
    /// High end, lb a bale.
    pub high_lb: f64,
    /// How it was obtained.
    pub origin: Origin,
    /// Key of the bibliography.
    #[serde(skip_serializing_if = "str::is_empty")]
    pub source: &'static str,
    /// Place or reason.
    #[serde(skip_serializing_if = "str::is_empty")]
    pub place: &'static str,
}

/// The balance of a bale.
#[derive(Debug, Clone, Serialize)]
pub struct Bale {
    /// Lint, seed, motes, trash, unseen loss.
    pub parts: Vec<PartReport>,
    /// Seed cotton, lb a bale.
    pub seed_cotton_lb: f64,
    /// Its low end.
    pub seed_cotton_low_lb: f64,
    /// Its high end.
    pub seed_cotton_high_lb: f64,
    /// Lint out of seed cotton, percent.
    pub turnout_pct: f64,
    /// Seed for each pound of lint.
    pub seed_to_lint: f64,
    /// The part found as the rest.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rest: Option<&'static str>,
}

/// Modules on the yard.
#[derive(Debug, Clone, Serialize)]
pub struct YardReport {
    /// Round modules in all.
    pub round_modules: f64,
    /// Bales to come.
    pub bales: f64,
    /// Low end.
    pub bales_low: f64,
    /// High end.
    pub bales_high: f64,
    /// Seed to come, short tons.
    pub seed_tons: f64,
    /// Trash to come, short tons.
    pub trash_tons: f64,
    /// Weeks a module waits.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub waiting_weeks: Option<f64>,
    /// Weeks to gin them at the rate given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub weeks_to_gin: Option<f64>,
}

/// One byproduct.
#[derive(Debug, Clone, Serialize)]
pub struct ProductReport {
    /// `trash` or `seed`.
    pub product: &'static str,
    /// Row of the feed table.
    pub feed: String,
    /// Why it may not be sold as feed as it is; then nothing is asked for it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub do_not_sell: Vec<String>,
    /// What else is known to be wrong with it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub warnings: Vec<String>,
    /// How it lies.
    pub form: &'static str,
    /// Tons of the season.
    pub season_tons: f64,
    /// Tons on a load.
    pub tons_per_load: f64,
    /// Room, short tons; absent: any.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub room_tons: Option<f64>,
    /// Loading, US dollars per ton sold.
    pub loading_usd_per_ton: f64,
    /// The price that nets most, US dollars per ton at the gin; absent where nobody buys at a gain.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ask_usd_per_ton: Option<f64>,
    /// The same books: what happens at that price.
    pub at_ask: Outcome,
    /// What happens if nothing is sold to neighbors.
    pub without_neighbors: Outcome,
    /// What would be sold at a few dollars a ton below and above that price.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub around_ask: Vec<DemandPoint>,
    /// What happens at the price asked now.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at_asked_now: Option<Outcome>,
    /// The highest price at which all of it is sold; absent: at no price.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clears_usd_per_ton: Option<f64>,
    /// No price above this was looked at, US dollars per ton.
    pub highest_looked_at_usd_per_ton: f64,
    /// Neighbors by miles.
    pub neighbors: Vec<NeighborReport>,
    /// Neighbors that could not be asked.
    pub not_asked: Vec<NotAsked>,
    /// Week by week at the price that nets most.
    pub weeks: Vec<WeekReport>,
    /// The demand curve, by rising price.
    pub demand: Vec<DemandPoint>,
    /// The answer at other prices.
    pub sheets: Vec<SheetReport>,
    /// How far it hauls, by form.
    pub radius: Vec<RadiusRow>,
    /// Delivered price at which herds still buy half of their most tons, all together, US dollars per ton.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub delivered_half_usd_per_ton: Option<f64>,
    /// What a ton would be worth by one price of energy and one of protein, US dollars per ton delivered: overprices
    /// roughage, which such prices charge nothing for the room it takes.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub two_prices_usd_per_ton: Option<f64>,
    /// The highest delivered price at which any of them buys his first load, US dollars per ton.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub delivered_first_usd_per_ton: Option<f64>,
}

/// What a season comes to at one price.
#[derive(Debug, Clone, Serialize)]
pub struct Outcome {
    /// Price at the gin, US dollars per ton.
    pub usd_per_ton: f64,
    /// What the season nets, US dollars.
    pub net_usd: f64,
    /// Paid by neighbors, US dollars; below 0: paid to them.
    pub sales_usd: f64,
    /// Loading, US dollars.
    pub loading_usd: f64,
    /// Keeping, US dollars.
    pub keep_usd: f64,
    /// Wanted, short tons.
    pub wanted_tons: f64,
    /// Sold, short tons.
    pub sold_tons: f64,
    /// Lost in the pile, short tons.
    pub lost_tons: f64,
    /// Sent elsewhere.
    pub elsewhere: Vec<OutletReport>,
    /// First day of the week in which the pile overflows; absent: it does not.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub overflows_in_week_of: Option<String>,
    /// Tons that had to go because the room was full.
    pub overflow_tons: f64,
    /// The largest pile, short tons.
    pub largest_pile_tons: f64,
}

/// Tons sent to one outlet.
#[derive(Debug, Clone, Serialize)]
pub struct OutletReport {
    /// Which.
    pub outlet: String,
    /// What a ton nets, US dollars; below 0: costs.
    pub usd_per_ton: f64,
    /// Short tons.
    pub tons: f64,
    /// US dollars.
    pub usd: f64,
    /// Whether the file gives it.
    pub given: bool,
}

/// One neighbor.
#[derive(Debug, Clone, Serialize)]
pub struct NeighborReport {
    /// Name.
    pub name: String,
    /// Loaded miles.
    pub miles: f64,
    /// Head that would be fed it.
    pub head: f64,
    /// What he stands for, where it is a screening line.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stands_for: Option<String>,
    /// His herd file does not name the byproduct.
    pub not_in_his_file: bool,
    /// Haul, US dollars per ton.
    pub freight_usd_per_ton: f64,
    /// Highest delivered price at which he buys any, US dollars per ton.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub worth_delivered_usd_per_ton: Option<f64>,
    /// Highest price at the gin at which he buys any.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub worth_at_gin_usd_per_ton: Option<f64>,
    /// Highest price at the gin at which he buys half of his most tons.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub half_at_gin_usd_per_ton: Option<f64>,
    /// Still buys at the highest price looked at.
    pub buys_at_any_price: bool,
    /// Most he would take if it cost him nothing delivered, whole loads, short tons.
    pub most_tons: f64,
    /// Sold to him at the price that nets most, short tons.
    pub tons: f64,
    /// Truckloads that is.
    pub loads: f64,
    /// What he would use beyond that at this price, less than a load, short tons: not sold, since a trip costs the same
    /// whatever it carries.
    pub left_out_tons: f64,
    /// He pays at the gin, US dollars.
    pub usd: f64,
    /// By month.
    pub months: Vec<MonthTons>,
}

/// Tons in a month.
#[derive(Debug, Clone, Serialize)]
pub struct MonthTons {
    /// Year and month of the first day of the weeks.
    pub month: String,
    /// Short tons.
    pub tons: f64,
}

/// A neighbor that could not be asked.
#[derive(Debug, Clone, Serialize)]
pub struct NotAsked {
    /// Name.
    pub name: String,
    /// Why.
    pub why: String,
}

/// One week.
#[derive(Debug, Clone, Serialize)]
pub struct WeekReport {
    /// First day.
    pub week_of: String,
    /// Bales ginned.
    pub bales: f64,
    /// Comes out, short tons.
    pub produced_tons: f64,
    /// Wanted at the price that nets most, short tons.
    pub wanted_tons: f64,
    /// Sold, short tons.
    pub sold_tons: f64,
    /// Sent elsewhere, short tons.
    pub elsewhere_tons: f64,
    /// Part of it because the room was full, short tons.
    pub overflow_tons: f64,
    /// Lost in the pile, short tons.
    pub lost_tons: f64,
    /// On the pile at the end, short tons.
    pub pile_tons: f64,
}

/// What is wanted and what it nets at one price.
#[derive(Debug, Clone, Serialize)]
pub struct DemandPoint {
    /// Price at the gin, US dollars per ton.
    pub usd_per_ton: f64,
    /// Wanted by the herds over their winters, short tons.
    pub demand_tons: f64,
    /// Sold within the supply of each week, short tons.
    pub sold_tons: f64,
    /// What the season nets, US dollars.
    pub net_usd: f64,
}

/// The answer at another sheet of prices.
#[derive(Debug, Clone, Serialize)]
pub struct SheetReport {
    /// Which, in words.
    pub prices: String,
    /// The price that nets most, US dollars per ton at the gin; absent where nobody buys at a gain.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ask_usd_per_ton: Option<f64>,
    /// Sold, short tons.
    pub sold_tons: f64,
    /// What the season nets, US dollars.
    pub net_usd: f64,
    /// Neighbors that are in this answer or in the first, and not in both.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub not_in_both: Vec<String>,
}

/// How far one form hauls.
#[derive(Debug, Clone, Serialize)]
pub struct RadiusRow {
    /// Form.
    pub form: &'static str,
    /// Tons on a load.
    pub tons_per_load: f64,
    /// Haul, US dollars per ton and mile.
    pub usd_per_ton_mile: f64,
    /// Handling into that form, US dollars per ton.
    pub handling_usd_per_ton: f64,
    /// Miles at the price that nets most, for half of what the herds would take.
    pub miles_at_ask_half: f64,
    /// The same for the first load of the keenest buyer.
    pub miles_at_ask_first: f64,
    /// Miles at which a sale nets what the fallback nets, for half of what the herds would take.
    pub miles_at_fallback: f64,
}

/// A way of handling.
#[derive(Debug, Clone, Serialize)]
pub struct Handling {
    /// Which.
    pub way: &'static str,
    /// The form it leaves.
    pub form: &'static str,
    /// Cost, US dollars per ton sold.
    pub usd_per_ton: f64,
    /// How that was obtained.
    pub origin: Origin,
    /// Tons on a load.
    pub tons_per_load: f64,
    /// Room in this form, short tons.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub room_tons: Option<f64>,
    /// The price that then nets most, US dollars per ton at the gin.
    pub ask_usd_per_ton: f64,
    /// Sold, short tons.
    pub sold_tons: f64,
    /// What the season nets, US dollars.
    pub net_usd: f64,
    /// More than as it is, US dollars.
    pub more_usd: f64,
}

/// One line of a delivery slip.
#[derive(Debug, Clone, Serialize)]
pub struct PaperLine {
    /// What.
    pub what: &'static str,
    /// What is known; absent: MISSING.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub known: Option<String>,
    /// Why a buyer asks.
    pub why: &'static str,
}

/// Delivery slip and buyer's sheet of one byproduct.
#[derive(Debug, Clone, Serialize)]
pub struct Paper {
    /// `trash` or `seed`.
    pub product: &'static str,
    /// What it is called.
    pub name: String,
    /// Why it may not be sold as feed as it is.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub do_not_sell: Vec<String>,
    /// What else is known to be wrong with it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub warnings: Vec<String>,
    /// Lines of the slip.
    pub lines: Vec<PaperLine>,
    /// What is missing.
    pub missing: Vec<&'static str>,
    /// What a buyer must be told.
    pub sayings: Vec<&'static str>,
    /// Other cautions of the feed table, with their figures and sources.
    pub cautions: Vec<PaperCaution>,
}

/// A caution of the feed table.
#[derive(Debug, Clone, Serialize)]
pub struct PaperCaution {
    /// What to do.
    pub text: String,
    /// The figure behind it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub figure: Option<String>,
    /// How it was obtained.
    pub origin: Origin,
    /// Key of the bibliography.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
}
