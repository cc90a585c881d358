//! The command line: one file a command. The only place that reads files and prints.

mod check;
mod compare;
pub mod diagnostics;
mod explain;
mod feeds;
mod gin;
mod input;
mod named;
mod needs;
mod new;
mod output;
mod plan;
mod schema;
mod worth;

use clap::{Args, Parser, Subcommand, ValueEnum};
use std::io::Write;
use std::path::PathBuf;

/// Exit code of an answer.
pub const DONE: u8 = 0;
/// Exit code when no ration can meet it, or a checked ration breaks a limit.
pub const CANNOT: u8 = 1;
/// Exit code of bad input or usage.
pub const BAD_INPUT: u8 = 2;
/// Exit code of a fault of our own.
pub const OUR_FAULT: u8 = 70;

/// Least-cost winter rations for beef cattle on what the cotton gins leave.
#[derive(Debug, Parser)]
#[command(name = "overwinter", version, max_term_width = 100, arg_required_else_help = true)]
#[command(
    after_help = "Examples:\n  overwinter plan examples/dry-fork/herd.yaml\n  overwinter feeds whole_cottonseed\n  overwinter explain gossypol"
)]
pub struct Cli {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Plan the winter at least cost: rations, purchases, money, what decides, what to watch
    Plan(plan::PlanArgs),
    /// Say what feeds are worth here: break-even price and the whole table of price and tons
    Worth(worth::WorthArgs),
    /// Put several herds, price lists or what-ifs side by side, and say what carries the difference
    Compare(compare::CompareArgs),
    /// Judge the rations written in the file by the same needs and limits
    Check(check::CheckArgs),
    /// Print what each group needs, by period, with its parts
    Needs(needs::NeedsArgs),
    /// For a gin: byproduct tons by week, what neighbors can pay, how far it hauls, what to tell
    Gin(gin::GinArgs),
    /// List the feed table, or show one feed with every source
    Feeds(feeds::FeedsArgs),
    /// Explain a rule, an equation, a caution, a feed value or an error code
    Explain(explain::ExplainArgs),
    /// Write a commented file to begin with
    New(new::NewArgs),
    /// Print the JSON Schema of a file, for editors
    Schema(schema::SchemaArgs),
    /// Print completions for a shell
    Completions(schema::CompletionArgs),
}

/// A herd file and how to print.
#[derive(Debug, Args)]
pub struct HerdArgs {
    /// The herd file; `-` reads standard input
    pub file: PathBuf,
    /// A what-if: lay a value over the file for this run; may be given several times
    #[arg(long = "set", value_name = "PATH=VALUE")]
    pub sets: Vec<String>,
    /// How to print.
    #[command(flatten)]
    pub print: PrintArgs,
}

/// How to print.
#[derive(Debug, Clone, Args)]
pub struct PrintArgs {
    /// How to print the answer
    #[arg(long, value_enum, default_value_t = Format::Table)]
    pub format: Format,
    /// Write the answer to this file as a page to look at and to print, in place of printing it; `-` is standard output
    #[arg(long, value_name = "FILE", conflicts_with = "format")]
    pub html: Option<PathBuf>,
    /// How to print errors and warnings
    #[arg(long, value_enum, default_value_t = MessageFormat::Text)]
    pub message_format: MessageFormat,
}

/// How to print the answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// A page for people
    Table,
    /// JSON, units in the field names
    Json,
    /// CSV, units in the column names
    Csv,
}

/// How to print errors and warnings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum MessageFormat {
    /// For people
    Text,
    /// JSON, one list
    Json,
}

/// Where to print, and whether the error side may be colored.
pub struct Out<'a> {
    /// The answer.
    pub answer: &'a mut dyn Write,
    /// Everything else.
    pub rest: &'a mut dyn Write,
    /// Color on the error side.
    pub color: bool,
    /// Somebody watches the error side: it may say how far the work is.
    pub live: bool,
}

/// Runs a command and gives its exit code.
///
/// # Errors
/// Writing to either side failed.
pub fn run(cli: &Cli, out: &mut Out<'_>) -> std::io::Result<u8> {
    match &cli.command {
        Command::Plan(args) => plan::run(args, out),
        Command::Worth(args) => worth::run(args, out),
        Command::Compare(args) => compare::run(args, out),
        Command::Check(args) => check::run(args, out),
        Command::Needs(args) => needs::run(args, out),
        Command::Gin(args) => gin::run(args, out),
        Command::Feeds(args) => feeds::run(args, out),
        Command::Explain(args) => explain::run(args, out),
        Command::New(args) => new::run(args, out),
        Command::Schema(args) => schema::run(args, out),
        Command::Completions(args) => schema::completions(args, out),
    }
}
