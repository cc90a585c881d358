//! What carries the difference between two cases: each input that differs is changed alone, from the first case to the
//! second, and the winter is solved again.
//!
//! What the single changes do not add up to belongs to them together, and is told as such: no order of changing them
//! could share it out without favoring one.

use super::answer::head_days;
use crate::feed::Offer;
use crate::herd::Group;
use crate::lp;
use crate::winter::plan::solve_growing;
use crate::winter::program::Program;
use crate::winter::{Case, LimitChange, assemble};

/// An input in which two cases differ.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Input {
    /// Price, freight, sale value and cost of grazing of a feed.
    Price(String),
    /// How much of a feed there is, when, and the room for it.
    Stock(String),
    /// What a feed tests.
    Test(String),
    /// How a feed is stored and fed: loss, waste, amounts.
    Handling(String),
    /// A feed that only the second case has.
    Added(String),
    /// A feed that only the first case has.
    Dropped(String),
    /// Head of a group.
    Head(String),
    /// A group in all but head: weight, condition, calving and so on.
    Cattle(String),
    /// The groups themselves: not the same names.
    Herd,
    /// Weather, shelter, sun.
    Weather,
    /// First day, turn-out, periods.
    Winter,
    /// Limits and needs of the user's own, certainty, substitution, usual ounces of mineral.
    Limits,
}

/// One input changed alone.
#[derive(Debug, Clone, PartialEq)]
pub struct Swap {
    /// The input.
    pub input: Input,
    /// Change of the figure compared, US dollars; `None`: with it alone there is no ration, or none that could be proved.
    pub usd: Option<f64>,
    /// With it alone no answer could be proved: our fault.
    pub unproven: bool,
}

/// What carries the difference between two cases.
#[derive(Debug, Clone, PartialEq)]
pub struct Driver {
    /// The figures are per head and day, since head or days differ; else for the winter.
    pub per_head_day: bool,
    /// First case, US dollars.
    pub from_usd: f64,
    /// Second case, US dollars.
    pub to_usd: f64,
    /// Every input that differs, the largest change first; those without a ration last.
    pub swaps: Vec<Swap>,
}

impl Driver {
    /// The whole difference, US dollars.
    #[must_use]
    pub fn difference_usd(&self) -> f64 {
        self.to_usd - self.from_usd
    }
    /// What the single changes do not add up to, US dollars; `None` where one of them has no ration.
    #[must_use]
    pub fn together_usd(&self) -> Option<f64> {
        let singles: Option<f64> = self.swaps.iter().map(|swap| swap.usd).sum();
        singles.map(|sum| self.difference_usd() - sum)
    }
}

/// What carries the difference between two cases whose least costs are known, US dollars for the winter.
#[must_use]
pub fn driver(first: (&Case, f64), second: (&Case, f64)) -> Driver {
    let per_head_day = (head_days(first.0) - head_days(second.0)).abs() > 0.5;
    let figure = |case: &Case, usd: f64| if per_head_day { usd / head_days(case).max(1.0) } else { usd };
    let from_usd = figure(first.0, first.1);
    let mut swaps: Vec<Swap> = differences(first.0, second.0)
        .into_iter()
        .map(|input| {
            let case = swapped(first.0, second.0, &input);
            let cost = least_cost(&case);
            let unproven = matches!(&cost, Err(failure) if *failure != lp::Failure::Infeasible);
            Swap { input, usd: cost.ok().map(|usd| figure(&case, usd) - from_usd), unproven }
        })
        .collect();
    let size = |swap: &Swap| swap.usd.map_or(-1.0, f64::abs);
    swaps.sort_by(|a, b| size(b).total_cmp(&size(a)));
    Driver { per_head_day, from_usd, to_usd: figure(second.0, second.1), swaps }
}

/// Least cost of a case, US dollars for the winter, without what is short where there is none.
///
/// # Errors
/// Whatever the engine says. A case that cannot be assembled, with a feed whose figures a rule needs and nobody gave, has
/// no answer either.
pub fn least_cost(case: &Case) -> Result<f64, lp::Failure> {
    let cells =
        assemble(case).map_err(|_| lp::Failure::Invalid("a figure that a rule needs is not known".to_owned()))?;
    let found = solve_growing(&mut Program::build(case, &cells), &cells)?;
    Ok(found.objective)
}

/// Every input in which two cases differ.
#[must_use]
pub fn differences(a: &Case, b: &Case) -> Vec<Input> {
    let mut list = Vec::new();
    for mine in &a.offers {
        let name = || mine.id.clone();
        match b.offers.iter().find(|other| other.id == mine.id) {
            None => list.push(Input::Dropped(name())),
            Some(other) => {
                let kinds: [(Take, Input); 4] = [
                    (take_price, Input::Price(name())),
                    (take_stock, Input::Stock(name())),
                    (take_test, Input::Test(name())),
                    (take_handling, Input::Handling(name())),
                ];
                for (take, input) in kinds {
                    let mut taken = mine.clone();
                    take(&mut taken, other);
                    if taken != *mine {
                        list.push(input);
                    }
                }
            }
        }
    }
    let only_b = b.offers.iter().filter(|other| !a.offers.iter().any(|mine| mine.id == other.id));
    list.extend(only_b.map(|other| Input::Added(other.id.clone())));
    if same_names(a, b) {
        for (mine, other) in a.groups.iter().zip(&b.groups) {
            if mine.head != other.head {
                list.push(Input::Head(mine.name.clone()));
            }
            if (Group { head: other.head, ..mine.clone() }) != *other {
                list.push(Input::Cattle(mine.name.clone()));
            }
        }
    } else {
        list.push(Input::Herd);
    }
    // A spell to be ready for is told on top of a plan and changes none.
    let mut place = b.place.clone();
    place.name.clone_from(&a.place.name);
    place.cold_spell = a.place.cold_spell;
    place.cold_spell_kind.clone_from(&a.place.cold_spell_kind);
    if place != a.place {
        list.push(Input::Weather);
    }
    if a.periods != b.periods {
        list.push(Input::Winter);
    }
    let limits = |case: &Case| -> Vec<LimitChange> {
        case.limits.iter().map(|change| LimitChange { span: 0..0, ..change.clone() }).collect()
    };
    if limits(a) != limits(b) || a.settings != b.settings || a.needs_override != b.needs_override {
        list.push(Input::Limits);
    }
    list
}

fn same_names(a: &Case, b: &Case) -> bool {
    a.groups.len() == b.groups.len() && a.groups.iter().zip(&b.groups).all(|(one, other)| one.name == other.name)
}

/// The first case with one input of the second.
#[must_use]
pub fn swapped(a: &Case, b: &Case, input: &Input) -> Case {
    let mut case = a.clone();
    let mut of_feed = |name: &String, take: Take| {
        let mine = case.offers.iter_mut().find(|offer| offer.id == *name);
        if let (Some(mine), Some(other)) = (mine, b.offers.iter().find(|offer| offer.id == *name)) {
            take(mine, other);
        }
    };
    match input {
        Input::Price(name) => of_feed(name, take_price),
        Input::Stock(name) => of_feed(name, take_stock),
        Input::Test(name) => of_feed(name, take_test),
        Input::Handling(name) => of_feed(name, take_handling),
        Input::Added(name) => case.offers.extend(b.offers.iter().find(|offer| offer.id == *name).cloned()),
        Input::Dropped(name) => case.offers.retain(|offer| offer.id != *name),
        Input::Head(name) | Input::Cattle(name) => {
            let mine = case.groups.iter_mut().find(|group| group.name == *name);
            if let (Some(mine), Some(other)) = (mine, b.groups.iter().find(|group| group.name == *name)) {
                let head = if matches!(input, Input::Head(_)) { other.head } else { mine.head };
                let whole = if matches!(input, Input::Head(_)) { mine.clone() } else { other.clone() };
                *mine = Group { head, ..whole };
            }
        }
        Input::Herd => case.groups.clone_from(&b.groups),
        Input::Weather => {
            case.place = b.place.clone();
            case.place.name.clone_from(&a.place.name);
        }
        Input::Winter => case.periods.clone_from(&b.periods),
        Input::Limits => {
            case.limits.clone_from(&b.limits);
            case.settings = b.settings.clone();
            case.needs_override.clone_from(&b.needs_override);
        }
    }
    case
}

/// Lays one kind of input of an offer over another offer.
type Take = fn(&mut Offer, &Offer);

fn take_price(mine: &mut Offer, other: &Offer) {
    mine.price_usd_per_ton = other.price_usd_per_ton;
    mine.price_by_month.clone_from(&other.price_by_month);
    mine.freight = other.freight;
    mine.value_usd_per_ton = other.value_usd_per_ton;
    mine.leftover_usd_per_ton = other.leftover_usd_per_ton;
    if let (Some(mine), Some(other)) = (&mut mine.grazing, &other.grazing) {
        mine.usd_per_head_month = other.usd_per_head_month;
    }
}

fn take_stock(mine: &mut Offer, other: &Offer) {
    mine.on_hand = other.on_hand;
    mine.supply = other.supply.clone();
    mine.storage_tons = other.storage_tons;
    mine.whole_loads = other.whole_loads;
    (mine.from, mine.to) = (other.from, other.to);
    (mine.fed_from, mine.fed_to) = (other.fed_from, other.fed_to);
}

fn take_test(mine: &mut Offer, other: &Offer) {
    mine.feed = other.feed.clone();
}

fn take_handling(mine: &mut Offer, other: &Offer) {
    mine.loss = other.loss;
    mine.waste = other.waste;
    mine.fed = other.fed;
    mine.fed_by_group.clone_from(&other.fed_by_group);
    mine.bounds_all = other.bounds_all;
    mine.bounds.clone_from(&other.bounds);
    mine.lot_of.clone_from(&other.lot_of);
    if let (Some(mine), Some(other)) = (&mut mine.grazing, &other.grazing) {
        mine.most_of_intake = other.most_of_intake;
    }
}
