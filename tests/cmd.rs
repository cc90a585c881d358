//! Whole commands, as typed: exit code, answer and messages. `TRYCMD=overwrite cargo test --test cmd` writes them anew.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "tests")]

use serde_json::Value;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// In `tests/cmd/`, `? 1` under a command is its exit code and `...` any lines. `[CERTIFICATE]` stands for the figures of
/// the proof, which are rounding and differ between machines; it stays when the files are written anew.
#[test]
fn commands() {
    let page = overwinter(&["plan", "examples/first-file/herd.yaml"]).stdout;
    let page = String::from_utf8(page).expect("text");
    let start = page.find("the gap to the proved bound").expect("a page says how it was proved");
    let length = page[start..].find("; an independent check").expect("a page says how it was checked");
    let certificate = page[start..start + length].to_owned();
    assert!(certificate.len() < 120, "{certificate}");
    trycmd::TestCases::new()
        .env("NO_COLOR", "1")
        .insert_var("[CERTIFICATE]", certificate)
        .expect("a name of capitals")
        .case("tests/cmd/*.trycmd")
        .case("tests/cmd/*.toml");
}

fn overwinter(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_overwinter"))
        .args(args)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("the program runs")
}

fn json(args: &[&str]) -> Value {
    serde_json::from_slice(&overwinter(args).stdout).expect("the answer is JSON")
}

/// Everything found at a path such as `groups[].periods[].days`; a list gives each of its members.
fn at<'v>(value: &'v Value, path: &str) -> Vec<&'v Value> {
    let mut found = vec![value];
    for step in path.split('.') {
        let (name, list) = step.strip_suffix("[]").map_or((step, false), |name| (name, true));
        found = found.into_iter().filter_map(|one| one.get(name)).collect();
        if list {
            found = found.into_iter().flat_map(|one| one.as_array().expect("a list")).collect();
        }
    }
    found
}

/// Names other programs rely on: a change here breaks them.
#[test]
fn json_keeps_its_names() {
    let plan = json(&["plan", "examples/dry-fork/herd.yaml", "--format", "json"]);
    let period = "groups[].periods[]";
    let names = [
        ("", "status place winter groups purchases stocks worth cautions certificate"),
        ("winter.", "from to days head cost_usd cost_usd_per_head_day"),
        ("groups[].", "name head cost_usd periods"),
        (&format!("{period}."), "from to days cost_usd_per_head_day ration supply need limits"),
        (&format!("{period}.ration[]."), "feed lb_as_fed lb_dm usd_per_head_day"),
        (&format!("{period}.limits[]."), "rule value limit unit binding usd_per_unit"),
        (&format!("{period}.supply."), "nem_mcal neg_mcal cp_lb mp_g ca_g p_g dmi_lb"),
        (&format!("{period}.need."), "nem_mcal neg_mcal cp_lb mp_g ca_g p_g dmi_lb"),
        ("purchases[].", "feed period tons loads usd"),
        ("stocks[].", "feed period opening_tons bought_tons fed_tons lost_tons left_tons"),
        ("worth[].", "feed price_usd_per_ton"),
        ("cautions[].", "rule group text source"),
        ("certificate.", "primal dual relative_gap"),
    ];
    for (start, list) in names {
        for name in list.split(' ') {
            assert!(!at(&plan, &format!("{start}{name}")).is_empty(), "plan has no {start}{name}");
        }
    }
    let compare = json(&[
        "compare",
        "examples/ranches/bitter-creek.yaml",
        "--prices",
        "examples/ranches/prices.csv",
        "--format",
        "json",
    ]);
    let names = [
        ("cases[].", "name status from to days head winter_usd usd_per_head_day prices rations tons binding"),
        ("cases[].prices[].", "feed delivered_usd_per_ton"),
        ("cases[].rations[].", "group feed lb_as_fed_per_head_day"),
        ("cases[].tons[].", "feed fed_tons bought_tons"),
        ("cases[].binding[].", "group rule title periods"),
        ("cases[].nutrient_costs.feeds[].", "feed usd_per_lb_cp usd_per_lb_tdn usd_per_mcal_nem two_feed_usd_per_ton"),
        ("differences[].", "from_case to_case usd_for from_usd to_usd changes together_usd driver"),
        ("differences[].changes[].", "input from to usd"),
    ];
    for (start, list) in names {
        for name in list.split(' ') {
            assert!(!at(&compare, &format!("{start}{name}")).is_empty(), "compare has no {start}{name}");
        }
    }
    let within = json(&["plan", "examples/high-plains/herd.yaml", "--within", "3%", "--format", "json"]);
    for name in "best_at winter_usd more_usd more_pct feeds hauled_tons rations against_the_cheapest".split(' ') {
        assert!(!at(&within, &format!("plans[].{name}")).is_empty(), "plans within have no {name}");
    }
    let needs = json(&["needs", "examples/dry-fork/herd.yaml", "--format", "json"]);
    for name in "nem_mcal neg_mcal tdn_lb cp_lb mp_g ca_g p_g dmi_lb parts".split(' ') {
        let count = at(&needs, &format!("groups[].periods[].{name}")).len();
        assert_eq!(count, at(&needs, "groups[].periods[]").len(), "needs lacks {name}");
    }
}

/// The same of a gin: what pages and other programs draw from.
#[test]
fn json_of_a_gin_keeps_its_names() {
    let gin = json(&["gin", "examples/southeast-gin/gin.yaml", "--format", "json"]);
    let names = [
        ("", "gin harvest season_of bales bale motes_tons products processing papers assumed"),
        ("bale.", "parts seed_cotton_lb turnout_pct seed_to_lint"),
        ("bale.parts[].", "part lb low_lb high_lb origin"),
        (
            "products[].",
            "product feed form season_tons ask_usd_per_ton at_ask without_neighbors neighbors weeks demand sheets radius",
        ),
        ("products[].at_ask.", "usd_per_ton net_usd sales_usd wanted_tons sold_tons lost_tons elsewhere overflow_tons"),
        ("products[].neighbors[].", "name miles head freight_usd_per_ton most_tons tons loads usd months"),
        (
            "products[].weeks[].",
            "week_of bales produced_tons wanted_tons sold_tons elsewhere_tons overflow_tons lost_tons pile_tons",
        ),
        ("products[].demand[].", "usd_per_ton demand_tons sold_tons net_usd"),
        (
            "products[].radius[].",
            "form tons_per_load usd_per_ton_mile miles_at_ask_half miles_at_ask_last miles_at_fallback",
        ),
        ("processing[].", "way form usd_per_ton ask_usd_per_ton sold_tons net_usd more_usd"),
        ("papers[].", "product name lines missing sayings cautions"),
    ];
    for (start, list) in names {
        for name in list.split(' ') {
            assert!(!at(&gin, &format!("{start}{name}")).is_empty(), "gin has no {start}{name}");
        }
    }
}

/// Every herd file and gin file under `examples/`.
fn examples() -> Vec<PathBuf> {
    let mut list = Vec::new();
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    for folder in std::fs::read_dir(root.join("examples")).expect("examples") {
        for file in std::fs::read_dir(folder.expect("a folder").path()).expect("a folder") {
            let path = file.expect("a file").path();
            if path.extension().is_some_and(|ext| ext == "yaml") {
                list.push(path);
            }
        }
    }
    list.sort();
    list
}

/// Each is read without a warning and answered; only the one that says so is unfit.
#[test]
fn every_example_works() {
    for path in examples() {
        let name = path.to_str().expect("text");
        let text = std::fs::read_to_string(&path).expect("text");
        let command = if name.ends_with("gin.yaml") {
            "gin"
        } else if text.contains("\nfed:") {
            "check"
        } else {
            "plan"
        };
        let out = overwinter(&[command, name]);
        assert_eq!(String::from_utf8_lossy(&out.stderr), "", "{name}");
        let wanted = i32::from(name.ends_with("too-much-seed.yaml"));
        assert_eq!(out.status.code(), Some(wanted), "{name}: {}", String::from_utf8_lossy(&out.stdout));
    }
}

/// Other programs get an answer they can read also where there is no plan.
#[test]
fn no_plan_has_its_own_json_and_csv() {
    let command = ["plan", "examples/first-file/herd.yaml", "--set", "feeds.prairie_hay="];
    let json = overwinter(&[command.as_slice(), &["--format", "json"]].concat());
    assert_eq!(json.status.code(), Some(1));
    let value: Value = serde_json::from_slice(&json.stdout).expect("JSON");
    assert_eq!(value["status"], "short");
    let short = value["short"].as_array().expect("a list");
    assert!(!short.is_empty());
    for one in short {
        assert_eq!(one["group"], "cows");
        let asked = one["asked"].as_f64().expect("a figure");
        // A share of nothing is no figure.
        if let (Some(reached), Some(missed)) = (one["reached"].as_f64(), one["missed_by"].as_f64()) {
            assert!(missed > 0.0 && (reached - asked).abs() > 0.0, "{one}");
        } else {
            assert!(one["rule"] != "energy", "{one}");
        }
    }
    let csv = overwinter(&[command.as_slice(), &["--format", "csv"]].concat());
    assert_eq!(csv.status.code(), Some(1));
    let text = String::from_utf8(csv.stdout).expect("text");
    assert_eq!(text.lines().count(), short.len() + 1);
    assert!(text.lines().skip(1).all(|line| line.starts_with("short,cows,")), "{text}");
}

/// Flags of a printed table that say nothing of what is asked are refused, not passed over.
#[test]
fn idle_flags_of_needs_are_refused() {
    for args in [
        &["needs", "examples/first-file/herd.yaml", "--weight-lb", "1400"][..],
        &["needs", "examples/first-file/herd.yaml", "--yearling"],
        &["needs", "--table", "cow", "--gain-lb", "2"],
        &["needs", "--table", "bull", "--milk-lb", "20"],
        &["needs", "--table", "bred_heifer", "--weight-lb", "1200", "--mature-weight-lb", "1000"],
    ] {
        let out = overwinter(args);
        assert_eq!(out.status.code(), Some(2), "{args:?}");
        assert!(out.stdout.is_empty() && !out.stderr.is_empty(), "{args:?}");
    }
}

/// A printed table in kilograms has no pounds left in it.
#[test]
fn metric_tables_have_no_pounds() {
    for class in ["cow", "first_calf_cow", "bred_heifer", "stocker", "bull"] {
        let out = overwinter(&["needs", "--table", class, "--metric"]);
        let text = String::from_utf8(out.stdout).expect("text");
        let table = text.split("DM is the dry matter").next().expect("a table");
        assert!(!table.split_whitespace().any(|word| word.trim_end_matches(',') == "lb"), "{text}");
    }
}

/// By hand: 3 cows need less than half a ton of seed; a load of it costs $300 whatever it holds, not $12.50 a ton.
#[test]
fn a_part_load_says_what_it_costs_more() {
    let seed =
        "feeds.whole_cottonseed.freight={miles: 60, usd_per_loaded_mile: 4, tons_per_load: 24, minimum_usd: 300}";
    let args = ["plan", "examples/first-file/herd.yaml", "--set", "groups.cows.head=3", "--set", seed];
    let out = overwinter(&[args.as_slice(), &["--format", "json"]].concat());
    let value: Value = serde_json::from_slice(&out.stdout).expect("JSON");
    let hauls = value["hauling"].as_array().expect("a list");
    let seed = hauls.iter().filter(|haul| haul["feed"] == "whole_cottonseed");
    let (loads, tons) = seed.fold((0.0, 0.0), |(loads, tons), haul| {
        (loads + haul["loads"].as_f64().expect("loads"), tons + haul["tons"].as_f64().expect("tons"))
    });
    let more = value["part_loads_more_usd"].as_f64().expect("dollars");
    assert!(loads >= 1.0 && tons > 0.1);
    assert!((more - (300.0 * loads - 12.5 * tons)).abs() < 0.01, "{more} of {loads} loads, {tons} tons");
}

/// A mineral that is given at a fixed amount has no worth: nothing is said to be impossible without it.
#[test]
fn a_fixed_mineral_is_not_called_indispensable() {
    let out = overwinter(&["worth", "examples/first-file/herd.yaml", "salt"]);
    let text = String::from_utf8(out.stdout).expect("text");
    assert!(text.contains("fixed") && !text.contains("Nothing meets the needs without"), "{text}");
}
