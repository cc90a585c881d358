//! `overwinter gin`: what comes out of the seed cotton, when, and what neighbors can pay for it.

use super::diagnostics;
use super::input::{Shipped, read_text, tell, with_library};
use super::plan::to_json;
use super::{BAD_INPUT, DONE, Format, MessageFormat, Out, PrintArgs};
use crate::diagnostic::Diagnostic;
use crate::gin::answer::answer;
use crate::gin::product::Kind;
use crate::report::gin::{build, csv, sheet, text, units::Units};
use crate::report::html;
use crate::report::page::Page;
use crate::scenario;
use clap::{Args, ValueEnum};
use std::path::{Path, PathBuf};

/// Arguments of `gin`.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  overwinter gin examples/plains-gin/gin.yaml\n  overwinter gin examples/plains-gin/gin.yaml --set trash.storage_tons=2000\n  overwinter gin examples/plains-gin/gin.yaml --ticket --product trash\n\nHerd files of neighbors are looked for beside the gin file."
)]
pub struct GinArgs {
    /// The gin file; `-` reads standard input
    file: PathBuf,
    /// A what-if: lay a value over the gin file for this run; may be given several times
    #[arg(long = "set", value_name = "PATH=VALUE")]
    sets: Vec<String>,
    #[command(flatten)]
    print: PrintArgs,
    /// Print the page in metric units
    #[arg(long)]
    metric: bool,
    /// Print the delivery slips, with what is missing for them
    #[arg(long, conflicts_with = "buyer_sheet")]
    ticket: bool,
    /// Print what a buyer must know, with figures and sources
    #[arg(long)]
    buyer_sheet: bool,
    /// Only trash, or only seed
    #[arg(long, value_enum)]
    product: Option<ProductArg>,
}

/// Which byproduct.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum ProductArg {
    /// Gin trash
    Trash,
    /// Whole cottonseed
    Seed,
}

impl ProductArg {
    fn kind(self) -> Kind {
        match self {
            Self::Trash => Kind::Trash,
            Self::Seed => Kind::Seed,
        }
    }
}

pub(super) fn run(args: &GinArgs, out: &mut Out<'_>) -> std::io::Result<u8> {
    let shipped = match Shipped::load(out)? {
        Ok(shipped) => shipped,
        Err(code) => return Ok(code),
    };
    let from_input = args.file == Path::new("-");
    let name = if from_input { "standard input".to_owned() } else { args.file.display().to_string() };
    let text = match read_text(&args.file, &name) {
        Ok(text) => text,
        Err(one) => {
            tell(&[one], &name, "", args.print.message_format, out)?;
            return Ok(BAD_INPUT);
        }
    };
    let text = scenario::set::joined(&text, &args.sets);
    let folder = if from_input { Path::new("") } else { args.file.parent().unwrap_or(Path::new("")) };
    let herds = |file: &str| -> Result<String, Diagnostic> { scenario::load(&folder.join(file)) };
    let read = with_library(&shipped, |library| scenario::gin::read(&text, &name, library, &herds));
    match args.print.message_format {
        MessageFormat::Text => {
            for one in &read.told {
                tell(&one.list, &one.file, &one.text, args.print.message_format, out)?;
            }
        }
        MessageFormat::Json if read.told.is_empty() => {}
        MessageFormat::Json => {
            let files: Vec<_> =
                read.told.iter().map(|one| (one.list.as_slice(), one.file.as_str(), one.text.as_str())).collect();
            writeln!(out.rest, "{}", diagnostics::render_json_of(&files)?)?;
        }
    }
    let Some(gin) = read.gin else { return Ok(BAD_INPUT) };
    let kinds = args.product.map_or(vec![Kind::Trash, Kind::Seed], |only| vec![only.kind()]);
    // The papers need no winters solved.
    let answers: Vec<_> = if args.ticket || args.buyer_sheet {
        let alone = crate::gin::Gin { neighbors: Vec::new(), ..gin.clone() };
        kinds.iter().map(|kind| answer(&alone, *kind)).collect()
    } else {
        kinds.iter().map(|kind| answer(&gin, *kind)).collect()
    };
    let report = build::report(&gin, &answers);
    let units = Units { metric: args.metric };
    if let Some(path) = &args.print.html {
        let paper = |page: &Page, option: &str| html::simple(page, [], &format!("overwinter gin {option}"));
        let text = if args.ticket {
            paper(&sheet::slips_page(&report), "--ticket")
        } else if args.buyer_sheet {
            paper(&sheet::buyer_sheets_page(&report), "--buyer-sheet")
        } else {
            html::gin(&report, units)
        };
        return super::output::page(path, &text, DONE, out);
    }
    match args.print.format {
        Format::Json => writeln!(out.answer, "{}", to_json(&report)?)?,
        Format::Csv => write!(out.answer, "{}", csv::weeks(&report))?,
        Format::Table if args.ticket => write!(out.answer, "{}", sheet::slips(&report))?,
        Format::Table if args.buyer_sheet => write!(out.answer, "{}", sheet::buyer_sheets(&report))?,
        Format::Table => write!(out.answer, "{}", text::page(&report, units))?,
    }
    Ok(DONE)
}
