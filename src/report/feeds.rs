//! The feed table on paper: the list by kind, and one feed with everything that is known of it.

use crate::feed::energy::NET_ENERGY_FROM_TDN;
use crate::feed::{Bibliography, Feed, FeedClass, FeedTable, Figure, Nutrient, OtherFigure};
use crate::quantity::KG_PER_LB;
use crate::report::page::{Block, Page, Table as PageTable};
use crate::source::Origin;
use comfy_table::{CellAlignment, ContentArrangement, LineStyle, Table, TableStyle};
use std::collections::BTreeSet;
use std::fmt::Write as _;

/// Columns of a terminal the pages fit in.
const WIDTH: u16 = 100;
/// No boxes; a rule below the heading.
const RULE_BELOW_HEADING: TableStyle = TableStyle::new().header_separator(LineStyle::none().fill('─'));
/// What stands where nothing is known.
const UNKNOWN: &str = "–";

/// Every feed by kind, with the few numbers people compare.
#[must_use]
pub fn list(table: &FeedTable) -> String {
    let mut feeds: Vec<&Feed> = table.iter().collect();
    feeds.sort_by_key(|feed| FeedClass::ALL.into_iter().position(|class| class == feed.class));
    let mut page = plain_table();
    page.set_header([
        "",
        "dry\nmatter\n%",
        "\nTDN\n%",
        "crude\nprotein\n%",
        "NEm\nMcal\n/lb",
        "NEg\nMcal\n/lb",
        "\nNDF\n%",
        "\nfat\n%",
        "\nCa\n%",
        "\nP\n%",
        "free\ngossypol\n%",
    ]);
    for feed in &feeds {
        let per_lb = |energy: Option<f64>| fixed(energy.map(|per_kg| per_kg * KG_PER_LB), 2);
        page.add_row([
            format!("  {}", feed.id),
            fixed(feed.get(Nutrient::Dm), 0),
            fixed(feed.get(Nutrient::Tdn), 0),
            fixed(feed.get(Nutrient::Cp), 1),
            per_lb(feed.nem_mcal_per_kg()),
            per_lb(feed.neg_mcal_per_kg()),
            fixed(feed.get(Nutrient::Ndf), 0),
            fixed(feed.get(Nutrient::Fat), 1),
            fixed(feed.get(Nutrient::Ca), 2),
            fixed(feed.get(Nutrient::P), 2),
            fixed(feed.get(Nutrient::FreeGossypol), 2),
        ]);
    }
    for column in page.column_iter_mut().skip(1) {
        column.set_cell_alignment(CellAlignment::Right);
    }

    // One line a row, so the headings of the kinds can be put between the lines.
    let lines: Vec<String> = page.lines().map(|line| line.trim_end().to_owned()).collect();
    let (heading, rows) = lines.split_at(lines.len() - feeds.len());
    let mut text = heading.join("\n");
    let mut class = None;
    for (feed, row) in feeds.iter().zip(rows) {
        if class != Some(feed.class) {
            class = Some(feed.class);
            let _ = write!(text, "\n\n {}", feed.class.heading());
        }
        let _ = write!(text, "\n{row}");
    }
    text.push_str("\n\n");
    for remark in [
        "Percent of dry matter, but dry matter itself of feed as fed. NEm and NEg follow from TDN.",
        &format!("{UNKNOWN} means not known, which is not zero."),
        "These are averages of feeds that vary: test what you feed.",
        "One feed with its sources: overwinter feeds NAME",
    ] {
        text.push_str(&wrapped("", remark));
    }
    text
}

/// The feed table as a page: every feed by kind with the spread of what varies most, and the sources.
#[must_use]
pub fn table_page(table: &FeedTable, bibliography: &Bibliography) -> Page {
    let mut page = Page::new("The feed table", "");
    page.words("", "Percent of dry matter, but dry matter itself of feed as fed. ± is one standard deviation: about two tests of three fall inside it.");
    page.words(
        "",
        format!(
            "{UNKNOWN} means not known, which is not zero. These are averages of feeds that vary: test what you feed."
        ),
    );
    let mut keys: BTreeSet<&str> = BTreeSet::from([NET_ENERGY_FROM_TDN.source]);
    for class in FeedClass::ALL {
        let of_class: Vec<&Feed> = table.iter().filter(|feed| feed.class == class).collect();
        if of_class.is_empty() {
            continue;
        }
        page.section(class.key(), class.heading(), "");
        let rows: Vec<Vec<String>> = of_class.iter().map(|feed| printed_row(feed)).collect();
        let header =
            ["", "DM %", "TDN %", "protein %", "NEm Mcal/lb", "NEg Mcal/lb", "NDF %", "fat %", "Ca %", "P %", "TDN is"];
        page.push(Block::Table(PageTable {
            caption: class.heading().to_owned(),
            left: 1,
            header: header.map(str::to_owned).to_vec(),
            rows,
            last_words: true,
            ..PageTable::default()
        }));
        keys.extend(
            of_class.iter().flat_map(|feed| feed.values.values()).filter_map(|figure| figure.source.as_deref()),
        );
    }
    page.section("sources", "Sources", "");
    for (key, source) in bibliography.iter().filter(|(key, _)| keys.contains(key)) {
        page.item(format!("{key}: {source}"));
    }
    page
}

fn printed_row(feed: &Feed) -> Vec<String> {
    let spread = |nutrient: Nutrient, digits: usize| match feed.values.get(&nutrient) {
        Some(Figure { mean, sd: Some(sd), .. }) => format!("{mean:.digits$} ± {sd:.digits$}"),
        other => fixed(other.map(|figure| figure.mean), digits),
    };
    let per_lb = |energy: Option<f64>| fixed(energy.map(|per_kg| per_kg * KG_PER_LB), 2);
    let tdn = feed.values.get(&Nutrient::Tdn);
    vec![
        feed.id.clone(),
        spread(Nutrient::Dm, 0),
        spread(Nutrient::Tdn, 0),
        spread(Nutrient::Cp, 1),
        per_lb(feed.nem_mcal_per_kg()),
        per_lb(feed.neg_mcal_per_kg()),
        spread(Nutrient::Ndf, 0),
        spread(Nutrient::Fat, 1),
        spread(Nutrient::Ca, 2),
        spread(Nutrient::P, 2),
        tdn.map_or(String::new(), |figure| origin(figure.origin, figure.source.as_deref(), None)),
    ]
}

/// One feed as a page.
#[must_use]
pub fn feed_page(feed: &Feed, bibliography: &Bibliography) -> Page {
    let mut page = Page::new(&feed.name, format!(": {}", feed.class.heading()));
    if let Some(note) = &feed.note {
        page.words("", note);
    }
    page.section("values", "What is in it", "");
    page.push(Block::Table(PageTable {
        caption: format!("What is in {}", feed.name),
        left: 1,
        header: ["", "mean", "unit", "sd", "where it comes from"].map(str::to_owned).to_vec(),
        rows: value_rows(feed),
        last_words: true,
        ..PageTable::default()
    }));
    for (id, title, text) in [
        ("elsewhere", "What other sources say", elsewhere_lines(feed)),
        ("watch", "What to watch", caution_lines(feed)),
        ("sources", "Sources", source_lines(feed, bibliography)),
    ] {
        if !text.is_empty() {
            page.section(id, title, "");
            for line in text {
                page.item(line);
            }
        }
    }
    page
}

/// One feed: every value with spread, origin and source, what others print, cautions, and the sources spelled out.
#[must_use]
pub fn one(feed: &Feed, bibliography: &Bibliography) -> String {
    let mut text = format!("{} ({})\n{}\n", feed.name, feed.id, feed.class.heading());
    if let Some(note) = &feed.note {
        text.push_str(&wrapped("", note));
    }
    text.push('\n');
    text.push_str(&values(feed));
    text.push_str(&elsewhere(feed));
    text.push_str(&cautions(feed));
    text.push_str(&sources(feed, bibliography));
    text
}

fn values(feed: &Feed) -> String {
    let mut page = plain_table();
    page.set_content_arrangement(ContentArrangement::Dynamic).set_width(WIDTH);
    page.set_header(["", "mean", "unit", "sd", "where it comes from"]);
    for row in value_rows(feed) {
        page.add_row(row);
    }
    for column in [1, 3] {
        if let Some(column) = page.column_mut(column) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    let mut text = trimmed(&page);
    let unknown: Vec<&str> =
        Nutrient::ALL.into_iter().filter(|nutrient| !feed.values.contains_key(nutrient)).map(Nutrient::name).collect();
    if !unknown.is_empty() {
        text.push_str(&wrapped("", &format!("Not known, which is not zero: {}.", unknown.join(", "))));
    }
    text
}

/// Every value with its unit, spread and origin.
fn value_rows(feed: &Feed) -> Vec<Vec<String>> {
    let mut rows: Vec<Vec<String>> = Vec::new();
    let row = |name: &str, unit: &str, figure: &Figure| {
        let origin = origin(figure.origin, figure.source.as_deref(), figure.place.as_deref());
        let spread = figure.sd_origin.map_or(String::new(), |origin| format!("; sd {}", origin.words()));
        let sd = figure.sd.map_or(String::new(), plain);
        vec![name.to_owned(), plain(figure.mean), unit.to_owned(), sd, format!("{origin}{spread}")]
    };
    for (nutrient, figure) in &feed.values {
        rows.push(row(nutrient.name(), nutrient.unit(), figure));
        if *nutrient == Nutrient::Tdn {
            for (name, per_kg) in [("NEm", feed.nem_mcal_per_kg()), ("NEg", feed.neg_mcal_per_kg())] {
                let from = origin(Origin::Computed, Some(NET_ENERGY_FROM_TDN.source), Some("from TDN"));
                let per_lb = fixed(per_kg.map(|energy| energy * KG_PER_LB), 2);
                rows.push(vec![name.to_owned(), per_lb, "Mcal/lb of DM".to_owned(), String::new(), from]);
            }
        }
    }
    if let Some(bulk) = &feed.bulk_lb_per_ft3 {
        rows.push(row("bulk density", "lb/ft3 as fed", bulk));
    }
    if let Some(weight) = &feed.lb_per_bushel {
        rows.push(row("test weight", "lb/bushel as fed", weight));
    }
    rows
}

fn elsewhere(feed: &Feed) -> String {
    let text: String = elsewhere_lines(feed).iter().map(|line| wrapped("  ", line)).collect();
    if text.is_empty() { text } else { format!("\nWhat other sources say\n{text}") }
}

fn elsewhere_lines(feed: &Feed) -> Vec<String> {
    let bulk = feed.bulk_lb_per_ft3.iter().map(|figure| ("bulk density", figure));
    let figures = feed.values.iter().map(|(nutrient, figure)| (nutrient.name(), figure)).chain(bulk);
    let mut lines = Vec::new();
    for (name, figure) in figures {
        let low = figure.low.iter().map(|low| format!("low case {}", other(low)));
        let words: Vec<String> = low.chain(figure.also.iter().map(other)).collect();
        if !words.is_empty() {
            lines.push(format!("{name}: {}", words.join("; ")));
        }
    }
    lines
}

fn cautions(feed: &Feed) -> String {
    let mut text = String::new();
    for caution in &feed.cautions {
        let origin = origin(caution.origin, caution.source.as_deref(), caution.place.as_deref());
        text.push_str(&wrapped("  ", &caution.text));
        let figure = caution.figure.as_ref().map_or(String::new(), |figure| format!("{figure} "));
        text.push_str(&wrapped("      ", &format!("{figure}({origin})")));
    }
    if text.is_empty() {
        return text;
    }
    format!(
        "\nWhat to watch\n{text}  Local law, the feed tag, the label of what was sprayed, your veterinarian and your \n  \
         nutritionist go before this page.\n"
    )
}

fn caution_lines(feed: &Feed) -> Vec<String> {
    feed.cautions
        .iter()
        .map(|caution| {
            let origin = origin(caution.origin, caution.source.as_deref(), caution.place.as_deref());
            let figure = caution.figure.as_ref().map_or(String::new(), |figure| format!("{figure}; "));
            format!("{} ({figure}{origin})", caution.text)
        })
        .collect()
}

fn sources(feed: &Feed, bibliography: &Bibliography) -> String {
    let lines = source_lines(feed, bibliography);
    lines.iter().fold(String::from("\nSources\n"), |text, line| text + &wrapped("  ", line))
}

fn source_lines(feed: &Feed, bibliography: &Bibliography) -> Vec<String> {
    let figures = feed.values.values().chain(&feed.bulk_lb_per_ft3).chain(&feed.lb_per_bushel);
    let mut keys: BTreeSet<&str> = BTreeSet::from([NET_ENERGY_FROM_TDN.source]);
    let mut places: Vec<&str> = Vec::new();
    for figure in figures {
        keys.extend(figure.source.as_deref());
        places.extend(figure.place.as_deref());
        for other in figure.low.iter().chain(&figure.also) {
            keys.extend(other.source.as_deref());
            places.extend(other.place.as_deref());
        }
    }
    for caution in &feed.cautions {
        keys.extend(caution.source.as_deref());
        places.extend(caution.place.as_deref());
    }
    places.extend(feed.note.as_deref());
    // A place may name a second source.
    let named = |key: &str| places.iter().any(|place| place.split(|c: char| !is_key(c)).any(|word| word == key));
    let cited = bibliography.iter().filter(|(key, _)| keys.contains(key) || named(key));
    cited.map(|(key, source)| format!("{key}: {source}")).collect()
}

fn is_key(c: char) -> bool {
    c.is_ascii_alphanumeric() || c == '_'
}

/// Origin in words, source and place behind it.
fn origin(origin: Origin, source: Option<&str>, place: Option<&str>) -> String {
    [Some(origin.words()), source, place].into_iter().flatten().collect::<Vec<_>>().join(", ")
}

fn other(figure: &OtherFigure) -> String {
    let amount = if (figure.to - figure.from).abs() < f64::EPSILON {
        plain(figure.from)
    } else {
        format!("{} to {}", plain(figure.from), plain(figure.to))
    };
    format!("{amount} ({})", origin(figure.origin, figure.source.as_deref(), figure.place.as_deref()))
}

fn plain_table() -> Table {
    let mut table = Table::new();
    table.load_style(RULE_BELOW_HEADING).set_content_arrangement(ContentArrangement::Disabled);
    table
}

fn trimmed(table: &Table) -> String {
    table.lines().fold(String::new(), |text, line| text + line.trim_end() + "\n")
}

/// A number with this many decimals, or the sign that it is not known.
fn fixed(value: Option<f64>, decimals: usize) -> String {
    value.map_or(UNKNOWN.to_owned(), |value| if value == 0.0 { "0".to_owned() } else { format!("{value:.decimals$}") })
}

/// A number as it was written, with commas in the thousands.
fn plain(value: f64) -> String {
    let written = format!("{}", (value * 1e4).round() / 1e4);
    let (whole, rest) = written.split_once('.').map_or((written.as_str(), ""), |(whole, rest)| (whole, rest));
    let mut grouped = String::new();
    for (place, digit) in whole.chars().enumerate() {
        if place > 0 && (whole.len() - place).is_multiple_of(3) && whole.len() > 4 {
            grouped.push(',');
        }
        grouped.push(digit);
    }
    if rest.is_empty() { grouped } else { format!("{grouped}.{rest}") }
}

/// Text broken at spaces to the width of the page, every line after the first set in by two.
fn wrapped(indent: &str, text: &str) -> String {
    let mut lines = String::new();
    let mut line = indent.to_owned();
    let mut empty = true;
    for word in text.split_whitespace() {
        if !empty && line.chars().count() + 1 + word.chars().count() > usize::from(WIDTH) {
            lines.push_str(&line);
            lines.push('\n');
            line = format!("{indent}  ");
            empty = true;
        }
        if !empty {
            line.push(' ');
        }
        line.push_str(word);
        empty = false;
    }
    lines + &line + "\n"
}
