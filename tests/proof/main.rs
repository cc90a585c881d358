//! The whole product held against what is known from elsewhere: rules against feed values, prices against
//! re-solved costs, plans against printed and recomputed answers, and plans against each other.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::panic,
    clippy::expect_used,
    clippy::float_cmp,
    reason = "helpers of tests may panic"
)]

#[path = "../rows/mod.rs"]
mod rows;

mod budget;
mod case_a;
mod diet;
mod doses;
mod duals;
mod eaten;
mod kit;
mod plans;
mod practice;
mod random;
mod rules;
mod said;
mod sense;
mod short;
