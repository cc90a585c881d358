//! Breeds by name: factor on maintenance, calf birth weight and peak milk.
//!
//! All figures from memory of the breed table of the 1996 edition of *Nutrient Requirements of Beef Cattle*.

/// What a breed name sets; birth weight and milk where the list has them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Breed {
    /// Factor on maintenance.
    pub(crate) factor: f64,
    /// Calf birth weight, kg.
    pub(crate) birth_kg: Option<f64>,
    /// Peak milk, kg a day.
    pub(crate) peak_milk_kg: Option<f64>,
}

const fn breed(factor: f64, birth_kg: f64, peak_milk_kg: f64) -> Breed {
    Breed { factor, birth_kg: Some(birth_kg), peak_milk_kg: Some(peak_milk_kg) }
}
const fn factor(factor: f64) -> Breed {
    Breed { factor, birth_kg: None, peak_milk_kg: None }
}

/// Every breed known by name.
pub(crate) const BREEDS: [(&str, Breed); 17] = [
    ("angus", breed(1.0, 31.0, 8.0)),
    ("hereford", breed(1.0, 36.0, 7.0)),
    ("charolais", breed(1.0, 39.0, 9.0)),
    ("limousin", breed(1.0, 37.0, 9.0)),
    ("gelbvieh", breed(1.0, 39.0, 11.5)),
    ("shorthorn", breed(1.0, 37.0, 8.5)),
    ("brahman", breed(0.9, 31.0, 8.0)),
    ("nellore", factor(0.9)),
    ("brangus", breed(0.95, 33.0, 8.0)),
    ("braford", factor(0.95)),
    ("santa_gertrudis", breed(0.95, 33.0, 8.0)),
    ("beefmaster", breed(0.95, 34.0, 8.0)),
    ("simmental", breed(1.2, 39.0, 12.0)),
    ("braunvieh", factor(1.2)),
    ("holstein", breed(1.2, 43.0, 15.0)),
    ("jersey", factor(1.2)),
    ("ayrshire", factor(1.2)),
];
