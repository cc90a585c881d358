//! Kinds of quantity that must not mix, and the only place where US and metric units meet.
//!
//! Inside the library everything is kg, Mcal, g, day, head and US dollars. Pounds, short tons and degrees
//! Fahrenheit exist in input, in output and here. Feed as it is weighed and feed with the water taken out
//! are different types, because adding them is the commonest mistake in a ration:
//!
//! ```compile_fail
//! use overwinter::quantity::{KgAsFed, KgDm};
//! let mixed = KgAsFed(10.0) + KgDm(9.0);
//! ```

use std::iter::Sum;
use std::ops::{Add, Mul, Sub};

/// Kilograms in one avoirdupois pound (exact by definition).
pub const KG_PER_LB: f64 = 0.453_592_37;
/// Pounds in one short ton.
pub const LB_PER_TON: f64 = 2000.0;
/// Kilograms in one short ton.
pub const KG_PER_TON: f64 = KG_PER_LB * LB_PER_TON;
/// Grams in one ounce avoirdupois.
pub const G_PER_OZ: f64 = KG_PER_LB * 1000.0 / 16.0;
/// Kilometers in one statute mile (exact by definition).
pub const KM_PER_MILE: f64 = 1.609_344;
/// Mean length of a month, days, as the printed monthly tables use it.
pub const DAYS_PER_MONTH: f64 = 30.4;

/// Pounds to kilograms.
#[must_use]
pub fn kg_from_lb(lb: f64) -> f64 {
    lb * KG_PER_LB
}

/// Kilograms to pounds.
#[must_use]
pub fn lb_from_kg(kg: f64) -> f64 {
    kg / KG_PER_LB
}

/// Degrees Fahrenheit to Celsius.
#[must_use]
pub fn c_from_f(f: f64) -> f64 {
    (f - 32.0) / 1.8
}

/// Degrees Celsius to Fahrenheit.
#[must_use]
pub fn f_from_c(c: f64) -> f64 {
    c * 1.8 + 32.0
}

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
        pub struct $name(pub f64);

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }
        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }
        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }
        impl Sum for $name {
            fn sum<I: Iterator<Item = Self>>(items: I) -> Self {
                Self(items.map(|item| item.0).sum())
            }
        }
        impl $name {
            /// The same weight in pounds of the same kind.
            #[must_use]
            pub fn lb(self) -> f64 {
                lb_from_kg(self.0)
            }
            /// From pounds of the same kind.
            #[must_use]
            pub fn from_lb(lb: f64) -> Self {
                Self(kg_from_lb(lb))
            }
        }
    };
}

quantity!(
    /// Kilograms of feed as it is weighed, water and all.
    KgAsFed
);
quantity!(
    /// Kilograms of dry matter: feed with the water taken out.
    KgDm
);

impl KgAsFed {
    /// The dry matter in it; `dm_pct` is percent of the as-fed weight, 0 to 100.
    #[must_use]
    pub fn dry(self, dm_pct: f64) -> KgDm {
        KgDm(self.0 * dm_pct / 100.0)
    }
    /// In short tons.
    #[must_use]
    pub fn tons(self) -> f64 {
        self.0 / KG_PER_TON
    }
    /// From short tons.
    #[must_use]
    pub fn from_tons(tons: f64) -> Self {
        Self(tons * KG_PER_TON)
    }
}

impl KgDm {
    /// The weight of feed that holds this dry matter; `dm_pct` is percent of the as-fed weight, above 0.
    #[must_use]
    pub fn as_fed(self, dm_pct: f64) -> KgAsFed {
        KgAsFed(self.0 * 100.0 / dm_pct)
    }
}
