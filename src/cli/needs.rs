//! `overwinter needs`: what each group needs, by period, with its parts; or a printed table without a herd file.

use super::input::herd_file;
use super::plan::to_json;
use super::{BAD_INPUT, DONE, Format, HerdArgs, Out, PrintArgs};
use crate::herd::AnimalClass;
use crate::need::breed::{self, Breed};
use crate::report::handout::{self, HandoutWish};
use crate::report::html;
use crate::report::needs;
use crate::report::needs_page::{self, PageStyle};
use clap::Args;
use std::path::PathBuf;

/// Arguments of `needs`.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  overwinter needs examples/dry-fork/herd.yaml --parts\n  overwinter needs --table cow --weight-lb 1200 --milk-lb 20\n  overwinter needs --table stocker --weight-lb 500,600 --gain-lb 1.5,2 --metric"
)]
pub struct NeedsArgs {
    /// The herd file; `-` reads standard input. `--table CLASS` needs none
    #[arg(required_unless_present = "table", conflicts_with = "table", value_name = "FILE")]
    file: Option<PathBuf>,
    /// A what-if: lay a value over the file for this run; may be given several times
    #[arg(long = "set", value_name = "PATH=VALUE", conflicts_with = "table")]
    sets: Vec<String>,
    /// Print the table of a class without a herd file: cows by month since calving, bred heifers by month to calving,
    /// growing cattle by weight and gain, bulls by weight
    #[arg(long, value_name = "CLASS", value_parser = class)]
    table: Option<AnimalClass>,
    /// Weight, lb; several by commas. Of a bred heifer: at breeding
    #[arg(long, value_name = "LB", value_delimiter = ',', value_parser = weight, requires = "table", conflicts_with = "file")]
    weight_lb: Vec<f64>,
    /// Milk at the peak, lb a day
    #[arg(long, value_name = "LB", value_parser = milk, requires = "table", conflicts_with = "file")]
    milk_lb: Option<f64>,
    /// Mature weight, lb
    #[arg(long, value_name = "LB", value_parser = weight, requires = "table", conflicts_with = "file")]
    mature_weight_lb: Option<f64>,
    /// Gain, lb a day; several by commas
    #[arg(long, value_name = "LB", value_delimiter = ',', value_parser = gain, requires = "table", conflicts_with = "file")]
    gain_lb: Vec<f64>,
    /// Breed, for maintenance, milk and birth weight (from memory)
    #[arg(long, value_name = "NAME", value_parser = breed_of, requires = "table", conflicts_with = "file")]
    breed: Option<Breed>,
    /// Body condition score, 1 to 9
    #[arg(long, value_name = "SCORE", value_parser = score, requires = "table", conflicts_with = "file")]
    condition: Option<f64>,
    /// Growing cattle over a year old: they eat by the yearling equation
    #[arg(long, requires = "table", conflicts_with = "file")]
    yearling: bool,
    /// What each part asks, under each table
    #[arg(long)]
    parts: bool,
    /// Kilograms, liters and degrees Celsius on the page; JSON and CSV carry their units in their names
    #[arg(long)]
    metric: bool,
    #[command(flatten)]
    print: PrintArgs,
}

fn class(text: &str) -> Result<AnimalClass, String> {
    let known = || AnimalClass::ALL.into_iter().filter(|class| *class != AnimalClass::YoungCalf);
    known().find(|class| class.key() == text.replace('-', "_")).ok_or_else(|| {
        let keys: Vec<&str> = known().map(AnimalClass::key).collect();
        format!("it can be {}", keys.join(", "))
    })
}

fn breed_of(text: &str) -> Result<Breed, String> {
    breed::by_key(&text.replace('-', "_")).copied().ok_or_else(|| {
        let keys: Vec<&str> = breed::LIST.iter().map(|breed| breed.key).collect();
        format!("it can be {}", keys.join(", "))
    })
}

fn between(text: &str, low: f64, high: f64) -> Result<f64, String> {
    match text.trim().parse::<f64>() {
        Ok(value) if (low..=high).contains(&value) => Ok(value),
        _ => Err(format!("write a figure from {low} to {high}")),
    }
}
fn weight(text: &str) -> Result<f64, String> {
    between(text, 100.0, 3000.0)
}
fn milk(text: &str) -> Result<f64, String> {
    between(text, 0.0, 90.0)
}
fn gain(text: &str) -> Result<f64, String> {
    between(text, 0.0, 4.4)
}
fn score(text: &str) -> Result<f64, String> {
    between(text, 1.0, 9.0)
}

pub(super) fn run(args: &NeedsArgs, out: &mut Out<'_>) -> std::io::Result<u8> {
    let table = match (args.table, &args.file) {
        (Some(class), _) => {
            let wish = HandoutWish {
                weight_lb: args.weight_lb.clone(),
                milk_lb: args.milk_lb,
                mature_weight_lb: args.mature_weight_lb,
                gain_lb: args.gain_lb.clone(),
                breed: args.breed,
                condition: args.condition,
                yearling: args.yearling,
                metric: args.metric,
            };
            match handout::of(class, &wish) {
                Ok(table) => table,
                Err(why) => {
                    writeln!(out.rest, "error: no table can be made: {why}")?;
                    return Ok(BAD_INPUT);
                }
            }
        }
        (None, Some(file)) => {
            let herd = HerdArgs {
                file: file.clone(),
                sets: args.sets.clone(),
                print: PrintArgs { html: None, ..args.print.clone() },
            };
            match herd_file(&herd, out)? {
                Ok(file) => needs::of(&file.case),
                Err(code) => return Ok(code),
            }
        }
        // The parser asks for one of the two.
        (None, None) => return Ok(BAD_INPUT),
    };
    let style = PageStyle { metric: args.metric, parts: args.parts };
    if let Some(path) = &args.print.html {
        let page = needs_page::sections(&table, style);
        let names = table.groups.iter().map(|group| group.name.as_str()).chain([table.place.as_str()]);
        return super::output::page(path, &html::simple(&page, names, "overwinter needs"), DONE, out);
    }
    match args.print.format {
        Format::Table => write!(out.answer, "{}", needs_page::page(&table, style))?,
        Format::Json => writeln!(out.answer, "{}", to_json(&table)?)?,
        Format::Csv => write!(out.answer, "{}", needs::csv(&table))?,
    }
    Ok(DONE)
}
