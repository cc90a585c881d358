//! Supply by week as a table with a picture: what comes, what neighbors want, and where it goes.

use super::model::{GinReport, WeekReport};
use super::units::Units;
use crate::limit::figure_text;
use crate::report::page::{Block, Page, Table};

/// Widest bar of the picture.
const BAR: usize = 30;

/// `####....|`: what comes, and where the neighbors' wants lie on the same scale.
fn bar(week: &WeekReport, most: f64) -> String {
    let place = |tons: f64| -> usize {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            clippy::cast_precision_loss,
            reason = "a bar of few columns"
        )]
        let at = (tons / most * BAR as f64).round().max(0.0) as usize;
        at.min(BAR)
    };
    let (came, wanted) = (place(week.produced_tons), place(week.wanted_tons));
    let mut bar: Vec<char> = vec![' '; BAR + 1];
    bar.iter_mut().take(came).for_each(|cell| *cell = '#');
    if week.wanted_tons > 0.0 {
        bar[wanted] = '|';
    }
    let text: String = bar.into_iter().collect();
    format!("{text:<width$}", width = BAR + 1)
}

/// The table.
pub(super) fn supply(page: &mut Page, report: &GinReport, units: Units) {
    let trash = report.products.iter().find(|one| one.product == "trash");
    let seed = report.products.iter().find(|one| one.product == "seed");
    let Some(trash) = trash else { return };
    page.section("supply", "Supply by week", ", tons; of trash # comes, | neighbors want at the price above");
    let header = ["week of", "bales", "seed", "trash", "", "sold", "away", "lost", "pile"].map(str::to_owned);
    let most = trash.weeks.iter().map(|week| week.produced_tons.max(week.wanted_tons)).fold(1e-9, f64::max);
    let mut rows: Vec<Vec<String>> = Vec::new();
    for (index, week) in trash.weeks.iter().enumerate() {
        let seed_tons = seed.and_then(|seed| seed.weeks.get(index)).map_or(0.0, |week| week.produced_tons);
        let bales = if week.bales >= 0.5 { figure_text(week.bales, 0) } else { String::new() };
        let full = if week.overflow_tons > 1e-9 { " FULL" } else { "" };
        rows.push(vec![
            week.week_of.clone(),
            bales,
            units.tons_or_blank(seed_tons),
            units.tons_or_blank(week.produced_tons),
            bar(week, most),
            units.tons_or_blank(week.sold_tons),
            units.tons_or_blank(week.elsewhere_tons),
            units.tons_or_blank(week.lost_tons),
            format!("{}{full:<5}", units.tons_or_blank(week.pile_tons)),
        ]);
    }
    page.push(Block::Table(Table {
        caption: "Supply by week, tons".to_owned(),
        left: 1,
        header: header.to_vec(),
        rows,
        drawn: Some(4),
        ..Table::default()
    }));
    let total = |pick: fn(&WeekReport) -> f64| trash.weeks.iter().map(pick).sum::<f64>();
    page.words(
        "  ",
        format!(
            "Trash over the season: {} tons come, {} sold, {} away, {} lost. Seed by week with its own sales: `--format csv`.",
            units.tons(total(|week| week.produced_tons), 0),
            units.tons(total(|week| week.sold_tons), 0),
            units.tons(total(|week| week.elsewhere_tons), 0),
            units.tons(total(|week| week.lost_tons), 0)
        ),
    );
}
