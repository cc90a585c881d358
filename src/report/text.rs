//! The plan and the check as a page for the terminal: the bill, rations, what to buy, what decides, what to watch, how
//! sure.

use super::grid::{grid, paragraph};
use super::model::{Caution, GroupReport, LimitLine, PeriodReport, Report};
use crate::limit::{Force, Sense, figure_text};
use indexmap::IndexMap;
use std::fmt::Write as _;

/// Periods that fit beside each other.
const ACROSS: usize = 8;

/// The page of a plan.
#[must_use]
pub fn plan_page(report: &Report) -> String {
    let mut out = String::new();
    heading(&mut out, report);
    bill(&mut out, report);
    rations(&mut out, report);
    purchases(&mut out, report);
    stocks(&mut out, report);
    out.push_str(&super::sheet::rounding(report));
    out.push_str(&super::haul::page(report));
    decides(&mut out, report);
    worth(&mut out, report);
    condition(&mut out, report);
    if let Some(spell) = &report.cold_spell {
        out.push_str(&super::spell::page(spell));
    }
    watch(&mut out, report);
    sure(&mut out, report);
    out
}

/// The page of a check.
#[must_use]
pub fn check_page(report: &Report) -> String {
    let mut out = String::new();
    heading(&mut out, report);
    verdict(&mut out, report);
    rations(&mut out, report);
    kept_and_broken(&mut out, report);
    condition(&mut out, report);
    watch(&mut out, report);
    let _ = writeln!(out, "\nCounted: {}.", report.weather);
    out
}

/// US dollars with a sign and commas: two decimals under 100, none above.
#[must_use]
pub fn usd(value: f64) -> String {
    let digits = if value.abs() < 100.0 { 2 } else { 0 };
    let text = figure_text(value.abs(), digits);
    format!("{}${text}", if value < 0.0 && text.chars().any(|c| matches!(c, '1'..='9')) { "−" } else { "" })
}

fn title(out: &mut String, text: &str) {
    let _ = writeln!(out, "\n{text}");
}

fn heading(out: &mut String, report: &Report) {
    let winter = &report.winter;
    let place = if report.place.is_empty() { "Winter" } else { &report.place };
    let _ = writeln!(
        out,
        "{place}: {} head, {} to {} ({} {})",
        winter.head,
        winter.from,
        winter.to,
        winter.days,
        if winter.days == 1 { "day" } else { "days" }
    );
}

fn bill(out: &mut String, report: &Report) {
    let winter = &report.winter;
    title(out, "THE BILL");
    let mut rows = vec![vec![
        "whole herd".to_owned(),
        figure_text(f64::from(winter.head), 0),
        usd(winter.cost_usd),
        usd(winter.cost_usd_per_head_day),
    ]];
    for group in &report.groups {
        rows.push(vec![
            format!("{} ({})", group.name, group.kind),
            figure_text(f64::from(group.head), 0),
            usd(group.cost_usd),
            usd(group.cost_usd_per_head_day),
        ]);
    }
    if winter.labor_usd > 0.0 {
        rows.push(vec!["labor of feeding".to_owned(), String::new(), usd(winter.labor_usd), String::new()]);
    }
    out.push_str(&grid(1, &strings(&["", "head", "for the winter", "per head and day"]), &rows));
    out.push_str(&paragraph("", &format!("Every need is met and every limit kept. {}", least_words(report))));
}

/// How the bill stands to the least possible, and what the difference buys.
fn least_words(report: &Report) -> String {
    let winter = &report.winter;
    let least = winter.least_cost_usd.unwrap_or(winter.cost_usd);
    let within = match &report.stores.whole_loads {
        Some(loads) if loads.found => format!(" in whole loads (proved to within {:.2} %)", loads.within_pct),
        _ => String::new(),
    };
    let mut text = format!("No winter at these prices, needs and limits costs less than {}{within}.", usd(least));
    let rounding = report.rounding_usd.unwrap_or(0.0);
    let steadiness = winter.cost_usd - rounding - least;
    if let (Some(now), Some(before)) = (winter.changes_lb, winter.changes_at_least_cost_lb)
        && report.rounding_usd.is_none()
        && (steadiness > 0.5 || before > now + 0.05)
    {
        let _ = write!(
            text,
            " This one costs {} more and is steadier: {now:.0} lb of dry matter change hands between periods instead of {before:.0} lb.",
            usd(steadiness.max(0.0))
        );
    }
    if report.rounding_usd.is_some() {
        let _ = write!(
            text,
            " This one is rounded to what is weighed, for {} more, and kept steadier, for {} more.",
            usd(rounding),
            usd(steadiness.max(0.0))
        );
    }
    text
}

fn verdict(out: &mut String, report: &Report) {
    title(out, "THE VERDICT");
    let words = match report.status {
        "unfit" => "UNFIT: a limit that may never be broken is broken. Do not feed this.",
        "short" => "SHORT: a need is not met; see by how much and what it does to the cattle.",
        "outside" => "TAKE CARE: every need is met, but the ration lies outside a limit that plans keep.",
        _ => "FIT: every need is met and every limit kept.",
    };
    out.push_str(&paragraph("", words));
    let winter = &report.winter;
    let mut line = format!(
        "As fed now: {} for the winter, {} per head and day.",
        usd(winter.cost_usd),
        usd(winter.cost_usd_per_head_day)
    );
    if let Some(best) = report.best_plan_usd {
        let saved = winter.cost_usd - best;
        let _ = if saved >= 0.0 {
            write!(line, " The best plan for the same cattle and days costs {}: {} less.", usd(best), usd(saved))
        } else {
            write!(line, " A plan that meets every need costs {}: {} more.", usd(best), usd(-saved))
        };
    }
    out.push_str(&paragraph("", &line));
}

/// A short head for a column: the month, or the day it starts.
fn short_label(period: &PeriodReport) -> String {
    const MONTHS: [&str; 12] = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
    let parts: Vec<&str> = period.label.split('-').collect();
    let month =
        parts.get(1).and_then(|text| text.parse::<usize>().ok()).and_then(|number| MONTHS.get(number.wrapping_sub(1)));
    match (month, parts.get(2)) {
        (Some(month), None) => (*month).to_owned(),
        (Some(month), Some(day)) => format!("{month} {}", day.trim_start_matches('0')),
        _ => period.label.clone(),
    }
}

fn rations(out: &mut String, report: &Report) {
    title(out, "RATIONS, lb as fed per head and day");
    for group in &report.groups {
        if group.periods.is_empty() {
            let _ = writeln!(out, "{}: no ration given", group.name);
            continue;
        }
        for chunk in group.periods.chunks(ACROSS) {
            let mut header = vec![format!("{} ({} head)", group.name, group.head)];
            header.extend(chunk.iter().map(short_label));
            out.push_str(&grid(1, &header, &ration_rows(chunk)));
        }
    }
    if report.groups.iter().flat_map(|group| &group.periods).flat_map(|period| &period.ration).any(|line| line.at_will)
    {
        out.push_str(&paragraph(
            "",
            "* eaten at will: the figure is what they are expected to eat, waste not counted.",
        ));
    }
}

fn ration_rows(periods: &[PeriodReport]) -> Vec<Vec<String>> {
    let mut feeds: IndexMap<&str, bool> = IndexMap::new();
    for line in periods.iter().flat_map(|period| &period.ration) {
        feeds.insert(&line.feed, line.at_will);
    }
    let mut rows: Vec<Vec<String>> = feeds
        .iter()
        .map(|(feed, at_will)| {
            let mut row = vec![format!("  {feed}{}", if *at_will { " *" } else { "" })];
            row.extend(periods.iter().map(|period| {
                period
                    .ration
                    .iter()
                    .find(|line| line.feed == *feed)
                    .map_or(String::new(), |line| amount(line.lb_as_fed))
            }));
            row
        })
        .collect();
    let mut push = |name: &str, value: &dyn Fn(&PeriodReport) -> String| {
        let mut row = vec![format!("  {name}")];
        row.extend(periods.iter().map(value));
        rows.push(row);
    };
    push("dry matter, lb", &|period| figure_text(period.supply.dmi_lb, 1));
    push("$ per head and day", &|period| figure_text(period.cost_usd_per_head_day, 2));
    push("body condition at the end", &|period| score_words(period.condition.score_to));
    if periods.iter().any(|period| period.condition.gain_lb_per_day.is_some()) {
        push("growth, lb a day", &|period| {
            period.condition.gain_lb_per_day.map_or(String::new(), |gain| figure_text(gain, 2))
        });
    }
    rows
}

/// A body condition score; the scale ends at 1 and 9.
fn score_words(score: f64) -> String {
    if score <= 1.0 {
        "under 1".to_owned()
    } else if score >= 9.0 {
        "over 9".to_owned()
    } else {
        figure_text(score, 1)
    }
}

/// Pounds as a scale shows them; ounces of mineral keep two decimals.
fn amount(lb: f64) -> String {
    if lb < 0.005 {
        String::new()
    } else if lb < 1.0 {
        figure_text(lb, 2)
    } else {
        figure_text(lb, 1)
    }
}

fn purchases(out: &mut String, report: &Report) {
    if report.purchases.is_empty() {
        return;
    }
    title(out, "BUY AND HAUL, short tons as fed, waste and loss included");
    let mut periods: Vec<&str> = Vec::new();
    for period in report.groups.iter().flat_map(|group| &group.periods) {
        if !periods.contains(&period.label.as_str()) {
            periods.push(&period.label);
        }
    }
    let mut feeds: IndexMap<&str, (f64, f64, u32)> = IndexMap::new();
    for purchase in &report.purchases {
        let sum = feeds.entry(&purchase.feed).or_default();
        sum.0 += purchase.tons;
        sum.1 += purchase.usd;
        sum.2 += purchase.loads.unwrap_or(0);
    }
    let labels: IndexMap<&str, String> = report
        .groups
        .iter()
        .flat_map(|group| &group.periods)
        .map(|period| (period.label.as_str(), short_label(period)))
        .collect();
    let chunks: Vec<&[&str]> = periods.chunks(ACROSS - 2).collect();
    for (index, chunk) in chunks.iter().enumerate() {
        let last = index + 1 == chunks.len();
        let mut header = vec![String::new()];
        header.extend(chunk.iter().map(|label| labels.get(label).cloned().unwrap_or_default()));
        if last {
            header.extend(strings(&["winter", "loads", "$"]));
        }
        let rows: Vec<Vec<String>> = feeds
            .iter()
            .map(|(feed, (tons, dollars, loads))| {
                let mut row = vec![format!("  {feed}")];
                row.extend(chunk.iter().map(|label| {
                    report
                        .purchases
                        .iter()
                        .find(|purchase| purchase.feed == *feed && purchase.period == *label)
                        .map_or(String::new(), |purchase| tonnage(purchase.tons))
                }));
                if last {
                    row.push(tonnage(*tons));
                    row.push(if *loads > 0 { loads.to_string() } else { String::new() });
                    row.push(usd(*dollars));
                }
                row
            })
            .collect();
        out.push_str(&grid(1, &header, &rows));
    }
}

fn tonnage(tons: f64) -> String {
    if tons < 0.005 {
        String::new()
    } else if tons < 1.0 {
        figure_text(tons, 2)
    } else {
        figure_text(tons, 1)
    }
}

fn stocks(out: &mut String, report: &Report) {
    let mut owned: IndexMap<&str, Vec<&super::model::Stock>> = IndexMap::new();
    for stock in &report.stocks {
        owned.entry(&stock.feed).or_default().push(stock);
    }
    if owned.is_empty() {
        return;
    }
    title(out, "FROM THE STACK, short tons as fed");
    let rows: Vec<Vec<String>> = owned
        .iter()
        .map(|(feed, flows)| {
            let sum = |pick: fn(&super::model::Stock) -> f64| flows.iter().map(|flow| pick(flow)).sum::<f64>();
            let left = flows.last().map_or(0.0, |flow| flow.left_tons);
            let runs_out = if left < 0.05 {
                flows.iter().find(|flow| flow.left_tons < 0.05).map_or("", |flow| flow.period.as_str())
            } else {
                "lasts"
            };
            vec![
                format!("  {feed}"),
                tonnage(flows.first().map_or(0.0, |flow| flow.opening_tons)),
                tonnage(sum(|flow| flow.bought_tons)),
                tonnage(sum(|flow| flow.fed_tons)),
                tonnage(sum(|flow| flow.lost_tons)),
                tonnage(left),
                runs_out.to_owned(),
            ]
        })
        .collect();
    out.push_str(&grid(1, &strings(&["", "on hand", "bought", "fed", "lost in store", "left", "used up in"]), &rows));
}

/// A rule that binds in one group: figures and prices over its periods.
struct Binding<'a> {
    line: &'a LimitLine,
    periods: Vec<String>,
    low: f64,
    high: f64,
    weight: f64,
}

fn decides(out: &mut String, report: &Report) {
    title(out, "WHAT DECIDES: the cost of one more unit asked for, or (−) saved by one more allowed, per head and day");
    let mut rows = Vec::new();
    for group in &report.groups {
        let mut binding: Vec<Binding<'_>> = Vec::new();
        for period in &group.periods {
            for line in period.limits.iter().filter(|line| line.binding && line.rule != "your-fixed") {
                let price = line.usd_per_unit.unwrap_or(0.0);
                let weight = (price * line.limit).abs();
                match binding.iter_mut().find(|one| one.line.rule == line.rule && one.line.feed == line.feed) {
                    Some(one) => {
                        one.periods.push(short_label(period));
                        one.low = one.low.min(price);
                        one.high = one.high.max(price);
                        one.weight += weight;
                    }
                    None => binding.push(Binding {
                        line,
                        periods: vec![short_label(period)],
                        low: price,
                        high: price,
                        weight,
                    }),
                }
            }
        }
        binding.retain(|one| one.low.abs().max(one.high.abs()) >= 1e-4);
        binding.sort_by(|a, b| b.weight.total_cmp(&a.weight));
        for (index, one) in binding.iter().take(5).enumerate() {
            let name = one
                .line
                .feed
                .as_ref()
                .map_or_else(|| one.line.title.to_owned(), |feed| format!("{}: {feed}", one.line.title));
            let when =
                if one.periods.len() == group.periods.len() { "all winter".to_owned() } else { one.periods.join(" ") };
            rows.push(vec![
                if index == 0 { group.name.clone() } else { String::new() },
                name,
                when,
                price_words(one.low, one.high, one.line.unit),
            ]);
        }
    }
    if rows.is_empty() {
        out.push_str("  nothing binds\n");
    } else {
        out.push_str(&grid(4, &strings(&["", "need or limit", "binds in", "$ a day for one more"]), &rows));
    }
}

/// A price or a range of prices per unit; per hundred units where one is worth next to nothing.
fn price_words(low: f64, high: f64, unit: &str) -> String {
    let largest = low.abs().max(high.abs());
    let (many, lead) = if largest < 0.005 { (100.0, "100 ") } else { (1.0, "") };
    let digits = if largest * many < 0.05 { 3 } else { 2 };
    let (low, high) = (figure_text(low * many, digits), figure_text(high * many, digits));
    if low == high { format!("{low} per {lead}{unit}") } else { format!("{low} to {high} per {lead}{unit}") }
}

fn worth(out: &mut String, report: &Report) {
    title(out, "WORTH, $ per short ton delivered");
    let rows: Vec<Vec<String>> = report
        .worth
        .iter()
        .map(|worth| {
            let price = worth.price_usd_per_ton.map_or_else(
                || if worth.usd_per_head_month.is_some() { "grazed".to_owned() } else { "owned".to_owned() },
                |price| figure_text(price, 0),
            );
            let words = if let Some(one_more) = worth.one_more_ton_usd {
                match worth.usd_per_head_month {
                    Some(month) => {
                        format!("{} a head-month; a ton more standing would be worth {}", usd(month), usd(one_more))
                    }
                    None => format!("a ton more in the stack would be worth {}", usd(one_more)),
                }
            } else if worth.cannot_do_without {
                "used; nothing meets the needs without it".to_owned()
            } else if let Some(cost) = worth.winter_without_usd {
                format!(
                    "used; the best winter without it costs {} ({} more)",
                    usd(cost),
                    usd((cost - report.winter.cost_usd).max(0.0))
                )
            } else if let Some(at) = worth.break_even_usd_per_ton {
                if at > 0.0 {
                    format!("not bought; comes in at {}", figure_text(at, 0))
                } else {
                    "not bought; not even free".to_owned()
                }
            } else if let Some(month) = worth.usd_per_head_month {
                format!("{} a head-month, whatever they eat", usd(month))
            } else {
                "used".to_owned()
            };
            vec![format!("  {}", worth.feed), price, words]
        })
        .collect();
    let mut table = grid(1, &strings(&["", "price", ""]), &rows);
    // The last column holds words; the grid puts it to the right, words read from the left.
    if !rows.is_empty() {
        table = left_words(&rows);
    }
    out.push_str(&table);
}

fn left_words(rows: &[Vec<String>]) -> String {
    let name = rows.iter().map(|row| row[0].chars().count()).max().unwrap_or(0);
    let price = rows.iter().map(|row| row[1].chars().count()).max().unwrap_or(0);
    let mut out = String::new();
    for row in rows {
        let _ = writeln!(out, " {:<name$}  {:>price$}  {}", row[0], row[1], row[2]);
    }
    out
}

fn condition(out: &mut String, report: &Report) {
    let mut lines = Vec::new();
    for group in &report.groups {
        if let (Some(gain), Some(saved)) = (group.score_to_gain_usd_per_head, group.score_saved_usd_per_head) {
            lines.push(format!(
                "{}: one score more by the end costs about {} a head; letting one go saves about {}.",
                group.name,
                usd(gain),
                usd(saved)
            ));
        }
        if let Some(text) = balance_words(group) {
            lines.push(text);
        }
        if let Some(text) = low_words(group) {
            lines.push(text);
        }
    }
    if lines.is_empty() {
        return;
    }
    title(out, "CONDITION AND THE LOW CASE");
    for line in lines {
        out.push_str(&paragraph("  ", &line));
    }
}

/// The period that loses or gains condition fastest beyond what was planned.
fn balance_words(group: &GroupReport) -> Option<String> {
    let worst = group
        .periods
        .iter()
        .filter_map(|period| period.condition.days_to_lose_a_score.map(|days| (period, days)))
        .filter(|(_, days)| days.abs() < 400.0)
        .min_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))?;
    let (period, days) = worst;
    Some(format!(
        "{}: in {} the ration {} one score in {:.0} days ({:.1} of {:.1} Mcal NEm).",
        group.name,
        short_label(period),
        if days > 0.0 { "loses" } else { "gains" },
        days.abs(),
        period.condition.supplied_nem_mcal,
        period.condition.needed_nem_mcal
    ))
}

fn low_words(group: &GroupReport) -> Option<String> {
    let (period, low) = group
        .periods
        .iter()
        .filter_map(|period| period.low_case.as_ref().map(|low| (period, low)))
        .min_by(|a, b| a.1.days_to_lose_a_score.total_cmp(&b.1.days_to_lose_a_score))?;
    Some(format!(
        "{}: if {} tests low, {:.0} % TDN instead of {:.0}, they lose a score in {:.0} days ({}).",
        group.name,
        low.feed,
        low.low_tdn_pct_dm,
        low.tdn_pct_dm,
        low.days_to_lose_a_score,
        short_label(period)
    ))
}

/// Cautions of feeds that stand on the page itself; `feeds NAME` has all of them.
fn cautions_shown(rule: &str) -> usize {
    // What the gin leaves carries the hazards people do not expect.
    if rule.contains("trash") || rule.contains("cottonseed") || rule.contains("burr") { 2 } else { 1 }
}

fn watch(out: &mut String, report: &Report) {
    title(out, "WATCH");
    // One caution of several groups is told once, with the figures of the first.
    let mut of_groups: IndexMap<&str, (Vec<&str>, &Caution)> = IndexMap::new();
    let mut of_feeds: IndexMap<&str, Vec<&Caution>> = IndexMap::new();
    for caution in &report.cautions {
        if let Some(group) = &caution.group {
            of_groups.entry(&caution.rule).or_insert_with(|| (Vec::new(), caution)).0.push(group);
        } else {
            of_feeds.entry(&caution.rule).or_default().push(caution);
        }
    }
    for (groups, caution) in of_groups.values() {
        let (first, others) = groups.split_first().map_or(("", &[][..]), |(first, others)| (*first, others));
        let also = if others.is_empty() { String::new() } else { format!(" Likewise {}.", others.join(", ")) };
        out.push_str(&paragraph("  - ", &format!("{first}: {}{also} [{}]", caution.text, caution.mark)));
    }
    // What is said of several feeds in the same words is said once.
    let mut said: IndexMap<&str, (Vec<&str>, &Caution)> = IndexMap::new();
    for (feed, cautions) in &of_feeds {
        for caution in cautions.iter().take(cautions_shown(feed)) {
            said.entry(&caution.text).or_insert_with(|| (Vec::new(), caution)).0.push(feed);
        }
    }
    for (text, (feeds, caution)) in &said {
        out.push_str(&paragraph("  - ", &format!("{}: {text} [{}]", feeds.join(", "), caution.mark)));
    }
    for group in &report.groups {
        for (feed, reason) in &group.barred {
            out.push_str(&paragraph("  - ", &format!("{}: {feed} may not be given: {reason}.", group.name)));
        }
    }
    out.push_str(&paragraph(
        "  ",
        "More on each feed: `overwinter feeds NAME`; on a source or a rule: `overwinter explain NAME`. The law where you are, the feed \
         tag, the label of what was sprayed, your veterinarian and your nutritionist come before this page.",
    ));
}

fn kept_and_broken(out: &mut String, report: &Report) {
    for force in [Force::Never, Force::Need, Force::Keep] {
        let mut rows = Vec::new();
        for group in &report.groups {
            for period in &group.periods {
                for line in period.limits.iter().filter(|line| !line.kept && line.force == force) {
                    rows.push(vec![
                        format!("  {}", group.name),
                        short_label(period),
                        line.feed
                            .as_ref()
                            .map_or_else(|| line.title.to_owned(), |feed| format!("{}: {feed}", line.title)),
                        figure_text(line.value, line.digits),
                        format!("{} {}", side(line.sense), figure_text(line.limit, line.digits)),
                        line.unit.to_owned(),
                    ]);
                }
            }
        }
        if rows.is_empty() {
            continue;
        }
        title(
            out,
            match force {
                Force::Never => "NEVER TO BE BROKEN, AND BROKEN",
                Force::Need => "NEEDS NOT MET",
                Force::Keep => "OUTSIDE WHAT A PLAN KEEPS",
            },
        );
        out.push_str(&grid(3, &strings(&["", "when", "what", "has", "needs", "unit"]), &rows));
    }
    title(out, "NEEDS, has of what is needed, per head and day");
    let mut rows = Vec::new();
    for group in &report.groups {
        for period in &group.periods {
            let (has, need) = (&period.supply, &period.need);
            let of = |has: f64, need: f64, digits: usize| {
                format!("{} / {}", figure_text(has, digits), figure_text(need, digits))
            };
            rows.push(vec![
                format!("  {}", group.name),
                short_label(period),
                of(has.nem_mcal, need.nem_mcal, 1),
                of(has.cp_lb, need.cp_lb, 2),
                of(has.mp_g, need.mp_g, 0),
                of(has.ca_g, need.ca_g, 0),
                of(has.p_g, need.p_g, 0),
                of(has.dmi_lb, need.dmi_lb, 1),
            ]);
        }
    }
    out.push_str(&grid(2, &strings(&["", "", "NEm Mcal", "CP lb", "MP g", "Ca g", "P g", "DM lb / will eat"]), &rows));
}

fn side(sense: Sense) -> &'static str {
    match sense {
        Sense::AtLeast => "at least",
        Sense::AtMost => "at most",
        Sense::Exactly => "just",
    }
}

fn sure(out: &mut String, report: &Report) {
    title(out, "HOW SURE");
    if let Some(certificate) = report.certificate {
        out.push_str(&paragraph(
            "  ",
            &format!(
                "The cost is proved least: the gap to the proved bound is {} of it, rows are held to {}, prices to {}; an independent check of \
                 every ration agrees. {}",
                tiny(certificate.relative_gap),
                tiny(certificate.primal),
                tiny(certificate.dual),
                match report.unique {
                    Some(true) => "No other winter costs as little.",
                    Some(false) => "Another winter costs the same: feeds tie.",
                    None => "Whether another winter costs the same was not settled.",
                }
            ),
        ));
    }
    if let Some(ends) = &report.at_will_ends {
        let cost = |then: Option<f64>| then.map_or("needs that cannot be met".to_owned(), usd);
        out.push_str(&paragraph(
            "  ",
            &format!(
                "How much {} cattle eat at will is printed nowhere. Counted is {:.1} % of body weight when it is eaten alone and dry; at \
                 {:.1} % the cheapest winter is {}, at {:.1} % {}. `base_intake_pct` of a group sets it.",
                ends.feed,
                ends.counted_pct,
                ends.low_pct,
                cost(ends.low_usd),
                ends.high_pct,
                cost(ends.high_usd)
            ),
        ));
    }
    out.push_str(&paragraph(
        "  ",
        &format!("Counted: {}. Prices and head are yours; a feed without a test is a table average.", report.weather),
    ));
}

fn strings(items: &[&str]) -> Vec<String> {
    items.iter().map(|item| (*item).to_owned()).collect()
}

/// A very small number.
fn tiny(value: f64) -> String {
    if value <= 0.0 { "0".to_owned() } else { format!("{value:.0e}") }
}
