//! Lines over time.

use super::{APART, BOTTOM, Face, LEFT, Scale, TOP, WIDTH, dash, framed, label, p, spread, ticks, upward};
use maud::{Markup, html};

/// One line.
pub(in crate::report::html) struct Line {
    /// Its name.
    pub(in crate::report::html) name: String,
    /// Which dashes it has.
    pub(in crate::report::html) pattern: usize,
    /// Day counted from the first, value, the figure as the table prints it, and what the point is.
    pub(in crate::report::html) points: Vec<Point>,
    /// Said behind its name.
    pub(in crate::report::html) note: String,
}

/// A point of a line.
pub(in crate::report::html) struct Point {
    /// Days from the first day.
    pub(in crate::report::html) day: f64,
    /// The value.
    pub(in crate::report::html) value: f64,
    /// As the table prints it.
    pub(in crate::report::html) figure: String,
    /// Which row or column of the table it is.
    pub(in crate::report::html) of: String,
}

/// Room for labels to the right.
const SIDE: f64 = 190.0;

/// Most lines whose notes have room.
const MOST_NOTED: usize = 4;
/// Room for a name in two lines.
const NAME_APART: f64 = 38.0;

/// The picture. `from` is where the axis upward begins at the latest; `below` are the words along the days.
pub(in crate::report::html) fn lines(
    face: &Face<'_>,
    from: Option<f64>,
    below: &[(f64, String)],
    days: f64,
    list: &[Line],
) -> Markup {
    let values = || list.iter().flat_map(|line| &line.points).map(|point| point.value);
    let low = from.unwrap_or_else(|| values().fold(f64::INFINITY, f64::min) - 0.3);
    let high = values().fold(low + 0.1, f64::max);
    let (marks, digits) = ticks(low, high);
    let ends = (marks.first().copied().unwrap_or(0.0), marks.last().copied().unwrap_or(1.0));
    let up = Scale { from: ends.0, to: ends.1, start: BOTTOM, end: TOP };
    let right = WIDTH - SIDE;
    let along = Scale { from: 0.0, to: days, start: LEFT, end: right };
    let last: Vec<f64> =
        list.iter().map(|line| line.points.last().map_or(BOTTOM, |point| up.at(point.value))).collect();
    // Where many lines end close together there is room for their names only; the table has what stands behind them.
    let noted = list.len() <= MOST_NOTED;
    let places = spread(&last, if noted { 2.0 * APART } else { NAME_APART });
    let room = 46.0;
    let mut shown: Vec<(f64, &String)> = Vec::new();
    for (day, word) in below {
        if shown.last().is_none_or(|(before, _)| along.at(*day) - along.at(*before) >= room) {
            shown.push((*day, word));
        }
    }
    let drawn = html! {
        (upward(up, &marks, digits, right))
        @for (day, word) in &shown {
            line x1=(p(along.at(*day))) x2=(p(along.at(*day))) y1=(p(BOTTOM)) y2=(p(BOTTOM + 6.0)) stroke="#1b1a17" {}
            text x=(p(along.at(*day))) y=(p(BOTTOM + 22.0)) text-anchor="start" { (word) }
        }
        @for (line, place) in list.iter().zip(&places) {
            polyline points=(line.points.iter().map(|one| format!("{},{}", p(along.at(one.day)), p(up.at(one.value)))).collect::<Vec<_>>().join(" "))
                fill="none" stroke="#1b1a17" stroke-width="3" stroke-dasharray=(dash(line.pattern)) {}
            @for one in &line.points {
                circle cx=(p(along.at(one.day))) cy=(format!("{:.2}", up.at(one.value))) r="4.5" fill="#fff" stroke="#1b1a17" stroke-width="2"
                    data-series=(line.name) data-column=(one.of) data-figure=(one.figure) {
                    title { (line.name) ", " (one.of) ": " (one.figure) " " (face.unit) }
                }
            }
            @if let Some(end) = line.points.last() {
                @let (x, y) = (along.at(end.day), up.at(end.value));
                line x1=(p(x + 6.0)) y1=(p(y)) x2=(p(right + 14.0)) y2=(p(*place)) stroke="#1b1a17" stroke-width="1" {}
                (label(right + 18.0, *place - 8.0, "start", &line.name))
                @if noted { text x=(p(right + 18.0)) y=(p(*place + if super::broken(&line.name, super::LABEL).len() > 1 { 20.0 } else { 14.0 })) { (line.note) } }
            }
        }
    };
    framed(face, &drawn)
}
