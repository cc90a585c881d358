//! Every fault of a herd file: one small file each, the rendered message as a snapshot, and the page in the docs.
#![expect(clippy::unwrap_used, reason = "helpers of tests")]

use overwinter::cli::diagnostics::{line_and_column, render, render_json};
use overwinter::diagnostic::Diagnostic;
use overwinter::scenario::{self, Code};
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

mod library;
use library::library;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/errors")
}

/// Name and bytes of each case, in order.
fn cases() -> Vec<(String, Vec<u8>)> {
    let mut cases: Vec<(String, Vec<u8>)> = std::fs::read_dir(folder())
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ext| ext == "yaml" || ext == "csv"))
        .map(|path| (path.file_stem().unwrap().to_str().unwrap().to_owned(), std::fs::read(&path).unwrap()))
        .collect();
    cases.sort();
    cases
}

/// Whether a case is a price sheet, for the herd of `tests/errors.rs`.
fn is_sheet(name: &str) -> bool {
    let codes = [Code::SheetForm, Code::SheetColumn, Code::SheetRow, Code::SheetPrice];
    code_of(name).is_some_and(|code| codes.contains(&code))
}

/// The name of the file of a case.
fn file_name(name: &str) -> String {
    format!("{name}.{}", if is_sheet(name) { "csv" } else { "yaml" })
}

/// What is said of a price sheet laid beside a small herd.
fn of_sheet(text: &str) -> Vec<Diagnostic> {
    let herd = "winter: {from: 2026-11-15, to: 2027-04-01}\nplace: {weather: rolling_plains}\n\
                groups: {cows: {kind: cow, head: 85, weight_lb: 1200, calving: 2027-03-01}}\n\
                feeds:\n  prairie_hay: {price_usd_per_bale: 55, bale: {weight_lb: 1100}}\n  corn: {price_usd_per_ton: 160}\n  \
                whole_cottonseed: {on_hand_tons: 4}\n  native_range_dormant: {price_usd_per_head_month: 9}\n";
    let case = scenario::read(herd, library()).unwrap().value;
    scenario::read_prices(text, &case).err().unwrap_or_default()
}

/// What is said of a case and its text.
fn judged(name: &str, bytes: &[u8]) -> (Vec<Diagnostic>, String) {
    match scenario::text_of(bytes.to_vec(), &file_name(name)) {
        Err(one) => (vec![one], String::new()),
        Ok(text) if is_gin(name) => {
            let herds = |file: &str| scenario::load(&folder().join(file));
            let read = scenario::gin::read(&text, name, library(), &herds);
            // What is told of herd files is held by their own cases.
            let own = read.told.into_iter().filter(|one| one.file == name);
            (own.flat_map(|one| one.list).collect(), text)
        }
        Ok(text) if is_sheet(name) => (of_sheet(&text), text),
        Ok(text) => {
            // What-ifs that a case is tried with stand in its first lines.
            let sets: Vec<String> =
                text.lines().map_while(|line| line.strip_prefix("# --set ")).map(str::to_owned).collect();
            let text = scenario::set::joined(&text, &sets);
            match scenario::read(&text, library()) {
                Err(list) => (list, text),
                // What `check` alone finds.
                Ok(_) if code_of(name) == Some(Code::NoRations) => (vec![scenario::no_rations(&text)], text),
                Ok(warned) => {
                    let mut list = warned.warnings;
                    list.extend(overwinter::winter::assemble(&warned.value).err().unwrap_or_default());
                    (list, text)
                }
            }
        }
    }
}

/// Gin files are named after a code of theirs or begin with `gin`.
fn is_gin(name: &str) -> bool {
    name.starts_with('G') || name.starts_with("gin")
}

fn rendered(name: &str, bytes: &[u8]) -> String {
    let (list, text) = judged(name, bytes);
    render(&list, &file_name(name), &text, false)
}

/// The code a case is named after, if it is named after one.
fn code_of(name: &str) -> Option<Code> {
    Code::from_text(name.split('-').next().unwrap())
}

#[test]
fn messages() {
    for (name, bytes) in cases() {
        insta::with_settings!({
            snapshot_path => folder(),
            prepend_module_to_snapshot => false,
            omit_expression => true,
        }, {
            insta::assert_snapshot!(name.as_str(), rendered(&name, &bytes));
        });
    }
}

#[test]
fn each_case_says_what_it_is_named_after() {
    for (name, bytes) in cases() {
        let (list, _) = judged(&name, &bytes);
        assert!(!list.is_empty(), "{name} is not refused");
        if let Some(code) = code_of(&name) {
            assert!(list.iter().all(|one| one.code == code.text()), "{name} says {list:#?}");
        }
    }
}

#[test]
fn each_code_has_a_case() {
    // These two are about the disk and are made in `the_disk`.
    let on_disk = [Code::Unread, Code::TooLarge];
    let names = cases();
    for code in Code::ALL.iter().filter(|code| !on_disk.contains(code)) {
        assert!(names.iter().any(|(name, _)| code_of(name) == Some(*code)), "{} has no case", code.text());
    }
}

#[test]
fn each_message_has_a_place_and_a_remedy_and_no_full_stop() {
    for (name, bytes) in cases() {
        let (list, text) = judged(&name, &bytes);
        for one in list {
            assert!(one.help.is_some(), "{name}: {} has no remedy", one.message);
            assert!(!one.message.ends_with('.') && !one.message.is_empty(), "{name}: {}", one.message);
            assert!(
                // A value that is missing in the table has no place in the file.
                one.label.is_some() || text.is_empty() || ["H004", "H087"].contains(&one.code),
                "{name}: {} has no place",
                one.message
            );
            for (span, _) in one.label.iter().chain(&one.also) {
                assert!(text.get(span.clone()).is_some(), "{name}: {} points nowhere: {span:?}", one.message);
            }
        }
    }
}

#[test]
fn errors_come_in_the_order_of_the_file() {
    for (name, bytes) in cases() {
        let starts: Vec<usize> =
            judged(&name, &bytes).0.iter().filter_map(|one| one.label.as_ref()).map(|(span, _)| span.start).collect();
        assert!(starts.is_sorted(), "{name}: {starts:?}");
    }
}

#[test]
fn many_faults_are_told_at_once() {
    let bytes = std::fs::read(folder().join("many-at-once.yaml")).unwrap();
    let codes: Vec<&str> = judged("many-at-once", &bytes).0.iter().map(|one| one.code).collect();
    let expected = ["H050", "H020", "H026", "H021", "H064", "H061", "H071", "H026", "H076", "H084", "H080", "H081"];
    assert_eq!(codes, expected);
}

#[test]
fn many_faults_of_a_gin_are_told_at_once() {
    let bytes = std::fs::read(folder().join("gin-many-at-once.yaml")).unwrap();
    let codes: Vec<&str> = judged("gin-many-at-once", &bytes).0.iter().map(|one| one.code).collect();
    let expected = ["G009", "H091", "H026", "G002", "H021", "H024", "H020", "G005", "G006", "H026", "G007"];
    assert_eq!(codes, expected);
}

#[test]
fn at_most_thirty_are_drawn() {
    let bytes = std::fs::read(folder().join("more-than-thirty.yaml")).unwrap();
    let text = rendered("more-than-thirty", &bytes);
    assert_eq!(text.matches("error[").count(), 30);
    assert!(text.ends_with("\nand 9 more\n"));
}

#[test]
fn the_disk() {
    let scratch = std::env::temp_dir().join(format!("overwinter-errors-{}", std::process::id()));
    std::fs::create_dir_all(&scratch).unwrap();
    let missing = scenario::load(&scratch.join("none.yaml")).unwrap_err();
    assert_eq!((missing.code, missing.message.contains("no such file")), ("H001", true));
    let is_folder = scenario::load(&scratch).unwrap_err();
    assert_eq!((is_folder.code, is_folder.message.contains("it is a folder")), ("H001", true));

    // A sparse file of 100 MB: refused by its length, without being read.
    let large = scratch.join("large.yaml");
    std::fs::File::create(&large).unwrap().set_len(100_000_000).unwrap();
    assert_eq!(scenario::load(&large).unwrap_err().code, "H002");
    assert_eq!(scenario::text_of(vec![b'a'; 2_000_000], "standard input").unwrap_err().code, "H002");

    let empty = scratch.join("empty.yaml");
    std::fs::write(&empty, " \n").unwrap();
    assert_eq!(scenario::load(&empty).unwrap_err().code, "H004");

    let marked = scratch.join("marked.yaml");
    std::fs::write(&marked, "\u{feff}place: {}\n").unwrap();
    assert_eq!(scenario::load(&marked).unwrap(), "place: {}\n");
    std::fs::remove_dir_all(&scratch).unwrap();
}

/// The same fault is at the same line and column whatever ends the lines, and after a byte order mark.
#[test]
fn places_hold_with_other_line_ends_and_a_byte_order_mark() {
    for (name, bytes) in cases() {
        let Ok(text) = String::from_utf8(bytes) else { continue };
        let places = |text: &str| -> Vec<(&'static str, (usize, usize))> {
            let of_herd = || scenario::read(text, library()).map_or_else(|list| list, |warned| warned.warnings);
            let list = if is_sheet(&name) { of_sheet(text) } else { of_herd() };
            list.iter()
                .filter_map(|one| one.label.as_ref().map(|(span, _)| (one.code, line_and_column(text, span.start))))
                .collect()
        };
        let plain = places(&text);
        assert_eq!(plain, places(&text.replace('\n', "\r\n")), "{name} with CRLF");
        let marked: Vec<_> = places(&format!("\u{feff}{text}"))
            .into_iter()
            .map(|(code, (line, column))| (code, (line, if line == 1 { column - 1 } else { column })))
            .collect();
        assert_eq!(plain, marked, "{name} with a byte order mark");
    }
}

#[test]
fn json_has_line_and_column() {
    let text = "place: {name: Cañón, weather: plains}\n";
    let list = scenario::read(text, library()).unwrap_err();
    let json: serde_json::Value = serde_json::from_str(&render_json(&list, "herd.yaml", text).unwrap()).unwrap();
    let region = json.as_array().unwrap().iter().find(|one| one["code"] == "H050").unwrap();
    assert_eq!(region["severity"], "error");
    assert_eq!(region["file"], "herd.yaml");
    assert_eq!((region["line"].as_u64(), region["column"].as_u64()), (Some(1), Some(31)));
    assert_eq!(region["end_column"], 37);
    assert!(region["help"].as_str().unwrap().contains("rolling_plains"));
}

#[test]
fn color_changes_nothing_but_color() {
    for (name, bytes) in cases() {
        let (list, text) = judged(&name, &bytes);
        let colored = render(&list, "herd.yaml", &text, true);
        let mut plain = String::new();
        let mut rest = colored.as_str();
        while let Some(start) = rest.find('\u{1b}') {
            plain.push_str(&rest[..start]);
            let end = rest[start..].find('m').unwrap();
            rest = &rest[start + end + 1..];
        }
        plain.push_str(rest);
        let trimmed = |text: &str| text.lines().map(str::trim_end).collect::<Vec<_>>().join("\n");
        assert_eq!(trimmed(&plain), trimmed(&render(&list, "herd.yaml", &text, false)), "{name}");
    }
}

/// `docs/errors.md` is made from the codes and the cases: `UPDATE=1 cargo test --test errors` writes it anew.
#[test]
fn the_docs_have_every_code() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/errors.md");
    let made = page();
    if std::env::var_os("UPDATE").is_some() {
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(&path, &made).unwrap();
    }
    assert_eq!(std::fs::read_to_string(&path).unwrap(), made, "run `UPDATE=1 cargo test --test errors`");
}

fn page() -> String {
    let mut page = String::from(
        "# What can be wrong with a herd file or a gin file\n\n\
         Every fault is told at once, each with its code, its place, the line itself, and what to write. An error\n\
         stops the work; a warning does not. This page is made from the program: each example is a file in\n\
         `tests/errors/`, and the text under it is what the program says of it.\n\n\
         | code | what it says |\n|---|---|\n",
    );
    for code in Code::ALL {
        writeln!(page, "| [{0}](#{1}) | {2} |", code.text(), code.text().to_lowercase(), code.title()).unwrap();
    }
    for code in Code::ALL {
        write!(page, "\n## {}\n\n**{}.** {}\n", code.text(), code.title(), code.explanation()).unwrap();
        if let Some((name, bytes)) = cases().into_iter().find(|(name, _)| code_of(name) == Some(*code)) {
            let text = rendered(&name, &bytes);
            let first = text.split("\n\n").next().unwrap().trim_end();
            write!(page, "\n```text\n{first}\n```\n").unwrap();
        }
    }
    page
}
