//! The command line: one file a command, and how diagnostics are drawn.

pub mod diagnostics;
