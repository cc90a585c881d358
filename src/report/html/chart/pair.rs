//! What there is as columns, what is needed as a bar across them.

use super::{BOTTOM, Face, LEFT, Scale, TOP, framed, on_mark, p, ticks, under, upward};
use maud::{Markup, html};

/// One column and its bar, with the figures as the table prints them.
pub(in crate::report::html) struct Pair {
    /// The period.
    pub(in crate::report::html) column: String,
    /// What there is.
    pub(in crate::report::html) has: (f64, String),
    /// What is needed.
    pub(in crate::report::html) need: (f64, String),
}

/// Columns beyond which the words stand over them.
const MANY: usize = 12;

/// The picture, with the words for what there is and for what is needed.
pub(in crate::report::html) fn pairs(face: &Face<'_>, (has_words, need_words): (&str, &str), list: &[Pair]) -> Markup {
    let high = list.iter().map(|one| one.has.0.max(one.need.0)).fold(0.0, f64::max);
    let (marks, digits) = ticks(0.0, high);
    let scale = Scale { from: 0.0, to: marks.last().copied().unwrap_or(1.0), start: BOTTOM, end: TOP };
    let right = face.width - 92.0;
    let band = (right - LEFT) / list.len().max(1) as f64;
    let width = (band * 0.6).min(80.0);
    let centers: Vec<f64> = (0..list.len()).map(|index| LEFT + band * (index as f64 + 0.5)).collect();
    let labels: Vec<String> = list.iter().map(|one| one.column.clone()).collect();
    let drawn = html! {
        (upward(scale, &marks, digits, right))
        @for (one, x) in list.iter().zip(&centers) {
            @let (has, need) = (scale.at(one.has.0), scale.at(one.need.0));
            rect x=(p(x - width / 2.0)) y=(format!("{has:.2}")) width=(p(width)) height=(format!("{:.2}", BOTTOM - has))
                fill="#d6cfba" stroke="#1b1a17" stroke-width="1.2"
                data-series=(has_words) data-column=(one.column) data-figure=(one.has.1) {
                title { (one.column) ": " (has_words) " " (one.has.1) ", " (need_words) " " (one.need.1) " " (face.unit) }
            }
            line x1=(p(x - width / 2.0 - 7.0)) x2=(p(x + width / 2.0 + 7.0)) y1=(format!("{need:.2}")) y2=(format!("{need:.2}"))
                stroke="#1b1a17" stroke-width="5" data-series=(need_words) data-column=(one.column) data-figure=(one.need.1) {}
            @if width > 30.0 {
                (on_mark(*x, f64::midpoint(has, BOTTOM) + 8.0, &one.has.1))
            }
        }
        @if list.len() > MANY {
            // Beside the last of many columns there may be nothing: the words stand over the tallest.
            @let tallest = |of: &dyn Fn(&Pair) -> f64| (0..list.len()).max_by(|a, b| of(&list[*a]).total_cmp(&of(&list[*b]))).unwrap_or(0);
            @let (most, asked) = (tallest(&|one| one.has.0), tallest(&|one| one.need.0));
            text.halo x=(p(centers[most])) y=(p(scale.at(list[most].has.0) - 6.0)) text-anchor="middle" font-weight="600" { (has_words) }
            @if asked != most {
                text.halo x=(p(centers[asked])) y=(p(scale.at(list[asked].need.0) - 8.0)) text-anchor="middle" font-weight="600" { (need_words) }
            }
        } @else if let (Some(one), Some(x)) = (list.last(), centers.last()) {
            @let need = scale.at(one.need.0);
            line x1=(p(x + width / 2.0 + 7.0)) x2=(p(right + 14.0)) y1=(p(need)) y2=(p(need)) stroke="#1b1a17" {}
            text x=(p(right + 18.0)) y=(p(need + 5.0)) font-weight="600" { (need_words) }
            text x=(p(right + 18.0)) y=(p(f64::midpoint(need, BOTTOM))) font-weight="600" { (has_words) }
            line x1=(p(x + width / 2.0)) x2=(p(right + 14.0)) y1=(p(f64::midpoint(need, BOTTOM) - 5.0)) y2=(p(f64::midpoint(need, BOTTOM) - 5.0)) stroke="#1b1a17" {}
        }
        (under(&centers, &labels))
    };
    framed(face, &drawn)
}
