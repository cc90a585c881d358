//! The winter: ration blocks, stores and purchases as one programme, and back to a plan.

pub mod assemble;
pub mod binding;
pub mod case;
pub mod causes;
pub mod known;
pub mod loads;
pub mod plan;
pub mod practical;
pub mod program;
mod read;
pub mod reserve;
pub mod short;
pub mod steady;
pub mod sure;
pub mod ways;
pub mod wider;

pub use assemble::{Cell, Cells, assemble, assemble_like};
pub use case::{Case, HandRation, LimitChange, NeedsOverride, Settings};
pub use plan::{FeedFlow, FeedWinter, NoPlan, Plan, PlannedRation, plan};
pub use short::{Short, Shortfall};
