//! The page when there is no plan: what cannot all hold, by how much, and the smallest single ways out.

use super::page::Page;
use super::text::{apart, count, usd};
use crate::feed::Nutrient;
use crate::herd::AnimalClass;
use crate::limit::{Force, figure_text};
use crate::winter::causes::Cause;
use crate::winter::{Case, Short, Shortfall};

/// So many limits to lift are told: the cheapest.
const MOST_LIFTS: usize = 3;
/// So many digits more than usual where two figures would look the same.
const MORE_DIGITS: usize = 4;

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
    causes(&mut page, case, short);
    ways(&mut page, case, short);
    stores(&mut page, case, short);
    // A feed that is counted poorer than its row may be why.
    for offer in &case.offers {
        if let (Some(words), Some(tdn)) = (offer.feed.dirt_words(), offer.feed.get(Nutrient::Tdn)) {
            page.words("", format!("TDN of {} is counted at {}: {words} (judgement).", offer.id, figure_text(tdn, 1)));
        }
    }
    page.words("", others(case, short));
    page
}

/// What stands behind it that is no figure of a feed.
fn causes(page: &mut Page, case: &Case, short: &Short) {
    let spell = case.place.cold_spell.is_some();
    if short.causes.is_empty() && !spell {
        return;
    }
    page.section("behind", "", "What stands behind it:");
    for cause in &short.causes {
        page.item(cause_words(case, cause));
    }
    if spell {
        page.item("The cold spell of the file is on top of this and is not counted: it is told beside a plan.");
    }
}

/// One cause in words.
pub(super) fn cause_words(case: &Case, cause: &Cause) -> String {
    match cause {
        Cause::Barred { group, offer, reason, test_frees, then_a_plan } => {
            let feed = &case.offers[*offer].id;
            let free = match (test_frees, then_a_plan) {
                (true, true) => {
                    " Have its free gossypol tested and write `free_gossypol_pct_dm` under its `test:`; at the figure counted now a plan would then be possible."
                }
                (true, false) => {
                    " A test of its free gossypol, `free_gossypol_pct_dm` under its `test:`, frees it, but is not enough."
                }
                _ => "",
            };
            format!("{}: {feed} may not be given: {reason}.{free}", case.groups[*group].name)
        }
        Cause::Water { group, sulfur_g, pct_dm } => format!(
            "{}: the water alone brings {} g of sulfur a head and day, {} % of the dry matter they will eat. Water with less sulfate is \
                 the way out; no feed takes sulfur away.",
            case.groups[*group].name,
            figure_text(*sulfur_g, 0),
            figure_text(*pct_dm, 2)
        ),
        Cause::Cold { group, period, counted_nem_mcal, asked_nem_mcal, total_nem_mcal } => {
            let beyond = if asked_nem_mcal > &(counted_nem_mcal + 0.05) {
                format!(
                    " It would ask {}; what is above 40 % of maintenance is not fed for and comes off the body.",
                    figure_text(*asked_nem_mcal, 1)
                )
            } else {
                String::new()
            };
            format!(
                "{}, {}: cold takes {} of the {} Mcal NEm asked for.{beyond} Shelter from wind and a dry coat save more than feed can \
                     make up.",
                case.groups[*group].name,
                case.periods[*period].label,
                figure_text(*counted_nem_mcal, 1),
                figure_text(*total_nem_mcal, 1)
            )
        }
    }
}

/// What alone would do: figures, limits of a whole winter, and measuring out what is eaten at will.
fn ways(page: &mut Page, case: &Case, short: &Short) {
    let lifted = |way: &&Shortfall| short.lifts.iter().any(|one| one.group == way.group && one.rule == way.rule);
    let single: Vec<&Shortfall> = short.ways_out.iter().filter(|way| !lifted(way)).collect();
    if single.is_empty() && short.lifts.is_empty() && short.by_hand.is_empty() {
        return;
    }
    page.section("ways", "", "One change that alone would make a plan possible:");
    for one in &short.by_hand {
        page.item(format!(
            "measure {} out in place of at will (`fed: by_hand`): the winter would cost {}.",
            case.offers[one.offer].id,
            usd(one.cost_usd)
        ));
    }
    for one in short.lifts.iter().take(MOST_LIFTS) {
        let learn = if one.rule == "gin-trash" {
            " Feed half of it in the first 14 days all the same, and have it tested."
        } else {
            ""
        };
        // Print has an end for straw; far past it is no way out.
        let further = one.cheapest.filter(|_| one.rule != "straw").map_or_else(String::new, |(figure, cost)| {
            format!(", and at {} {}", figure_text(figure, one.digits), usd(cost))
        });
        page.item(format!(
            "{}, all winter: {} {} {} instead of {}: set `{}` under `limits:` with `because:`, if you have the reason. The winter would cost \
             {}{further}.{learn}",
            case.groups[one.group].name,
            one.title,
            figure_text(one.reached, one.digits),
            one.unit,
            figure_text(one.limit, one.digits),
            one.rule,
            usd(one.cost_usd)
        ));
    }
    for way in single {
        let advice = if way.force == Force::Need {
            "ask for less, or offer a feed that brings it".to_owned()
        } else if way.rule.starts_with("your-") {
            "change your own amount".to_owned()
        } else {
            format!("set `{}` under `limits:` with `because:`", way.rule)
        };
        let (reached, limit) = apart(way.reached, way.limit, way.digits);
        page.item(format!(
            "{}, {}: {} {reached} {} instead of {limit}: {advice}.",
            case.groups[way.group].name, case.periods[way.period].label, way.title, way.unit
        ));
    }
}

/// What else may help, as far as it does here.
fn others(case: &Case, short: &Short) -> String {
    let energy = |one: &Shortfall| one.rule == "energy";
    let mut list = vec!["offer another feed"];
    if case.offers.iter().any(|offer| offer.on_hand.0 > 0.0 && offer.price_usd_per_ton.is_none()) {
        list.push("buy more of what is only owned");
    }
    if short.shortfalls.iter().any(|one| one.rule == "growth") {
        list.push("ask for less gain (`gain_lb_per_day`)");
    }
    // In cattle that only grow gain and condition are one.
    let reserves = |one: &Shortfall| {
        matches!(
            case.groups[one.group].class,
            AnimalClass::Cow | AnimalClass::FirstCalfCow | AnimalClass::BredHeifer | AnimalClass::Bull
        )
    };
    if short.shortfalls.iter().any(|one| energy(one) && reserves(one)) {
        list.push("plan for condition to come off (`condition_wanted`)");
    }
    match list.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("Other ways: {}, or {last}.", rest.join(", ")),
        _ => format!("Another way: {}.", list.join("")),
    }
}

fn table(page: &mut Page, case: &Case, list: &[Shortfall]) {
    let rows: Vec<Vec<String>> = list
        .iter()
        .map(|short| {
            // A miss that is none at the usual digits is told with more.
            let missed = (short.digits.max(1)..=short.digits.max(1) + MORE_DIGITS)
                .map(|digits| figure_text(short.short, digits))
                .find(|text| text.chars().any(|c| matches!(c, '1'..='9')))
                .unwrap_or_else(|| format!("under {}", figure_text(1e-5, 5)));
            vec![
                format!("  {}", case.groups[short.group].name),
                case.periods[short.period].label.clone(),
                short.title.clone(),
                missed,
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
    // Rounded up: what is told has to do.
    let tons = |value: f64| {
        let digits = if value < 1.0 { 2 } else { 1 };
        let fine = if digits == 2 { 100.0 } else { 10.0 };
        figure_text((value * fine + 1e-6).ceil() / fine, digits)
    };
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
        page.item(format!("sell {} of {}.", count(*head), case.groups[*group].name));
    }
}
