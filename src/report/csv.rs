//! CSV, units in the column names.

use super::model::Report;

/// A cell: quoted where it must be, and made harmless for spreadsheets that would run it as a formula.
#[must_use]
pub fn cell(text: &str) -> String {
    let risky = text.starts_with(['=', '+', '-', '@', '\t', '\r']) && text.parse::<f64>().is_err();
    let safe = if risky { format!("'{text}") } else { text.to_owned() };
    if safe.contains([',', '"', '\n', '\r']) { format!("\"{}\"", safe.replace('"', "\"\"")) } else { safe }
}

/// Rows of a table.
#[must_use]
pub fn table(header: &[&str], rows: impl IntoIterator<Item = Vec<String>>) -> String {
    let mut out = header.join(",");
    out.push('\n');
    for row in rows {
        out.push_str(&row.iter().map(|text| cell(text)).collect::<Vec<_>>().join(","));
        out.push('\n');
    }
    out
}

/// Every ration, a line for each feed of each group and period.
#[must_use]
pub fn rations(report: &Report) -> String {
    let header = [
        "group",
        "head",
        "period",
        "from",
        "to",
        "days",
        "feed",
        "lb_as_fed_per_head_day",
        "lb_dm_per_head_day",
        "usd_per_head_day",
    ];
    let rows = report.groups.iter().flat_map(|group| {
        group.periods.iter().flat_map(move |period| {
            period.ration.iter().map(move |line| {
                vec![
                    group.name.clone(),
                    group.head.to_string(),
                    period.label.clone(),
                    period.from.clone(),
                    period.to.clone(),
                    period.days.to_string(),
                    line.feed.clone(),
                    format!("{:.4}", line.lb_as_fed),
                    format!("{:.4}", line.lb_dm),
                    format!("{:.6}", line.usd_per_head_day),
                ]
            })
        })
    });
    table(&header, rows)
}

#[cfg(test)]
mod tests {
    use super::cell;

    #[test]
    fn formulas_are_made_harmless_and_numbers_are_left_alone() {
        assert_eq!(cell("=1+1"), "'=1+1");
        assert_eq!(cell("@x"), "'@x");
        assert_eq!(cell("-3.5"), "-3.5");
        assert_eq!(cell("a,b"), "\"a,b\"");
        assert_eq!(cell("say \"hay\""), "\"say \"\"hay\"\"\"");
    }
}
