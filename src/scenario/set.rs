//! `--set PATH=VALUE`: a what-if laid over the tree of a herd file, with places of its own for messages.
//!
//! What is set has no place in the file, so the arguments are written after the file's text, behind a mark that no
//! text file can hold, and messages point there.

use super::code::Code;
use super::near;
use super::node::{Entry, Kind, Node};
use super::spans;
use super::values::shortened;
use crate::diagnostic::{Diagnostic, Span};
use std::ops::Range;

/// Stands between the file and the arguments; a file with a zero byte is not read.
const MARK: &str = "\n\0\n";
/// What the arguments are called in messages.
pub const NAME: &str = "command line";

/// The text of a file with the arguments behind it; the file's text alone if there are none.
#[must_use]
pub fn joined(text: &str, sets: &[String]) -> String {
    if sets.is_empty() {
        return text.to_owned();
    }
    let mut out = format!("{text}{MARK}");
    for set in sets {
        // One line for each argument, whatever it holds.
        let line: String = set.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
        out.push_str("--set ");
        out.push_str(&line);
        out.push('\n');
    }
    out
}

/// Whether a byte of a joined text lies in the arguments, and the bytes of the part it lies in.
#[must_use]
pub fn part(joined: &str, byte: usize) -> (bool, Range<usize>) {
    match joined.find(MARK) {
        Some(mark) if byte >= mark + MARK.len() => (true, mark + MARK.len()..joined.len()),
        Some(mark) => (false, 0..mark),
        None => (false, 0..joined.len()),
    }
}

/// The file's text of a joined text.
#[must_use]
pub fn file_of(joined: &str) -> &str {
    &joined[part(joined, 0).1]
}

/// Lays the arguments of a joined text over its tree; notes those that cannot be.
pub(super) fn apply(root: &mut Node, joined: &str, problems: &mut Vec<Diagnostic>) {
    let Some(mark) = joined.find(MARK) else { return };
    let mut start = mark + MARK.len();
    for line in joined[start..].split_inclusive('\n') {
        let argument = line.trim_end_matches('\n').strip_prefix("--set ").unwrap_or(line);
        let at = start + "--set ".len();
        if let Err(problem) = one(root, argument, at) {
            problems.push(problem);
        }
        start += line.len();
    }
}

/// Lays one argument, which begins at byte `at`, over the tree.
fn one(root: &mut Node, argument: &str, at: usize) -> Result<(), Diagnostic> {
    let whole = at..at + argument.len();
    let form = |why: &str| {
        Code::SetForm
            .error(format!("`--set {}` {why}", shortened(argument)))
            .at(whole.clone(), "path, `=`, value")
            .help("write `--set PATH=VALUE`, such as `--set feeds.prairie_hay.price_usd_per_ton=120`")
    };
    let Some((path, value)) = argument.split_once('=') else { return Err(form("has no `=`")) };
    let trimmed = path.trim();
    if trimmed.is_empty() {
        return Err(form("has no path"));
    }
    let value_at = at + path.len() + 1;
    let value = match parsed(value, value_at) {
        Ok(value) => value,
        Err(Some(why)) => return Err(form(&format!("has a value that cannot be read: {why}"))),
        Err(None) => return Err(form("has a value that cannot be read")),
    };
    let path_at = at + (path.len() - path.trim_start().len());
    let known = paths(root);
    let step = Step { path: trimmed, rest: trimmed, at: path_at };
    place(root, &step, value, &known)
}

/// The value as a node with places in the joined text.
fn parsed(value: &str, at: usize) -> Result<Node, Option<String>> {
    if value.trim().is_empty() {
        return Ok(Node { span: at..at + value.len(), kind: Kind::Null });
    }
    let (root, problems) = spans::tree(value);
    if let Some(problem) = problems.first() {
        return Err(Some(problem.message.clone()));
    }
    let mut node = root.ok_or(None)?;
    shift(&mut node, at);
    Ok(node)
}

fn shift(node: &mut Node, by: usize) {
    node.span = node.span.start + by..node.span.end + by;
    match &mut node.kind {
        Kind::List(items) => items.iter_mut().for_each(|item| shift(item, by)),
        Kind::Map(entries) => {
            for entry in entries {
                entry.key_span = entry.key_span.start + by..entry.key_span.end + by;
                shift(&mut entry.value, by);
            }
        }
        Kind::Null | Kind::Scalar { .. } | Kind::Broken => {}
    }
}

/// Where on a path the walk stands.
struct Step<'p> {
    path: &'p str,
    rest: &'p str,
    at: usize,
}

impl<'p> Step<'p> {
    fn past(&self, key: &str) -> Step<'p> {
        let skip = (key.len() + 1).min(self.rest.len());
        Step { path: self.path, rest: &self.rest[skip..], at: self.at + skip }
    }
    fn span(&self) -> Span {
        self.at..self.at + self.rest.len()
    }
    /// Whether the rest begins with a key, and whether that is all of it.
    fn begins_with(&self, key: &str) -> Option<bool> {
        let after = self.rest.strip_prefix(key)?;
        if after.is_empty() { Some(true) } else { after.starts_with('.').then_some(false) }
    }
}

fn place(node: &mut Node, step: &Step<'_>, value: Node, known: &[String]) -> Result<(), Diagnostic> {
    if matches!(node.kind, Kind::Null) {
        node.kind = Kind::Map(Vec::new());
    }
    match &mut node.kind {
        Kind::Map(entries) => {
            // Names may hold points: the longest key that fits is meant.
            let fits = |entry: &Entry| step.begins_with(&entry.key).map(|last| (entry.key.len(), last));
            let found = entries.iter().enumerate().filter_map(|(i, entry)| fits(entry).map(|fit| (fit, i))).max();
            match found {
                Some(((_, true), index)) if matches!(value.kind, Kind::Null) => {
                    entries.remove(index);
                    Ok(())
                }
                Some(((_, true), index)) => {
                    entries[index].key_span = step.span();
                    entries[index].value = value;
                    Ok(())
                }
                Some(((_, false), index)) => {
                    let next = step.past(&entries[index].key);
                    place(&mut entries[index].value, &next, value, known)
                }
                None if step.rest.contains('.') || step.rest.is_empty() || matches!(value.kind, Kind::Null) => {
                    Err(no_such(step, known))
                }
                None => {
                    entries.push(Entry { key: step.rest.to_owned(), key_span: step.span(), value });
                    Ok(())
                }
            }
        }
        Kind::List(items) => {
            let segment = step.rest.split('.').next().unwrap_or("");
            let by_name = items.iter().position(|item| name_of(item) == Some(segment));
            let by_number = segment.parse::<usize>().ok().and_then(|number| number.checked_sub(1));
            let Some(item) = by_name.or(by_number).and_then(|index| items.get_mut(index)) else {
                return Err(no_such(step, known));
            };
            let next = step.past(segment);
            if next.rest.is_empty() {
                *item = value;
                return Ok(());
            }
            place(item, &next, value, known)
        }
        _ => Err(no_such(step, known)),
    }
}

/// The name of an item of a list of maps.
fn name_of(item: &Node) -> Option<&str> {
    let Kind::Map(entries) = &item.kind else { return None };
    let name = entries.iter().find(|entry| entry.key == "name")?;
    match &name.value.kind {
        Kind::Scalar { text, .. } => Some(text.trim()),
        _ => None,
    }
}

fn no_such(step: &Step<'_>, known: &[String]) -> Diagnostic {
    let path = step.path;
    let error = Code::SetPath
        .error(format!("`--set {}`: the file has no such place", shortened(path)))
        .at(step.span(), "not found from here on");
    let near = near_paths(path, known);
    error.help(if near.is_empty() {
        let top: Vec<&str> = known.iter().map(String::as_str).filter(|path| !path.contains('.')).collect();
        near::list(top.iter().copied()).map_or_else(
            || "the path names a key of the file, its parts joined by points".to_owned(),
            |names| format!("paths begin with one of {names}, parts joined by points"),
        )
    } else {
        format!("near paths: {}", near::list(near.iter().copied()).unwrap_or_default())
    })
}

/// Up to four known paths that may be meant: those that end as written, then the most similar.
fn near_paths<'k>(path: &str, known: &'k [String]) -> Vec<&'k str> {
    /// Similarity (Jaro-Winkler, 0 to 1) from which a path is offered. Judgement.
    const SIMILAR: f64 = 0.85;
    let ending = format!(".{path}");
    let score = |one: &str| if one.ends_with(&ending) { 2.0 } else { strsim::jaro_winkler(path, one) };
    let mut scored: Vec<(f64, &str)> = known.iter().map(|one| (score(one), one.as_str())).collect();
    scored.retain(|(score, one)| *score >= SIMILAR && !one.is_empty());
    scored.sort_by(|a, b| b.0.total_cmp(&a.0));
    scored.into_iter().take(4).map(|(_, one)| one).collect()
}

/// Every path of a tree, parts joined by points.
fn paths(root: &Node) -> Vec<String> {
    fn walk(node: &Node, before: &str, out: &mut Vec<String>) {
        let join = |key: &str| if before.is_empty() { key.to_owned() } else { format!("{before}.{key}") };
        match &node.kind {
            Kind::Map(entries) => {
                for entry in entries {
                    let path = join(&entry.key);
                    out.push(path.clone());
                    walk(&entry.value, &path, out);
                }
            }
            Kind::List(items) => {
                for (index, item) in items.iter().enumerate() {
                    let path = join(name_of(item).unwrap_or(&(index + 1).to_string()));
                    out.push(path.clone());
                    walk(item, &path, out);
                }
            }
            Kind::Null | Kind::Scalar { .. } | Kind::Broken => {}
        }
    }
    let mut out = Vec::new();
    walk(root, "", &mut out);
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "certainty_pct: 60\nfeeds:\n  hay: {price_usd_per_ton: 110}\n  a.b: {price_usd_per_ton: 3}\n  lots: \
                        [{name: barn, on_hand_tons: 4}]\n";

    fn after(sets: &[&str]) -> (Node, Vec<Diagnostic>, String) {
        let sets: Vec<String> = sets.iter().map(|set| (*set).to_owned()).collect();
        let joined = joined(TEXT, &sets);
        let (root, mut problems) = spans::tree(file_of(&joined));
        let mut root = root.unwrap();
        apply(&mut root, &joined, &mut problems);
        (root, problems, joined)
    }

    fn get<'n>(node: &'n Node, keys: &[&str]) -> Option<&'n Node> {
        keys.iter().try_fold(node, |node, key| match &node.kind {
            Kind::Map(entries) => entries.iter().find(|entry| entry.key == *key).map(|entry| &entry.value),
            Kind::List(items) => items.iter().find(|item| name_of(item) == Some(key)),
            _ => None,
        })
    }

    fn text<'n>(node: &'n Node, keys: &[&str]) -> Option<&'n str> {
        match &get(node, keys)?.kind {
            Kind::Scalar { text, .. } => Some(text),
            _ => None,
        }
    }

    #[test]
    fn sets_replaces_makes_and_takes_away() {
        let (root, problems, joined) = after(&[
            "feeds.hay.price_usd_per_ton=120",
            "feeds.hay.max_lb=9",
            "feeds.a.b.price_usd_per_ton=4",
            "feeds.lots.barn.on_hand_tons=7",
            "certainty_pct=",
            "feeds.corn={price_usd_per_ton: 190}",
        ]);
        assert_eq!(problems, []);
        assert_eq!(text(&root, &["feeds", "hay", "price_usd_per_ton"]), Some("120"));
        assert_eq!(text(&root, &["feeds", "hay", "max_lb"]), Some("9"));
        assert_eq!(text(&root, &["feeds", "a.b", "price_usd_per_ton"]), Some("4"));
        assert_eq!(text(&root, &["feeds", "lots", "barn", "on_hand_tons"]), Some("7"));
        assert_eq!(text(&root, &["feeds", "corn", "price_usd_per_ton"]), Some("190"));
        assert!(get(&root, &["certainty_pct"]).is_none());
        let set = get(&root, &["feeds", "corn", "price_usd_per_ton"]).unwrap();
        assert_eq!(&joined[set.span.clone()], "190");
    }

    #[test]
    fn a_wrong_path_lists_near_ones() {
        let (_, problems, joined) = after(&["feeds.hey.price_usd_per_ton=1", "hay.price_usd_per_ton=1", "x.y=2", "no"]);
        let help = |index: usize| problems[index].help.clone().unwrap();
        assert!(help(0).contains("`feeds.hay.price_usd_per_ton`"), "{}", help(0));
        assert!(help(1).starts_with("near paths: `feeds.hay.price_usd_per_ton`"), "{}", help(1));
        assert!(help(2).contains("`certainty_pct`, `feeds`"), "{}", help(2));
        assert_eq!(problems[3].code, "H100");
        let span = problems[0].label.clone().unwrap().0;
        assert_eq!(&joined[span], "hey.price_usd_per_ton");
    }
}
