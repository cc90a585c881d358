//! `overwinter explain`: where a number comes from.

use super::input::Shipped;
use super::{BAD_INPUT, DONE, Out};
use crate::report::explain;
use clap::Args;

/// Arguments of `explain`.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  overwinter explain\n  overwinter explain gossypol\n  overwinter explain whole_cottonseed.fat_pct_dm"
)]
pub struct ExplainArgs {
    /// A rule, an equation, a caution, FEED or FEED.NUTRIENT, or an error code; without it: the list
    topic: Option<String>,
}

pub(super) fn run(args: &ExplainArgs, out: &mut Out<'_>) -> std::io::Result<u8> {
    let shipped = match Shipped::load(out)? {
        Ok(shipped) => shipped,
        Err(code) => return Ok(code),
    };
    let Some(topic) = &args.topic else {
        write!(out.answer, "{}", explain::list())?;
        return Ok(DONE);
    };
    match explain::topic(topic, &shipped.feeds) {
        Ok(text) => {
            write!(out.answer, "{text}")?;
            Ok(DONE)
        }
        Err(near) => {
            writeln!(out.rest, "error: nothing is called `{topic}`")?;
            if near.is_empty() {
                writeln!(out.rest, "  = help: `overwinter explain` lists what there is")?;
            } else {
                writeln!(out.rest, "  = help: did you mean `{}`?", near.join("`, `"))?;
            }
            Ok(BAD_INPUT)
        }
    }
}
