//! The page of a check.

use super::blocks::section;
use super::chart::patterns;
use super::plan::watched;
use super::rations;
use super::shell::{document, spaced};
use super::{contents, foot, names_of, top};
use crate::report::model::Report;
use crate::report::text::{check_sections, place};
use maud::html;

/// The page of a check as one file.
#[must_use]
pub fn check(report: &Report) -> String {
    let page = check_sections(report);
    let names = names_of(report);
    let titled = page.sections.iter().filter(|one| !one.title.is_empty());
    let links: Vec<(&str, String)> = titled.map(|one| (one.id, one.title.clone())).collect();
    let body = html! {
        (patterns())
        header { (top(&page, &names)) }
        @if report.status == "unfit" { p.stop { "Do not feed this: a limit that may never be broken is broken." } }
        (contents(&links))
        @for one in &page.sections {
            @match one.id {
                "rations" => section id="rations" aria-labelledby="rations-heading" {
                    (super::blocks::heading(one, &names))
                    @for index in 0..report.groups.len() { (rations::group(report, index, &names)) }
                },
                "needs" => (section(one, &names, &rations::needs(report))),
                "condition" => (section(one, &names, &rations::condition(report, &names))),
                "watch" => (watched(report, one, &names)),
                _ => (section(one, &names, &html! {})),
            }
        }
        (foot("overwinter check"))
    };
    document(&format!("{}: rations judged", spaced(place(report))), "check", false, &body)
}
