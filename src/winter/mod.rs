//! The winter: ration blocks, stocks and loads as one programme, and back to a plan.

pub mod case;

pub use case::{Case, HandRation, LimitChange, NeedsOverride, Settings};
