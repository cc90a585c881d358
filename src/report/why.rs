//! Why a feed is in a plan, out of it, or at a limit: plain data, the page and the CSV of `overwinter plan --why`.

use super::csv::table as csv_table;
use super::grid::{grid, paragraph};
use super::text::{short_name, usd};
use crate::limit::figure_text;
use crate::value::why::{Account, Entry, NO_PRICE, Why};
use crate::winter::Case;
use serde::Serialize;
use std::fmt::Write as _;

/// A line of an account.
#[derive(Debug, Clone, Serialize)]
pub struct EntryLine {
    /// Id of the rule; `spread` for what its uncertainty is charged.
    pub rule: &'static str,
    /// Its name for people.
    pub title: String,
    /// Credited (above 0) or charged, US dollars per short ton.
    pub usd_per_ton: f64,
}

/// A feed's account with one group in one period.
#[derive(Debug, Clone, Serialize)]
pub struct AccountLine {
    /// Group.
    pub group: String,
    /// Period.
    pub period: String,
    /// Pounds as fed per head and day at least cost.
    pub lb_as_fed: f64,
    /// What each need and limit credits or charges.
    pub entries: Vec<EntryLine>,
    /// What a short ton is worth to this group, US dollars: the sum of the entries.
    pub worth_usd_per_ton: f64,
    /// What it costs: its price, or what a ton in store is worth to the winter.
    pub costs_usd_per_ton: f64,
    /// Cost less worth.
    pub reduced_cost_usd_per_ton: f64,
    /// The limit on this kind of feed that holds it back most, with what one pound more a head and day would save.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub held_by: Option<HeldBy>,
    /// The amount of the user's own that keeps it in, with what one pound less a head and day would save.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kept_in_by: Option<HeldBy>,
}

/// A limit that holds a feed back.
#[derive(Debug, Clone, Serialize)]
pub struct HeldBy {
    /// Id of the rule.
    pub rule: &'static str,
    /// Its name for people.
    pub title: String,
    /// Saved by one pound more, or less where it is kept in, US dollars per head and day.
    pub usd_per_lb: f64,
}

/// Why a feed is where it is.
#[derive(Debug, Clone, Serialize)]
pub struct WhyReport {
    /// The feed.
    pub feed: String,
    /// Delivered price, US dollars per short ton; absent: it cannot be bought.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub price_usd_per_ton: Option<f64>,
    /// Haul in it.
    pub freight_usd_per_ton: f64,
    /// Whether it stands in the herd file.
    pub in_file: bool,
    /// Short tons bought over the winter at least cost.
    pub bought_tons: f64,
    /// Delivered price at which it would come in.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub comes_in_usd_per_ton: Option<f64>,
    /// For feed on hand: what one more ton at the start would save.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub one_more_ton_usd: Option<f64>,
    /// Accounts by group and period.
    pub accounts: Vec<AccountLine>,
    /// Groups that may not have it, and why.
    pub barred: Vec<(String, &'static str)>,
}

/// The plain data.
#[must_use]
pub fn of(case: &Case, why: &Why, in_file: bool) -> WhyReport {
    let offer = &case.offers[why.offer];
    WhyReport {
        feed: offer.id.clone(),
        price_usd_per_ton: offer.delivered_usd_per_ton().filter(|_| in_file),
        freight_usd_per_ton: offer.freight.map_or(0.0, |freight| freight.usd_per_ton()),
        in_file,
        bought_tons: why.bought_tons,
        comes_in_usd_per_ton: why.comes_in_usd_per_ton,
        one_more_ton_usd: why.one_more_ton_usd,
        accounts: why.accounts.iter().map(|account| account_line(case, account)).collect(),
        barred: why.barred.iter().map(|(g, reason)| (case.groups[*g].name.clone(), *reason)).collect(),
    }
}

fn account_line(case: &Case, account: &Account) -> AccountLine {
    let entries = account.entries.iter().filter(|entry| entry.usd_per_ton.abs() > 1e-9);
    let held = account
        .entries
        .iter()
        .filter(|entry| entry.of_its_kind && entry.usd_per_ton < -NO_PRICE)
        .min_by(|a, b| a.usd_per_ton.total_cmp(&b.usd_per_ton));
    let by = |entry: &Entry| HeldBy {
        rule: entry.rule,
        title: entry.title.clone(),
        usd_per_lb: entry.usd_per_ton.abs() / account.lb_eaten_per_ton,
    };
    AccountLine {
        group: case.groups[account.group].name.clone(),
        period: case.periods[account.period].label.clone(),
        lb_as_fed: account.lb,
        entries: entries
            .map(|entry| EntryLine { rule: entry.rule, title: entry.title.clone(), usd_per_ton: entry.usd_per_ton })
            .collect(),
        worth_usd_per_ton: account.worth,
        costs_usd_per_ton: account.costs,
        reduced_cost_usd_per_ton: account.reduced,
        held_by: held.map(by),
        kept_in_by: account
            .entries
            .iter()
            .find(|entry| entry.rule.starts_with("your-") && entry.usd_per_ton > NO_PRICE)
            .map(by),
    }
}

/// The page.
#[must_use]
pub fn page(report: &WhyReport) -> String {
    let mut out = String::new();
    let _ = writeln!(out, "WHY {}", report.feed);
    out.push_str(&paragraph("", &verdict(report)));
    let mut groups: Vec<&str> = report.accounts.iter().map(|account| account.group.as_str()).collect();
    groups.dedup();
    for group in groups {
        let accounts: Vec<&AccountLine> = report.accounts.iter().filter(|one| one.group == group).collect();
        out.push('\n');
        out.push_str(&table(group, &accounts, report.in_file));
        for sentence in sentences(report, &accounts) {
            out.push_str(&paragraph("  ", &sentence));
        }
    }
    for (group, reason) in &report.barred {
        out.push('\n');
        out.push_str(&paragraph("", &format!("{group}: may not be given: {reason}.")));
    }
    out.push('\n');
    let mut note = "At the least-cost winter in part loads, before steadiness and rounding. A ton is worth what the needs pay for what it \
                    brings, less what the limits charge for what it takes up; a limit on a share of the diet pays for what thins it. \
                    Prices of needs and limits hold for small changes."
        .to_owned();
    if !report.in_file {
        note.push_str(" It is not in the herd file: it stands here with the usual loss and waste of its kind, delivered, measured out by hand.");
    }
    out.push_str(&paragraph("", &note));
    out
}

fn money(value: f64) -> String {
    let text = figure_text(value, 0);
    if text == "0" { String::new() } else { text }
}

fn verdict(report: &WhyReport) -> String {
    let price = report.price_usd_per_ton.map_or(String::new(), |price| format!(" at {} a ton delivered", usd(price)));
    let fed = report.accounts.iter().any(|account| account.lb_as_fed > 1e-3);
    let gate = |at: f64| {
        if report.freight_usd_per_ton > 0.0 {
            format!(", {} at the seller's gate", usd(at - report.freight_usd_per_ton))
        } else {
            String::new()
        }
    };
    if report.accounts.is_empty() {
        return "No group can have it in any period.".to_owned();
    }
    match (fed, report.comes_in_usd_per_ton, report.one_more_ton_usd) {
        (_, _, Some(more)) => format!(
            "{}: a ton more on hand would save {}.",
            if fed { "In, from what is on hand" } else { "Out, though it is on hand" },
            usd(more)
        ),
        (true, ..) => format!(
            "In{price}: {} tons are bought.",
            figure_text(report.bought_tons, if report.bought_tons < 1.0 { 2 } else { 1 })
        ),
        (false, Some(at), _) if at <= 0.0 => format!("Out{price}: it would not be fed even if it were free."),
        (false, Some(at), _) => {
            format!("Out{price}: it would have to cost {} delivered{} to come in.", usd(at), gate(at))
        }
        (false, None, _) => "Out.".to_owned(),
    }
}

/// Credits and charges by period; only those that count somewhere.
fn table(group: &str, accounts: &[&AccountLine], in_file: bool) -> String {
    let mut titles: Vec<(&str, f64)> = Vec::new();
    for entry in accounts.iter().flat_map(|account| &account.entries) {
        match titles.iter_mut().find(|(title, _)| *title == entry.title) {
            Some((_, sum)) => *sum += entry.usd_per_ton,
            None => titles.push((&entry.title, entry.usd_per_ton)),
        }
    }
    titles.sort_by(|a, b| b.1.total_cmp(&a.1));
    let of = |account: &AccountLine, title: &str| -> f64 {
        account.entries.iter().filter(|entry| entry.title == title).map(|entry| entry.usd_per_ton).sum()
    };
    let mut rows: Vec<Vec<String>> = Vec::new();
    for (title, _) in &titles {
        let values: Vec<f64> = accounts.iter().map(|account| of(account, title)).collect();
        if values.iter().any(|value| value.abs() >= 0.5) {
            let mut row = vec![format!("   {title}")];
            row.extend(values.into_iter().map(money));
            rows.push(row);
        }
    }
    let mut line = |title: &str, value: &dyn Fn(&AccountLine) -> String| {
        let mut row = vec![format!("   {title}")];
        row.extend(accounts.iter().map(|account| value(account)));
        rows.push(row);
    };
    line("worth to them", &|account| figure_text(account.worth_usd_per_ton, 0));
    if in_file {
        line("costs", &|account| figure_text(account.costs_usd_per_ton, 0));
    }
    line("lb as fed a head and day", &|account| {
        if account.lb_as_fed > 1e-3 { figure_text(account.lb_as_fed, 1) } else { String::new() }
    });
    let mut header = vec![format!(" {group}: $ per ton as bought or stored")];
    header.extend(accounts.iter().map(|account| short_name(&account.period)));
    grid(1, &header, &rows)
}

/// The period that tells most, in words: where it is fed, the one with most of it; else the one it comes nearest in.
fn sentences(report: &WhyReport, accounts: &[&AccountLine]) -> Vec<String> {
    let mut list = Vec::new();
    let fed = |account: &&&AccountLine| account.lb_as_fed > 1e-3;
    let most = accounts.iter().filter(fed).max_by(|a, b| a.lb_as_fed.total_cmp(&b.lb_as_fed));
    let nearest = accounts.iter().min_by(|a, b| a.reduced_cost_usd_per_ton.total_cmp(&b.reduced_cost_usd_per_ton));
    let Some(told) = most.or(nearest) else { return list };
    let parts = |sign: f64| -> Vec<String> {
        let mut of: Vec<&EntryLine> = told.entries.iter().filter(|entry| entry.usd_per_ton * sign >= 0.5).collect();
        of.sort_by(|a, b| b.usd_per_ton.abs().total_cmp(&a.usd_per_ton.abs()));
        of.iter().map(|entry| format!("{} {}", entry.title, usd(entry.usd_per_ton.abs()))).collect()
    };
    let (credits, charges) = (parts(1.0), parts(-1.0));
    let mut text = format!("In {} a ton is worth {} to them", short_name(&told.period), usd(told.worth_usd_per_ton));
    if !credits.is_empty() {
        let _ = write!(text, ": credited with {}", credits.join(", "));
    }
    if !charges.is_empty() {
        let lead = if credits.is_empty() { ": charged" } else { "; charged" };
        let _ = write!(text, "{lead} for {}", charges.join(", "));
    }
    if report.in_file {
        let short = told.reduced_cost_usd_per_ton;
        if short > NO_PRICE {
            let _ = write!(text, ". It costs {}: {} too much", usd(told.costs_usd_per_ton), usd(short));
        } else {
            let _ = write!(text, ", which is what it costs");
        }
    }
    text.push('.');
    list.push(text);
    let saves = |most: f64| if most < 0.005 { "less than a cent".to_owned() } else { format!("up to {}", usd(most)) };
    for (title, months, most) in binding(accounts, |account| account.held_by.as_ref()) {
        list.push(format!(
            "Held back by the limit on {title} ({months}): room for one pound more would save {} a head and day.",
            saves(most)
        ));
    }
    for (title, months, most) in binding(accounts, |account| account.kept_in_by.as_ref()) {
        list.push(format!("Kept in by {title} ({months}): one pound less would save {} a head and day.", saves(most)));
    }
    list
}

/// What binds in which periods, with the most that a pound saves.
fn binding<'a>(
    accounts: &[&'a AccountLine],
    of: impl Fn(&'a AccountLine) -> Option<&'a HeldBy>,
) -> Vec<(&'a str, String, f64)> {
    let mut list: Vec<(&str, String, f64)> = Vec::new();
    for account in accounts {
        let Some(by) = of(account) else { continue };
        let period = short_name(&account.period);
        match list.iter_mut().find(|(title, ..)| *title == by.title) {
            Some((_, periods, most)) => {
                *periods = format!("{periods} {period}");
                *most = most.max(by.usd_per_lb);
            }
            None => list.push((&by.title, period, by.usd_per_lb)),
        }
    }
    list
}

/// One row for each entry of each account.
#[must_use]
pub fn csv(reports: &[WhyReport]) -> String {
    let header = [
        "feed",
        "group",
        "period",
        "lb_as_fed",
        "rule",
        "usd_per_ton",
        "worth_usd_per_ton",
        "costs_usd_per_ton",
        "reduced_cost_usd_per_ton",
    ];
    let mut rows = Vec::new();
    for report in reports {
        for account in &report.accounts {
            for entry in &account.entries {
                rows.push(vec![
                    report.feed.clone(),
                    account.group.clone(),
                    account.period.clone(),
                    account.lb_as_fed.to_string(),
                    entry.rule.to_owned(),
                    entry.usd_per_ton.to_string(),
                    account.worth_usd_per_ton.to_string(),
                    account.costs_usd_per_ton.to_string(),
                    account.reduced_cost_usd_per_ton.to_string(),
                ]);
            }
        }
    }
    csv_table(&header, rows)
}
