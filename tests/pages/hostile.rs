//! Names that mean harm, or only look strange: pages stay right and inert, tables of figures harmless.

use crate::browser::Browser;
use crate::screen::on_screen;
use crate::structure::{all, faults, within, words};
use crate::{overwinter, page};
use scraper::Html;

/// Names as nobody writes them but somebody will. A name has at most 40 characters; a place has no such limit.
fn herd() -> String {
    let place = format!("{} </title><script>alert(1)</script>", "Very long ranch name ".repeat(10));
    format!(
        r#"
place: {{name: {place:?}, weather: rolling_plains}}
winter: {{from: 2026-12-01, to: 2027-02-01}}
groups:
  "<script>alert('cows')</script>": {{kind: cow, head: 40, weight_lb: 1150, calving: 2027-03-20}}
  "פרות \"של\" סבא": {{kind: cow, head: 10, weight_lb: 1150, calving: 2027-03-20}}
  "🐄🐄 & co. <b>'": {{kind: cow, head: 10, weight_lb: 1150, calving: 2027-03-20}}
  "=HYPERLINK(1)": {{kind: bull, head: 2, weight_lb: 1800}}
feeds:
  "+prairie_hay": {{like: prairie_hay, price_usd_per_ton: 110, on_hand_tons: 5}}
  "{long}": {{like: whole_cottonseed, price_usd_per_ton: 250}}
  "@SUM(A1)": {{like: mineral_12_12, price_usd_per_ton: 900}}
  "\"><img src=x onerror=alert(2)>": {{like: range_cube_20, price_usd_per_ton: 300}}
fed:
  "<script>alert('cows')</script>": {{"+prairie_hay": 22, "{long}": 3}}
  "=HYPERLINK(1)": {{"+prairie_hay": 34}}
"#,
        long = "x".repeat(40),
    )
}

const COMMANDS: [&[&str]; 6] = [
    &["plan", "-"],
    &["plan", "-", "--live"],
    &["plan", "-", "--sheet"],
    &["check", "-"],
    &["needs", "-", "--parts"],
    &["worth", "-"],
];

#[test]
fn pages_of_hostile_names_are_right_and_inert() {
    let herd = herd();
    for args in COMMANDS {
        let text = page(args, &herd);
        let document = Html::parse_document(&text);
        let found = faults(&text);
        assert!(found.is_empty(), "{args:?}: {found:#?}");
        let scripts = if args.contains(&"--live") { 2 } else { 0 };
        assert_eq!(all(&document, "script").len(), scripts, "{args:?}");
        assert!(all(&document, "img, iframe, object").is_empty(), "{args:?}");
        let shown = words(all(&document, "body")[0]);
        assert!(shown.contains("<script>alert('cows')</script>"), "{args:?}: the name is not shown as it is");
        let apart: Vec<String> = all(&document, "bdi").into_iter().map(words).collect();
        assert!(apart.iter().any(|name| name.contains("פרות")), "{args:?}: a name from right to left is not set apart");
        for row in all(&document, "tbody tr") {
            assert_eq!(within(row, "th").len(), 1, "{args:?}");
        }
    }
}

#[test]
fn pages_of_hostile_names_hold_in_a_browser() {
    let Some(mut browser) = Browser::start("hostile") else { return };
    let herd = herd();
    let mut list = Vec::new();
    for (index, args) in COMMANDS.iter().enumerate() {
        let file = browser.folder().join(format!("{index}.html"));
        std::fs::write(&file, page(args, &herd)).unwrap();
        list.extend(on_screen(&mut browser, &file, &args.join(" "), None));
    }
    assert!(list.is_empty(), "{list:#?}");
}

/// A spreadsheet takes a cell that begins with one of these for a formula.
#[test]
fn no_cell_of_a_csv_is_a_formula() {
    let herd = herd();
    let mut formulas = 0;
    for args in [&["plan", "-"][..], &["check", "-"], &["needs", "-"], &["worth", "-"]] {
        let all: Vec<&str> = args.iter().copied().chain(["--format", "csv"]).collect();
        let out = overwinter(&all, &herd);
        let text = String::from_utf8(out.stdout).unwrap();
        assert!(text.lines().count() > 2, "{args:?}: {}", String::from_utf8_lossy(&out.stderr));
        for cell in cells(&text) {
            let risky = cell.starts_with(['=', '+', '-', '@', '\t', '\r']);
            assert!(!risky || cell.parse::<f64>().is_ok(), "{args:?}: {cell}");
            formulas += usize::from(cell.starts_with("'=") || cell.starts_with("'+") || cell.starts_with("'@"));
        }
    }
    assert!(formulas > 10, "the names that look like formulas are not there: {formulas}");
}

/// Cells as a spreadsheet reads them.
fn cells(text: &str) -> Vec<String> {
    let mut list = vec![String::new()];
    let mut quoted = false;
    let mut chars = text.chars().peekable();
    while let Some(c) = chars.next() {
        match c {
            '"' if quoted && chars.peek() == Some(&'"') => {
                chars.next();
                list.last_mut().unwrap().push('"');
            }
            '"' => quoted = !quoted,
            ',' | '\n' if !quoted => list.push(String::new()),
            _ => list.last_mut().unwrap().push(c),
        }
    }
    list
}
