//! `overwinter feeds`: the feed table.

use super::input::Shipped;
use super::{BAD_INPUT, DONE, Out};
use crate::report::feeds;
use clap::Args;

/// Arguments of `feeds`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  overwinter feeds\n  overwinter feeds whole_cottonseed")]
pub struct FeedsArgs {
    /// Show this feed with every value's source, spread and cautions
    feed: Option<String>,
}

pub(super) fn run(args: &FeedsArgs, out: &mut Out<'_>) -> std::io::Result<u8> {
    let shipped = match Shipped::load(out)? {
        Ok(shipped) => shipped,
        Err(code) => return Ok(code),
    };
    let Some(name) = &args.feed else {
        write!(out.answer, "{}", feeds::list(&shipped.feeds))?;
        return Ok(DONE);
    };
    if let Some(feed) = shipped.feeds.get(name) {
        write!(out.answer, "{}", feeds::one(feed, shipped.bibliography()))?;
        return Ok(DONE);
    }
    writeln!(out.rest, "error: no feed is called `{name}`")?;
    let near = shipped.feeds.suggest(name);
    if near.is_empty() {
        writeln!(out.rest, "  = help: `overwinter feeds` lists them all")?;
    } else {
        writeln!(out.rest, "  = help: did you mean `{}`?", near.join("`, `"))?;
    }
    Ok(BAD_INPUT)
}
