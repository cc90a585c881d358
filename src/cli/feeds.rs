//! `overwinter feeds`: the feed table.

use super::input::Shipped;
use super::{BAD_INPUT, DONE, Out};
use crate::report::{feeds, html};
use clap::Args;
use std::path::PathBuf;

/// Arguments of `feeds`.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  overwinter feeds\n  overwinter feeds whole_cottonseed\n  overwinter feeds --html feeds.html"
)]
pub struct FeedsArgs {
    /// Show this feed with every value's source, spread and cautions
    feed: Option<String>,
    /// Write the answer to this file as a page to look at and to print, in place of printing it; `-` is standard output
    #[arg(long, value_name = "FILE")]
    html: Option<PathBuf>,
}

pub(super) fn run(args: &FeedsArgs, out: &mut Out<'_>) -> std::io::Result<u8> {
    let shipped = match Shipped::load(out)? {
        Ok(shipped) => shipped,
        Err(code) => return Ok(code),
    };
    let Some(name) = &args.feed else {
        if let Some(path) = &args.html {
            let page = feeds::table_page(&shipped.feeds, shipped.bibliography());
            let names = shipped.feeds.iter().map(|feed| feed.id.as_str());
            return super::output::page(path, &html::simple(&page, names, "overwinter feeds"), DONE, out);
        }
        write!(out.answer, "{}", feeds::list(&shipped.feeds))?;
        return Ok(DONE);
    };
    if let Some(feed) = shipped.feeds.get(name) {
        if let Some(path) = &args.html {
            let page = feeds::feed_page(feed, shipped.bibliography());
            return super::output::page(path, &html::simple(&page, [], "overwinter feeds"), DONE, out);
        }
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
