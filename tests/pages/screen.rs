//! In a real browser: no errors, nothing asked for, Letter paper, no overflow, sound for people who do not see it.

use crate::browser::{Browser, required, sheets, skipped};
use crate::{PAGES, page};
use serde_json::Value;
use std::path::{Path, PathBuf};

/// What is wider than the window and stands in no box that scrolls.
const OVERFLOW: &str = "(() => {
    const wide = [];
    const width = document.documentElement.clientWidth;
    if (document.documentElement.scrollWidth > width) wide.push('page ' + document.documentElement.scrollWidth);
    const boxed = (e) => { for (let b = e.parentElement; b; b = b.parentElement) {
        if (['auto', 'scroll'].includes(getComputedStyle(b).overflowX)) return true; } return false; };
    for (const e of document.body.querySelectorAll('*')) {
        if (e.closest('.hide')) continue;
        const r = e.getBoundingClientRect();
        if (r.width > 0 && (r.right > width + 1 || r.left < -1) && !boxed(e)) wide.push(e.tagName + ' ' + e.textContent.slice(0, 40));
    }
    return wide;
})()";

/// Boxes that scroll without saying so.
const NO_CUE: &str = "[...document.querySelectorAll('div')].filter(e => e.scrollWidth > e.clientWidth + 1
    && getComputedStyle(e).overflowX === 'auto'
    && !(e.previousElementSibling && e.previousElementSibling.classList.contains('cue')
         && getComputedStyle(e.previousElementSibling).display !== 'none'))
    .map(e => e.textContent.slice(0, 60))";

/// The audit, where `.ci/run` put it.
fn audit() -> Option<String> {
    let given = std::env::var_os("OVERWINTER_AXE").map(PathBuf::from);
    let usual = Path::new(env!("CARGO_MANIFEST_DIR")).join("target/axe/package/axe.min.js");
    let script = std::fs::read_to_string(given.unwrap_or(usual)).ok();
    if script.is_none() {
        assert!(!required(), "axe-core was not found; `.ci/run` fetches it, or set OVERWINTER_AXE to its axe.min.js");
        skipped("the audit of accessibility: axe-core is not here (`.ci/run` fetches it, or set OVERWINTER_AXE)");
    }
    script
}

#[test]
fn pages_hold_in_a_browser() {
    let Some(mut browser) = Browser::start("pages") else { return };
    let audit = audit();
    let mut faults: Vec<String> = Vec::new();
    for made in PAGES {
        let file = browser.folder().join(format!("{}.html", made.name));
        std::fs::write(&file, page(made.args, "")).unwrap();
        faults.extend(on_screen(&mut browser, &file, made.name, audit.as_deref()));
        let (count, sizes) = sheets(&browser.pdf());
        if !made.sheets.contains(&count) {
            faults.push(format!("{}: {count} sheets, not {:?}", made.name, made.sheets));
        }
        if sizes != ["0 0 612 792"] {
            faults.push(format!("{}: paper of {sizes:?}, not Letter", made.name));
        }
    }
    assert!(faults.is_empty(), "{faults:#?}");
}

/// What is wrong with a page on a phone and on a wide screen.
pub(crate) fn on_screen(browser: &mut Browser, file: &Path, name: &str, audit: Option<&str>) -> Vec<String> {
    let mut faults = Vec::new();
    for width in [360, 1200] {
        browser.width(width);
        browser.open(file);
        let mut told = browser.complaints();
        let listed = |value: Value| -> Vec<String> {
            value.as_array().unwrap().iter().map(|one| one.as_str().unwrap_or_default().to_owned()).collect()
        };
        told.extend(listed(browser.run(OVERFLOW)).into_iter().map(|what| format!("too wide: {what}")));
        told.extend(listed(browser.run(NO_CUE)).into_iter().map(|what| format!("scrolls without a word: {what}")));
        if let Some(script) = audit {
            browser.run(&format!("{script}; 0"));
            let found = browser.run(
                "axe.run(document, {resultTypes: ['violations']}).then(r => r.violations.map(v => v.impact + ' ' + v.id + ': ' \
                 + v.nodes.slice(0, 3).map(n => n.html.slice(0, 120)).join(' | ')))",
            );
            told.extend(listed(found).into_iter().map(|what| format!("audit: {what}")));
        }
        faults.extend(told.into_iter().map(|what| format!("{name} at {width} px: {what}")));
    }
    faults
}
