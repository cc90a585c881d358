//! Laws that books and demand obey, over drawn cases.

use super::{PLAINS, TRASH};
use jiff::civil::{Date, date};
use overwinter::feed::offer::StorageLoss;
use overwinter::gin::buyer::Buyer;
use overwinter::gin::pile::{Books, Season, keep};
use overwinter::gin::price::{demand_tons, search};
use overwinter::gin::product::{Kind, Room};
use overwinter::gin::{Outlet, weeks};
use overwinter::lp;
use overwinter::lp::Lp;
use overwinter::value::worth::{Row, RowEnd, Table};
use proptest::prelude::*;

fn end(usd: f64, tons: f64) -> RowEnd {
    RowEnd {
        usd_per_ton: usd,
        tons,
        tons_by_period: vec![0.25 * tons, 0.5 * tons, 0.25 * tons],
        cost_usd: 0.0,
        lb_by_group: Vec::new(),
        drawn_tons: Vec::new(),
    }
}

/// A buyer with steps: widths of price, and the share of tons left after each.
fn stepped(miles: f64, most: f64, steps: &[(f64, f64)], slide: bool) -> Buyer {
    let mut rows = Vec::new();
    let (mut from, mut tons) = (0.0, most);
    for (width, left) in steps {
        let next = if slide { tons * left } else { tons };
        rows.push(Row { low: end(from, tons), high: end(from + width, next), changes: Vec::new() });
        from += width;
        tons *= left;
    }
    rows.push(Row { low: end(from, 0.0), high: end(2000.0, 0.0), changes: Vec::new() });
    let period = |from: Date, to: Date| overwinter::herd::Period { label: from.to_string(), from, to };
    Buyer {
        neighbor: 0,
        name: "one".to_owned(),
        miles,
        freight_usd_per_ton: miles / 3.0,
        tons_per_load: 12.0,
        scale: 1.0,
        waste: 0.1,
        table: Table { offer: 0, lowest_usd_per_ton: 0.0, rows },
        periods: vec![
            period(date(2026, 11, 1), date(2026, 12, 1)),
            period(date(2026, 12, 1), date(2027, 1, 20)),
            period(date(2027, 1, 20), date(2027, 3, 10)),
        ],
        window: (None, None),
        worth_factor: 1.0,
        worth_more_usd: 0.0,
    }
}

prop_compose! {
    fn a_buyer()(
        miles in 0.0..90.0f64,
        most in 1.0..900.0f64,
        steps in prop::collection::vec((3.0..60.0f64, 0.0..0.95f64), 1..5),
        slide in any::<bool>(),
    ) -> Buyer {
        stepped(miles, most, &steps, slide)
    }
}

/// A product with any room, loss and outlets; its fallback may pay or cost.
fn a_product() -> impl Strategy<Value = overwinter::gin::Product> {
    let outlets = (prop::option::of((-4.0..15.0f64, 1.0..80.0f64)), -12.0..25.0f64);
    let room = prop::option::of(0.0..3000.0f64);
    (outlets, room, 0.0..0.2f64, any::<bool>(), 0.0..6.0f64, 0.0..3.0f64).prop_map(
        |((capped, fallback), room, loss, flat, loading, keep)| {
            let mut product = PLAINS.trash.clone();
            product.outlets =
                vec![Outlet { name: "haul_off".to_owned(), usd_per_ton: fallback, tons_per_week: None, given: true }];
            if let Some((usd_per_ton, most)) = capped {
                let name = "compost".to_owned();
                product.outlets.push(Outlet { name, usd_per_ton, tons_per_week: Some(most), given: true });
            }
            product.outlets.sort_by(|a, b| b.usd_per_ton.total_cmp(&a.usd_per_ton));
            product.room = room.map_or(Room::Any, Room::Tons);
            product.loss = if flat { StorageLoss::Flat(loss) } else { StorageLoss::PerMonth(loss) };
            product.loading_usd_per_ton = loading;
            product.keep_usd_per_ton_month = keep;
            product
        },
    )
}

fn whole_season() -> (Vec<Date>, Vec<f64>) {
    let ginned = &PLAINS.ginned;
    let (from, to) = (ginned.points[0].0, ginned.points.last().unwrap().0);
    let list = weeks::weeks(from, to.max(date(2027, 3, 10)));
    let tons =
        list.iter().map(|start| weeks::tons(ginned.by(weeks::later(*start, 7)) - ginned.by(*start), 375.0)).collect();
    (list, tons)
}

fn adds_up(books: &Books, produced: &[f64]) {
    let came: f64 = produced.iter().sum();
    let pile = books.weeks.last().unwrap().pile_tons;
    let gone = books.sold_tons() + books.elsewhere_tons() + books.lost_tons() + pile;
    assert!((came - gone).abs() < 1e-6 * came, "{came} came, {gone} gone");
    for week in &books.weeks {
        assert!(week.sold_tons() <= week.wanted_tons + 1e-9);
        let all = [week.sold_tons(), week.pile_tons, week.lost_tons, week.overflow_tons];
        assert!(all.into_iter().chain(week.outlet_tons.iter().copied()).all(|tons| tons >= -1e-9), "{week:?}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, ..ProptestConfig::default() })]

    /// Nobody buys more when it costs more.
    #[test]
    fn demand_never_rises_with_the_price(buyers in prop::collection::vec(a_buyer(), 1..5), low in -40.0..150.0f64, more in 0.0..150.0f64) {
        let (cheap, dear) = (demand_tons(&buyers, low), demand_tons(&buyers, low + more));
        prop_assert!(dear <= cheap + 1e-9, "{cheap} at {low}, {dear} at {}", low + more);
    }

    /// What comes is sold, sent elsewhere or lost; room is never overrun; what each week wants is never exceeded.
    #[test]
    fn the_books_add_up(buyers in prop::collection::vec(a_buyer(), 0..4), product in a_product(), price in -20.0..140.0f64) {
        let (list, produced) = whole_season();
        prop_assert!((produced.iter().sum::<f64>() - weeks::tons(PLAINS.bales, 375.0)).abs() < 1e-6);
        let room_tons = product.room_tons_as(product.form);
        let season = Season { product: &product, weeks: &list, produced: &produced, room_tons, handling_usd_per_ton: 0.0 };
        let books = keep(&season, &buyers, price);
        adds_up(&books, &produced);
        if let Some(room) = room_tons {
            prop_assert!(books.weeks.iter().all(|week| week.pile_tons <= room + 1e-6));
        }
    }

    /// No price of a grid of half dollars nets more than the one chosen.
    #[test]
    fn the_price_chosen_nets_most(buyers in prop::collection::vec(a_buyer(), 1..4), product in a_product()) {
        let (list, produced) = whole_season();
        let room_tons = product.room_tons_as(product.form);
        let season = Season { product: &product, weeks: &list, produced: &produced, room_tons, handling_usd_per_ton: 0.0 };
        let best = search(&season, &buyers).best;
        let sliding = buyers.iter().any(|buyer| buyer.table.rows.iter().any(Row::slides));
        // A row that slides is looked at in tenths, so the top of a smooth hill is missed by little.
        let slack = if sliding { 0.02 * best.net_usd().abs().max(best.sales_usd.abs()) } else { 0.0 } + 0.01 * best.sold_tons() + 1.0;
        for half in -60..300 {
            let price = 0.5 * f64::from(half);
            let net = keep(&season, &buyers, price).net_usd();
            prop_assert!(net <= best.net_usd() + slack, "${price} nets {net}, ${} nets {}", best.usd_per_ton, best.net_usd());
        }
    }

    /// No way of keeping the books nets more than a linear programme says; at prices that cover loading the rules of the
    /// week come close to it.
    #[test]
    fn the_books_are_near_the_best_there_are(buyers in prop::collection::vec(a_buyer(), 0..4), product in a_product(), price in 6.0..140.0f64) {
        let mut product = product;
        // A programme that may put by and take up at once makes away with what costs money to be rid of; such seasons are
        // held against it with a loss that comes with time.
        if let (StorageLoss::Flat(share), true) = (product.loss, product.fallback_usd_per_ton() < 0.0) {
            product.loss = StorageLoss::PerMonth(share);
        }
        let (list, produced) = whole_season();
        let room_tons = product.room_tons_as(product.form);
        let season = Season { product: &product, weeks: &list, produced: &produced, room_tons, handling_usd_per_ton: 0.0 };
        let books = keep(&season, &buyers, price);
        let most = most_any_books_net(&season, &buyers, price);
        let turned_over = books.sales_usd.abs() + books.outlet_usd.abs();
        prop_assert!(books.net_usd() <= most + 1e-6 * (1.0 + turned_over), "{} above {most}", books.net_usd());
        prop_assert!(books.net_usd() >= most - NEAR * turned_over - 1.0, "{} far below {most}", books.net_usd());
    }

    /// With no neighbors the season nets what the outlets give: all at the fallback where it is the best and pays.
    #[test]
    fn without_neighbors_the_best_outlet_is_all(product in a_product()) {
        let (list, produced) = whole_season();
        let season = Season { product: &product, weeks: &list, produced: &produced, room_tons: None, handling_usd_per_ton: 0.0 };
        let found = search(&season, &[]);
        prop_assert!((found.best.net_usd() - found.none.net_usd()).abs() < 1e-6);
        let best = product.outlets[0].clone();
        if best.tons_per_week.is_none() && best.usd_per_ton > 0.0 {
            let all = best.usd_per_ton * produced.iter().sum::<f64>();
            prop_assert!((found.best.net_usd() - all).abs() < 1e-6 * all, "{} against {all}", found.best.net_usd());
        }
    }
}

/// How near the rules of the week come to the best there is, as a share of the money turned over, at prices that cover
/// loading: of 110,000 drawn cases, those of a flat loss among them, the farthest was 4.2 % off, and fourteen were
/// more than 1 %. Below such prices what is kept for an outlet that pays may be sold at a loss.
const NEAR: f64 = 0.05;

/// The most any way of keeping the books could net at a price, by linear programming: sales up to what is wanted, a pile
/// that shrinks week by week or loses a share of what is put on it, room, outlets, nothing left at the end.
fn most_any_books_net(season: &Season<'_>, buyers: &[Buyer], price: f64) -> f64 {
    let product = season.product;
    let mut lp = Lp::default();
    let free = f64::INFINITY;
    let carried = product.loss.carried(7.0);
    let flat = if let StorageLoss::Flat(share) = product.loss { share } else { 0.0 };
    let wants: Vec<Vec<f64>> = buyers.iter().map(|buyer| buyer.tons_by_week(season.weeks, price)).collect();
    let mut before = None;
    for (week, produced) in season.produced.iter().enumerate() {
        let last = week + 1 == season.produced.len();
        let wanted: f64 = wants.iter().map(|by| by[week]).sum();
        let room = if last { 0.0 } else { season.room_tons.unwrap_or(free) };
        let keep = product.keep_usd_per_ton_month * 7.0 / 30.4;
        let sold = lp.col(format!("sold {week}"), product.loading_usd_per_ton - price, 0.0, wanted);
        let pile = lp.col(format!("pile {week}"), keep, 0.0, room);
        let put = lp.col(format!("put by {week}"), 0.0, 0.0, free);
        let taken = lp.col(format!("taken {week}"), 0.0, 0.0, free);
        let mut terms = vec![(sold, 1.0), (put, 1.0), (taken, -1.0)];
        for outlet in &product.outlets {
            let most = outlet.tons_per_week.unwrap_or(free);
            terms.push((lp.col(format!("{} {week}", outlet.name), -outlet.usd_per_ton, 0.0, most), 1.0));
        }
        lp.row(format!("week {week}"), *produced, *produced, terms);
        let mut stands = vec![(pile, 1.0), (put, flat - 1.0), (taken, 1.0)];
        stands.extend(before.map(|before| (before, -carried)));
        lp.row(format!("pile {week}"), 0.0, 0.0, stands);
        before = Some(pile);
    }
    -lp::solve(&lp).unwrap().objective
}

/// By hand. Seed loses a fifth of what is put by. Four weeks bring 640 t, four 19.2, eight none; 12 t are wanted in each of
/// the sixteen, 192. The last eight want 96, of which the four lean weeks put by 0.8 · 7.2 = 5.76 each, 23.04: so 72.96
/// must stand there before them, and 91.2 are put by for that. Put by: 91.2 + 28.8 = 120, lost 24, crushed the rest.
#[test]
fn what_later_weeks_put_by_loses_its_share_too() {
    let list = weeks::weeks(date(2026, 10, 26), date(2027, 2, 15));
    let produced: Vec<f64> = [[640.0; 4], [19.2; 4], [0.0; 4], [0.0; 4]].concat();
    assert_eq!(list.len(), 16);
    let mut product = PLAINS.seed.clone();
    product.outlets = vec![Outlet { name: "crush".to_owned(), usd_per_ton: 150.0, tons_per_week: None, given: true }];
    (product.room, product.loss) = (Room::Any, StorageLoss::Flat(0.2));
    (product.loading_usd_per_ton, product.keep_usd_per_ton_month) = (3.0, 0.0);
    let mut buyer = stepped(0.0, 192.0, &[(300.0, 0.0)], false);
    let whole = |usd: f64, tons: f64| RowEnd { tons_by_period: vec![tons], ..end(usd, tons) };
    buyer.table.rows = vec![Row { low: whole(0.0, 192.0), high: whole(300.0, 192.0), changes: Vec::new() }];
    let (from, to) = (date(2026, 10, 26), date(2027, 2, 15));
    buyer.periods = vec![overwinter::herd::Period { label: "all".to_owned(), from, to }];
    let season =
        Season { product: &product, weeks: &list, produced: &produced, room_tons: None, handling_usd_per_ton: 0.0 };
    let books = keep(&season, std::slice::from_ref(&buyer), 200.0);
    adds_up(&books, &produced);
    let crushed = 2560.0 + 76.8 - 192.0 - 24.0;
    assert!((books.sold_tons() - 192.0).abs() < 1e-9, "{}", books.sold_tons());
    assert!((books.lost_tons() - 24.0).abs() < 1e-9, "{}", books.lost_tons());
    assert!((books.outlet_tons(0) - crushed).abs() < 1e-9, "{}", books.outlet_tons(0));
    assert!((books.net_usd() - (192.0 * 197.0 + crushed * 150.0)).abs() < 1e-6, "{}", books.net_usd());
    assert!((books.net_usd() - most_any_books_net(&season, &[buyer], 200.0)).abs() < 1e-3);
}

/// By hand: a pile of 100 t that halves in 30.4 days at no cost is left alone for the nine weeks it may lie, and what is left
/// goes to compost at $2. Sending 50 t of it each week from the first on would cost $185.
#[test]
fn a_costly_outlet_waits_where_the_pile_shrinks() {
    let list = weeks::weeks(date(2026, 10, 26), date(2027, 1, 4));
    assert_eq!(list.len(), 10);
    let produced: Vec<f64> = [vec![100.0], vec![0.0; 9]].concat();
    let mut product = PLAINS.trash.clone();
    let outlet = |name: &str, usd_per_ton: f64, tons_per_week: Option<f64>| Outlet {
        name: name.to_owned(),
        usd_per_ton,
        tons_per_week,
        given: true,
    };
    product.outlets = vec![outlet("compost", -2.0, Some(50.0)), outlet("haul_off", -2.1, None)];
    (product.room, product.loss, product.keep_usd_per_ton_month) = (Room::Any, StorageLoss::PerMonth(0.5), 0.0);
    let season =
        Season { product: &product, weeks: &list, produced: &produced, room_tons: None, handling_usd_per_ton: 0.0 };
    let books = keep(&season, &[], 50.0);
    let left = 100.0 * 0.5_f64.powf(63.0 / 30.4);
    assert!((books.outlet_tons(0) - left).abs() < 1e-6, "{} {left}", books.outlet_tons(0));
    assert!((books.net_usd() + 2.0 * left).abs() < 1e-6, "{}", books.net_usd());
}

/// The tables of real herds obey the law, too, and the weeks hold what the winters want.
#[test]
fn demand_of_the_example_never_rises_and_fits_its_weeks() {
    let mut before = f64::INFINITY;
    for dollar in -30..160 {
        let usd = f64::from(dollar);
        let tons = demand_tons(&TRASH.buyers, usd);
        assert!(tons <= before + 1e-6, "{tons} tons at {usd}, {before} below");
        before = tons;
        for buyer in &TRASH.buyers {
            let weeks: f64 = buyer.tons_by_week(&TRASH.weeks, usd).iter().sum();
            assert!((weeks - buyer.tons_at(usd)).abs() <= 1e-6 * (1.0 + weeks), "{} at {usd}", buyer.name);
        }
    }
    adds_up(&TRASH.answer.best, &TRASH.produced);
    assert!((TRASH.produced.iter().sum::<f64>() - PLAINS.season_tons(Kind::Trash)).abs() < 1e-6);
}
