//! `overwinter worth`: what a feed is worth on this herd, this winter.

use super::input::herd_file;
use super::named::{Named, named, offered_too};
use super::plan::{no_plan, stopped, to_json};
use super::{BAD_INPUT, DONE, Format, HerdArgs, Out};
use crate::Stop;
use crate::report::{html, worth};
use crate::value::worth as value;
use crate::winter;
use clap::Args;

/// Arguments of `worth`.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  overwinter worth examples/dry-fork/herd.yaml whole_cottonseed\n  overwinter worth examples/dry-fork/herd.yaml whole_cottonseed --at 260\n  overwinter worth examples/dry-fork/herd.yaml distillers_grains\n\nThe answer is that of the least-cost winter in part loads, not made steadier."
)]
pub struct WorthArgs {
    #[command(flatten)]
    herd: HerdArgs,
    /// Feeds by name: of the herd file, or any row of the feed table; without one, every bought feed of the file
    #[arg(value_name = "FEED")]
    feeds: Vec<String>,
    /// Answer at this delivered price, US dollars per ton as fed [default: the file's price]
    #[arg(long, value_name = "USD_PER_TON", value_parser = dollars)]
    at: Option<f64>,
    /// Print every step, also those close to each other
    #[arg(long)]
    all: bool,
}

fn dollars(text: &str) -> Result<f64, String> {
    match text.trim().trim_start_matches('$').parse::<f64>() {
        Ok(value) if (0.0..=value::HIGHEST_USD_PER_TON).contains(&value) => Ok(value),
        _ => Err("write dollars per ton, such as 260".to_owned()),
    }
}

pub(super) fn run(args: &WorthArgs, out: &mut Out<'_>) -> std::io::Result<u8> {
    let file = match herd_file(&args.herd, out)? {
        Ok(file) => file,
        Err(code) => return Ok(code),
    };
    let names: Vec<String> = if args.feeds.is_empty() {
        let bought = file.case.offers.iter().filter(|offer| offer.price_usd_per_ton.is_some());
        bought.filter(|offer| !offer.feed.class.is_mineral()).map(|offer| offer.id.clone()).collect()
    } else {
        args.feeds.clone()
    };
    let mut reports = Vec::new();
    for name in &names {
        let Named { mut case, index, in_file, text } = match named(&file, &args.herd, name, out)? {
            Ok(found) => found,
            Err(code) => return Ok(code),
        };
        if case.offers[index].grazing.is_some() || case.offers[index].feed.class.is_grazed() {
            writeln!(out.rest, "error: `{name}` is grazed, so it is not bought by the ton")?;
            writeln!(out.rest, "  = help: `overwinter plan` with `--set` shows what the winter costs without it")?;
            return Ok(BAD_INPUT);
        }
        let price = args.at.or(if in_file { case.offers[index].delivered_usd_per_ton() } else { None });
        value::make_buyable(&mut case.offers[index]);
        let stop = match winter::assemble(&case) {
            Ok(cells) => match value::table(&case, &cells, index) {
                Ok(table) => {
                    reports.push(worth::of(&case, &table, in_file, price));
                    continue;
                }
                Err(failure) => no_plan(&case, &cells, &failure),
            },
            Err(list) => Stop::Input(list),
        };
        offered_too(name, in_file, &stop, out)?;
        return stopped(&stop, &case, (&file.name, &text), &args.herd, out);
    }
    if let Some(path) = &args.herd.print.html {
        return super::output::page(path, &html::worth(&reports, &file.case.place.name, args.all), DONE, out);
    }
    match args.herd.print.format {
        Format::Table => {
            for (index, report) in reports.iter().enumerate() {
                if index > 0 {
                    writeln!(out.answer)?;
                }
                write!(out.answer, "{}", worth::page(report, &file.case.place.name, args.all))?;
            }
        }
        Format::Json => writeln!(out.answer, "{}", to_json(&reports)?)?,
        Format::Csv => write!(out.answer, "{}", worth::csv(&reports))?,
    }
    Ok(DONE)
}

/// The feeds of a case whose price can be moved, each with its answers; those without a table are left out.
pub(super) fn live(case: &winter::Case) -> Vec<worth::LiveFeed> {
    let bought = |offer: &crate::feed::Offer| {
        offer.price_usd_per_ton.is_some()
            && !offer.feed.class.is_mineral()
            && !offer.feed.class.is_grazed()
            && offer.grazing.is_none()
    };
    let one = |index: usize| {
        let mut case = case.clone();
        let price = case.offers[index].delivered_usd_per_ton();
        value::make_buyable(&mut case.offers[index]);
        let cells = winter::assemble(&case).ok()?;
        let table = value::table(&case, &cells, index).ok()?;
        worth::live(&case, &table, price)
    };
    (0..case.offers.len()).filter(|index| bought(&case.offers[*index])).filter_map(one).collect()
}
