//! What each group needs, by period, as plain data with units in the names, and as CSV.

use crate::need::{EnergyParts, GramParts, Needs, mean_needs};
use crate::quantity::{KG_PER_LB, f_from_c, lb_from_kg};
use crate::winter::Case;
use serde::Serialize;

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
    /// First day; a table without dates has none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
    /// The day after the last.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<String>,
    /// Days.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub days: Option<u32>,
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
    /// Cold as the heat balance has it, Mcal NEm; what is fed for stops at 40 % of maintenance.
    pub cold_uncapped_nem_mcal: f64,
    /// Body condition at the end if fed to these needs.
    pub condition_to: f64,
    /// No diet between 40 and 95 % TDN meets the need at the predicted intake: she cannot eat enough, or eats more than
    /// she needs.
    pub intake_at_bound: bool,
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
    /// Head; a table without a herd has none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub head: Option<u32>,
    /// Body condition score at the start.
    pub condition: f64,
    /// Head of the first column of the page; a space breaks it, `_` is a space that does not.
    #[serde(skip)]
    pub by: &'static str,
    /// Periods, or rows of the table.
    pub periods: Vec<PeriodNeeds>,
}

/// The needs of a case.
#[derive(Debug, Clone, Serialize)]
pub struct NeedsTable {
    /// Place; empty for a table without a herd.
    pub place: String,
    /// What the weather counted and what not, in words.
    pub weather: String,
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
            head: Some(group.head),
            condition: group.condition,
            by: "",
            periods: case
                .periods
                .iter()
                .map(|period| {
                    let needs = mean_needs(group, period, &case.place, start.unwrap_or(period.from), None);
                    PeriodNeeds {
                        from: Some(period.from.to_string()),
                        to: Some(period.to.to_string()),
                        days: Some(period.days()),
                        ..row(&needs, period.label.clone())
                    }
                })
                .collect(),
        })
        .collect();
    NeedsTable { place: case.place.name.clone(), weather: super::weather::words(case), groups }
}

/// One row: needs per head and day in US units, without dates.
#[must_use]
pub fn row(needs: &Needs, label: String) -> PeriodNeeds {
    let share = |grams: f64| if needs.dmi_kg > 0.0 { 0.1 * grams / needs.dmi_kg } else { 0.0 };
    PeriodNeeds {
        label,
        from: None,
        to: None,
        days: None,
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
        cold_uncapped_nem_mcal: needs.cold_uncapped_nem_mcal,
        condition_to: needs.condition_to,
        intake_at_bound: needs.intake_at_bound,
        parts: Parts { energy: needs.energy, mp: needs.mp, ca: needs.ca, p: needs.p },
    }
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
        "ca_pct_dm",
        "p_g",
        "p_pct_dm",
        "milk_lb",
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
                period.ca_pct_dm,
                period.p_g,
                period.p_pct_dm,
                period.milk_lb,
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
                period.from.clone().unwrap_or_default(),
                period.to.clone().unwrap_or_default(),
                period.days.map_or(String::new(), |days| days.to_string()),
            ];
            row.extend(numbers.iter().map(|number| format!("{number:.4}")));
            row
        })
    });
    super::csv::table(&header, rows)
}
