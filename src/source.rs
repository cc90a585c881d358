//! Where a figure comes from and how it was obtained.

use serde::{Deserialize, Serialize};

/// How a figure was obtained. Marks are carried along with every figure and are never promoted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Origin {
    /// Read in the published source named.
    Published,
    /// Read in the abstract or summary of the source named, or quoted by another source.
    Abstract,
    /// Computed from figures that carry their own origin.
    Computed,
    /// From memory and proved by reproducing published numbers.
    MemoryChecked,
    /// From memory; not re-read.
    Memory,
    /// A fact of the trade with no source.
    CommonPractice,
    /// Chosen here; no published figure was found.
    Judgement,
    /// Given by the user of the program, in a herd file.
    Given,
    /// Made up for a demonstration.
    Invented,
}

impl Origin {
    /// The words printed beside a figure.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Published => "published",
            Self::Abstract => "published, abstract or quotation only",
            Self::Computed => "computed",
            Self::MemoryChecked => "from memory, reproduces published numbers",
            Self::Memory => "from memory",
            Self::CommonPractice => "common practice",
            Self::Judgement => "judgement",
            Self::Given => "yours",
            Self::Invented => "invented",
        }
    }
}

/// A citation fixed in the program: a key of `feeds/sources.yaml`, the place in it, and how it was obtained.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cite {
    /// Key in the bibliography; empty where the origin needs none (judgement, common practice).
    pub source: &'static str,
    /// Page, table or equation.
    pub place: &'static str,
    /// How it was obtained.
    pub origin: Origin,
}

impl Cite {
    /// A citation.
    #[must_use]
    pub const fn new(source: &'static str, place: &'static str, origin: Origin) -> Self {
        Self { source, place, origin }
    }
    /// Our own choice, with the reason as the place.
    #[must_use]
    pub const fn judgement(reason: &'static str) -> Self {
        Self { source: "", place: reason, origin: Origin::Judgement }
    }
}

impl std::fmt::Display for Cite {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match (self.source.is_empty(), self.place.is_empty()) {
            (true, true) => write!(f, "{}", self.origin.words()),
            (true, false) => write!(f, "{} ({})", self.place, self.origin.words()),
            (false, true) => write!(f, "{} ({})", self.source, self.origin.words()),
            (false, false) => write!(f, "{}, {} ({})", self.source, self.place, self.origin.words()),
        }
    }
}
