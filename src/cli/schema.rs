//! `overwinter schema` and `overwinter completions`: what editors and shells can be told.

use super::input::Shipped;
use super::plan::to_json;
use super::{Cli, DONE, Out};
use crate::feed::ginning::Ginning;
use crate::report;
use crate::scenario::schema::{Known, gin, herd};
use clap::{Args, CommandFactory as _, ValueEnum};
use clap_complete::Shell;

/// Arguments of `schema`.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  overwinter schema herd > herd.schema.json")]
pub struct SchemaArgs {
    /// Of which file
    kind: SchemaKind,
}

/// Files that have a schema.
#[derive(Debug, Clone, Copy, ValueEnum)]
enum SchemaKind {
    /// The herd file
    Herd,
    /// The gin file
    Gin,
}

/// Arguments of `completions`.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  overwinter completions bash > ~/.local/share/bash-completion/completions/overwinter"
)]
pub struct CompletionArgs {
    /// Which shell
    shell: Shell,
}

pub(super) fn run(args: &SchemaArgs, out: &mut Out<'_>) -> std::io::Result<u8> {
    let shipped = match Shipped::load(out)? {
        Ok(shipped) => shipped,
        Err(code) => return Ok(code),
    };
    // The table ships with the program and a test holds that it reads.
    let seasons = Ginning::shipped().map(|table| table.regions).unwrap_or_default();
    let weather: Vec<&str> = shipped.weather.regions.keys().map(String::as_str).collect();
    let ginning: Vec<&str> = seasons.keys().map(String::as_str).collect();
    let spells: Vec<&str> = shipped.weather.cold_spells.keys().map(String::as_str).collect();
    let stored: Vec<&str> = shipped.losses.storage_ways().map(|way| way.key.as_str()).collect();
    let feeders: Vec<&str> = shipped.losses.feeder_ways().map(|way| way.key.as_str()).collect();
    let rules: Vec<&str> = crate::limit::RULES.iter().map(|rule| rule.id).collect();
    let known = Known {
        weather: &weather,
        ginning: &ginning,
        spells: &spells,
        stored: &stored,
        feeders: &feeders,
        rules: &rules,
    };
    let schema = match args.kind {
        SchemaKind::Herd => {
            let words =
                "What cattle there are, what feeds can be had, and which winter is meant; read by `overwinter`.";
            report::schema::of(&herd(&known), "Herd file", words)
        }
        SchemaKind::Gin => {
            let words = "What a gin turns out, when, and who lives round it; read by `overwinter gin`.";
            report::schema::of(&gin(&known), "Gin file", words)
        }
    };
    writeln!(out.answer, "{}", to_json(&schema)?)?;
    Ok(DONE)
}

pub(super) fn completions(args: &CompletionArgs, out: &mut Out<'_>) -> std::io::Result<u8> {
    let mut text = Vec::new();
    clap_complete::generate(args.shell, &mut Cli::command(), "overwinter", &mut text);
    out.answer.write_all(&text)?;
    Ok(DONE)
}
