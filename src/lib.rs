//! Least-cost winter rations for beef cattle on cotton-gin byproducts.

pub mod diagnostic;
pub mod feed;
pub mod herd;
pub mod lp;
pub mod need;
pub mod quantity;
pub mod report;
pub mod source;
pub mod winter;
