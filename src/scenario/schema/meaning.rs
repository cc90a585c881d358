//! What a key means, read out of the page that people read.

/// The page on the herd file.
pub(super) const HERD: &str = include_str!("../../../docs/herd-file.md");
/// The page on the gin file.
pub(super) const GIN: &str = include_str!("../../../docs/gin-file.md");

/// Meaning and default of a key under a heading, without the marks of the page; empty where it has no row of its own.
pub(super) fn of(page: &str, heading: &str, key: &str) -> String {
    let named = format!("`{key}`");
    let mut here = false;
    for line in page.lines() {
        if let Some(title) = line.strip_prefix('#') {
            here = title.trim_start_matches('#').trim() == heading;
        }
        let Some(row) = line.strip_prefix("| ").filter(|_| here) else { continue };
        let mut cells = row.split(" | ");
        let (Some(keys), Some(meaning)) = (cells.next(), cells.next()) else { continue };
        if keys.contains(&named) {
            let usual = cells.next().map_or("", |cell| cell.trim_end_matches('|').trim());
            let default = if usual.is_empty() { String::new() } else { format!(". Default: {}", plain(usual)) };
            return format!("{}{default}", plain(meaning.trim_end_matches(" |")));
        }
    }
    String::new()
}

/// Words without links and emphasis.
fn plain(text: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some(open) = rest.find('[') {
        let link = rest[open..].find("](").and_then(|middle| Some((middle, rest[open + middle..].find(')')?)));
        let Some((middle, close)) = link else { break };
        out.push_str(&rest[..open]);
        out.push_str(&rest[open + 1..open + middle]);
        rest = &rest[open + middle + close + 1..];
    }
    out.push_str(rest);
    out.replace("**", "").replace(" |", "").trim().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn meanings_are_found_and_plain() {
        assert!(of(HERD, "`groups`", "head").starts_with("number, 1 to 100,000"));
        assert!(of(HERD, "`groups`", "weight_kg").contains("shrunk"));
        assert!(of(GIN, "`yard`", "module_loads").starts_with("truckloads"));
        assert_eq!(of(HERD, "`groups`", "no_such_key"), "");
        assert_eq!(plain("a **b** [H069](errors.md#h069) c"), "a b H069 c");
    }
}
