//! What a pound of protein, a pound of TDN and a Mcal cost by feed, and what a feed would be worth by two bench-mark feeds.
//!
//! Each of these prices one thing and is blind to the rest: to room in the animal, to fiber, fat and hazard. They stand
//! beside the plan because people ask for them; the plan does not use them.

use crate::feed::{Feed, FeedClass, Nutrient, Offer};
use crate::quantity::{DAYS_PER_MONTH, LB_PER_TON, lb_from_kg};
use crate::winter::{Case, Cells};

/// US dollars for one pound of what makes up `share` (0 to 1) of a feed, at a price per short ton. `None`: it has none.
#[must_use]
pub fn usd_per_lb(usd_per_ton: f64, share: f64) -> Option<f64> {
    (share > 0.0).then(|| usd_per_ton / (LB_PER_TON * share))
}

/// A feed as a bench mark sees it, per short ton as fed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bench {
    /// Crude protein, lb.
    pub cp_lb: f64,
    /// TDN, lb.
    pub tdn_lb: f64,
    /// Delivered price, US dollars.
    pub usd: f64,
}

impl Bench {
    /// A feed at a price; `None` if its protein or TDN is not known.
    #[must_use]
    pub fn of(feed: &Feed, usd: f64) -> Option<Self> {
        let dm_lb = LB_PER_TON * feed.dm_pct() / 100.0;
        let lb = |nutrient| feed.get(nutrient).map(|pct| dm_lb * pct / 100.0);
        Some(Self { cp_lb: lb(Nutrient::Cp)?, tdn_lb: lb(Nutrient::Tdn)?, usd })
    }
}

/// The worth of a pound of protein and of a pound of TDN, US dollars, that two bench-mark feeds fix (W. E. Petersen 1932, J.
/// Dairy Sci. 15:293; from memory, the original was not read): cp·kp + tdn·ke = price for both. `None` if they are too
/// alike, or if one of the two comes out below nothing.
#[must_use]
pub fn two_feed_constants(energy: &Bench, protein: &Bench) -> Option<(f64, f64)> {
    let det = energy.cp_lb * protein.tdn_lb - protein.cp_lb * energy.tdn_lb;
    // Alike within a hundredth (judgement): the two equations then say nothing of either constant.
    if det.abs() <= 0.01 * energy.cp_lb.max(protein.cp_lb) * energy.tdn_lb.max(protein.tdn_lb) {
        return None;
    }
    let cp = (energy.usd * protein.tdn_lb - protein.usd * energy.tdn_lb) / det;
    let tdn = (energy.cp_lb * protein.usd - protein.cp_lb * energy.usd) / det;
    (cp >= 0.0 && tdn >= 0.0).then_some((cp, tdn))
}

/// The costs of one feed.
#[derive(Debug, Clone, PartialEq)]
pub struct NutrientCost {
    /// Which offer.
    pub offer: usize,
    /// Delivered, US dollars per short ton as fed; of owned feed what it would sell for.
    pub usd_per_ton: f64,
    /// Owned: not delivered.
    pub owned: bool,
    /// US dollars per pound of crude protein eaten; freight, loss and waste paid.
    pub usd_per_lb_cp: Option<f64>,
    /// US dollars per pound of TDN eaten.
    pub usd_per_lb_tdn: Option<f64>,
    /// US dollars per Mcal NEm eaten.
    pub usd_per_mcal_nem: Option<f64>,
    /// Pounds of its dry matter that she must hold for one pound of crude protein.
    pub dm_lb_per_lb_cp: Option<f64>,
    /// Crude protein, % of dry matter.
    pub cp_pct_dm: Option<f64>,
    /// A roughage: the two-feed method puts it too high.
    pub is_roughage: bool,
    /// Less protein than the ration must hold where it must hold most: it cannot raise the ration's protein.
    pub dilutes_protein: bool,
    /// Worth delivered by the two bench-mark feeds, US dollars per short ton.
    pub two_feed_usd_per_ton: Option<f64>,
}

/// The two bench marks and what they fix.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TwoFeeds {
    /// The energy feed.
    pub energy: usize,
    /// The protein feed.
    pub protein: usize,
    /// US dollars per pound of crude protein.
    pub usd_per_lb_cp: f64,
    /// US dollars per pound of TDN.
    pub usd_per_lb_tdn: f64,
}

/// The most protein a ration of the winter must hold: where.
#[derive(Debug, Clone, PartialEq)]
pub struct ProteinAsked {
    /// Crude protein, % of the dry matter the group is expected to eat.
    pub pct_dm: f64,
    /// Group.
    pub group: String,
    /// Period.
    pub period: String,
}

/// What nutrients cost, feed by feed.
#[derive(Debug, Clone, PartialEq)]
pub struct NutrientCosts {
    /// Feeds that are bought or owned, minerals aside, in the order of the case.
    pub feeds: Vec<NutrientCost>,
    /// The bench marks; `None` where no two feeds of the case serve.
    pub two_feeds: Option<TwoFeeds>,
    /// Protein where most is asked for.
    pub protein_asked: Option<ProteinAsked>,
}

/// What nutrients cost in a case.
#[must_use]
pub fn of(case: &Case, cells: &Cells<'_>) -> NutrientCosts {
    let protein_asked = protein_asked(cells);
    let two_feeds = two_feeds(case);
    let feeds = case
        .offers
        .iter()
        .enumerate()
        .filter(|(_, offer)| !offer.feed.class.is_mineral() && offer.feed.class != FeedClass::Urea)
        .filter_map(|(index, offer)| one(index, offer, protein_asked.as_ref(), two_feeds.as_ref()))
        .collect();
    NutrientCosts { feeds, two_feeds, protein_asked }
}

fn one(
    index: usize,
    offer: &Offer,
    asked: Option<&ProteinAsked>,
    two_feeds: Option<&TwoFeeds>,
) -> Option<NutrientCost> {
    let owned = offer.price_usd_per_ton.is_none();
    let usd_per_ton = match offer.delivered_usd_per_ton() {
        Some(price) => price,
        None if offer.on_hand.0 > 0.0 && !offer.feed.class.is_grazed() => offer.value_usd_per_ton,
        None => return None,
    };
    let feed = &offer.feed;
    let usd_per_kg_dm = usd_per_ton * offer.tons_per_kg_dm_eaten(DAYS_PER_MONTH);
    let usd_per_lb_dm = usd_per_kg_dm / lb_from_kg(1.0);
    let share = |nutrient| feed.get(nutrient).map(|pct| pct / 100.0).filter(|share| *share > 0.0);
    let cp = share(Nutrient::Cp);
    let cp_pct_dm = feed.get(Nutrient::Cp);
    let worth = |two: &TwoFeeds| {
        let bench = Bench::of(feed, usd_per_ton)?;
        Some(bench.cp_lb * two.usd_per_lb_cp + bench.tdn_lb * two.usd_per_lb_tdn)
    };
    Some(NutrientCost {
        offer: index,
        usd_per_ton,
        owned,
        usd_per_lb_cp: cp.map(|share| usd_per_lb_dm / share),
        usd_per_lb_tdn: share(Nutrient::Tdn).map(|share| usd_per_lb_dm / share),
        usd_per_mcal_nem: feed.nem_mcal_per_kg().filter(|nem| *nem > 0.0).map(|nem| usd_per_kg_dm / nem),
        dm_lb_per_lb_cp: cp.map(|share| 1.0 / share),
        cp_pct_dm,
        is_roughage: feed.class.is_roughage(),
        dilutes_protein: cp_pct_dm.zip(asked).is_some_and(|(has, asked)| has < asked.pct_dm),
        two_feed_usd_per_ton: two_feeds.and_then(worth),
    })
}

/// Crude protein where the ration must hold most of it, as a share of what the group is expected to eat.
fn protein_asked(cells: &Cells<'_>) -> Option<ProteinAsked> {
    cells
        .iter()
        .flatten()
        .map(|cell| {
            let (needs, replaced) = (&cell.block.needs, &cell.block.replaced);
            let cp_kg = replaced.cp_kg.unwrap_or(needs.cp_g / 1000.0);
            let dm_kg = replaced.dmi_max_kg.unwrap_or(needs.dmi_kg);
            ProteinAsked {
                pct_dm: 100.0 * cp_kg / dm_kg.max(1e-9),
                group: cell.block.group.name.clone(),
                period: cell.block.period.label.clone(),
            }
        })
        .max_by(|a, b| a.pct_dm.total_cmp(&b.pct_dm))
}

/// Of the bought feeds that are neither roughage nor mineral nor urea, the one poorest and the one richest in protein for
/// its TDN.
fn two_feeds(case: &Case) -> Option<TwoFeeds> {
    let mut marks: Vec<(usize, Bench)> = case
        .offers
        .iter()
        .enumerate()
        .filter(|(_, offer)| {
            let class = offer.feed.class;
            !class.is_roughage() && !class.is_mineral() && !matches!(class, FeedClass::Urea | FeedClass::Liquid)
        })
        .filter_map(|(index, offer)| Some((index, Bench::of(&offer.feed, offer.delivered_usd_per_ton()?)?)))
        .filter(|(_, bench)| bench.tdn_lb > 0.0)
        .collect();
    marks.sort_by(|a, b| (a.1.cp_lb / a.1.tdn_lb).total_cmp(&(b.1.cp_lb / b.1.tdn_lb)));
    let ((energy, low), (protein, high)) = (marks.first()?, marks.last()?);
    let (usd_per_lb_cp, usd_per_lb_tdn) = two_feed_constants(low, high)?;
    Some(TwoFeeds { energy: *energy, protein: *protein, usd_per_lb_cp, usd_per_lb_tdn })
}
