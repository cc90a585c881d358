//! `overwinter plan`: the main job.

use super::input::{HerdFile, herd_file, tell};
use super::named::{Named, named, offered_too};
use super::{BAD_INPUT, CANNOT, DONE, Format, HerdArgs, OUR_FAULT, Out};
use crate::report::{html, no_plan, ranges, ranges_page, sheet, short, testing, text, why, within};
use crate::value::answer::NoAnswer;
use crate::{Stop, plan, plan_practical, value, winter};
use clap::Args;

/// Arguments of `plan`.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  overwinter plan examples/dry-fork/herd.yaml --steady 0\n  overwinter plan examples/dry-fork/herd.yaml --within 3%"
)]
#[expect(clippy::struct_excessive_bools, reason = "each is a flag of the command line")]
pub struct PlanArgs {
    #[command(flatten)]
    herd: HerdArgs,
    /// Cost that may be given up for steadier rations, percent [default: the file's, or 0.5]
    #[arg(long, value_name = "PERCENT", value_parser = percent)]
    steady: Option<f64>,
    /// How surely every need is met, given how feeds vary, percent, 50 to 99; 50 is on the averages [default: the
    /// file's, or 50]
    #[arg(long, value_name = "PERCENT", value_parser = certainty)]
    certainty: Option<f64>,
    /// Round rations to the scoop (`scoop_lb` in the file, or half a pound), check them again, and say what it costs
    #[arg(long)]
    practical: bool,
    /// Say why a feed is in, out or at its limit, in dollars per ton, in place of the plan; may be given several times,
    /// and may name any row of the feed table
    #[arg(long, value_name = "FEED", conflicts_with = "html")]
    why: Vec<String>,
    /// Say how far each price and requirement can move before the plan changes, in place of the plan
    #[arg(long, conflicts_with_all = ["why", "html"])]
    ranges: bool,
    /// Say what a lab test of each untested feed saves at the asked certainty, in place of the plan
    #[arg(long, conflicts_with_all = ["why", "ranges", "html"])]
    tests: bool,
    /// With `--html`: sliders for the price of each bought feed, which step through answers found beforehand
    #[arg(long, requires = "html", conflicts_with = "sheet")]
    live: bool,
    /// Print the feeding sheet: what to put out, for each group and time
    #[arg(long)]
    sheet: bool,
    /// Print other plans that cost at most so much more than the cheapest, such as 3%: fewest feeds, least hauling, least gin
    /// trash, most own roughage
    #[arg(long, value_name = "PERCENT", value_parser = percent, conflicts_with_all = ["steady", "practical", "sheet", "why", "ranges", "tests", "html"])]
    within: Option<f64>,
}

fn percent(text: &str) -> Result<f64, String> {
    match text.trim_end_matches('%').trim().parse::<f64>() {
        Ok(value) if (0.0..=100.0).contains(&value) => Ok(value),
        _ => Err("write a percent from 0 to 100, such as 0.5".to_owned()),
    }
}

fn certainty(text: &str) -> Result<f64, String> {
    match text.trim_end_matches('%').trim().parse::<f64>() {
        Ok(value) if (50.0..=99.0).contains(&value) => Ok(value),
        _ => Err("write a percent from 50 (on the averages) to 99, such as 90".to_owned()),
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
    if let Some(certainty) = args.certainty {
        file.case.settings.certainty_pct = certainty;
    }
    if !args.why.is_empty() {
        return why(args, &file, out);
    }
    if args.ranges {
        return ranges(args, &file, out);
    }
    if args.tests {
        return tests(args, &file, out);
    }
    if let Some(pct) = args.within {
        return within(pct, &file, args, out);
    }
    let made = if args.practical { plan_practical(&file.case) } else { plan(&file.case) };
    match made {
        Ok(report) => {
            if let Some(path) = &args.herd.print.html {
                let feeds = if args.live { super::worth::live(&file.case) } else { Vec::new() };
                let text = if args.sheet { html::card(&report) } else { html::plan(&report, &feeds) };
                return super::output::page(path, &text, DONE, out);
            }
            match args.herd.print.format {
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

/// Other plans that cost little more.
fn within(pct: f64, file: &HerdFile, args: &PlanArgs, out: &mut Out<'_>) -> std::io::Result<u8> {
    let found = winter::assemble(&file.case).map_err(NoAnswer::Input).and_then(|cells| {
        value::within::within(&file.case, &cells, pct).map(|found| within::of(&file.case, &cells, &found))
    });
    match found {
        Ok(report) => {
            match args.herd.print.format {
                Format::Table => write!(out.answer, "{}", within::page(&report))?,
                Format::Json => writeln!(out.answer, "{}", to_json(&report)?)?,
                Format::Csv => write!(out.answer, "{}", within::csv(&report))?,
            }
            Ok(DONE)
        }
        Err(no) => {
            let stop = match no {
                NoAnswer::Input(list) => Stop::Input(list),
                NoAnswer::Short(short) => Stop::Short(short),
                NoAnswer::Unproven(why) => Stop::Unproven(why),
            };
            stopped(&stop, &file.case, (&file.name, &file.text), &args.herd, out)
        }
    }
}

/// How far prices and requirements can move.
fn ranges(args: &PlanArgs, file: &HerdFile, out: &mut Out<'_>) -> std::io::Result<u8> {
    let stop = match winter::assemble(&file.case) {
        Ok(cells) => match value::ranges::ranges(&file.case, &cells) {
            Ok(found) => {
                let report = ranges::of(&file.case, &cells, &found);
                match args.herd.print.format {
                    Format::Table => write!(out.answer, "{}", ranges_page::page(&report))?,
                    Format::Json => writeln!(out.answer, "{}", to_json(&report)?)?,
                    Format::Csv => write!(out.answer, "{}", ranges::csv(&report))?,
                }
                return Ok(DONE);
            }
            Err(failure) => no_plan(&file.case, &cells, &failure),
        },
        Err(list) => Stop::Input(list),
    };
    stopped(&stop, &file.case, (&file.name, &file.text), &args.herd, out)
}

/// What lab tests save.
fn tests(args: &PlanArgs, file: &HerdFile, out: &mut Out<'_>) -> std::io::Result<u8> {
    let stop = match winter::assemble(&file.case) {
        Ok(cells) => match value::testing::tests(&file.case) {
            Ok(found) => {
                let report = testing::of(&file.case, &found);
                match args.herd.print.format {
                    Format::Table => write!(out.answer, "{}", testing::page(&report))?,
                    Format::Json => writeln!(out.answer, "{}", to_json(&report)?)?,
                    Format::Csv => write!(out.answer, "{}", testing::csv(&report))?,
                }
                return Ok(DONE);
            }
            Err(failure) => no_plan(&file.case, &cells, &failure),
        },
        Err(list) => Stop::Input(list),
    };
    stopped(&stop, &file.case, (&file.name, &file.text), &args.herd, out)
}

/// Why a question beside the plan has no answer: most often because there is no plan.
pub(super) fn no_plan(case: &winter::Case, cells: &winter::Cells<'_>, failure: &crate::lp::Failure) -> Stop {
    match winter::plan(case, cells) {
        Err(no) => no.into(),
        Ok(_) => Stop::Unproven(failure.to_string()),
    }
}

/// Why each named feed is where it is.
fn why(args: &PlanArgs, file: &HerdFile, out: &mut Out<'_>) -> std::io::Result<u8> {
    let mut reports = Vec::new();
    for name in &args.why {
        let Named { case, index, in_file, text } = match named(file, &args.herd, name, out)? {
            Ok(found) => found,
            Err(code) => return Ok(code),
        };
        let stop = match winter::assemble(&case) {
            Ok(cells) => match value::why::why(&case, &cells, index) {
                Ok(found) => {
                    reports.push(why::of(&case, &found, in_file));
                    continue;
                }
                Err(failure) => no_plan(&case, &cells, &failure),
            },
            Err(list) => Stop::Input(list),
        };
        offered_too(name, in_file, &stop, out)?;
        return stopped(&stop, &case, (&file.name, &text), &args.herd, out);
    }
    match args.herd.print.format {
        Format::Table => {
            let pages: Vec<String> = reports.iter().map(why::page).collect();
            write!(out.answer, "{}", pages.join("\n"))?;
        }
        Format::Json => writeln!(out.answer, "{}", to_json(&reports)?)?,
        Format::Csv => write!(out.answer, "{}", why::csv(&reports))?,
    }
    Ok(DONE)
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
            tell(list, name, text, herd.print.message_format, out)?;
            Ok(BAD_INPUT)
        }
        Stop::Short(short) => {
            let page = short::sections(case, short);
            if let Some(path) = &herd.print.html {
                let groups = case.groups.iter().map(|group| group.name.as_str());
                let names =
                    groups.chain(case.offers.iter().map(|offer| offer.id.as_str())).chain([case.place.name.as_str()]);
                return super::output::page(path, &html::simple(&page, names, "overwinter plan"), CANNOT, out);
            }
            match herd.print.format {
                Format::Table => write!(out.answer, "{}", page.text())?,
                Format::Json => writeln!(out.answer, "{}", to_json(&no_plan::of(case, short))?)?,
                Format::Csv => write!(out.answer, "{}", no_plan::csv(&no_plan::of(case, short)))?,
            }
            Ok(CANNOT)
        }
        Stop::Unproven(why) => {
            writeln!(out.rest, "error[L001]: the answer could not be proved, so none is printed: {why}")?;
            writeln!(out.rest, "This is a fault of the program. Please report it with the herd file.")?;
            Ok(OUR_FAULT)
        }
    }
}
