//! A printed requirement in place of ours.

/// A printed requirement in place of ours, per head and day. Only what is given replaces.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct NeedsOverride {
    /// Mcal NEm.
    pub nem_mcal: Option<f64>,
    /// kg of TDN; becomes the energy need in place of NEm.
    pub tdn_kg: Option<f64>,
    /// kg of crude protein; also drops the metabolizable-protein need.
    pub cp_kg: Option<f64>,
    /// g of metabolizable protein.
    pub mp_g: Option<f64>,
    /// g of calcium.
    pub ca_g: Option<f64>,
    /// g of phosphorus.
    pub p_g: Option<f64>,
    /// kg of dry matter at most.
    pub dmi_max_kg: Option<f64>,
}
