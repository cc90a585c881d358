//! Plain data to people: tables, pages, JSON.

pub mod build;
pub mod csv;
pub mod explain;
pub mod feeds;
pub mod grid;
pub mod handout;
pub mod haul;
pub mod html;
pub mod model;
pub mod needs;
pub mod needs_page;
pub mod page;
pub mod schema;
pub mod sheet;
pub mod short;
pub mod spell;
pub mod text;
pub mod weather;
pub mod worth;
