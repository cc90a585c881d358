//! What each group needs, by period: data, page and CSV.

use super::grid::{grid, paragraph};
use crate::limit::figure_text;
use crate::need::{EnergyParts, GramParts, Needs, mean_needs};
use crate::quantity::{KG_PER_LB, f_from_c, lb_from_kg};
use crate::winter::Case;
use serde::Serialize;
use std::fmt::Write as _;

/// Needs by part.
#[derive(Debug, Clone, Serialize)]
pub struct Parts {
    /// Energy, Mcal NEm.
    pub energy: EnergyParts,
    /// Metabolizable protein, g.
    pub mp: GramParts,
    /// Calcium, g.
    pub ca: GramParts,
    /// Phosphorus, g.
    pub p: GramParts,
}

/// One period of one group, per head and day.
#[derive(Debug, Clone, Serialize)]
pub struct PeriodNeeds {
    /// Label.
    pub label: String,
    /// First day.
    pub from: String,
    /// The day after the last.
    pub to: String,
    /// Days.
    pub days: u32,
    /// Weight, lb, without the calf she carries.
    pub weight_lb: f64,
    /// Mcal NEm, all parts.
    pub nem_mcal: f64,
    /// Mcal NEg for growth.
    pub neg_mcal: f64,
    /// Growth asked for, lb a day.
    pub gain_lb: f64,
    /// TDN, lb, at the density where need and intake meet.
    pub tdn_lb: f64,
    /// TDN, % of DM.
    pub tdn_pct_dm: f64,
    /// NEm, Mcal per lb of DM.
    pub nem_mcal_per_lb_dm: f64,
    /// Crude protein, lb.
    pub cp_lb: f64,
    /// Crude protein, % of DM at that intake.
    pub cp_pct_dm: f64,
    /// Metabolizable protein, g.
    pub mp_g: f64,
    /// Calcium, g.
    pub ca_g: f64,
    /// Calcium, % of DM.
    pub ca_pct_dm: f64,
    /// Phosphorus, g.
    pub p_g: f64,
    /// Phosphorus, % of DM.
    pub p_pct_dm: f64,
    /// Dry matter she will eat, lb.
    pub dmi_lb: f64,
    /// Vitamin A, IU.
    pub vitamin_a_iu: f64,
    /// Water, US gallons.
    pub water_gal: f64,
    /// Milk, lb.
    pub milk_lb: f64,
    /// Lower critical temperature, °F, where weather is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lower_critical_f: Option<f64>,
    /// Body condition at the end if fed to these needs.
    pub condition_to: f64,
    /// The parts.
    pub parts: Parts,
}

/// One group.
#[derive(Debug, Clone, Serialize)]
pub struct GroupNeeds {
    /// Name.
    pub name: String,
    /// Class for people.
    pub kind: &'static str,
    /// Head.
    pub head: u32,
    /// Periods.
    pub periods: Vec<PeriodNeeds>,
}

/// The needs of a case.
#[derive(Debug, Clone, Serialize)]
pub struct NeedsTable {
    /// Place.
    pub place: String,
    /// Groups.
    pub groups: Vec<GroupNeeds>,
}

/// The needs of every group in every period.
#[must_use]
pub fn of(case: &Case) -> NeedsTable {
    let start = case.periods.first().map(|period| period.from);
    let groups = case
        .groups
        .iter()
        .map(|group| GroupNeeds {
            name: group.name.clone(),
            kind: group.class.name(),
            head: group.head,
            periods: case
                .periods
                .iter()
                .map(|period| {
                    let needs = mean_needs(group, period, &case.place, start.unwrap_or(period.from), None);
                    row(&needs, period.label.clone(), (period.from.to_string(), period.to.to_string()), period.days())
                })
                .collect(),
        })
        .collect();
    NeedsTable { place: case.place.name.clone(), groups }
}

fn row(needs: &Needs, label: String, (from, to): (String, String), days: u32) -> PeriodNeeds {
    let share = |grams: f64| if needs.dmi_kg > 0.0 { 0.1 * grams / needs.dmi_kg } else { 0.0 };
    PeriodNeeds {
        label,
        from,
        to,
        days,
        weight_lb: lb_from_kg(needs.weight_kg),
        nem_mcal: needs.energy.total_nem_mcal(),
        neg_mcal: needs.neg_mcal,
        gain_lb: lb_from_kg(needs.gain_kg),
        tdn_lb: lb_from_kg(needs.dmi_kg * needs.tdn_pct / 100.0),
        tdn_pct_dm: needs.tdn_pct,
        nem_mcal_per_lb_dm: needs.nem_mcal_per_kg * KG_PER_LB,
        cp_lb: lb_from_kg(needs.cp_g / 1000.0),
        cp_pct_dm: share(needs.cp_g),
        mp_g: needs.mp.total_g(),
        ca_g: needs.ca.total_g(),
        ca_pct_dm: share(needs.ca.total_g()),
        p_g: needs.p.total_g(),
        p_pct_dm: share(needs.p.total_g()),
        dmi_lb: lb_from_kg(needs.dmi_kg),
        vitamin_a_iu: needs.vitamin_a_iu,
        water_gal: needs.water_gal,
        milk_lb: lb_from_kg(needs.milk_kg),
        lower_critical_f: needs.lower_critical_c.map(f_from_c),
        condition_to: needs.condition_to,
        parts: Parts { energy: needs.energy, mp: needs.mp, ca: needs.ca, p: needs.p },
    }
}

/// The page.
#[must_use]
pub fn page(table: &NeedsTable) -> String {
    let mut out = String::new();
    let place = if table.place.is_empty() { "Needs" } else { &table.place };
    let _ = writeln!(out, "{place}: what one head needs a day");
    for group in &table.groups {
        let _ = writeln!(out, "\n{} ({}, {} head)", group.name.to_uppercase(), group.kind, group.head);
        let grows = group.periods.iter().any(|period| period.neg_mcal > 0.0);
        let mut header = strings(&["", "weight lb", "DM lb", "TDN lb", "TDN %", "CP lb", "CP %", "NEm Mcal"]);
        if grows {
            header.extend(strings(&["NEg Mcal", "gain lb"]));
        }
        header.extend(strings(&["MP g", "Ca g", "Ca %", "P g", "P %", "vit. A 1000 IU", "water gal"]));
        let rows: Vec<Vec<String>> = group
            .periods
            .iter()
            .map(|period| {
                let f = figure_text;
                let mut row = vec![
                    format!("  {}", period.label),
                    f(period.weight_lb, 0),
                    f(period.dmi_lb, 1),
                    f(period.tdn_lb, 1),
                    f(period.tdn_pct_dm, 1),
                    f(period.cp_lb, 2),
                    f(period.cp_pct_dm, 1),
                    f(period.nem_mcal, 1),
                ];
                if grows {
                    row.extend([f(period.neg_mcal, 2), f(period.gain_lb, 2)]);
                }
                row.extend([
                    f(period.mp_g, 0),
                    f(period.ca_g, 0),
                    f(period.ca_pct_dm, 2),
                    f(period.p_g, 0),
                    f(period.p_pct_dm, 2),
                    f(period.vitamin_a_iu / 1000.0, 0),
                    f(period.water_gal, 1),
                ]);
                row
            })
            .collect();
        out.push_str(&grid(1, &header, &rows));
        parts(&mut out, group);
    }
    out.push('\n');
    out.push_str(&paragraph(
        "",
        "Equations: NRC 1996, with the condition scores of NASEM 2016; `overwinter explain maintenance` and the like show each. TDN is by the \
         cubic; the printed 1996 tables list it about one point lower. % are of the dry matter she will eat.",
    ));
    out
}

fn parts(out: &mut String, group: &GroupNeeds) {
    let header = strings(&[
        "  of the NEm:",
        "maintenance",
        "walking",
        "cold",
        "calf carried",
        "milk",
        "condition",
        "| of the MP, g:",
        "maintenance",
        "calf",
        "milk",
        "gain",
    ]);
    let rows: Vec<Vec<String>> = group
        .periods
        .iter()
        .map(|period| {
            let (energy, mp) = (period.parts.energy, period.parts.mp);
            let f = |value: f64, digits: usize| {
                if value.abs() < 0.005 { String::new() } else { figure_text(value, digits) }
            };
            vec![
                format!("  {}", period.label),
                f(energy.maintenance_nem_mcal, 2),
                f(energy.activity_nem_mcal, 2),
                f(energy.cold_nem_mcal, 2),
                f(energy.pregnancy_nem_mcal, 2),
                f(energy.milk_nem_mcal, 2),
                f(energy.condition_nem_mcal, 2),
                "|".to_owned(),
                f(mp.maintenance_g, 0),
                f(mp.pregnancy_g, 0),
                f(mp.milk_g, 0),
                f(mp.gain_g, 0),
            ]
        })
        .collect();
    out.push_str(&grid(1, &header, &rows));
}

/// CSV, a line for each group and period.
#[must_use]
pub fn csv(table: &NeedsTable) -> String {
    let header = [
        "group",
        "period",
        "from",
        "to",
        "days",
        "weight_lb",
        "dmi_lb",
        "tdn_lb",
        "tdn_pct_dm",
        "cp_lb",
        "cp_pct_dm",
        "nem_mcal",
        "neg_mcal",
        "gain_lb",
        "mp_g",
        "ca_g",
        "p_g",
        "vitamin_a_iu",
        "water_gal",
        "maintenance_nem_mcal",
        "activity_nem_mcal",
        "cold_nem_mcal",
        "pregnancy_nem_mcal",
        "milk_nem_mcal",
        "condition_nem_mcal",
    ];
    let rows = table.groups.iter().flat_map(|group| {
        group.periods.iter().map(move |period| {
            let energy = period.parts.energy;
            let numbers = [
                period.weight_lb,
                period.dmi_lb,
                period.tdn_lb,
                period.tdn_pct_dm,
                period.cp_lb,
                period.cp_pct_dm,
                period.nem_mcal,
                period.neg_mcal,
                period.gain_lb,
                period.mp_g,
                period.ca_g,
                period.p_g,
                period.vitamin_a_iu,
                period.water_gal,
                energy.maintenance_nem_mcal,
                energy.activity_nem_mcal,
                energy.cold_nem_mcal,
                energy.pregnancy_nem_mcal,
                energy.milk_nem_mcal,
                energy.condition_nem_mcal,
            ];
            let mut row = vec![
                group.name.clone(),
                period.label.clone(),
                period.from.clone(),
                period.to.clone(),
                period.days.to_string(),
            ];
            row.extend(numbers.iter().map(|number| format!("{number:.4}")));
            row
        })
    });
    super::csv::table(&header, rows)
}

fn strings(items: &[&str]) -> Vec<String> {
    items.iter().map(|item| (*item).to_owned()).collect()
}
