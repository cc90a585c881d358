//! What an animal needs: pure functions, one file a subject, each with its source. `daily` puts them together.

pub mod breed;
pub mod cold;
pub mod condition;
pub mod daily;
pub mod energy;
pub mod growth;
pub mod intake;
pub mod lactation;
pub mod mineral;
pub mod moment;
pub mod over;
pub mod path;
pub mod pregnancy;
pub mod protein;
pub mod registry;
pub mod spell;
pub mod target;
pub mod thumb;
pub mod vitamin;
pub mod water;

pub use daily::{EnergyParts, GramParts, Needs, mean_needs, needs_in_month};
pub use over::NeedsOverride;
pub use path::ConditionPath;
pub use spell::{SpellNeed, spell_need};
