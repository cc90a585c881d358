//! How much is bought at which price.

use super::{BOTTOM, Face, LEFT, Scale, TOP, WIDTH, p, ticks, upward};
use crate::limit::figure_text;
use maud::{Markup, html};

/// One step: prices from and to, tons at both; the figures as the table prints them.
pub(in crate::report::html) struct Step {
    /// Lowest price and its figure.
    pub(in crate::report::html) from: f64,
    /// Highest price; `None`: any higher price.
    pub(in crate::report::html) to: Option<f64>,
    /// Tons at the lowest price.
    pub(in crate::report::html) tons_from: f64,
    /// Tons at the highest.
    pub(in crate::report::html) tons_to: f64,
    /// The row's figures.
    pub(in crate::report::html) figure: String,
    /// The tons' figures.
    pub(in crate::report::html) tons: String,
}

/// The axis reaches at most so many times the price asked about.
const FAR: f64 = 3.0;

/// The picture; `now` is the price asked about and its words, `stops` the prices a mark can be moved to.
pub(in crate::report::html) fn steps(
    face: &Face<'_>,
    list: &[Step],
    now: Option<(f64, String)>,
    stops: &[f64],
) -> Markup {
    let last = list.last().map_or(0.0, |step| step.from);
    let first = list.first().map_or(0.0, |step| step.from);
    // What lies far beyond any price heard of is left to the table.
    let asked = now.as_ref().map(|(price, _)| *price).filter(|price| *price > first);
    let far = asked.map_or(f64::INFINITY, |price| FAR * price);
    let reach = last.min(far).max(asked.unwrap_or(0.0)).max(first + 1.0);
    let (prices, digits) = ticks(first.min(reach), reach * 1.08);
    let most = list.iter().map(|step| step.tons_from).fold(0.0, f64::max);
    let (tons, tons_digits) = ticks(0.0, most.max(0.1));
    let up = Scale { from: 0.0, to: tons.last().copied().unwrap_or(1.0), start: BOTTOM, end: TOP };
    let right = WIDTH - 24.0;
    let ends = (prices.first().copied().unwrap_or(0.0), prices.last().copied().unwrap_or(1.0));
    let along = Scale { from: ends.0, to: ends.1, start: LEFT, end: right };
    let mut points: Vec<String> = Vec::new();
    for step in list {
        if step.from > ends.1 {
            break;
        }
        points.push(format!("{:.2},{:.2}", along.at(step.from), up.at(step.tons_from)));
        let to = step.to.unwrap_or(ends.1).min(ends.1);
        points.push(format!("{:.2},{:.2}", along.at(to), up.at(step.tons_to)));
    }
    let drawn = html! {
        (upward(up, &tons, tons_digits, right))
        @for price in &prices {
            line x1=(p(along.at(*price))) x2=(p(along.at(*price))) y1=(p(BOTTOM)) y2=(p(BOTTOM + 6.0)) stroke="#1b1a17" {}
            text x=(p(along.at(*price))) y=(p(BOTTOM + 22.0)) text-anchor="middle" { (figure_text(*price, digits)) }
        }
        polyline points=(points.join(" ")) fill="none" stroke="#1b1a17" stroke-width="4" stroke-linejoin="round" {}
        @for step in list.iter().filter(|step| step.from <= ends.1) {
            circle cx=(format!("{:.2}", along.at(step.from))) cy=(format!("{:.2}", up.at(step.tons_from))) r="4" fill="#fff" stroke="#1b1a17" stroke-width="2"
                data-series="tons" data-column=(step.figure) data-figure=(step.tons) {
                title { (step.figure) " $ a ton: " (step.tons) " tons" }
            }
        }
        @if let Some((price, words)) = now {
            @let x = along.at(price);
            line x1=(p(x)) x2=(p(x)) y1=(p(TOP)) y2=(p(BOTTOM)) stroke="#1b1a17" stroke-width="2" stroke-dasharray="7 5" {}
            text.halo x=(p(if x > right - 170.0 { x - 8.0 } else { x + 8.0 })) y=(p(TOP + 12.0)) font-weight="600"
                text-anchor=(if x > right - 170.0 { "end" } else { "start" }) { (words) }
        }
    };
    let places: Vec<String> = stops.iter().map(|stop| p(along.at(stop.min(ends.1)))).collect();
    let moving = html! {
        (drawn)
        @if let Some(first) = places.first() {
            line.moving x1=(first) x2=(first) y1=(p(TOP)) y2=(p(BOTTOM)) stroke="#0b4a7a" stroke-width="4" {}
        }
    };
    super::framed_with(face, &moving, &places.join(" "))
}
