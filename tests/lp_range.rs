//! Ranges, steps and whole numbers on random programmes, each claim tried by solving there.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // a test may

mod lp_known;

use lp_known::{Dice, INF, Shape, known, sized};
use overwinter::lp::{
    ColId, Ended, Failure, Lp, Priced, RowId, price_range, price_sides, side_range, solve, solve_whole, step_table,
};

#[test]
fn the_same_amounts_stay_cheapest_up_to_the_ends_of_a_price_range_and_no_further() {
    let mut ends = 0;
    for seed in 200_000..200_250 {
        let mut dice = Dice(seed);
        let mut shape = sized(&mut dice, 6, 7);
        shape.cols += 1;
        let known = known(&mut dice, shape);
        let answer = known.confirm(seed);
        let room = 1e-9 * known.size();
        for j in 0..shape.cols {
            let range = price_range(&known.lp, &answer, ColId(j)).unwrap_or_else(|why| panic!("seed {seed}: {why}"));
            let at = |price: f64| {
                let mut moved = known.lp.clone();
                moved.cols[j].cost = price;
                let old = moved.cost(&answer.x);
                (solve(&moved), old)
            };
            for (end, sign) in [(&range.down, -1.0), (&range.up, 1.0)] {
                if end.price.is_infinite() {
                    let (best, old) = at(known.lp.cols[j].cost + sign * 1e4);
                    assert!((best.unwrap().objective - old).abs() <= 1e-5 + 1e4 * room, "seed {seed} column {j}");
                    continue;
                }
                ends += 1;
                let (best, old) = at(end.price);
                assert!((best.unwrap().objective - old).abs() <= 10.0 * room, "seed {seed} column {j}");
                assert!((old - end.cost).abs() <= 10.0 * room, "seed {seed} column {j}");
                let (best, old) = at(end.price + sign * 1e-3 * end.price.abs().max(1.0));
                match best {
                    Ok(best) => {
                        assert!(best.objective < old - room, "seed {seed} column {j}: {} {old}", best.objective);
                        assert!(end.next.is_some(), "seed {seed} column {j}");
                        let mut there = known.lp.clone();
                        there.cols[j].cost = end.price;
                        let next = there.cost(end.next.as_ref().unwrap());
                        assert!((next - end.cost).abs() <= 10.0 * room, "seed {seed} column {j}");
                    }
                    Err(failure) => assert_eq!(failure, Failure::Unbounded, "seed {seed} column {j}"),
                }
            }
        }
    }
    assert!(ends > 500, "only {ends} ends");
}

#[test]
fn the_price_of_a_row_holds_up_to_the_ends_of_its_side_range_and_no_further() {
    let (mut ends, mut last) = (0, 0);
    for seed in 210_000..210_250 {
        let mut dice = Dice(seed);
        let mut shape = sized(&mut dice, 6, 7);
        shape.rows += 1;
        shape.cols += 1;
        let known = known(&mut dice, shape);
        let answer = known.confirm(seed);
        for i in 0..shape.rows {
            let range = side_range(&known.lp, &answer, RowId(i)).unwrap_or_else(|why| panic!("seed {seed}: {why}"));
            let (row, price) = (&known.lp.rows[i], answer.row_dual[i]);
            let equation = row.lower.total_cmp(&row.upper).is_eq();
            let is_lower = price > 0.0 || price == 0.0 && row.lower.is_finite();
            let side = if is_lower { row.lower } else { row.upper };
            assert!(range.down.side <= side + 1e-9 && side <= range.up.side + 1e-9, "seed {seed} row {i}");
            let at = |to: f64| {
                let mut moved = known.lp.clone();
                if equation || is_lower {
                    moved.rows[i].lower = to;
                }
                if equation || !is_lower {
                    moved.rows[i].upper = to;
                }
                solve(&moved).map(|answer| answer.objective)
            };
            for (end, sign) in [(&range.down, -1.0), (&range.up, 1.0)] {
                if end.side.is_infinite() {
                    let line = answer.objective + price * sign * 100.0;
                    assert!((at(side + sign * 100.0).unwrap() - line).abs() <= 1e-7 * known.size().max(line.abs()));
                    continue;
                }
                ends += 1;
                let room = 1e-8 * known.size().max(end.cost.abs());
                let line = answer.objective + price * (end.side - side);
                assert!((end.cost - line).abs() <= room, "seed {seed} row {i}");
                let middle = f64::midpoint(end.side, side);
                let line = f64::midpoint(answer.objective, end.cost);
                assert!((at(middle).unwrap() - line).abs() <= room, "seed {seed} row {i}");
                match at(end.side + sign * 1e-2) {
                    Ok(cost) => {
                        let line = end.cost + price * sign * 1e-2;
                        assert!(cost > line - room, "seed {seed} row {i}");
                        let new = end.price.unwrap_or_else(|| panic!("seed {seed} row {i}: nothing told"));
                        assert!(!end.is_last && (new - price) * sign >= -1e-9, "seed {seed} row {i}: {price} {new}");
                    }
                    Err(Failure::Infeasible) => {
                        last += 1;
                        let other = if is_lower { row.upper } else { row.lower };
                        let crossed = (end.side - other).abs() < 1e-9;
                        assert!(end.is_last || end.price.is_some() || crossed, "seed {seed} row {i}: {end:?}");
                    }
                    Err(failure) => panic!("seed {seed} row {i}: {failure}"),
                }
            }
        }
    }
    assert!(ends > 500 && last > 50, "only {ends} ends, {last} with nothing beyond");
}

#[test]
fn both_prices_of_a_row_are_slopes() {
    for seed in 220_000..220_300 {
        let mut dice = Dice(seed);
        // All needs tight: prices differ to the left and to the right nearly everywhere.
        let shape = Shape { degenerate: 100, ..sized(&mut dice, 8, 6) };
        let known = known(&mut dice, shape);
        let answer = known.confirm(seed);
        for i in 0..shape.rows {
            let (row, price) = (&known.lp.rows[i], answer.row_dual[i]);
            let equation = row.lower.total_cmp(&row.upper).is_eq();
            let value = known.lp.row_value(RowId(i), &answer.x);
            if (value - row.lower).abs() > 1e-9 && (value - row.upper).abs() > 1e-9 {
                continue;
            }
            let is_lower = (value - row.lower).abs() <= 1e-9;
            let (less, more) = price_sides(&known.lp, &answer, RowId(i)).unwrap();
            assert!(less <= price + 1e-9 && price <= more + 1e-9, "seed {seed} row {i}: {less} {price} {more}");
            let step = 1.0 / 4096.0;
            for (by, slope) in [(-step, less), (step, more)] {
                let mut moved = known.lp.clone();
                if equation || is_lower {
                    moved.rows[i].lower += by;
                }
                if equation || !is_lower {
                    moved.rows[i].upper += by;
                }
                match solve(&moved) {
                    Ok(there) => {
                        let found = (there.objective - answer.objective) / by;
                        // The piece may be shorter than the step: the slope can only steepen on the way.
                        assert!((found - slope) * by.signum() >= -1e-5, "seed {seed} row {i}: {found} {slope}");
                        let steep = (found - slope).abs() / (1.0 + slope.abs());
                        assert!(slope.is_finite() && steep < 1.0, "seed {seed} row {i}: {found} {slope}");
                    }
                    Err(failure) => {
                        assert_eq!(failure, Failure::Infeasible);
                        assert!(slope.is_infinite(), "seed {seed} row {i}: {slope}");
                    }
                }
            }
        }
    }
}

#[test]
fn a_step_table_is_the_cost_at_every_price() {
    let mut steps = 0;
    for seed in 230_000..230_150 {
        let mut dice = Dice(seed);
        let mut shape = sized(&mut dice, 6, 8);
        shape.cols += 2;
        let mut known = known(&mut dice, shape);
        for col in &mut known.lp.cols {
            // No price may make the cost fall without end.
            col.lower = col.lower.max(-50.0);
            col.upper = col.upper.min(50.0);
        }
        let priced: Vec<Priced> =
            (0..2).map(|k| Priced { col: ColId(k), fixed: dice.whole(-5, 5), per_price: dice.whole(1, 3) }).collect();
        let table = step_table(&known.lp, &priced, -20.0, 20.0).unwrap_or_else(|why| panic!("seed {seed}: {why}"));
        steps += table.len();
        assert!(table.windows(2).all(|pair| pair[0].quantity > pair[1].quantity), "seed {seed}");
        assert!(table.windows(2).all(|pair| pair[0].to.total_cmp(&pair[1].from).is_eq()), "seed {seed}");
        for _ in 0..6 {
            let price = dice.real(-20.0, 20.0);
            let step = table.iter().find(|step| step.from <= price && price <= step.to).unwrap();
            let mut there = known.lp.clone();
            for one in &priced {
                there.cols[one.col.0].cost = one.fixed + one.per_price * price;
            }
            let (cost, said) = (solve(&there).unwrap().objective, there.cost(&step.x));
            assert!((cost - said).abs() <= 1e-8 * known.size(), "seed {seed} at {price}: {cost} {said}");
            let line = step.cost_at_from + step.quantity * (price - step.from);
            assert!((cost - line).abs() <= 1e-8 * known.size(), "seed {seed} at {price}: {cost} {line}");
        }
    }
    assert!(steps > 300, "only {steps} steps");
}

/// Feeds by the truckload: whole loads of up to four feeds, the rest in any amount.
fn loads(dice: &mut Dice) -> (Lp, Vec<ColId>) {
    let mut lp = Lp { constant: 7.0, ..Lp::default() };
    let count = 2 + dice.upto(1);
    let cols: Vec<ColId> = (0..count).map(|k| lp.col(format!("loads {k}"), dice.whole(5, 30), 0.0, 4.0)).collect();
    let loose: Vec<ColId> = (0..3).map(|k| lp.col(format!("loose {k}"), dice.whole(3, 9), 0.0, INF)).collect();
    for i in 0..3 {
        let mut terms = Vec::new();
        for &col in cols.iter().chain(&loose) {
            terms.push((col, dice.whole(0, 6)));
        }
        lp.row(format!("need {i}"), dice.whole(5, 30), INF, terms);
    }
    (lp, cols)
}

#[test]
fn whole_numbers_are_the_best_of_all_whole_numbers() {
    let (mut solved, mut started) = (0, 0);
    for seed in 240_000..240_060 {
        let mut dice = Dice(seed);
        let (lp, cols) = loads(&mut dice);
        let mut best = INF;
        for code in 0..5_u32.pow(u32::try_from(cols.len()).unwrap()) {
            let mut fixed = lp.clone();
            for (k, col) in cols.iter().enumerate() {
                let loads = f64::from(code / 5_u32.pow(u32::try_from(k).unwrap()) % 5);
                (fixed.cols[col.0].lower, fixed.cols[col.0].upper) = (loads, loads);
            }
            match solve(&fixed) {
                Ok(answer) => best = best.min(answer.objective),
                Err(failure) => assert!(matches!(failure, Failure::Infeasible), "seed {seed}: {failure}"),
            }
        }
        match solve_whole(&lp, &cols, None, 0.0, 30.0) {
            Ok(found) => {
                solved += 1;
                assert!((found.objective - best).abs() < 1e-6, "seed {seed}: {} {best}", found.objective);
                assert_eq!(found.ended, Ended::Proved);
                assert!(found.gap < 1e-6 && found.bound <= found.objective, "seed {seed}: {found:?}");
                for col in &cols {
                    assert!(found.x[col.0].fract() == 0.0);
                }
                let fractions = solve(&lp).unwrap().objective;
                assert!(fractions <= found.objective + 1e-9);
                // Any whole numbers that fit are a start; with no time at all they are the answer.
                let mut start = found.x.clone();
                for col in &cols {
                    start[col.0] = 4.0;
                }
                let mut fixed = lp.clone();
                for col in &cols {
                    (fixed.cols[col.0].lower, fixed.cols[col.0].upper) = (4.0, 4.0);
                }
                // A start that fits is an answer; one that does not is none, and with no time nothing else is found.
                match (solve(&fixed), solve_whole(&lp, &cols, Some(&start), 0.0, 0.0)) {
                    (Ok(_), Ok(rest)) => {
                        started += 1;
                        assert!(rest.objective >= best - 1e-6 && rest.gap >= 0.0);
                        assert!(rest.bound <= best + 1e-6, "seed {seed}: {rest:?}");
                    }
                    (Err(_), _) => {}
                    (Ok(_), Err(failure)) => panic!("seed {seed}: the start fits, yet {failure}"),
                }
            }
            Err(failure) => assert!(best.is_infinite(), "seed {seed}: {failure}, {best} exists"),
        }
    }
    assert!(solved > 40, "only {solved}");
    assert!(started > 5, "only {started} starts fitted");
}

#[test]
fn whole_numbers_end_where_asked() {
    let mut lp = Lp::default();
    let loads = lp.col("loads", 10.0, 0.0, 9.0);
    lp.row("need", 2.5, INF, [(loads, 1.0)]);
    let exact = solve_whole(&lp, &[loads], None, 0.0, 10.0).unwrap();
    assert!((exact.x[0] - 3.0).abs() < 1e-12 && (exact.objective - 30.0).abs() < 1e-9);
    // A start within the gap may stand: at least 25, at most 30.
    let rough = solve_whole(&lp, &[loads], Some(&[3.0]), 0.5, 10.0).unwrap();
    assert!(rough.gap <= 0.5);
    assert_eq!(solve_whole(&lp, &[loads], None, -1.0, 10.0).map_err(|f| matches!(f, Failure::Invalid(_))), Err(true));
    lp.rows[0].lower = 9.5;
    assert_eq!(solve_whole(&lp, &[loads], None, 0.0, 10.0), Err(Failure::Infeasible));
    // No time and no start: no answer, and it says so.
    lp.rows[0].lower = 2.5;
    assert!(matches!(solve_whole(&lp, &[loads], None, 0.0, 0.0), Err(Failure::Solver(_))));
}
