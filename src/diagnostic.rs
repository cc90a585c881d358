//! An error or a warning: code, text, place, reason and remedy; several at once.
//!
//! Nothing here knows of a terminal; `cli` draws them.

use std::ops::Range;

/// Whether the work can go on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Severity {
    /// The answer cannot be made.
    Error,
    /// The answer is made; the user should know this.
    Warning,
}

/// A place in a text: the bytes it covers. Line and column follow from the text.
pub type Span = Range<usize>;

/// One thing that is wrong with what the user wrote.
#[derive(Debug, Clone, PartialEq)]
pub struct Diagnostic {
    /// Code, as in `docs/errors.md`: `H` for herd files, `F` for feed tables.
    pub code: &'static str,
    /// Error or warning.
    pub severity: Severity,
    /// The fact, in one line, without a full stop.
    pub message: String,
    /// Where, and a few words on that place.
    pub label: Option<(Span, String)>,
    /// A second place that belongs to it (the first of two equal keys).
    pub also: Option<(Span, String)>,
    /// Why it matters, if that is not plain.
    pub why: Option<String>,
    /// What to write instead.
    pub help: Option<String>,
}

impl Diagnostic {
    /// An error with a code and a message.
    #[must_use]
    pub fn error(code: &'static str, message: impl Into<String>) -> Self {
        Self {
            code,
            severity: Severity::Error,
            message: message.into(),
            label: None,
            also: None,
            why: None,
            help: None,
        }
    }
    /// A warning with a code and a message.
    #[must_use]
    pub fn warning(code: &'static str, message: impl Into<String>) -> Self {
        Self { severity: Severity::Warning, ..Self::error(code, message) }
    }
    /// Adds the place.
    #[must_use]
    pub fn at(mut self, span: Span, words: impl Into<String>) -> Self {
        self.label = Some((span, words.into()));
        self
    }
    /// Adds a second place.
    #[must_use]
    pub fn and_at(mut self, span: Span, words: impl Into<String>) -> Self {
        self.also = Some((span, words.into()));
        self
    }
    /// Adds the reason.
    #[must_use]
    pub fn because(mut self, why: impl Into<String>) -> Self {
        self.why = Some(why.into());
        self
    }
    /// Adds the remedy.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }
}

/// A value together with the warnings that came along while it was made.
#[derive(Debug, Clone, PartialEq)]
pub struct Warned<T> {
    /// The value.
    pub value: T,
    /// Warnings, in the order found.
    pub warnings: Vec<Diagnostic>,
}
