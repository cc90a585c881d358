//! Pictures as inline SVG, drawn by a few functions of our own: every mark carries its figure as the table beneath prints
//! it, patterns tell feeds apart without color, and labels stand at what they name.

mod line;
mod pair;
mod stack;
mod steps;

pub(super) use line::{Line, Point, lines};
pub(super) use pair::{Pair, pairs};
pub(super) use stack::{Series, stacked};
pub(super) use steps::{Step, steps};

use maud::{Markup, html};

/// Width and height of every picture, in its own units.
pub(super) const WIDTH: f64 = 720.0;
/// Width of one of two beside each other.
pub(super) const HALF: f64 = 470.0;
const HEIGHT: f64 = 320.0;
/// Where the axes stand.
const LEFT: f64 = 62.0;
const TOP: f64 = 34.0;
const BOTTOM: f64 = 272.0;
/// Least distance of two labels, one below the other.
const APART: f64 = 19.0;
/// Longest line of a label, letters.
const LABEL: usize = 15;
/// Patterns there are before they come round again.
const PATTERNS: usize = 8;

/// What a picture shows.
pub(super) struct Face<'f> {
    /// A name for links, with nothing in it but letters, figures and strokes.
    pub(super) id: String,
    /// What it shows, in a few words.
    pub(super) title: String,
    /// What can be seen in it, for people who cannot see it.
    pub(super) desc: String,
    /// Unit of the axis upward.
    pub(super) unit: &'f str,
    /// What stands along the axis to the right.
    pub(super) along: &'f str,
    /// How wide it is; the narrower, the larger its letters.
    pub(super) width: f64,
}

/// From a figure to a place on the page.
#[derive(Debug, Clone, Copy)]
struct Scale {
    from: f64,
    to: f64,
    start: f64,
    end: f64,
}

impl Scale {
    fn at(self, value: f64) -> f64 {
        self.start + (value - self.from) / (self.to - self.from).max(1e-12) * (self.end - self.start)
    }
}

/// A place on the page, a tenth of a unit fine.
fn p(value: f64) -> String {
    format!("{value:.1}")
}

/// Round figures from `from` to at least `to`, and the decimals they need.
fn ticks(from: f64, to: f64) -> (Vec<f64>, usize) {
    let raw = ((to - from).abs().max(1e-6)) / 5.0;
    let power = 10_f64.powf(raw.log10().floor());
    let step = [1.0, 2.0, 5.0, 10.0].into_iter().map(|one| one * power).find(|one| *one >= raw - 1e-12);
    let step = step.unwrap_or(power * 10.0);
    let first = (from / step).floor();
    let mut list = Vec::new();
    let mut at = first;
    loop {
        list.push(at * step);
        if at * step >= to - 1e-9 || list.len() > 12 {
            break;
        }
        at += 1.0;
    }
    let digits = if step >= 1.0 {
        0
    } else if step >= 0.1 {
        1
    } else {
        2
    };
    (list, digits)
}

/// A figure with title and description round the marks of a picture.
fn framed(face: &Face<'_>, marks: &Markup) -> Markup {
    framed_with(face, marks, "")
}

/// The same, with the places a mark can be moved to.
fn framed_with(face: &Face<'_>, marks: &Markup, stops: &str) -> Markup {
    let (title, desc) = (format!("{}-title", face.id), format!("{}-desc", face.id));
    html! {
        @if face.width >= WIDTH { p.cue aria-hidden="true" { "More to the right: swipe the picture" } }
        figure.chart.wide tabindex="0" role="group" aria-label=(face.title) {
            svg id=(face.id) class=[(face.width < WIDTH).then_some("half")] viewBox=(format!("0 0 {} {HEIGHT}", face.width)) role="img" data-stops=[(!stops.is_empty()).then_some(stops)] aria-labelledby=(format!("{title} {desc}"))
                xmlns="http://www.w3.org/2000/svg" font-size="15" {
                title id=(title) { (face.title) }
                desc id=(desc) { (face.desc) }
                text x="0" y="16" font-weight="600" { (face.unit) }
                (marks)
                text x=(p(face.width)) y=(p(HEIGHT - 4.0)) text-anchor="end" { (face.along) }
            }
        }
    }
}

/// The axis upward: its lines and figures.
fn upward(scale: Scale, list: &[f64], digits: usize, right: f64) -> Markup {
    html! {
        @for value in list {
            @let y = scale.at(*value);
            line x1=(p(LEFT)) x2=(p(right)) y1=(p(y)) y2=(p(y)) stroke="#8d8676" stroke-width="0.8" {}
            text x=(p(LEFT - 8.0)) y=(p(y + 5.0)) text-anchor="end" { (crate::limit::figure_text(*value, digits)) }
        }
        line x1=(p(LEFT)) x2=(p(right)) y1=(p(BOTTOM)) y2=(p(BOTTOM)) stroke="#1b1a17" stroke-width="2" {}
    }
}

/// Labels under columns, in two lines where one is too long, and as many as have room.
fn under(centers: &[f64], labels: &[String]) -> Markup {
    /// Width of a letter.
    const LETTER: f64 = 8.5;
    /// Shortest line worth breaking a label for, letters.
    const SHORTEST: usize = 6;
    let room = if centers.len() > 1 { (centers[1] - centers[0]).abs() } else { 300.0 };
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few letters")]
    let fit = (((room - 6.0) / LETTER).floor().max(1.0)) as usize;
    let longest = labels.iter().map(|label| label.chars().count()).max().unwrap_or(1);
    let every = if fit >= longest || fit >= SHORTEST { 1 } else { longest.div_ceil(fit) };
    html! {
        @for (_, (x, label)) in centers.iter().zip(labels).enumerate().filter(|(at, _)| at % every == 0) {
            @let rows = broken(label, if every == 1 { fit } else { longest });
            @for (row, text) in rows.iter().enumerate() {
                text x=(p(*x)) y=(p(BOTTOM + 20.0 + 16.0 * row as f64)) text-anchor="middle" { (text) }
            }
        }
    }
}

/// A label in at most two short lines, the first at `y`.
fn label(x: f64, y: f64, anchor: &str, name: &str) -> Markup {
    let rows = broken(name, LABEL);
    html! {
        text.halo x=(p(x)) y=(p(y - if rows.len() > 1 { 4.0 } else { -5.0 })) text-anchor=(anchor) font-weight="600" {
            @for (index, row) in rows.iter().enumerate() {
                tspan x=(p(x)) dy=(if index == 0 { "0" } else { "16" }) { (row) }
            }
        }
    }
}

/// Two lines at most, broken at spaces where there are any; what does not fit is left to the table.
fn broken(name: &str, width: usize) -> Vec<String> {
    let mut rows: Vec<String> = vec![String::new()];
    for word in name.split_whitespace() {
        let last = rows.len() - 1;
        let length = rows[last].chars().count();
        if length > 0 && length + 1 + word.chars().count() > width {
            rows.push(word.to_owned());
        } else {
            if length > 0 {
                rows[last].push(' ');
            }
            rows[last].push_str(word);
        }
    }
    let more = rows.len() > 2;
    rows.truncate(2);
    for (index, row) in rows.iter_mut().enumerate() {
        if row.chars().count() > width || more && index == 1 {
            *row = row.chars().take(width - 1).chain(['…']).collect();
        }
    }
    rows
}

/// Moves labels apart, downward where there is room, so that none covers another; gives their places in the same order.
fn spread(wanted: &[f64], apart: f64) -> Vec<f64> {
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    order.sort_by(|a, b| wanted[*a].total_cmp(&wanted[*b]));
    let mut places = wanted.to_vec();
    for pair in order.windows(2) {
        places[pair[1]] = places[pair[1]].max(places[pair[0]] + apart);
    }
    let mut ceiling = BOTTOM - 4.0;
    for index in order.into_iter().rev() {
        places[index] = places[index].min(ceiling);
        ceiling = places[index] - apart;
    }
    places
}

/// A figure on a mark, on a ground of its own so that no pattern runs through it.
fn on_mark(x: f64, y: f64, figure: &str) -> Markup {
    let width = 8.6 * figure.chars().count() as f64 + 8.0;
    html! {
        rect x=(p(x - width / 2.0)) y=(p(y - 9.0)) width=(p(width)) height="18" rx="3" fill="#fff" {}
        text x=(p(x)) y=(p(y + 5.5)) text-anchor="middle" { (figure) }
    }
}

/// How a series is filled.
fn fill(index: usize) -> String {
    format!("url(#fill-{})", index % PATTERNS)
}

/// How a line is broken.
fn dash(index: usize) -> &'static str {
    ["none", "10 5", "3 4", "14 4 3 4", "6 3", "1 5", "18 6", "8 3 2 3"][index % PATTERNS]
}

/// The patterns, once a page: dark strokes on few tints, so that they part on a black-and-white printer, too.
pub(super) fn patterns() -> Markup {
    let tints = ["#d9c38a", "#ffffff", "#a9c1a1", "#efe9da", "#c9d6e2", "#ffffff", "#e3c4b0", "#8f8b80"];
    let strokes = [
        "M0 8 L8 0",
        "M2 2 h2 v2 h-2 z",
        "M0 4 h8",
        "M0 0 L8 8 M0 8 L8 0",
        "M4 0 v8",
        "M0 0 L8 8",
        "M0 2 h4 v4 h4",
        "",
    ];
    html! {
        svg width="0" height="0" aria-hidden="true" focusable="false" style="position:absolute" {
            defs {
                @for (index, (tint, stroke)) in tints.iter().zip(strokes).enumerate() {
                    pattern id=(format!("fill-{index}")) width="8" height="8" patternUnits="userSpaceOnUse" {
                        rect width="8" height="8" fill=(tint) {}
                        path d=(stroke) stroke="#1b1a17" stroke-width="1.1" fill="none" {}
                    }
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ticks_are_round_and_reach_the_end() {
        assert_eq!(ticks(0.0, 42.0), (vec![0.0, 10.0, 20.0, 30.0, 40.0, 50.0], 0));
        assert_eq!(ticks(0.0, 0.9).1, 1);
        assert!((ticks(4.7, 5.6).0[0] - 4.6).abs() < 1e-9);
    }

    #[test]
    fn labels_part() {
        let places = spread(&[300.0, 299.0, 120.0], 19.0);
        assert!((places[0] - places[1]).abs() >= 19.0 - 1e-9 && places[0] <= BOTTOM);
        assert!((places[2] - 120.0).abs() < 1e-9);
    }

    #[test]
    fn long_names_end_in_dots() {
        assert_eq!(broken("gin trash stripper", 17), ["gin trash", "stripper"]);
        assert!(broken(&"x".repeat(40), 17)[0].ends_with('…'));
    }
}
