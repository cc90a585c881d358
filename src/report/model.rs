//! A plan or a check as plain data with units in the names: what JSON prints and every page is drawn from.

use serde::Serialize;

/// A feed in a ration.
#[derive(Debug, Clone, Serialize)]
pub struct RationLine {
    /// Name in the herd file.
    pub feed: String,
    /// Pounds as fed per head and day, as eaten.
    pub lb_as_fed: f64,
    /// Pounds of dry matter per head and day.
    pub lb_dm: f64,
    /// US dollars per head and day, losses and waste paid.
    pub usd_per_head_day: f64,
    /// Eaten at will.
    pub at_will: bool,
}

/// A rule as a ration keeps it.
#[derive(Debug, Clone, Serialize)]
pub struct LimitLine {
    /// Id of the rule.
    pub rule: &'static str,
    /// Its name for people.
    pub title: &'static str,
    /// The feed it is about, where it is about one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub feed: Option<String>,
    /// Value of the ration.
    pub value: f64,
    /// The figure.
    pub limit: f64,
    /// Unit of both.
    pub unit: &'static str,
    /// At least, at most, exactly.
    pub sense: crate::limit::Sense,
    /// Need, never, keep.
    pub force: crate::limit::Force,
    /// Kept.
    pub kept: bool,
    /// Binds at the least-cost plan: one more unit would change the cost.
    pub binding: bool,
    /// US dollars per head and day for one more unit of the figure, at the least-cost plan.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub usd_per_unit: Option<f64>,
    /// Of a need: probability that it is met, given how far the feeds may be off, percent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub chance_pct: Option<f64>,
    /// The user's reason, where the figure is the user's.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub because: Option<String>,
    /// Decimals a person wants.
    #[serde(skip)]
    pub digits: usize,
    /// By how much it misses.
    pub miss: f64,
}

/// Energy and condition.
#[derive(Debug, Clone, Serialize)]
pub struct ConditionLine {
    /// NEm in the ration, Mcal per head and day.
    pub supplied_nem_mcal: f64,
    /// NEm asked for.
    pub needed_nem_mcal: f64,
    /// Score at the start of the period, all rations so far counted.
    pub score_from: f64,
    /// Score at its end; 1 and 9 are the ends of the scale.
    pub score_to: f64,
    /// Days until a score is lost beyond what was planned; below 0: until one is gained.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub days_to_lose_a_score: Option<f64>,
    /// Gain this ration makes, lb a day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gain_lb_per_day: Option<f64>,
    /// Gain asked for, lb a day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gain_wanted_lb_per_day: Option<f64>,
}

/// What a ration supplies or an animal needs, per head and day.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Nutrients {
    /// Mcal.
    pub nem_mcal: f64,
    /// Mcal for growth.
    pub neg_mcal: f64,
    /// lb.
    pub cp_lb: f64,
    /// g.
    pub mp_g: f64,
    /// g.
    pub ca_g: f64,
    /// g.
    pub p_g: f64,
    /// lb of dry matter: eaten, or what she will eat.
    pub dmi_lb: f64,
}

/// The low case of a ration.
#[derive(Debug, Clone, Serialize)]
pub struct LowLine {
    /// The feed.
    pub feed: String,
    /// TDN counted, % of DM.
    pub tdn_pct_dm: f64,
    /// TDN one standard deviation low, % of DM.
    pub low_tdn_pct_dm: f64,
    /// Crude protein counted, % of DM.
    pub cp_pct_dm: f64,
    /// Crude protein one standard deviation low, % of DM.
    pub low_cp_pct_dm: f64,
    /// Energy then missing, Mcal NEm per head and day.
    pub short_nem_mcal: f64,
    /// The same as TDN, lb per head and day.
    pub short_tdn_lb: f64,
    /// Crude protein then missing, lb per head and day.
    pub short_cp_lb: f64,
    /// Days until a score is lost.
    pub days_to_lose_a_score: f64,
}

/// What covering the low case of a feed costs.
#[derive(Debug, Clone, Serialize)]
pub struct CoverLine {
    /// The feed.
    pub feed: String,
    /// US dollars for the winter above the least cost, all needs met again; `None`: nothing meets them.
    pub more_usd: Option<f64>,
}

/// A feed that is eaten at will and would make a cheaper winter measured out.
#[derive(Debug, Clone, Serialize)]
pub struct ByHandLine {
    /// The feed.
    pub feed: String,
    /// Least cost of the winter then, US dollars, labor as now.
    pub winter_usd: f64,
}

/// A feed that is begun slowly: the ration has the mean of the period.
#[derive(Debug, Clone, Serialize)]
pub struct LearningLine {
    /// The feed.
    pub feed: String,
    /// Last day of learning.
    pub last: String,
    /// Pounds as fed per head and day until then.
    pub first_lb_as_fed: f64,
    /// Pounds as fed per head and day after it.
    pub after_lb_as_fed: f64,
}

/// One period of one group.
#[derive(Debug, Clone, Serialize)]
pub struct PeriodReport {
    /// Label.
    pub label: String,
    /// First day.
    pub from: String,
    /// The day after the last.
    pub to: String,
    /// Days.
    pub days: u32,
    /// US dollars per head and day.
    pub cost_usd_per_head_day: f64,
    /// What is fed.
    pub ration: Vec<RationLine>,
    /// What it supplies.
    pub supply: Nutrients,
    /// What is needed.
    pub need: Nutrients,
    /// Every rule that holds.
    pub limits: Vec<LimitLine>,
    /// Energy and condition.
    pub condition: ConditionLine,
    /// The low case that hurts most.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub low_case: Option<LowLine>,
    /// Gin trash of a plan in the days in which cattle learn to eat it, and after them.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub learning: Vec<LearningLine>,
}

/// One group.
#[derive(Debug, Clone, Serialize)]
pub struct GroupReport {
    /// Name.
    pub name: String,
    /// Class, for people.
    pub kind: &'static str,
    /// Head.
    pub head: u32,
    /// US dollars for the winter.
    pub cost_usd: f64,
    /// US dollars per head and day.
    pub cost_usd_per_head_day: f64,
    /// US dollars a head to put one condition score more on.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub score_to_gain_usd_per_head: Option<f64>,
    /// US dollars a head saved by letting one score go.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub score_saved_usd_per_head: Option<f64>,
    /// Feeds that may not be given to this class, with the reason.
    pub barred: Vec<(String, &'static str)>,
    /// Periods.
    pub periods: Vec<PeriodReport>,
}

/// A purchase.
#[derive(Debug, Clone, Serialize)]
pub struct Purchase {
    /// Feed.
    pub feed: String,
    /// Period.
    pub period: String,
    /// Its first day.
    pub date: String,
    /// Short tons as fed.
    pub tons: f64,
    /// Loads of the size in the file, part loads counted whole.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub loads: Option<u32>,
    /// US dollars, haul included.
    pub usd: f64,
}

/// Grazing that is paid by the head and month, whatever is eaten of it.
#[derive(Debug, Clone, Serialize)]
pub struct GrazingLine {
    /// Feed.
    pub feed: String,
    /// Head-months paid for.
    pub head_months: f64,
    /// US dollars.
    pub usd: f64,
}

/// A store over one period, short tons as fed.
#[derive(Debug, Clone, Serialize)]
pub struct Stock {
    /// Feed.
    pub feed: String,
    /// Period.
    pub period: String,
    /// At the start.
    pub opening_tons: f64,
    /// Bought.
    pub bought_tons: f64,
    /// Fed, waste included.
    pub fed_tons: f64,
    /// Lost in store.
    pub lost_tons: f64,
    /// Left.
    pub left_tons: f64,
}

/// Prices between which the same plan stays; an end that is absent is any lower or any higher price.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct SamePlan {
    /// Lowest.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from_usd_per_ton: Option<f64>,
    /// Highest.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to_usd_per_ton: Option<f64>,
    /// The price is itself an end: two plans cost the same.
    pub tied: bool,
}

/// What a feed is worth here.
#[derive(Debug, Clone, Serialize)]
pub struct Worth {
    /// Feed.
    pub feed: String,
    /// Delivered price, US dollars per short ton; `None`: cannot be bought.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub price_usd_per_ton: Option<f64>,
    /// Grazed: US dollars per head and month, whatever is eaten of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub usd_per_head_month: Option<f64>,
    /// Delivered prices between which the least-cost winter stays of one kind, US dollars per short ton; the same feeds
    /// are fed and the same rules bind.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub same_plan: Option<SamePlan>,
    /// Delivered price at which it would come in, US dollars per short ton.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub break_even_usd_per_ton: Option<f64>,
    /// For owned feed: what one more ton at the start would save, US dollars.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub one_more_ton_usd: Option<f64>,
    /// Cost of the best winter without it, US dollars.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub winter_without_usd: Option<f64>,
    /// Why a winter without it costs less than the least with it: a rule that hangs on its being offered.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub winter_without_because: Option<&'static str>,
    /// Used in the plan, and nothing meets the needs without it.
    pub cannot_do_without: bool,
}

/// A caution.
#[derive(Debug, Clone, Serialize)]
pub struct Caution {
    /// Id.
    pub rule: String,
    /// Group, where it is about one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub group: Option<String>,
    /// Periods it holds in, where not all.
    pub periods: Vec<String>,
    /// What it can do at worst.
    pub gravity: crate::feed::Gravity,
    /// Text with figures.
    pub text: String,
    /// The same in a few words, where it stands on the feeding sheet.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub short: Option<String>,
    /// Source, its place and how the figure was obtained.
    pub source: String,
    /// Short form of it for the page.
    #[serde(skip)]
    pub mark: String,
}

/// The proof of the least cost.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct CertificateReport {
    /// Largest relative violation of a row or bound.
    pub primal: f64,
    /// Largest relative violation of a price's sign.
    pub dual: f64,
    /// Relative gap of cost and proved bound.
    pub relative_gap: f64,
}

/// The winter as a whole.
#[derive(Debug, Clone, Serialize)]
pub struct WinterReport {
    /// First day.
    pub from: String,
    /// Turn-out.
    pub to: String,
    /// Days.
    pub days: u32,
    /// Head.
    pub head: u32,
    /// US dollars.
    pub cost_usd: f64,
    /// US dollars per head and day.
    pub cost_usd_per_head_day: f64,
    /// Part of the cost that is the sale value of feed already owned and used up, US dollars.
    pub owned_value_usd: f64,
    /// Part of the cost that no group bears: what is lost of feed that is never fed, US dollars.
    pub never_fed_usd: f64,
    /// Part of the cost that is paid for grazing, US dollars.
    pub grazing_usd: f64,
    /// Labor of feedings in the cost, US dollars, where the file gives it.
    pub labor_usd: f64,
    /// Least cost possible, before steadiness, US dollars.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub least_cost_usd: Option<f64>,
    /// Pounds of dry matter that change hands between periods, as printed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub changes_lb: Option<f64>,
    /// The same at least cost.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub changes_at_least_cost_lb: Option<f64>,
}

/// A plan, or a check of hand-made rations.
#[derive(Debug, Clone, Serialize)]
pub struct Report {
    /// `plan`, `fit`, `short`, `outside`, `unfit`.
    pub status: &'static str,
    /// Place.
    pub place: String,
    /// The whole.
    pub winter: WinterReport,
    /// Groups.
    pub groups: Vec<GroupReport>,
    /// Purchases.
    pub purchases: Vec<Purchase>,
    /// Grazing that is paid for.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub grazing: Vec<GrazingLine>,
    /// Prices that are not written by the ton.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub prices: Vec<super::prices::PriceLine>,
    /// Stores.
    pub stocks: Vec<Stock>,
    /// Hauling by date, reserve, and what binds the stores.
    #[serde(flatten)]
    pub stores: super::haul::Stores,
    /// What practical amounts cost more than exact ones, US dollars, where they were asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rounding_usd: Option<f64>,
    /// Why no practical amounts could be found, where they were asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub not_rounded: Option<String>,
    /// The feeding sheet.
    #[serde(skip)]
    pub sheet: Vec<super::sheet::GroupSheet>,
    /// Worth of feeds.
    pub worth: Vec<Worth>,
    /// Cautions.
    pub cautions: Vec<Caution>,
    /// Proof; a check has none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub certificate: Option<CertificateReport>,
    /// Another plan costs the same; `None`: not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub unique: Option<bool>,
    /// For a check: what the best plan would cost for the same groups and periods, US dollars.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub best_plan_usd: Option<f64>,
    /// Cost of the winter if what is eaten at will is eaten less or more than counted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at_will_ends: Option<crate::value::at_will::Ends>,
    /// What the page would tell and could not be proved, so is left out.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub left_out: Vec<String>,
    /// What the winter would cost if a feed eaten at will were measured out, where that is cheaper.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub by_hand: Vec<ByHandLine>,
    /// Wanted certainty that each need is met, percent; 50 is on the averages.
    pub certainty_pct: f64,
    /// What covering the low case of each feed costs.
    pub low_case_covers: Vec<CoverLine>,
    /// A cold spell on top of the plan, if the file names one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cold_spell: Option<super::spell::SpellReport>,
    /// What the weather counted and what not, in words.
    pub weather: String,
}
