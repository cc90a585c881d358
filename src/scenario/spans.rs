//! From text to a tree with spans: syntax, duplicate keys, and the parts of YAML that are not used here.
//!
//! The parser's events carry line and column in characters; they become bytes here. Its character index is not
//! used, because it drifts after comments that hold characters of several bytes.

use super::code::Code;
use super::node::{Entry, Kind, Node};
use super::syntax;
use crate::diagnostic::{Diagnostic, Span};
use indexmap::IndexMap;
use saphyr_parser::{Event, Marker, Parser, ScalarStyle};

/// Deepest nesting; a herd file needs six.
const DEEPEST: usize = 20;

/// The tree of a text and what is wrong with its form. No tree where the syntax is broken.
pub(crate) fn tree(text: &str) -> (Option<Node>, Vec<Diagnostic>) {
    let mut builder = Builder { lines: Lines::of(text), stack: Vec::new(), root: None, problems: Vec::new() };
    let mut documents = 0;
    let mut parser = Parser::new_from_str(builder.lines.body());
    while let Some(next) = parser.next_event() {
        let (event, span) = match next {
            Ok(pair) => pair,
            Err(error) => {
                let at = builder.lines.byte(error.marker());
                let open = builder.open_bracket();
                builder.problems.push(syntax::explain(text, at, error.info(), open));
                return (None, builder.problems);
            }
        };
        if matches!(event, Event::DocumentStart(_)) {
            documents += 1;
            if documents > 1 {
                let at = builder.lines.byte(&span.start);
                builder.problems.push(second_document(text, at));
                return (builder.root, builder.problems);
            }
        }
        if builder.take(&event, span.start, span.end).is_err() {
            return (None, builder.problems);
        }
    }
    (builder.root, builder.problems)
}

fn second_document(text: &str, at: usize) -> Diagnostic {
    let end = (at + 3).min(text.len());
    Code::SecondDocument
        .error("a second document starts here")
        .at(if text.get(at..end) == Some("---") { at..end } else { at..at }, "only one herd is read from a file")
        .help("put it in a file of its own, or delete the `---`")
}

/// Line starts of a text, to turn line and column into bytes.
struct Lines<'t> {
    text: &'t str,
    /// Length of a byte order mark in front, which the parser does not see.
    mark: usize,
    /// Byte of each line's start, in the whole text.
    starts: Vec<usize>,
    /// The last place asked for (line, column, byte): events come in order, so a long line is walked once.
    last: (usize, usize, usize),
}

impl<'t> Lines<'t> {
    fn of(text: &'t str) -> Self {
        let mark = if text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
        let bytes = text.as_bytes();
        let mut starts = vec![mark];
        for (index, byte) in bytes.iter().enumerate() {
            let lone_return = *byte == b'\r' && bytes.get(index + 1) != Some(&b'\n');
            if *byte == b'\n' || lone_return {
                starts.push(index + 1);
            }
        }
        Self { text, mark, starts, last: (0, 0, mark) }
    }
    /// The text after a byte order mark.
    fn body(&self) -> &'t str {
        self.text.get(self.mark..).unwrap_or("")
    }
    /// The byte of a marker; at most the length of the text.
    fn byte(&mut self, marker: &Marker) -> usize {
        let line = marker.line().saturating_sub(1);
        let Some(start) = self.starts.get(line).copied() else { return self.text.len() };
        let (last_line, last_column, last_byte) = self.last;
        let (column, from) =
            if line == last_line && marker.col() >= last_column { (last_column, last_byte) } else { (0, start) };
        let rest = self.text.get(from..).unwrap_or("");
        let byte = rest.char_indices().nth(marker.col() - column).map_or(self.text.len(), |(offset, _)| from + offset);
        self.last = (line, marker.col(), byte);
        byte
    }
}

/// A list or map that is not closed yet.
enum Frame {
    List(usize, Vec<Node>),
    Map {
        start: usize,
        entries: Vec<Entry>,
        /// Keys so far with their place in `entries`.
        seen: IndexMap<String, usize>,
        /// The key whose value comes next.
        key: Option<(String, Span)>,
        /// Whether it holds a merge key.
        merged: bool,
    },
}

struct Builder<'t> {
    lines: Lines<'t>,
    stack: Vec<Frame>,
    root: Option<Node>,
    problems: Vec<Diagnostic>,
}

/// Reading cannot go on.
struct Stop;

impl Builder<'_> {
    fn take(&mut self, event: &Event<'_>, start: Marker, end: Marker) -> Result<(), Stop> {
        let span = self.lines.byte(&start)..self.lines.byte(&end);
        match event {
            Event::Scalar(value, style, anchor, tag) => {
                self.refuse_shorthand(*anchor > 0, tag.is_some(), &span);
                let quoted = *style != ScalarStyle::Plain;
                let null = !quoted && matches!(value.as_ref(), "" | "~" | "null" | "Null" | "NULL");
                let kind = if null { Kind::Null } else { Kind::Scalar { text: value.to_string(), quoted } };
                let span = if value.is_empty() && !quoted { span.start..span.start } else { self.trimmed(span) };
                self.put(Node { span, kind })
            }
            Event::Alias(_) => {
                // The alias of a merge key is told with the key.
                if !matches!(self.stack.last(), Some(Frame::Map { key: Some((key, _)), .. }) if key == "<<") {
                    self.problems.push(shorthand("an alias", &span));
                }
                self.put(Node { span, kind: Kind::Broken })
            }
            Event::SequenceStart(anchor, tag) => {
                self.refuse_shorthand(*anchor > 0, tag.is_some(), &span);
                self.open(Frame::List(span.start, Vec::new()), span)
            }
            Event::MappingStart(anchor, tag) => {
                self.refuse_shorthand(*anchor > 0, tag.is_some(), &span);
                let frame = Frame::Map {
                    start: span.start,
                    entries: Vec::new(),
                    seen: IndexMap::new(),
                    key: None,
                    merged: false,
                };
                self.open(frame, span)
            }
            Event::SequenceEnd | Event::MappingEnd => self.close(span.end),
            _ => Ok(()),
        }
    }

    /// Ends of plain and block scalars may reach over the blanks and line ends that follow.
    fn trimmed(&self, span: Span) -> Span {
        let covered = self.lines.text.get(span.clone()).unwrap_or("");
        span.start..span.start + covered.trim_end().len()
    }

    fn refuse_shorthand(&mut self, anchor: bool, tag: bool, span: &Span) {
        if anchor || tag {
            let what = if anchor { "an anchor" } else { "a tag" };
            let covered = self.lines.text.get(span.clone()).unwrap_or("");
            let length = covered.find(char::is_whitespace).unwrap_or(covered.len());
            self.problems.push(shorthand(what, &(span.start..span.start + length)));
        }
    }

    /// A span cut at the end of its first line.
    fn first_line(&self, span: &Span) -> Span {
        let covered = self.lines.text.get(span.clone()).unwrap_or("");
        let length = covered.find(['\n', '\r']).unwrap_or(covered.len());
        span.start..span.start + length
    }

    fn open(&mut self, frame: Frame, span: Span) -> Result<(), Stop> {
        if self.expects_key() {
            return self.bad_key(&span);
        }
        if self.stack.len() >= DEEPEST {
            self.problems.push(
                Code::TooDeep
                    .error(format!("nested more than {DEEPEST} steps deep"))
                    .at(self.first_line(&span), "too deep here")
                    .help("close the brackets, or line the keys up with their neighbors"),
            );
            return Err(Stop);
        }
        self.stack.push(frame);
        Ok(())
    }

    fn close(&mut self, end: usize) -> Result<(), Stop> {
        let node = match self.stack.pop() {
            Some(Frame::List(start, items)) => {
                let end = items.last().map_or(end, |item| item.span.end.max(start));
                Node { span: start..end.max(start), kind: Kind::List(items) }
            }
            Some(Frame::Map { start, entries, merged, .. }) => {
                let end = entries.last().map_or(end, |entry| entry.value.span.end);
                // What a merge key would have brought in is not known, so nothing is said to be missing.
                let kind = if merged { Kind::Broken } else { Kind::Map(entries) };
                Node { span: start..end.max(start), kind }
            }
            None => return Ok(()),
        };
        self.put(node)
    }

    /// The innermost bracket that is open.
    fn open_bracket(&self) -> Option<usize> {
        let starts = self.stack.iter().rev().map(|frame| match frame {
            Frame::List(start, _) | Frame::Map { start, .. } => *start,
        });
        starts.into_iter().find(|start| self.lines.text.get(*start..).is_some_and(|rest| rest.starts_with(['{', '['])))
    }

    fn expects_key(&self) -> bool {
        matches!(self.stack.last(), Some(Frame::Map { key: None, .. }))
    }

    fn bad_key(&mut self, span: &Span) -> Result<(), Stop> {
        self.problems.push(
            Code::WrongShape
                .error("a list or map cannot be a key")
                .at(self.first_line(span), "a key is expected here")
                .help("write one word before the colon; a template's `{{…}}` must be filled in first"),
        );
        Err(Stop)
    }

    fn put(&mut self, node: Node) -> Result<(), Stop> {
        match self.stack.last_mut() {
            None => self.root = Some(node),
            Some(Frame::List(_, items)) => items.push(node),
            Some(Frame::Map { key: slot @ None, .. }) => {
                let Kind::Scalar { text, .. } = node.kind else {
                    return self.bad_key(&node.span);
                };
                *slot = Some((text, node.span));
            }
            Some(Frame::Map { entries, seen, key, merged, .. }) => {
                let Some((name, key_span)) = key.take() else { return Ok(()) };
                if name == "<<" {
                    self.problems.push(shorthand("a merge key", &key_span));
                    *merged = true;
                    return Ok(());
                }
                if let Some(first) = seen.get(&name) {
                    let first = entries[*first].key_span.clone();
                    self.problems.push(
                        Code::DuplicateKey
                            .error(format!("`{name}` is written twice"))
                            .at(key_span, "again here")
                            .and_at(first, "first here")
                            .help("keep one of the two"),
                    );
                    return Ok(());
                }
                seen.insert(name.clone(), entries.len());
                // An absent value has no place of its own; the key stands for it.
                let value = if node.span.is_empty() { Node { span: key_span.clone(), ..node } } else { node };
                entries.push(Entry { key: name, key_span, value });
            }
        }
        Ok(())
    }
}

fn shorthand(what: &str, span: &Span) -> Diagnostic {
    Code::Shorthand
        .error(format!("{what} is not used in herd files or gin files"))
        .at(span.clone(), "YAML shorthand")
        .help("write the value out again where it is needed")
}
