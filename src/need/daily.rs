//! The needs of one group, per head and day, as the mean over the days of a period, with their parts.

/// Energy asked for at the efficiency of maintenance, Mcal NEm per head and day, by what asks for it.
#[derive(Debug, Clone, Copy, PartialEq, Default, serde::Serialize)]
pub struct EnergyParts {
    /// Keeping alive.
    pub maintenance_nem_mcal: f64,
    /// Walking and grazing.
    pub activity_nem_mcal: f64,
    /// Cold.
    pub cold_nem_mcal: f64,
    /// The calf she carries.
    pub pregnancy_nem_mcal: f64,
    /// Milk.
    pub milk_nem_mcal: f64,
    /// Body condition to put on (above 0) or allowed to come off (below 0).
    pub condition_nem_mcal: f64,
}

impl EnergyParts {
    /// Sum of the parts.
    #[must_use]
    pub fn total_nem_mcal(&self) -> f64 {
        self.maintenance_nem_mcal
            + self.activity_nem_mcal
            + self.cold_nem_mcal
            + self.pregnancy_nem_mcal
            + self.milk_nem_mcal
            + self.condition_nem_mcal
    }
}

/// An amount asked for, g per head and day, by what asks for it.
#[derive(Debug, Clone, Copy, PartialEq, Default, serde::Serialize)]
pub struct GramParts {
    /// Maintenance.
    pub maintenance_g: f64,
    /// The calf she carries.
    pub pregnancy_g: f64,
    /// Milk.
    pub milk_g: f64,
    /// Growth.
    pub gain_g: f64,
}

impl GramParts {
    /// Sum of the parts.
    #[must_use]
    pub fn total_g(&self) -> f64 {
        self.maintenance_g + self.pregnancy_g + self.milk_g + self.gain_g
    }
}

/// What one head needs a day, mean over a period.
#[derive(Debug, Clone, PartialEq, Default, serde::Serialize)]
pub struct Needs {
    /// Mean weight in the period, kg, without the calf she carries.
    pub weight_kg: f64,
    /// Energy at the efficiency of maintenance, by part.
    pub energy: EnergyParts,
    /// Energy for growth, Mcal NEg. 0 for animals that do not grow.
    pub neg_mcal: f64,
    /// Shrunk gain asked for, kg a day (growth only, not conceptus or condition).
    pub gain_kg: f64,
    /// Metabolizable protein by part, g.
    pub mp: GramParts,
    /// Crude protein, g: metabolizable protein / 0.67.
    pub cp_g: f64,
    /// Calcium by part, g.
    pub ca: GramParts,
    /// Phosphorus by part, g.
    pub p: GramParts,
    /// Predicted dry matter intake at the density where need and intake meet, kg.
    pub dmi_kg: f64,
    /// That density, Mcal NEm per kg of dry matter.
    pub nem_mcal_per_kg: f64,
    /// The same density as TDN, % of dry matter, by the cubic.
    pub tdn_pct: f64,
    /// Vitamin A, IU.
    pub vitamin_a_iu: f64,
    /// Water, US gallons.
    pub water_gal: f64,
    /// Share of the period's days in milk, 0 to 1.
    pub milking_share: f64,
    /// Share of the period's days in the last third of gestation, 0 to 1.
    pub last_third_share: f64,
    /// Mean milk, kg a day.
    pub milk_kg: f64,
    /// Body condition expected at the start and at the end of the period if fed to these needs.
    pub condition_from: f64,
    /// Body condition at the end of the period.
    pub condition_to: f64,
    /// Energy of one condition score at this weight, Mcal (from the present score to the next below).
    pub mcal_per_score: f64,
    /// Lower critical temperature, °C, where weather is known.
    pub lower_critical_c: Option<f64>,
}
