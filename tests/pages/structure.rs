//! What every page must be, found by parsing it.

use crate::{PAGES, page};
use scraper::{ElementRef, Html, Selector};
use std::collections::BTreeSet;

pub(crate) fn all<'d>(document: &'d Html, what: &str) -> Vec<ElementRef<'d>> {
    document.select(&Selector::parse(what).unwrap()).collect()
}

pub(crate) fn within<'d>(element: ElementRef<'d>, what: &str) -> Vec<ElementRef<'d>> {
    element.select(&Selector::parse(what).unwrap()).collect()
}

/// Text as a reader meets it: blanks run together.
pub(crate) fn words(element: ElementRef<'_>) -> String {
    element.text().collect::<String>().split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What is wrong with a page's structure.
pub(crate) fn faults(text: &str) -> Vec<String> {
    let document = Html::parse_document(text);
    let mut list: Vec<String> = Vec::new();
    if all(&document, "html[lang=en]").len() != 1 {
        list.push("no language".to_owned());
    }
    if all(&document, "h1").len() != 1 {
        list.push(format!("{} first headings", all(&document, "h1").len()));
    }
    if all(&document, "main").len() != 1 || all(&document, "title").iter().all(|one| words(*one).is_empty()) {
        list.push("no main part or no title".to_owned());
    }
    let mut level = 0;
    for heading in all(&document, "h1, h2, h3, h4, h5, h6") {
        let here: u32 = heading.value().name()[1..].parse().unwrap();
        if here > level + 1 {
            list.push(format!("heading `{}` skips a level", words(heading)));
        }
        if words(heading).is_empty() {
            list.push("a heading without words".to_owned());
        }
        level = here;
    }
    for table in all(&document, "table") {
        let caption = within(table, "caption").first().map(|one| words(*one)).unwrap_or_default();
        if caption.is_empty() {
            list.push("a table without a caption".to_owned());
        }
        if within(table, "th").iter().any(|one| one.value().attr("scope").is_none()) {
            list.push(format!("{caption}: a head without a scope"));
        }
        if within(table, "tbody tr").iter().any(|row| within(*row, "th[scope=row]").len() != 1) {
            list.push(format!("{caption}: a row without one head"));
        }
        let widths: BTreeSet<usize> = within(table, "tr").iter().map(|row| within(*row, "th, td").len()).collect();
        if widths.len() != 1 {
            list.push(format!("{caption}: rows of {widths:?} cells"));
        }
    }
    for svg in all(&document, "svg[role=img]") {
        let named = !within(svg, "title").is_empty() && within(svg, "desc").len() == 1;
        if !named || within(svg, "desc").iter().any(|one| words(*one).is_empty()) {
            list.push("a picture without title and description".to_owned());
        }
    }
    let mut ids = BTreeSet::new();
    for one in all(&document, "[id]") {
        let id = one.value().attr("id").unwrap();
        if !ids.insert(id) {
            list.push(format!("two elements called {id}"));
        }
    }
    for link in all(&document, "[href], [src]") {
        let to = link.value().attr("href").or(link.value().attr("src")).unwrap();
        if to.strip_prefix('#').is_none_or(|id| !ids.contains(id)) {
            list.push(format!("a link to {to}"));
        }
    }
    for one in all(&document, "*") {
        if one.value().attrs().any(|(name, _)| name.starts_with("on")) {
            list.push(format!("{} runs something", one.value().name()));
        }
    }
    if text.contains("url(http")
        || text.contains("@import")
        || !all(&document, "link, iframe, object, embed").is_empty()
    {
        list.push("something is loaded".to_owned());
    }
    list
}

#[test]
fn every_page_is_well_made() {
    for made in PAGES {
        let text = page(made.args, "");
        let found = faults(&text);
        assert!(found.is_empty(), "{}: {found:#?}", made.name);
        // One script and its data where prices can be moved, none elsewhere.
        let scripts = if made.args.contains(&"--live") { 2 } else { 0 };
        assert_eq!(text.matches("<script").count(), scripts, "{}", made.name);
        assert!(text.contains("your veterinarian and your nutritionist come before this page"), "{}", made.name);
    }
}

#[test]
fn faults_are_found() {
    let bad = "<html><body><main><h1>a</h1><h3>b</h3><table><tr><th>x</th></tr></table><a href='http://x'>y</a>\
               <p id=a onclick='z()'></p><p id=a></p></main></body></html>";
    let found = faults(bad).join("\n");
    for part in ["language", "skips", "caption", "scope", "link", "called a", "runs"] {
        assert!(found.contains(part), "{part} was not found: {found}");
    }
}
