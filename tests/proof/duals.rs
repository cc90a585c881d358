//! Prices against re-solved costs: the figure of a rule is moved both ways, the winter is solved again, and the
//! difference must be the price that was printed.

use super::kit::{herd, offer, read};
use overwinter::limit::LimitChange;
use overwinter::winter::plan::solve_growing;
use overwinter::winter::program::Program;
use overwinter::winter::{Case, Cells, NeedsOverride, Plan, assemble, plan};
use std::collections::BTreeMap;

const RANDOM_SEEDS: u64 = 12;

fn solved(case: &Case, cells: &Cells<'_>) -> Plan {
    plan(case, cells).unwrap_or_else(|why| panic!("{why:#?}"))
}

/// The least cost alone; without bound where a moved figure leaves no ration.
pub(crate) fn least_cost(case: &Case, cells: &Cells<'_>) -> f64 {
    match solve_growing(&mut Program::build(case, cells), cells) {
        Ok(found) => found.objective,
        Err(overwinter::lp::Failure::Infeasible) => f64::INFINITY,
        Err(other) => panic!("{other}"),
    }
}

/// One price against the costs on both sides.
#[derive(Debug)]
struct Compared {
    what: String,
    rule: &'static str,
    /// A price this small is none: a thousandth of a cent a head and day for the whole figure. The split of growing cattle
    /// is found to some millionths, and prices that are a difference of larger ones show it.
    dust: f64,
    price: f64,
    below: f64,
    above: f64,
}

impl Compared {
    /// The two sides have the same slope, and the price is it.
    fn smooth(&self) -> bool {
        let size = self.below.abs().max(self.above.abs());
        (self.above - self.below).abs() <= 2e-3 * size + self.dust
    }
    /// At a kink the price is one of the slopes between the two.
    fn agrees(&self) -> bool {
        let (low, high) = (self.below.min(self.above), self.below.max(self.above));
        let size = low.abs().max(high.abs());
        let slack = 2e-3 * size + self.dust;
        (low - slack..=high + slack).contains(&self.price)
            && (!self.smooth() || (self.price - 0.5 * (low + high)).abs() <= 1e-3 * size + self.dust)
    }
}

/// Moves every figure that has a price, in every block, by a ten-thousandth both ways, and also a growing animal's
/// energy for maintenance and for gain.
fn compare(case: &Case) -> Vec<Compared> {
    let cells = assemble(case).unwrap();
    let base = solved(case, &cells);
    let mut list = Vec::new();
    for g in 0..cells.len() {
        for t in 0..cells[g].len() {
            let cell = &cells[g][t];
            let head_days = f64::from(cell.block.group.head) * f64::from(cell.block.period.days());
            let place = format!("{} {}", cell.block.group.name, cell.block.period.label);
            let slopes = |step: f64, shift: &dyn Fn(&mut Cells<'_>, f64)| {
                let cost = |by: f64| {
                    let mut moved = cells.clone();
                    shift(&mut moved, by);
                    least_cost(case, &moved)
                };
                let here = base.least_cost_usd;
                ((here - cost(-step)) / step / head_days, (cost(step) - here) / step / head_days)
            };
            for (i, instance) in cell.demands.rules.iter().enumerate() {
                let price = base.rations[g][t].prices[i].usd_per_unit;
                if price.abs() <= 1e-7 {
                    continue;
                }
                let step = 1e-4 * instance.limit.abs().max(0.1);
                let (below, above) = slopes(step, &|moved, by| moved[g][t].demands.rules[i].limit += by);
                list.push(Compared {
                    what: format!("{place} {}", instance.name()),
                    rule: instance.rule.id,
                    dust: 1e-5 / instance.limit.abs().max(0.1),
                    price,
                    below,
                    above,
                });
            }
            if let Some((maintenance, gain)) = base.rations[g][t].growth_prices {
                let (below, above) = slopes(1e-3, &|moved, by| {
                    moved[g][t].demands.growth.as_mut().unwrap().maintenance_nem_mcal += by;
                });
                list.push(Compared {
                    what: format!("{place} maintenance of growing cattle"),
                    rule: "maintenance",
                    dust: 5e-6,
                    price: maintenance,
                    below,
                    above,
                });
                let (below, above) = slopes(3e-4, &|moved, by| {
                    moved[g][t].demands.growth.as_mut().unwrap().gain_neg_mcal += by;
                });
                list.push(Compared {
                    what: format!("{place} gain"),
                    rule: "growth",
                    dust: 5e-6,
                    price: gain,
                    below,
                    above,
                });
            }
        }
    }
    list
}

/// Judges every comparison before it fails; returns how often each rule was found smooth and at a kink.
fn all_agree(list: &[Compared]) -> BTreeMap<&'static str, [u32; 2]> {
    let wrong: Vec<String> = list
        .iter()
        .filter(|one| !one.agrees())
        .map(|one| {
            format!("{}: price {:.6}, re-solved {:.6} below and {:.6} above", one.what, one.price, one.below, one.above)
        })
        .collect();
    assert!(wrong.is_empty(), "{} of {} prices are wrong\n{}", wrong.len(), list.len(), wrong.join("\n"));
    let mut seen: BTreeMap<&'static str, [u32; 2]> = BTreeMap::new();
    for one in list {
        seen.entry(one.rule).or_default()[usize::from(one.smooth())] += 1;
    }
    seen
}

/// The rules that must have been seen with a price and the same slope on both sides.
fn assert_smooth(seen: &BTreeMap<&'static str, [u32; 2]>, rules: &[&str]) {
    for rule in rules {
        assert!(seen.get(rule).is_some_and(|counts| counts[1] > 0), "{rule} was not seen smooth: {seen:?}");
    }
}

#[test]
fn prices_of_cows_and_heifers_at_the_least_cost_winter() {
    let seen = all_agree(&compare(&herd("two-groups.yaml")));
    assert_smooth(&seen, &["energy", "maintenance", "growth", "gossypol", "roughage-at-will", "gin-trash"]);
}

#[test]
fn prices_of_growing_cattle() {
    let seen = all_agree(&compare(&herd("growing.yaml")));
    assert_smooth(&seen, &["maintenance", "growth"]);
}

#[test]
fn prices_of_fat_amounts_and_intake() {
    // Seed nearly free and meal dear: fat, seed and your own amounts bind.
    let seen = all_agree(&compare(&herd("cheap-seed.yaml")));
    assert_smooth(&seen, &["energy", "fat", "your-max", "your-min"]);
}

/// Random winters of two groups and four periods, with stores: every price of every block.
#[test]
fn prices_of_random_winters() {
    let (mut winters, mut prices, mut kinks) = (0, 0, 0);
    for seed in 0..RANDOM_SEEDS {
        let mut case = read(&super::random::winter(seed));
        case.settings.steady_pct = 0.0;
        let cells = assemble(&case).unwrap();
        if least_cost(&case, &cells).is_infinite() {
            continue;
        }
        let list = compare(&case);
        winters += 1;
        prices += list.len();
        kinks += list.iter().filter(|one| !one.smooth()).count();
        let wrong: Vec<_> = list.iter().filter(|one| !one.agrees()).collect();
        assert!(wrong.is_empty(), "seed {seed}: {wrong:#?}\n{}", super::random::winter(seed));
    }
    let seen = format!("{winters} random winters, {prices} prices, {kinks} at a kink");
    assert!(prices > 20 * winters && 5 * kinks < prices, "{seen}");
}

/// The same through the file: a requirement by `needs_override`, a limit by `limits`, an amount by `max_lb`.
#[test]
fn prices_hold_through_the_file() {
    let mut case = herd("two-groups.yaml");
    let ppm = |figure: f64| LimitChange {
        rule: "gossypol".into(),
        group: Some("cows".into()),
        value: Some(figure),
        off: false,
        because: None,
        span: 0..0,
    };
    case.limits.push(ppm(700.0));
    let least = |case: &Case| solved(case, &assemble(case).unwrap()).least_cost_usd;
    let cells = assemble(&case).unwrap();
    let base = solved(&case, &cells);
    let sum = |rule: &str, group: usize, weigh: &dyn Fn(&overwinter::limit::Instance) -> f64| -> f64 {
        cells[group]
            .iter()
            .zip(&base.rations[group])
            .map(|(cell, ration)| {
                let days = f64::from(cell.block.period.days()) * f64::from(cell.block.group.head);
                let price =
                    |(instance, price): (&overwinter::limit::Instance, &overwinter::winter::plan::RulePrice)| {
                        if instance.rule.id == rule { price.usd_per_unit * weigh(instance) * days } else { 0.0 }
                    };
                cell.demands.rules.iter().zip(&ration.prices).map(price).sum::<f64>()
            })
            .sum()
    };
    // One Mcal more for cows in every period, written as a requirement.
    let want = sum("energy", 0, &|_| 1.0);
    let with_nem = |by: f64| {
        let mut moved = case.clone();
        // The file holds one figure for the winter, so only a one-period winter can be moved exactly.
        let need = cells[0][0].block.nem_need() + by;
        moved.needs_override.insert("cows".into(), NeedsOverride { nem_mcal: Some(need), ..NeedsOverride::default() });
        least(&moved)
    };
    assert_eq!(case.periods.len(), 1, "the file of this test has one period");
    let slope = (with_nem(1e-3) - with_nem(-1e-3)) / 2e-3;
    assert!((slope - want).abs() <= 1e-3 * want, "energy {slope} against {want}");

    // Free gossypol, one ppm stricter and looser.
    let want = sum("gossypol", 0, &|_| 1.0);
    assert!(want < -1e-3, "gossypol has no price: {want}");
    let with_limit = |by: f64| {
        let mut moved = case.clone();
        *moved.limits.last_mut().unwrap() = ppm(700.0 + by);
        least(&moved)
    };
    let slope = (with_limit(0.5) - with_limit(-0.5)) / 1.0;
    assert!((slope - want).abs() <= 1e-3 * want.abs(), "gossypol {slope} against {want}");

    // One ton more of an owned feed.
    let hay = base.feeds[case.offers.iter().position(|offer| offer.id == "prairie_hay").unwrap()].one_more_ton_usd;
    let with_tons = |by: f64| {
        let mut moved = case.clone();
        let hay = offer(&mut moved, "prairie_hay");
        hay.on_hand.0 += overwinter::quantity::KgAsFed::from_tons(by).0;
        least(&moved)
    };
    let slope = (with_tons(-0.1) - with_tons(0.1)) / 0.2;
    // The bill charges owned feed that is fed at what it would sell for, so a ton more on hand takes off its worth in
    // the ration less that.
    let hay = hay.unwrap() - case.offers.iter().find(|offer| offer.id == "prairie_hay").unwrap().value_usd_per_ton;
    assert!((slope - hay).abs() <= 1e-3 * hay, "a ton of hay {slope} against {hay}");
}

/// The worth of a feed that is not bought is the price at which it comes in, found by walking the price there.
#[test]
fn break_even_is_where_a_feed_comes_in() {
    let case = herd("two-groups.yaml");
    let cells = assemble(&case).unwrap();
    let base = solved(&case, &cells);
    let mut tried = 0;
    for (f, feed) in base.feeds.iter().enumerate() {
        let Some(even) = feed.break_even_usd_per_ton.filter(|even| *even > 1.0) else { continue };
        if case.offers[f].feed.class.is_mineral() {
            continue;
        }
        tried += 1;
        let at = |usd: f64| {
            let mut moved = case.clone();
            let offer = &mut moved.offers[f];
            offer.price_usd_per_ton = Some(usd - offer.freight.map_or(0.0, |freight| freight.usd_per_ton()));
            let plan = solved(&moved, &assemble(&moved).unwrap());
            (plan.least_cost_usd, plan.feeds[f].bought_tons())
        };
        let (cost, tons) = at(even * 0.999);
        assert!(cost < base.least_cost_usd - 1e-6 && tons > 1e-3, "{}: not in under {even}", case.offers[f].id);
        let (cost, tons) = at(even * 1.001);
        assert!(
            (cost - base.least_cost_usd).abs() < 1e-6 * cost && tons < 1e-6,
            "{}: in above {even}: {tons} tons",
            case.offers[f].id
        );
    }
    assert!(tried >= 2, "only {tried} feeds stand outside");
}

/// What a condition score costs, as the page prints it, against a winter that is asked for a little more condition.
#[test]
fn the_price_of_a_condition_score_is_that_of_asking_for_it() {
    for (kind, score) in
        [("kind: cow, weight_lb: 1200", 5.0), ("kind: first_calf_cow, weight_lb: 1000, mature_weight_lb: 1200", 5.0)]
    {
        let at = |wanted: f64| {
            let case = read(&format!(
                "winter: {{from: 2026-12-01, to: 2027-03-01, periods: [2026-12-01]}}\nsteady_pct: 0\ngroups:\n  cows: \
                 {{{kind}, head: 100, condition: {score}, calving: 2027-04-15, condition_wanted: {{score: {wanted}, by: 2027-03-01}}}}\n\
                 feeds:\n  bermuda_hay_mature: {{price_usd_per_ton: 120}}\n  range_cube_20: {{price_usd_per_ton: 312}}\n  \
                 limestone: {{price_usd_per_ton: 180}}\n  mineral_12_12: {{price_usd_per_ton: 900}}\n"
            ));
            super::kit::planned(&case)
        };
        let hold = at(score);
        let group = &hold.groups[0];
        let (gain, lose) = (group.score_to_gain_usd_per_head.unwrap(), group.score_saved_usd_per_head.unwrap());
        let step = 0.02;
        let asked = (at(score + step).winter.cost_usd - hold.winter.cost_usd) / step / 100.0;
        let spared = (hold.winter.cost_usd - at(score - step).winter.cost_usd) / step / 100.0;
        // The energy of a score changes with the score; a part of one stands for it to 10 %.
        assert!((gain - asked).abs() <= 0.10 * asked, "{kind}: to gain {gain}, asked for {asked}");
        assert!((lose - spared).abs() <= 0.10 * spared, "{kind}: to lose {lose}, spared {spared}");
    }
}
