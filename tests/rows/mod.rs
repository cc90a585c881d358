//! Runs a published table as data against our own figures.

use indexmap::IndexMap;
use overwinter::source::Origin;
use serde::Deserialize;

/// A published table: where it was printed, what it was printed for, its columns and rows.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Table {
    pub(crate) title: String,
    pub(crate) source: Source,
    #[serde(default)]
    pub(crate) note: Option<String>,
    #[serde(default)]
    pub(crate) given: IndexMap<String, Cell>,
    pub(crate) inputs: Vec<String>,
    pub(crate) columns: IndexMap<String, Column>,
    pub(crate) rows: Vec<IndexMap<String, Cell>>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Source {
    /// Key of the bibliography; empty where each row names its own.
    pub(crate) key: String,
    pub(crate) place: String,
    pub(crate) origin: Origin,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Column {
    /// One unit of the last printed digit.
    pub(crate) last_digit: f64,
    /// Where it differs from the table's.
    #[serde(default)]
    pub(crate) origin: Option<Origin>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(untagged)]
pub(crate) enum Cell {
    Number(f64),
    Text(String),
    Known(Known),
    Range(Range),
}

/// A known difference: what is printed, what ours is to one more digit, and why they differ.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Known {
    pub(crate) print: f64,
    pub(crate) ours: f64,
    pub(crate) because: String,
}

/// A printed range; ours must lie in it, its ends being rounded as every printed figure is.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Range {
    pub(crate) from: f64,
    pub(crate) to: f64,
}

/// The inputs of one row, those given for the whole table included. Asking for one that is not there is a slip.
pub(crate) struct Inputs<'a> {
    table: &'a Table,
    row: &'a IndexMap<String, Cell>,
}

impl Inputs<'_> {
    fn cell(&self, key: &str) -> &Cell {
        assert!(
            self.table.given.contains_key(key)
                || self.table.inputs.iter().any(|input| input == key)
                || self.table.columns.contains_key(key),
            "{}: no input {key}",
            self.table.title
        );
        self.row.get(key).or_else(|| self.table.given.get(key)).unwrap_or_else(|| panic!("a row lacks {key}"))
    }
    /// Whether the row has it.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.row.contains_key(key)
    }
    /// A number; of a known difference the printed one.
    pub(crate) fn number(&self, key: &str) -> f64 {
        match self.cell(key) {
            Cell::Number(value) => *value,
            Cell::Known(known) => known.print,
            other => panic!("{key} is {other:?}, not a number"),
        }
    }
    pub(crate) fn text(&self, key: &str) -> &str {
        match self.cell(key) {
            Cell::Text(text) => text,
            other => panic!("{key} is {other:?}, not a text"),
        }
    }
}

/// Our figures by column.
pub(crate) type Ours = IndexMap<&'static str, f64>;

/// Reads a table of `tests/published` and holds every printed cell against ours: within half a unit of the last printed
/// digit, inside a printed range, or off by exactly what a known difference says. Every cell is judged before it fails.
pub(crate) fn run(file: &str, ours: impl Fn(&Inputs) -> Ours) {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/published").join(file);
    let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    let table: Table = serde_yaml::from_str(&text).unwrap_or_else(|error| panic!("{file}: {error}"));
    assert!(!table.rows.is_empty(), "{file} has no rows");
    let mut faults = Vec::new();
    let mut judged: IndexMap<&str, usize> = table.columns.keys().map(|column| (column.as_str(), 0)).collect();
    for row in &table.rows {
        for key in row.keys() {
            assert!(
                table.inputs.contains(key) || table.columns.contains_key(key),
                "{file}: {key} is neither input nor column"
            );
        }
        let ours = ours(&Inputs { table: &table, row });
        let label: Vec<String> =
            table.inputs.iter().filter_map(|key| row.get(key).map(|cell| format!("{key} {}", show(cell)))).collect();
        for (column, form) in &table.columns {
            let Some(cell) = row.get(column) else { continue };
            let Some(value) = ours.get(column.as_str()) else {
                panic!("{file}: ours has no {column}");
            };
            *judged.get_mut(column.as_str()).unwrap() += 1;
            if let Some(fault) = judge(cell, *value, form.last_digit) {
                let origin = form.origin.unwrap_or(table.source.origin).words();
                faults.push(format!("{}: {column} ({origin}): {fault}", label.join(", ")));
            }
        }
    }
    for (column, count) in judged {
        assert!(count > 0, "{file}: no cell of {column} was judged");
    }
    assert!(
        faults.is_empty(),
        "{file}: {} cells differ\n{}\n{}, {} {}\n{}",
        faults.len(),
        faults.join("\n"),
        table.title,
        table.source.key,
        table.source.place,
        table.note.unwrap_or_default()
    );
}

/// Slack for printed halves that a binary number cannot hold.
const EPSILON: f64 = 1e-9;

fn judge(cell: &Cell, ours: f64, last_digit: f64) -> Option<String> {
    let half = last_digit / 2.0 + EPSILON;
    if !ours.is_finite() {
        return Some(format!("ours is {ours}"));
    }
    match cell {
        Cell::Number(print) => ((ours - print).abs() > half).then(|| format!("printed {print}, ours {ours:.5}")),
        Cell::Range(range) => (ours < range.from - half || ours > range.to + half)
            .then(|| format!("printed {} to {}, ours {ours:.5}", range.from, range.to)),
        Cell::Known(known) => {
            if (ours - known.print).abs() <= half {
                Some(format!("the known difference is gone: printed {}, ours {ours:.5}", known.print))
            } else if (ours - known.ours).abs() > half / 10.0 {
                Some(format!("the known difference changed: it was {}, ours is {ours:.5}", known.ours))
            } else {
                assert!(!known.because.is_empty(), "a known difference needs a reason");
                None
            }
        }
        Cell::Text(text) => Some(format!("{text} is not a figure")),
    }
}

fn show(cell: &Cell) -> String {
    match cell {
        Cell::Number(value) => value.to_string(),
        Cell::Text(text) => text.clone(),
        other => format!("{other:?}"),
    }
}

#[test]
fn a_known_difference_must_stay_what_it_is() {
    let known = Cell::Known(Known { print: 15.5, ours: 15.43, because: "the print adds rounded parts".into() });
    assert!(judge(&known, 15.429, 0.1).is_none());
    assert!(judge(&known, 15.46, 0.1).is_some_and(|fault| fault.contains("gone")));
    assert!(judge(&known, 15.40, 0.1).is_some_and(|fault| fault.contains("changed")));
    assert!(judge(&Cell::Number(15.5), 15.449, 0.1).is_some());
    assert!(judge(&Cell::Number(15.5), 15.451, 0.1).is_none());
    assert!(judge(&Cell::Range(Range { from: 15.0, to: 16.0 }), 16.6, 1.0).is_some());
    assert!(judge(&Cell::Number(15.5), f64::NAN, 0.1).is_some());
}
