//! From a plan, or from judged rations, to the plain data of a report.

use super::haul;
use super::model::{
    CertificateReport, ConditionLine, GroupReport, LimitLine, LowLine, Nutrients, PeriodReport, Purchase, RationLine,
    Report, Stock, WinterReport, Worth,
};
use crate::check::Judgement;
use crate::feed::{FedHow, Offer};
use crate::herd::Period;
use crate::limit::Measure;
use crate::lp::Uniqueness;
use crate::quantity::{KgDm, lb_from_kg};
use crate::value::{low, score, spell};
use crate::winter::{Case, Cell, Cells, Plan, PlannedRation};
use indexmap::IndexMap;

/// The report of a plan; `judged` is the independent check of each of its rations.
#[must_use]
pub fn of_plan(case: &Case, cells: &Cells<'_>, plan: &Plan, judged: &[Vec<Judgement>]) -> Report {
    let groups = (0..cells.len())
        .map(|g| {
            let money = score::score_money(cells, plan, g);
            let mut group = group_report(case, &cells[g], |t| Some((&plan.rations[g][t], &judged[g][t])));
            group.score_to_gain_usd_per_head = money.map(|money| money.to_gain_usd);
            group.score_saved_usd_per_head = money.map(|money| money.saved_by_losing_usd);
            for (t, period) in group.periods.iter_mut().enumerate() {
                period.learning = super::beside::learning(case, &cells[g][t], &plan.rations[g][t].kg_dm);
            }
            group
        })
        .collect();
    let mut report = frame(case, groups);
    report.stores = haul::stores(case, cells, plan);
    report.sheet = super::sheet::sheet(case, plan);
    super::sheet::begin_slowly(&mut report.sheet, &report.groups);
    // Labor of a given interval is the same whatever is fed, so the programme need not know it.
    let labor_usd = haul::labor_usd(&report.stores);
    report.winter.labor_usd = labor_usd;
    report.winter.cost_usd = plan.cost_usd + labor_usd;
    report.winter.cost_usd_per_head_day = report.winter.cost_usd / head_days(case).max(1.0);
    report.grazing = super::beside::grazing(case, cells);
    report.winter.grazing_usd = 0.0 + report.grazing.iter().map(|line| line.usd).sum::<f64>();
    report.winter.never_fed_usd = plan.cost_usd - report.groups.iter().map(|group| group.cost_usd).sum::<f64>();
    let bought_usd: f64 = plan.feeds.iter().map(crate::winter::FeedWinter::usd).sum();
    let owned_value_usd = plan.cost_usd - bought_usd - report.winter.grazing_usd;
    // What is left of two sums is rounding.
    report.winter.owned_value_usd = if owned_value_usd.abs() < 1e-6 { 0.0 } else { owned_value_usd };
    report.winter.least_cost_usd = Some(plan.least_cost_usd + labor_usd);
    report.winter.changes_lb = Some(plan.changes_lb);
    report.winter.changes_at_least_cost_lb = Some(plan.changes_at_least_cost_lb);
    report.purchases = purchases(case, plan);
    report.prices = super::prices::of(case, plan);
    report.stocks = stocks(case, plan);
    report.worth = worth(case, plan);
    for one in &mut report.worth {
        // Labor stands in the bill; that of the feed left out would not.
        let of_it: f64 =
            report.stores.feedings.iter().filter(|line| line.feed == one.feed).map(|line| line.labor_usd).sum();
        one.winter_without_usd = one.winter_without_usd.map(|usd| usd + labor_usd - of_it);
    }
    report.cold_spell = spell::spell(case, cells, plan).map(|found| super::spell::of(case, &found));
    report.cautions =
        super::cautions::of(case, cells, |g, t| Some((plan.rations[g][t].kg_dm.as_slice(), &judged[g][t])));
    report.certificate = Some(CertificateReport {
        primal: plan.certificate.primal,
        dual: plan.certificate.dual,
        relative_gap: plan.certificate.relative_gap,
    });
    report.unique = match &plan.uniqueness {
        Uniqueness::Unique => Some(true),
        Uniqueness::Tied { .. } => Some(false),
        Uniqueness::Unknown => None,
    };
    report
}

/// A ration of the user's own: amounts and prices by offer.
#[must_use]
pub fn hand_ration(case: &Case, period: &Period, kg_dm: Vec<f64>) -> PlannedRation {
    let days = f64::from(period.days());
    let usd_by_offer = case
        .offers
        .iter()
        .zip(&kg_dm)
        .map(|(offer, kg)| {
            let bought = offer.delivered_on(period.from).unwrap_or(0.0);
            let price = if offer.on_hand.0 > 0.0 { offer.value_usd_per_ton } else { bought };
            let by_head = if *kg > 0.0 { offer.usd_per_head_day() } else { 0.0 };
            kg * offer.tons_per_kg_dm_eaten(days) * price + by_head
        })
        .collect();
    PlannedRation { kg_dm, usd_by_offer, prices: Vec::new(), growth_prices: None }
}

/// The report of hand-made rations; `None` where none is given for a block.
#[must_use]
pub fn of_check(case: &Case, cells: &Cells<'_>, judged: &[Vec<Option<(PlannedRation, Judgement)>>]) -> Report {
    let groups: Vec<GroupReport> = (0..cells.len())
        .map(|g| group_report(case, &cells[g], |t| judged[g][t].as_ref().map(|(ration, verdict)| (ration, verdict))))
        .collect();
    let mut report = frame(case, groups);
    let (mut usd, mut days) = (0.0, 0.0);
    for (g, row) in judged.iter().enumerate() {
        for (t, cell) in row.iter().enumerate() {
            if let Some((ration, _)) = cell {
                let here = f64::from(case.groups[g].head) * f64::from(case.periods[t].days());
                usd += ration.usd() * here;
                days += here;
            }
        }
    }
    report.winter.cost_usd = usd;
    report.winter.cost_usd_per_head_day = if days > 0.0 { usd / days } else { 0.0 };
    report.cautions = super::cautions::of(case, cells, |g, t| {
        judged[g][t].as_ref().map(|(ration, verdict)| (ration.kg_dm.as_slice(), verdict))
    });
    let verdicts = || judged.iter().flatten().flatten().map(|(_, verdict)| verdict);
    report.status = if verdicts().any(Judgement::unfit) {
        "unfit"
    } else if verdicts().any(Judgement::short) {
        "short"
    } else if verdicts().any(Judgement::outside) {
        "outside"
    } else {
        "fit"
    };
    report
}

fn head_days(case: &Case) -> f64 {
    let days: u32 = case.periods.iter().map(Period::days).sum();
    case.groups.iter().map(|group| f64::from(group.head) * f64::from(days)).sum()
}

fn frame(case: &Case, groups: Vec<GroupReport>) -> Report {
    let date = |date: Option<jiff::civil::Date>| date.map_or_else(String::new, |date| date.to_string());
    Report {
        status: "plan",
        place: case.place.name.clone(),
        winter: WinterReport {
            from: date(case.periods.first().map(|period| period.from)),
            to: date(case.periods.last().map(|period| period.to)),
            days: case.periods.iter().map(Period::days).sum(),
            head: case.groups.iter().map(|group| group.head).sum(),
            cost_usd: 0.0,
            cost_usd_per_head_day: 0.0,
            owned_value_usd: 0.0,
            never_fed_usd: 0.0,
            grazing_usd: 0.0,
            labor_usd: 0.0,
            least_cost_usd: None,
            changes_lb: None,
            changes_at_least_cost_lb: None,
        },
        groups,
        purchases: Vec::new(),
        grazing: Vec::new(),
        prices: Vec::new(),
        stocks: Vec::new(),
        stores: haul::Stores::default(),
        rounding_usd: None,
        not_rounded: None,
        sheet: Vec::new(),
        worth: Vec::new(),
        cautions: Vec::new(),
        certificate: None,
        unique: None,
        best_plan_usd: None,
        at_will_ends: None,
        left_out: Vec::new(),
        by_hand: Vec::new(),
        certainty_pct: case.settings.certainty_pct,
        low_case_covers: Vec::new(),
        cold_spell: None,
        weather: super::weather::words(case),
    }
}

fn group_report<'r>(
    case: &Case,
    cells: &[Cell<'_>],
    ration: impl Fn(usize) -> Option<(&'r PlannedRation, &'r Judgement)>,
) -> GroupReport {
    let Some(first) = cells.first() else {
        return GroupReport {
            name: String::new(),
            kind: "",
            head: 0,
            cost_usd: 0.0,
            cost_usd_per_head_day: 0.0,
            score_to_gain_usd_per_head: None,
            score_saved_usd_per_head: None,
            barred: Vec::new(),
            periods: Vec::new(),
        };
    };
    let group = first.block.group;
    let mut score = group.condition;
    let (mut usd, mut days) = (0.0, 0.0);
    let mut periods = Vec::new();
    for (t, cell) in cells.iter().enumerate() {
        let Some((planned, judgement)) = ration(t) else { continue };
        let length = f64::from(cell.block.period.days());
        let from = score;
        // The scale ends at 1 and 9; what lies beyond is no score.
        score = (score + judgement.energy.scores_per_day * length).clamp(1.0, 9.0);
        usd += planned.usd() * length;
        days += length;
        periods.push(period_report(case, cell, planned, judgement, (from, score)));
    }
    let mut barred: IndexMap<String, &'static str> = IndexMap::new();
    for cell in cells {
        for (offer, reason) in case.offers.iter().zip(&cell.block.barred) {
            if let Some(reason) = reason {
                barred.entry(offer.id.clone()).or_insert(reason);
            }
        }
    }
    GroupReport {
        name: group.name.clone(),
        kind: group.class.name(),
        head: group.head,
        cost_usd: usd * f64::from(group.head),
        cost_usd_per_head_day: if days > 0.0 { usd / days } else { 0.0 },
        score_to_gain_usd_per_head: None,
        score_saved_usd_per_head: None,
        barred: barred.into_iter().collect(),
        periods,
    }
}

fn period_report(
    case: &Case,
    cell: &Cell<'_>,
    planned: &PlannedRation,
    judgement: &Judgement,
    score: (f64, f64),
) -> PeriodReport {
    let period = cell.block.period;
    let energy = judgement.energy;
    let ration = case
        .offers
        .iter()
        .zip(&planned.kg_dm)
        .zip(&planned.usd_by_offer)
        // Grazing is paid by the head even where nothing is eaten of it.
        .filter(|((offer, kg), usd)| **kg > 1e-6 || offer.grazing.is_some() && **usd > 0.0)
        .map(|((offer, kg), usd)| RationLine {
            feed: offer.id.clone(),
            lb_as_fed: KgDm(*kg).as_fed(offer.feed.dm_pct()).lb(),
            lb_dm: lb_from_kg(*kg),
            usd_per_head_day: *usd,
            at_will: offer.fed_for(&cell.block.group.name) == FedHow::FreeChoice,
        })
        .collect();
    // The printed inverse of the equation of growth misses by half a percent: what was asked for and is kept is reached.
    let grows = judgement.lines.iter().any(|line| line.rule.id == "growth" && line.kept);
    let gain_kg = match energy.gain_wanted_kg.filter(|_| grows) {
        Some(wanted) => energy.gain_kg.map(|gain| gain.max(wanted)),
        None => energy.gain_kg,
    };
    let surplus = energy.supplied_nem_mcal - energy.needed_nem_mcal;
    let low_case =
        low::worst(&cell.block, &cell.demands, &case.offers, &judgement.eaten_kg_dm, surplus).map(|low| LowLine {
            feed: case.offers[low.offer].id.clone(),
            tdn_pct_dm: low.tdn_pct.0,
            low_tdn_pct_dm: low.tdn_pct.1,
            cp_pct_dm: low.cp_pct.0,
            low_cp_pct_dm: low.cp_pct.1,
            short_nem_mcal: low.missing_nem_mcal,
            short_tdn_lb: low.missing_tdn_lb,
            short_cp_lb: low.missing_cp_lb,
            days_to_lose_a_score: low.days_to_lose_a_score,
        });
    PeriodReport {
        label: period.label.clone(),
        from: period.from.to_string(),
        to: period.to.to_string(),
        days: period.days(),
        cost_usd_per_head_day: planned.usd(),
        ration,
        supply: supply(cell, &case.offers, &judgement.eaten_kg_dm, judgement),
        need: need(cell),
        limits: limits(cell, planned, judgement),
        condition: ConditionLine {
            supplied_nem_mcal: energy.supplied_nem_mcal,
            needed_nem_mcal: energy.needed_nem_mcal,
            score_from: score.0,
            score_to: score.1,
            days_to_lose_a_score: energy.days_to_lose_a_score,
            gain_lb_per_day: gain_kg.map(lb_from_kg),
            gain_wanted_lb_per_day: energy.gain_wanted_kg.map(lb_from_kg),
        },
        low_case,
        learning: Vec::new(),
    }
}

fn supply(cell: &Cell<'_>, offers: &[Offer], kg_dm: &[f64], judgement: &Judgement) -> Nutrients {
    let total = |measure: Measure| -> f64 {
        offers
            .iter()
            .zip(kg_dm)
            .enumerate()
            .map(|(index, (offer, kg))| {
                measure.per_kg_dm(index, &offer.feed, &cell.block).map_or(0.0, |value| value * kg)
            })
            .sum()
    };
    Nutrients {
        nem_mcal: judgement.energy.supplied_nem_mcal,
        neg_mcal: cell.demands.growth.as_ref().map_or(0.0, |growth| growth.retained_neg_mcal(kg_dm)),
        cp_lb: lb_from_kg(total(Measure::Cp)),
        mp_g: total(Measure::MpByEnergy).min(total(Measure::MpByDegradable)),
        ca_g: total(Measure::Ca),
        p_g: total(Measure::P),
        dmi_lb: lb_from_kg(kg_dm.iter().sum()),
    }
}

fn need(cell: &Cell<'_>) -> Nutrients {
    let (needs, replaced) = (&cell.block.needs, &cell.block.replaced);
    Nutrients {
        nem_mcal: cell.block.nem_need(),
        neg_mcal: needs.neg_mcal,
        cp_lb: lb_from_kg(replaced.cp_kg.unwrap_or(needs.cp_g / 1000.0)),
        mp_g: replaced.mp_g.unwrap_or_else(|| needs.mp.total_g()),
        ca_g: replaced.ca_g.unwrap_or_else(|| needs.ca.total_g()),
        p_g: replaced.p_g.unwrap_or_else(|| needs.p.total_g()),
        dmi_lb: lb_from_kg(replaced.dmi_max_kg.unwrap_or(needs.dmi_kg)),
    }
}

fn limits(cell: &Cell<'_>, planned: &PlannedRation, judgement: &Judgement) -> Vec<LimitLine> {
    // The judgement puts growth first where there is growth; its price is that of a Mcal of gain.
    let growth = cell.demands.growth.is_some();
    let price = |index: usize| -> Option<f64> {
        if growth && index == 0 {
            return planned.growth_prices.map(|(_, gain)| gain);
        }
        planned.prices.get(index - usize::from(growth)).map(|price| price.usd_per_unit)
    };
    judgement
        .lines
        .iter()
        .enumerate()
        .map(|(index, line)| {
            let usd = price(index);
            LimitLine {
                rule: line.rule.id,
                title: line.rule.title,
                feed: line.about.clone(),
                value: line.value,
                limit: line.limit,
                unit: line.rule.unit,
                sense: line.rule.sense,
                force: line.force,
                kept: line.kept,
                binding: usd.is_some_and(|usd| usd.abs() > 1e-7),
                usd_per_unit: usd,
                chance_pct: line.chance.map(|share| 100.0 * share),
                because: line.because.clone(),
                digits: line.rule.digits,
                miss: line.miss,
            }
        })
        .collect()
}

fn purchases(case: &Case, plan: &Plan) -> Vec<Purchase> {
    let mut list = Vec::new();
    for (offer, feed) in case.offers.iter().zip(&plan.feeds) {
        for (period, flow) in case.periods.iter().zip(&feed.flows) {
            if flow.bought_tons > 1e-6 {
                list.push(Purchase {
                    feed: offer.id.clone(),
                    period: period.label.clone(),
                    date: period.from.to_string(),
                    tons: flow.bought_tons,
                    loads: offer.freight.map(|freight| whole_loads(flow.bought_tons, freight.tons_per_load)),
                    usd: flow.usd,
                });
            }
        }
    }
    list
}

/// Loads of a size that a tonnage fills, part loads counted whole.
#[must_use]
pub fn whole_loads(tons: f64, tons_per_load: f64) -> u32 {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "loads are few and never negative")]
    let loads = ((tons / tons_per_load) - 1e-9).ceil().clamp(0.0, 1e6) as u32;
    loads
}

fn stocks(case: &Case, plan: &Plan) -> Vec<Stock> {
    let mut list = Vec::new();
    for (offer, feed) in case.offers.iter().zip(&plan.feeds) {
        if !offer.is_stored() {
            continue;
        }
        for (period, flow) in case.periods.iter().zip(&feed.flows) {
            list.push(Stock {
                feed: offer.id.clone(),
                period: period.label.clone(),
                opening_tons: flow.opening_tons,
                bought_tons: flow.bought_tons,
                fed_tons: flow.fed_tons,
                lost_tons: flow.lost_tons,
                left_tons: flow.left_tons,
            });
        }
    }
    list
}

fn worth(case: &Case, plan: &Plan) -> Vec<Worth> {
    case.offers
        .iter()
        .enumerate()
        .map(|(index, offer)| {
            let feed = &plan.feeds[index];
            let without = plan.without.iter().find(|one| one.offer == index);
            Worth {
                feed: offer.id.clone(),
                price_usd_per_ton: offer.delivered_usd_per_ton(),
                usd_per_head_month: offer.grazing.map(|grazing| grazing.usd_per_head_month),
                same_plan: None,
                break_even_usd_per_ton: feed.break_even_usd_per_ton,
                one_more_ton_usd: feed.one_more_ton_usd,
                winter_without_usd: without.and_then(|one| one.cost_usd),
                winter_without_because: without
                    .and_then(|one| super::beside::without_because(one, plan.least_cost_usd)),
                cannot_do_without: without.is_some_and(|one| one.cost_usd.is_none()),
            }
        })
        .collect()
}
