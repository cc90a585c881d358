//! Aligned tables and wrapped paragraphs for the terminal: no boxes, numbers to the right, at most 100 columns.

use comfy_table::{Cell, CellAlignment, ContentArrangement, Table, presets};

/// Widest line of a page.
pub const WIDTH: usize = 100;

/// A table whose first `left` columns stand to the left and all others to the right.
#[must_use]
pub fn grid(left: usize, header: &[String], rows: &[Vec<String>]) -> String {
    let mut table = Table::new();
    table.load_style(presets::NOTHING);
    if left >= header.len() && !header.is_empty() {
        // Columns of words alone may be folded to the page; figures may not.
        table.set_content_arrangement(ContentArrangement::Dynamic).set_width(u16::try_from(WIDTH).unwrap_or(u16::MAX));
    }
    let align = |index: usize| if index < left { CellAlignment::Left } else { CellAlignment::Right };
    let cells = |row: &[String]| -> Vec<Cell> {
        row.iter().enumerate().map(|(index, text)| Cell::new(text).set_alignment(align(index))).collect()
    };
    if !header.is_empty() {
        table.set_header(cells(header));
    }
    for row in rows {
        table.add_row(cells(row));
    }
    let mut out = String::new();
    for line in table.lines() {
        out.push_str(line.trim_end());
        out.push('\n');
    }
    out
}

/// A paragraph wrapped at [`WIDTH`], its first line after `lead`, the rest under it.
#[must_use]
pub fn paragraph(lead: &str, text: &str) -> String {
    let indent = " ".repeat(lead.chars().count());
    let mut out = String::new();
    let mut line = lead.to_owned();
    let mut empty = true;
    for word in text.split_whitespace() {
        let needed = line.chars().count() + usize::from(!empty) + word.chars().count();
        if !empty && needed > WIDTH {
            out.push_str(line.trim_end());
            out.push('\n');
            line.clone_from(&indent);
            empty = true;
        }
        if !empty {
            line.push(' ');
        }
        line.push_str(word);
        empty = false;
    }
    out.push_str(line.trim_end());
    out.push('\n');
    out
}
