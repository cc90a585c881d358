//! Syntax errors of YAML in words a rancher can act on.

use super::code::Code;
use crate::diagnostic::Diagnostic;

/// A syntax error at a byte, in plain words; `info` is what the parser said, `open` the innermost open bracket.
pub(crate) fn explain(text: &str, at: usize, info: &str, open: Option<usize>) -> Diagnostic {
    let at = floor(text, at.min(text.len()));
    if let Some(tab) = tab_indent(text, at).or_else(|| info.contains("tab").then(|| any_tab_indent(text)).flatten()) {
        return Code::Tab
            .error("a tab is used to line things up")
            .at(tab..tab + 1, "a tab")
            .help("use spaces, two for each step");
    }
    if let Some(colon) = tight_colon(text, at) {
        return Code::Syntax
            .error("there is no space after a colon")
            .at(colon..colon + 1, "a space belongs after it")
            .help("put a space after the colon, as in `head: 85`");
    }
    let (message, help) = words(info);
    let (start, end) = visible(text, at);
    let error = Code::Syntax.error(message).at(start..end, "the trouble shows here").help(help);
    match open.filter(|_| info.contains("flow") || info.contains("bracket")) {
        Some(bracket) => error.and_at(bracket..bracket + 1, "opened here"),
        None => error,
    }
}

/// Message and remedy for what the parser said.
fn words(info: &str) -> (String, &'static str) {
    let (message, help) = if info.contains("flow") || info.contains("misplaced bracket") {
        (
            "a `{` or `[` is not closed, or a comma is missing",
            "close every `{` with `}` and every `[` with `]`, and put a comma between entries",
        )
    } else if info.contains("quoted scalar") || info.contains("double-quoted") {
        ("a quotation mark is not closed", "close the quotation, or write the text without quotation marks")
    } else if info.contains("simple key expect") || info.contains("simple key expected") {
        (
            "this line is neither `key: value` nor part of the one above",
            "put a colon and a space after the key, as in `head: 85`",
        )
    } else if info.contains("mapping values are not allowed") || info.contains("illegal placement of ':'") {
        (
            "a second `key: value` on one line, or a line that is not lined up",
            "give each key a line of its own, lined up with its neighbors; put text with a colon in quotation marks",
        )
    } else if info.contains("block mapping")
        || info.contains("block collection")
        || info.contains("indent")
        || info.contains("<document start>")
        || info.contains("block sequence entries")
    {
        (
            "this line is not lined up with its neighbors",
            "start keys of the same level in the same column, two spaces farther in than the key above them",
        )
    } else if info.contains("anchor") {
        ("an alias to nothing; aliases are not used here", "write the value out")
    } else if info.contains("eof") || info.contains("end of stream") {
        ("the file ends in the middle", "finish the last line")
    } else {
        return (format!("the text is not YAML ({info})"), "write `key: value` lines, as the README shows");
    };
    (message.to_owned(), help)
}

/// A colon without a space after it and no other in the line of `at` or the one before: `kind:cow`.
fn tight_colon(text: &str, at: usize) -> Option<usize> {
    let (start, before) = line_starts(text, at)?;
    [start, before].into_iter().find_map(|start| {
        let line = text.get(start..)?.lines().next()?;
        let (key, rest) = line.split_once(':')?;
        let tight = !rest.is_empty() && !rest.starts_with([' ', '\t', ':', '/']) && !rest.contains(':');
        let word = key.trim().chars().all(|c| c.is_alphanumeric() || c == '_') && !key.trim().is_empty();
        (tight && word).then_some(start + key.len())
    })
}

/// Starts of the line of `at` and of the line before it.
fn line_starts(text: &str, at: usize) -> Option<(usize, usize)> {
    let start = text.get(..at)?.rfind('\n').map_or(0, |index| index + 1);
    let before = text.get(..start.saturating_sub(1))?.rfind('\n').map_or(0, |index| index + 1);
    Some((start, before))
}

/// The first tab among the blanks that begin the line of `at`, or the line before it.
fn tab_indent(text: &str, at: usize) -> Option<usize> {
    let (start, before) = line_starts(text, at)?;
    tab_in(text, start).or_else(|| tab_in(text, before))
}

fn any_tab_indent(text: &str) -> Option<usize> {
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        if let Some(tab) = tab_in(text, start) {
            return Some(tab);
        }
        start += line.len();
    }
    None
}

fn tab_in(text: &str, start: usize) -> Option<usize> {
    let line = text.get(start..)?;
    let blanks = line.len() - line.trim_start_matches([' ', '\t']).len();
    line.get(..blanks)?.find('\t').map(|offset| start + offset)
}

/// A span that shows: the rest of the word at `at`, or the last character before it where there is nothing.
fn visible(text: &str, at: usize) -> (usize, usize) {
    let rest = text.get(at..).unwrap_or("");
    let word: usize = rest.chars().take_while(|c| !c.is_whitespace()).take(20).map(char::len_utf8).sum();
    if word > 0 {
        return (at, at + word);
    }
    let before = text.get(..at).unwrap_or("").trim_end();
    let start = before.char_indices().next_back().map_or(0, |(index, _)| index);
    (start, before.len())
}

/// The nearest character border at or below a byte.
fn floor(text: &str, mut at: usize) -> usize {
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}
