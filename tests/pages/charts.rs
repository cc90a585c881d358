//! Pictures say what the tables beneath them say, figure by figure, and their marks are as long as their figures.

use crate::structure::{all, within, words};
use crate::{PAGES, page};
use scraper::{ElementRef, Html};

/// Every cell of every table: caption, head of the row, head of the column, figure.
struct Cell {
    row: String,
    column: String,
    figure: String,
}

fn cells(document: &Html) -> Vec<Cell> {
    let mut list = Vec::new();
    for table in all(document, "table") {
        let heads: Vec<String> = within(table, "thead th, thead td").into_iter().map(words).collect();
        for row in within(table, "tbody tr") {
            let parts: Vec<String> = within(row, "th, td").into_iter().map(words).collect();
            let name = parts[0].trim_end_matches(" *").to_owned();
            for (index, part) in parts.iter().enumerate().skip(1) {
                let column = heads.get(index).cloned().unwrap_or_default();
                list.push(Cell { row: name.clone(), column, figure: part.clone() });
            }
            // A second column of words, such as the period, tells rows apart.
            if parts.len() > 2 {
                for part in parts.iter().skip(2) {
                    list.push(Cell { row: name.clone(), column: parts[1].clone(), figure: part.clone() });
                }
            }
        }
    }
    list
}

fn attribute(mark: ElementRef<'_>, name: &str) -> String {
    mark.value()
        .attr(name)
        .unwrap_or_else(|| panic!("a mark has no {name}"))
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}

fn number(text: &str) -> f64 {
    text.replace([',', '$'], "").replace('−', "-").parse().unwrap_or_else(|_| panic!("`{text}` is no figure"))
}

#[test]
fn figures_of_pictures_stand_in_the_tables() {
    let mut pictures = 0;
    let mut marks = 0;
    for made in PAGES {
        let text = page(made.args, "");
        let document = Html::parse_document(&text);
        let cells = cells(&document);
        for figure in all(&document, "figure") {
            pictures += 1;
            let group = figure
                .parent()
                .and_then(ElementRef::wrap)
                .and_then(|div| within(div, "p.of").first().map(|one| words(*one)));
            for mark in within(figure, "[data-figure]") {
                let (series, column, said) =
                    (attribute(mark, "data-series"), attribute(mark, "data-column"), attribute(mark, "data-figure"));
                marks += 1;
                let found = match series.as_str() {
                    // Has and needs stand in one cell, of the row of the group.
                    "in ration" | "needed" => {
                        let group = group.as_ref().unwrap().split(':').next().unwrap().to_owned();
                        let place = usize::from(series == "needed");
                        cells.iter().any(|cell| {
                            cell.row == group
                                && cell.column == column
                                && cell.figure.split(" / ").nth(place).is_some_and(|figure| figure == said)
                        })
                    }
                    // The weeks of a gin are rows, named by the whole date.
                    "comes" | "wanted" => cells
                        .iter()
                        .any(|cell| cell.row.ends_with(&column) && cell.column == series && cell.figure == said),
                    "tons" => cells.iter().any(|cell| cell.row == column && cell.figure == said),
                    _ => cells.iter().any(|cell| cell.row == series && cell.column == column && cell.figure == said),
                };
                assert!(found, "{}: {series}, {column}: {said} stands in no table", made.name);
            }
        }
    }
    assert!(pictures > 20 && marks > 200, "{pictures} pictures with {marks} marks");
}

/// Columns are as tall as their figures: pixels per unit are the same for all marks of one picture.
#[test]
fn columns_are_as_tall_as_their_figures() {
    let mut checked = 0;
    for made in PAGES {
        let document = Html::parse_document(&page(made.args, ""));
        for figure in all(&document, "figure") {
            let marks: Vec<(f64, f64)> = within(figure, "rect[data-figure]")
                .into_iter()
                .map(|mark| (number(&attribute(mark, "data-figure")), number(mark.value().attr("height").unwrap())))
                .collect();
            let Some((value, height)) = marks.iter().copied().max_by(|a, b| a.0.total_cmp(&b.0)) else { continue };
            let unit = height / value;
            for (value, height) in marks {
                checked += 1;
                // Half a unit of the last digit printed, 0.05, and of the tenth of a unit drawn.
                assert!((height - unit * value).abs() <= unit * 0.11 + 0.02, "{}: {value} is {height} tall", made.name);
            }
        }
    }
    assert!(checked > 100, "{checked}");
}
