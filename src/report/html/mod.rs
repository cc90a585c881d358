//! Pages for a browser and for Letter paper: one file each, with nothing to load and nothing to run.
//!
//! What they say is what the terminal says: both are drawn from the same pages as data. Pictures and their tables are
//! added from the same plain data.

mod blocks;
mod card;
mod chart;
mod check;
mod compare;
mod gin;
mod live;
mod plan;
mod rations;
mod shell;
mod simple;
mod stores;
mod worth;

pub use card::card;
pub use check::check;
pub use compare::compare;
pub use gin::gin;
pub use plan::plan;
pub use simple::simple;
pub use worth::worth;

use super::model::Report;
use crate::report::page::Page;
use maud::{Markup, html};
use shell::Names;

/// The names in a report.
fn names_of(report: &Report) -> Names {
    let groups = report.groups.iter().map(|group| group.name.as_str());
    let feeds = report.worth.iter().map(|worth| worth.feed.as_str());
    let fed = report.groups.iter().flat_map(|group| &group.periods).flat_map(|period| &period.ration);
    let barred = report.groups.iter().flat_map(|group| group.barred.iter().map(|(feed, _)| feed.as_str()));
    let place = [report.place.as_str()];
    Names::new(groups.chain(feeds).chain(fed.map(|line| line.feed.as_str())).chain(barred).chain(place))
}

/// The heading of a page.
fn top(page: &Page, names: &Names) -> Markup {
    let rest = page.rest.trim_start_matches([',', ':', ' ']);
    html! {
        h1 dir="auto" { (names.say(&page.title)) }
        @if !rest.is_empty() { p.lead { (names.say(rest)) } }
    }
}

/// Links to the sections of a page.
fn contents(ids: &[(&str, String)]) -> Markup {
    html! {
        nav aria-label="On this page" {
            ul { @for (id, title) in ids { li { a href=(format!("#{id}")) { (title) } } } }
        }
    }
}

/// The foot of every page.
fn foot(command: &str) -> Markup {
    html! {
        footer {
            p.law { (super::text::watch::LAW) }
            p { "Made by overwinter " (env!("CARGO_PKG_VERSION")) ", " code { (command) } ". Where a number comes from: " code { "overwinter explain" } "." }
        }
    }
}
