//! The house rules that a compiler does not hold: layers, fences round crates, length of files, words.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "tests")]

use std::path::{Path, PathBuf};

/// Modules in the order the job is thought; each may use only what stands before it.
const ORDER: [&str; 16] = [
    "quantity",
    "source",
    "diagnostic",
    "lp",
    "feed",
    "herd",
    "need",
    "limit",
    "winter",
    "check",
    "value",
    "gin",
    "scenario",
    "report",
    "cli",
    "main",
];

/// Crates that only some files may name, and why.
const FENCES: [(&str, &[&str], &str); 9] = [
    ("good_lp", &["src/lp/"], "one place knows the solver"),
    (
        "serde_yaml",
        &["src/feed/raw.rs", "src/feed/ginning.rs", "src/herd/weather.rs"],
        "it is archived and keeps the last of two equal keys",
    ),
    ("saphyr_parser", &["src/scenario/"], "places in a herd file are found once"),
    ("annotate_snippets", &["src/cli/"], "diagnostics know nothing of a terminal"),
    ("clap", &["src/cli/", "src/main.rs"], "the library has no command line"),
    ("clap_complete", &["src/cli/"], "the library has no command line"),
    ("maud", &["src/report/html/"], "pages for a browser are drawn in one place"),
    ("comfy_table", &["src/report/"], "pages are drawn in one place"),
    ("serde_json", &["src/report/", "src/cli/"], "JSON is a way to print"),
];

/// Longest file of `src`, lines.
const LONGEST: usize = 500;

/// What may stand beside each other at the top. Names that begin with a dot may, too.
const TOP: [&str; 9] =
    ["Cargo.toml", "Cargo.lock", "README.md", "DEVELOPERS.md", "LICENSE", "src", "tests", "feeds", "examples"];
const ALSO_TOP: [&str; 2] = ["docs", "target"];

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every file below a folder, as paths from the root, in order.
fn files(folder: &str) -> Vec<PathBuf> {
    let mut list = Vec::new();
    let mut open = vec![root().join(folder)];
    while let Some(path) = open.pop() {
        if path.is_dir() {
            open.extend(std::fs::read_dir(&path).unwrap().map(|entry| entry.unwrap().path()));
        } else {
            list.push(path.strip_prefix(root()).unwrap().to_path_buf());
        }
    }
    list.sort();
    list
}

fn rust_files(folder: &str) -> Vec<(String, String)> {
    files(folder)
        .into_iter()
        .filter(|path| path.extension().is_some_and(|ext| ext == "rs"))
        .map(|path| (path.to_str().unwrap().to_owned(), std::fs::read_to_string(root().join(&path)).unwrap()))
        .collect()
}

/// Code without comments that fill a line or end one.
fn code(text: &str) -> String {
    text.lines().map(|line| line.split_once("//").map_or(line, |(code, _)| code)).collect::<Vec<_>>().join("\n")
}

/// Top modules that a piece of code names by `crate::`, or by climbing there.
fn uses(code: &str) -> Vec<String> {
    let mut list = Vec::new();
    for start in ["crate::", "super::super::"] {
        for (at, _) in code.match_indices(start) {
            // `$crate::` of macros and `pub(crate)` are not meant.
            if code[..at].ends_with('$') {
                continue;
            }
            let rest = &code[at + start.len()..];
            let names: Vec<&str> = match rest.strip_prefix('{') {
                Some(group) => group.split('}').next().unwrap().split(',').map(str::trim).collect(),
                None => vec![rest],
            };
            for name in names {
                let name: String = name.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
                list.push(name);
            }
        }
    }
    list
}

#[test]
fn a_module_uses_only_what_stands_above_it() {
    let place = |name: &str| ORDER.iter().position(|one| *one == name);
    let mut wrong = Vec::new();
    for (path, text) in rust_files("src") {
        let module = path.strip_prefix("src/").unwrap().split(['/', '.']).next().unwrap().to_owned();
        if module == "lib" {
            continue;
        }
        let own = place(&module).unwrap_or_else(|| panic!("{path}: `{module}` is not in the order of modules"));
        for used in uses(&code(&text)) {
            match place(&used) {
                Some(other) if other > own => wrong.push(format!("{path} uses {used}, which stands below it")),
                // What is not a module stands in lib.rs: the pipeline, which only the command line runs.
                None if module != "cli" && used.starts_with(char::is_alphabetic) && !path.contains("scenario/code") => {
                    wrong.push(format!("{path} uses crate::{used}"));
                }
                _ => {}
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn the_check_never_sees_the_programme() {
    for (path, text) in rust_files("src").iter().filter(|(path, _)| path.starts_with("src/check")) {
        assert!(!uses(&code(text)).iter().any(|used| used == "lp" || used == "winter"), "{path}");
    }
}

#[test]
fn crates_stay_behind_their_fences() {
    for (path, text) in rust_files("src") {
        let code = code(&text);
        for (name, places, why) in FENCES {
            let named = code.contains(&format!("{name}::")) || code.contains(&format!("use {name}"));
            assert!(!named || places.iter().any(|place| path.starts_with(place)), "{path} names {name}: {why}");
        }
    }
}

#[test]
fn nothing_prints_but_through_the_writers() {
    for (path, text) in rust_files("src") {
        let code = code(&text);
        for name in ["print!(", "println!(", "eprint!(", "eprintln!(", "dbg!(", "todo!(", "unimplemented!("] {
            let found = code.match_indices(name).any(|(at, _)| !code[..at].ends_with(char::is_alphanumeric));
            assert!(!found, "{path} has {name}…)");
        }
        let disk = code.contains("std::fs") && !["src/scenario/load.rs", "src/cli/output.rs"].contains(&path.as_str());
        assert!(!disk, "{path} touches the disk; only src/scenario/load.rs reads and only src/cli/output.rs writes");
    }
}

#[test]
fn files_are_short_and_say_what_they_hold() {
    for (path, text) in rust_files("src").into_iter().chain(rust_files("tests")) {
        assert!(text.starts_with("//!"), "{path} does not begin with a line that says what it holds");
    }
    for (path, text) in rust_files("src") {
        assert!(text.lines().count() <= LONGEST, "{path} has {} lines", text.lines().count());
    }
}

#[test]
fn the_top_is_tidy() {
    for entry in std::fs::read_dir(root()).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        let allowed = name.starts_with('.') || TOP.contains(&name.as_str()) || ALSO_TOP.contains(&name.as_str());
        assert!(allowed, "{name} may not stand at the top");
    }
}

/// The project speaks of itself alone: nothing unfinished, nothing of the machine it was made on.
#[test]
fn words_that_stand_nowhere() {
    // Put together here so that this file does not hold them.
    let words = [
        concat!("TO", "DO"),
        concat!("FIX", "ME"),
        concat!("XX", "X:"),
        concat!("/wo", "rk/"),
        concat!("/ro", "ot/"),
        concat!("/ho", "me/"),
        concat!("issue", " #"),
        concat!("issues", "/"),
        concat!("ses", "sion"),
        concat!("tran", "script"),
        concat!("trials", ".md"),
        concat!("design", ".md"),
        concat!("second", "-look"),
        concat!("third", "-look"),
        concat!("local", "host"),
    ];
    let mut found = Vec::new();
    let folders = ["src", "tests", "feeds", "examples", "docs", ".ci"];
    let top = ["README.md", "DEVELOPERS.md", "Cargo.toml", ".clippy.toml", ".gitignore", ".rustfmt.toml"];
    for path in folders.iter().flat_map(|folder| files(folder)).chain(top.map(PathBuf::from)) {
        let bytes = std::fs::read(root().join(&path)).unwrap();
        let text = String::from_utf8_lossy(&bytes);
        for (number, line) in text.lines().enumerate() {
            for word in words.iter().filter(|word| line.contains(**word)) {
                found.push(format!("{}:{}: {word}", path.display(), number + 1));
            }
        }
    }
    assert!(found.is_empty(), "{found:#?}");
}

#[test]
fn every_dependency_is_explained() {
    let manifest = std::fs::read_to_string(root().join("Cargo.toml")).unwrap();
    let guide = std::fs::read_to_string(root().join("DEVELOPERS.md")).unwrap();
    let mut inside = false;
    let mut count = 0;
    for line in manifest.lines() {
        if line.starts_with('[') {
            inside = line.ends_with("dependencies]");
        } else if let (true, Some((name, _))) = (inside, line.split_once('=')) {
            count += 1;
            assert!(guide.contains(&format!("| `{}` ", name.trim())), "DEVELOPERS.md does not say why {name} is there");
        }
    }
    assert!(count > 10);
}

#[test]
fn the_least_rust_is_the_same_everywhere() {
    let manifest = std::fs::read_to_string(root().join("Cargo.toml")).unwrap();
    let line = manifest.lines().find(|line| line.starts_with("rust-version")).unwrap();
    let version = line.split('"').nth(1).unwrap();
    for name in ["README.md", "DEVELOPERS.md"] {
        let text = std::fs::read_to_string(root().join(name)).unwrap();
        assert!(text.contains(&format!("Rust {version}")), "{name} does not name Rust {version}");
    }
}

#[test]
fn what_is_used_is_found() {
    let text = "use crate::lp::{self, Lp};\nuse crate::{Stop, plan};\nlet x = super::super::cli::run; // crate::gin\n";
    assert_eq!(uses(&code(text)), ["lp", "Stop", "plan", "cli"]);
}
