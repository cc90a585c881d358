//! The herd file as a tree of scalars, lists and maps, each with the bytes it covers.

use crate::diagnostic::Span;

/// One value of the file.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Node {
    /// The bytes it covers, from its first to its last character.
    pub(crate) span: Span,
    /// What it is.
    pub(crate) kind: Kind,
}

/// What a value is.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Kind {
    /// Nothing, `~` or `null`.
    Null,
    /// A word, number or text.
    Scalar {
        /// Its text.
        text: String,
        /// Written in quotes or as a block of text.
        quoted: bool,
    },
    /// A list.
    List(Vec<Node>),
    /// A map.
    Map(Vec<Entry>),
    /// Refused already; nothing more is said about it.
    Broken,
}

/// A key with its value.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Entry {
    /// The key.
    pub(crate) key: String,
    /// The bytes of the key.
    pub(crate) key_span: Span,
    /// The value.
    pub(crate) value: Node,
}

impl Node {
    /// Where to point for this value: a short span on one line where there is one.
    pub(crate) fn place(&self) -> Span {
        match &self.kind {
            Kind::Map(entries) => entries.first().map_or(self.span.clone(), |entry| entry.key_span.clone()),
            Kind::List(items) => items.first().map_or(self.span.clone(), Self::place),
            _ => self.span.clone(),
        }
    }
    /// What it is, for messages.
    pub(crate) fn describe(&self) -> &'static str {
        match &self.kind {
            Kind::Null | Kind::Broken => "nothing",
            Kind::Scalar { .. } => "a single value",
            Kind::List(_) => "a list",
            Kind::Map(_) => "a map",
        }
    }
}

impl Entry {
    /// Where to point for this entry: the value if it is a single one, else the key.
    pub(crate) fn place(&self) -> Span {
        match &self.value.kind {
            Kind::Scalar { .. } => self.value.span.clone(),
            _ => self.key_span.clone(),
        }
    }
}
