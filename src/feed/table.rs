//! The feed table shipped with the program.
