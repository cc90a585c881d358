//! Plain data to people: tables, pages, JSON.

pub mod build;
pub mod grid;
pub mod model;
pub mod text;
