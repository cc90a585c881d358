//! The delivery slip and the buyer's sheet.

use super::model::{GinReport, Paper};
use crate::report::grid::paragraph;
use crate::report::page::{Block, Page, Table};
use std::fmt::Write as _;

/// The delivery slip of each byproduct: what is known, what is missing, blanks to fill at the scale.
#[must_use]
pub fn slips(report: &GinReport) -> String {
    report.papers.iter().map(|paper| slip(report, paper)).collect::<Vec<_>>().join("\n")
}

fn slip(report: &GinReport, paper: &Paper) -> String {
    let mut out = String::new();
    let _ = writeln!(out, "DELIVERY SLIP                                          {}", report.gin);
    let _ = writeln!(out, "Product   {}", paper.name);
    out.push_str(&wrong(paper));
    out.push_str("Date ______________   Truck ______________   Driver ____________________\n");
    out.push_str("Gross _____________ lb   Tare _____________ lb   Net _____________ lb\n");
    let fed_to = if paper.product == "trash" { "For beef cattle only" } else { "Fed to ___________________" };
    let _ = writeln!(out, "Buyer ____________________________   {fed_to}\n");
    for line in &paper.lines {
        let known = line.known.clone().unwrap_or_else(|| format!("MISSING: {}", line.why));
        out.push_str(&paragraph(&format!("  {:<24}", line.what), &known));
    }
    out.push('\n');
    out.push_str(&missing(paper));
    out.push_str(&paragraph(
        "",
        "Feed that is sold may need a license, a label and a tonnage report. Ask your state feed control office.",
    ));
    out.push_str("\nSeller _____________________________   Received by _____________________________\n");
    out
}

/// What is known to be wrong, loudly.
fn wrong(paper: &Paper) -> String {
    let mut page = Page::default();
    add_wrong(&mut page, &paper.do_not_sell, &paper.warnings);
    page.text()
}

/// Adds what is known to be wrong with a byproduct to a page.
pub(super) fn add_wrong(page: &mut Page, do_not_sell: &[String], warnings: &[String]) {
    for why in do_not_sell {
        page.words("*** ", format!("DO NOT SELL: {why}."));
    }
    for why in warnings {
        page.words("*** ", format!("CAUTION: {why}."));
    }
}

/// What is missing, loudly.
fn missing(paper: &Paper) -> String {
    let mut page = Page::default();
    add_missing(&mut page, paper);
    page.text()
}

/// Adds what is missing to a page.
pub(super) fn add_missing(page: &mut Page, paper: &Paper) {
    if paper.missing.is_empty() {
        return;
    }
    page.push(Block::Line(format!("*** {} MISSING on the {} slip ***", paper.missing.len(), paper.product)));
    page.words("  ", format!("{}. A careful buyer will not take it without.", paper.missing.join(", ")));
}

/// The buyer's sheet of each byproduct.
#[must_use]
pub fn buyer_sheets(report: &GinReport) -> String {
    report.papers.iter().map(|paper| buyer_sheet(report, paper)).collect::<Vec<_>>().join("\n")
}

fn buyer_sheet(report: &GinReport, paper: &Paper) -> String {
    let mut out = String::new();
    let _ = writeln!(out, "WHAT THE BUYER MUST KNOW: {}", paper.name);
    let _ = writeln!(out, "from {}\n", report.gin);
    out.push_str(&wrong(paper));
    for saying in &paper.sayings {
        out.push_str(&paragraph("  - ", saying));
    }
    out.push_str("\nWHAT IS KNOWN OF THIS LOT\n");
    for line in &paper.lines {
        let known = line.known.clone().unwrap_or_else(|| format!("MISSING: {}", line.why));
        out.push_str(&paragraph(&format!("  {:<24}", line.what), &known));
    }
    out.push('\n');
    out.push_str(&missing(paper));
    out.push_str("\nWHAT TO WATCH, with the figure and where it comes from\n");
    for caution in &paper.cautions {
        let mut text = caution.text.trim().to_owned();
        if let Some(figure) = &caution.figure {
            let _ = write!(text, " [{figure}]");
        }
        let source = caution.source.as_ref().map_or(String::new(), |source| format!("{source}, "));
        let _ = write!(text, " ({source}{})", caution.origin.words());
        out.push_str(&paragraph("  - ", &text));
    }
    out
}

/// The delivery slips as a page.
#[must_use]
pub fn slips_page(report: &GinReport) -> Page {
    let mut page = Page::new("Delivery slip", format!(": {}", report.gin));
    for paper in &report.papers {
        page.section(id_of(paper), paper.name.clone(), "");
        add_wrong(&mut page, &paper.do_not_sell, &paper.warnings);
        let fed_to = if paper.product == "trash" { "For beef cattle only." } else { "Fed to ______________" };
        page.words("", "Date ______________ Truck ______________ Driver ______________");
        page.words("", "Gross ____________ lb Tare ____________ lb Net ____________ lb");
        page.words("", format!("Buyer ____________________________ {fed_to}"));
        known(&mut page, paper);
        add_missing(&mut page, paper);
        page.words(
            "",
            "Feed that is sold may need a license, a label and a tonnage report. Ask your state feed control office.",
        );
        page.words("", "Seller ______________________ Received by ______________________");
    }
    page
}

/// The buyer's sheets as a page.
#[must_use]
pub fn buyer_sheets_page(report: &GinReport) -> Page {
    let mut page = Page::new("What the buyer must know", format!(": {}", report.gin));
    for paper in &report.papers {
        page.section(id_of(paper), paper.name.clone(), "");
        add_wrong(&mut page, &paper.do_not_sell, &paper.warnings);
        for saying in &paper.sayings {
            page.item(*saying);
        }
        known(&mut page, paper);
        add_missing(&mut page, paper);
        page.words("", "What to watch, with the figure and where it comes from:");
        for caution in &paper.cautions {
            let figure = caution.figure.as_ref().map_or(String::new(), |figure| format!(" [{figure}]"));
            let source = caution.source.as_ref().map_or(String::new(), |source| format!("{source}, "));
            page.item(format!("{}{figure} ({source}{})", caution.text.trim(), caution.origin.words()));
        }
    }
    page
}

fn id_of(paper: &Paper) -> &'static str {
    if paper.product == "trash" { "trash" } else { "seed" }
}

/// What is known of the lot, line by line.
fn known(page: &mut Page, paper: &Paper) {
    let line = |line: &super::model::PaperLine| {
        vec![line.what.to_owned(), line.known.clone().unwrap_or_else(|| format!("MISSING: {}", line.why))]
    };
    page.push(Block::Table(Table {
        caption: format!("What is known of this lot of {}", paper.product),
        left: 2,
        header: vec!["asked for".to_owned(), "known".to_owned()],
        rows: paper.lines.iter().map(line).collect(),
        ..Table::default()
    }));
}
