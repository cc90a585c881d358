//! Random programmes whose answer is known before they are solved: the optimum and its prices are chosen first, the
//! sides and costs follow from them. Integers throughout, so that the known answer is exact.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "tests")]

mod lp_known;

use lp_known::{Dice, INF, Shape, known, sized, twin};
use overwinter::lp::{
    ColId, Failure, Lp, Missed, Relax, RowId, Uniqueness, certify, elastic, single_relief, solve, uniqueness,
};

#[test]
fn small_ones_come_out_as_chosen() {
    for seed in 0..4_000 {
        let mut dice = Dice(seed);
        let shape = sized(&mut dice, 9, 12);
        known(&mut dice, shape).confirm(seed);
    }
}

#[test]
fn middling_ones_come_out_as_chosen() {
    for seed in 10_000..10_150 {
        let mut dice = Dice(seed);
        let shape = sized(&mut dice, 60, 80);
        known(&mut dice, shape).confirm(seed);
    }
}

#[test]
fn degenerate_ones_come_out_as_chosen() {
    for seed in 20_000..21_000 {
        let mut dice = Dice(seed);
        let shape = Shape { degenerate: 100, tied: 60, ..sized(&mut dice, 14, 12) };
        known(&mut dice, shape).confirm(seed);
    }
}

#[test]
fn units_do_not_matter() {
    for seed in 30_000..31_500 {
        let mut dice = Dice(seed);
        let shape = sized(&mut dice, 10, 12);
        let mut known = known(&mut dice, shape);
        let by_col: Vec<f64> = (0..known.lp.cols.len()).map(|_| 10_f64.powf(dice.real(-4.0, 4.0))).collect();
        for ((col, x), by) in known.lp.cols.iter_mut().zip(&mut known.x).zip(&by_col) {
            col.cost *= by;
            col.lower /= by;
            col.upper /= by;
            *x /= by;
        }
        for row in &mut known.lp.rows {
            let by_row = 10_f64.powf(dice.real(-5.0, 5.0));
            row.lower *= by_row;
            row.upper *= by_row;
            for (col, value) in &mut row.terms {
                *value *= by_row * by_col[col.0];
            }
        }
        known.confirm(seed);
    }
}

#[test]
fn repeated_and_empty_rows_and_columns_change_nothing() {
    for seed in 40_000..41_000 {
        let mut dice = Dice(seed);
        let mut shape = sized(&mut dice, 8, 10);
        shape.rows += 1;
        shape.cols += 1;
        let mut known = known(&mut dice, shape);
        let copy = known.lp.rows[dice.upto(shape.rows - 1)].clone();
        known.lp.rows.push(copy);
        let (low, high) = (dice.whole(-9, 0), dice.whole(0, 9));
        known.lp.row("empty", low, high, []);
        known.lp.col("idle", 3.0, 2.0, INF);
        known.x.push(2.0);
        // A column gains at most 9 by its bound, so a twin dearer by 10 stays out.
        twin(&mut known.lp, dice.upto(shape.cols - 1), 10.0);
        known.x.push(0.0);
        known.confirm(seed);
    }
}

#[test]
fn stock_rows_fold_away_and_come_back() {
    for seed in 50_000..51_000 {
        let mut dice = Dice(seed);
        let mut shape = sized(&mut dice, 8, 10);
        shape.cols += 2;
        let mut known = known(&mut dice, shape);
        // Equations in each of which a new column stands alone: what it takes is known, so is what the row is worth.
        for _ in 0..3 {
            let price = dice.whole(-5, 9);
            let a = if dice.chance(70) { 1.0 } else { dice.whole(1, 4) * if dice.chance(50) { -1.0 } else { 1.0 } };
            let amount = dice.whole(0, 9);
            let alone = known.lp.col("alone", price, 0.0, if dice.chance(50) { INF } else { 9.0 });
            // On its bound the column may bring less or cost more than the row pays.
            let paid = match amount {
                0.0 => price - dice.whole(0, 3),
                9.0 if known.lp.cols[alone.0].upper.is_finite() => price + dice.whole(0, 3),
                _ => price,
            };
            let mut terms = vec![(alone, a)];
            let mut right = a * amount;
            for j in 0..shape.cols {
                if dice.chance(50) {
                    let q = dice.whole(1, 5);
                    terms.push((ColId(j), -q));
                    right -= q * known.x[j];
                    known.lp.cols[j].cost -= q * paid / a;
                }
            }
            known.x.push(amount);
            known.lp.row("stock", right, right, terms);
        }
        known.confirm(seed);
    }
}

/// Rows of which the last asks for less than what the others, each times its weight, guarantee when added up.
fn contradiction(dice: &mut Dice, gap: f64) -> (Lp, Vec<f64>) {
    let (rows, cols) = (1 + dice.upto(6), 1 + dice.upto(7));
    let mut lp = Lp::default();
    for j in 0..cols {
        lp.col(format!("x{j}"), dice.whole(-5, 9), -INF, INF);
    }
    let mut sum = vec![0.0; cols];
    let mut right = 0.0;
    let mut weights = Vec::new();
    for i in 0..rows {
        let weight = dice.whole(1, 3);
        let terms: Vec<(ColId, f64)> = (0..cols).map(|j| (ColId(j), dice.whole(-6, 6))).collect();
        let side = dice.whole(-20, 20);
        for (col, value) in &terms {
            sum[col.0] += weight * value;
        }
        right += weight * side;
        weights.push(weight);
        lp.row(format!("r{i}"), side, if dice.chance(30) { side + 40.0 } else { INF }, terms);
    }
    lp.row("too little", -INF, right - gap, sum.into_iter().enumerate().map(|(j, value)| (ColId(j), value)));
    weights.push(1.0);
    (lp, weights)
}

#[test]
fn contradictions_are_infeasible() {
    for seed in 60_000..61_000 {
        let mut dice = Dice(seed);
        let gap = [5.0, 1.0, 1e-2, 1e-4][dice.upto(3)];
        let (lp, _) = contradiction(&mut dice, gap);
        assert_eq!(solve(&lp), Err(Failure::Infeasible), "seed {seed}, gap {gap}");
    }
}

#[test]
fn the_least_shortfall_and_every_single_way_out_are_as_built() {
    for seed in 65_000..65_400 {
        let mut dice = Dice(seed);
        let (lp, weights) = contradiction(&mut dice, 2.0);
        let relax: Vec<Relax> = (0..lp.rows.len()).map(|i| Relax { row: RowId(i), weight_per_unit: 1.0 }).collect();
        let most = weights.iter().copied().fold(0.0, f64::max);
        match elastic(&lp, &relax) {
            Ok(nearest) => {
                let total: f64 = nearest.shortfalls.iter().map(|short| short.weighted).sum();
                // A unit given by a row of weight w closes w of the gap. Rows that are empty or repeat each other may
                // contradict for less reason than was built in, never for more.
                assert!(total >= 2.0 / most - 1e-7, "seed {seed}: {total}");
                let mut relaxed = lp.clone();
                for short in &nearest.shortfalls {
                    match short.missed {
                        Missed::Below => relaxed.rows[short.row.0].lower -= short.amount * (1.0 + 1e-9),
                        Missed::Above => relaxed.rows[short.row.0].upper += short.amount * (1.0 + 1e-9),
                    }
                }
                assert!(!matches!(solve(&relaxed), Err(Failure::Infeasible)), "seed {seed}");
                let is_built = (total - 2.0 / most).abs() < 1e-7;
                let ways = single_relief(&lp, &relax).unwrap();
                assert!(ways.windows(2).all(|pair| pair[0].weighted <= pair[1].weighted));
                for way in ways.iter().filter(|_| is_built) {
                    let least = 2.0 / weights[way.row.0];
                    assert!(way.amount >= least - 1e-7, "seed {seed}: {way:?} {least}");
                }
            }
            Err(failure) => panic!("seed {seed}: {failure}"),
        }
    }
}

#[test]
fn a_cost_that_falls_forever_is_unbounded() {
    for seed in 70_000..71_000 {
        let mut dice = Dice(seed);
        let shape = sized(&mut dice, 8, 10);
        let mut known = known(&mut dice, shape);
        // Two new columns that cancel in every row and together earn.
        let (up, down) = (known.lp.col("up", 2.0, 0.0, INF), known.lp.col("down", -3.0, 0.0, INF));
        for row in &mut known.lp.rows {
            let value = dice.whole(-5, 5);
            if value != 0.0 {
                row.terms.extend([(up, value), (down, -value)]);
            }
        }
        assert_eq!(solve(&known.lp), Err(Failure::Unbounded), "seed {seed}");
    }
}

#[test]
fn relaxing_a_row_never_raises_the_cost_and_saves_no_more_than_its_price() {
    for seed in 80_000..80_600 {
        let mut dice = Dice(seed);
        let mut shape = sized(&mut dice, 8, 10);
        shape.rows += 1;
        let known = known(&mut dice, shape);
        let tight = known.confirm(seed);
        let mut relaxed = known.lp.clone();
        let row = dice.upto(shape.rows - 1);
        let by = dice.whole(1, 5);
        relaxed.rows[row].lower -= by;
        relaxed.rows[row].upper += by;
        // A price proves a bound, so even an endless fall is ruled out.
        let loose = solve(&relaxed).unwrap_or_else(|failure| panic!("seed {seed}: {failure}"));
        let saved = tight.objective - loose.objective;
        let room = 1e-9 * known.size();
        assert!(saved >= -room, "seed {seed}: {saved}");
        assert!(saved <= by * tight.row_dual[row].abs() + room, "seed {seed}: {saved}");
    }
}

#[test]
fn prices_are_slopes() {
    let mut looked = 0;
    for seed in 90_000..90_400 {
        let mut dice = Dice(seed);
        let shape = Shape { degenerate: 0, tied: 0, ..sized(&mut dice, 6, 10) };
        let known = known(&mut dice, shape);
        let answer = known.confirm(seed);
        for row in 0..shape.rows {
            let price = answer.row_dual[row];
            if price == 0.0 {
                continue;
            }
            let step = 1.0 / 1024.0;
            let cost = |by: f64| {
                let mut moved = known.lp.clone();
                let side = &mut moved.rows[row];
                let equation = side.lower.total_cmp(&side.upper).is_eq();
                if price > 0.0 || equation {
                    side.lower += by;
                }
                if price < 0.0 || equation {
                    side.upper += by;
                }
                solve(&moved).map(|answer| answer.objective)
            };
            // Beyond the edge of what is feasible there is no slope to that side.
            let (Ok(less), Ok(more)) = (cost(-step), cost(step)) else { continue };
            let (left, right) = ((answer.objective - less) / step, (more - answer.objective) / step);
            let room = 1e-6 * known.size();
            // A vertex may be degenerate all the same: its price then lies between the slopes to both sides.
            assert!(left - room <= price && price <= right + room, "seed {seed} row {row}: {left} {price} {right}");
            looked += 1;
        }
    }
    assert!(looked > 300, "only {looked} prices could be looked at");
}

#[test]
fn ties_are_told_from_single_answers() {
    let (mut unique, mut tied, mut twins) = (0, 0, 0);
    for seed in 100_000..100_600 {
        let mut dice = Dice(seed);
        let mut shape = sized(&mut dice, 6, 8);
        shape.cols += 1;
        let known = known(&mut dice, shape);
        let answer = known.confirm(seed);
        match uniqueness(&known.lp, &answer).unwrap() {
            Uniqueness::Unique => {
                unique += 1;
                // Nothing else may cost the same, the answer the programme was made from included.
                for (found, chosen) in answer.x.iter().zip(&known.x) {
                    assert!((found - chosen).abs() < 1e-6, "seed {seed}");
                }
                // A twin of a column in use shares its part at the same cost.
                let used = (0..shape.cols).find(|&j| answer.x[j] > known.lp.cols[j].lower.max(0.0) + 0.1);
                let Some(j) = used.filter(|&j| answer.reduced_cost[j].abs() < 1e-9) else { continue };
                let mut doubled = known.lp.clone();
                twin(&mut doubled, j, 0.0);
                let again = solve(&doubled).unwrap_or_else(|failure| panic!("seed {seed}: {failure}"));
                let told = uniqueness(&doubled, &again).unwrap();
                assert!(matches!(told, Uniqueness::Tied { .. }), "seed {seed}: {told:?}");
                twins += 1;
            }
            Uniqueness::Tied { other } => {
                tied += 1;
                assert!((known.lp.cost(&other) - known.cost()).abs() <= 1e-8 * known.size(), "seed {seed}");
                assert!(other.iter().zip(&answer.x).any(|(new, old)| (new - old).abs() > 1e-7), "seed {seed}");
                certify(&known.lp, &other, &answer.row_dual).expect("the other answer is optimal too");
            }
            Uniqueness::Unknown => panic!("seed {seed}: not told"),
        }
    }
    assert!(unique > 100 && tied > 50 && twins > 50, "{unique} unique, {tied} tied, {twins} twins");
}

#[test]
fn what_is_no_programme_is_refused_in_words() {
    let base = || {
        let mut lp = Lp::default();
        let x = lp.col("x", 1.0, 0.0, INF);
        lp.row("need", 1.0, INF, [(x, 1.0)]);
        lp
    };
    let spoil: [fn(&mut Lp); 9] = [
        |lp| lp.cols[0].cost = f64::NAN,
        |lp| lp.cols[0].cost = INF,
        |lp| lp.cols[0].lower = f64::NAN,
        |lp| lp.cols[0].upper = -INF,
        |lp| lp.rows[0].lower = INF,
        |lp| lp.rows[0].terms[0].1 = f64::NAN,
        |lp| lp.rows[0].terms.push((ColId(0), 1.0)),
        |lp| lp.rows[0].terms.push((ColId(7), 1.0)),
        |lp| lp.constant = f64::NAN,
    ];
    for (number, spoil) in spoil.iter().enumerate() {
        let mut lp = base();
        spoil(&mut lp);
        assert!(matches!(solve(&lp), Err(Failure::Invalid(_))), "{number}");
    }
    let mut crossed = base();
    crossed.cols[0].upper = -1.0;
    assert_eq!(solve(&crossed), Err(Failure::Infeasible));
    let mut crossed = base();
    crossed.rows[0].upper = 0.5;
    assert_eq!(solve(&crossed), Err(Failure::Infeasible));
}

#[test]
fn nothing_at_all_is_a_programme_too() {
    let empty = solve(&Lp { constant: 3.0, ..Lp::default() }).unwrap();
    assert!(empty.x.is_empty() && (empty.objective - 3.0).abs() < 1e-12);
    let mut rows = Lp::default();
    rows.row("fine", -1.0, 1.0, []);
    assert!(solve(&rows).is_ok());
    rows.row("impossible", 1.0, INF, []);
    assert_eq!(solve(&rows), Err(Failure::Infeasible));
    let mut cols = Lp::default();
    cols.col("up", -2.0, 0.0, 4.0);
    assert!((solve(&cols).unwrap().objective + 8.0).abs() < 1e-12);
    cols.col("away", -1.0, 0.0, INF);
    assert_eq!(solve(&cols), Err(Failure::Unbounded));
    let mut both = Lp::default();
    let x = both.col("x", -1.0, 0.0, INF);
    both.row("impossible", 1.0, INF, []);
    assert_eq!(solve(&both), Err(Failure::Infeasible));
    both.rows.clear();
    both.row("idle", -INF, INF, [(x, 1.0)]);
    assert_eq!(solve(&both), Err(Failure::Unbounded));
    both.cols[0].cost = 1.0;
    assert!(solve(&both).unwrap().objective.abs() < 1e-12);
}
