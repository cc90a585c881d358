//! The needs as a page: a table that reads like one in print, and what each part asks by itself.

use super::needs::{GroupNeeds, NeedsTable, PeriodNeeds};
use super::page::{Block, Page, Table};
use crate::limit::catalog::PROTEIN_FLOOR_PCT;
use crate::limit::figure_text;
use crate::need::{EnergyParts, GramParts};
use crate::quantity::{c_from_f, kg_from_lb};

/// How a page of needs is printed.
#[derive(Debug, Clone, Copy, Default)]
pub struct PageStyle {
    /// Kilograms, liters and degrees Celsius.
    pub metric: bool,
    /// What each part asks, under each table.
    pub parts: bool,
}

/// Liters in a US gallon.
const LITERS_PER_GALLON: f64 = 3.785_412;

/// One column: its head, its unit in pounds and in kilograms, the value in both, decimals in both.
struct Column {
    head: &'static str,
    units: (&'static str, &'static str),
    value: fn(&PeriodNeeds) -> f64,
    to_metric: fn(f64) -> f64,
    digits: (usize, usize),
    /// Left out where no row has any.
    optional: bool,
}

fn same(value: f64) -> f64 {
    value
}
fn lb_to_g(lb: f64) -> f64 {
    1000.0 * kg_from_lb(lb)
}
fn liters(gallons: f64) -> f64 {
    gallons * LITERS_PER_GALLON
}

const BASE: Column =
    Column { head: "", units: ("", ""), value: |_| 0.0, to_metric: same, digits: (0, 0), optional: false };

static COLUMNS: &[Column] = &[
    Column {
        head: "weight",
        units: ("lb", "kg"),
        value: |row| row.weight_lb,
        to_metric: kg_from_lb,
        optional: true,
        ..BASE
    },
    Column {
        head: "gain",
        units: ("lb", "kg"),
        value: |row| row.gain_lb,
        to_metric: kg_from_lb,
        digits: (2, 2),
        optional: true,
    },
    Column {
        head: "milk",
        units: ("lb", "kg"),
        value: |row| row.milk_lb,
        to_metric: kg_from_lb,
        digits: (1, 1),
        optional: true,
    },
    Column { head: "DM", units: ("lb", "kg"), value: |row| row.dmi_lb, to_metric: kg_from_lb, digits: (1, 1), ..BASE },
    Column { head: "TDN", units: ("% DM", "% DM"), value: |row| row.tdn_pct_dm, digits: (1, 1), ..BASE },
    Column { head: "TDN", units: ("lb", "kg"), value: |row| row.tdn_lb, to_metric: kg_from_lb, digits: (1, 1), ..BASE },
    Column { head: "NEm", units: ("Mcal", "Mcal"), value: |row| row.nem_mcal, digits: (1, 1), ..BASE },
    Column { head: "NEg", units: ("Mcal", "Mcal"), value: |row| row.neg_mcal, digits: (2, 2), optional: true, ..BASE },
    Column { head: "CP", units: ("% DM", "% DM"), value: |row| row.cp_pct_dm, digits: (1, 1), ..BASE },
    Column { head: "CP", units: ("lb", "g"), value: |row| row.cp_lb, to_metric: lb_to_g, digits: (2, 0), ..BASE },
    Column { head: "MP", units: ("g", "g"), value: |row| row.mp_g, ..BASE },
    Column { head: "Ca", units: ("% DM", "% DM"), value: |row| row.ca_pct_dm, digits: (2, 2), ..BASE },
    Column { head: "P", units: ("% DM", "% DM"), value: |row| row.p_pct_dm, digits: (2, 2), ..BASE },
    Column { head: "vit.A", units: ("kIU", "kIU"), value: |row| row.vitamin_a_iu / 1000.0, ..BASE },
    Column {
        head: "water",
        units: ("gal", "L"),
        value: |row| row.water_gal,
        to_metric: liters,
        digits: (1, 0),
        ..BASE
    },
];

/// The page.
#[must_use]
pub fn page(table: &NeedsTable, style: PageStyle) -> String {
    sections(table, style).text()
}

/// The page as data.
#[must_use]
pub fn sections(table: &NeedsTable, style: PageStyle) -> Page {
    let of_a_herd = !table.place.is_empty() || table.groups.iter().any(|group| group.head.is_some());
    let place = if table.place.is_empty() { "Needs" } else { &table.place };
    let title = "what one head needs a day";
    let mut page = if of_a_herd { Page::new(place, format!(": {title}")) } else { Page::new(capital(title), "") };
    for group in &table.groups {
        page.section("group", "", heading(group, style));
        main_table(&mut page, group, style);
        if style.parts {
            parts(&mut page, group, style);
        }
    }
    page.section("notes", "", "");
    notes(&mut page, table, of_a_herd, style);
    page
}

fn heading(group: &GroupNeeds, style: PageStyle) -> String {
    let Some(head) = group.head else { return capital(&group.name) };
    let weight = group.periods.first().map_or(String::new(), |row| {
        let (value, unit) = if style.metric { (kg_from_lb(row.weight_lb), "kg") } else { (row.weight_lb, "lb") };
        format!(", {} {unit}", figure_text(value, 0))
    });
    format!(
        "{}: {} head, {}{weight}, condition {}",
        group.name.to_uppercase(),
        figure_text(f64::from(head), 0),
        group.kind,
        figure_text(group.condition, 1)
    )
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}

/// `2026-12` as `Dec`, `2026-12-16` as `Dec 16`; anything else as it is.
fn label_words(label: &str) -> String {
    const MONTHS: [&str; 12] = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
    let parts: Vec<&str> = label.split('-').collect();
    let month = parts.get(1).and_then(|text| text.parse::<usize>().ok()).and_then(|n| MONTHS.get(n.wrapping_sub(1)));
    match (parts.as_slice(), month) {
        ([year, _], Some(month)) if year.len() == 4 => (*month).to_owned(),
        ([year, _, day], Some(month)) if year.len() == 4 => format!("{month} {}", day.trim_start_matches('0')),
        _ => label.to_owned(),
    }
}

/// What is asked by itself is less than the rumen needs.
fn below_floor(row: &PeriodNeeds) -> bool {
    row.cp_pct_dm > 0.0 && row.cp_pct_dm < PROTEIN_FLOOR_PCT
}

fn main_table(page: &mut Page, group: &GroupNeeds, style: PageStyle) {
    let first_weight = group.periods.first().map_or(0.0, |row| row.weight_lb);
    let changes = group.periods.iter().any(|row| (row.weight_lb - first_weight).abs() > 0.5);
    let columns: Vec<&Column> = COLUMNS
        .iter()
        .filter(|column| {
            // A weight that stays stands in the heading.
            (column.head != "weight" || changes && !group.by.starts_with("weight"))
                && (!column.optional || group.periods.iter().any(|row| (column.value)(row).abs() > 1e-6))
                && (column.head != "gain" || !group.by.starts_with("gain"))
        })
        .collect();
    // A space breaks the head; `_` is a space that does not. All heads end on the same line.
    let first = group.by.replace(' ', "\n").replace('_', " ");
    let above = "\n".repeat(first.lines().count().saturating_sub(2));
    let mut header = vec![first];
    header.extend(columns.iter().map(|column| {
        let unit = if style.metric { column.units.1 } else { column.units.0 };
        format!("{above}{}\n{unit}", column.head)
    }));
    let rows: Vec<Vec<String>> = group
        .periods
        .iter()
        .map(|row| {
            let mut first = label_words(&row.label);
            if row.intake_at_bound {
                first.push_str(" †");
            }
            if below_floor(row) {
                first.push_str(" *");
            }
            let mut cells = vec![first];
            cells.extend(columns.iter().map(|column| {
                let value = (column.value)(row);
                if column.optional && value.abs() < 1e-6 {
                    String::new()
                } else if style.metric {
                    figure_text((column.to_metric)(value), column.digits.1)
                } else {
                    figure_text(value, column.digits.0)
                }
            }));
            cells
        })
        .collect();
    // The widest of these tables needs every column of the page: the margin of the grid goes.
    let caption = format!("{}: what one head needs a day", group.name);
    page.push(Block::Table(Table { caption, left: 1, header, rows, flush: true, ..Table::default() }));
}

/// Figures of one part, blank where nothing is asked.
fn part(value: f64, digits: usize) -> String {
    let least = 0.5 * 0.1_f64.powi(i32::try_from(digits).unwrap_or(0));
    if value.abs() < least { String::new() } else { figure_text(value, digits) }
}

fn parts(page: &mut Page, group: &GroupNeeds, style: PageStyle) {
    energy_parts(page, group, style);
    gram_parts(page, "metabolizable protein, g, by what asks for it", group, &[("", |row| row.parts.mp)]);
    gram_parts(page, "calcium and phosphorus, g", group, &[("Ca", |row| row.parts.ca), ("P", |row| row.parts.p)]);
}

type Energy = fn(&EnergyParts) -> f64;
type Grams = fn(&PeriodNeeds) -> GramParts;
type Gram = fn(&GramParts) -> f64;

fn energy_parts(page: &mut Page, group: &GroupNeeds, style: PageStyle) {
    let columns: [(&str, Energy); 6] = [
        ("maintenance", |e| e.maintenance_nem_mcal),
        ("walking", |e| e.activity_nem_mcal),
        ("cold", |e| e.cold_nem_mcal),
        ("calf carried", |e| e.pregnancy_nem_mcal),
        ("milk", |e| e.milk_nem_mcal),
        ("condition", |e| e.condition_nem_mcal),
    ];
    let shown: Vec<&(&str, Energy)> = columns
        .iter()
        .filter(|(_, of)| group.periods.iter().any(|row| !part(of(&row.parts.energy), 2).is_empty()))
        .collect();
    let grows = group.periods.iter().any(|row| row.neg_mcal > 0.0);
    let weather = group.periods.iter().any(|row| row.lower_critical_f.is_some());
    let mut header = vec![String::new()];
    header.extend(shown.iter().map(|(name, _)| (*name).to_owned()));
    header.push("all NEm".to_owned());
    if grows {
        header.push("growth, NEg".to_owned());
    }
    if weather {
        header.push(if style.metric { "cold below, °C".to_owned() } else { "cold below, °F".to_owned() });
    }
    let rows: Vec<Vec<String>> = group
        .periods
        .iter()
        .map(|row| {
            let mut cells = vec![format!("  {}", label_words(&row.label))];
            cells.extend(shown.iter().map(|(_, of)| part(of(&row.parts.energy), 2)));
            cells.push(figure_text(row.nem_mcal, 2));
            if grows {
                cells.push(part(row.neg_mcal, 2));
            }
            if weather {
                cells.push(
                    row.lower_critical_f
                        .map_or(String::new(), |f| figure_text(if style.metric { c_from_f(f) } else { f }, 0)),
                );
            }
            cells
        })
        .collect();
    parts_table(page, "energy, Mcal, by what asks for it", group, header, rows);
}

fn gram_parts(page: &mut Page, title: &str, group: &GroupNeeds, of: &[(&str, Grams)]) {
    let columns: [(&str, Gram); 4] = [
        ("maintenance", |g| g.maintenance_g),
        ("calf carried", |g| g.pregnancy_g),
        ("milk", |g| g.milk_g),
        ("gain", |g| g.gain_g),
    ];
    let mut header = vec![String::new()];
    let mut shown: Vec<(Grams, Gram)> = Vec::new();
    for (symbol, grams) in of {
        for (name, column) in columns {
            if group.periods.iter().any(|row| column(&grams(row)) > 0.0) {
                header.push(if symbol.is_empty() { name.to_owned() } else { format!("{symbol}\n{name}") });
                shown.push((*grams, column));
            }
        }
        header.push(if symbol.is_empty() { "all".to_owned() } else { format!("{symbol}\nall") });
        shown.push((*grams, GramParts::total_g));
    }
    let rows: Vec<Vec<String>> = group
        .periods
        .iter()
        .map(|row| {
            let mut cells = vec![format!("  {}", label_words(&row.label))];
            cells.extend(shown.iter().map(|(grams, column)| part(column(&grams(row)), 0)));
            cells
        })
        .collect();
    parts_table(page, title, group, header, rows);
}

fn parts_table(page: &mut Page, title: &str, group: &GroupNeeds, header: Vec<String>, rows: Vec<Vec<String>>) {
    let caption = format!("{}: {title}", group.name);
    page.push(Block::Table(Table { caption, lead: format!("  {title}"), left: 1, header, rows, ..Table::default() }));
}

fn notes(page: &mut Page, table: &NeedsTable, of_a_herd: bool, style: PageStyle) {
    let rows = || table.groups.iter().flat_map(|group| &group.periods);
    if rows().any(|row| row.intake_at_bound) {
        page.words(
            "",
            "† No diet from 40 to 95 % TDN meets the need at the intake foreseen: nothing they can eat makes this, or any \
             diet more than makes it.",
        );
    }
    if rows().any(below_floor) {
        page.words(
            "",
            format!(
                "* Below {PROTEIN_FLOOR_PCT} % protein in the whole diet the rumen slows and they eat less (Univ. of Arizona): feed at least \
                 that, whatever the animal alone needs; a plan does."
            ),
        );
    }
    let beyond = rows().any(|row| row.cold_uncapped_nem_mcal > row.parts.energy.cold_nem_mcal + 0.005);
    if of_a_herd {
        let cap = if beyond { "; what cold asks beyond 40 % of maintenance is not fed for" } else { "" };
        page.words("", format!("Counted: {}{cap}.", table.weather));
    } else {
        page.words(
            "",
            "Thermoneutral, no walking, condition held; weight is without the calf carried. Printed tables take the weight given as \
             shrunk weight, and so does this one.",
        );
    }
    page.words(
        "",
        "DM is the dry matter they will eat of the poorest diet that holds them; % DM is of that. TDN is by the cubic of net energy; the \
         printed 1996 tables list it about one point lower. kIU is 1,000 IU. Water is what they drink on dry feed.",
    );
    page.words(
        "",
        "Sources: energy, intake, metabolizable protein, Ca, P: National Research Council 1996 (update 2000), coefficients proved on its \
         printed tables; CP = MP / 0.67, Univ. of Arkansas MP391; condition: National Academies 2016; vitamin A: veterinary manual after \
         the 2016 edition; water: Univ. of Missouri 2012. Each equation: `overwinter explain maintenance` and the like.",
    );
    if !style.parts {
        page.words("", "What pregnancy, milk, cold and growth each ask: add `--parts`.");
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_read_as_months() {
        assert_eq!(label_words("2026-12"), "Dec");
        assert_eq!(label_words("2026-12-06"), "Dec 6");
        assert_eq!(label_words("10"), "10");
        assert_eq!(label_words("2027-13"), "2027-13");
    }
}
