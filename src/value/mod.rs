//! The money: what the answer hangs on and how sure it is.

pub mod answer;
pub mod at_will;
pub mod driver;
pub mod low;
pub mod nutrient_cost;
pub mod price_range;
pub mod ranges;
pub mod score;
pub mod spell;
pub mod sweep;
pub mod testing;
pub mod why;
pub mod within;
pub mod worth;
