//! What an animal needs: pure functions, one file a subject, each with its source. `daily` puts them together.

pub mod daily;

pub use daily::{EnergyParts, GramParts, Needs};
