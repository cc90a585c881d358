//! A page as data: sections of tables and sentences. The terminal and the browser draw the same one, so neither says what
//! the other does not.

use super::grid::{grid, paragraph};
use std::fmt::Write as _;

/// A page.
#[derive(Debug, Clone, Default)]
pub struct Page {
    /// Its heading.
    pub title: String,
    /// What stands behind the heading on its line.
    pub rest: String,
    /// Its sections, top down.
    pub sections: Vec<Section>,
}

/// A part of a page under one heading.
#[derive(Debug, Clone, Default)]
pub struct Section {
    /// A name for links and for the pictures that go with it.
    pub id: &'static str,
    /// Its heading, in small letters; empty: it has none and only stands apart.
    pub title: String,
    /// What stands behind the heading on its line, such as the unit of all its figures.
    pub rest: String,
    /// What it holds.
    pub blocks: Vec<Block>,
}

/// What a section holds.
#[derive(Debug, Clone)]
pub enum Block {
    /// A table.
    Table(Table),
    /// A sentence or more.
    Words {
        /// What stands before its first line on a terminal; `  - ` makes it one of a list.
        lead: &'static str,
        /// The words.
        text: String,
    },
    /// A line drawn as it is on a terminal, and as a heading of its own in a browser.
    Line(String),
}

/// A table.
#[derive(Debug, Clone, Default)]
pub struct Table {
    /// What it shows, in a few words. A terminal has the heading above it instead.
    pub caption: String,
    /// A line of its own above it on a terminal, where the heading does not say it.
    pub lead: String,
    /// So many columns from the left hold words, the others figures.
    pub left: usize,
    /// Heads of the columns; a line break in one is a space in a browser.
    pub header: Vec<String>,
    /// Rows.
    pub rows: Vec<Vec<String>>,
    /// The first column is printed on a terminal only where it changes.
    pub fold: bool,
    /// A terminal has no margin left of it.
    pub flush: bool,
    /// A column that is a picture of letters on a terminal; a browser draws its own.
    pub drawn: Option<usize>,
    /// The last column holds words, too, which read from the left.
    pub last_words: bool,
}

/// The lead of one of a list.
pub const ITEM: &str = "  - ";

impl Block {
    /// Whether it is one of a list.
    #[must_use]
    pub fn is_item(&self) -> bool {
        matches!(self, Self::Words { lead, .. } if *lead == ITEM)
    }
}

impl Page {
    /// A page with its heading.
    #[must_use]
    pub fn new(title: impl Into<String>, rest: impl Into<String>) -> Self {
        Self { title: title.into(), rest: rest.into(), sections: Vec::new() }
    }
    /// Begins a section.
    pub fn section(&mut self, id: &'static str, title: impl Into<String>, rest: impl Into<String>) {
        self.sections.push(Section { id, title: title.into(), rest: rest.into(), blocks: Vec::new() });
    }
    /// Adds to the section begun last.
    pub fn push(&mut self, block: Block) {
        if self.sections.is_empty() {
            self.sections.push(Section::default());
        }
        if let Some(section) = self.sections.last_mut() {
            section.blocks.push(block);
        }
    }
    /// Adds a table: its caption, how many columns hold words, heads and rows.
    pub fn table(&mut self, caption: impl Into<String>, left: usize, header: &[String], rows: &[Vec<String>]) {
        let (header, rows) = (header.to_vec(), rows.to_vec());
        self.push(Block::Table(Table { caption: caption.into(), left, header, rows, ..Table::default() }));
    }
    /// Adds sentences; their first line stands behind `lead` on a terminal.
    pub fn words(&mut self, lead: &'static str, text: impl Into<String>) {
        self.push(Block::Words { lead, text: text.into() });
    }
    /// Adds one of a list.
    pub fn item(&mut self, text: impl Into<String>) {
        self.words(ITEM, text);
    }
    /// The section of a name.
    #[must_use]
    pub fn get(&self, id: &str) -> Option<&Section> {
        self.sections.iter().find(|section| section.id == id)
    }
    /// The page for a terminal.
    #[must_use]
    pub fn text(&self) -> String {
        let mut out = String::new();
        if !self.title.is_empty() {
            let _ = writeln!(out, "{}{}", self.title, self.rest);
        }
        for (index, section) in self.sections.iter().enumerate() {
            if index > 0 || !(self.title.is_empty() || section.id.is_empty()) {
                out.push('\n');
            }
            out.push_str(&section.text());
        }
        out
    }
}

impl Section {
    /// The section for a terminal.
    #[must_use]
    pub fn text(&self) -> String {
        let mut out = String::new();
        if !self.title.is_empty() || !self.rest.is_empty() {
            let _ = writeln!(out, "{}{}", self.title.to_uppercase(), self.rest);
        }
        for block in &self.blocks {
            match block {
                Block::Table(table) => out.push_str(&table.text()),
                Block::Words { lead, text } => out.push_str(&paragraph(lead, text)),
                Block::Line(text) => {
                    out.push_str(text);
                    out.push('\n');
                }
            }
        }
        out
    }
}

impl Table {
    /// The table for a terminal.
    #[must_use]
    pub fn text(&self) -> String {
        let mut rows = self.rows.clone();
        if self.fold {
            for index in (1..rows.len()).rev() {
                if rows[index].first() == rows[index - 1].first()
                    && let Some(first) = rows[index].first_mut()
                {
                    first.clear();
                }
            }
        }
        let mut header = self.header.clone();
        if self.last_words {
            let last = rows.iter().chain([&header]).filter_map(|row| row.last().map(|cell| cell.chars().count())).max();
            let width = last.unwrap_or(0);
            for cell in rows.iter_mut().chain([&mut header]).filter_map(|row| row.last_mut()) {
                cell.push_str(&" ".repeat(width - cell.chars().count()));
            }
        }
        let lead = if self.lead.is_empty() { String::new() } else { format!("{}\n", self.lead) };
        let text = lead + &grid(self.left, &header, &rows);
        if self.flush {
            return text.lines().fold(String::new(), |out, line| out + line.strip_prefix(' ').unwrap_or(line) + "\n");
        }
        text
    }
}
