//! The pictures of the guide are of what the program makes now. `UPDATE=1 cargo test --test pages pictures` takes them
//! anew where there is a browser; everywhere else their pages' digests are compared.

use crate::browser::Browser;
use crate::{overwinter, page};
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

/// Name, what makes the page, what of it is scrolled to the top, width and height.
const PICTURES: [(&str, &[&str], &str, u32, u32); 3] = [
    ("plan", &["plan", "-"], "main", 760, 1330),
    ("card", &["plan", "-", "--sheet", "--practical"], "main", 760, 860),
    ("live", &["plan", "-", "--live"], "#steps-1", 760, 620),
];

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/pictures")
}

/// The file that the guide ends with.
fn home() -> String {
    let guide = std::fs::read_to_string(folder().join("../guide.md")).unwrap();
    let last = guide.rsplit("<!-- save: home.yaml -->\n```yaml\n").next().unwrap();
    last.split("```").next().unwrap().to_owned()
}

/// A page without the figures of the proof, which are rounding and differ between machines.
fn settled(text: &str) -> String {
    match (text.find("the gap to the proved bound"), text.find("; an independent check")) {
        (Some(from), Some(to)) if from < to => format!("{}{}", &text[..from], &text[to..]),
        _ => text.to_owned(),
    }
}

/// FNV-1a, 64 bits: enough to see that a page is another.
fn digest(text: &str) -> String {
    let start = 0xcbf2_9ce4_8422_2325_u64;
    let sum = text.bytes().fold(start, |sum, byte| (sum ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3));
    format!("{sum:016x}")
}

fn digests() -> BTreeMap<String, String> {
    let herd = home();
    PICTURES.iter().map(|(name, args, ..)| ((*name).to_owned(), digest(&settled(&page(args, &herd))))).collect()
}

fn written(list: &BTreeMap<String, String>) -> String {
    list.iter().fold(String::new(), |text, (name, digest)| text + name + " " + digest + "\n")
}

#[test]
fn pictures_are_of_the_pages_made_now() {
    let list = digests();
    let kept = folder().join("made-from.txt");
    if std::env::var_os("UPDATE").is_some() {
        let Some(mut browser) = Browser::start("pictures") else { return };
        let herd = home();
        for (name, args, top, width, height) in PICTURES {
            let file = browser.folder().join(format!("{name}.html"));
            std::fs::write(&file, page(args, &herd)).unwrap();
            browser.width(width);
            browser.open(&file);
            let at = format!("Math.max(0, document.querySelector('{top}').getBoundingClientRect().top - 60)");
            let y = browser.run(&at).as_f64().unwrap();
            std::fs::write(folder().join(format!("{name}.png")), browser.picture(y, width, height)).unwrap();
        }
        std::fs::write(&kept, written(&list)).unwrap();
    }
    let stands = std::fs::read_to_string(&kept).unwrap_or_default();
    assert_eq!(
        stands,
        written(&list),
        "the pages have changed: `UPDATE=1 cargo test --test pages pictures` takes them anew"
    );
    for (name, ..) in PICTURES {
        let bytes = std::fs::read(folder().join(format!("{name}.png"))).unwrap();
        assert!(bytes.starts_with(b"\x89PNG") && bytes.len() < 300_000, "{name}: {} bytes", bytes.len());
    }
}

/// The page of the smallest example, word for word; `INSTA_UPDATE=always` writes it anew.
#[test]
fn the_page_of_the_first_file() {
    let text = settled(&page(&["plan", "examples/first-file/herd.yaml"], ""));
    let body = text.split_once("<body").unwrap().1.replace("><", ">\n<");
    insta::assert_snapshot!(body);
}

/// The outline of every kind of page: headings, captions of tables with their heads, and names of pictures, in order.
#[test]
fn the_outlines_of_all_pages() {
    let mut outline = String::new();
    for made in crate::PAGES {
        let document = scraper::Html::parse_document(&page(made.args, ""));
        writeln!(outline, "== {}: {}", made.name, made.args.join(" ")).unwrap();
        for part in crate::structure::all(&document, "h1, h2, h3, caption, thead tr, svg > title") {
            let words = crate::structure::words(part).split_whitespace().collect::<Vec<_>>().join(" ");
            writeln!(outline, "{}: {words}", part.value().name()).unwrap();
        }
    }
    insta::assert_snapshot!(outline);
}

/// What a page of paper says is what the terminal says: every sentence of the one stands in the other.
#[test]
fn the_page_says_what_the_terminal_says() {
    let file = "examples/dry-fork/herd.yaml";
    let squeeze = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ").replace('_', " ");
    let printed = squeeze(&String::from_utf8(overwinter(&["plan", file], "").stdout).unwrap());
    let document = scraper::Html::parse_document(&page(&["plan", file], ""));
    let mut told = 0;
    for paragraph in crate::structure::all(
        &document,
        "#bill > p:not(.cue), #condition > p:not(.cue), #watch li, #sure > p:not(.cue), #stores li",
    ) {
        let text = squeeze(&crate::structure::words(paragraph));
        if text.starts_with("What goes with the cattle") {
            continue;
        }
        told += 1;
        // Commands stand in backticks on a terminal.
        assert!(printed.replace('`', "").contains(&text), "the terminal does not say: {text}");
    }
    assert!(told > 12, "{told}");
}
