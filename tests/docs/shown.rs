//! Outputs and files shown in the documents.
//!
//! `<!-- run: overwinter ARGS -->` up to `<!-- end -->` holds what the command prints; with `| FROM .. TO` behind the
//! command only the lines from the one that begins with FROM to before the one that begins with TO (or to the end).
//! `<!-- file: PATH -->` up to `<!-- end -->` holds a file, `<!-- map: FOLDER -->` a table of the files of a folder with
//! the first words of each.
//!
//! A document that begins with `<!-- in a fresh folder -->` is followed word for word in an empty folder: what stands behind
//! `<!-- save: NAME -->` is saved there, the commands of `sh` blocks are run, and `<!-- here: overwinter ARGS -->` shows what
//! a command prints there.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::atomic::{AtomicUsize, Ordering};

const END: &str = "<!-- end -->";

/// The text with every such place filled, and how many there are.
pub(crate) fn fill(text: &str, path: &Path) -> (String, usize) {
    let mut out = String::new();
    let mut count = 0;
    let mut lines = text.lines();
    let fresh = text.starts_with("<!-- in a fresh folder -->").then(|| Fresh::new(path));
    while let Some(line) = lines.next() {
        out.push_str(line);
        out.push('\n');
        if let Some(fresh) = &fresh
            && (line == "```sh" || line.starts_with("<!-- save: "))
        {
            let body: Vec<&str> = lines.by_ref().take_while(|line| *line != "```").collect();
            let text = body.join("\n") + "\n";
            match line.strip_prefix("<!-- save: ") {
                Some(name) => fresh.save(name.trim_end_matches(" -->"), text.split_once('\n').unwrap().1),
                None => body.iter().for_each(|command| fresh.follow(command)),
            }
            out.push_str(&text);
            out.push_str("```\n");
            continue;
        }
        let order = |kind: &str| line.strip_prefix(kind).and_then(|rest| rest.strip_suffix(" -->"));
        let fenced = |language: &str, body: &str| format!("```{language}\n{}\n```\n", body.trim_end());
        let body = if let Some(command) = order("<!-- run: ") {
            fenced("text", &excerpt(command, super::root()))
        } else if let (Some(command), Some(fresh)) = (order("<!-- here: "), &fresh) {
            fenced("text", &excerpt(command, &fresh.folder))
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

fn excerpt(order: &str, folder: &Path) -> String {
    let (command, range) = order.split_once(" | ").map_or((order, None), |(command, range)| (command, Some(range)));
    let printed = run_in(command, folder);
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
    run_in(command, super::root())
}

/// The words of a command as a shell has them; quotes hold words together.
fn words(command: &str) -> Vec<String> {
    let parts = command.split('"').enumerate();
    parts
        .flat_map(|(index, part)| match index % 2 {
            0 => part.split_whitespace().map(str::to_owned).collect(),
            _ => vec![part.to_owned()],
        })
        .collect()
}

fn run_in(command: &str, folder: &Path) -> String {
    let out = output_in(command, folder);
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    text(out.stdout) + &text(out.stderr)
}

fn output_in(command: &str, folder: &Path) -> Output {
    let words = words(command);
    assert_eq!(words[0], "overwinter", "`{command}`");
    let mut program = Command::new(env!("CARGO_BIN_EXE_overwinter"));
    program.args(&words[1..]).current_dir(folder).env("NO_COLOR", "1").output().unwrap()
}

/// Follows the examples under a help in a fresh folder that holds our examples; gives how many there are.
pub(crate) fn follow_examples(help: &str) -> usize {
    let fresh = Fresh::new(Path::new("help"));
    copy(&super::root().join("examples"), &fresh.folder.join("examples"));
    let lines = help.lines().filter(|line| line.trim_start().starts_with("overwinter "));
    lines
        .map(|line| {
            // Where the answer is sent to a file, that is the shell's part.
            let command = line.trim().split(" > ").next().unwrap();
            let out = output_in(command, &fresh.folder);
            assert_eq!(out.status.code(), Some(0), "`{}`: {}", line.trim(), String::from_utf8_lossy(&out.stderr));
        })
        .count()
}

fn copy(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).unwrap();
    for entry in std::fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let target = to.join(entry.file_name());
        if entry.path().is_dir() {
            copy(&entry.path(), &target);
        } else {
            std::fs::copy(entry.path(), target).unwrap();
        }
    }
}

/// A folder in which a document is followed.
struct Fresh {
    folder: PathBuf,
}

impl Drop for Fresh {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.folder);
    }
}

impl Fresh {
    fn new(path: &Path) -> Self {
        static COUNT: AtomicUsize = AtomicUsize::new(0);
        let name = path.file_stem().unwrap().to_str().unwrap();
        let number = COUNT.fetch_add(1, Ordering::Relaxed);
        let folder = std::env::temp_dir().join(format!("overwinter-{name}-{}-{number}", std::process::id()));
        std::fs::create_dir_all(&folder).unwrap();
        Self { folder }
    }
    fn save(&self, name: &str, text: &str) {
        std::fs::write(self.folder.join(name), text).unwrap();
    }
    /// Runs a command as it stands; it must have an answer, and write the page it names.
    fn follow(&self, command: &str) {
        let words = words(command);
        let out = Command::new(env!("CARGO_BIN_EXE_overwinter")).args(&words[1..]).current_dir(&self.folder).output();
        let out = out.unwrap();
        assert_eq!(words[0], "overwinter", "`{command}`");
        assert!(out.status.success(), "`{command}`: {}", String::from_utf8_lossy(&out.stderr));
        if let Some(at) = words.iter().position(|word| word == "--html") {
            let page = std::fs::read_to_string(self.folder.join(&words[at + 1])).unwrap();
            assert!(page.starts_with("<!DOCTYPE html>"), "`{command}`");
        }
    }
}
