//! What an animal needs: pure functions, one file a subject, each with its source. `daily` puts them together.

pub mod daily;
pub mod over;

pub use daily::{EnergyParts, GramParts, Needs};
pub use over::NeedsOverride;
