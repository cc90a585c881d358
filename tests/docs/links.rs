//! Links of the documents: files that exist, headings that exist.

use std::path::Path;

/// Every link of a document that leads nowhere. Links to other sites are not followed.
pub(crate) fn broken(root: &Path, path: &Path) -> Vec<String> {
    let text = std::fs::read_to_string(root.join(path)).unwrap();
    let mut list = Vec::new();
    for target in targets(&text) {
        if target.contains("://") || target.starts_with("mailto:") {
            continue;
        }
        let (file, heading) = target.split_once('#').map_or((target, None), |(file, heading)| (file, Some(heading)));
        let goal = if file.is_empty() { root.join(path) } else { root.join(path).parent().unwrap().join(file) };
        if !goal.exists() {
            list.push(format!("{}: {target}: no such file", path.display()));
        } else if let Some(heading) = heading
            && goal.extension().is_some_and(|ext| ext == "md")
            && !anchors(&std::fs::read_to_string(&goal).unwrap()).iter().any(|one| one == heading)
        {
            list.push(format!("{}: {target}: no such heading", path.display()));
        }
    }
    list
}

/// What stands in the round brackets of `[words](target)`, outside of code.
fn targets(text: &str) -> Vec<&str> {
    let mut list = Vec::new();
    for line in prose(text) {
        let mut rest = line;
        while let Some(at) = rest.find("](") {
            rest = &rest[at + 2..];
            if let Some(end) = rest.find(')') {
                list.push(&rest[..end]);
            }
        }
    }
    list
}

fn prose(text: &str) -> Vec<&str> {
    let mut code = false;
    text.lines()
        .filter(|line| {
            if line.trim_start().starts_with("```") {
                code = !code;
                return false;
            }
            !code
        })
        .collect()
}

/// Names of the headings as links use them: small letters, blanks as strokes, other signs left out.
fn anchors(text: &str) -> Vec<String> {
    prose(text)
        .iter()
        .filter(|line| line.starts_with('#'))
        .map(|line| {
            line.trim_start_matches('#')
                .trim()
                .to_lowercase()
                .chars()
                .filter(|c| c.is_alphanumeric() || matches!(c, ' ' | '-' | '_'))
                .map(|c| if c == ' ' { '-' } else { c })
                .collect()
        })
        .collect()
}

#[test]
fn a_broken_link_is_found() {
    let root = std::env::temp_dir().join(format!("overwinter-links-{}", std::process::id()));
    std::fs::create_dir_all(&root).unwrap();
    std::fs::write(root.join("b.md"), "# The other `page`\n").unwrap();
    std::fs::write(root.join("a.md"), "[1](b.md) [2](c.md) [3](b.md#the-other-page) [4](b.md#none) [5](#none)\n")
        .unwrap();
    let found = broken(&root, Path::new("a.md"));
    assert_eq!(found.len(), 3, "{found:?}");
    std::fs::remove_dir_all(&root).unwrap();
}
