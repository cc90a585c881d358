//! A feed by name: one of the herd file, or a row of the feed table laid beside those of the file.

use super::input::{HerdFile, Shipped, read_case};
use super::{BAD_INPUT, HerdArgs, Out};
use crate::scenario;
use crate::value::worth::HIGHEST_USD_PER_TON;
use crate::winter::Case;

/// A feed that was named.
pub(super) struct Named {
    /// The case that holds it.
    pub(super) case: Case,
    /// Which offer it is.
    pub(super) index: usize,
    /// Whether it stands in the herd file.
    pub(super) in_file: bool,
    /// The text of the case, for messages.
    pub(super) text: String,
}

/// Says beside a shortage that the feed asked about was offered with the others.
pub(super) fn offered_too(name: &str, in_file: bool, stop: &crate::Stop, out: &mut Out<'_>) -> std::io::Result<()> {
    if !in_file && matches!(stop, crate::Stop::Short(_)) {
        writeln!(out.rest, "note: this is with `{name}` to be had at any price; without it more is missing")?;
    }
    Ok(())
}

/// Finds a feed; what is wrong is told, with the exit code.
pub(super) fn named(
    file: &HerdFile,
    args: &HerdArgs,
    name: &str,
    out: &mut Out<'_>,
) -> std::io::Result<Result<Named, u8>> {
    let mut case = file.case.clone();
    let mut in_file = true;
    let mut index = find(&case, name);
    let mut text = file.text.clone();
    if index.is_empty() {
        let shipped = match Shipped::load(out)? {
            Ok(shipped) => shipped,
            Err(code) => return Ok(Err(code)),
        };
        if shipped.feeds.get(name).is_none() {
            return unknown(name, &case, &shipped, out).map(Err);
        }
        // A feed at a price nobody pays is read by the same reader as those of the file.
        let mut sets = args.sets.clone();
        sets.push(format!("feeds.{name}={{price_usd_per_ton: {HIGHEST_USD_PER_TON}}}"));
        text = scenario::set::joined(scenario::set::file_of(&file.text), &sets);
        let settings = case.settings;
        case = match read_case(&text, &file.name, args.print.message_format, &shipped, out)? {
            Ok(case) => case,
            Err(code) => return Ok(Err(code)),
        };
        // What the command line laid over the file holds for this feed too.
        case.settings = settings;
        in_file = false;
        index = find(&case, name);
    }
    let [index] = index[..] else {
        let lots: Vec<&str> = index.iter().map(|f| case.offers[*f].id.as_str()).collect();
        writeln!(out.rest, "error: `{name}` has several lots")?;
        writeln!(out.rest, "  = help: name one of them: `{}`", lots.join("`, `"))?;
        return Ok(Err(BAD_INPUT));
    };
    Ok(Ok(Named { case, index, in_file, text }))
}

/// Offers of a name: the one called so, or the lots of the feed called so.
fn find(case: &Case, name: &str) -> Vec<usize> {
    let of = |fits: &dyn Fn(&crate::feed::Offer) -> bool| -> Vec<usize> {
        case.offers.iter().enumerate().filter(|(_, offer)| fits(offer)).map(|(f, _)| f).collect()
    };
    let exact = of(&|offer| offer.id == name);
    if exact.is_empty() { of(&|offer| offer.feed_name() == name) } else { exact }
}

fn unknown(name: &str, case: &Case, shipped: &Shipped, out: &mut Out<'_>) -> std::io::Result<u8> {
    writeln!(out.rest, "error: no feed is called `{name}`, neither in the herd file nor in the feed table")?;
    let near = shipped.feeds.suggest(name);
    let here: Vec<&str> = case.offers.iter().map(|offer| offer.id.as_str()).collect();
    if near.is_empty() {
        writeln!(out.rest, "  = help: the file has `{}`; `overwinter feeds` lists the table", here.join("`, `"))?;
    } else {
        writeln!(out.rest, "  = help: did you mean `{}`?", near.join("`, `"))?;
    }
    Ok(BAD_INPUT)
}
