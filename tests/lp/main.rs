//! Least-cost problems with known answers, each in `tests/published/lp_*.yaml` with its source; a printed number is met
//! to half a unit of its last digit, a fraction or whole number to rounding. Every price is confirmed by solving again
//! with the right-hand side moved both ways.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "tests")]

mod ways_out;

use indexmap::IndexMap;
use overwinter::lp::{
    ColId, Lp, Priced, RowId, Uniqueness, certify, price_range, price_sides, side_range, solve, step_table, uniqueness,
};
use serde::Deserialize;
use std::path::{Path, PathBuf};

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
fn pearson_squares() {
    for name in ["hay_and_silage", "heifers", "corn", "meal"] {
        check(&format!("pearson_{name}"));
    }
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
