//! Net energy of a feed from its TDN by the equations of NRC 1984 and 1996 (Garrett 1980).

use crate::source::{Cite, Origin};

/// Where the two cubics come from.
pub const NET_ENERGY_FROM_TDN: Cite =
    Cite::new("nrc1996", "p. 126, DE and ME; cubics after Garrett 1980", Origin::Published);

/// Metabolizable energy, Mcal per kg of dry matter, from TDN in percent of dry matter.
///
/// DE = 0.04409 TDN; ME = 0.82 DE.
#[must_use]
pub fn me_mcal_per_kg(tdn_pct: f64) -> f64 {
    0.82 * 0.044_09 * tdn_pct
}

/// Net energy for maintenance, Mcal per kg of dry matter, from TDN in percent of dry matter; never below 0.
///
/// NEm = 1.37 ME − 0.138 ME² + 0.0105 ME³ − 1.12. Holds for about 45 to 95 % TDN.
#[must_use]
pub fn nem_mcal_per_kg(tdn_pct: f64) -> f64 {
    let me = me_mcal_per_kg(tdn_pct);
    (1.37 * me - 0.138 * me.powi(2) + 0.0105 * me.powi(3) - 1.12).max(0.0)
}

/// Net energy for gain, Mcal per kg of dry matter, from TDN in percent of dry matter; never below 0.
///
/// NEg = 1.42 ME − 0.174 ME² + 0.0122 ME³ − 1.65. Reaches zero at about 38 % TDN.
#[must_use]
pub fn neg_mcal_per_kg(tdn_pct: f64) -> f64 {
    let me = me_mcal_per_kg(tdn_pct);
    (1.42 * me - 0.174 * me.powi(2) + 0.0122 * me.powi(3) - 1.65).max(0.0)
}

/// TDN, percent of dry matter, whose NEm is the one given (Mcal per kg); the inverse of [`nem_mcal_per_kg`].
#[must_use]
pub fn tdn_pct_from_nem(nem_mcal_per_kg_dm: f64) -> f64 {
    let (mut low, mut high) = (20.0, 120.0);
    for _ in 0..80 {
        let middle = 0.5 * (low + high);
        if nem_mcal_per_kg(middle) < nem_mcal_per_kg_dm { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}
