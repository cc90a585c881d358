//! An easy beginning: starters that plan and check, the schema held to files and faults, completions.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "tests")]

use jsonschema::Validator;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn overwinter(folder: &Path, args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_overwinter")).args(args).current_dir(folder).output().expect("the program runs")
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("text")
}

/// A folder of its own, made empty.
fn folder(name: &str) -> PathBuf {
    let path = std::env::temp_dir().join(format!("overwinter-{name}-{}", std::process::id()));
    let _ = std::fs::remove_dir_all(&path);
    std::fs::create_dir_all(&path).unwrap();
    path
}

const REGIONS: [&str; 4] = ["high_plains", "rolling_plains", "mid_south", "southeast"];

#[test]
fn every_starter_is_read_planned_and_checked_without_a_word() {
    let here = folder("starters");
    for region in REGIONS {
        let file = format!("{region}.yaml");
        let made = overwinter(&here, &["new", "herd", &file, "--region", region, "--year", "2026"]);
        assert_eq!(text(&made.stderr), format!("starter written: {file}\n"));
        for command in ["plan", "check", "needs"] {
            let out = overwinter(&here, &[command, &file]);
            assert_eq!(text(&out.stderr), "", "{region} {command}");
            assert_eq!(out.status.code(), Some(0), "{region} {command}: {}", text(&out.stdout));
        }
        let content = std::fs::read_to_string(here.join(&file)).unwrap();
        assert!(content.contains(&format!("overwinter plan {file} --html plan.html")), "{content}");
        assert!(!content.contains("{region}") && !content.contains("{first}"));
        assert!(faults(&schema(), &content).is_empty(), "{region}: {:?}", faults(&schema(), &content));
    }
    std::fs::remove_dir_all(here).unwrap();
}

#[test]
fn every_gin_starter_is_answered_without_a_word() {
    let here = folder("gin-starters");
    let schema = schema_of("gin");
    for region in REGIONS {
        let file = format!("{region}.yaml");
        let made = overwinter(&here, &["new", "gin", &file, "--region", region, "--year", "2026"]);
        assert_eq!(text(&made.stderr), format!("starter written: {file}\n"));
        let out = overwinter(&here, &["gin", &file]);
        assert_eq!((out.status.code(), text(&out.stderr)), (Some(0), String::new()), "{region}");
        let content = std::fs::read_to_string(here.join(&file)).unwrap();
        assert_eq!(faults(&schema, &content), Vec::<String>::new(), "{region}");
    }
    for example in ["examples/plains-gin/gin.yaml", "examples/southeast-gin/gin.yaml"] {
        let content = std::fs::read_to_string(root().join(example)).unwrap();
        assert_eq!(faults(&schema, &content), Vec::<String>::new(), "{example}");
        for (good, bad) in [("bales: ", "bals: "), ("region: ", "regions: "), ("year: 2026", "year: soon")] {
            assert!(!faults(&schema, &content.replacen(good, bad, 1)).is_empty(), "{example}: {bad}");
        }
    }
    std::fs::remove_dir_all(here).unwrap();
}

#[test]
fn a_starter_never_overwrites_unasked() {
    let here = folder("overwrite");
    let file = here.join("mine.yaml");
    std::fs::write(&file, "# a winter's work\n").unwrap();
    let refused = overwinter(&here, &["new", "herd", "mine.yaml"]);
    assert_eq!(refused.status.code(), Some(2));
    assert!(text(&refused.stderr).contains("is there already, so nothing was written"), "{}", text(&refused.stderr));
    assert_eq!(std::fs::read_to_string(&file).unwrap(), "# a winter's work\n");
    let forced = overwinter(&here, &["new", "herd", "mine.yaml", "--force"]);
    assert_eq!(forced.status.code(), Some(0));
    assert!(std::fs::read_to_string(&file).unwrap().contains("groups:"));
    let printed = overwinter(&here, &["new", "herd", "-", "--year", "2026"]);
    assert!(text(&printed.stdout).contains("from: 2026-11-15") && printed.stderr.is_empty());
    let nowhere = overwinter(&here, &["new", "herd", "no/such/folder.yaml"]);
    assert_eq!(nowhere.status.code(), Some(2));
    std::fs::remove_dir_all(here).unwrap();
}

/// A page may be written over a page, but a slip must not cost a herd file.
#[test]
fn a_page_is_not_written_over_a_herd_file() {
    let here = folder("pages-over");
    let herd = root().join("examples/first-file/herd.yaml");
    std::fs::copy(&herd, here.join("herd.yaml")).unwrap();
    let slip = overwinter(&here, &["needs", "herd.yaml", "--html", "herd.yaml"]);
    assert_eq!(slip.status.code(), Some(2));
    assert!(text(&slip.stderr).contains("is no page"), "{}", text(&slip.stderr));
    assert_eq!(std::fs::read(&herd).unwrap(), std::fs::read(here.join("herd.yaml")).unwrap());
    for _ in 0..2 {
        let made = overwinter(&here, &["needs", "herd.yaml", "--html", "needs.html"]);
        assert_eq!(made.status.code(), Some(0), "{}", text(&made.stderr));
        assert_eq!((text(&made.stdout), text(&made.stderr)), (String::new(), "page written: needs.html\n".to_owned()));
    }
    std::fs::remove_dir_all(here).unwrap();
}

fn schema() -> Validator {
    schema_of("herd")
}

fn schema_of(kind: &str) -> Validator {
    let out = overwinter(root(), &["schema", kind]);
    let value: serde_json::Value = serde_json::from_slice(&out.stdout).expect("JSON");
    jsonschema::meta::validate(&value).expect("a schema");
    jsonschema::validator_for(&value).expect("a schema")
}

/// What a schema finds in a file; `None`: no YAML that an editor would take either.
fn faults(schema: &Validator, content: &str) -> Vec<String> {
    match serde_yaml::from_str::<serde_json::Value>(content) {
        Ok(value) => schema.iter_errors(&value).map(|fault| format!("{}: {fault}", fault.instance_path())).collect(),
        Err(fault) => vec![fault.to_string()],
    }
}

fn yaml_files(folder: &str) -> Vec<PathBuf> {
    let mut list = Vec::new();
    let mut open = vec![root().join(folder)];
    while let Some(path) = open.pop() {
        if path.is_dir() {
            open.extend(std::fs::read_dir(&path).unwrap().map(|entry| entry.unwrap().path()));
        } else if path.extension().is_some_and(|ext| ext == "yaml") {
            list.push(path);
        }
    }
    list.sort();
    list
}

/// Files whose first key is one of a herd file's.
fn is_herd(content: &str) -> bool {
    content.contains("\ngroups:") || content.starts_with("groups:")
}

#[test]
fn every_herd_file_that_is_read_is_valid() {
    let schema = schema();
    let mut count = 0;
    for path in ["examples", "tests/herds", "tests/herd_files"].iter().flat_map(|folder| yaml_files(folder)) {
        let content = std::fs::read_to_string(&path).unwrap();
        if !is_herd(&content) {
            continue;
        }
        count += 1;
        let found = faults(&schema, &content);
        assert!(found.is_empty(), "{}: {found:#?}", path.display());
    }
    assert!(count > 8, "{count}");
}

/// Cases of `tests/errors` in which every key and value has its right shape: what is wrong lies between them, in the
/// feed table, or in how YAML is written, which no schema can tell.
const NOT_OF_SHAPE: &[&str] = &[
    "H010-duplicate-key",
    "H010-two-lots",
    "H023-acres-alone",
    "H024-set-value",
    "H030-bale",
    "H030-breeding-and-gain",
    "H030-exclusive",
    "H040-winter-order",
    "H041-winter-too-long",
    "H043-period-dates",
    "H051-no-weather",
    "H051-weather-missing",
    "H052-spell-without-weather",
    "H057-not-grazed",
    "H058-condition-of-stockers",
    "H059-small-heifers",
    "H061-bull-with-milk",
    "H061-wrong-class",
    "H062-above-mature-weight",
    "H063-no-gain",
    "H064-calving-far",
    "H065-target-date",
    "H066-light-stockers",
    "H067-no-calving-date",
    "H068-breeding-weight",
    "H068-target-weight",
    "H069-loss-never",
    "H069-loss-with-reason",
    "H071-unknown-feed",
    "H072-incomplete",
    "H074-no-supply",
    "H075-feed-dates",
    "H076-min-above-max",
    "H077-free-choice-cubes",
    "H078-contradiction",
    "H079-skipped-grain",
    "H080-unknown-group",
    "H081-unknown-offer",
    "H083-limit-without-change",
    "H084-no-reason",
    "H085-unknown-period",
    "H087-missing-value",
    "H088-limit-refused",
    "H092-cubic-feet",
    "H093-whole-loads",
    "H094-prices-late",
    "H095-no-test-weight",
    "H096-no-bale",
    "H051-region-without-month",
    "H053-first-calf-not-calved",
    "H056-bulls-without-turnout",
    "H033-unused",
    "H061-open-heifers",
    "H078-too-much",
    "H078-too-much-energy",
    "H079-weekly-distillers",
    "H079-weekly-liquid",
    "H079-weekly-seed",
    "H089-unlikely",
    "H090-test-date",
    "H098-never-had",
    "H099-no-rations",
    "H100-set-form",
    "H101-set-path",
];

#[test]
fn faults_of_shape_are_found_by_the_schema() {
    let schema = schema();
    let mut missed = Vec::new();
    let mut caught = 0;
    for path in yaml_files("tests/errors") {
        let name = path.file_stem().unwrap().to_str().unwrap().to_owned();
        let Ok(content) = std::fs::read_to_string(&path) else { continue };
        let listed = NOT_OF_SHAPE.contains(&name.as_str());
        let found = !faults(&schema, &content).is_empty();
        caught += usize::from(found);
        if found == listed {
            missed
                .push(format!("{name}: {}", if found { "is found, so it need not be listed" } else { "is not found" }));
        }
    }
    assert!(missed.is_empty(), "{missed:#?}");
    assert!(caught > 30, "{caught}");
}

#[test]
fn every_shell_has_completions() {
    for shell in ["bash", "zsh", "fish", "powershell", "elvish"] {
        let out = overwinter(root(), &["completions", shell]);
        let script = text(&out.stdout);
        assert!(out.status.success() && script.contains("needs") && script.contains("html"), "{shell}");
    }
}
