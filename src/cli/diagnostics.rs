//! Diagnostics as text for a terminal and as JSON for other programs.

use crate::diagnostic::{Diagnostic, Severity, Span};
use crate::scenario::set;
use annotate_snippets::{AnnotationKind, Element, Level, Renderer, Snippet};
use serde::Serialize;

/// Most diagnostics shown as text; the rest are counted.
const MOST: usize = 30;
/// Most diagnostics given as JSON.
const MOST_JSON: usize = 1000;
/// Width that long lines are cut to, columns.
const WIDTH: usize = 120;

/// The diagnostics as text: the line itself with a caret, why, and what to write.
///
/// `text` is what was read from `file_name`. At most 30 are shown, the errors before the warnings if there are more.
#[must_use]
pub fn render(list: &[Diagnostic], file_name: &str, text: &str, color: bool) -> String {
    let renderer = if color { Renderer::styled() } else { Renderer::plain() }.term_width(WIDTH);
    let blocks: Vec<String> = shown(list, MOST).iter().map(|one| draw(one, file_name, text, &renderer)).collect();
    let mut out = blocks.join("\n\n");
    out.push('\n');
    if list.len() > blocks.len() {
        let more = list.len() - blocks.len();
        out.push('\n');
        out.push_str(&["and ", &more.to_string(), " more\n"].concat());
    }
    out
}

/// The first `most` of them in the order given; errors crowd out warnings.
fn shown(list: &[Diagnostic], most: usize) -> Vec<&Diagnostic> {
    if list.len() <= most {
        return list.iter().collect();
    }
    let of = |severity: Severity| list.iter().filter(move |one| one.severity == severity);
    of(Severity::Error).chain(of(Severity::Warning)).take(most).collect()
}

fn draw(one: &Diagnostic, file_name: &str, text: &str, renderer: &Renderer) -> String {
    let level = match one.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
    };
    let mut elements: Vec<Element<'_>> = Vec::new();
    if let Some((span, words)) = &one.label {
        let side = Side::of(file_name, text, span);
        let span = side.inside(span);
        let also =
            one.also.as_ref().filter(|(also, _)| side.holds(also)).map(|(also, words)| (side.inside(also), words));
        let excerpt = Excerpt::around(side.text, &span, also.as_ref().map(|(span, _)| span));
        let mut snippet = Snippet::source(excerpt.text)
            .line_start(excerpt.line)
            .path(side.name)
            .annotation(AnnotationKind::Primary.span(excerpt.inside(&span)).label(words.as_str()));
        if let Some((also, words)) = &also {
            snippet = snippet.annotation(AnnotationKind::Context.span(excerpt.inside(also)).label(words.as_str()));
        }
        elements.push(snippet.into());
    }
    if let Some(why) = &one.why {
        elements.push(Level::NOTE.with_name("why").message(why.as_str()).into());
    }
    if let Some(help) = &one.help {
        elements.push(Level::HELP.message(help.as_str()).into());
    }
    let group = level.primary_title(one.message.as_str()).id(one.code).elements(elements);
    renderer.render(&[group])
}

/// The side a place is on: the file, or the `--set` arguments behind it.
struct Side<'t> {
    name: &'t str,
    text: &'t str,
    part: Span,
}

impl<'t> Side<'t> {
    fn of(file_name: &'t str, text: &'t str, span: &Span) -> Self {
        let (is_set, part) = set::part(text, span.start);
        Self { name: if is_set { set::NAME } else { file_name }, text: text.get(part.clone()).unwrap_or(""), part }
    }
    fn holds(&self, span: &Span) -> bool {
        self.part.start <= span.start && span.end <= self.part.end
    }
    fn inside(&self, span: &Span) -> Span {
        span.start.saturating_sub(self.part.start)..span.end.saturating_sub(self.part.start)
    }
    fn place<'d>(&self, span: &Span, label: &'d str) -> Place<'d> {
        place(self.text, &self.inside(span), label)
    }
}

/// The lines of a text that hold the places of a diagnostic.
struct Excerpt<'t> {
    text: &'t str,
    /// Number of its first line, from 1.
    line: usize,
    /// Byte of its start in the whole text.
    start: usize,
}

impl<'t> Excerpt<'t> {
    fn around(text: &'t str, span: &Span, also: Option<&Span>) -> Self {
        let spans = [Some(span), also];
        let first = spans.iter().flatten().map(|span| span.start).min().unwrap_or(0).min(text.len());
        let last = spans.iter().flatten().map(|span| span.start).max().unwrap_or(0).min(text.len());
        let bytes = text.as_bytes();
        let start = bytes[..first].iter().rposition(|byte| *byte == b'\n').map_or(0, |index| index + 1);
        let end = bytes[last..].iter().position(|byte| *byte == b'\n').map_or(text.len(), |index| last + index);
        let line = bytes[..start].iter().filter(|byte| **byte == b'\n').count() + 1;
        Self { text: text.get(start..end).unwrap_or(""), line, start }
    }

    /// A span of the whole text as one of the excerpt: whole characters, on one line.
    fn inside(&self, span: &Span) -> Span {
        let floor = |mut at: usize| {
            at = at.min(self.text.len());
            while !self.text.is_char_boundary(at) {
                at -= 1;
            }
            at
        };
        let start = floor(span.start.saturating_sub(self.start));
        let end = floor(span.end.saturating_sub(self.start)).max(start);
        let covered = self.text.get(start..end).unwrap_or("");
        start..start + covered.find(['\n', '\r']).unwrap_or(covered.len())
    }
}

/// A diagnostic for other programs.
#[derive(Debug, Serialize)]
struct Record<'d> {
    code: &'d str,
    severity: &'static str,
    message: &'d str,
    file: &'d str,
    #[serde(flatten, skip_serializing_if = "Option::is_none")]
    place: Option<Place<'d>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    also: Option<Place<'d>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    why: Option<&'d str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    help: Option<&'d str>,
}

/// A place for other programs: line and column from 1, the column in characters.
#[derive(Debug, Serialize)]
struct Place<'d> {
    line: usize,
    column: usize,
    end_line: usize,
    end_column: usize,
    label: &'d str,
}

/// The diagnostics as a JSON array, one object each, with line and column from 1; at most 1000.
///
/// # Errors
/// None that can happen with these values; the type is that of the writer.
pub fn render_json(list: &[Diagnostic], file_name: &str, text: &str) -> Result<String, serde_json::Error> {
    render_json_of(&[(list, file_name, text)])
}

/// The same for several files in one array: the diagnostics of each with its name and text, at most 1000 of each.
///
/// # Errors
/// As [`render_json`].
pub fn render_json_of(files: &[(&[Diagnostic], &str, &str)]) -> Result<String, serde_json::Error> {
    let records: Vec<Record<'_>> = files.iter().flat_map(|(list, name, text)| records(list, name, text)).collect();
    serde_json::to_string_pretty(&records)
}

fn records<'d>(list: &'d [Diagnostic], file_name: &'d str, text: &'d str) -> Vec<Record<'d>> {
    shown(list, MOST_JSON)
        .into_iter()
        .map(|one| {
            let side = one.label.as_ref().map(|(span, _)| Side::of(file_name, text, span));
            let place = |(span, label): &'d (Span, String)| -> Option<Place<'d>> {
                side.as_ref().filter(|side| side.holds(span)).map(|side| side.place(span, label))
            };
            Record {
                code: one.code,
                severity: match one.severity {
                    Severity::Error => "error",
                    Severity::Warning => "warning",
                },
                message: &one.message,
                file: side.as_ref().map_or(file_name, |side| side.name),
                place: one.label.as_ref().and_then(place),
                also: one.also.as_ref().and_then(place),
                why: one.why.as_deref(),
                help: one.help.as_deref(),
            }
        })
        .collect()
}

fn place<'d>(text: &str, span: &Span, label: &'d str) -> Place<'d> {
    let (line, column) = line_and_column(text, span.start);
    let (end_line, end_column) = line_and_column(text, span.end);
    Place { line, column, end_line, end_column, label }
}

/// Line and column of a byte, from 1; the column counts characters.
#[must_use]
pub fn line_and_column(text: &str, byte: usize) -> (usize, usize) {
    let before = &text.as_bytes()[..byte.min(text.len())];
    let start = before.iter().rposition(|byte| *byte == b'\n').map_or(0, |index| index + 1);
    let line = before.iter().filter(|byte| **byte == b'\n').count() + 1;
    // Continuation bytes of UTF-8 begin no character.
    let column = before[start..].iter().filter(|byte| **byte & 0xC0 != 0x80).count() + 1;
    (line, column)
}
