//! From the text of a herd file to a [`Case`](crate::winter::Case), with every fault told at once.
//!
//! `spans` makes a tree in which every key and value knows its bytes; the sections read it into domain values
//! and note what is wrong; [`read`] gives the case with its warnings, or all the errors in the order of the file.
//! Reading files from disk is done in [`load`] alone.

mod amounts;
mod build;
mod code;
mod composition;
mod condition;
mod csv;
mod fed;
mod feeding;
mod feeds;
mod fields;
pub mod gin;
mod grazing;
mod groups;
mod library;
mod limits;
mod load;
mod lots;
mod measure;
mod near;
mod node;
mod overrides;
mod place;
mod plausible;
mod price;
pub mod schema;
pub mod set;
mod sheet;
mod spans;
pub mod starter;
mod supply;
mod syntax;
mod target;
mod values;
mod winter;

pub use build::read;
pub use code::Code;
pub use fed::no_rations;
pub use library::Library;
pub use load::{LARGEST as LARGEST_BYTES, load, load_sheet, text_of};
pub use sheet::{NamedPrices, read_prices};
