//! Plans against themselves: every example plans and its own rations pass the check; JSON has the names other programs
//! rely on; and plans change as they must when the file does.

use super::duals::least_cost;
use super::kit::{checked, herd, lb, near, planned, price, read, root};
use overwinter::feed::Supply;
use overwinter::limit::{Force, LimitChange, Sense};
use overwinter::quantity::KgAsFed;
use overwinter::report::model::Report;
use overwinter::winter::{Case, assemble};
use std::fmt::Write as _;
use std::path::PathBuf;

/// Every herd file of `examples` that is there to be planned; those with rations of their own are there to be checked.
fn examples() -> Vec<(PathBuf, String)> {
    let mut found = Vec::new();
    let mut folders = vec![root().join("examples")];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|end| end == "yaml") {
                let text = std::fs::read_to_string(&path).unwrap();
                // Files of other commands have no cattle.
                if text.contains("\ngroups:") && !text.contains("\nfed:") {
                    found.push((path, text));
                }
            }
        }
    }
    found.sort();
    assert!(found.len() >= 2, "{found:?}");
    found
}

#[test]
fn examples_with_rations_of_their_own_are_judged() {
    let mut judged = 0;
    for folder in std::fs::read_dir(root().join("examples")).unwrap() {
        for entry in std::fs::read_dir(folder.unwrap().path()).unwrap() {
            let path = entry.unwrap().path();
            let text = std::fs::read_to_string(&path).unwrap();
            if path.extension().is_some_and(|end| end == "yaml") && text.contains("\nfed:") {
                let report = checked(&read(&text));
                let lines = report.groups.iter().flat_map(|group| &group.periods).map(|period| period.limits.len());
                assert!(lines.sum::<usize>() > 10, "{}", path.display());
                judged += 1;
            }
        }
    }
    assert!(judged > 0, "no example is there to be checked");
}

/// Writes the rations of a plan as the `fed:` of a herd file, every digit.
fn fed(report: &Report) -> String {
    let mut text = "\nfed:\n".to_owned();
    for group in &report.groups {
        writeln!(text, "  {}:", group.name).unwrap();
        for period in &group.periods {
            let feeds: Vec<String> =
                period.ration.iter().map(|line| format!("{}: {}", line.feed, line.lb_as_fed)).collect();
            writeln!(text, "    {}: {{{}}}", period.label, feeds.join(", ")).unwrap();
        }
    }
    text
}

#[test]
fn every_example_plans_and_its_rations_pass_the_check() {
    let mut files: Vec<(String, String)> =
        examples().into_iter().map(|(path, text)| (path.display().to_string(), text)).collect();
    for name in ["two-groups.yaml", "growing.yaml", "cheap-seed.yaml", "case-a.yaml"] {
        files.push((name.to_owned(), super::kit::herd_text(name)));
    }
    for (name, text) in files {
        // Rations of its own give way to those of the plan.
        let text = text.split("\nfed:").next().unwrap();
        let case = read(text);
        let report = planned(&case);
        let proof = report.certificate.unwrap();
        for figure in [proof.primal, proof.dual, proof.relative_gap] {
            assert!((0.0..=1e-9).contains(&figure), "{name}: {proof:?}");
        }
        let judged = checked(&read(&format!("{text}{}", fed(&report))));
        assert_eq!(judged.status, "fit", "{name}");
        let mut lines = 0;
        for (planned, judged) in report.groups.iter().zip(&judged.groups) {
            assert_eq!(planned.periods.len(), judged.periods.len(), "{name}");
            for (planned, judged) in planned.periods.iter().zip(&judged.periods) {
                for (before, after) in planned.limits.iter().zip(&judged.limits) {
                    assert!(after.kept, "{name}: {} {after:?}", planned.label);
                    near(after.value, before.value, 1e-6 * before.value.abs().max(1.0), after.rule);
                    lines += 1;
                }
            }
        }
        assert!(lines > 0);
        // The check prices owned feed at what it would sell for and the plan at what the winter paid for it; where
        // nothing is owned they are one.
        let of_feed = report.winter.cost_usd - report.winter.labor_usd;
        if case.offers.iter().all(|offer| offer.on_hand.0 == 0.0) {
            near(judged.winter.cost_usd, of_feed, 1e-6 * report.winter.cost_usd, &name);
        }
        near(judged.best_plan_usd.unwrap(), of_feed, 1e-6 * report.winter.cost_usd, &name);
    }
}

#[test]
fn json_has_the_names_other_programs_rely_on() {
    for (path, text) in examples() {
        let report = planned(&read(&text));
        let json = serde_json::to_value(&report).unwrap();
        let number = |at: &str| {
            let value = json.pointer(at).unwrap_or_else(|| panic!("{}: no {at}", path.display()));
            assert!(value.is_number(), "{at} is {value}");
        };
        let text = |at: &str| {
            let value = json.pointer(at).unwrap_or_else(|| panic!("{}: no {at}", path.display()));
            assert!(value.as_str().is_some_and(|text| !text.is_empty()), "{at} is {value}");
        };
        text("/status");
        number("/winter/cost_usd");
        number("/winter/cost_usd_per_head_day");
        text("/groups/0/name");
        for name in ["from", "to"] {
            text(&format!("/groups/0/periods/0/{name}"));
        }
        number("/groups/0/periods/0/days");
        number("/groups/0/periods/0/cost_usd_per_head_day");
        text("/groups/0/periods/0/ration/0/feed");
        for name in ["lb_as_fed", "lb_dm", "usd_per_head_day"] {
            number(&format!("/groups/0/periods/0/ration/0/{name}"));
        }
        for side in ["supply", "need"] {
            assert!(json.pointer(&format!("/groups/0/periods/0/{side}")).is_some_and(serde_json::Value::is_object));
        }
        text("/groups/0/periods/0/limits/0/rule");
        for name in ["value", "limit", "usd_per_unit"] {
            number(&format!("/groups/0/periods/0/limits/0/{name}"));
        }
        assert!(json.pointer("/groups/0/periods/0/limits/0/binding").is_some_and(serde_json::Value::is_boolean));
        text("/purchases/0/feed");
        text("/purchases/0/period");
        for name in ["tons", "usd"] {
            number(&format!("/purchases/0/{name}"));
        }
        assert!(json["stocks"].is_array());
        text("/worth/0/feed");
        let worth = json["worth"].as_array().unwrap();
        assert!(worth.iter().any(|one| one["price_usd_per_ton"].is_number()));
        text("/cautions/0/rule");
        text("/cautions/0/text");
        text("/cautions/0/source");
        for name in ["primal", "dual", "relative_gap"] {
            number(&format!("/certificate/{name}"));
        }
    }
}

/// The cost of the winter is that of its groups, its rations and its purchases less what owned feed is worth.
#[test]
fn the_bill_adds_up() {
    for (path, text) in examples() {
        let case = read(&text);
        let report = planned(&case);
        let name = path.display().to_string();
        let groups: f64 = report.groups.iter().map(|group| group.cost_usd).sum();
        // Labor stands in a line of its own.
        let of_feed = report.winter.cost_usd - report.winter.labor_usd;
        near(groups, of_feed, 1e-6 * report.winter.cost_usd, &format!("{name}: groups"));
        let rations: f64 = report
            .groups
            .iter()
            .flat_map(|group| group.periods.iter().map(move |period| (group, period)))
            .map(|(group, period)| {
                let day: f64 = period.ration.iter().map(|line| line.usd_per_head_day).sum();
                near(day, period.cost_usd_per_head_day, 1e-6, "a day");
                day * f64::from(period.days) * f64::from(group.head)
            })
            .sum();
        near(rations, of_feed, 1e-6 * report.winter.cost_usd, &format!("{name}: rations"));
        let bought: f64 = report.purchases.iter().map(|one| one.usd).sum();
        let own: f64 = case
            .offers
            .iter()
            .map(|offer| {
                let left =
                    report.stocks.iter().rfind(|stock| stock.feed == offer.id).map_or(0.0, |stock| stock.left_tons);
                // What was owned at its sale value, what is left at what the file says of leftovers.
                let delivered = offer.delivered_usd_per_ton().unwrap_or(f64::INFINITY);
                let owned = offer.on_hand.tons();
                let value = if owned > 0.0 { offer.value_usd_per_ton.min(delivered) } else { 0.0 };
                value * owned - offer.leftover_usd_per_ton.map_or(value, |usd| usd.min(delivered)) * left
            })
            .sum();
        // Grazed land is paid by the head and month, whatever is eaten.
        let grazed: f64 = case
            .offers
            .iter()
            .enumerate()
            .filter(|(_, offer)| offer.grazing.is_some())
            .flat_map(|(_, offer)| {
                report.groups.iter().flat_map(move |group| group.periods.iter().map(move |p| (offer, group, p)))
            })
            .map(|(offer, group, period)| {
                let day =
                    period.ration.iter().find(|line| line.feed == offer.id).map_or(0.0, |line| line.usd_per_head_day);
                day * f64::from(period.days) * f64::from(group.head)
            })
            .sum();
        let bought = bought + grazed;
        near(bought + own, of_feed, 1e-6 * report.winter.cost_usd, &format!("{name}: purchases"));
    }
}

/// Winters to bend: examples and test herds, at least cost.
fn winters() -> Vec<(String, Case)> {
    let mut list: Vec<(String, Case)> =
        examples().into_iter().map(|(path, text)| (path.display().to_string(), read(&text))).collect();
    for name in ["two-groups.yaml", "growing.yaml", "cheap-seed.yaml"] {
        list.push((name.to_owned(), herd(name)));
    }
    // The large examples are planned and judged above; bent hundreds of times they would take minutes.
    list.retain(|(_, case)| case.groups.len() * case.periods.len() <= 12);
    for (_, case) in &mut list {
        case.settings.steady_pct = 0.0;
        // Whole loads make steps of what is smooth; they have tests of their own.
        for offer in &mut case.offers {
            offer.whole_loads = false;
        }
    }
    list
}

#[test]
fn twice_the_cattle_and_twice_the_stack_cost_twice() {
    for (name, case) in winters() {
        // What a seller has and what a store holds would have to double too.
        if case.offers.iter().any(|offer| offer.supply != Supply::Unlimited || offer.storage_tons.is_some()) {
            continue;
        }
        let once = planned(&case);
        let mut double = case.clone();
        for group in &mut double.groups {
            group.head *= 2;
        }
        for offer in &mut double.offers {
            offer.on_hand = KgAsFed(2.0 * offer.on_hand.0);
        }
        let twice = planned(&double);
        near(twice.winter.cost_usd, 2.0 * once.winter.cost_usd, 1e-8 * twice.winter.cost_usd, &name);
        if once.unique == Some(true) {
            for (a, b) in once.groups.iter().zip(&twice.groups) {
                for (a, b) in a.periods.iter().zip(&b.periods) {
                    for offer in &case.offers {
                        near(lb(a, &offer.id), lb(b, &offer.id), 1e-5, &format!("{name}: {}", offer.id));
                    }
                }
            }
        }
    }
}

#[test]
fn a_feed_too_dear_to_use_changes_nothing() {
    for (name, case) in winters() {
        let before = planned(&case);
        let mut more = case.clone();
        // No roughage: another roughage on offer is a rule of its own for gin trash.
        let dear = read(
            "winter: {from: 2026-12-01, to: 2027-01-01}\ngroups:\n  a: {kind: bull, head: 1, weight_lb: 1800}\nfeeds:\n  \
             dear: {like: canola_meal, price_usd_per_ton: 20000}\n",
        );
        more.offers.extend(dear.offers);
        let after = planned(&more);
        near(after.winter.cost_usd, before.winter.cost_usd, 1e-8 * before.winter.cost_usd, &name);
        let worth = after.worth.iter().find(|worth| worth.feed == "dear").unwrap();
        assert!(worth.break_even_usd_per_ton.is_some_and(|usd| usd < 20_000.0), "{name}: {worth:?}");
    }
}

#[test]
fn a_dearer_feed_never_makes_the_winter_cheaper_nor_is_it_fed_more() {
    for (name, case) in winters() {
        let before = planned(&case);
        let bought = |report: &Report, feed: &str| -> f64 {
            report.purchases.iter().filter(|one| one.feed == feed).map(|one| one.tons).sum()
        };
        for offer in &case.offers {
            let Some(usd) = offer.price_usd_per_ton else { continue };
            let mut dearer = case.clone();
            price(&mut dearer, &offer.id, usd * 1.15 + 1.0);
            let after = planned(&dearer);
            let (old, new) = (before.winter.cost_usd, after.winter.cost_usd);
            assert!(new >= old * (1.0 - 1e-9), "{name}: dearer {} makes it {new} for {old}", offer.id);
            // Not more than the old tons at the new price either.
            let most = old + bought(&before, &offer.id) * (usd * 0.15 + 1.0);
            assert!(new <= most * (1.0 + 1e-9), "{name}: {} {new} above {most}", offer.id);
            let (old, new) = (bought(&before, &offer.id), bought(&after, &offer.id));
            assert!(new <= old + 1e-6 * old.max(1.0), "{name}: {} rose from {old} to {new} tons", offer.id);
        }
    }
}

#[test]
fn a_looser_limit_never_costs_more_and_a_stricter_never_less() {
    for (name, case) in winters() {
        let cells = assemble(&case).unwrap();
        let before = least_cost(&case, &cells);
        let mut moved = 0;
        for (g, t) in (0..case.groups.len()).flat_map(|g| (0..case.periods.len()).map(move |t| (g, t))) {
            for i in 0..cells[g][t].demands.rules.len() {
                let rule = &cells[g][t].demands.rules[i];
                let sign = match rule.rule.sense {
                    Sense::AtLeast => -1.0,
                    Sense::AtMost => 1.0,
                    Sense::Exactly => continue,
                };
                // Every rule in the first period, and the ones that cost in all.
                let costs = rule.force != Force::Need && t > 0;
                if costs {
                    continue;
                }
                for (way, share) in [(1.0, 0.02), (-1.0, 0.002)] {
                    let mut bent = cells.clone();
                    bent[g][t].demands.rules[i].limit += way * sign * share * rule.limit.abs();
                    // Stricter may be too strict: it then costs without bound.
                    let after = least_cost(&case, &bent);
                    let slack = 1e-8 * before.abs();
                    if way > 0.0 {
                        assert!(after <= before + slack, "{name}: looser {} costs {after} for {before}", rule.name());
                    } else {
                        assert!(after >= before - slack, "{name}: stricter {} costs {after} for {before}", rule.name());
                    }
                    moved += 1;
                }
            }
        }
        assert!(moved > 20, "{name}");
    }
}

/// Open cows and bulls have the same needs on every day, so cutting the winter in two changes nothing: feed bought as it
/// is fed is counted to lie half a month whatever the periods are, and a stack loses the same a day.
#[test]
fn a_period_cut_in_two() {
    let cost = |periods: &str, hay: &str| {
        let report = planned(&read(&format!(
            "winter: {{from: 2026-12-01, to: 2027-01-30, periods: {periods}}}\nsteady_pct: 0\ngroups:\n  open: {{kind: \
             cow, head: 30, weight_lb: 1200, calving: open}}\n  bulls: {{kind: bull, head: 3, weight_lb: \
             1900}}\nfeeds:\n  bermuda_hay_mature: {{price_usd_per_ton: 120, {hay}}}\n  whole_cottonseed: \
             {{price_usd_per_ton: 250, loss_pct: 5}}\n  mineral_12_12: {{price_usd_per_ton: 900}}\n"
        )));
        assert!(report.groups[0].periods.iter().all(|period| lb(period, "bermuda_hay_mature") > 5.0));
        report.winter.cost_usd
    };
    let (one, two) = ("[2026-12-01]", "[2026-12-01, 2026-12-31]");
    for hay in
        ["loss_pct: 10", "loss_pct_per_month: 3", "on_hand_tons: 40, value_usd_per_ton: 60, loss_pct_per_month: 3"]
    {
        let (whole, halves) = (cost(one, hay), cost(two, hay));
        near(whole, halves, 1e-8 * whole, hay);
    }
    // A stack that is bought up: what is bought lies from the start of its period, so halves lose less. Bought for the
    // second half, it lies 30 days less, so by at most the loss of 30 days.
    let short = "on_hand_tons: 10, value_usd_per_ton: 60, loss_pct_per_month: 3";
    let (whole, halves) = (cost(one, short), cost(two, short));
    assert!(halves < whole && halves > whole * 0.97_f64.powf(30.0 / 30.4), "{whole} {halves}");
}

/// The cost without a feed, as the page prints it, is that of the file without the feed.
#[test]
fn without_a_feed() {
    for (name, case) in winters() {
        let report = planned(&case);
        for worth in &report.worth {
            if worth.winter_without_usd.is_none() && !worth.cannot_do_without {
                continue;
            }
            let mut bare = case.clone();
            bare.offers.retain(|offer| offer.id != worth.feed);
            let cost = overwinter::plan(&bare).map(|report| report.winter.cost_usd);
            match (worth.winter_without_usd, cost) {
                (Some(told), Ok(found)) => near(told, found, 1e-7 * found, &format!("{name} without {}", worth.feed)),
                (None, Err(overwinter::Stop::Short(_))) => {}
                (told, found) => {
                    panic!(
                        "{name} without {}: told {told:?}, found {:?}",
                        worth.feed,
                        found.map_err(|stop| super::kit::words(&stop))
                    );
                }
            }
        }
    }
}

/// Steadiness costs what the file gives up for it, no more, and makes rations steadier.
#[test]
fn steady_rations_keep_to_their_allowance() {
    for (path, text) in examples() {
        let case = read(&text);
        let report = planned(&case);
        let (least, cost) = (report.winter.least_cost_usd.unwrap(), report.winter.cost_usd);
        let allowed = 1.0 + case.settings.steady_pct / 100.0;
        assert!(cost >= least * (1.0 - 1e-9) && cost <= least * allowed * (1.0 + 1e-9), "{}", path.display());
        assert!(report.winter.changes_lb.unwrap() <= report.winter.changes_at_least_cost_lb.unwrap() + 1e-6);
    }
}

/// A stricter limit in the file is taken without a reason and a looser one is not.
#[test]
fn a_reason_is_asked_for() {
    let change = |value: f64, because: Option<&str>| {
        let mut case = herd("two-groups.yaml");
        case.limits.push(LimitChange {
            rule: "distillers".into(),
            group: None,
            value: Some(value),
            off: false,
            because: because.map(str::to_owned),
            span: 0..0,
        });
        assemble(&case).map(|_| ()).map_err(|list| list[0].message.clone())
    };
    assert!(change(0.3, None).is_ok());
    assert!(change(0.8, None).is_err_and(|text| text.contains("because")));
    assert!(change(0.8, Some("sulfur tested low")).is_ok());
}
