//! A gin's season as CSV: a line for each byproduct and week, units in the column names.

use super::model::GinReport;
use crate::report::csv::table;

/// Week by week at the price that nets most, with what each neighbor gets.
#[must_use]
pub fn weeks(report: &GinReport) -> String {
    let header = [
        "product",
        "week_of",
        "bales",
        "produced_tons",
        "usd_per_ton_at_gin",
        "wanted_tons",
        "sold_tons",
        "elsewhere_tons",
        "overflow_tons",
        "lost_tons",
        "pile_tons",
    ];
    let rows = report.products.iter().flat_map(|product| {
        product.weeks.iter().map(move |week| {
            let mut row = vec![product.product.to_owned(), week.week_of.clone(), format!("{:.2}", week.bales)];
            row.push(format!("{:.3}", week.produced_tons));
            row.push(product.ask_usd_per_ton.map_or(String::new(), |usd| format!("{usd:.2}")));
            let tons = [
                week.wanted_tons,
                week.sold_tons,
                week.elsewhere_tons,
                week.overflow_tons,
                week.lost_tons,
                week.pile_tons,
            ];
            row.extend(tons.map(|tons| format!("{tons:.3}")));
            row
        })
    });
    table(&header, rows)
}
