//! The money: what the answer hangs on and how sure it is.

pub mod at_will;
pub mod low;
pub mod ranges;
pub mod score;
pub mod spell;
pub mod testing;
pub mod why;
pub mod worth;
