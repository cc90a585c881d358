//! The bibliography: what stands behind every figure, and how it was obtained.

use super::raw::{Pairs, from_yaml};
use crate::diagnostic::Diagnostic;
use indexmap::IndexMap;
use serde::Deserialize;

/// How a source was obtained.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Obtained {
    /// The figures used were read in a stored copy.
    Read,
    /// Only part of it could be read.
    PartRead,
    /// Only the abstract or a summary was read.
    Abstract,
    /// Known through another source that quotes it.
    Quoted,
    /// From memory.
    Memory,
    /// Known to exist.
    Listed,
}

impl Obtained {
    /// The words printed behind a source.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Read => "read",
            Self::PartRead => "read in part",
            Self::Abstract => "abstract or summary read",
            Self::Quoted => "known through a source that quotes it",
            Self::Memory => "from memory, not re-read",
            Self::Listed => "known to exist, not read",
        }
    }
}

/// One source.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Source {
    /// Authors or issuing body, if noted.
    pub authors: Option<String>,
    /// Year, if noted.
    pub year: Option<u16>,
    /// Title; in square brackets a description where the exact title was not noted.
    pub title: String,
    /// Publisher, journal, place.
    pub publisher: Option<String>,
    /// How it was obtained.
    pub obtained: Obtained,
    /// A remark on what was read.
    pub note: Option<String>,
}

impl std::fmt::Display for Source {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        // Authors (year). Title. Publisher. A year without authors stands behind the title.
        let year = self.year.map_or(String::new(), |year| format!(" ({year})"));
        match &self.authors {
            Some(authors) if year.is_empty() => write!(f, "{}. {}. ", authors.trim_end_matches('.'), self.title)?,
            Some(authors) => write!(f, "{authors}{year}. {}. ", self.title)?,
            None => write!(f, "{}{year}. ", self.title)?,
        }
        if let Some(publisher) = &self.publisher {
            write!(f, "{publisher}. ")?;
        }
        write!(f, "({}", self.obtained.words())?;
        if let Some(note) = &self.note {
            write!(f, "; {note}")?;
        }
        write!(f, ")")
    }
}

/// Every source the figures, equations and rules cite, by key.
#[derive(Debug, Clone, PartialEq)]
pub struct Bibliography(IndexMap<String, Source>);

impl Bibliography {
    /// The bibliography shipped with the program.
    ///
    /// # Errors
    /// If the file is not readable; a test holds that the shipped one is.
    pub fn shipped() -> Result<Self, Vec<Diagnostic>> {
        Self::read("feeds/sources.yaml", include_str!("../../feeds/sources.yaml"))
    }

    /// From the text of a bibliography file.
    ///
    /// # Errors
    /// F001 if the text is not readable, F002 for a key that stands there twice.
    pub fn read(file: &str, text: &str) -> Result<Self, Vec<Diagnostic>> {
        let pairs: Pairs<Source> = from_yaml(file, text)?;
        let mut sources = IndexMap::new();
        let mut found = Vec::new();
        for (key, source) in pairs.0 {
            if sources.contains_key(&key) {
                found.push(Diagnostic::error("F002", format!("{file}: {key} stands there twice")));
            } else {
                sources.insert(key, source);
            }
        }
        if found.is_empty() { Ok(Self(sources)) } else { Err(found) }
    }

    /// The source with this key.
    #[must_use]
    pub fn get(&self, key: &str) -> Option<&Source> {
        self.0.get(key)
    }
    /// Whether there is a source with this key.
    #[must_use]
    pub fn contains(&self, key: &str) -> bool {
        self.0.contains_key(key)
    }
    /// Keys and sources in the order of the file.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &Source)> {
        self.0.iter().map(|(key, source)| (key.as_str(), source))
    }
}
