//! Did you mean: the nearest of the known names.

/// Names longer than this are not compared; nobody mistypes one.
const LONGEST: usize = 60;
/// Similarity (Jaro-Winkler, 0 to 1) from which a name is offered. Judgement.
const SIMILAR: f64 = 0.86;

/// The known name nearest to `word`, if one is near enough to be meant.
pub(crate) fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    if word.is_empty() || word.len() > LONGEST {
        return None;
    }
    let word = plain(word);
    let mut best: Option<(f64, &str)> = None;
    for name in known {
        let candidate = plain(name);
        let score = if candidate == word {
            2.0
        } else if candidate.starts_with(&word) && word.len() >= 3 {
            1.0
        } else {
            strsim::jaro_winkler(&word, &candidate).max(transposed(&word, &candidate))
        };
        if score >= SIMILAR && best.is_none_or(|(top, _)| score > top) {
            best = Some((score, name));
        }
    }
    best.map(|(_, name)| name)
}

/// Words in another order (`hay_prairie` for `prairie_hay`) count as near.
fn transposed(word: &str, candidate: &str) -> f64 {
    let sorted = |text: &str| {
        let mut parts: Vec<&str> = text.split('_').collect();
        parts.sort_unstable();
        parts.join("_")
    };
    if sorted(word) == sorted(candidate) { 0.99 } else { 0.0 }
}

fn plain(name: &str) -> String {
    name.trim().to_lowercase().replace(['-', ' '], "_")
}

/// `did you mean …?` or the list of what there is, as a help line.
pub(crate) fn advice<'a>(word: &str, known: impl IntoIterator<Item = &'a str> + Clone) -> Option<String> {
    if let Some(name) = nearest(word, known.clone()) {
        return Some(format!("did you mean `{name}`?"));
    }
    list(known).map(|names| format!("known here: {names}"))
}

/// Names in backticks with commas, at most twenty.
pub(crate) fn list<'a>(names: impl IntoIterator<Item = &'a str>) -> Option<String> {
    const MOST: usize = 20;
    let names: Vec<&str> = names.into_iter().collect();
    if names.is_empty() {
        return None;
    }
    let shown: Vec<String> = names.iter().take(MOST).map(|name| format!("`{name}`")).collect();
    let more = if names.len() > MOST { format!(" and {} more", names.len() - MOST) } else { String::new() };
    Some(format!("{}{more}", shown.join(", ")))
}
