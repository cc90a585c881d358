//! Whole invented winters: rations of several groups week by week, fed from common stocks that are bought, kept and
//! shrink. Large, sparse and degenerate, as the real ones are.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // a test may

use overwinter::lp::{
    ColId, Failure, Lp, Missed, Priced, Relax, RowId, Uniqueness, certify, elastic, price_range, solve, step_table,
    uniqueness,
};

const INF: f64 = f64::INFINITY;

struct Dice(u64);

impl Dice {
    fn real(&mut self, low: f64, high: f64) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        low + (high - low) * (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }
}

struct Size {
    weeks: usize,
    groups: usize,
    feeds: usize,
}

struct Feed {
    dry: f64,
    parts: [f64; 5],
    is_roughage: bool,
    price: f64,
    drift: f64,
    shrink: f64,
}

/// What a stock row becomes.
#[derive(Clone, Copy, PartialEq)]
enum Stock {
    /// A purchase column and an equation.
    Equation,
    /// The same by hand without the purchase column: a range, and the price on what is fed and kept.
    Range,
}

struct Winter {
    lp: Lp,
    needs: Vec<RowId>,
    bought: Vec<Vec<ColId>>,
}

fn feeds(dice: &mut Dice, count: usize) -> Vec<Feed> {
    let feed = |k: usize, dice: &mut Dice| {
        let is_roughage = k.is_multiple_of(3);
        let mut part = |rough: (f64, f64), rich: (f64, f64)| {
            let (low, high) = if is_roughage { rough } else { rich };
            dice.real(low, high)
        };
        // TDN, protein, calcium, phosphorus, fat; a share of dry matter each.
        let parts = [
            part((0.44, 0.58), (0.70, 0.95)),
            part((0.05, 0.12), (0.09, 0.48)),
            part((0.003, 0.012), (0.0005, 0.006)),
            part((0.001, 0.0025), (0.002, 0.012)),
            part((0.015, 0.03), (0.02, 0.18)),
        ];
        let price = part((0.03, 0.09), (0.12, 0.35));
        let dry = dice.real(0.85, 0.93);
        Feed { dry, parts, is_roughage, price, drift: dice.real(-0.002, 0.002), shrink: dice.real(0.0, 0.01) }
    };
    (0..count).map(|k| feed(k, dice)).collect()
}

/// `room` scales what may be bought; below 1 hay runs short.
fn winter(size: &Size, seed: u64, room: f64, stock: Stock) -> Winter {
    let mut dice = Dice(seed);
    for _ in 0..9 {
        dice.real(0.0, 1.0);
    }
    let feeds = feeds(&mut dice, size.feeds);
    let heads: Vec<f64> = (0..size.groups).map(|_| dice.real(20.0, 200.0).round()).collect();
    let herd: f64 = heads.iter().sum();
    let mut lp = Lp::default();
    let mut needs = Vec::new();
    let mut bought = vec![Vec::new(); size.feeds];
    let mut kept: Vec<Option<ColId>> = vec![None; size.feeds];
    for week in 0..size.weeks {
        let mut fed: Vec<Vec<(ColId, f64)>> = vec![Vec::new(); size.feeds];
        for (group, head) in heads.iter().enumerate() {
            ration(&mut lp, &mut dice, &feeds, (week, group, *head), &mut needs, &mut fed);
        }
        for (k, feed) in feeds.iter().enumerate() {
            let price = feed.price + feed.drift * week as f64;
            let most = room * herd * 7.0 * if feed.is_roughage { 9.0 } else { 3.0 };
            let keep = lp.col(format!("keep {week} {k}"), 0.0005, 0.0, 2e6);
            let mut terms = vec![(keep, -1.0)];
            terms.extend(kept[k].map(|last| (last, 1.0 - feed.shrink)));
            terms.extend(fed[k].iter().map(|&(col, head)| (col, -head)));
            if stock == Stock::Equation {
                let buy = lp.col(format!("buy {week} {k}"), price, 0.0, most);
                bought[k].push(buy);
                terms.push((buy, 1.0));
                lp.row(format!("stock {week} {k}"), 0.0, 0.0, terms);
            } else {
                for &(col, value) in &terms {
                    lp.cols[col.0].cost -= price * value;
                }
                lp.row(format!("stock {week} {k}"), -most, 0.0, terms);
            }
            kept[k] = Some(keep);
        }
    }
    Winter { lp, needs, bought }
}

fn ration(
    lp: &mut Lp,
    dice: &mut Dice,
    feeds: &[Feed],
    (week, group, head): (usize, usize, f64),
    needs: &mut Vec<RowId>,
    fed: &mut [Vec<(ColId, f64)>],
) {
    let weight = 450.0 + 20.0 * group as f64;
    let level = dice.real(0.9, 1.15);
    let cols: Vec<ColId> = (0..feeds.len())
        .map(|k| {
            let most = if feeds[k].is_roughage { INF } else { dice.real(1.5, 5.0) };
            let col = lp.col(format!("feed {week} {group} {k}"), 0.0, 0.0, most);
            fed[k].push((col, head * 7.0 / 0.95));
            col
        })
        .collect();
    let mut row = |name: &str, lower: f64, upper: f64, of_dry: &dyn Fn(&Feed) -> f64| {
        let terms = cols.iter().zip(feeds).map(|(&col, feed)| (col, feed.dry * of_dry(feed)));
        lp.row(format!("{name} {week} {group}"), lower, upper, terms)
    };
    row("intake", -INF, weight * 0.0255 * level, &|_| 1.0);
    for (name, part, least) in
        [("TDN", 0, 0.0108), ("protein", 1, 0.0018), ("calcium", 2, 5e-5), ("phosphorus", 3, 3.5e-5)]
    {
        needs.push(row(name, weight * least * level, INF, &|feed| feed.parts[part]));
    }
    row("calcium over phosphorus", 0.0, INF, &|feed| feed.parts[2] - feed.parts[3]);
    row("fat", -INF, 0.0, &|feed| feed.parts[4] - 0.06);
    row("roughage", 0.0, INF, &|feed| if feed.is_roughage { 0.6 } else { -0.4 });
}

#[test]
fn winters_are_certified_folded_by_hand_or_not() {
    for (size, seeds) in [
        (Size { weeks: 3, groups: 2, feeds: 9 }, 1..=12),
        (Size { weeks: 6, groups: 4, feeds: 12 }, 1..=4),
        (Size { weeks: 13, groups: 6, feeds: 15 }, 1..=2),
    ] {
        for seed in seeds {
            let natural = winter(&size, seed, 1.0, Stock::Equation);
            let answer = solve(&natural.lp).unwrap_or_else(|failure| panic!("seed {seed}: {failure}"));
            let by_hand = winter(&size, seed, 1.0, Stock::Range);
            let folded = solve(&by_hand.lp).unwrap_or_else(|failure| panic!("seed {seed}: {failure}"));
            let off = (answer.objective - folded.objective).abs();
            assert!(off <= 1e-9 * answer.objective, "seed {seed}: {} {}", answer.objective, folded.objective);
            certify(&natural.lp, &answer.x, &answer.row_dual).expect("repeatable");
        }
    }
}

#[test]
fn a_winter_is_searched_for_ties_and_ranges() {
    let size = Size { weeks: 4, groups: 2, feeds: 9 };
    let winter = winter(&size, 5, 1.0, Stock::Equation);
    let answer = solve(&winter.lp).unwrap();
    assert_ne!(uniqueness(&winter.lp, &answer).unwrap(), Uniqueness::Unknown);
    let buy = winter.bought.iter().flatten().find(|col| answer.x[col.0] > 1.0).unwrap();
    let range = price_range(&winter.lp, &answer, *buy).unwrap();
    let price = winter.lp.cols[buy.0].cost;
    assert!(range.down.price <= price && price <= range.up.price);
    for (end, beyond) in [(&range.down, -1e-4), (&range.up, 1e-4)] {
        if end.price.is_finite() {
            let cost = |price: f64| {
                let mut moved = winter.lp.clone();
                moved.cols[buy.0].cost = price;
                solve(&moved).unwrap().objective
            };
            assert!((cost(end.price) - end.cost).abs() <= 1e-9 * end.cost);
            // Beyond the end the old amounts are no longer the cheapest.
            let price = end.price + beyond;
            let old = end.cost + beyond * answer.x[buy.0];
            assert!(cost(price) < old - 1e-12 * old, "{}", cost(price) - old);
        }
    }
}

#[test]
fn demand_over_a_winter_falls_as_the_price_rises() {
    let size = Size { weeks: 4, groups: 2, feeds: 9 };
    let winter = winter(&size, 7, 1.0, Stock::Equation);
    for feed in [0, 1, 4] {
        let priced: Vec<Priced> =
            winter.bought[feed].iter().map(|&col| Priced { col, fixed: 0.01, per_price: 1.0 }).collect();
        let table = step_table(&winter.lp, &priced, 0.0, 1.0).unwrap();
        assert!(table.windows(2).all(|pair| pair[1].quantity < pair[0].quantity), "feed {feed}");
        assert!(table.windows(2).all(|pair| (pair[0].to - pair[1].from).abs() < 1e-12), "feed {feed}");
        assert!(table[0].from.abs() < 1e-12 && (table[table.len() - 1].to - 1.0).abs() < 1e-12);
        // In the middle of each step a fresh solve uses what the table says, at the cost it says.
        for step in &table {
            let mut there = winter.lp.clone();
            let middle = f64::midpoint(step.from, step.to);
            for one in &priced {
                there.cols[one.col.0].cost = one.fixed + middle;
            }
            let answer = solve(&there).unwrap();
            let used: f64 = priced.iter().map(|one| answer.x[one.col.0]).sum();
            let size = answer.objective;
            assert!((used - step.quantity).abs() <= 1e-6 * used.max(1.0), "feed {feed}: {used} {step:?}");
            let cost = step.cost_at_from + step.quantity * (middle - step.from);
            assert!((cost - answer.objective).abs() <= 1e-9 * size, "feed {feed}");
        }
    }
}

#[test]
fn a_short_winter_says_what_is_short() {
    for (size, seed, room) in [
        (Size { weeks: 3, groups: 2, feeds: 9 }, 1, 0.2),
        (Size { weeks: 3, groups: 2, feeds: 9 }, 2, 0.2),
        (Size { weeks: 6, groups: 4, feeds: 12 }, 3, 0.15),
    ] {
        let winter = winter(&size, seed, room, Stock::Equation);
        assert!(solve(&winter.lp) == Err(Failure::Infeasible), "seed {seed} is not short");
        let relax: Vec<Relax> =
            winter.needs.iter().map(|&row| Relax { row, weight_per_unit: 1.0 / winter.lp.rows[row.0].lower }).collect();
        let nearest = elastic(&winter.lp, &relax).unwrap_or_else(|failure| panic!("seed {seed}: {failure}"));
        assert!(!nearest.shortfalls.is_empty() && nearest.certificate.holds());
        // With exactly that much less asked there is an answer at that cost; with a little more asked there is none.
        let ask = |part: f64| {
            let mut less = winter.lp.clone();
            for short in &nearest.shortfalls {
                assert_eq!(short.missed, Missed::Below);
                less.rows[short.row.0].lower -= part * short.amount;
            }
            solve(&less)
        };
        let answer = ask(1.0 + 1e-9).unwrap_or_else(|failure| panic!("seed {seed}: {failure}"));
        assert!((answer.objective - nearest.cost).abs() <= 1e-6 * nearest.cost, "seed {seed}");
        assert!(ask(0.999) == Err(Failure::Infeasible), "seed {seed}");
    }
}
