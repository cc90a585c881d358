//! The page when there is no plan: what cannot all hold, by how much, and the smallest single ways out.

use super::page::Page;
use crate::feed::Nutrient;
use crate::limit::{Force, figure_text};
use crate::winter::{Case, Short, Shortfall};

/// The page.
#[must_use]
pub fn page(case: &Case, short: &Short) -> String {
    sections(case, short).text()
}

/// The page as data.
#[must_use]
pub fn sections(case: &Case, short: &Short) -> Page {
    let place = if case.place.name.is_empty() { "This winter" } else { &case.place.name };
    let mut page = Page::new(place, ": no ration can meet it");
    page.words(
        "",
        "With these feeds the needs and limits below cannot all hold. When everything that can be met is met, this is what is missing:",
    );
    table(&mut page, case, &short.shortfalls);
    if case.settings.certainty_pct > 50.0 {
        let most = match short.reachable_pct {
            Some(pct) => format!(
                "About {pct} % is the most that can be had with these feeds; a test of the ones that vary most raises it"
            ),
            None => "Not even the averages of the feeds meet them".to_owned(),
        };
        page.words(
            "",
            format!(
                "Each need is asked for with {} % certainty: figures of needs are what the feeds bring when they come out that low. {most}.",
                case.settings.certainty_pct
            ),
        );
    }
    if !short.ways_out.is_empty() {
        page.section("ways", "", "One change that alone would make a plan possible, the smallest first:");
        for way in &short.ways_out {
            let group = &case.groups[way.group].name;
            let period = &case.periods[way.period].label;
            let advice = if way.force == Force::Need {
                "ask for less, or offer a feed that brings it".to_owned()
            } else if way.rule.starts_with("your-") {
                "change your own amount".to_owned()
            } else {
                format!("set `{}` under `limits:` with `because:`", way.rule)
            };
            page.item(format!(
                "{group}, {period}: {} {} {} instead of {}: {advice}.",
                way.title,
                figure_text(way.reached, way.digits),
                way.unit,
                figure_text(way.limit, way.digits)
            ));
        }
    }
    stores(&mut page, case, short);
    // A feed that is counted poorer than its row may be why.
    for offer in &case.offers {
        if let (Some(words), Some(tdn)) = (offer.feed.dirt_words(), offer.feed.get(Nutrient::Tdn)) {
            page.words("", format!("TDN of {} is counted at {}: {words} (judgement).", offer.id, figure_text(tdn, 1)));
        }
    }
    page.words(
        "",
        "Other ways: offer another feed, buy what is owned only in part, plan for condition to come off (`condition_wanted`), or sell head.",
    );
    page
}

fn table(page: &mut Page, case: &Case, list: &[Shortfall]) {
    let rows: Vec<Vec<String>> = list
        .iter()
        .map(|short| {
            vec![
                format!("  {}", case.groups[short.group].name),
                case.periods[short.period].label.clone(),
                short.title.clone(),
                figure_text(short.short, short.digits.max(1)),
                figure_text(short.limit, short.digits),
                short.unit.to_owned(),
            ]
        })
        .collect();
    let header = ["", "when", "what", "missed by", "asked", "unit"].map(str::to_owned);
    page.table("What is missing at best", 3, &header, &rows);
}

/// Which feed runs out, and what would reach.
fn stores(page: &mut Page, case: &Case, short: &Short) {
    let Some(stores) = &short.stores else { return };
    let tons = |value: f64| figure_text(value, if value < 1.0 { 2 } else { 1 });
    page.section("reach", "", "The feed does not reach. With the fewest tons more:");
    for (offer, period, more) in &stores.runs_out {
        let line = format!(
            "{} runs out in {}: {} tons short.",
            case.offers[*offer].id,
            case.periods[*period].label,
            tons(*more)
        );
        page.item(line);
    }
    page.section("any", "", "Any one of these alone would do:");
    for (offer, more) in &stores.more_tons {
        let first = case.periods.first().map_or_else(String::new, |period| period.from.to_string());
        let line = format!("have {} tons more of {} by {first}", tons(*more), case.offers[*offer].id);
        page.item(format!("{line}."));
    }
    for (offer, weeks) in &stores.weeks_earlier {
        let week = if *weeks == 1 { "week" } else { "weeks" };
        page.item(format!("get {} {weeks} {week} earlier.", case.offers[*offer].id));
    }
    for (group, head) in &stores.fewer_head {
        page.item(format!("sell {head} of {}.", case.groups[*group].name));
    }
}
