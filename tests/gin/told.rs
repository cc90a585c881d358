//! What is known to be bad has no price, and part of a load is no sale.

use super::{PLAINS, TRASH, read};
use overwinter::gin::answer::{Answer, answer};
use overwinter::gin::price::search;
use overwinter::gin::product::Kind;
use overwinter::gin::{Gin, pile};
use overwinter::report::gin::{build, sheet, text, units::Units};
use overwinter::report::html;

const FEW: &str = "gin: {name: Few, region: high_plains}\nseason: {year: 2026, bales: 3000, harvest: picker}\n\
                   neighbors: [{name: near, head: 300, miles: 10}]\n";

fn with(rest: &str) -> Gin {
    read("examples", &format!("{FEW}{rest}"))
}

fn pages(gin: &Gin, found: &[Answer]) -> (String, String, String, String) {
    let report = build::report(gin, found);
    let units = Units { metric: false };
    let flat = |text: String| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let json = serde_json::to_string(&report).unwrap();
    (flat(text::page(&report, units)), html::gin(&report, units), json, flat(sheet::slips(&report)))
}

/// Poison, wire, a bad lab result, and what is soaked: no ask, and the reason at the top of every page.
#[test]
fn what_is_known_to_be_bad_has_no_price() {
    let seed = "seed: {uses: {crush: 190}}\n";
    for (kind, rest) in [
        (Kind::Trash, format!("{seed}ticket: {{wrap_off: no}}\n")),
        (Kind::Trash, format!("{seed}trash: {{test: {{dm_pct: 60}}}}\n")),
        (Kind::Seed, format!("{seed}ticket: {{aflatoxin: {{ppb: 900}}}}\n")),
        (Kind::Seed, format!("{seed}ticket: {{no_treated_seed: no}}\n")),
        (Kind::Seed, "seed: {uses: {crush: 190}, test: {dm_pct: 78}}\n".to_owned()),
    ] {
        let gin = with(&rest);
        let found = answer(&gin, kind);
        assert!(found.buyers.is_empty() && found.answer.best.sold_tons() < 1e-9, "{rest}");
        let (page, html, json, slip) = pages(&gin, std::slice::from_ref(&found));
        for text in [&page, &html, &slip] {
            assert!(text.contains("DO NOT SELL"), "{rest}: {text}");
        }
        assert!(json.contains("do_not_sell") && !json.contains("ask_usd_per_ton"), "{json}");
        assert!(!page.contains("ASK") && page.contains("NO PRICE"), "{page}");
    }
    // The other byproduct keeps its price, and a good result stops nothing.
    let gin = with(&format!("{seed}ticket: {{wrap_off: yes, no_treated_seed: yes, aflatoxin: {{ppb: 20}}}}\n"));
    for kind in [Kind::Trash, Kind::Seed] {
        assert!(answer(&gin, kind).faults.is_empty());
    }
}

#[test]
fn what_is_damp_is_told_beside_its_price() {
    let gin = with("trash: {test: {dm_pct: 84}}\nseed: {uses: {crush: 190}}\n");
    let found = answer(&gin, Kind::Trash);
    let (page, _, json, slip) = pages(&gin, std::slice::from_ref(&found));
    assert!(page.contains("ASK $") && page.contains("CAUTION: 16.0 % moisture"), "{page}");
    assert!(slip.contains("CAUTION: 16.0 % moisture") && json.contains("\"warnings\""), "{slip}");
    let wet = read("examples", &FEW.replace("region:", "harvest_weather: wet, region:"));
    for kind in [Kind::Trash, Kind::Seed] {
        let found = answer(&Gin { neighbors: Vec::new(), ..wet.clone() }, kind);
        assert!(found.faults.iter().any(|one| !one.stops && one.text.contains("wet harvest")), "{:?}", found.faults);
    }
}

/// However much is told of what was sprayed, the page says what to do where nobody can tell.
#[test]
fn the_warning_of_residues_stays() {
    for sprayed in ["[]", "[{what: ethephon, told_by: growers of 62 of 70 fields}]"] {
        let gin = with(&format!("seed: {{uses: {{crush: 190}}}}\nticket: {{sprayed: {sprayed}}}\n"));
        let alone = Gin { neighbors: Vec::new(), ..gin };
        let (page, _, _, slip) = pages(&alone, &[answer(&alone, Kind::Trash)]);
        assert!(page.contains("If nobody can tell you what was sprayed, do not feed it"), "{page}");
        assert!(slip.contains("who was asked") || slip.contains("What other fields got is not known"), "{slip}");
    }
    let ground = with("trash: {form: ground}\nseed: {uses: {crush: 190}}\n");
    let alone = Gin { neighbors: Vec::new(), ..ground };
    assert!(pages(&alone, &[answer(&alone, Kind::Trash)]).0.contains("dusty"));
}

/// A trip costs the same whatever it carries: every buyer's tons are whole loads, no more than his winter would use, and
/// short of that by less than a load.
#[test]
fn buyers_take_whole_loads() {
    for cents in (-2000..15_000).step_by(37) {
        let usd = f64::from(cents) / 100.0;
        for buyer in &TRASH.buyers {
            let (tons, used) = (buyer.tons_at(usd), buyer.use_at(usd));
            let loads = tons / buyer.tons_per_load;
            assert!((loads - loads.round()).abs() < 1e-6, "{loads} loads");
            assert!(tons <= used + 1e-6 && used - tons < buyer.tons_per_load + 1e-6, "{tons} of {used}");
        }
    }
    let report = build::report(&PLAINS, std::slice::from_ref(&*TRASH));
    let left: f64 = report.products[0].neighbors.iter().map(|one| one.left_out_tons).sum();
    assert!(left > 0.5);
    let page = text::page(&report, Units { metric: false });
    assert!(page.contains("Left out:"), "{page}");
}

/// Forty head 120 miles off would use a few tons of seed; the trip costs $480. No price comes of it.
#[test]
fn no_ask_comes_of_part_of_a_load() {
    let text = "gin: {name: G, region: southeast}\nseason: {year: 2026, bales: 16875, harvest: picker}\n\
                seed: {uses: {crush: 175}}\nneighbors: [{name: N, head: 40, miles: 120}]\n";
    let gin = read("examples", text);
    let found = answer(&gin, Kind::Seed);
    assert!(found.buyers[0].use_at(180.0) > 0.5, "he has a use for it");
    assert!(found.answer.best.sold_tons() < 1e-9);
    let (page, _, json, _) = pages(&gin, &[found]);
    assert!(page.contains("no neighbor would use a load of 24 tons") && !json.contains("ask_usd_per_ton"), "{page}");
}

/// What is told of a few dollars either way are the books at those prices, and none of them nets more than the ask.
#[test]
fn a_few_dollars_either_way_are_told() {
    let season = super::season(&PLAINS, &TRASH);
    let ask = TRASH.answer.best.usd_per_ton;
    let apart: Vec<f64> = TRASH.around.iter().map(|point| point.usd_per_ton - ask).collect();
    assert_eq!(apart.iter().map(|usd| usd.round()).collect::<Vec<_>>(), [-5.0, -2.0, 0.0, 2.0, 5.0]);
    for point in &TRASH.around {
        let books = pile::keep(&season, &TRASH.buyers, point.usd_per_ton);
        assert!((books.net_usd() - point.net_usd).abs() < 1e-6 && point.net_usd <= TRASH.answer.best.net_usd() + 0.005);
    }
    let (page, ..) = pages(&PLAINS, std::slice::from_ref(&*TRASH));
    assert!(page.contains("the ask") && page.contains("may buy less"), "{page}");
}

/// Where the highest price looked at is what stops it, no lack of feed is made of it.
#[test]
fn a_low_ceiling_is_named_as_the_reason() {
    let text = FEW.to_owned() + "trash: {highest_usd_per_ton: 20}\nseed: {uses: {crush: 190}}\n";
    let gin = read("examples", &text);
    let found = answer(&gin, Kind::Trash);
    assert!(found.buyers[0].buys_at_any_price());
    assert!((search(&super::season(&gin, &found), &found.buyers).best.usd_per_ton - 20.0).abs() < 1e-9);
    let (page, ..) = pages(&gin, &[found]);
    assert!(page.contains("the highest price looked at") && !page.contains("because the file has nothing"), "{page}");
}

/// Five dollars a short ton are 5 / 0.907185 = 5.51 a metric ton, two are 2.20; the page says no other steps.
#[test]
fn a_few_dollars_either_way_are_told_in_the_units_of_the_page() {
    let report = build::report(&PLAINS, std::slice::from_ref(&*TRASH));
    let page = |metric: bool| text::page(&report, Units { metric });
    let (us, metric) = (page(false), page(true));
    for step in ["−$5 ", "−$2 ", "+$2 "] {
        assert!(us.contains(step) && !metric.contains(step), "{step}: {metric}");
    }
    for step in ["−$5.51 ", "−$2.20 ", "+$2.20 "] {
        assert!(metric.contains(step), "{step}: {metric}");
    }
    let caption = |metric: bool| html::gin(&report, Units { metric }).contains("a few dollars a metric ton less");
    assert!(caption(true) && !caption(false));
}

#[test]
fn neighbors_that_cannot_be_counted_are_not_said_to_be_missing() {
    let mut gin = with("seed: {uses: {crush: 190}}\n");
    let herd = gin.neighbors[0].trash.as_mut().unwrap();
    // Nothing but the trash to feed.
    herd.case.offers = vec![herd.case.offers[herd.offer].clone()];
    herd.offer = 0;
    let found = answer(&gin, Kind::Trash);
    assert!(found.buyers.is_empty() && found.unfit.len() == 1);
    let (page, ..) = pages(&gin, std::slice::from_ref(&found));
    assert!(page.contains("None of the neighbors given can be counted: near ("), "{page}");
    assert!(!page.contains("No neighbors are given"), "{page}");
}

/// Trash that lies ground is the trash of the row "grind" at no cost: one price for the same goods.
#[test]
fn ground_trash_is_worth_what_grinding_makes_it() {
    let base = "gin: {name: T, region: rolling_plains}\nseason: {year: 2026, bales: 12000, harvest: picker}\n\
                seed: {uses: {crush: 200}}\nneighbors: [{name: A, head: 300, miles: 12}]\n";
    let ground = read("examples", &format!("{base}trash: {{form: ground}}\n"));
    let loose = read("examples", &format!("{base}processing: {{grind: {{usd_per_ton: 0}}}}\n"));
    let (lies, made) = (answer(&ground, Kind::Trash), answer(&loose, Kind::Trash));
    let grind = made.outcomes.iter().find(|one| one.name == "grind").unwrap();
    let (ask, same) = (lies.answer.best.usd_per_ton, grind.books.usd_per_ton);
    assert!((ask - same).abs() < 0.01, "{ask} {same}");
    assert!(
        (lies.answer.best.net_usd() - grind.net_usd()).abs() < 1.0,
        "{} {}",
        lies.answer.best.net_usd(),
        grind.net_usd()
    );
    assert!((lies.outcomes[0].net_usd() - lies.answer.best.net_usd()).abs() < 1e-6);
    assert_eq!(ground.trash.feed.id, "gin_trash_ground");
    // What a bunk saves is in the worth.
    assert!(lies.buyers[0].worth_factor > 1.01, "{}", lies.buyers[0].worth_factor);
}

/// What trash is already is no other way of handling it, and lying loose costs nothing.
#[test]
fn no_form_is_offered_to_itself() {
    for (form, way) in [("ground", "grind"), ("module", "module"), ("baled", "bale"), ("loose", "")] {
        let gin = with(&format!("seed: {{uses: {{crush: 190}}}}\ntrash: {{form: {form}}}\n"));
        let found = answer(&gin, Kind::Trash);
        let names: Vec<&str> = found.outcomes.iter().map(|one| one.name).collect();
        assert!(!names.contains(&way) && names.contains(&"screen"), "{names:?}");
        assert_eq!(names.len(), if way.is_empty() { 5 } else { 4 }, "{names:?}");
        let report = build::report(&gin, &[found]);
        let radius = &report.products[0].radius;
        let cost = |form: &str| radius.iter().find(|row| row.form == form).unwrap().handling_usd_per_ton;
        assert!(cost("loose").abs() < 1e-9 && cost(form).abs() < 1e-9, "{form}");
    }
}

/// One bale of a picker brings 120 lb: 0.06 tons.
#[test]
fn a_little_is_not_told_as_nothing() {
    let text = FEW.replace("bales: 3000", "bales: 1");
    let gin = read("examples", &format!("{text}seed: {{uses: {{crush: 190}}}}\n"));
    let (page, ..) = pages(&gin, &[answer(&gin, Kind::Trash)]);
    assert!(page.contains("Trash: 0.06 tons this season") && page.contains("0.06 tons to near"), "{page}");
}

/// A neighbor of whose cattle none would be fed it is no reason to keep the season open.
#[test]
fn a_neighbor_who_uses_none_changes_no_pile() {
    let rest = "seed: {uses: {crush: 190}}\ntrash: {storage_tons: 50}\n";
    let none = format!("{FEW}{rest}").replace("neighbors: [{name: near, head: 300, miles: 10}]\n", "");
    let idle = format!("{FEW}{rest}").replace("miles: 10", "miles: 10, share_pct: 0");
    let over = |text: &str| answer(&read("examples", text), Kind::Trash).answer.best.overflow_tons();
    assert!(over(&none) > 10.0);
    assert!((over(&none) - over(&idle)).abs() < 1e-9, "{} {}", over(&none), over(&idle));
}
