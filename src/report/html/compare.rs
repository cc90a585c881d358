//! Cases side by side.

use super::blocks::section;
use super::chart::{Face, HALF, Series, WIDTH, patterns, stacked};
use super::shell::{Names, document};
use super::{contents, foot, top};
use crate::report::compare::Comparison;
use crate::report::compare_page::sections;
use crate::report::side::shortened;
use maud::{Markup, html};

/// The page as one file.
#[must_use]
pub fn compare(comparison: &Comparison) -> String {
    let page = sections(comparison);
    let cases = &comparison.cases;
    let feeds = cases.iter().flat_map(|case| &case.prices).map(|price| price.feed.as_str());
    let fed = cases.iter().flat_map(|case| &case.rations);
    let groups = fed.clone().map(|row| row.group.as_str());
    let names = Names::new(
        cases.iter().map(|case| case.name.as_str()).chain(feeds).chain(fed.map(|row| row.feed.as_str())).chain(groups),
    );
    let titled = page.sections.iter().filter(|one| !one.title.is_empty());
    let links: Vec<(&str, String)> = titled.map(|one| (one.id, one.title.clone())).collect();
    let picture = costs(comparison);
    let none = html! {};
    let body = html! {
        (patterns())
        header { (top(&page, &names)) }
        (contents(&links))
        @for one in &page.sections { (section(one, &names, if one.id == "cost" { &picture } else { &none })) }
        (foot("overwinter compare"))
    };
    document("Winters side by side", "compare", false, &body)
}

/// What each case costs.
fn costs(comparison: &Comparison) -> Markup {
    let known = || comparison.cases.iter().filter_map(|case| Some((case, case.usd_per_head_day?)));
    let columns: Vec<String> = known().map(|(case, _)| shortened(&case.name)).collect();
    if columns.len() < 2 {
        return html! {};
    }
    let values = known().map(|(_, usd)| (usd, format!("${usd:.2}"))).collect();
    let series = Series { name: "per head and day".to_owned(), pattern: 3, values };
    let face = Face {
        id: "costs".to_owned(),
        title: "What each case costs per head and day".to_owned(),
        desc: "One column a case; the table below has every figure.".to_owned(),
        unit: "$ per head and day",
        along: "",
        width: if columns.len() > 4 { WIDTH } else { HALF },
    };
    stacked(&face, &columns, &[series])
}
