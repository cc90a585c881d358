//! Least-cost problems with known answers, each in `tests/published/lp_*.yaml` with its source; a printed number is met
//! to half a unit of its last digit, a fraction or whole number to rounding. Every price is confirmed by solving again
//! with the right-hand side moved both ways.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "tests")]

use std::path::{Path, PathBuf};

use indexmap::IndexMap;
use overwinter::lp::{
    ColId, Failure, Lp, Missed, Priced, Relax, RowId, Uniqueness, certify, conflict, elastic, price_range, price_sides,
    side_range, single_relief, solve, step_table, uniqueness,
};
use serde::Deserialize;

const INF: f64 = f64::INFINITY;

/// A number as it stands in the file: `0.30`, `"437.647"`, `7440/17`, `inf`.
#[derive(Deserialize, Clone)]
#[serde(untagged)]
enum Number {
    Plain(f64),
    Text(String),
}

impl Number {
    /// Value and half a unit of the last printed digit.
    fn read(&self) -> (f64, f64) {
        let text = match self {
            Self::Plain(value) => return (*value, 1e-9 * value.abs().max(1.0)),
            Self::Text(text) if text == "inf" => return (INF, 0.0),
            Self::Text(text) => text,
        };
        let (top, bottom) = text.split_once('/').unwrap_or((text, "1"));
        let value = |part: &str| part.parse::<f64>().unwrap_or_else(|_| panic!("{part} is no number"));
        let (value, bottom) = (value(top) / value(bottom), value(bottom));
        let within = match top.split_once('.') {
            Some((_, digits)) => 0.500_001 * 10_f64.powi(-i32::try_from(digits.len()).unwrap()) / bottom,
            None => 1e-9 * value.abs().max(1.0),
        };
        (value, within)
    }
    fn value(&self) -> f64 {
        self.read().0
    }
    #[track_caller]
    fn is(&self, found: f64, what: &str) {
        let (value, within) = self.read();
        let same = value.total_cmp(&found).is_eq() || (value - found).abs() <= within;
        assert!(same, "{what}: {found} where {value} is printed");
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ColFile {
    cost: Number,
    upper: Option<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RowFile {
    lower: Option<f64>,
    upper: Option<f64>,
    terms: Option<IndexMap<String, f64>>,
    of_dry_matter: Option<Vec<f64>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct StepsFile {
    from: f64,
    to: f64,
    table: Vec<(Number, Number)>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Expect {
    cost: Number,
    #[serde(default)]
    unique: bool,
    amounts: IndexMap<String, Number>,
    #[serde(default)]
    others_are_zero: bool,
    #[serde(default)]
    row_prices: IndexMap<String, Number>,
    #[serde(default)]
    row_values: IndexMap<String, Number>,
    #[serde(default)]
    reduced_costs: IndexMap<String, Number>,
    #[serde(default)]
    price_ranges: IndexMap<String, (Number, Number)>,
    #[serde(default)]
    side_ranges: IndexMap<String, (Number, Number)>,
    #[serde(default)]
    steps: IndexMap<String, StepsFile>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    table: Option<PathBuf>,
    #[serde(default)]
    needs: IndexMap<String, f64>,
    #[serde(default)]
    columns: IndexMap<String, ColFile>,
    #[serde(default)]
    contents: IndexMap<String, Vec<f64>>,
    #[serde(default)]
    rows: IndexMap<String, RowFile>,
    expect: Expect,
    #[serde(default)]
    infeasible_with: IndexMap<String, RowFile>,
}

fn published(name: &str) -> (Lp, File) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/published");
    let text = std::fs::read_to_string(folder.join(format!("lp_{name}.yaml"))).unwrap();
    let file: File = serde_yaml::from_str(&text).unwrap();
    let mut lp = Lp::default();
    if let Some(table) = &file.table {
        add_table(&mut lp, &std::fs::read_to_string(folder.join(table)).unwrap(), &file.needs);
    }
    for (name, col) in &file.columns {
        lp.col(name, col.cost.value(), 0.0, col.upper.unwrap_or(INF));
    }
    for (name, row) in &file.rows {
        add_row(&mut lp, name, row, &file.contents);
    }
    (lp, file)
}

fn add_row(lp: &mut Lp, name: &str, row: &RowFile, contents: &IndexMap<String, Vec<f64>>) {
    let mut terms = Vec::new();
    for (col, value) in row.terms.iter().flatten() {
        terms.push((col_of(lp, col), *value));
    }
    if let Some(weights) = &row.of_dry_matter {
        for (col, parts) in contents {
            // The first part is dry matter in % of the feed, the others are % of dry matter, itself 100 % of itself.
            let dry = parts[0] / 100.0;
            let of_dry = |k: usize| if k == 0 { 1.0 } else { parts[k] / 100.0 };
            let scale = |k: usize| if k == 0 { weights[0] / 100.0 } else { weights[k] };
            terms.push((col_of(lp, col), (0..parts.len()).map(|k| dry * of_dry(k) * scale(k)).sum()));
        }
    }
    lp.row(name, row.lower.unwrap_or(-INF), row.upper.unwrap_or(INF), terms);
}

/// One column per line: dollars spent on it; the nutrients are per dollar.
fn add_table(lp: &mut Lp, text: &str, needs: &IndexMap<String, f64>) {
    let mut lines = text.lines();
    let heads: Vec<&str> = lines.next().unwrap().split(',').collect();
    let mut columns = Vec::new();
    for line in lines {
        // Only the name may hold a comma, and it comes first.
        let mut fields: Vec<&str> = line.rsplitn(heads.len(), ',').collect();
        fields.reverse();
        let name = fields[0].trim_matches('"');
        columns.push((lp.col(name, 1.0, 0.0, INF), fields));
    }
    for (need, &least) in needs {
        let at = heads.iter().position(|head| head == need).unwrap();
        let terms: Vec<(ColId, f64)> =
            columns.iter().map(|(col, fields)| (*col, fields[at].parse().unwrap())).collect();
        lp.row(need, least, INF, terms);
    }
}

fn col_of(lp: &Lp, name: &str) -> ColId {
    ColId(lp.cols.iter().position(|col| col.name == name).unwrap_or_else(|| panic!("no column {name}")))
}

fn row_of(lp: &Lp, name: &str) -> RowId {
    RowId(lp.rows.iter().position(|row| row.name == name).unwrap_or_else(|| panic!("no row {name}")))
}

fn check(name: &str) {
    let (lp, file) = published(name);
    let expect = &file.expect;
    let answer = solve(&lp).unwrap();
    assert_eq!(certify(&lp, &answer.x, &answer.row_dual), Ok(answer.certificate));
    expect.cost.is(answer.objective, "cost");
    let told = uniqueness(&lp, &answer).unwrap();
    if expect.unique {
        assert_eq!(told, Uniqueness::Unique);
    }
    for (col, amount) in &expect.amounts {
        amount.is(answer.x[col_of(&lp, col).0], col);
    }
    for (col, amount) in lp.cols.iter().zip(&answer.x) {
        if expect.others_are_zero && !expect.amounts.contains_key(&col.name) {
            assert!(amount.abs() < 1e-12, "{} is {amount}", col.name);
        }
    }
    for (row, price) in &expect.row_prices {
        price.is(answer.row_dual[row_of(&lp, row).0], row);
    }
    for (row, value) in &expect.row_values {
        value.is(lp.row_value(row_of(&lp, row), &answer.x), row);
    }
    for (col, reduced) in &expect.reduced_costs {
        reduced.is(answer.reduced_cost[col_of(&lp, col).0], col);
    }
    for (col, (down, up)) in &expect.price_ranges {
        let range = price_range(&lp, &answer, col_of(&lp, col)).unwrap();
        down.is(range.down.price, col);
        up.is(range.up.price, col);
    }
    for (row, (down, up)) in &expect.side_ranges {
        let range = side_range(&lp, &answer, row_of(&lp, row)).unwrap();
        down.is(range.down.side, row);
        up.is(range.up.side, row);
    }
    for (col, steps) in &expect.steps {
        let per_price = 1.0 / 2000.0;
        let priced = [Priced { col: col_of(&lp, col), fixed: 0.0, per_price }];
        let table = step_table(&lp, &priced, steps.from, steps.to).unwrap();
        assert_eq!(table.len(), steps.table.len(), "{col}: {table:?}");
        for (step, (to, amount)) in table.iter().zip(&steps.table) {
            match to {
                Number::Text(end) if end == "end" => assert!((step.to - steps.to).abs() < 1e-12),
                to => to.is(step.to, col),
            }
            amount.is(step.quantity / per_price, col);
        }
    }
    prices_are_slopes(&lp);
}

/// Moves each side by a small step both ways and solves again.
fn prices_are_slopes(lp: &Lp) {
    let answer = solve(lp).unwrap();
    for (i, row) in lp.rows.iter().enumerate() {
        let price = answer.row_dual[i];
        let equation = row.lower.total_cmp(&row.upper).is_eq();
        let is_lower = equation || price > 0.0 || price == 0.0 && row.lower.is_finite();
        let side = if is_lower { row.lower } else { row.upper };
        let step = 1e-4 * if side == 0.0 { 1.0 } else { side.abs() };
        let cost = |by: f64| {
            let mut moved = lp.clone();
            if is_lower {
                moved.rows[i].lower += by;
            }
            if equation || !is_lower {
                moved.rows[i].upper += by;
            }
            solve(&moved).unwrap().objective
        };
        let (left, right) = ((answer.objective - cost(-step)) / step, (cost(step) - answer.objective) / step);
        // A difference of two costs is good to the rounding of the costs.
        let room = 1e-11 * answer.objective.abs() / step;
        assert!(left - room <= price && price <= right + room, "{}: {left} {price} {right}", row.name);
        let (below, above) = price_sides(lp, &answer, RowId(i)).unwrap();
        assert!((left - below).abs() <= room && (right - above).abs() <= room, "{}: {below} {above}", row.name);
    }
}

#[test]
fn stigler() {
    check("stigler");
}

#[test]
fn stigler_costs_what_was_published_a_year() {
    let (lp, _) = published("stigler");
    assert!((solve(&lp).unwrap().objective * 365.0 - 39.66).abs() <= 0.005);
}

#[test]
fn ozark_farms() {
    check("ozark_farms");
}

#[test]
fn pig_feed() {
    check("pig_feed");
}

#[test]
fn broiler_mix() {
    check("broiler_mix");
}

#[test]
fn min_and_max_diet() {
    check("min_and_max_diet");
}

#[test]
fn pet_food() {
    check("pet_food");
}

#[test]
fn degenerate_diet() {
    check("degenerate_diet");
}

#[test]
fn cattle_feed_at_even_odds() {
    check("cattle_feed_at_even_odds");
}

#[test]
fn ranges_derived_by_hand() {
    check("hand_ranges");
    let (lp, _) = published("hand_ranges");
    let answer = solve(&lp).unwrap();
    let near = |a: f64, b: f64| (a - b).abs() < 1e-9;
    let energy = side_range(&lp, &answer, row_of(&lp, "energy")).unwrap();
    // Below 28 hay alone at 2 a unit of energy; above 56 nothing fits.
    assert!(near(energy.down.cost, 56.0) && near(energy.down.price.unwrap(), 2.0));
    assert_eq!(energy.down.change.as_ref().unwrap().leaves, [col_of(&lp, "grain")]);
    assert!(near(energy.up.cost, 140.0) && energy.up.is_last);
    let room = side_range(&lp, &answer, row_of(&lp, "room")).unwrap();
    assert!(near(room.down.cost, 100.0) && room.down.is_last);
    assert!(near(room.up.cost, 80.0) && near(room.up.price.unwrap(), 0.0));
    // Above 5 hay goes out and grain comes in its place: grain 10, hay 0.
    let hay = price_range(&lp, &answer, col_of(&lp, "hay")).unwrap();
    assert!(near(hay.up.cost, 100.0));
    assert_eq!(hay.up.change.as_ref().unwrap().leaves, [col_of(&lp, "hay")]);
    // Below 8 the same happens from the other side.
    let grain = price_range(&lp, &answer, col_of(&lp, "grain")).unwrap();
    assert!(near(grain.down.cost, 80.0));
    assert_eq!(grain.down.change.as_ref().unwrap().leaves, [col_of(&lp, "hay")]);
}

#[test]
fn dairy_feeds() {
    check("dairy_feed_free_weight");
    check("dairy_feed_fixed_weight");
    check("dairy_feed_lower_needs");
}

#[test]
fn dry_cow() {
    check("dry_cow");
}

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
