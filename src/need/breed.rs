//! Breed defaults: maintenance factor, calf birth weight and peak milk. From memory: a start, not a measurement.

use super::growth::{BREEDING_DAIRY, BREEDING_INDICUS, BREEDING_TAURUS};
use crate::source::{Cite, Origin};

/// Where the whole list comes from.
pub const BREEDS: Cite = Cite::new("nrc1996", "breed table", Origin::Memory);
/// Calf birth weight when nothing is given, kg: the weight that reproduces the printed table of 1200-lb cows.
pub const BIRTH_WEIGHT_KG: f64 = 37.0;
/// Where [`BIRTH_WEIGHT_KG`] comes from.
pub const BIRTH_WEIGHT: Cite = Cite::new("nrc2000", "table of 1200-lb cows by month", Origin::MemoryChecked);

/// Defaults of one breed; birth weight and milk where the list has them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Breed {
    /// Key in files.
    pub key: &'static str,
    /// Factor on maintenance.
    pub maintenance_factor: f64,
    /// Calf birth weight, kg.
    pub birth_weight_kg: Option<f64>,
    /// Peak milk of a grown cow, kg a day.
    pub peak_milk_kg: Option<f64>,
    /// Share of mature weight wanted at first breeding ([`super::growth::AT_BREEDING`]).
    pub breeding_share: f64,
}

const fn breed(key: &'static str, maintenance_factor: f64, birth_weight_kg: f64, peak_milk_kg: f64) -> Breed {
    Breed {
        birth_weight_kg: Some(birth_weight_kg),
        peak_milk_kg: Some(peak_milk_kg),
        ..factor(key, maintenance_factor, BREEDING_TAURUS)
    }
}
const fn zebu(breed: Breed) -> Breed {
    Breed { breeding_share: BREEDING_INDICUS, ..breed }
}
const fn factor(key: &'static str, maintenance_factor: f64, breeding_share: f64) -> Breed {
    Breed { key, maintenance_factor, birth_weight_kg: None, peak_milk_kg: None, breeding_share }
}

/// Every breed, all from memory ([`BREEDS`]). The 2016 edition counts Nellore at 1.00 on maintenance.
pub static LIST: &[Breed] = &[
    factor("bos_taurus", 1.00, BREEDING_TAURUS),
    factor("bos_indicus", 0.90, BREEDING_INDICUS),
    // Half of each.
    factor("bos_indicus_cross", 0.95, 0.5 * (BREEDING_TAURUS + BREEDING_INDICUS)),
    breed("angus", 1.00, 31.0, 8.0),
    breed("hereford", 1.00, 36.0, 7.0),
    breed("charolais", 1.00, 39.0, 9.0),
    breed("limousin", 1.00, 37.0, 9.0),
    breed("gelbvieh", 1.00, 39.0, 11.5),
    breed("shorthorn", 1.00, 37.0, 8.5),
    zebu(breed("brahman", 0.90, 31.0, 8.0)),
    factor("nellore", 0.90, BREEDING_INDICUS),
    breed("brangus", 0.95, 33.0, 8.0),
    factor("braford", 0.95, BREEDING_TAURUS),
    breed("santa_gertrudis", 0.95, 33.0, 8.0),
    breed("beefmaster", 0.95, 34.0, 8.0),
    breed("simmental", 1.20, 39.0, 12.0),
    factor("braunvieh", 1.20, BREEDING_TAURUS),
    Breed { breeding_share: BREEDING_DAIRY, ..breed("holstein", 1.20, 43.0, 15.0) },
    factor("jersey", 1.20, BREEDING_DAIRY),
    factor("ayrshire", 1.20, BREEDING_DAIRY),
];

/// A breed by its key.
#[must_use]
pub fn by_key(key: &str) -> Option<&'static Breed> {
    LIST.iter().find(|breed| breed.key == key)
}

/// Defaults of a cross: the mean of the parents, where both have the figure.
#[must_use]
pub fn cross(one: &Breed, other: &Breed) -> Breed {
    let mean = |a: f64, b: f64| 0.5 * (a + b);
    Breed {
        key: "cross",
        maintenance_factor: mean(one.maintenance_factor, other.maintenance_factor),
        birth_weight_kg: one.birth_weight_kg.zip(other.birth_weight_kg).map(|(a, b)| mean(a, b)),
        peak_milk_kg: one.peak_milk_kg.zip(other.peak_milk_kg).map(|(a, b)| mean(a, b)),
        breeding_share: mean(one.breeding_share, other.breeding_share),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn brangus_lies_near_the_mean_of_its_parents() {
        let mean = cross(by_key("brahman").unwrap(), by_key("angus").unwrap());
        assert!((mean.maintenance_factor - by_key("brangus").unwrap().maintenance_factor).abs() < 1e-12);
    }
}
