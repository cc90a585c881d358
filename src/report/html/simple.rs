//! A page without pictures: needs, tables of needs, the feed table, why there is no plan.

use super::blocks::section;
use super::shell::{Names, document, spaced};
use super::{foot, top};
use crate::report::page::Page;
use maud::html;

/// A page as one file. `names` are the names of the herd file in it, `command` is what made it.
#[must_use]
pub fn simple<'n>(page: &Page, names: impl IntoIterator<Item = &'n str>, command: &str) -> String {
    let names = Names::new(names);
    let body = html! {
        header { (top(page, &names)) }
        @for one in &page.sections { (section(one, &names, &html! {})) }
        (foot(command))
    };
    let kind = command.split_whitespace().nth(1).unwrap_or("page");
    document(&format!("{}{}", spaced(&page.title), page.rest), kind, false, &body)
}
