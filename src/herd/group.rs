//! A group: a class of cattle, how many, how heavy, in what condition, and the dates that matter.

use jiff::civil::Date;

/// Class of cattle. Limits and equations differ by it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum AnimalClass {
    /// Grown cow: dry, milking or open.
    Cow,
    /// Cow with her first calf or between first and second, still growing.
    FirstCalfCow,
    /// Heifer in calf, still growing.
    BredHeifer,
    /// Heifer kept for breeding, not yet in calf.
    ReplacementHeifer,
    /// Weaned steer or heifer kept to grow.
    Stocker,
    /// Bull to 24 months.
    YoungBull,
    /// Grown bull.
    Bull,
    /// Calf under four months: no ration is made for it.
    YoungCalf,
}

impl AnimalClass {
    /// Every class.
    pub const ALL: [Self; 8] = [
        Self::Cow,
        Self::FirstCalfCow,
        Self::BredHeifer,
        Self::ReplacementHeifer,
        Self::Stocker,
        Self::YoungBull,
        Self::Bull,
        Self::YoungCalf,
    ];
    /// Key in files.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Cow => "cow",
            Self::FirstCalfCow => "first_calf_cow",
            Self::BredHeifer => "bred_heifer",
            Self::ReplacementHeifer => "replacement_heifer",
            Self::Stocker => "stocker",
            Self::YoungBull => "young_bull",
            Self::Bull => "bull",
            Self::YoungCalf => "young_calf",
        }
    }
    /// Name for people.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Cow => "grown cow",
            Self::FirstCalfCow => "first-calf cow",
            Self::BredHeifer => "bred heifer",
            Self::ReplacementHeifer => "replacement heifer",
            Self::Stocker => "stocker",
            Self::YoungBull => "young bull",
            Self::Bull => "grown bull",
            Self::YoungCalf => "calf under four months",
        }
    }
    /// Still growing, so that part of the ration must make gain.
    #[must_use]
    pub fn grows(self) -> bool {
        matches!(
            self,
            Self::FirstCalfCow | Self::BredHeifer | Self::ReplacementHeifer | Self::Stocker | Self::YoungBull
        )
    }
    /// Can be in calf or in milk.
    #[must_use]
    pub fn calves(self) -> bool {
        matches!(self, Self::Cow | Self::FirstCalfCow | Self::BredHeifer)
    }
}

/// Sex, where the equations ask for it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Sex {
    /// Heifer or cow.
    #[default]
    Female,
    /// Steer.
    Steer,
    /// Intact bull.
    Bull,
}

/// State of the hair coat.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Coat {
    /// Winter hair, dry and clean.
    #[default]
    Dry,
    /// Heavy winter hair, dry and clean.
    Heavy,
    /// Some mud on the lower body.
    SomeMud,
    /// Wet and matted.
    Wet,
    /// Covered with wet snow or mud.
    Muddy,
}

/// Thickness of hide.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Hide {
    /// Thin.
    Thin,
    /// Average.
    #[default]
    Average,
    /// Thick.
    Thick,
}

/// A group of cattle that is fed together.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// Name in the herd file.
    pub name: String,
    /// Class.
    pub class: AnimalClass,
    /// Sex, where the class leaves it open (stockers).
    pub sex: Sex,
    /// Number of head.
    pub head: u32,
    /// Weight at the start of the winter, kg, used as shrunk weight as it stands. Without the calf she carries.
    pub weight_kg: f64,
    /// Mature weight (of the cow, or of the bull), kg.
    pub mature_weight_kg: f64,
    /// Body condition score now, 1 to 9.
    pub condition: f64,
    /// Score wanted by a date. `None`: hold.
    pub condition_wanted: Option<(f64, Date)>,
    /// Scores by days, in order, in place of `condition_wanted`; even between them. Empty: none.
    pub condition_path: Vec<(Date, f64)>,
    /// Calving date nearest the winter, for classes that calve. `None`: open.
    pub calving: Option<Date>,
    /// Peak milk, kg a day.
    pub peak_milk_kg: f64,
    /// Fat, solids-not-fat and protein of milk, percent.
    pub milk_composition_pct: (f64, f64, f64),
    /// Age at weaning, days: milk stops then.
    pub weaning_days: f64,
    /// Calf birth weight, kg.
    pub calf_birth_weight_kg: f64,
    /// Breed factor on maintenance: 1.00 most, 0.90 *Bos indicus*, 1.20 dairy.
    pub breed_factor: f64,
    /// Daily gain asked for, kg of shrunk weight, for classes that grow. `None`: the target of the class.
    pub gain_kg_per_day: Option<f64>,
    /// Weight wanted by a date, kg, for classes that grow.
    pub weight_wanted_kg: Option<(f64, Date)>,
    /// Under a year old: the calf intake equation holds.
    pub under_a_year: bool,
    /// Turn-out with cows, for bulls.
    pub turnout: Option<Date>,
    /// Energy of walking and grazing, share of maintenance. 0 in a drylot.
    pub activity_share: f64,
    /// State of the coat.
    pub coat: Coat,
    /// Hide.
    pub hide: Hide,
    /// Fed less than they would eat, on purpose: lifts the appetite floor.
    pub limit_fed: bool,
    /// Sulfur from drinking water, g per head and day.
    pub water_sulfur_g: f64,
    /// Intake of the free-choice base roughage, % of body weight as dry matter: dry, milking. `None`: the default.
    pub base_intake_pct: Option<(f64, f64)>,
}
