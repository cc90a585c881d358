//! The winter as one programme held against what can be known without it: cases solved by hand and by trying every
//! vertex, printed arithmetic, and laws that any right answer obeys.

use approx::assert_relative_eq;
use overwinter::feed::ginning::{GinOutput, Ginning};
use overwinter::feed::{Nutrient, Supply};
use overwinter::scenario;
use overwinter::winter::loads::WholeLoads;
use overwinter::winter::{self, Case, Cells, NoPlan, Plan};
use overwinter::{Stop, report};

mod library;
use library::library;

fn case(text: &str) -> Case {
    match scenario::read(text, library()) {
        Ok(read) => read.value,
        Err(list) => panic!("{list:#?}"),
    }
}

fn plan_of(case: &Case) -> Plan {
    winter::plan(case, &cells(case)).unwrap_or_else(|no| panic!("{no:#?}"))
}

fn cells(case: &Case) -> Cells<'_> {
    winter::assemble(case).unwrap_or_else(|list| panic!("{list:#?}"))
}

fn offer(case: &Case, id: &str) -> usize {
    case.offers.iter().position(|offer| offer.id == id).unwrap_or_else(|| panic!("no {id}"))
}

/// A winter whose rations are fixed, so that only stores, loads and money are left to find: `cows` eat `lb` of one feed.
fn fixed(feed: &str, lb: f64, head: u32, days: u32, keys: &str) -> String {
    let to = jiff::civil::date(2026, 12, 1).checked_add(jiff::Span::new().days(i64::from(days))).unwrap();
    format!(
        "place: {{weather: rolling_plains}}
winter: {{from: 2026-12-01, to: {to}, periods: months}}
groups:
  cows: {{kind: cow, head: {head}, weight_lb: 1200, calving: open, limit_fed: true}}
feeds:
  {feed}: {{fixed_lb: {lb}, {keys}}}
steady_pct: 0
limits: {{{}}}
",
        off()
    )
}

/// Every rule off: what is left is arithmetic.
fn off() -> String {
    let rules = overwinter::limit::RULES.iter().filter(|rule| rule.id != "growth");
    rules.map(|rule| format!("{}: {{off: true, because: arithmetic alone is held}}", rule.id)).collect::<Vec<_>>().join(", ")
}
