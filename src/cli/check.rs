//! `overwinter check`: judges rations of the user's own.

use super::input::herd_file;
use super::plan::{stopped, to_json};
use super::{CANNOT, DONE, Format, HerdArgs, Out};
use crate::check_rations;
use crate::report::{html, text};
use clap::Args;

/// Arguments of `check`.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  overwinter check examples/dry-fork/as-fed-now.yaml\n\nExit code 1: a limit that may never be broken is broken."
)]
pub struct CheckArgs {
    #[command(flatten)]
    herd: HerdArgs,
}

pub(super) fn run(args: &CheckArgs, out: &mut Out<'_>) -> std::io::Result<u8> {
    let file = match herd_file(&args.herd, out)? {
        Ok(file) => file,
        Err(code) => return Ok(code),
    };
    if file.case.fed.values().flatten().all(Option::is_none) {
        writeln!(out.rest, "error[H072]: {} holds no rations to judge", file.name)?;
        writeln!(out.rest, "  = help: write them under `fed:`, pounds as fed per head and day:")?;
        writeln!(out.rest, "          fed: {{cows: {{prairie_hay: 20, range_cube_38: 2}}}}")?;
        return Ok(super::BAD_INPUT);
    }
    match check_rations(&file.case) {
        Ok(report) => {
            let code = if report.status == "unfit" { CANNOT } else { DONE };
            if let Some(path) = &args.herd.print.html {
                return super::output::page(path, &html::check(&report), code, out);
            }
            match args.herd.print.format {
                Format::Table => write!(out.answer, "{}", text::check_page(&report))?,
                Format::Json => writeln!(out.answer, "{}", to_json(&report)?)?,
                Format::Csv => write!(out.answer, "{}", crate::report::csv::rations(&report))?,
            }
            Ok(code)
        }
        Err(stop) => stopped(&stop, &file.case, (&file.name, &file.text), &args.herd, out),
    }
}
