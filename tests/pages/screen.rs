//! In a real browser: no errors, nothing asked for, Letter paper, no overflow, sound for people who do not see it.

use crate::browser::{Browser, required, sheets, skipped};
use crate::{DRY_FORK, PAGES, overwinter, page};
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
const NO_CUE: &str = "[...document.querySelectorAll('div, figure')].filter(e => e.scrollWidth > e.clientWidth + 1
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

/// The sliders are moved by keys, and what they say is what `worth --at` says.
#[test]
fn sliders_work_by_keyboard() {
    const END: (&str, u32) = ("End", 35);
    const RIGHT: (&str, u32) = ("ArrowRight", 39);
    let Some(mut browser) = Browser::start("sliders") else { return };
    let file = browser.folder().join("live.html");
    std::fs::write(&file, page(&["plan", DRY_FORK, "--live"], "")).unwrap();
    browser.width(800);
    browser.open(&file);
    assert_eq!(browser.complaints(), Vec::<String>::new());
    let count = browser.run("document.querySelectorAll('.live.on input').length").as_u64().unwrap();
    assert!(count >= 3, "{count} sliders");
    for index in 0..count {
        let said = |browser: &mut Browser| -> (String, String, String) {
            let script = format!(
                "(() => {{ const i = document.getElementById('price-{index}');                  return [i.getAttribute('aria-valuetext'), i.parentElement.querySelector('output').textContent,                  document.getElementById(i.dataset.picture).querySelector('.moving').getAttribute('x1')]; }})()"
            );
            let value = browser.run(&script);
            let text = |at: usize| value[at].as_str().unwrap().to_owned();
            (text(0), text(1), text(2))
        };
        browser.run(&format!("document.getElementById('price-{index}').focus()"));
        let before = said(&mut browser);
        browser.press(RIGHT.0, RIGHT.1);
        let after = said(&mut browser);
        assert_ne!(before, after, "slider {index} does not move by the arrow key");
        browser.press(END.0, END.1);
        let (price, words, _) = said(&mut browser);
        assert!(words.contains(&price), "{price}: {words}");
        let feed = browser.run(&format!(
            "document.getElementById('price-{index}').closest('section').querySelectorAll('h3')[{index}].textContent.replace(/ /g, '_')"
        ));
        let out = overwinter(&["worth", DRY_FORK, feed.as_str().unwrap(), "--at", price.trim_start_matches('$')], "");
        let told = String::from_utf8(out.stdout).unwrap().split_whitespace().collect::<Vec<_>>().join(" ");
        let sentence = words.split(" A head and day:").next().unwrap();
        assert!(told.replace('_', " ").contains(sentence), "{sentence} is not what `worth` says: {told}");
        browser.run(&format!("document.getElementById('price-{index}').parentElement.querySelector('button').click()"));
        assert_eq!(said(&mut browser), before, "slider {index} does not go back");
    }
}

/// Without a script the page is whole: every table is there, and no slider that does nothing.
#[test]
fn without_a_script_the_page_is_whole() {
    let Some(mut browser) = Browser::start("scriptless") else { return };
    let file = browser.folder().join("live.html");
    std::fs::write(&file, page(&["plan", DRY_FORK, "--live"], "")).unwrap();
    browser.call("Emulation.setScriptExecutionDisabled", &serde_json::json!({"value": true}));
    browser.open(&file);
    browser.call("Emulation.setScriptExecutionDisabled", &serde_json::json!({"value": false}));
    let seen = browser.run("[...document.querySelectorAll('.live')].filter(e => e.offsetHeight > 0).length");
    assert_eq!(seen, 0);
    let tables = browser.run("document.querySelectorAll('#what-if table').length").as_u64().unwrap();
    assert!(tables >= 3, "{tables}");
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
