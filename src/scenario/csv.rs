//! A table in CSV: cells with their places in the text.

use super::code::Code;
use crate::diagnostic::{Diagnostic, Span};

/// One cell.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Cell {
    /// What stands in it, quotation marks undone.
    pub(super) text: String,
    /// Its bytes, quotation marks included.
    pub(super) span: Span,
}

/// The cells of a text by line, empty lines left out. Every line has at least one cell.
///
/// # Errors
/// A quotation mark that is not closed, or text after a closed one.
pub(super) fn cells(text: &str) -> Result<Vec<Vec<Cell>>, Diagnostic> {
    let bytes = text.as_bytes();
    let mut rows: Vec<Vec<Cell>> = Vec::new();
    let mut row: Vec<Cell> = Vec::new();
    let mut at = if text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
    while at <= bytes.len() {
        let cell = cell(text, at)?;
        at = cell.span.end;
        row.push(cell);
        let next = bytes.get(at);
        if next == Some(&b',') {
            at += 1;
            continue;
        }
        if row.iter().any(|cell| !cell.text.trim().is_empty()) {
            rows.push(std::mem::take(&mut row));
        }
        row.clear();
        if next.is_none() {
            break;
        }
        at += if bytes[at..].starts_with(b"\r\n") { 2 } else { 1 };
    }
    Ok(rows)
}

fn cell(text: &str, start: usize) -> Result<Cell, Diagnostic> {
    let rest = &text[start..];
    let plain = |rest: &str| rest.find([',', '\n', '\r']).unwrap_or(rest.len());
    if !rest.starts_with('"') {
        let length = plain(rest);
        return Ok(Cell { text: rest[..length].to_owned(), span: start..start + length });
    }
    let mut inside = String::new();
    let mut from = 1;
    loop {
        let Some(quote) = rest[from..].find('"').map(|found| from + found) else {
            return Err(Code::SheetForm
                .error("a quotation mark is not closed")
                .at(start..start + 1, "opened here")
                .help("close it, or delete it; a quotation mark inside a cell is written twice"));
        };
        inside.push_str(&rest[from..quote]);
        if rest[quote + 1..].starts_with('"') {
            inside.push('"');
            from = quote + 2;
            continue;
        }
        let end = quote + 1;
        let after = plain(&rest[end..]);
        if !rest[end..end + after].trim().is_empty() {
            return Err(Code::SheetForm
                .error("there is text after a quotation mark was closed")
                .at(start + end..start + end + after, "not part of the cell")
                .help("put the whole cell between quotation marks, or none of it"));
        }
        return Ok(Cell { text: inside, span: start..start + end + after });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(text: &str) -> Vec<Vec<String>> {
        cells(text).unwrap().into_iter().map(|row| row.into_iter().map(|cell| cell.text).collect()).collect()
    }

    #[test]
    fn lines_ends_quotes_and_empty_cells() {
        let want = vec![vec!["feed", "a, b", ""], vec!["hay", "1", "2\"x"]];
        assert_eq!(texts("\u{feff}feed,\"a, b\",\r\n\r\nhay,1,\"2\"\"x\"\r\n"), want);
        assert_eq!(texts("feed,\"a, b\",\n\nhay,1,\"2\"\"x\""), want);
        assert_eq!(texts(""), Vec::<Vec<String>>::new());
        let rows = cells("feed,x\nhay,12\n").unwrap();
        assert_eq!(&"feed,x\nhay,12\n"[rows[1][1].span.clone()], "12");
        assert!(cells("feed,\"x\nhay,12\n").is_err() && cells("\"a\"b,c").is_err());
    }
}
