//! `overwinter new`: a file to begin with.

use super::output::new_file;
use super::{BAD_INPUT, Out};
use crate::scenario::starter;
use clap::{Args, Subcommand};
use jiff::civil::Date;
use std::path::PathBuf;
use std::time::{SystemTime, UNIX_EPOCH};

/// Month from which on a winter to come is meant, not the one that is going on.
const SPRING: i8 = 4;

/// Arguments of `new`.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  overwinter new herd my-herd.yaml --region southeast")]
pub struct NewArgs {
    /// What kind of file
    #[command(subcommand)]
    kind: Kind,
}

/// Kinds of file.
#[derive(Debug, Subcommand)]
enum Kind {
    /// A herd file: commented, ready to plan, everything in it invented
    #[command(
        after_help = "Examples:\n  overwinter new herd my-herd.yaml\n  overwinter new herd my-herd.yaml --region southeast --year 2026"
    )]
    Herd(Starter),
    /// A gin file: commented, ready to answer, everything in it invented
    #[command(after_help = "Example:\n  overwinter new gin my-gin.yaml --region high_plains")]
    Gin(Starter),
}

/// A file to begin with.
#[derive(Debug, Args)]
struct Starter {
    /// Where to write it; `-` is standard output
    file: PathBuf,
    /// Region, for the weather and the usual feeds
    #[arg(long, value_parser = starter::regions(), default_value = starter::regions()[0])]
    region: String,
    /// Year in which the winter begins [default: the winter going on or next to come]
    #[arg(long, value_parser = clap::value_parser!(i16).range(1990..=2099))]
    year: Option<i16>,
    /// Write over a file that is there
    #[arg(long)]
    force: bool,
}

pub(super) fn run(args: &NewArgs, out: &mut Out<'_>) -> std::io::Result<u8> {
    type Text = fn(&str, i16, &str) -> Option<String>;
    let (wish, text): (&Starter, Text) = match &args.kind {
        Kind::Herd(wish) => (wish, starter::herd),
        Kind::Gin(wish) => (wish, starter::gin),
    };
    let year = wish.year.unwrap_or_else(this_winter);
    match text(&wish.region, year, &wish.file.display().to_string()) {
        Some(text) => new_file(&wish.file, &text, wish.force, out),
        // The parser knows the regions.
        None => Ok(BAD_INPUT),
    }
}

/// The year in which the winter going on, or the next to come, began or begins.
fn this_winter() -> i16 {
    let seconds = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |since| since.as_secs());
    let days = i32::try_from(seconds / 86_400).unwrap_or(0);
    let first = Date::constant(1970, 1, 1);
    let today = first.checked_add(jiff::Span::new().days(days)).unwrap_or(first);
    if today.month() >= SPRING { today.year() } else { today.year() - 1 }
}
