//! The documents: those made from the program are what the program says, outputs shown are what the commands print,
//! links lead somewhere, and every source named stands in the bibliography.
//!
//! `UPDATE=1 cargo test --test docs` writes the made parts anew.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "tests")]

mod links;
mod pages;
mod shown;

use overwinter::feed::{Bibliography, FeedTable};
use overwinter::limit::RULES;
use overwinter::limit::caution::CAUTIONS;
use overwinter::need::registry::EQUATIONS;
use overwinter::need::thumb;
use overwinter::report::explain;
use overwinter::scenario::Code;
use overwinter::source::{Cite, Origin};
use std::path::{Path, PathBuf};
use std::sync::Once;

/// The folder of the package.
fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every document, by its path from the root.
fn documents() -> Vec<PathBuf> {
    let mut list: Vec<PathBuf> = ["README.md", "DEVELOPERS.md", "feeds/README.md"].map(PathBuf::from).to_vec();
    for entry in std::fs::read_dir(root().join("docs")).unwrap() {
        let name = entry.unwrap().file_name();
        if Path::new(&name).extension().is_some_and(|ext| ext == "md") {
            list.push(Path::new("docs").join(name));
        }
    }
    list.sort();
    list
}

/// Every document that is made, in whole or in part, as it should be.
fn made() -> Vec<(PathBuf, String)> {
    let mut list: Vec<(PathBuf, String)> =
        pages::all().into_iter().map(|(name, text)| (Path::new("docs").join(name), text)).collect();
    for kind in ["herd", "gin"] {
        let made = shown::run(&format!("overwinter schema {kind}"));
        list.push((PathBuf::from(format!("docs/{kind}.schema.json")), made));
    }
    for path in documents() {
        let text = std::fs::read_to_string(root().join(&path)).unwrap();
        let (filled, count) = shown::fill(&text, &path);
        if count > 0 {
            list.push((path, filled));
        }
    }
    list
}

/// Every command stands in the table of the README.
#[test]
fn every_command_is_in_the_readme() {
    use clap::CommandFactory as _;
    let readme = std::fs::read_to_string(root().join("README.md")).unwrap();
    let table = readme.split_once("## Commands").unwrap().1.split("\n## ").next().unwrap();
    for command in overwinter::cli::Cli::command().get_subcommands() {
        let name = command.get_name();
        assert!(table.contains(&format!("`overwinter {name}")) || table.contains(&format!("`{name} ")), "{name}");
    }
}

/// What stands under "Examples" of a help can be typed as it stands.
#[test]
fn examples_under_help_work() {
    use clap::CommandFactory as _;
    let mut count = 0;
    for command in overwinter::cli::Cli::command().get_subcommands() {
        let help = command.get_after_help().map(ToString::to_string).unwrap_or_default();
        count += shown::follow_examples(&help);
    }
    assert!(count > 20, "{count}");
}

/// Writes them if asked to, once and before any test looks.
fn write_if_asked() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        if std::env::var_os("UPDATE").is_some() {
            for (path, text) in made() {
                std::fs::write(root().join(path), text).unwrap();
            }
        }
    });
}

#[test]
fn made_pages_and_shown_outputs_are_fresh() {
    write_if_asked();
    let made = made();
    assert!(made.iter().any(|(path, _)| path.ends_with("README.md")), "the README shows no output");
    for (path, text) in made {
        let stands = std::fs::read_to_string(root().join(&path)).unwrap_or_default();
        let line = stands.lines().zip(text.lines()).position(|(a, b)| a != b);
        let differs = line.map_or_else(|| "in length".to_owned(), |line| format!("from line {} on", line + 1));
        assert!(
            stands == text,
            "{} differs {differs} from what the program says; `UPDATE=1 cargo test --test docs` writes it anew",
            path.display()
        );
    }
}

#[test]
fn every_link_leads_somewhere() {
    write_if_asked();
    let broken: Vec<String> = documents().iter().flat_map(|path| links::broken(root(), path)).collect();
    assert!(broken.is_empty(), "{broken:#?}");
}

fn cites() -> Vec<(String, Cite)> {
    let rules = RULES.iter().map(|rule| (rule.id.to_owned(), rule.cite));
    let cautions = CAUTIONS.iter().map(|one| (one.id.to_owned(), one.cite));
    let equations = EQUATIONS.iter().map(|one| (one.id.to_owned(), one.cite));
    let thumbs = thumb::RULES.iter().map(|one| (format!("thumb rule {}", one.cite.place), one.cite));
    rules.chain(cautions).chain(equations).chain(thumbs).collect()
}

#[test]
fn every_source_named_is_in_the_bibliography() {
    let bibliography = Bibliography::shipped().unwrap();
    for (what, cite) in cites() {
        assert!(cite.source.is_empty() || bibliography.contains(cite.source), "{what} cites {}", cite.source);
        let needs_one = matches!(cite.origin, Origin::Published | Origin::Abstract | Origin::MemoryChecked);
        assert!(!(needs_one && cite.source.is_empty()), "{what} is {} but names no source", cite.origin.words());
        assert!(!(cite.source.is_empty() && cite.place.is_empty()), "{what} has neither source nor reason");
    }
}

#[test]
fn every_rule_says_why_and_what_to_do() {
    for rule in RULES {
        for (name, text) in [("title", rule.title), ("unit", rule.unit), ("why", rule.why), ("remedy", rule.remedy)] {
            assert!(!text.trim().is_empty(), "{} has no {name}", rule.id);
            assert!(!text.ends_with('.'), "the {name} of {} ends in a full stop", rule.id);
        }
    }
    for one in CAUTIONS {
        assert!(!one.title.is_empty() && one.meaning.ends_with('.'), "{}", one.id);
    }
}

/// Some names mean a rule and an equation both; neither may hide the other.
#[test]
fn explain_has_every_topic() {
    let feeds = FeedTable::shipped().unwrap();
    let rules = RULES.iter().map(|one| (one.id, one.title));
    let cautions = CAUTIONS.iter().map(|one| (one.id, one.title));
    let equations = EQUATIONS.iter().map(|one| (one.id, one.title));
    let codes = Code::ALL.iter().map(|one| (one.text(), one.title()));
    for (name, title) in rules.chain(cautions).chain(equations).chain(codes) {
        assert!(explain::topic(name, &feeds).unwrap().contains(title), "`explain {name}` does not tell of: {title}");
    }
}

#[test]
fn equations_name_test_files_that_exist() {
    for one in EQUATIONS {
        if one.tested != overwinter::need::registry::NOT_PRINTED {
            assert!(root().join("tests/published").join(one.tested).is_file(), "{} names {}", one.id, one.tested);
        }
    }
}
