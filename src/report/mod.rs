//! Plain data to people: tables, pages, JSON.

pub mod build;
pub mod compare;
pub mod compare_page;
pub mod csv;
pub mod driver;
pub mod explain;
pub mod feeds;
pub mod gin;
pub mod grid;
pub mod handout;
pub mod haul;
pub mod model;
pub mod needs;
pub mod needs_page;
pub mod prices;
pub mod ranges;
pub mod sheet;
pub mod short;
mod side;
pub mod spell;
pub mod sure;
pub mod testing;
pub mod text;
pub mod weather;
pub mod why;
pub mod within;
pub mod worth;
