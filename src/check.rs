//! Judges a ration by the needs and limits, without the linear programme: a plan must pass it, and so is a ration of
//! the user's own looked at.

pub mod eaten;

use crate::feed::{FeedClass, Offer};
use crate::limit::catalog::BARRED;
use crate::limit::caution::{self, Finding};
use crate::limit::{Block, Demands, Force, Instance, Measure, Rule, Sense};
use crate::need::{growth, mineral};
use crate::quantity::KgDm;

/// One rule as a ration keeps or breaks it.
#[derive(Debug, Clone)]
pub struct Line {
    /// The rule.
    pub rule: &'static Rule,
    /// The feed, where the rule is about one.
    pub about: Option<String>,
    /// Value of the ration, in the rule's unit.
    pub value: f64,
    /// The figure it is set against.
    pub limit: f64,
    /// Force here.
    pub force: Force,
    /// Kept, up to rounding.
    pub kept: bool,
    /// At the figure, up to rounding.
    pub tight: bool,
    /// By how much it misses, in the rule's unit; 0 where kept.
    pub miss: f64,
    /// The user's reason, where the figure is the user's.
    pub because: Option<String>,
    /// Of a need: probability that it is met, given how far the feeds may be off.
    pub chance: Option<f64>,
}

/// Energy over and under, and what it does to the animal.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct EnergyBalance {
    /// Mcal NEm the ration holds.
    pub supplied_nem_mcal: f64,
    /// Mcal NEm asked for, planned condition change and cold included.
    pub needed_nem_mcal: f64,
    /// Growing cattle: gain this ration makes, kg a day.
    pub gain_kg: Option<f64>,
    /// Growing cattle: gain asked for, kg a day.
    pub gain_wanted_kg: Option<f64>,
    /// Condition scores gained (above 0) or lost a day, all energy counted.
    pub scores_per_day: f64,
    /// Days until one score is lost (below 0: until one is gained) beyond what was planned; `None` if it holds.
    pub days_to_lose_a_score: Option<f64>,
}

/// A ration of one block, judged.
#[derive(Debug, Clone)]
pub struct Judgement {
    /// Every rule, in the order of the page.
    pub lines: Vec<Line>,
    /// Energy.
    pub energy: EnergyBalance,
    /// Dry matter eaten.
    pub dm: KgDm,
    /// What is eaten, kg of dry matter by offer; less than what is written where protein is short (see [`eaten`]).
    pub eaten_kg_dm: Vec<f64>,
    /// Things to know, with figures.
    pub findings: Vec<Finding>,
}

impl Judgement {
    /// Breaks something that may never be broken.
    #[must_use]
    pub fn unfit(&self) -> bool {
        self.lines.iter().any(|line| !line.kept && line.force == Force::Never)
    }
    /// Falls short of a need.
    #[must_use]
    pub fn short(&self) -> bool {
        self.lines.iter().any(|line| !line.kept && line.force == Force::Need)
    }
    /// Lies outside something a plan stays inside.
    #[must_use]
    pub fn outside(&self) -> bool {
        self.lines.iter().any(|line| !line.kept && line.force == Force::Keep)
    }
    /// Keeps every rule.
    #[must_use]
    pub fn clean(&self) -> bool {
        self.lines.iter().all(|line| line.kept)
    }
}

/// Slack that a check forgives where a printed practice would fail by a hair, in the rule's unit.
fn forgiven(rule: &Rule) -> f64 {
    if rule.id == "protein-floor" { caution::PROTEIN_FORGIVEN_PCT } else { 0.0 }
}

fn line(instance: &Instance, kg_dm: &[f64]) -> Line {
    let value = instance.value(kg_dm);
    let miss = instance.miss(value);
    let kept = instance.kept(value) || miss <= forgiven(instance.rule);
    Line {
        rule: instance.rule,
        about: instance.about.clone(),
        value,
        limit: instance.limit,
        force: instance.force,
        kept,
        tight: instance.tight(value),
        miss: if kept { 0.0 } else { miss },
        because: instance.because.clone(),
        chance: instance.chance(kg_dm),
    }
}

/// Judges a ration, kg of dry matter per head and day by offer.
#[must_use]
pub fn judge(block: &Block<'_>, demands: &Demands, offers: &[Offer], kg_dm: &[f64]) -> Judgement {
    let mut lines: Vec<Line> = demands.rules.iter().map(|rule| line(rule, kg_dm)).collect();
    if let (Some(growth), Some(rule)) = (&demands.growth, crate::limit::rule("growth")) {
        let value = growth.retained_neg_mcal(kg_dm);
        let miss = growth.gain_neg_mcal - value;
        // The programme holds the curve by tangents, to a billionth; a check allows a little more.
        let kept = miss <= 1e-6 * growth.gain_neg_mcal.max(1.0);
        lines.insert(
            0,
            Line {
                rule,
                about: None,
                value,
                limit: growth.gain_neg_mcal,
                force: Force::Need,
                kept,
                tight: miss.abs() <= 1e-6 * growth.gain_neg_mcal.max(1.0),
                miss: if kept { 0.0 } else { miss },
                because: None,
                chance: Some(growth.chance(kg_dm)),
            },
        );
    }
    lines.extend(barred(block, offers, kg_dm));
    Judgement {
        lines,
        energy: energy(block, demands, offers, kg_dm),
        dm: KgDm(kg_dm.iter().sum()),
        eaten_kg_dm: kg_dm.to_vec(),
        findings: caution::findings(block, offers, kg_dm),
    }
}

/// Judges a ration of the user's own. As [`judge`], but needs, energy and condition are those of what is eaten of it,
/// and limits are those of what is written or of what is eaten, whichever is nearer to harm. A plan needs none of this:
/// it keeps the floor on protein.
#[must_use]
pub fn judge_fed(block: &Block<'_>, demands: &Demands, offers: &[Offer], kg_dm: &[f64]) -> Judgement {
    let mut verdict = judge(block, demands, offers, kg_dm);
    true_sulfur(&mut verdict.lines, block, offers, kg_dm);
    if let Some(cut) = eaten::cut(block, offers, kg_dm) {
        let mut then = judge(block, demands, offers, &cut.kg_dm);
        true_sulfur(&mut then.lines, block, offers, &cut.kg_dm);
        for (line, then) in verdict.lines.iter_mut().zip(then.lines) {
            let nearer = line.rule.sense == Sense::AtMost && then.value > line.value;
            if line.force == Force::Need || nearer {
                *line = then;
            }
        }
        verdict = Judgement { lines: verdict.lines, ..then };
        verdict.findings.insert(0, cut.finding(offers));
    }
    verdict
}

/// Sulfur under 15 % forage is held to 0.30 % of dry matter. The programme's line goes on down there, since it cannot hold
/// one that bends up: a plan is stricter than it need be, a ration of the user's own is judged by the figure itself.
fn true_sulfur(lines: &mut [Line], block: &Block<'_>, offers: &[Offer], kg_dm: &[f64]) {
    let of = |counts: &dyn Fn(FeedClass) -> bool| -> f64 {
        offers.iter().zip(kg_dm).filter(|(offer, _)| counts(offer.feed.class)).map(|(_, kg)| kg).sum()
    };
    let dm = of(&|class| !class.is_mineral());
    let forage = of(&FeedClass::is_roughage);
    let is_scarce = dm > 0.0 && forage / dm < mineral::SULFUR_FLAT_TO_SHARE;
    let sulfur = Measure::Sulfur.constant(block)
        + offers
            .iter()
            .zip(kg_dm)
            .enumerate()
            .map(|(f, (offer, kg))| Measure::Sulfur.per_kg_dm(f, &offer.feed, block).map_or(0.0, |each| each * kg))
            .sum::<f64>();
    for line in lines.iter_mut().filter(|line| is_scarce && line.rule.over == Measure::Sulfur) {
        if line.rule.per == Measure::SulfurRoom {
            line.value = 100.0 * (0.1 * sulfur / dm) / mineral::sulfur_most_pct(forage / dm);
            let over = line.value - line.limit;
            line.kept = over <= 1e-6 * line.limit.abs().max(1.0);
            line.tight = over.abs() <= 1e-6 * line.limit.abs().max(1.0);
            line.miss = if line.kept { 0.0 } else { over };
        }
    }
}

/// Feeds of a ration that these cattle may never have. A plan cannot hold one; a ration of the user's own can.
fn barred<'a>(block: &'a Block<'_>, offers: &'a [Offer], kg_dm: &'a [f64]) -> impl Iterator<Item = Line> + 'a {
    let fed = offers.iter().zip(kg_dm).zip(&block.barred);
    fed.filter(|((_, kg), reason)| reason.is_some() && **kg > 0.0).map(|((offer, kg), _)| {
        let lb = KgDm(*kg).as_fed(offer.feed.dm_pct()).lb();
        Line {
            rule: &BARRED,
            about: Some(offer.id.clone()),
            value: lb,
            limit: 0.0,
            force: Force::Never,
            kept: false,
            tight: false,
            miss: lb,
            because: None,
            chance: None,
        }
    })
}

fn energy(block: &Block<'_>, demands: &Demands, offers: &[Offer], kg_dm: &[f64]) -> EnergyBalance {
    let supplied: f64 = offers
        .iter()
        .zip(kg_dm)
        .enumerate()
        .map(|(index, (offer, kg))| Measure::Nem.per_kg_dm(index, &offer.feed, block).map_or(0.0, |nem| nem * kg))
        .sum();
    let (needs, mcal_per_score) = (&block.needs, block.mcal_per_score());
    let needed = block.nem_need();
    let planned = needs.energy.condition_nem_mcal;
    let mut balance =
        EnergyBalance { supplied_nem_mcal: supplied, needed_nem_mcal: needed, ..EnergyBalance::default() };
    if let Some(split) = &demands.growth {
        let retained = split.retained_neg_mcal(kg_dm);
        let weight = growth::equivalent_weight_kg(needs.weight_kg, block.group.mature_weight_kg);
        balance.gain_kg = Some(growth::gain_kg(weight, retained));
        balance.gain_wanted_kg = Some(needs.gain_kg);
        // Short of maintenance she loses condition whatever she was to gain.
        balance.scores_per_day = scores(planned + (supplied - needed).min(0.0), mcal_per_score);
        balance.days_to_lose_a_score = days(supplied - needed, mcal_per_score).filter(|days| *days > 0.0);
    } else if block.replaced.tdn_kg.is_none() {
        balance.scores_per_day = scores(planned + supplied - needed, mcal_per_score);
        balance.days_to_lose_a_score = days(supplied - needed, mcal_per_score);
    }
    balance
}

/// Mcal of reserve that one Mcal of missing diet NEm takes: 1 Mcal of reserve replaces 0.8 Mcal (NRC 1996, from memory).
const RESERVE_PER_MISSING: f64 = 1.0 / 0.8;

/// Scores gained (above 0) or lost a day by a surplus of diet NEm; `mcal_per_score` is that of losing and of gaining one.
fn scores(surplus_nem_mcal: f64, mcal_per_score: (f64, f64)) -> f64 {
    let (reserve, of_one) = if surplus_nem_mcal >= 0.0 {
        (surplus_nem_mcal, mcal_per_score.1)
    } else {
        (surplus_nem_mcal * RESERVE_PER_MISSING, mcal_per_score.0)
    };
    if of_one > 0.0 { reserve / of_one } else { 0.0 }
}

/// Days until a score is lost (above 0) or gained (below 0); `None` within 0.05 Mcal of balance.
fn days(surplus_nem_mcal: f64, mcal_per_score: (f64, f64)) -> Option<f64> {
    (surplus_nem_mcal.abs() > 0.05).then(|| -1.0 / scores(surplus_nem_mcal, mcal_per_score))
}

/// Words for a rule that is not kept.
#[must_use]
pub fn miss_words(line: &Line) -> &'static str {
    match (line.rule.sense, line.force) {
        (Sense::AtLeast, _) => "short by",
        (Sense::AtMost, _) => "over by",
        (Sense::Exactly, _) => "off by",
    }
}
