//! What is short, each way out, and what comes in or goes out beyond a price or a side.

use super::{INF, add_row, col_of, published, row_of};
use overwinter::lp::{
    Failure, Lp, Missed, Priced, Relax, RowId, conflict, elastic, price_range, price_sides, side_range, single_relief,
    solve, step_table,
};

#[test]
fn the_conflict_is_named_and_so_is_each_way_out() {
    let (mut lp, file) = published("min_and_max_diet");
    for (name, row) in &file.infeasible_with {
        add_row(&mut lp, name, row, &file.contents);
    }
    assert_eq!(solve(&lp), Err(Failure::Infeasible));
    let side = |row: RowId| {
        let row = &lp.rows[row.0];
        if row.lower.is_finite() { row.lower } else { row.upper }
    };
    let rows: Vec<RowId> = (0..lp.rows.len()).map(RowId).collect();
    let relax: Vec<Relax> = rows.iter().map(|&row| Relax { row, weight_per_unit: 1.0 / side(row) }).collect();
    let nearest = elastic(&lp, &relax).unwrap();
    assert!(nearest.conflict.contains(&row_of(&lp, "dairy")));
    assert!(nearest.shortfalls.iter().any(|short| short.amount > 0.0));

    // The rows named cannot hold together, and can without any one of the fewest.
    let only = |keep: &dyn Fn(RowId) -> bool| {
        let mut part = lp.clone();
        let kept = part.rows.into_iter().enumerate().filter(|(i, _)| keep(RowId(*i)));
        part.rows = kept.map(|(_, row)| row).collect();
        solve(&part)
    };
    assert_eq!(only(&|row| nearest.conflict.contains(&row)), Err(Failure::Infeasible));
    let fewest = conflict(&lp, &nearest).unwrap();
    assert!(fewest.contains(&row_of(&lp, "dairy")));
    assert_eq!(only(&|row| fewest.contains(&row)), Err(Failure::Infeasible));
    for without in &fewest {
        assert!(only(&|row| fewest.contains(&row) && row != *without).is_ok());
    }

    // What falls short falls short by what is said, at the cost that is said.
    let mut relaxed = lp.clone();
    for short in &nearest.shortfalls {
        let row = &mut relaxed.rows[short.row.0];
        match short.missed {
            Missed::Below => row.lower -= short.amount,
            Missed::Above => row.upper += short.amount,
        }
    }
    let answer = solve(&relaxed).unwrap();
    assert!((answer.objective - nearest.cost).abs() < 1e-6, "{} {}", answer.objective, nearest.cost);

    // Each single way out is one, and no smaller step on the same row is.
    let ways = single_relief(&lp, &relax).unwrap();
    assert!(!ways.is_empty());
    for way in &ways {
        for (part, fits) in [(1.0 + 1e-9, true), (0.999, false)] {
            let mut relaxed = lp.clone();
            let row = &mut relaxed.rows[way.row.0];
            match way.missed {
                Missed::Below => row.lower -= part * way.amount,
                Missed::Above => row.upper += part * way.amount,
            }
            assert_eq!(solve(&relaxed).is_ok(), fits, "{way:?}");
        }
    }
    assert!(ways.windows(2).all(|pair| pair[0].weighted <= pair[1].weighted));
}

#[test]
fn nothing_is_short_where_an_answer_exists() {
    let (lp, file) = published("pig_feed");
    let relax: Vec<Relax> = (0..3).map(|i| Relax { row: RowId(i), weight_per_unit: 0.005 }).collect();
    let nearest = elastic(&lp, &relax).unwrap();
    assert!(nearest.shortfalls.is_empty() && nearest.conflict.is_empty());
    file.expect.cost.is(nearest.cost, "cost");
    assert!(single_relief(&lp, &relax).unwrap().is_empty());
}

#[test]
fn rows_that_may_not_give_way_can_contradict() {
    let mut lp = Lp::default();
    let x = lp.col("x", 1.0, 0.0, INF);
    lp.row("at least", 2.0, INF, [(x, 1.0)]);
    lp.row("at most", -INF, 1.0, [(x, 1.0)]);
    let third = lp.row("soft", 5.0, INF, [(x, 1.0)]);
    assert_eq!(elastic(&lp, &[Relax { row: third, weight_per_unit: 1.0 }]), Err(Failure::Infeasible));
    for weight_per_unit in [0.0, -1.0, f64::NAN, INF] {
        assert!(matches!(elastic(&lp, &[Relax { row: third, weight_per_unit }]), Err(Failure::Invalid(_))));
    }
}

#[test]
fn shortfall_goes_before_cost() {
    // Feeding costs a thousand times what a shortfall would be "worth"; it is fed all the same.
    let mut lp = Lp::default();
    let hay = lp.col("hay", 1e6, 0.0, 3.0);
    let need = lp.row("need", 5.0, INF, [(hay, 1.0)]);
    let nearest = elastic(&lp, &[Relax { row: need, weight_per_unit: 1e-3 }]).unwrap();
    assert!((nearest.x[0] - 3.0).abs() < 1e-9);
    assert!((nearest.shortfalls[0].amount - 2.0).abs() < 1e-9);
    assert_eq!(nearest.shortfalls[0].missed, Missed::Below);
    assert_eq!(nearest.conflict_bounds, [hay]);
}

#[test]
fn what_comes_in_beyond_a_price() {
    let (lp, _) = published("pig_feed");
    let answer = solve(&lp).unwrap();
    let (corn, tankage) = (col_of(&lp, "corn"), col_of(&lp, "tankage"));
    let range = price_range(&lp, &answer, tankage).unwrap();
    // At its break-even price the cost has not moved yet, since none is fed.
    assert!((range.down.cost - answer.objective).abs() < 1e-9);
    let change = range.down.change.unwrap();
    assert_eq!(change.enters, [tankage]);
    assert_eq!((change.leaves.len(), change.binds), (0, vec![row_of(&lp, "vitamins")]));
    assert!(range.up.change.is_none() && range.up.next.is_none());
    // At the end of the range of corn both answers cost what is said.
    let range = price_range(&lp, &answer, corn).unwrap();
    for end in [&range.down, &range.up] {
        let mut there = lp.clone();
        there.cols[corn.0].cost = end.price;
        let cost = solve(&there).unwrap().objective;
        assert!((cost - end.cost).abs() < 1e-7, "{cost} {}", end.cost);
        assert!((there.cost(end.next.as_ref().unwrap()) - end.cost).abs() < 1e-7);
    }
}

#[test]
fn what_happens_beyond_a_side() {
    let (lp, _) = published("stigler");
    let answer = solve(&lp).unwrap();
    let row = row_of(&lp, "calcium_g");
    let range = side_range(&lp, &answer, row).unwrap();
    for end in [&range.down, &range.up] {
        let mut there = lp.clone();
        there.rows[row.0].lower = end.side;
        let cost = solve(&there).unwrap().objective;
        assert!((cost - end.cost).abs() < 1e-9, "{cost} {}", end.cost);
        assert!(!end.is_last && end.change.is_some());
    }
    // Needs cost more and more.
    assert!(range.down.price.unwrap() < answer.row_dual[row.0]);
    assert!(range.up.price.unwrap() > answer.row_dual[row.0]);

    // Beyond the last drop there is nothing.
    let mut lp = Lp::default();
    let x = lp.col("x", 2.0, 0.0, 7.0);
    let need = lp.row("need", 3.0, INF, [(x, 1.0)]);
    let answer = solve(&lp).unwrap();
    let range = side_range(&lp, &answer, need).unwrap();
    assert!((range.up.side - 7.0).abs() < 1e-9 && range.up.is_last && range.up.price.is_none());
    assert!((range.up.cost - 14.0).abs() < 1e-9);
    assert!(range.down.side.abs() < 1e-9 && !range.down.is_last);
    assert!(range.down.price.unwrap().abs() < 1e-9);
}

#[test]
fn a_price_with_two_sides_shows_both() {
    // Two needs met exactly by one feed: either alone decides, so one unit less of one saves nothing.
    let mut lp = Lp::default();
    let x = lp.col("x", 3.0, 0.0, INF);
    let first = lp.row("first", 2.0, INF, [(x, 1.0)]);
    let second = lp.row("second", 4.0, INF, [(x, 2.0)]);
    let answer = solve(&lp).unwrap();
    for (row, most) in [(first, 3.0), (second, 1.5)] {
        let (less, more) = price_sides(&lp, &answer, row).unwrap();
        assert!(less.abs() < 1e-9 && (more - most).abs() < 1e-9, "{less} {more}");
    }
}

#[test]
fn several_columns_share_one_price() {
    // One feed bought in two months at the same price, with freight on one of them.
    let mut lp = Lp::default();
    let near = lp.col("near", 0.0, 0.0, 5.0);
    let far = lp.col("far", 0.0, 0.0, INF);
    let other = lp.col("other", 10.0, 0.0, INF);
    lp.row("need", 8.0, INF, [(near, 1.0), (far, 1.0), (other, 1.0)]);
    let priced = |col, fixed| Priced { col, fixed, per_price: 2.0 };
    let table = step_table(&lp, &[priced(near, 0.0), priced(far, 4.0)], 0.0, 9.0).unwrap();
    let found: Vec<(f64, f64)> = table.iter().map(|step| (step.to, step.quantity)).collect();
    for ((to, quantity), (true_to, true_quantity)) in found.iter().zip([(3.0, 16.0), (5.0, 10.0), (9.0, 0.0)]) {
        assert!((to - true_to).abs() < 1e-9 && (quantity - true_quantity).abs() < 1e-9, "{found:?}");
    }
    assert_eq!(found.len(), 3);
    assert!(matches!(step_table(&lp, &[], 2.0, 1.0), Err(Failure::Invalid(_))));
}
