//! `overwinter plan`: the main job.

use super::input::{herd_file, tell};
use super::{BAD_INPUT, CANNOT, DONE, Format, HerdArgs, OUR_FAULT, Out};
use crate::report::{html, sheet, short, text};
use crate::{Stop, plan, plan_practical};
use clap::Args;

/// Arguments of `plan`.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  overwinter plan examples/dry-fork/herd.yaml --steady 0")]
pub struct PlanArgs {
    #[command(flatten)]
    herd: HerdArgs,
    /// Cost that may be given up for steadier rations, percent [default: the file's, or 0.5]
    #[arg(long, value_name = "PERCENT", value_parser = percent)]
    steady: Option<f64>,
    /// Round rations to the scoop (`scoop_lb` in the file, or half a pound), check them again, and say what it costs
    #[arg(long)]
    practical: bool,
    /// Print the feeding sheet: what to put out, for each group and time
    #[arg(long)]
    sheet: bool,
}

fn percent(text: &str) -> Result<f64, String> {
    match text.trim_end_matches('%').trim().parse::<f64>() {
        Ok(value) if (0.0..=100.0).contains(&value) => Ok(value),
        _ => Err("write a percent from 0 to 100, such as 0.5".to_owned()),
    }
}

pub(super) fn run(args: &PlanArgs, out: &mut Out<'_>) -> std::io::Result<u8> {
    let mut file = match herd_file(&args.herd, out)? {
        Ok(file) => file,
        Err(code) => return Ok(code),
    };
    if let Some(steady) = args.steady {
        file.case.settings.steady_pct = steady;
    }
    if file.case.settings.certainty_pct > 50.0 {
        writeln!(
            out.rest,
            "warning: `certainty_pct` is read but not counted yet: the plan is on the averages (50); the low case on the page says what a poor \
             test would do"
        )?;
    }
    let made = if args.practical { plan_practical(&file.case) } else { plan(&file.case) };
    match made {
        Ok(report) => {
            if let Some(path) = &args.herd.html {
                let text = if args.sheet { html::card(&report) } else { html::plan(&report) };
                return super::output::page(path, &text, DONE, out);
            }
            match args.herd.format {
                Format::Table if args.sheet => write!(out.answer, "{}", sheet::page(&report))?,
                Format::Table => write!(out.answer, "{}", text::plan_page(&report))?,
                Format::Json => writeln!(out.answer, "{}", to_json(&report)?)?,
                Format::Csv => write!(out.answer, "{}", crate::report::csv::rations(&report))?,
            }
            Ok(DONE)
        }
        Err(stop) => stopped(&stop, &file.case, (&file.name, &file.text), &args.herd, out),
    }
}

pub(super) fn to_json(value: &impl serde::Serialize) -> std::io::Result<String> {
    serde_json::to_string_pretty(value).map_err(std::io::Error::other)
}

/// Tells why there is no report.
pub(super) fn stopped(
    stop: &Stop,
    case: &crate::winter::Case,
    (name, text): (&str, &str),
    herd: &HerdArgs,
    out: &mut Out<'_>,
) -> std::io::Result<u8> {
    match stop {
        Stop::Input(list) => {
            tell(list, name, text, herd.message_format, out)?;
            Ok(BAD_INPUT)
        }
        Stop::Short(short) => {
            let page = short::sections(case, short);
            if let Some(path) = &herd.html {
                let groups = case.groups.iter().map(|group| group.name.as_str());
                let names =
                    groups.chain(case.offers.iter().map(|offer| offer.id.as_str())).chain([case.place.name.as_str()]);
                return super::output::page(path, &html::simple(&page, names, "overwinter plan"), CANNOT, out);
            }
            write!(out.answer, "{}", page.text())?;
            Ok(CANNOT)
        }
        Stop::Unproven(why) => {
            writeln!(out.rest, "error[L001]: the answer could not be proved, so none is printed: {why}")?;
            writeln!(out.rest, "This is a fault of the program. Please report it with the herd file.")?;
            Ok(OUR_FAULT)
        }
    }
}
