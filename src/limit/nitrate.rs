//! Nitrate: how much of a ration a feed tested for it may be, from the printed brackets (Clemson).
//!
//! Printed, ppm of nitrate nitrogen in dry matter: to 1,000 safe; to 1,500 half the ration of females in calf; to 2,000
//! half for all; to 3,500 35 to 40 %, none in calf; to 4,000 a quarter, none in calf; over 4,000 do not feed. Where two
//! brackets meet, the stricter one holds.

use crate::herd::{AnimalClass, Group, Period, Stage};

/// Nitrate nitrogen to which a feed is safe as the whole ration, ppm of dry matter (Clemson).
pub const SAFE_PPM: f64 = 1000.0;
/// The stricter figure of Oklahoma State, ppm (3,000 ppm of nitrate).
pub const STRICTER_SAFE_PPM: f64 = 700.0;
/// From here on none of it to females in calf, ppm (Clemson).
pub const NONE_IN_CALF_PPM: f64 = 2000.0;
/// Above it none to any cattle, ppm (Clemson).
pub const NONE_PPM: f64 = 4000.0;
/// Nitrate for each part of nitrate nitrogen, by weight (62.00 / 14.01).
pub const NITRATE_PER_N: f64 = 4.43;

/// Whether females of a group are in calf on some day of a period, as far as the calving date tells.
#[must_use]
pub fn in_calf(group: &Group, period: &Period) -> bool {
    let Some(calving) = group.calving.filter(|_| group.class.calves()) else { return false };
    let last = period.to.yesterday().unwrap_or(period.to);
    // Gestation is longer than any time between calvings: who is in calf in the period is so at one end of it.
    [period.from, last].into_iter().any(|day| {
        Stage::on(group, day).gestation_days > 0.0 || group.class == AnimalClass::BredHeifer && day < calving
    })
}

/// Share of the whole ration's room that each pound of a feed takes: 1 over the share that print allows it, so that
/// several such feeds together are held as each alone. Up to [`SAFE_PPM`] it takes room in proportion (judgement: a feed
/// at the safe figure leaves none for a worse one). 35 % is taken where print has 35 to 40.
#[must_use]
pub fn room(ppm: f64, in_calf: bool) -> f64 {
    if ppm > NONE_PPM {
        ppm / SAFE_PPM
    } else if ppm >= 3500.0 {
        1.0 / 0.25
    } else if ppm >= NONE_IN_CALF_PPM {
        1.0 / 0.35
    } else if ppm >= 1500.0 || in_calf && ppm > SAFE_PPM {
        1.0 / 0.50
    } else {
        (ppm / SAFE_PPM).min(1.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Each printed bracket, at its ends and in the middle: ppm, most of the ration in calf, most for others.
    #[test]
    fn printed_brackets() {
        for (ppm, in_calf, others) in [
            (1000.0, 1.0, 1.0),
            (1001.0, 0.50, 1.0),
            (1250.0, 0.50, 1.0),
            (1500.0, 0.50, 0.50),
            (1999.0, 0.50, 0.50),
            (2000.0, 0.35, 0.35),
            (3499.0, 0.35, 0.35),
            (3500.0, 0.25, 0.25),
            (4000.0, 0.25, 0.25),
        ] {
            for (pregnant, share) in [(true, in_calf), (false, others)] {
                let most = 1.0 / room(ppm, pregnant);
                assert!((most - share).abs() < 1e-12, "{ppm} ppm, in calf {pregnant}: {most}, printed {share}");
                // What the diet then holds is never over the top of the bracket that all cattle take without a limit.
                assert!(ppm * most <= if pregnant { 1400.0 } else { 1500.0 }, "{ppm} ppm: {}", ppm * most);
            }
        }
        assert_eq!(room(0.0, true), 0.0);
        assert_eq!(room(500.0, true), 0.5);
        assert!(1.0 / room(4001.0, false) < 0.25);
    }
}
