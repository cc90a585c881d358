//! Outputs and files shown in the documents.
//!
//! `<!-- run: overwinter ARGS -->` up to `<!-- end -->` holds what the command prints; with `| FROM .. TO` behind the
//! command only the lines from the one that begins with FROM to before the one that begins with TO (or to the end).
//! `<!-- file: PATH -->` up to `<!-- end -->` holds a file, `<!-- map: FOLDER -->` a table of the files of a folder with
//! the first words of each.

use std::path::Path;
use std::process::Command;

const END: &str = "<!-- end -->";

/// The text with every such place filled, and how many there are.
pub(crate) fn fill(text: &str, path: &Path) -> (String, usize) {
    let mut out = String::new();
    let mut count = 0;
    let mut lines = text.lines();
    while let Some(line) = lines.next() {
        out.push_str(line);
        out.push('\n');
        let order = |kind: &str| line.strip_prefix(kind).and_then(|rest| rest.strip_suffix(" -->"));
        let fenced = |language: &str, body: &str| format!("```{language}\n{}\n```\n", body.trim_end());
        let body = if let Some(command) = order("<!-- run: ") {
            fenced("text", &excerpt(command))
        } else if let Some(file) = order("<!-- file: ") {
            let language = file.rsplit_once('.').map_or("text", |(_, end)| end);
            fenced(language, &std::fs::read_to_string(super::root().join(file)).unwrap())
        } else if let Some(folder) = order("<!-- map: ") {
            map(folder)
        } else {
            continue;
        };
        count += 1;
        out.push_str(&body);
        out.push_str(END);
        out.push('\n');
        assert!(lines.any(|line| line == END), "{}: `{line}` has no `{END}`", path.display());
    }
    (out, count)
}

fn excerpt(order: &str) -> String {
    let (command, range) = order.split_once(" | ").map_or((order, None), |(command, range)| (command, Some(range)));
    let printed = run(command);
    let Some(range) = range else { return printed };
    let (from, to) = range.split_once("..").unwrap();
    let (from, to) = (from.trim(), to.trim());
    let lines: Vec<&str> = printed.lines().collect();
    let start = lines.iter().position(|line| line.starts_with(from));
    let start = start.unwrap_or_else(|| panic!("`{command}` prints no line that begins with `{from}`"));
    let length = lines[start..].iter().position(|line| !to.is_empty() && line.starts_with(to));
    assert!(to.is_empty() || length.is_some(), "`{command}` prints no line that begins with `{to}`");
    lines[start..length.map_or(lines.len(), |length| start + length)].join("\n")
}

/// A table of the Rust files right in a folder and of the folders below it, with what each says it holds.
fn map(folder: &str) -> String {
    let mut list: Vec<(String, String)> = Vec::new();
    let mut open = vec![super::root().join(folder)];
    while let Some(path) = open.pop() {
        if path.is_dir() {
            open.extend(std::fs::read_dir(&path).unwrap().map(|entry| entry.unwrap().path()));
        } else if path.extension().is_some_and(|ext| ext == "rs") {
            let text = std::fs::read_to_string(&path).unwrap();
            let words: Vec<&str> = text.lines().map_while(|line| line.strip_prefix("//! ")).map(str::trim).collect();
            let name = path.strip_prefix(super::root()).unwrap().to_str().unwrap().to_owned();
            // Links of the code documentation mean nothing here.
            let words = words.join(" ").replace("](crate::winter::Case)", "]").replace(['[', ']'], "");
            list.push((name, words));
        }
    }
    list.sort();
    let rows: Vec<String> = list.iter().map(|(name, words)| format!("| [{name}]({name}) | {words} |\n")).collect();
    format!("\n| file | holds |\n|---|---|\n{}\n", rows.concat())
}

/// What a command prints: the answer, then the rest.
pub(crate) fn run(command: &str) -> String {
    let mut words = command.split_whitespace();
    assert_eq!(words.next(), Some("overwinter"), "`{command}`");
    let out = Command::new(env!("CARGO_BIN_EXE_overwinter"))
        .args(words)
        .current_dir(super::root())
        .env("NO_COLOR", "1")
        .output()
        .unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    text(out.stdout) + &text(out.stderr)
}
