//! Plain data turned into pages for people.

pub mod feeds;
