//! One file that stands alone: head, style, words made safe.

use maud::{DOCTYPE, Markup, PreEscaped, html};

/// The style, for screens from 360 px on and for Letter paper in black and white.
const STYLE: &str = include_str!("style.css");
/// The one script there is: it moves between answers found beforehand.
const LIVE: &str = include_str!("live.js");
/// What a browser may load for a page without a script: nothing but what stands in it.
const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";
/// Hash of [`LIVE`]; a test in a browser fails when it is not that of the script.
const LIVE_HASH: &str = include_str!("live.sha256");

/// A whole file.
pub(super) fn document(title: &str, kind: &str, live: bool, body: &Markup) -> String {
    let policy = if live { format!("{POLICY}; script-src '{}'", LIVE_HASH.trim()) } else { POLICY.to_owned() };
    let markup = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta http-equiv="Content-Security-Policy" content=(policy);
                meta name="generator" content={ "overwinter " (env!("CARGO_PKG_VERSION")) };
                meta name="color-scheme" content="light";
                title { (title) }
                style { (PreEscaped(STYLE)) }
            }
            body class=(kind) {
                main { (body) }
                @if live { script { (PreEscaped(LIVE)) } }
            }
        }
    };
    markup.into_string()
}

/// Names longer than this may be broken anywhere, letters.
const LONG: usize = 16;

/// Names of a herd file, to be found in sentences: they are set apart from the text round them whatever way they are
/// written, and `gin_trash_stripper` reads as `gin trash stripper`.
#[derive(Debug, Clone, Default)]
pub(super) struct Names {
    list: Vec<String>,
}

impl Names {
    /// The names, the longest first, so that none hides in another.
    pub(super) fn new<'n>(names: impl IntoIterator<Item = &'n str>) -> Self {
        let mut list: Vec<String> = names
            .into_iter()
            .filter(|name| name.contains('_') || !name.is_ascii() || name.len() > LONG)
            .map(str::to_owned)
            .collect();
        list.sort_by(|a, b| b.chars().count().cmp(&a.chars().count()).then_with(|| a.cmp(b)));
        list.dedup();
        Self { list }
    }

    /// A sentence: what stands in backticks is something to type, names are set apart.
    pub(super) fn say(&self, text: &str) -> Markup {
        html! {
            @for (index, part) in text.split('`').enumerate() {
                @if index % 2 == 1 { code { (part) } } @else { (self.plain(part)) }
            }
        }
    }

    /// A sentence as plain text, for what a script shows: names read as in [`Self::say`], set apart by signs.
    pub(super) fn plain_text(&self, text: &str) -> String {
        let found = self.list.iter().filter_map(|name| Some((whole_word(text, name)?, name))).min_by_key(|(at, _)| *at);
        let Some((at, name)) = found else { return text.to_owned() };
        let shown = if name.is_ascii() { spaced(name) } else { format!("\u{2068}{}\u{2069}", spaced(name)) };
        format!("{}{shown}{}", &text[..at], self.plain_text(&text[at + name.len()..]))
    }

    fn plain(&self, text: &str) -> Markup {
        let found = self.list.iter().filter_map(|name| Some((whole_word(text, name)?, name))).min_by_key(|(at, _)| *at);
        let Some((at, name)) = found else { return html! { (text) } };
        html! { (text[..at]) bdi { (spaced(name)) } (self.plain(&text[at + name.len()..])) }
    }
}

/// Where a name stands by itself in a text.
fn whole_word(text: &str, name: &str) -> Option<usize> {
    let inside = |c: Option<char>| c.is_some_and(|c| c.is_alphanumeric() || c == '_');
    text.match_indices(name)
        .find(|(at, _)| !inside(text[..*at].chars().next_back()) && !inside(text[at + name.len()..].chars().next()))
        .map(|(at, _)| at)
}

/// A name as people read it.
pub(super) fn spaced(name: &str) -> String {
    name.replace('_', " ")
}

#[cfg(test)]
mod tests {
    use super::Names;

    #[test]
    fn names_are_set_apart_and_what_is_typed_is_left_alone() {
        let names = Names::new(["gin_trash", "gin_trash_stripper", "cows", "פרות"]);
        let said = names.say("cows: gin_trash_stripper, gin_trash; `gin_trash` <b> gin_trashy פרות").into_string();
        assert_eq!(
            said,
            "cows: <bdi>gin trash stripper</bdi>, <bdi>gin trash</bdi>; <code>gin_trash</code> &lt;b&gt; gin_trashy \
             <bdi>פרות</bdi>"
        );
    }
}
