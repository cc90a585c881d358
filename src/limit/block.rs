//! One group in one period: what it needs, what it can be given, and every rule that holds for it.

use super::barred;
use super::catalog::{GOSSYPOL_MEAL_PPM, GOSSYPOL_SEED_PPM, RULES, YOUR_FIXED, YOUR_MAX, YOUR_MIN, YOUR_SHARE};
use super::change::LimitChange;
use super::growth::Growth;
use super::measure::{Measure, Missing};
use super::rule::{Instance, class_index};
use super::spread::{Piles, Spread};
use crate::feed::{AmountBounds, FedHow, Feed, Nutrient, Offer};
use crate::herd::{Group, Period};
use crate::need::{Needs, NeedsOverride, condition, target};
use crate::quantity::KG_PER_LB;
use jiff::civil::Date;

/// Intake of a poor roughage eaten at will by a dry animal, % of body weight as dry matter (Hibberd and Thrift
/// 1992 via Lalman, Oklahoma State 2024, for roughage under 52 % TDN; no printed figure for gin trash).
pub const BASE_INTAKE_DRY_PCT: f64 = 1.8;
/// The same for a milking cow.
pub const BASE_INTAKE_MILKING_PCT: f64 = 2.2;
/// The roughage a group eats at will, and how much of it alone.
#[derive(Debug, Clone, PartialEq)]
pub struct BaseRoughage {
    /// Which offer.
    pub offer: usize,
    /// Its NDF, % of DM.
    pub ndf_pct: f64,
    /// What is eaten of it alone, kg of dry matter per head and day.
    pub alone_kg: f64,
}

/// One group in one period.
#[derive(Debug, Clone)]
pub struct Block<'a> {
    /// The group.
    pub group: &'a Group,
    /// The period.
    pub period: &'a Period,
    /// First day of the winter.
    pub winter_start: Date,
    /// What one head needs a day.
    pub needs: Needs,
    /// Printed requirements in place of ours.
    pub replaced: NeedsOverride,
    /// For each offer: it can be had in this period and may be given to this class.
    pub available: Vec<bool>,
    /// For each offer that may not be given: why.
    pub barred: Vec<Option<&'static str>>,
    /// Roughage a pound of supplement displaces when roughage is eaten at will.
    pub substitution: f64,
    /// The roughage eaten at will, if any.
    pub base: Option<BaseRoughage>,
    /// Some other roughage than gin trash can be had.
    pub other_roughage: bool,
    /// Some feed of the file was tested for nitrate.
    pub nitrate_tested: bool,
    /// The first day on which the group can be given gin trash.
    pub trash_from: Date,
}

/// Every rule that holds for a block, ready to use.
#[derive(Debug, Clone)]
pub struct Demands {
    /// Linear rules.
    pub rules: Vec<Instance>,
    /// Growth, which shares the mix between maintenance and gain.
    pub growth: Option<Growth>,
    /// Standard deviations by which the feeds may come out low before a need is missed; 0 on the averages.
    pub z: f64,
}

impl Demands {
    /// Whether every need is met as surely as asked, to a millionth of it.
    #[must_use]
    pub fn sure_enough(&self, kg_dm: &[f64]) -> bool {
        self.z <= 0.0
            || self.rules.iter().all(|rule| rule.spread.is_none() || rule.kept(rule.low_value(self.z, kg_dm)))
                && self.growth.as_ref().is_none_or(|growth| {
                    let retained = growth.low(self.z, kg_dm).retained_neg_mcal(kg_dm);
                    retained >= growth.gain_neg_mcal - 1e-6 * growth.gain_neg_mcal.max(1.0)
                })
    }
}

/// What stands in the way of making a block's rules.
#[derive(Debug, Clone, PartialEq)]
pub enum Trouble {
    /// A nutrient that a rule needs is not known.
    Missing(Missing),
    /// A limit of the file cannot be taken, with its place and the reason.
    Change(crate::diagnostic::Span, String),
}

impl<'a> Block<'a> {
    /// Puts a block together. `needs` are the group's needs in the period.
    #[must_use]
    pub fn new(
        group: &'a Group,
        period: &'a Period,
        winter_start: Date,
        needs: Needs,
        replaced: NeedsOverride,
        offers: &[Offer],
        substitution: f64,
    ) -> Self {
        let barred: Vec<_> = offers.iter().map(|offer| barred::reason(group, period, &needs, offer)).collect();
        let available: Vec<bool> = offers
            .iter()
            .zip(&barred)
            .map(|(offer, bar)| {
                // A most of nothing: this group is not on it.
                let some = offer.bounds_for(&group.name).max.is_none_or(|most| most.0 > 0.0);
                bar.is_none() && some && offer.fed_between(period.from, period.to, offer.fed_for(&group.name))
            })
            .collect();
        let other_roughage = offers.iter().zip(&available).any(|(offer, here)| {
            *here && offer.feed.class.is_roughage() && offer.feed.class != crate::feed::FeedClass::GinTrash
        });
        let mut block = Self {
            group,
            period,
            winter_start,
            needs,
            replaced,
            available,
            barred,
            substitution,
            base: None,
            other_roughage,
            nitrate_tested: offers.iter().any(|offer| offer.feed.get(Nutrient::NitrateN).is_some()),
            trash_from: super::learning::first_day(winter_start, &group.name, offers),
        };
        block.base = block.find_base(offers);
        block
    }

    /// The first roughage of the file that is eaten at will in this period.
    fn find_base(&self, offers: &[Offer]) -> Option<BaseRoughage> {
        let (index, offer) = offers.iter().enumerate().find(|(index, offer)| {
            self.available[*index]
                && offer.fed_for(&self.group.name) == FedHow::FreeChoice
                && offer.feed.class.is_roughage()
        })?;
        let ndf_pct = offer.feed.get(Nutrient::Ndf)?;
        let milking = self.milk_level();
        let weight = self.needs.weight_kg;
        let alone_kg = if let Some((dry, wet)) = self.group.base_intake_pct {
            weight * (dry * (1.0 - milking) + wet * milking) / 100.0
        } else {
            let thumb = self.thumb_intake_pct();
            let fiber = super::catalog::forage_ndf_pct(self).map_or(f64::INFINITY, |pct| pct / (ndf_pct / 100.0));
            weight * thumb.min(fiber) / 100.0
        };
        Some(BaseRoughage { offer: index, ndf_pct, alone_kg })
    }

    /// What is eaten of a poor roughage alone by rule of thumb, % of body weight as dry matter: between the dry and the
    /// milking figure by how far she milks (judgement).
    #[must_use]
    pub fn thumb_intake_pct(&self) -> f64 {
        let milking = self.milk_level();
        BASE_INTAKE_DRY_PCT * (1.0 - milking) + BASE_INTAKE_MILKING_PCT * milking
    }

    /// Weight of a mg of free gossypol from meal as against one from seed: the quotient of their limits.
    #[must_use]
    pub fn meal_gossypol_weight(&self) -> f64 {
        class_index(self.group.class).map_or(1.0, |index| match (GOSSYPOL_SEED_PPM[index], GOSSYPOL_MEAL_PPM[index]) {
            (Some(seed), Some(meal)) => seed / meal,
            _ => 1.0,
        })
    }

    /// How much of a measure one kg of dry matter of each offer brings. Feeds that cannot be given here count like any
    /// other: the programme has no column for them, but a ration of the user's own may hold them.
    ///
    /// # Errors
    /// Every nutrient that the measure needs and nobody knows.
    pub fn coefficients(&self, measure: Measure, offers: &[Offer]) -> Result<Vec<f64>, Vec<Missing>> {
        let mut missing = Vec::new();
        let values = offers.iter().enumerate().map(|(index, offer)| {
            measure.per_kg_dm(index, &offer.feed, self).unwrap_or_else(|lack| {
                missing.push(lack);
                0.0
            })
        });
        let values = values.collect();
        if missing.is_empty() { Ok(values) } else { Err(missing) }
    }

    /// Room that a kg of dry matter of a feed takes where roughage is eaten at will: roughage by its NDF,
    /// supplement by the substitution, minerals none.
    ///
    /// # Errors
    /// NDF of a roughage that is not known.
    pub fn at_will_room(&self, feed: &Feed) -> Result<f64, Missing> {
        let Some(base) = &self.base else { return Ok(0.0) };
        if feed.class.is_mineral() {
            Ok(0.0)
        } else if feed.class.is_roughage() {
            let ndf = feed.get(Nutrient::Ndf).ok_or(Missing { feed: feed.id.clone(), nutrient: Nutrient::Ndf })?;
            Ok(ndf / base.ndf_pct)
        } else {
            Ok(self.substitution)
        }
    }

    /// How far the animals milk, 0 dry to 1 at peak yield: what stands between a dry and a milking figure. A cow fresh
    /// in milk eats less than one at her peak, as the intake equation has it.
    #[must_use]
    pub fn milk_level(&self) -> f64 {
        if self.group.peak_milk_kg > 0.0 { (self.needs.milk_kg / self.group.peak_milk_kg).clamp(0.0, 1.0) } else { 0.0 }
    }

    /// Body energy of one condition score, Mcal: from the score at the start of the period to the next below, and to the
    /// next above. They differ, most of all for first-calf females, who put condition on dearly and lose it fast.
    #[must_use]
    pub fn mcal_per_score(&self) -> (f64, f64) {
        let (edition, score) = (condition::Edition::default(), self.needs.condition_from);
        let at_five = condition::weight_at_five_kg(self.needs.weight_kg, self.group.condition, edition);
        let first_calf = target::is_first_calf(self.group);
        let up = condition::reserve_change_mcal(at_five, score, score + 1.0, first_calf, edition);
        (self.needs.mcal_per_score, up)
    }

    /// Energy asked for at the efficiency of maintenance, Mcal NEm, the file's figure first.
    #[must_use]
    pub fn nem_need(&self) -> f64 {
        self.replaced.nem_mcal.unwrap_or_else(|| self.needs.energy.total_nem_mcal())
    }

    /// Every rule that holds, with the file's changes laid over the defaults.
    ///
    /// # Errors
    /// Nutrients that are missing and changes that cannot be taken, all of them.
    pub fn demands(&self, offers: &[Offer], changes: &[LimitChange]) -> Result<Demands, Vec<Trouble>> {
        self.demands_of(offers, &Piles::of(offers), changes)
    }

    /// The same where the piles of the offers are known already.
    ///
    /// # Errors
    /// As [`Block::demands`].
    pub fn demands_of(
        &self,
        offers: &[Offer],
        piles: &Piles,
        changes: &[LimitChange],
    ) -> Result<Demands, Vec<Trouble>> {
        let mut rules = Vec::new();
        let mut trouble = Vec::new();
        let mut growth = None;
        for rule in RULES {
            let Some(figure) = rule.figure_for(self) else { continue };
            if rule.over == Measure::Retained {
                match Growth::new(self, offers, piles) {
                    Ok(found) => growth = Some(found),
                    Err(lack) => trouble.extend(lack.into_iter().map(Trouble::Missing)),
                }
                continue;
            }
            match Instance::new(rule, figure, self, offers, piles) {
                Ok(instance) => match super::change::apply(instance, &self.group.name, changes) {
                    Ok(Some(instance)) => rules.push(instance),
                    Ok(None) => {}
                    Err((span, why)) => trouble.push(Trouble::Change(span, why)),
                },
                Err(lack) => trouble.extend(lack.into_iter().map(Trouble::Missing)),
            }
        }
        for (index, offer) in offers.iter().enumerate() {
            if self.available[index] {
                self.push_bounds(&mut rules, index, offer, offers);
            }
        }
        if trouble.is_empty() {
            Ok(Demands { rules, growth, z: 0.0 })
        } else {
            trouble.dedup();
            Err(trouble)
        }
    }

    fn push_bounds(&self, rules: &mut Vec<Instance>, index: usize, offer: &Offer, offers: &[Offer]) {
        let lb_per_kg_dm = |offer: &Offer| 100.0 / offer.feed.dm_pct() / KG_PER_LB;
        let mut over = vec![0.0; offers.len()];
        over[index] = lb_per_kg_dm(offer);
        self.push_amounts(rules, &offer.id, offer.bounds_for(&self.group.name), &over);
        if let Some(share) = offer.grazing.and_then(|grazing| grazing.most_of_intake) {
            let mut over = vec![0.0; offers.len()];
            over[index] = 100.0;
            rules.push(Instance {
                rule: &YOUR_SHARE,
                about: Some(offer.id.clone()),
                limit: 100.0 * share,
                force: YOUR_SHARE.force(self.group.class),
                because: None,
                over,
                over_constant: 0.0,
                per: offers.iter().map(|offer| if offer.feed.class.is_mineral() { 0.0 } else { 1.0 }).collect(),
                per_constant: 0.0,
                spread: Spread::default(),
            });
        }
        // What holds for all lots of a feed together stands once, at the first lot that can be had.
        let Some(lot_of) = &offer.lot_of else { return };
        let lots: Vec<usize> = (0..offers.len())
            .filter(|other| {
                self.available[*other] && offers[*other].lot_of.as_ref().is_some_and(|one| one.feed == lot_of.feed)
            })
            .collect();
        if lots.first() == Some(&index) {
            for other in lots {
                over[other] = lb_per_kg_dm(&offers[other]);
            }
            self.push_amounts(rules, &lot_of.feed, lot_of.bounds_for(&self.group.name), &over);
        }
    }

    fn push_amounts(&self, rules: &mut Vec<Instance>, about: &str, bounds: AmountBounds, over: &[f64]) {
        for (rule, amount) in [(&YOUR_MIN, bounds.min), (&YOUR_MAX, bounds.max), (&YOUR_FIXED, bounds.fixed)] {
            let Some(amount) = amount else { continue };
            rules.push(Instance {
                rule,
                about: Some(about.to_owned()),
                limit: amount.lb(),
                force: rule.force(self.group.class),
                because: None,
                over: over.to_vec(),
                over_constant: 0.0,
                per: vec![0.0; over.len()],
                per_constant: 1.0,
                spread: Spread::default(),
            });
        }
    }
}
