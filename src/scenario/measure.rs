//! The keys of quantities: a key for each unit, how it converts to the unit inside, and the range that can be meant.

use crate::quantity::{G_PER_OZ, KG_PER_TON, KM_PER_MILE, LB_PER_TON, c_from_f, f_from_c, kg_from_lb, lb_from_kg};

/// Acres in a hectare (10,000 m² over the international acre).
pub(crate) const ACRES_PER_HECTARE: f64 = 2.471_053_81;

/// One way of writing a quantity.
pub(crate) struct Unit {
    /// The key, unit at its end.
    pub(crate) key: &'static str,
    /// The unit, for messages.
    pub(crate) words: &'static str,
    /// To the unit inside.
    pub(crate) inward: fn(f64) -> f64,
    /// From the unit inside.
    pub(crate) outward: fn(f64) -> f64,
}

/// A quantity: the ways of writing it and the range that can be meant, in the unit inside.
pub(crate) struct Measure {
    /// Ways of writing it; the first is the one named in messages.
    pub(crate) units: &'static [Unit],
    /// Least and most, in the unit inside, both allowed.
    pub(crate) range: (f64, f64),
}

impl Measure {
    /// The key named in messages.
    pub(crate) fn key(&self) -> &'static str {
        self.units.first().map_or("", |unit| unit.key)
    }
}

fn same(value: f64) -> f64 {
    value
}

pub(crate) const fn plain(key: &'static str, words: &'static str) -> Unit {
    Unit { key, words, inward: same, outward: same }
}
const fn lb(key: &'static str) -> Unit {
    Unit { key, words: "lb", inward: kg_from_lb, outward: lb_from_kg }
}
const fn kg(key: &'static str) -> Unit {
    plain(key, "kg")
}
const fn oz_in_kg(key: &'static str) -> Unit {
    Unit { key, words: "oz", inward: |oz| oz * G_PER_OZ / 1000.0, outward: |kg| kg * 1000.0 / G_PER_OZ }
}
const fn g_in_kg(key: &'static str) -> Unit {
    Unit { key, words: "g", inward: |g| g / 1000.0, outward: |kg| kg * 1000.0 }
}
const fn lb_in_g(key: &'static str) -> Unit {
    Unit { key, words: "lb", inward: |lb| kg_from_lb(lb) * 1000.0, outward: |g| lb_from_kg(g / 1000.0) }
}
const fn tons(key: &'static str) -> Unit {
    Unit { key, words: "short tons", inward: |tons| tons * KG_PER_TON, outward: |kg| kg / KG_PER_TON }
}
const fn metric_tons(key: &'static str) -> Unit {
    Unit { key, words: "metric tons", inward: |tons| tons * 1000.0, outward: |kg| kg / 1000.0 }
}
pub(crate) const fn usd_per_metric_ton(key: &'static str) -> Unit {
    Unit {
        key,
        words: "dollars per metric ton",
        inward: |usd| usd * KG_PER_TON / 1000.0,
        outward: |usd| usd * 1000.0 / KG_PER_TON,
    }
}

macro_rules! measures {
    ($($(#[$doc:meta])* $name:ident: [$($unit:expr),+], $low:expr, $high:expr;)*) => {
        $($(#[$doc])* pub(crate) const $name: Measure = Measure { units: &[$($unit),+], range: ($low, $high) };)*
    };
}

measures! {
    /// Number of cattle.
    HEAD: [plain("head", "")], 1.0, 100_000.0;
    /// Live weight, kg.
    WEIGHT: [lb("weight_lb"), kg("weight_kg")], 30.0, 1400.0;
    /// Mature weight, kg.
    MATURE_WEIGHT: [lb("mature_weight_lb"), kg("mature_weight_kg")], 250.0, 1400.0;
    /// Body condition score.
    CONDITION: [plain("condition", "")], 1.0, 9.0;
    /// Body condition score wanted.
    SCORE: [plain("score", "")], 1.0, 9.0;
    /// Milk at the peak, kg a day.
    PEAK_MILK: [lb("peak_milk_lb"), kg("peak_milk_kg")], 0.0, 40.0;
    /// Fat of milk.
    MILK_FAT: [plain("milk_fat_pct", "percent")], 1.0, 10.0;
    /// Solids-not-fat of milk.
    MILK_SNF: [plain("milk_snf_pct", "percent")], 5.0, 12.0;
    /// Protein of milk.
    MILK_PROTEIN: [plain("milk_protein_pct", "percent")], 1.0, 7.0;
    /// Age of the calf at weaning.
    WEANING: [plain("weaning_days", "days")], 1.0, 365.0;
    /// Calf birth weight, kg.
    BIRTH_WEIGHT: [lb("calf_birth_weight_lb"), kg("calf_birth_weight_kg")], 15.0, 70.0;
    /// Breed factor on maintenance.
    BREED_FACTOR: [plain("breed_factor", "")], 0.7, 1.4;
    /// Daily gain, kg.
    GAIN: [lb("gain_lb_per_day"), kg("gain_kg_per_day")], 0.0, 2.0;
    /// Energy of walking and grazing, percent of maintenance.
    ACTIVITY: [plain("activity_pct", "percent")], 0.0, 100.0;
    /// Sulfate in drinking water.
    WATER_SULFATE: [plain("water_sulfate_ppm", "ppm")], 0.0, 10_000.0;
    /// Sulfur from drinking water.
    WATER_SULFUR: [plain("water_sulfur_g", "g a day")], 0.0, 200.0;
    /// Intake of free-choice roughage, percent of body weight.
    BASE_INTAKE: [plain("base_intake_pct", "percent of body weight")], 0.5, 4.0;
    /// The same, dry cattle.
    BASE_INTAKE_DRY: [plain("dry", "percent of body weight")], 0.5, 4.0;
    /// The same, in milk.
    BASE_INTAKE_MILKING: [plain("milking", "percent of body weight")], 0.5, 4.0;

    /// Mean temperature, °C.
    MEAN_TEMPERATURE: [
        Unit { key: "mean_f", words: "°F", inward: c_from_f, outward: f_from_c },
        plain("mean_c", "°C")
    ], -50.0, 45.0;
    /// Mean wind, km/h.
    WIND: [
        Unit { key: "wind_mph", words: "mph", inward: |v| v * KM_PER_MILE, outward: |v| v / KM_PER_MILE },
        plain("wind_kmh", "km/h")
    ], 0.0, 120.0;
    /// Share of the wind kept off.
    SHELTER: [plain("shelter_pct", "percent")], 0.0, 100.0;
    /// Length of a cold spell.
    SPELL_DAYS: [plain("days", "days")], 1.0, 30.0;

    /// Price at the seller, USD per short ton.
    PRICE: [
        plain("price_usd_per_ton", "dollars per short ton"),
        usd_per_metric_ton("price_usd_per_metric_ton"),
        Unit {
            key: "price_usd_per_cwt",
            words: "dollars per hundred pounds",
            inward: |usd| usd * LB_PER_TON / 100.0,
            outward: |usd| usd * 100.0 / LB_PER_TON,
        },
        // What these weigh is read beside them.
        plain("price_usd_per_bushel", "dollars per bushel"),
        plain("price_usd_per_bale", "dollars per bale"),
        plain("price_usd_per_ton_dm", "dollars per short ton of dry matter")
    ], 0.0, 20_000.0;
    /// Test weight, lb per bushel.
    TEST_WEIGHT: [plain("lb_per_bushel", "lb per bushel")], 10.0, 100.0;
    /// Weight of a bale, lb as fed.
    BALE_WEIGHT: [
        plain("weight_lb", "lb"),
        Unit { key: "weight_kg", words: "kg", inward: lb_from_kg, outward: kg_from_lb }
    ], 20.0, 3000.0;
    /// Diameter of a round bale, feet.
    BALE_DIAMETER: [plain("diameter_ft", "feet")], 2.0, 8.0;
    /// Width of a round bale, feet.
    BALE_WIDTH: [plain("width_ft", "feet")], 2.0, 8.0;
    /// Density of a bale, lb as fed per cubic foot.
    BALE_DENSITY: [plain("lb_per_ft3", "lb per cubic foot")], 4.0, 25.0;
    /// What feed on hand would sell for, USD per short ton.
    VALUE: [
        plain("value_usd_per_ton", "dollars per short ton"),
        usd_per_metric_ton("value_usd_per_metric_ton")
    ], 0.0, 20_000.0;
    /// What is left at the end is worth, USD per short ton.
    LEFTOVER: [
        plain("leftover_usd_per_ton", "dollars per short ton"),
        usd_per_metric_ton("leftover_usd_per_metric_ton")
    ], 0.0, 20_000.0;
    /// What a seller has each week, short tons.
    PER_WEEK: [plain("tons_per_week", "short tons a week")], 0.0, 100_000.0;
    /// Room in a store, short tons.
    STORAGE: [plain("storage_tons", "short tons")], 0.0, 1.0e6;
    /// Room in a store, cubic feet.
    BULK_ROOM: [plain("storage_ft3", "cubic feet")], 0.0, 1.0e8;
    /// Bales of a gin's season.
    BALES: [plain("bales", "bales")], 1.0, 1.0e6;
    /// Byproduct for each bale, lb.
    LB_PER_BALE: [plain("lb_per_bale", "lb")], 1.0, 2000.0;
    /// Weeks a gin runs behind its region.
    WAITING: [plain("waiting_weeks", "weeks")], 0.0, 26.0;
    /// Share of a gin's output that can be had.
    SHARE: [plain("share_pct", "percent")], 0.0, 100.0;
    /// Days from one feeding to the next.
    EVERY_DAYS: [plain("every_days", "days")], 1.0, 7.0;
    /// Feedings in a week.
    TIMES_PER_WEEK: [plain("times_per_week", "times a week")], 1.0, 7.0;
    /// Labor and machine of one feeding, USD.
    LABOR: [plain("labor_usd_per_feeding", "dollars")], 0.0, 5000.0;
    /// What a bucket of it holds, lb as fed.
    BUCKET: [plain("bucket_lb", "lb")], 0.1, 200.0;
    /// Already owned, kg.
    ON_HAND: [tons("on_hand_tons"), metric_tons("on_hand_metric_tons")], 0.0, 1.0e9;
    /// Cost of grazing, USD per head and month of 30.4 days.
    HEAD_MONTH: [plain("price_usd_per_head_month", "dollars per head and month")], 0.0, 500.0;
    /// Land grazed.
    ACRES: [
        plain("acres", "acres"),
        Unit {
            key: "hectares",
            words: "hectares",
            inward: |ha| ha * ACRES_PER_HECTARE,
            outward: |acres| acres / ACRES_PER_HECTARE,
        }
    ], 0.0, 1.0e7;
    /// Forage that cattle may eat of an acre, kg of dry matter.
    FORAGE_PER_ACRE: [
        Unit {
            key: "tons_dm_per_acre",
            words: "short tons of dry matter per acre",
            inward: |tons| tons * KG_PER_TON,
            outward: |kg| kg / KG_PER_TON,
        },
        Unit {
            key: "lb_dm_per_acre",
            words: "lb of dry matter per acre",
            inward: kg_from_lb,
            outward: lb_from_kg,
        },
        Unit {
            key: "kg_dm_per_hectare",
            words: "kg of dry matter per hectare",
            inward: |kg| kg / ACRES_PER_HECTARE,
            outward: |kg| kg * ACRES_PER_HECTARE,
        }
    ], 0.0, 20_000.0;
    /// Most of a grazed feed, percent of the dry matter eaten.
    SHARE_OF_INTAKE: [plain("max_share_of_intake_pct", "percent")], 0.0, 100.0;
    /// Flat loss in storage.
    LOSS: [plain("loss_pct", "percent")], 0.0, 95.0;
    /// Loss for each month of storage.
    MONTHLY_LOSS: [plain("loss_pct_per_month", "percent a month")], 0.0, 60.0;
    /// Waste while feeding.
    WASTE: [plain("waste_pct", "percent")], 0.0, 95.0;
    /// Haul, loaded miles one way.
    MILES: [
        plain("miles", "miles"),
        Unit { key: "km", words: "km", inward: |km| km / KM_PER_MILE, outward: |mi| mi * KM_PER_MILE }
    ], 0.0, 3000.0;
    /// Rate of the haul, USD per loaded mile.
    RATE: [
        plain("usd_per_loaded_mile", "dollars per loaded mile"),
        Unit {
            key: "usd_per_loaded_km",
            words: "dollars per loaded km",
            inward: |usd| usd * KM_PER_MILE,
            outward: |usd| usd / KM_PER_MILE,
        }
    ], 0.0, 100.0;
    /// Short tons on a load.
    LOAD: [
        plain("tons_per_load", "short tons"),
        Unit {
            key: "metric_tons_per_load",
            words: "metric tons",
            inward: |t| t * 1000.0 / KG_PER_TON,
            outward: |t| t * KG_PER_TON / 1000.0,
        }
    ], 0.05, 60.0;
    /// Least charge for a load.
    MINIMUM: [plain("minimum_usd", "dollars")], 0.0, 20_000.0;
    /// Bulk density.
    BULK: [plain("bulk_lb_per_ft3", "lb per cubic foot")], 1.0, 120.0;
    /// Least of a feed, kg as fed per head and day.
    AT_LEAST: [lb("min_lb"), kg("min_kg")], 0.0, 60.0;
    /// Most of a feed, kg as fed per head and day.
    AT_MOST: [lb("max_lb"), kg("max_kg")], 0.0, 60.0;
    /// Fixed amount of a feed, kg as fed per head and day.
    FIXED: [lb("fixed_lb"), kg("fixed_kg"), oz_in_kg("fixed_oz"), g_in_kg("fixed_g")], 0.0, 60.0;
    /// Amount in a ration written by hand, kg as fed per head and day.
    FED: [lb("fed"), kg("fed_kg")], 0.0, 60.0;

    /// NEm in place of ours.
    NEED_NEM: [plain("nem_mcal", "Mcal NEm")], 0.0, 60.0;
    /// TDN in place of ours, kg.
    NEED_TDN: [lb("tdn_lb"), kg("tdn_kg")], 0.0, 25.0;
    /// Crude protein in place of ours, kg.
    NEED_CP: [lb("cp_lb"), kg("cp_kg")], 0.0, 6.0;
    /// Metabolizable protein in place of ours, g.
    NEED_MP: [plain("mp_g", "g")], 0.0, 4000.0;
    /// Calcium in place of ours, g.
    NEED_CA: [plain("ca_g", "g"), lb_in_g("ca_lb")], 0.0, 200.0;
    /// Phosphorus in place of ours, g.
    NEED_P: [plain("p_g", "g"), lb_in_g("p_lb")], 0.0, 200.0;
    /// Most dry matter, kg.
    NEED_DMI: [lb("dmi_max_lb"), kg("dmi_max_kg")], 0.5, 45.0;

    /// New least figure of a limit.
    LIMIT_MIN: [plain("min", "")], 0.0, 1.0e6;
    /// New most figure of a limit.
    LIMIT_MAX: [plain("max", "")], 0.0, 1.0e6;
    /// New figure of a limit.
    LIMIT_VALUE: [plain("value", "")], 0.0, 1.0e6;

    /// Cost that may be given up for steadier rations.
    STEADY: [plain("steady_pct", "percent")], 0.0, 20.0;
    /// Roughage a pound of supplement displaces.
    SUBSTITUTION: [plain("substitution", "lb per lb")], 0.0, 0.8;
    /// The scoop of practical amounts, lb.
    SCOOP: [plain("scoop_lb", "lb")], 0.05, 10.0;
    /// What a mixer holds, lb.
    MIXER: [plain("mixer_lb", "lb")], 100.0, 40_000.0;
    /// Wanted certainty.
    CERTAINTY: [plain("certainty_pct", "percent")], 50.0, 99.0;
    /// Fixed intake of minerals, oz as fed a day.
    MINERAL: [
        plain("mineral_oz", "oz"),
        Unit { key: "mineral_g", words: "g", inward: |g| g / G_PER_OZ, outward: |oz| oz * G_PER_OZ }
    ], 0.0, 16.0;
}

/// A figure for people: as many digits as it needs, at most four after the point.
pub(crate) fn figure(value: f64) -> String {
    let rounded = format!("{value:.4}");
    let trimmed = rounded.trim_end_matches('0').trim_end_matches('.');
    if trimmed.is_empty() || trimmed == "-0" { "0".to_owned() } else { trimmed.to_owned() }
}

/// A bound for people, of three digits and never a coarser step than 1: `inward` is `f64::ceil` for the least and
/// `f64::floor` for the most, so that what is written here is allowed.
pub(crate) fn rounded(value: f64, inward: fn(f64) -> f64) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    let step = 10f64.powf((value.abs().log10().floor() - 2.0).clamp(-4.0, 0.0));
    let steps = value / step;
    // What is a whole number of steps but for rounding stays where it is.
    let near = steps.round();
    let kept = if (steps - near).abs() < 1e-9 * (1.0 + steps.abs()) { near } else { inward(steps) };
    figure(kept * step)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A bound that is told can be written: 1400 kg is 3,086.47 lb, 30 kg 66.14.
    #[test]
    fn bounds_are_told_inward() {
        assert_eq!(rounded(3086.47, f64::floor), "3086");
        assert_eq!(rounded(66.139, f64::ceil), "66.2");
        assert_eq!(rounded(-58.0, f64::ceil), "-58");
        assert_eq!(rounded(0.1, f64::floor), "0.1");
        assert_eq!(rounded(1.0e6, f64::floor), "1000000");
        for value in [3086.47, 66.139, 551.156, 0.123_456, 12.345] {
            assert!(rounded(value, f64::floor).parse::<f64>().unwrap() <= value);
            assert!(rounded(value, f64::ceil).parse::<f64>().unwrap() >= value);
        }
    }
}
