//! Cases side by side as plain data, and as CSV.

use super::csv::cell;
use super::model::Caution;
use super::text::feed::short_name;
use crate::feed::Offer;
use crate::limit::figure_text;
use crate::value::answer::{Answer, NoAnswer, head_days};
use crate::value::nutrient_cost::NutrientCosts;
use crate::winter::{Case, Cells};
use serde::Serialize;
use std::fmt::Write as _;

/// A feed at its price.
#[derive(Debug, Clone, Serialize)]
pub struct FeedPrice {
    /// Feed.
    pub feed: String,
    /// Delivered, US dollars per short ton; absent: it cannot be bought.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub delivered_usd_per_ton: Option<f64>,
    /// What a ton that is owned would sell for, US dollars; absent: none is owned.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub own_usd_per_ton: Option<f64>,
}

/// A feed of a ration.
#[derive(Debug, Clone, Serialize)]
pub struct RationRow {
    /// Group.
    pub group: String,
    /// Feed.
    pub feed: String,
    /// Pounds as fed per head and day, the mean of the winter.
    pub lb_as_fed_per_head_day: f64,
}

/// A feed over the winter.
#[derive(Debug, Clone, Serialize)]
pub struct TonsRow {
    /// Feed.
    pub feed: String,
    /// Short tons drawn for feeding, waste included.
    pub fed_tons: f64,
    /// Short tons bought.
    pub bought_tons: f64,
}

/// A need or limit that holds the cost up.
#[derive(Debug, Clone, Serialize)]
pub struct BindingRow {
    /// Group.
    pub group: String,
    /// Id of the rule.
    pub rule: &'static str,
    /// Its name for people.
    pub title: &'static str,
    /// The feed it is about, where it is about one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub feed: Option<String>,
    /// Periods in which it binds.
    pub periods: Vec<String>,
    /// The same for people.
    #[serde(skip)]
    pub when: String,
    /// Ranks the rules of a group: price times figure, US dollars for the winter.
    pub weight_usd: f64,
}

/// What nutrients cost by one feed.
#[derive(Debug, Clone, Serialize)]
pub struct NutrientRow {
    /// Feed.
    pub feed: String,
    /// Delivered, US dollars per short ton; of owned feed what it would sell for.
    pub usd_per_ton: f64,
    /// Owned.
    pub owned: bool,
    /// US dollars per pound of crude protein eaten; freight, loss and waste paid.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub usd_per_lb_cp: Option<f64>,
    /// US dollars per pound of TDN eaten.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub usd_per_lb_tdn: Option<f64>,
    /// US dollars per Mcal NEm eaten.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub usd_per_mcal_nem: Option<f64>,
    /// Pounds of dry matter she must hold for one pound of crude protein.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lb_dm_per_lb_cp: Option<f64>,
    /// Crude protein, % of dry matter.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cp_pct_dm: Option<f64>,
    /// A roughage: the two-feed figure is too high.
    pub roughage: bool,
    /// It holds less protein than the ration must hold where most is asked for, so it cannot raise the ration's.
    pub cannot_raise_protein: bool,
    /// Worth by the two bench-mark feeds, US dollars per short ton delivered.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub two_feed_usd_per_ton: Option<f64>,
}

/// What nutrients cost in one case.
#[derive(Debug, Clone, Serialize)]
pub struct NutrientTable {
    /// By feed.
    pub feeds: Vec<NutrientRow>,
    /// The two bench-mark feeds: the one poorest and the one richest in protein.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bench_marks: Option<(String, String)>,
    /// What they make of a pound of crude protein and a pound of TDN, US dollars.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bench_usd_per_lb_cp_and_tdn: Option<(f64, f64)>,
    /// Crude protein where the ration must hold most of it, % of dry matter, with the group and the period.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub most_cp_asked: Option<(f64, String, String)>,
}

/// One case.
#[derive(Debug, Clone, Serialize)]
pub struct CaseColumn {
    /// Its name.
    pub name: String,
    /// `plan`, `short` (needs and limits cannot all hold), `unproven` (our fault).
    pub status: &'static str,
    /// What is short, in words.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub why: Option<String>,
    /// First day.
    pub from: String,
    /// Turn-out.
    pub to: String,
    /// Days.
    pub days: u32,
    /// Head.
    pub head: u32,
    /// Least cost of the winter, US dollars.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub winter_usd: Option<f64>,
    /// The same per head and day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub usd_per_head_day: Option<f64>,
    /// Prices.
    pub prices: Vec<FeedPrice>,
    /// Rations.
    pub rations: Vec<RationRow>,
    /// Tons.
    pub tons: Vec<TonsRow>,
    /// What binds.
    pub binding: Vec<BindingRow>,
    /// What to watch.
    pub cautions: Vec<Caution>,
    /// What nutrients cost.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub nutrient_costs: Option<NutrientTable>,
}

/// Cases side by side.
#[derive(Debug, Clone, Serialize)]
pub struct Comparison {
    /// The cases.
    pub cases: Vec<CaseColumn>,
    /// What carries the difference from the first case to each of the others.
    pub differences: Vec<super::driver::Difference>,
}

/// A case and its answer as plain data.
#[must_use]
pub fn column(
    name: &str,
    case: &Case,
    cells: &Cells<'_>,
    answer: &Result<Answer, NoAnswer>,
    costs: Option<&NutrientCosts>,
) -> CaseColumn {
    let (status, why) = standing(case, answer.as_ref().err());
    let answer = answer.as_ref().ok();
    let id = |index: usize| case.offers[index].id.clone();
    let offers = 0..case.offers.len();
    CaseColumn {
        name: name.to_owned(),
        status,
        why,
        from: case.periods.first().map_or_else(String::new, |period| period.from.to_string()),
        to: case.periods.last().map_or_else(String::new, |period| period.to.to_string()),
        days: case.periods.iter().map(crate::herd::Period::days).sum(),
        head: case.groups.iter().map(|group| group.head).sum(),
        winter_usd: answer.map(|answer| answer.cost_usd),
        usd_per_head_day: answer.map(|answer| answer.cost_usd / head_days(case).max(1.0)),
        prices: case
            .offers
            .iter()
            .map(|offer| FeedPrice {
                feed: offer.id.clone(),
                delivered_usd_per_ton: offer.delivered_usd_per_ton(),
                own_usd_per_ton: (offer.on_hand.0 > 0.0).then_some(offer.value_usd_per_ton),
            })
            .collect(),
        rations: answer.map_or_else(Vec::new, |answer| rations(case, answer)),
        tons: answer.map_or_else(Vec::new, |answer| {
            let tons =
                |f: usize| TonsRow { feed: id(f), fed_tons: answer.fed_tons[f], bought_tons: answer.bought_tons[f] };
            offers.map(tons).filter(|row| row.fed_tons > 1e-6 || row.bought_tons > 1e-6).collect()
        }),
        binding: answer.map_or_else(Vec::new, |answer| binding(case, answer)),
        cautions: answer.map_or_else(Vec::new, |answer| cautions(case, cells, answer)),
        nutrient_costs: costs.map(|costs| nutrients(case, costs)),
    }
}

/// The rations of an answer; feeds that nobody gets are left out.
#[must_use]
pub fn rations(case: &Case, answer: &Answer) -> Vec<RationRow> {
    let groups = case.groups.iter().zip(&answer.lb);
    groups
        .flat_map(|(group, lb)| {
            case.offers.iter().zip(lb).filter(|(_, lb)| **lb > 1e-6).map(|(offer, lb)| RationRow {
                group: group.name.clone(),
                feed: offer.id.clone(),
                lb_as_fed_per_head_day: *lb,
            })
        })
        .collect()
}

/// What to watch with the rations of an answer.
#[must_use]
pub fn cautions(case: &Case, cells: &Cells<'_>, answer: &Answer) -> Vec<Caution> {
    super::cautions::of(case, cells, |g, t| {
        let one = &answer.rations[g][t];
        Some((one.kg_dm.as_slice(), &one.verdict))
    })
}

/// What binds in an answer.
#[must_use]
pub fn binding(case: &Case, answer: &Answer) -> Vec<BindingRow> {
    answer
        .binding
        .iter()
        .map(|one| BindingRow {
            group: case.groups[one.group].name.clone(),
            rule: one.rule,
            title: one.title,
            feed: one.about.clone(),
            periods: one.periods.iter().map(|t| case.periods[*t].label.clone()).collect(),
            when: when(case, &one.periods),
            weight_usd: one.weight_usd,
        })
        .collect()
}

/// Periods in few words.
fn when(case: &Case, periods: &[usize]) -> String {
    let label = |t: &usize| short_name(&case.periods[*t].label);
    let run = periods.windows(2).all(|pair| pair[0] + 1 == pair[1]);
    match periods {
        _ if periods.len() == case.periods.len() => "all winter".to_owned(),
        [first, .., last] if run && periods.len() > 2 => format!("{} to {}", label(first), label(last)),
        _ if periods.len() > 3 => format!("{} of {} periods", periods.len(), case.periods.len()),
        _ => periods.iter().map(label).collect::<Vec<_>>().join(", "),
    }
}

fn nutrients(case: &Case, costs: &NutrientCosts) -> NutrientTable {
    let id = |index: usize| case.offers[index].id.clone();
    NutrientTable {
        feeds: costs
            .feeds
            .iter()
            .map(|cost| NutrientRow {
                feed: id(cost.offer),
                usd_per_ton: cost.usd_per_ton,
                owned: cost.owned,
                usd_per_lb_cp: cost.usd_per_lb_cp,
                usd_per_lb_tdn: cost.usd_per_lb_tdn,
                usd_per_mcal_nem: cost.usd_per_mcal_nem,
                lb_dm_per_lb_cp: cost.dm_lb_per_lb_cp,
                cp_pct_dm: cost.cp_pct_dm,
                roughage: cost.is_roughage,
                cannot_raise_protein: cost.dilutes_protein,
                two_feed_usd_per_ton: cost.two_feed_usd_per_ton,
            })
            .collect(),
        bench_marks: costs.two_feeds.map(|two| (id(two.energy), id(two.protein))),
        bench_usd_per_lb_cp_and_tdn: costs.two_feeds.map(|two| (two.usd_per_lb_cp, two.usd_per_lb_tdn)),
        most_cp_asked: costs.protein_asked.as_ref().map(|one| (one.pct_dm, one.group.clone(), one.period.clone())),
    }
}

/// How a case stands, and what is short in words.
#[must_use]
pub fn standing(case: &Case, no: Option<&NoAnswer>) -> (&'static str, Option<String>) {
    match no {
        None => ("plan", None),
        Some(NoAnswer::Short(short)) => {
            let mut text = match short.shortfalls.first() {
                Some(first) => format!(
                    "{}, {}: {} reaches {} of {} {}",
                    case.groups[first.group].name,
                    case.periods[first.period].label,
                    first.title,
                    figure_text(first.reached, first.digits.max(1)),
                    figure_text(first.limit, first.digits.max(1)),
                    first.unit
                ),
                None => "needs and limits cannot all hold".to_owned(),
            };
            match short.shortfalls.len() {
                0 | 1 => {}
                2 => text.push_str(", and one more is missed"),
                more => {
                    let _ = write!(text, ", and {} more are missed", more - 1);
                }
            }
            ("short", Some(text))
        }
        Some(NoAnswer::Unproven(why)) => ("unproven", Some(why.clone())),
        Some(NoAnswer::Input(list)) => ("unproven", list.first().map(|one| one.message.clone())),
    }
}

/// The columns of a CSV of cases: they must be the same on every line.
#[derive(Debug, Clone, Default)]
pub struct CsvShape {
    feeds: Vec<String>,
    groups: Vec<String>,
}

impl CsvShape {
    /// Room for the feeds and groups of one more case.
    pub fn add(&mut self, case: &Case) {
        let add = |list: &mut Vec<String>, name: &String| {
            if !list.contains(name) {
                list.push(name.clone());
            }
        };
        case.offers.iter().for_each(|offer| add(&mut self.feeds, &offer.id));
        case.groups.iter().for_each(|group| add(&mut self.groups, &group.name));
    }

    /// The first line.
    #[must_use]
    pub fn header(&self) -> String {
        let mut cells: Vec<String> =
            ["case", "status", "head", "days", "winter_usd", "usd_per_head_day"].map(str::to_owned).to_vec();
        cells.extend(self.feeds.iter().map(|feed| format!("{feed}_bought_tons")));
        for group in &self.groups {
            cells.extend(self.feeds.iter().map(|feed| format!("{group}_{feed}_lb_as_fed_per_head_day")));
        }
        cells.extend(["binding", "why"].map(str::to_owned));
        line(&cells)
    }

    /// The line of one case.
    #[must_use]
    pub fn row(&self, name: &str, case: &Case, answer: &Result<Answer, NoAnswer>) -> String {
        let (status, why) = standing(case, answer.as_ref().err());
        let head: u32 = case.groups.iter().map(|group| group.head).sum();
        let days: u32 = case.periods.iter().map(crate::herd::Period::days).sum();
        let mut cells = vec![name.to_owned(), status.to_owned(), head.to_string(), days.to_string()];
        let answer = answer.as_ref().ok();
        let figure =
            |value: Option<f64>, digits: usize| value.map_or_else(String::new, |value| format!("{value:.digits$}"));
        cells.push(figure(answer.map(|answer| answer.cost_usd), 2));
        cells.push(figure(answer.map(|answer| answer.cost_usd / head_days(case).max(1.0)), 6));
        let place = |feed: &String| case.offers.iter().position(|offer: &Offer| offer.id == *feed);
        let places: Vec<Option<usize>> = self.feeds.iter().map(place).collect();
        for f in &places {
            cells.push(figure(f.and_then(|f| Some(answer?.bought_tons[f])), 4));
        }
        for group in &self.groups {
            let g = case.groups.iter().position(|one| one.name == *group);
            for f in &places {
                cells.push(figure(g.zip(*f).and_then(|(g, f)| Some(answer?.lb[g][f])), 4));
            }
        }
        let binds = answer.map_or_else(String::new, |answer| {
            let words: Vec<String> = binding(case, answer)
                .iter()
                .map(|one| {
                    let about = one.feed.as_ref().map_or_else(String::new, |feed| format!(" ({feed})"));
                    format!("{} {}{about}", one.group, one.rule)
                })
                .collect();
            words.join("; ")
        });
        cells.push(binds);
        cells.push(why.unwrap_or_default());
        line(&cells)
    }
}

fn line(cells: &[String]) -> String {
    let mut out = cells.iter().map(|text| cell(text)).collect::<Vec<_>>().join(",");
    out.push('\n');
    out
}
