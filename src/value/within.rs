//! Other plans that cost little more: people choose on more than money.
//!
//! Each aim is made best within the stated share of the least cost, and then the cheapest plan that is as good by it is
//! taken: two programmes, both proved. The fewest feeds are found by leaving feeds out one at a time, every step solved and
//! proved anew; that nothing fewer exists is not proved.

use super::answer::{Answer, NoAnswer, read, short};
use crate::feed::{FeedClass, Offer};
use crate::lp::{Certified, ColId};
use crate::winter::plan::{BIG_WINTER_BLOCKS, solve_growing};
use crate::winter::program::Program;
use crate::winter::{Case, Cells};

/// Two plans are clearly different if this share of the tons fed differs (judgement).
pub const CLEARLY: f64 = 0.05;
/// Kilograms of dry matter per head and day below which a feed is not used.
const NOT_USED: f64 = 1e-6;

/// What a plan may be best at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Aim {
    /// Cost.
    Cheapest,
    /// Few feeds, minerals aside, lots of a feed counted as one.
    FewestFeeds,
    /// Few tons bought and hauled in.
    LeastHauling,
    /// Little gin trash.
    LeastGinTrash,
    /// Much of the roughage already owned.
    MostOwnRoughage,
}

impl Aim {
    /// In the order of the page.
    pub const ALL: [Self; 5] =
        [Self::Cheapest, Self::FewestFeeds, Self::LeastHauling, Self::LeastGinTrash, Self::MostOwnRoughage];

    /// For people.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Cheapest => "cheapest",
            Self::FewestFeeds => "fewest feeds found",
            Self::LeastHauling => "least hauling",
            Self::LeastGinTrash => "least gin trash",
            Self::MostOwnRoughage => "most own roughage",
        }
    }
}

/// What aims look at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measures {
    /// Feeds used, minerals aside, lots of a feed counted as one.
    pub feeds: usize,
    /// Short tons bought.
    pub hauled_tons: f64,
    /// Short tons of gin trash fed.
    pub gin_trash_tons: f64,
    /// Short tons of owned roughage fed: what is fed of it less what is bought on top.
    pub own_roughage_tons: f64,
}

/// A plan that is best at something.
#[derive(Debug, Clone)]
pub struct Choice {
    /// At what.
    pub aim: Aim,
    /// The plan. Its certificate proves the cost least among plans as good by the aim.
    pub answer: Answer,
    /// What it comes to.
    pub measures: Measures,
}

/// The cheapest plan and those within a share of its cost.
#[derive(Debug, Clone)]
pub struct Within {
    /// Share, percent.
    pub pct: f64,
    /// Cost that none of them passes, US dollars for the winter.
    pub ceiling_usd: f64,
    /// Plans that differ clearly, the cheapest first.
    pub choices: Vec<Choice>,
    /// Best plans by other aims that are not clearly different, with the one each is about the same as.
    pub no_other: Vec<(Choice, Aim)>,
}

/// Plans within a share of the least cost, percent. Loads may be part loads.
///
/// # Errors
/// See [`NoAnswer`].
pub fn within(case: &Case, cells: &Cells<'_>, pct: f64) -> Result<Within, NoAnswer> {
    let mut program = Program::build(case, cells);
    let best = match solve_growing(&mut program, cells) {
        Ok(best) => best,
        Err(failure) => return Err(short(case, cells, &program, &failure)),
    };
    let ceiling_usd = best.objective + best.objective.abs() * pct / 100.0;
    let search = Search { case, cells, program: &program, ceiling_usd };
    let mut list = Within { pct, ceiling_usd, choices: Vec::new(), no_other: Vec::new() };
    let mut add = |choice: Choice| {
        let same = list.choices.iter().find(|one| distance(&one.answer, &choice.answer) < CLEARLY).map(|one| one.aim);
        match same {
            Some(aim) => list.no_other.push((choice, aim)),
            None => list.choices.push(choice),
        }
    };
    add(search.choice(Aim::Cheapest, &program, &best)?);
    if let Some((program, found)) = search.fewest_feeds(&best) {
        add(search.choice(Aim::FewestFeeds, &program, &found)?);
    }
    for aim in [Aim::LeastHauling, Aim::LeastGinTrash, Aim::MostOwnRoughage] {
        let terms = search.terms(aim);
        if terms.is_empty() {
            continue;
        }
        let (program, found) = search.best_at(&terms).map_err(|failure| NoAnswer::Unproven(failure.to_string()))?;
        add(search.choice(aim, &program, &found)?);
    }
    Ok(list)
}

/// The share of the tons fed that differs between two plans, 0 to 1.
#[must_use]
pub fn distance(a: &Answer, b: &Answer) -> f64 {
    let total = |answer: &Answer| answer.fed_tons.iter().sum::<f64>();
    let apart: f64 = a.fed_tons.iter().zip(&b.fed_tons).map(|(one, other)| (one - other).abs()).sum();
    // What is left out of one and taken into the other counts once.
    apart / (total(a) + total(b)).max(1e-9)
}

struct Search<'s> {
    case: &'s Case,
    cells: &'s Cells<'s>,
    program: &'s Program,
    ceiling_usd: f64,
}

impl Search<'_> {
    fn choice(&self, aim: Aim, program: &Program, found: &Certified) -> Result<Choice, NoAnswer> {
        let mut priced = found.clone();
        priced.objective = self.program.lp.cost(&found.x[..self.program.lp.cols.len()]);
        let answer = read(self.case, self.cells, program, &priced)?;
        let sum = |fits: fn(&Offer) -> bool| -> f64 {
            self.case.offers.iter().zip(&answer.fed_tons).filter(|(offer, _)| fits(offer)).map(|(_, tons)| tons).sum()
        };
        let own_roughage_tons = (0..self.case.offers.len())
            .filter(|f| is_own_roughage(&self.case.offers[*f]))
            .map(|f| (answer.fed_tons[f] - answer.bought_tons[f]).max(0.0))
            .sum();
        let measures = Measures {
            feeds: self.used(program, &found.x).len(),
            hauled_tons: answer.bought_tons.iter().sum(),
            gin_trash_tons: sum(|offer| offer.feed.class == FeedClass::GinTrash),
            own_roughage_tons,
        };
        Ok(Choice { aim, answer, measures })
    }

    /// Names of feeds used at a point, minerals aside.
    fn used(&self, program: &Program, x: &[f64]) -> Vec<&str> {
        let mut names: Vec<&str> = Vec::new();
        for (f, offer) in self.case.offers.iter().enumerate() {
            let used =
                program.blocks.iter().flatten().any(|block| block.amounts[f].is_some_and(|col| x[col.0] > NOT_USED));
            if used && !offer.feed.class.is_mineral() && !names.contains(&offer.feed_name()) {
                names.push(offer.feed_name());
            }
        }
        names
    }

    /// What an aim adds up: less of it is better. Empty where there is nothing to choose.
    fn terms(&self, aim: Aim) -> Vec<(ColId, f64)> {
        let fed = |fits: fn(&Offer) -> bool, sign: f64| -> Vec<(ColId, f64)> {
            let mut terms = Vec::new();
            for (f, offer) in self.case.offers.iter().enumerate().filter(|(_, offer)| fits(offer)) {
                for (block, period) in self.program.blocks.iter().flat_map(|row| row.iter().zip(&self.case.periods)) {
                    if let Some(col) = block.amounts[f] {
                        let tons = offer.tons_per_kg_dm_eaten(f64::from(period.days())) * block.head_days;
                        terms.push((col, sign * tons));
                    }
                }
            }
            terms
        };
        match aim {
            Aim::LeastHauling => {
                (0..self.case.offers.len()).flat_map(|f| self.program.purchases(self.case, f)).collect()
            }
            Aim::LeastGinTrash => fed(|offer| offer.feed.class == FeedClass::GinTrash, 1.0),
            Aim::MostOwnRoughage => {
                let mut terms = fed(is_own_roughage, -1.0);
                // What is bought on top is not owned.
                let own = (0..self.case.offers.len()).filter(|f| is_own_roughage(&self.case.offers[*f]));
                terms.extend(own.flat_map(|f| self.program.purchases(self.case, f)));
                terms
            }
            Aim::Cheapest | Aim::FewestFeeds => Vec::new(),
        }
    }

    /// The cheapest of the plans that are best at a sum within the ceiling.
    fn best_at(&self, terms: &[(ColId, f64)]) -> Result<(Program, Certified), crate::lp::Failure> {
        let mut first = self.program.clone();
        let per_dollar = 1.0 / self.ceiling_usd.abs().max(1.0);
        let costs: Vec<(ColId, f64)> = first.lp.cols.iter().enumerate().map(|(j, col)| (ColId(j), col.cost)).collect();
        let ceiling = costs.iter().filter(|(_, cost)| *cost != 0.0).map(|(col, cost)| (*col, cost * per_dollar));
        // A row in shares of the cost, so that it stands beside rows near 1; a ten-millionth of slack, or rounding alone
        // would leave nothing at the least cost itself.
        let side = (self.ceiling_usd - first.lp.constant) * per_dollar + 1e-7;
        first.lp.row("cost ceiling", f64::NEG_INFINITY, side, ceiling.collect::<Vec<_>>());
        for col in &mut first.lp.cols {
            col.cost = 0.0;
        }
        first.lp.constant = 0.0;
        for (col, value) in terms {
            first.lp.cols[col.0].cost += value;
        }
        let best = solve_growing(&mut first, self.cells)?;
        let size: f64 = terms.iter().map(|(col, value)| (value * best.x[col.0]).abs()).sum::<f64>().max(1.0);
        // A millionth of slack: the two programmes round differently.
        let mut second = first;
        let most = (best.objective + 1e-6 * size) / size;
        let shares: Vec<(ColId, f64)> = terms.iter().map(|(col, value)| (*col, value / size)).collect();
        second.lp.row("as good", f64::NEG_INFINITY, most, shares);
        for (col, cost) in costs {
            second.lp.cols[col.0].cost = cost;
        }
        second.lp.constant = self.program.lp.constant;
        let found = solve_growing(&mut second, self.cells)?;
        Ok((second, found))
    }

    /// The plan with the fewest feeds that leaving out one at a time finds within the ceiling, beginning with the feeds of
    /// the cheapest plan, and with each one of the others let in.
    fn fewest_feeds(&self, best: &Certified) -> Option<(Program, Certified)> {
        let used = self.used(self.program, &best.x);
        let big = self.cells.iter().map(Vec::len).sum::<usize>() > BIG_WINTER_BLOCKS;
        let mut starts = vec![used.clone()];
        if !big {
            let mut others: Vec<&str> = Vec::new();
            for offer in &self.case.offers {
                let name = offer.feed_name();
                if !offer.feed.class.is_mineral() && !used.contains(&name) && !others.contains(&name) {
                    others.push(name);
                }
            }
            starts.extend(others.into_iter().map(|other| used.iter().copied().chain([other]).collect()));
        }
        let mut fewest: Option<(usize, Program, Certified)> = None;
        for start in starts {
            let Some((count, program, found)) = self.left_out(start) else { continue };
            let better = fewest.as_ref().is_none_or(|(least, _, before)| {
                (count, found.objective) < (*least, before.objective - 1e-6 * before.objective.abs())
            });
            if better {
                fewest = Some((count, program, found));
            }
        }
        fewest.map(|(_, program, found)| (program, found))
    }

    /// Leaves out one feed at a time, the one whose loss costs least first, while the ceiling holds.
    fn left_out(&self, mut kept: Vec<&str>) -> Option<(usize, Program, Certified)> {
        let mut stands = self.only(&kept)?;
        loop {
            let mut cheapest: Option<(usize, (Program, Certified))> = None;
            for index in 0..kept.len() {
                let mut fewer = kept.clone();
                fewer.remove(index);
                let Some(found) = self.only(&fewer) else { continue };
                if cheapest.as_ref().is_none_or(|(_, (_, before))| found.1.objective < before.objective) {
                    cheapest = Some((index, found));
                }
            }
            let Some((index, found)) = cheapest else { break };
            kept.remove(index);
            stands = found;
        }
        let count = self.used(&stands.0, &stands.1.x).len();
        Some((count, stands.0, stands.1))
    }

    /// The least cost with only some feeds and the minerals; `None` above the ceiling or where nothing meets the needs.
    fn only(&self, names: &[&str]) -> Option<(Program, Certified)> {
        let mut program = self.program.clone();
        let Program { lp, blocks, .. } = &mut program;
        for block in blocks.iter().flatten() {
            for (offer, col) in self.case.offers.iter().zip(&block.amounts) {
                if let Some(col) = col
                    && !offer.feed.class.is_mineral()
                    && !names.contains(&offer.feed_name())
                {
                    lp.cols[col.0].upper = 0.0;
                }
            }
        }
        let found = solve_growing(&mut program, self.cells).ok()?;
        let most = self.ceiling_usd + 1e-7 * self.ceiling_usd.abs();
        (found.objective <= most).then_some((program, found))
    }
}

/// Roughage that is owned and hauled, not grazed.
fn is_own_roughage(offer: &Offer) -> bool {
    let class = offer.feed.class;
    offer.on_hand.0 > 0.0 && class.is_roughage() && !class.is_grazed() && class != FeedClass::GinTrash
}
