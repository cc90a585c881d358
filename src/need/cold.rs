//! Cold: what the coat and the body keep in, the temperature at which an animal must burn feed for heat, and how much.

use crate::herd::{Coat, Hide};
use crate::quantity::{KM_PER_MILE, c_from_f, f_from_c};
use crate::source::{Cite, Origin};

/// Heat balance: the structure was read, the coefficients reproduce the printed rules of thumb.
pub const HEAT_BALANCE: Cite = Cite::new("nrc1996", "chapter 1, p. 10", Origin::MemoryChecked);
/// Depth of hair by coat.
pub const HAIR: Cite = Cite::new("nrc1996", "hair depth by season", Origin::Memory);
/// Bright winter sun.
pub const SUN: Cite = Cite::new("nrc1996", "p. 10: 3 to 5 °C in bright winter sun", Origin::Published);
/// Lower critical temperatures by coat.
pub const RULE_CRITICAL: Cite = Cite::new("meteer_illinois", "lower critical temperature by coat", Origin::Published);
/// One percent per degree dry, two wet.
pub const RULE_SLOPE: Cite = Cite::new("selk_okstate", "1 % per °F dry, 2 % wet", Origin::Published);
/// Wind chill for cattle.
pub const WIND_CHILL: Cite = Cite::new("meteer_illinois", "°F less mph of wind", Origin::Published);
/// The most a ration is raised for cold.
pub const MOST: Cite = Cite::judgement("cattle raise their metabolism 25 to 30 % (kreager_osu); more cannot be fed");

/// The most a ration is raised for cold, share of maintenance. Source: [`MOST`].
pub const MOST_SHARE: f64 = 0.40;
/// Degrees that bright winter sun adds, °C. Source: [`SUN`].
pub const SUN_C: f64 = 4.0;
/// Share of heat not lost by evaporation.
const DRY_HEAT_SHARE: f64 = 0.85;

/// Age, as far as the body's own insulation goes by it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Age {
    /// Newborn.
    Newborn,
    /// A month old.
    OneMonth,
    /// Yearling.
    Yearling,
    /// Grown.
    Adult,
}

/// What surrounds an animal.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Exposure {
    /// Effective air temperature, °C.
    pub air_c: f64,
    /// Wind that reaches the animal, km/h.
    pub wind_kmh: f64,
    /// State of the coat.
    pub coat: Coat,
    /// Depth of hair, cm; [`hair_cm`] gives the default of a coat.
    pub hair_cm: f64,
    /// Hide.
    pub hide: Hide,
}

/// What cold asks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ColdNeed {
    /// Lower critical temperature, °C.
    pub lower_critical_c: f64,
    /// Metabolizable energy burned for heat, Mcal a day; 0 above that temperature.
    pub me_mcal: f64,
}

/// Surface of the body, m²: 0.09 · SBW^0.67.
#[must_use]
pub fn surface_m2(sbw_kg: f64) -> f64 {
    0.09 * sbw_kg.max(1.0).powf(0.67)
}

/// Insulation of the body itself, °C m² day per Mcal: 2.5 newborn; 6.5 at a month; 5.1875 + 0.3125 · score yearling;
/// 5.25 + 0.75 · score grown.
#[must_use]
pub fn tissue_insulation(age: Age, score: f64) -> f64 {
    match age {
        Age::Newborn => 2.5,
        Age::OneMonth => 6.5,
        Age::Yearling => 5.1875 + 0.3125 * score,
        Age::Adult => 5.25 + 0.75 * score,
    }
}

/// Depth of hair by coat, cm: winter 1.27, heavy 2.5. Wet and muddy coats have winter hair. Source: [`HAIR`].
#[must_use]
pub fn hair_cm(coat: Coat) -> f64 {
    match coat {
        Coat::Heavy => 2.5,
        Coat::Dry | Coat::SomeMud | Coat::Wet | Coat::Muddy => 1.27,
    }
}

/// Depth of summer hair, cm.
pub const SUMMER_HAIR_CM: f64 = 0.64;

fn coat_factor(coat: Coat) -> f64 {
    match coat {
        Coat::Dry | Coat::Heavy => 1.0,
        Coat::SomeMud => 0.8,
        Coat::Wet => 0.5,
        Coat::Muddy => 0.2,
    }
}

fn hide_factor(hide: Hide) -> f64 {
    match hide {
        Hide::Thin => 0.8,
        Hide::Average => 1.0,
        Hide::Thick => 1.2,
    }
}

/// Insulation of the coat, °C m² day per Mcal: (7.36 − 0.296 wind + 2.55 hair) · mud · hide, never below 0. Wind in
/// km/h, hair in cm.
#[must_use]
pub fn coat_insulation(exposure: &Exposure) -> f64 {
    let still = 7.36 - 0.296 * exposure.wind_kmh + 2.55 * exposure.hair_cm;
    still.max(0.0) * coat_factor(exposure.coat) * hide_factor(exposure.hide)
}

/// Lower critical temperature and the energy burned below it, in one pass.
///
/// HE = (MEI − RE) / SA; IN = tissue + coat; LCT = 39 − 0.85 · IN · HE (°C); ME = SA · (LCT − air) / IN.
/// `me_mcal` is metabolizable energy of the ration without cold, Mcal a day, `retained_mcal` what of it leaves as gain,
/// milk and calf. The ration for cold is never fed back into `me_mcal`: that would cancel what is asked. Source:
/// [`HEAT_BALANCE`].
#[must_use]
pub fn need(sbw_kg: f64, age: Age, score: f64, me_mcal: f64, retained_mcal: f64, exposure: &Exposure) -> ColdNeed {
    let surface = surface_m2(sbw_kg);
    let heat = (me_mcal - retained_mcal).max(0.0) / surface;
    let insulation = tissue_insulation(age, score) + coat_insulation(exposure);
    let lower_critical_c = 39.0 - DRY_HEAT_SHARE * insulation * heat;
    ColdNeed { lower_critical_c, me_mcal: (surface * (lower_critical_c - exposure.air_c) / insulation).max(0.0) }
}

/// Lower critical temperature by the rule of thumb, °F of wind chill: 32 dry winter coat, 18 heavy, 59 wet or muddy.
/// Source: [`RULE_CRITICAL`].
#[must_use]
pub fn rule_critical_f(coat: Coat) -> f64 {
    match coat {
        Coat::Dry | Coat::SomeMud => 32.0,
        Coat::Heavy => 18.0,
        Coat::Wet | Coat::Muddy => 59.0,
    }
}

/// Wind chill for cattle, °F: air less one degree for each mile an hour of wind. Source: [`WIND_CHILL`].
#[must_use]
pub fn wind_chill_f(air_c: f64, wind_kmh: f64) -> f64 {
    f_from_c(air_c) - wind_kmh / KM_PER_MILE
}

/// Extra energy by the rule of thumb, % of maintenance: 1 % for each °F of wind chill under the critical, 2 % wet.
/// Not capped. Sources: [`RULE_SLOPE`], [`RULE_CRITICAL`].
#[must_use]
pub fn rule_pct(coat: Coat, wind_chill_f: f64) -> f64 {
    let per_degree = match coat {
        Coat::Dry | Coat::Heavy | Coat::SomeMud => 1.0,
        Coat::Wet | Coat::Muddy => 2.0,
    };
    per_degree * (rule_critical_f(coat) - wind_chill_f).max(0.0)
}

/// The second rule of thumb: 13 % for each 10 °F of wind chill below 30 °F, dry. Source: `lemenager_purdue2021`.
#[must_use]
pub fn rule_purdue_pct(wind_chill_f: f64) -> f64 {
    1.3 * (30.0 - wind_chill_f).max(0.0)
}

/// Air temperature as the animal feels it, °C: sun added.
#[must_use]
pub fn effective_air_c(air_c: f64, sun: bool) -> f64 {
    if sun { air_c + SUN_C } else { air_c }
}

/// The rule's critical temperature in °C.
#[must_use]
pub fn rule_critical_c(coat: Coat) -> f64 {
    c_from_f(rule_critical_f(coat))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn exposure(air_c: f64, wind_kmh: f64, coat: Coat) -> Exposure {
        Exposure { air_c, wind_kmh, coat, hair_cm: hair_cm(coat), hide: Hide::Average }
    }

    #[test]
    fn colder_windier_wetter_and_thinner_never_need_less() {
        let asks =
            |air, wind, coat, score| need(500.0, Age::Adult, score, 15.0, 0.0, &exposure(air, wind, coat)).me_mcal;
        for wind in [0.0, 10.0, 20.0, 60.0] {
            for coat in [Coat::Heavy, Coat::Dry, Coat::SomeMud, Coat::Wet, Coat::Muddy] {
                let mut before = 0.0;
                for air in (-30..=25).rev() {
                    let air = f64::from(air);
                    let now = asks(air, wind, coat, 5.0);
                    assert!(now >= before, "{air} °C, {wind} km/h, {coat:?}");
                    assert!(asks(air, wind + 5.0, coat, 5.0) >= now);
                    assert!(asks(air, wind, coat, 4.0) >= now);
                    before = now;
                }
            }
        }
        assert!(asks(-10.0, 10.0, Coat::Wet, 5.0) > asks(-10.0, 10.0, Coat::Dry, 5.0));
    }

    #[test]
    fn strong_wind_takes_the_coat_and_no_more() {
        assert!(coat_insulation(&exposure(0.0, 100.0, Coat::Dry)).abs() < 1e-12);
    }
}
