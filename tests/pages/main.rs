//! The pages: their structure by parsing, and in a real browser what a parser cannot see.
//!
//! Without Chromium the tests in a browser say that they were skipped; with `OVERWINTER_BROWSER=required` they fail.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "tests")]

mod browser;
mod charts;
mod hostile;
mod pictures;
mod screen;
mod structure;

use std::io::Write as _;
use std::process::{Command, Output, Stdio};

/// The example most pages are made from.
const DRY_FORK: &str = "examples/dry-fork/herd.yaml";

/// Three ranches to compare.
const RANCHES: [&str; 3] =
    ["examples/ranches/bitter-creek.yaml", "examples/ranches/lone-mott.yaml", "examples/ranches/salt-fork.yaml"];

/// One kind of page: its name, what makes it, and on how many sheets of Letter paper it is meant to come.
struct Made {
    name: &'static str,
    args: &'static [&'static str],
    sheets: std::ops::RangeInclusive<usize>,
}

/// Every kind of page there is.
const PAGES: &[Made] = &[
    Made { name: "plan", args: &["plan", DRY_FORK], sheets: 6..=10 },
    Made { name: "plan-first", args: &["plan", "examples/first-file/herd.yaml"], sheets: 4..=7 },
    Made { name: "plan-two-gins", args: &["plan", "examples/two-gins/herd.yaml"], sheets: 9..=16 },
    // A sheet for each run of days.
    Made { name: "card", args: &["plan", DRY_FORK, "--sheet", "--practical"], sheets: 5..=5 },
    Made { name: "check", args: &["check", "examples/dry-fork/as-fed-now.yaml"], sheets: 4..=8 },
    Made { name: "check-unfit", args: &["check", "examples/dry-fork/too-much-seed.yaml"], sheets: 3..=7 },
    Made { name: "short", args: &["plan", "tests/cmd/cannot.yaml"], sheets: 1..=3 },
    Made { name: "needs", args: &["needs", DRY_FORK, "--parts"], sheets: 2..=3 },
    Made { name: "table", args: &["needs", "--table", "cow"], sheets: 1..=1 },
    Made { name: "table-stocker", args: &["needs", "--table", "stocker"], sheets: 1..=3 },
    Made { name: "worth", args: &["worth", DRY_FORK, "whole_cottonseed"], sheets: 1..=2 },
    Made { name: "worth-all", args: &["worth", DRY_FORK], sheets: 3..=8 },
    Made { name: "live", args: &["plan", DRY_FORK, "--live"], sheets: 12..=18 },
    Made { name: "compare", args: &["compare", RANCHES[0], RANCHES[1], RANCHES[2]], sheets: 3..=7 },
    Made {
        name: "compare-prices",
        args: &["compare", RANCHES[0], "--prices", "examples/ranches/prices.csv"],
        sheets: 3..=7,
    },
    Made { name: "gin", args: &["gin", "examples/plains-gin/gin.yaml"], sheets: 6..=9 },
    Made { name: "gin-ticket", args: &["gin", "examples/plains-gin/gin.yaml", "--ticket"], sheets: 1..=3 },
    Made { name: "gin-buyer-sheet", args: &["gin", "examples/plains-gin/gin.yaml", "--buyer-sheet"], sheets: 2..=5 },
    Made { name: "gin-southeast", args: &["gin", "examples/southeast-gin/gin.yaml"], sheets: 5..=11 },
    Made { name: "feeds", args: &["feeds"], sheets: 4..=9 },
    Made { name: "feed", args: &["feeds", "whole_cottonseed"], sheets: 2..=5 },
];

/// Runs the program; what is given goes to standard input.
fn overwinter(args: &[&str], input: &str) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_overwinter"))
        .args(args)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program runs");
    child.stdin.take().unwrap().write_all(input.as_bytes()).unwrap();
    child.wait_with_output().expect("the program ends")
}

/// The page that a command makes.
fn page(args: &[&str], input: &str) -> String {
    let all: Vec<&str> = args.iter().copied().chain(["--html", "-"]).collect();
    let out = overwinter(&all, input);
    let text = String::from_utf8(out.stdout).expect("text");
    assert!(text.starts_with("<!DOCTYPE html>"), "{args:?}: {}", String::from_utf8_lossy(&out.stderr));
    text
}
