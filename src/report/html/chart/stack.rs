//! Columns of stacked amounts by period.

use super::{APART, BOTTOM, Face, LEFT, Scale, TOP, fill, framed, label, on_mark, p, spread, ticks, under, upward};
use maud::{Markup, html};

/// One part of every column.
pub(in crate::report::html) struct Series {
    /// Its name.
    pub(in crate::report::html) name: String,
    /// Which pattern it has, the same all over a page.
    pub(in crate::report::html) pattern: usize,
    /// Its amount in each column, with the figure as the table prints it; 0 is blank.
    pub(in crate::report::html) values: Vec<(f64, String)>,
}

/// Least height of a part whose figure stands in it.
const ROOM: f64 = 18.5;
/// Where labels stand on either side.
const SIDE: f64 = 150.0;

/// The picture; the first series stands lowest.
pub(in crate::report::html) fn stacked(face: &Face<'_>, columns: &[String], series: &[Series]) -> Markup {
    let sum = |column: usize| series.iter().map(|one| one.values[column].0).sum::<f64>();
    let top = (0..columns.len()).map(sum).fold(0.0, f64::max);
    let (list, digits) = ticks(0.0, top);
    let scale = Scale { from: 0.0, to: list.last().copied().unwrap_or(1.0), start: BOTTOM, end: TOP };
    let last = columns.len().saturating_sub(1);
    let right = face.width - if series.len() > 1 { SIDE } else { 20.0 };
    let band = (right - LEFT) / columns.len().max(1) as f64;
    let width = (band * 0.74).min(90.0);
    let center = |column: usize| LEFT + band * (column as f64 + 0.5);
    // Where the middle of a part of a column stands.
    let middle = |index: usize, column: usize| {
        let below: f64 = series[..index].iter().map(|one| one.values[column].0).sum();
        scale.at(below + series[index].values[column].0 / 2.0)
    };
    // A name stands beside the last column in which there is any of it.
    let named: Vec<(usize, usize)> = series
        .iter()
        .enumerate()
        .filter_map(|(index, one)| Some((index, one.values.iter().rposition(|(value, _)| *value > 0.0)?)))
        .collect();
    let wanted: Vec<f64> = named.iter().map(|(index, column)| middle(*index, *column)).collect();
    let tall = if named.iter().any(|(index, _)| super::broken(&series[*index].name, super::LABEL).len() > 1) {
        34.0
    } else {
        APART
    };
    let places = spread(&wanted, tall);
    let centers: Vec<f64> = (0..columns.len()).map(center).collect();
    let marks = html! {
        (upward(scale, &list, digits, right))
        @for column in 0..columns.len() {
            @for (index, one) in series.iter().enumerate() {
                @let (value, figure) = &one.values[column];
                @if *value > 0.0 {
                    @let height = scale.at(0.0) - scale.at(*value);
                    @let y = middle(index, column) - height / 2.0;
                    rect x=(p(center(column) - width / 2.0)) y=(format!("{y:.2}")) width=(p(width)) height=(format!("{height:.2}"))
                        fill=(fill(one.pattern)) stroke="#1b1a17" stroke-width="1.2"
                        data-series=(one.name) data-column=(columns[column]) data-figure=(figure) {
                        title { (one.name) ", " (columns[column]) ": " (figure) " " (face.unit) }
                    }
                    @if height >= ROOM && width > 30.0 {
                        (on_mark(center(column), middle(index, column), figure))
                    }
                }
            }
        }
        // One part alone is what the axis says it is.
        @for ((index, column), place) in named.iter().zip(&places).filter(|_| series.len() > 1) {
            @let y = middle(*index, *column);
            polyline points=(format!("{},{} {},{} {},{}", p(center(*column) + width / 2.0), p(y), p(right + 2.0),
                p(if *column == last { y } else { *place }), p(right + 14.0), p(*place)))
                fill="none" stroke="#1b1a17" stroke-width="1" {}
            (label(right + 18.0, *place, "start", &series[*index].name))
        }
        (under(&centers, columns))
    };
    framed(face, &marks)
}
