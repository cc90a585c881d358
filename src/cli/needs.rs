//! `overwinter needs`: what each group needs, by period, with its parts.

use super::input::herd_file;
use super::plan::to_json;
use super::{DONE, Format, HerdArgs, Out};
use crate::report::needs;
use clap::Args;

/// Arguments of `needs`.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  overwinter needs examples/dry-fork/herd.yaml")]
pub struct NeedsArgs {
    #[command(flatten)]
    herd: HerdArgs,
}

pub(super) fn run(args: &NeedsArgs, out: &mut Out<'_>) -> std::io::Result<u8> {
    let file = match herd_file(&args.herd, out)? {
        Ok(file) => file,
        Err(code) => return Ok(code),
    };
    let table = needs::of(&file.case);
    match args.herd.format {
        Format::Table => write!(out.answer, "{}", needs::page(&table))?,
        Format::Json => writeln!(out.answer, "{}", to_json(&table)?)?,
        Format::Csv => write!(out.answer, "{}", needs::csv(&table))?,
    }
    Ok(DONE)
}
