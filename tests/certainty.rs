//! How sure: chance constraints against print, plans against simulation, and what must always hold.
#![allow(missing_docs, clippy::panic, clippy::unwrap_used, clippy::expect_used)]

use overwinter::feed::Nutrient;
use overwinter::limit::{Measure, Spread, normal};
use overwinter::lp::{ColId, Lp, solve};
use overwinter::value::{low, testing};
use overwinter::winter::plan::solve_growing;
use overwinter::winter::program::Program;
use overwinter::winter::{Case, Cells, Plan, assemble, plan};
use overwinter::{Stop, scenario};
use serde::Deserialize;

mod library;
use library::library;

fn case(path: &str, sets: &[&str]) -> Case {
    let text = std::fs::read_to_string(format!("{}/{path}", env!("CARGO_MANIFEST_DIR"))).unwrap();
    let sets: Vec<String> = sets.iter().map(|set| (*set).to_owned()).collect();
    scenario::read(&scenario::set::joined(&text, &sets), library()).unwrap_or_else(|list| panic!("{list:#?}")).value
}

const DRY_FORK: &str = "examples/dry-fork/herd.yaml";

#[derive(Deserialize)]
struct Level {
    z: f64,
    cost: f64,
    amounts: Vec<f64>,
    mean: f64,
    sd: f64,
}
#[derive(Deserialize)]
struct Margin {
    k: f64,
    cost: f64,
    reached_pct: f64,
}
#[derive(Deserialize)]
struct CattleFeed {
    feeds: Vec<String>,
    cost: Vec<f64>,
    fat_pct: Vec<f64>,
    fat_at_least_pct: f64,
    protein_pct: Vec<f64>,
    protein_variance: Vec<f64>,
    protein_at_least_pct: f64,
    levels: Vec<Level>,
    margins: Vec<Margin>,
}

impl CattleFeed {
    fn read() -> Self {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/published/chance_cattle_feed.yaml");
        serde_yaml::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
    }
    fn terms(values: &[f64]) -> Vec<(ColId, f64)> {
        values.iter().enumerate().map(|(j, value)| (ColId(j), *value)).collect()
    }
    /// The programme without protein.
    fn programme(&self) -> Lp {
        let mut lp = Lp::default();
        for (name, cost) in self.feeds.iter().zip(&self.cost) {
            lp.col(name, *cost, 0.0, f64::INFINITY);
        }
        lp.row("mix", 1.0, 1.0, Self::terms(&vec![1.0; self.feeds.len()]));
        lp.row("fat", self.fat_at_least_pct, f64::INFINITY, Self::terms(&self.fat_pct));
        lp
    }
    /// One independent cause a feed.
    fn spread(&self) -> Spread {
        let one = |(j, variance): (usize, &f64)| {
            let mut cause = vec![0.0; self.feeds.len()];
            cause[j] = variance.sqrt();
            cause
        };
        Spread::new(self.protein_variance.iter().enumerate().map(one).collect())
    }
    fn mean(&self, x: &[f64]) -> f64 {
        self.protein_pct.iter().zip(x).map(|(a, x)| a * x).sum()
    }
}

#[test]
fn van_de_panne_and_popp_by_cuts_at_every_level() {
    let data = CattleFeed::read();
    let spread = data.spread();
    for level in &data.levels {
        let mut lp = data.programme();
        lp.row("protein", data.protein_at_least_pct, f64::INFINITY, CattleFeed::terms(&data.protein_pct));
        let mut rounds = 0;
        let answer = loop {
            let answer = solve(&lp).unwrap();
            let short = data.protein_at_least_pct - data.mean(&answer.x) + level.z * spread.sd(&answer.x);
            if short <= 1e-10 * data.protein_at_least_pct {
                break answer;
            }
            let slope = spread.slope(&answer.x);
            let cut: Vec<f64> = data.protein_pct.iter().zip(&slope).map(|(a, s)| a - level.z * s).collect();
            lp.row("surely", data.protein_at_least_pct, f64::INFINITY, CattleFeed::terms(&cut));
            rounds += 1;
            assert!(rounds < 60, "z {} does not settle", level.z);
        };
        assert!((answer.objective - level.cost).abs() <= 5e-9 + 1e-12, "z {}: {}", level.z, answer.objective);
        for (x, printed) in answer.x.iter().zip(&level.amounts) {
            assert!((x - printed).abs() <= 5e-7, "z {}: {:?}", level.z, answer.x);
        }
        assert!((data.mean(&answer.x) - level.mean).abs() <= 5e-5, "z {}", level.z);
        assert!((spread.sd(&answer.x) - level.sd).abs() <= 5e-5, "z {}", level.z);
    }
}

#[test]
fn a_margin_on_each_feed_protects_more_than_it_says() {
    let data = CattleFeed::read();
    let spread = data.spread();
    for margin in &data.margins {
        let mut lp = data.programme();
        let low: Vec<f64> =
            data.protein_pct.iter().zip(&data.protein_variance).map(|(a, v)| a - margin.k * v.sqrt()).collect();
        lp.row("protein", data.protein_at_least_pct, f64::INFINITY, CattleFeed::terms(&low));
        let answer = solve(&lp).unwrap();
        assert!((answer.objective - margin.cost).abs() <= 5e-7, "{}", answer.objective);
        let reached =
            overwinter::limit::spread::chance(data.mean(&answer.x), spread.sd(&answer.x), data.protein_at_least_pct);
        assert!((100.0 * reached - margin.reached_pct).abs() <= 0.05, "{reached}");
        assert!(reached > normal::below(margin.k));
    }
}

/// Standard normal draws from a fixed seed: a linear congruential generator (Knuth's MMIX constants) and Box-Muller.
struct Draws(u64);

impl Draws {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
    }
    fn normal(&mut self) -> f64 {
        (-2.0 * self.uniform().ln()).sqrt() * (2.0 * std::f64::consts::PI * self.uniform()).cos()
    }
}

/// Shares of drawn winters in which each need of each block is met, `growth` for growing cattle. Every feed is drawn
/// anew from its figures: TDN, protein and minerals by themselves, in gin trash TDN and protein by one draw.
fn simulated(case: &Case, cells: &Cells<'_>, plan: &Plan, draws: u32, seed: u64) -> Vec<(usize, usize, String, f64)> {
    let mut dice = Draws(seed);
    let mut met: indexmap::IndexMap<(usize, usize, String), u32> = indexmap::IndexMap::new();
    for _ in 0..draws {
        let mut drawn = case.offers.clone();
        for offer in &mut drawn {
            let one = dice.normal();
            for nutrient in [Nutrient::Tdn, Nutrient::Cp, Nutrient::Ca, Nutrient::P] {
                let dirt = offer.feed.class == overwinter::feed::FeedClass::GinTrash
                    && matches!(nutrient, Nutrient::Tdn | Nutrient::Cp);
                let z = if dirt { one } else { dice.normal() };
                let sd = offer.feed.spread(nutrient).unwrap_or(0.0);
                if let Some(figure) = offer.feed.values.get_mut(&nutrient) {
                    figure.mean = (figure.mean + z * sd).max(0.0);
                }
            }
        }
        for (g, row) in cells.iter().enumerate() {
            for (t, cell) in row.iter().enumerate() {
                let kg_dm = &plan.rations[g][t].kg_dm;
                let sum = |measure: Measure| -> f64 {
                    let of = cell.block.coefficients(measure, &drawn).unwrap();
                    of.iter().zip(kg_dm).map(|(a, x)| a * x).sum()
                };
                for rule in &cell.demands.rules {
                    if rule.chance(kg_dm).is_none() {
                        continue;
                    }
                    let value = sum(rule.rule.over) * rule.rule.scale / rule.per_value(kg_dm);
                    let count = met.entry((g, t, rule.rule.id.to_owned())).or_insert(0);
                    *count += u32::from(value >= rule.limit);
                }
                if let Some(growth) = &cell.demands.growth {
                    let (nem, neg) = (sum(Measure::Nem), sum(Measure::Retained));
                    let kept = (1.0 - growth.maintenance_nem_mcal / nem) * neg;
                    *met.entry((g, t, "growth".to_owned())).or_insert(0) += u32::from(kept >= growth.gain_neg_mcal);
                }
            }
        }
    }
    met.into_iter().map(|((g, t, rule), count)| (g, t, rule, f64::from(count) / f64::from(draws))).collect()
}

#[test]
fn simulation_confirms_the_certainty_of_a_plan() {
    // Energy and protein of the whole winter, as the feeds are on the mean.
    let brought = |cells: &Cells<'_>, plan: &Plan, case: &Case, measure: Measure| -> f64 {
        let of = |(g, t): (usize, usize)| -> f64 {
            let per_kg = cells[g][t].block.coefficients(measure, &case.offers).unwrap();
            per_kg.iter().zip(&plan.rations[g][t].kg_dm).map(|(a, x)| a * x).sum()
        };
        (0..cells.len()).flat_map(|g| (0..cells[g].len()).map(move |t| (g, t))).map(of).sum()
    };
    let (on_averages, energy, protein) = {
        let case = case(DRY_FORK, &[]);
        let cells = assemble(&case).unwrap();
        let plan = plan(&case, &cells).unwrap();
        let of = |measure| brought(&cells, &plan, &case, measure);
        (plan.cost_usd, of(Measure::Nem), of(Measure::Cp))
    };
    let case = case(DRY_FORK, &["certainty_pct=90"]);
    let cells = assemble(&case).unwrap();
    let sure = plan(&case, &cells).unwrap();
    assert!(sure.cost_usd > on_averages * 1.05, "{} against {on_averages}", sure.cost_usd);
    let of = |measure| brought(&cells, &sure, &case, measure);
    assert!(of(Measure::Nem) > 1.03 * energy && of(Measure::Cp) > 1.03 * protein, "{energy} {protein}");
    let mut binding = 0;
    // 4,000 draws: one standard error at 90 % is 0.47 points.
    for (g, t, rule, share) in simulated(&case, &cells, &sure, 4000, 20_261_115) {
        assert!(share >= 0.885, "group {g} period {t}: {rule} is met in {share}");
        let kg_dm = &sure.rations[g][t].kg_dm;
        let demands = &cells[g][t].demands;
        let said = if rule == "growth" {
            demands.growth.as_ref().unwrap().chance(kg_dm)
        } else {
            demands.rules.iter().find(|one| one.rule.id == rule).unwrap().chance(kg_dm).unwrap()
        };
        assert!((said - share).abs() < 0.02, "group {g} period {t}: {rule} said {said}, drawn {share}");
        if (said - 0.9).abs() < 1e-6 {
            binding += 1;
            assert!((share - 0.9).abs() < 0.02, "group {g} period {t}: {rule} is met in {share}");
        }
    }
    assert!(binding >= 5, "only {binding} needs bind");
}

#[test]
fn on_the_averages_a_binding_need_is_met_in_half_the_winters() {
    let case = case(DRY_FORK, &["steady_pct=0"]);
    let cells = assemble(&case).unwrap();
    let plan = plan(&case, &cells).unwrap();
    let mut half = 0;
    for (g, t, rule, share) in simulated(&case, &cells, &plan, 2000, 7) {
        assert!(share > 0.46, "group {g} period {t}: {rule} is met in {share}");
        half += usize::from((share - 0.5).abs() < 0.04);
    }
    assert!(half >= 5, "{half}");
}

#[test]
fn certainty_costs_more_and_more() {
    let mut before = 0.0;
    for certainty in ["50", "60", "70", "80", "90"] {
        let case = case(DRY_FORK, &[&format!("certainty_pct={certainty}"), "steady_pct=0"]);
        let cost = plan(&case, &assemble(&case).unwrap()).unwrap().least_cost_usd;
        assert!(cost > before, "{certainty}: {cost} after {before}");
        before = cost;
    }
}

#[test]
fn a_test_shrinks_the_spread_and_the_cost_of_certainty() {
    let untested = ["certainty_pct=90", "steady_pct=0"];
    let tested = [&untested[..], &["feeds.gin_trash_stripper.test={tdn_pct_dm: 43, cp_pct_dm: 7.5}"]].concat();
    let exact =
        [&untested[..], &["feeds.gin_trash_stripper.test={tdn_pct_dm: 43, cp_pct_dm: 7.5, spread_left_pct: 0}"]]
            .concat();
    let cost = |sets: &[&str]| {
        let case = case(DRY_FORK, sets);
        plan(&case, &assemble(&case).unwrap()).unwrap().least_cost_usd
    };
    let (untested, tested, exact) = (cost(&untested), cost(&tested), cost(&exact));
    assert!(exact < tested && tested < untested, "{exact} {tested} {untested}");
}

#[test]
fn dirt_moves_energy_and_protein_of_gin_trash_together() {
    let case = case(DRY_FORK, &[]);
    let trash = case.offers.iter().find(|offer| offer.id == "gin_trash_stripper").unwrap();
    let joint = trash.feed.causes().into_iter().find(|cause| cause.len() > 1).unwrap();
    let moved: Vec<Nutrient> = joint.iter().map(|(nutrient, _)| *nutrient).collect();
    assert_eq!(moved, [Nutrient::Tdn, Nutrient::Cp, Nutrient::Ash]);
    assert!(joint[0].1 < 0.0 && joint[1].1 < 0.0 && joint[2].1 > 0.0);
    let seed = case.offers.iter().find(|offer| offer.id == "whole_cottonseed").unwrap();
    assert!(seed.feed.causes().iter().all(|cause| cause.len() == 1));
}

#[test]
fn practical_amounts_and_whole_loads_keep_the_certainty() {
    for sets in [
        // In half pounds no set of scoops keeps the heifers' March, and the page says so.
        &["certainty_pct=80", "scoop_lb=0.25"][..],
        &["certainty_pct=80", "feeds.whole_cottonseed.whole_loads=true"],
        &["certainty_pct=80", "feeds.gin_trash_stripper.fed=by_hand"],
    ] {
        let case = case(DRY_FORK, sets);
        let words = |stop: Stop| format!("{sets:?}: {stop:?}");
        // Both check every ration and its certainty before they report.
        let exact = overwinter::plan(&case).map_err(words).unwrap();
        let rounded = overwinter::plan_practical(&case).map_err(words).unwrap();
        assert!(rounded.not_rounded.is_none(), "{sets:?}: {:?}", rounded.not_rounded);
        assert!(exact.winter.cost_usd > 0.0);
        let sure = |report: &overwinter::report::model::Report| {
            let lines = report.groups.iter().flat_map(|group| &group.periods).flat_map(|period| &period.limits);
            lines.filter_map(|line| line.chance_pct).fold(100.0, f64::min)
        };
        assert!(sure(&exact) >= 80.0 - 1e-3 && sure(&rounded) >= 80.0 - 1e-3, "{} {}", sure(&exact), sure(&rounded));
    }
}

/// The mean over what a test may find, once by the few points of the program and once by a fine grid of tests written
/// into the herd file: outcomes a fifth of a deviation apart, each weighed by its share of the normal distribution.
#[test]
fn what_a_test_saves_agrees_with_a_fine_grid_of_tests_in_the_file() {
    let untested = case(DRY_FORK, &["certainty_pct=80"]);
    let found = testing::tests(&untested).unwrap();
    let trash = found.tests.iter().find(|one| untested.offers[one.offer].id == "gin_trash_stripper").unwrap();
    assert!(trash.no_plan_share < 1e-12);
    let feed = &untested.offers[trash.offer].feed;
    let of = |nutrient: Nutrient| (feed.get(nutrient).unwrap(), feed.spread(nutrient).unwrap());
    let ((tdn, tdn_sd), (cp, cp_sd)) = (of(Nutrient::Tdn), of(Nutrient::Cp));
    // What is left of the spread is 0.6 of it for TDN and 0.3 for protein, so what is found varies by 0.8 and 0.954.
    let (tdn_found, cp_found) = (tdn_sd * 0.8, cp_sd * 0.91_f64.sqrt());
    let (mut mean, mut weight) = (0.0, 0.0);
    for step in -15..=15 {
        let z = 0.2 * f64::from(step);
        let share = normal::below(z + 0.1) - normal::below(z - 0.1);
        let test = format!("test={{tdn_pct_dm: {}, cp_pct_dm: {}}}", tdn + z * tdn_found, cp + z * cp_found);
        let tested = case(DRY_FORK, &["certainty_pct=80", &format!("feeds.gin_trash_stripper.{test}"), "steady_pct=0"]);
        let cells = assemble(&tested).unwrap();
        let cost = solve_growing(&mut Program::build(&tested, &cells), &cells).unwrap().objective;
        mean += share * cost;
        weight += share;
    }
    assert!((weight - 1.0).abs() < 0.003);
    mean /= weight;
    let saves = found.without_usd - trash.with_usd;
    assert!(saves > 100.0, "{saves}");
    assert!((mean - trash.with_usd).abs() < 0.1 * saves, "{mean} {} saves {saves}", trash.with_usd);
}

#[test]
fn the_low_case_costs_what_a_poorer_feed_costs() {
    let base = case(DRY_FORK, &["steady_pct=0"]);
    let cells = assemble(&base).unwrap();
    let made = plan(&base, &cells).unwrap();
    let (covers, unproved) = low::covers(&base, &cells, &made);
    assert!(unproved.is_empty(), "{unproved:?}");
    let trash = covers.iter().find(|one| base.offers[one.offer].id == "gin_trash_stripper").unwrap();
    // The same trash written into the file one standard deviation low.
    let poor = case(DRY_FORK, &["steady_pct=0", "feeds.gin_trash_stripper.test={tdn_pct_dm: 38, cp_pct_dm: 5.5}"]);
    let cells = assemble(&poor).unwrap();
    let cost = plan(&poor, &cells).unwrap().least_cost_usd;
    let more = trash.more_usd.unwrap();
    assert!(more > 500.0 && (cost - made.least_cost_usd - more).abs() < 0.01, "{more} {}", cost - made.least_cost_usd);
    // Left as it is, the plan on the averages is then short.
    let kg_dm = &made.rations[0][1].kg_dm;
    let energy = cells[0][1].demands.rules.iter().find(|rule| rule.rule.id == "energy").unwrap();
    assert!(!energy.kept(energy.value(kg_dm)));
}

#[test]
fn lots_that_test_alike_are_one_pile() {
    let lots = |tests: &str| {
        case(
            DRY_FORK,
            &[
                "certainty_pct=80",
                "steady_pct=0",
                &format!(
                    "feeds.prairie_hay={{value_usd_per_ton: 60, lots: [{{name: a, on_hand_tons: 55{tests}}}, {{name: b, on_hand_tons: 55}}]}}"
                ),
            ],
        )
    };
    let one = case(
        DRY_FORK,
        &["certainty_pct=80", "steady_pct=0", "feeds.prairie_hay={value_usd_per_ton: 60, on_hand_tons: 110}"],
    );
    let cost = |case: &Case| plan(case, &assemble(case).unwrap()).unwrap().least_cost_usd;
    let (together, apart) = (cost(&one), cost(&lots("")));
    assert!((together - apart).abs() < 1e-6 * together, "{together} {apart}");
}

#[test]
fn more_certainty_than_there_is_says_how_much_there_is() {
    let case = case("examples/first-file/herd.yaml", &["certainty_pct=98"]);
    let short = match overwinter::plan(&case) {
        Err(Stop::Short(short)) => short,
        other => panic!("{other:?}"),
    };
    let most = short.reachable_pct.unwrap();
    let at = |pct: f64| {
        let mut other = case.clone();
        other.settings.certainty_pct = pct;
        overwinter::plan(&other).is_ok()
    };
    assert!(most > 50.0 && at(most) && !at(most + 1.0), "{most}");
    assert!(short.shortfalls.iter().all(|one| one.short > 0.0));
}

#[test]
fn what_a_test_leaves_is_read_and_judged() {
    let spread = |test: &str| {
        let case = case(DRY_FORK, &[&format!("feeds.whole_cottonseed.test={{{test}}}")]);
        let seed = case.offers.iter().find(|offer| offer.id == "whole_cottonseed").unwrap();
        (seed.feed.spread(Nutrient::Tdn).unwrap(), seed.feed.spread(Nutrient::Cp).unwrap())
    };
    let near = |a: (f64, f64), b: (f64, f64)| (a.0 - b.0).abs() < 1e-9 && (a.1 - b.1).abs() < 1e-9;
    // The table has 5 points of TDN and 2 of protein.
    assert!(near(spread("fat_pct_dm: 18"), (5.0, 2.0)));
    assert!(near(spread("tdn_pct_dm: 85, cp_pct_dm: 23"), (3.0, 0.6)));
    assert!(near(spread("tdn_pct_dm: 85, spread_left_pct: 20"), (1.0, 2.0)));
    let text = std::fs::read_to_string(format!("{}/{DRY_FORK}", env!("CARGO_MANIFEST_DIR"))).unwrap();
    let sets = ["feeds.whole_cottonseed.test={tdn_pct_dm: 85, spread_left_pct: 120}".to_owned()];
    let list = scenario::read(&scenario::set::joined(&text, &sets), library()).unwrap_err();
    assert!(list.iter().any(|one| one.message.contains("120 percent of the spread")), "{list:#?}");
}

#[test]
fn worth_keeps_the_certainty() {
    let mut case =
        case("examples/first-file/herd.yaml", &["certainty_pct=75", "feeds.range_cube_38={price_usd_per_ton: 425}"]);
    let index = case.offers.iter().position(|offer| offer.id == "range_cube_38").unwrap();
    overwinter::value::worth::make_buyable(&mut case.offers[index]);
    let table = overwinter::value::worth::table(&case, &assemble(&case).unwrap(), index).unwrap();
    for price in [200.0, 425.0, 600.0] {
        case.offers[index].price_usd_per_ton = Some(price);
        let cells = assemble(&case).unwrap();
        let fresh = solve_growing(&mut Program::build(&case, &cells), &cells).unwrap().objective;
        let said = table.cost_at(price).unwrap();
        assert!((said - fresh).abs() < 1e-3 * fresh, "{price}: {said} {fresh}");
    }
}
