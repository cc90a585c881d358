//! The gin's side on paper: plain data with units in the names, the page, the slip and the sheet, and CSV.

pub mod build;
pub mod csv;
pub(super) mod market;
pub mod model;
pub mod sheet;
mod supply;
pub mod text;
pub mod units;
