//! From a gin and its answers to the plain data of a report.

use super::model::{
    Bale, DemandPoint, GinReport, Handling, MonthTons, NeighborReport, NotAsked, Outcome, OutletReport, Paper,
    PaperCaution, PaperLine, PartReport, ProductReport, RadiusRow, SheetReport, WeekReport, YardReport,
};
use crate::feed::Freight;
use crate::gin::answer::{Answer, IN_EARNEST};
use crate::gin::buyer::{Buyer, Prices, Unfit};
use crate::gin::pile::Books;
use crate::gin::product::{Form, Kind, Product};
use crate::gin::ticket::Fault;
use crate::gin::{Gin, Who, price, radius, reference, ticket, weeks};
use crate::herd::AnimalClass;
use indexmap::IndexMap;

/// What screening by thumb counts for a grown cow that is fed trash, lb a day. Judgement.
const THUMB_LB: f64 = 10.0;
/// And for how many days.
const THUMB_DAYS: f64 = 120.0;
/// Most points of a demand curve.
const MOST_POINTS: usize = 400;

/// The report of a gin from its answers, trash first.
#[must_use]
pub fn report(gin: &Gin, answers: &[Answer]) -> GinReport {
    let balance = &gin.balance;
    let parts = balance.parts().map(|part| PartReport {
        part: part.name,
        lb: part.lb,
        low_lb: part.low_lb,
        high_lb: part.high_lb,
        origin: part.cite.origin,
        source: part.cite.source,
        place: part.cite.place,
    });
    let yard = gin.yard.map(|yard| {
        let (low, bales, high) = yard.bales();
        YardReport {
            round_modules: yard.modules(),
            bales,
            bales_low: low,
            bales_high: high,
            seed_tons: weeks::tons(bales, balance.seed.lb),
            trash_tons: weeks::tons(bales, balance.trash.lb),
            waiting_weeks: yard.waiting_weeks,
            weeks_to_gin: yard.weeks_to_gin(),
        }
    });
    let trash = answers.iter().find(|one| one.kind == Kind::Trash);
    GinReport {
        gin: gin.name.clone(),
        harvest: gin.harvest.words(),
        season_of: gin.season_of.clone(),
        behind_weeks: gin.behind_weeks,
        wet_harvest: gin.wet,
        bales: gin.bales,
        bale: Bale {
            parts: parts.to_vec(),
            seed_cotton_lb: balance.seed_cotton_lb,
            seed_cotton_low_lb: balance.seed_cotton_low_lb,
            seed_cotton_high_lb: balance.seed_cotton_high_lb,
            turnout_pct: balance.turnout() * 100.0,
            seed_to_lint: balance.seed_to_lint(),
            rest: balance.rest,
        },
        motes_tons: weeks::tons(gin.bales, balance.motes.lb),
        yard,
        products: answers.iter().map(|answer| product(gin, answer)).collect(),
        processing: trash.map(|answer| handling(gin, answer)).unwrap_or_default(),
        usd_per_tdn_point: trash.and_then(|answer| answer.usd_per_tdn_point),
        papers: answers.iter().map(|answer| paper(gin, gin.product(answer.kind))).collect(),
        assumed: gin.assumed.clone(),
    }
}

fn outcome(product: &Product, books: &Books) -> Outcome {
    let elsewhere = product.outlets.iter().enumerate().map(|(index, outlet)| {
        let tons = books.outlet_tons(index);
        OutletReport {
            outlet: outlet.name.clone(),
            usd_per_ton: outlet.usd_per_ton,
            tons,
            usd: tons * outlet.usd_per_ton,
            given: outlet.given,
        }
    });
    Outcome {
        usd_per_ton: books.usd_per_ton,
        net_usd: books.net_usd(),
        sales_usd: books.sales_usd,
        loading_usd: books.handling_usd,
        keep_usd: books.keep_usd,
        wanted_tons: books.wanted_tons(),
        sold_tons: books.sold_tons(),
        lost_tons: books.lost_tons(),
        elsewhere: elsewhere.collect(),
        overflows_in_week_of: books.overflows().map(|week| week.from.to_string()),
        overflow_tons: books.overflow_tons(),
        largest_pile_tons: books.largest_pile().map_or(0.0, |pile| pile.1),
    }
}

/// The price, if anything is sold at it.
fn asked(books: &Books) -> Option<f64> {
    (books.sold_tons() > 1e-6).then_some(books.usd_per_ton)
}

fn product(gin: &Gin, answer: &Answer) -> ProductReport {
    let product = gin.product(answer.kind);
    let best = &answer.answer.best;
    let mut neighbors: Vec<NeighborReport> =
        answer.buyers.iter().enumerate().map(|(index, buyer)| neighbor(gin, answer, index, buyer)).collect();
    neighbors.sort_by(|a, b| a.miles.total_cmp(&b.miles));
    let half = half_delivered(&answer.buyers);
    let first = answer.buyers.iter().filter_map(|buyer| buyer.delivered_worth(0.0)).reduce(f64::max);
    ProductReport {
        product: answer.kind.key(),
        feed: product.feed.id.clone(),
        do_not_sell: said(&answer.faults, true),
        warnings: said(&answer.faults, false),
        form: product.form.key(),
        season_tons: answer.produced.iter().sum(),
        tons_per_load: product.tons_per_load_as(product.form),
        room_tons: answer.room_tons,
        loading_usd_per_ton: product.loading_usd_per_ton,
        ask_usd_per_ton: asked(best),
        at_ask: outcome(product, best),
        without_neighbors: outcome(product, &answer.answer.none),
        around_ask: answer.around.iter().map(point).collect(),
        at_asked_now: answer.now.as_ref().map(|books| outcome(product, books)),
        clears_usd_per_ton: answer.answer.clears_usd_per_ton,
        highest_looked_at_usd_per_ton: product.ceiling_usd_per_ton,
        neighbors,
        not_asked: answer.unfit.iter().map(|(who, why)| not_asked(gin, *who, why)).collect(),
        weeks: week_reports(answer),
        demand: demand(answer),
        sheets: sheets(gin, answer),
        radius: half.zip(first).map(|worth| radius_rows(gin, product, worth, best.usd_per_ton)).unwrap_or_default(),
        delivered_half_usd_per_ton: half,
        two_prices_usd_per_ton: product.two_prices_usd_per_ton,
        delivered_first_usd_per_ton: first,
    }
}

fn neighbor(gin: &Gin, answer: &Answer, index: usize, buyer: &Buyer) -> NeighborReport {
    let one = &gin.neighbors[buyer.neighbor];
    let best = &answer.answer.best;
    let product = gin.product(answer.kind);
    let stands_for = match &one.who {
        Who::HerdFile { .. } => None,
        Who::Screening { head, class, counted } => {
            let from = counted.map_or(String::new(), |(density, within)| {
                format!(" ({density} to the square mile within {within} miles)")
            });
            let thumb = if answer.kind == Kind::Trash && *class == AnimalClass::Cow {
                let tons = radius::screening_tons(*head, one.share, THUMB_LB, THUMB_DAYS);
                format!(". By thumb, {THUMB_LB:.0} lb a day for {THUMB_DAYS:.0} days: {tons:.0} tons")
            } else {
                String::new()
            };
            Some(format!(
                "{:.0} % of {head:.0} head{from}, like {}{thumb}",
                one.share * 100.0,
                reference::words(*class, gin.reference_hay_usd_per_ton)
            ))
        }
    };
    let at_gin = |delivered: Option<f64>| delivered.map(|usd| usd - buyer.freight_usd_per_ton);
    let mut months: IndexMap<String, f64> = IndexMap::new();
    for week in &best.weeks {
        let key = format!("{}-{:02}", week.from.year(), week.from.month());
        *months.entry(key).or_default() += week.sold_by.get(index).copied().unwrap_or(0.0);
    }
    let tons = if best.weeks.iter().any(|week| week.sold_by.len() > index) { best.sold_to(index) } else { 0.0 };
    NeighborReport {
        name: buyer.name.clone(),
        miles: buyer.miles,
        head: one.head(),
        stands_for,
        not_in_his_file: matches!(one.who, Who::HerdFile { .. })
            && one.herd(answer.kind).is_some_and(|herd| herd.added),
        freight_usd_per_ton: buyer.freight_usd_per_ton,
        worth_delivered_usd_per_ton: buyer.delivered_worth(0.0),
        worth_at_gin_usd_per_ton: at_gin(buyer.delivered_worth(0.0)),
        half_at_gin_usd_per_ton: at_gin(buyer.delivered_worth(IN_EARNEST)),
        buys_at_any_price: buyer.buys_at_any_price(),
        most_tons: buyer.tons_at(-buyer.freight_usd_per_ton),
        tons,
        left_out_tons: if asked(best).is_some() {
            buyer.use_at(best.usd_per_ton) - buyer.tons_at(best.usd_per_ton)
        } else {
            0.0
        },
        loads: tons / product.tons_per_load_as(product.form),
        usd: tons * best.usd_per_ton,
        months: months.into_iter().map(|(month, tons)| MonthTons { month, tons }).collect(),
    }
}

/// Delivered price at which all herds together still buy half of their most tons.
fn half_delivered(buyers: &[Buyer]) -> Option<f64> {
    let at = |delivered: f64| -> f64 {
        buyers.iter().map(|buyer| buyer.tons_at(delivered - buyer.freight_usd_per_ton)).sum()
    };
    let most = at(0.0);
    let mut breaks: Vec<f64> =
        buyers.iter().flat_map(|buyer| buyer.breaks().into_iter().map(|usd| usd + buyer.freight_usd_per_ton)).collect();
    breaks.sort_by(f64::total_cmp);
    breaks.into_iter().rev().find(|usd| most > 0.0 && at(*usd) >= IN_EARNEST * most)
}

fn not_asked(gin: &Gin, who: usize, why: &Unfit) -> NotAsked {
    let why = match why {
        Unfit::Short => {
            "no ration meets the needs of his cattle with the feeds of his file; `overwinter plan` says what is short"
                .to_owned()
        }
        Unfit::Input(list) => list.join("; "),
        Unfit::Unproven(why) => format!("the table of prices could not be proved: {why}"),
    };
    NotAsked { name: gin.neighbors[who].name.clone(), why }
}

fn week_reports(answer: &Answer) -> Vec<WeekReport> {
    answer
        .answer
        .best
        .weeks
        .iter()
        .zip(&answer.bales)
        .map(|(week, bales)| WeekReport {
            week_of: week.from.to_string(),
            bales: *bales,
            produced_tons: week.produced_tons,
            wanted_tons: week.wanted_tons,
            sold_tons: week.sold_tons(),
            elsewhere_tons: week.outlet_tons.iter().sum(),
            overflow_tons: week.overflow_tons,
            lost_tons: week.lost_tons,
            pile_tons: week.pile_tons,
        })
        .collect()
}

fn point(point: &price::Point) -> DemandPoint {
    DemandPoint {
        usd_per_ton: point.usd_per_ton,
        demand_tons: point.wanted_tons,
        sold_tons: point.sold_tons,
        net_usd: point.net_usd,
    }
}

fn demand(answer: &Answer) -> Vec<DemandPoint> {
    let points = answer.answer.points.iter().take(MOST_POINTS);
    points
        .map(|one| DemandPoint { demand_tons: price::demand_tons(&answer.buyers, one.usd_per_ton), ..point(one) })
        .collect()
}

fn sheets(gin: &Gin, answer: &Answer) -> Vec<SheetReport> {
    let words = |prices: Prices| match prices {
        Prices::AsWritten => "as in the herd files".to_owned(),
        Prices::Hay(factor) if factor < 1.0 => format!("hay {:.0} % cheaper", (1.0 - factor) * 100.0),
        Prices::Hay(factor) => format!("hay {:.0} % dearer", (factor - 1.0) * 100.0),
        Prices::Every(factor) => format!("drought: every other feed at {factor} times its price"),
    };
    let line = |prices: String, best: &Books, not_in_both: &[usize]| SheetReport {
        prices,
        ask_usd_per_ton: asked(best),
        sold_tons: best.sold_tons(),
        net_usd: best.net_usd(),
        not_in_both: not_in_both.iter().map(|who| gin.neighbors[*who].name.clone()).collect(),
    };
    if answer.buyers.is_empty() {
        return Vec::new();
    }
    let first = line(words(Prices::AsWritten), &answer.answer.best, &[]);
    std::iter::once(first)
        .chain(answer.sheets.iter().map(|sheet| line(words(sheet.prices), &sheet.answer.best, &sheet.not_in_both)))
        .collect()
}

fn radius_rows(gin: &Gin, product: &Product, (half, first): (f64, f64), ask: f64) -> Vec<RadiusRow> {
    let forms: Vec<Form> = match product.kind {
        Kind::Trash => Form::TRASH.to_vec(),
        Kind::Seed => vec![Form::Seed],
    };
    let least = product.fallback_usd_per_ton() + product.loading_usd_per_ton;
    forms
        .into_iter()
        .map(|form| {
            let truck: Freight = product.freight_as(form, 0.0);
            let way = form.made_by().filter(|_| form != product.form);
            let choice = gin.choices.iter().find(|choice| Some(choice.name) == way);
            let handling = choice.map_or(0.0, |choice| choice.usd_per_ton);
            RadiusRow {
                form: form.key(),
                tons_per_load: truck.tons_per_load,
                usd_per_ton_mile: truck.usd_per_loaded_mile / truck.tons_per_load,
                handling_usd_per_ton: handling,
                miles_at_ask_half: radius::miles(half, ask + handling, 0.0, &truck),
                miles_at_ask_first: radius::miles(first, ask + handling, 0.0, &truck),
                miles_at_fallback: radius::miles(half, least + handling, 0.0, &truck),
            }
        })
        .collect()
}

fn handling(gin: &Gin, answer: &Answer) -> Vec<Handling> {
    let base = answer.outcomes.first().map_or(0.0, crate::gin::process::Outcome::net_usd);
    answer
        .outcomes
        .iter()
        .map(|one| Handling {
            way: one.name,
            form: one.form.key(),
            usd_per_ton: one.usd_per_ton,
            origin: gin
                .choices
                .iter()
                .find(|choice| choice.name == one.name)
                .map_or(crate::source::Origin::Given, |choice| choice.cite.origin),
            tons_per_load: one.tons_per_load,
            room_tons: one.room_tons,
            ask_usd_per_ton: one.books.usd_per_ton,
            sold_tons: one.books.sold_tons(),
            net_usd: one.net_usd(),
            more_usd: one.net_usd() - base,
        })
        .collect()
}

/// What is wrong and stops its sale, or does not.
fn said(faults: &[Fault], stops: bool) -> Vec<String> {
    faults.iter().filter(|fault| fault.stops == stops).map(|fault| fault.text.clone()).collect()
}

/// A line of the slip; what is wrong with what is known stands behind it.
fn paper_line(line: &ticket::Line) -> PaperLine {
    let known = match (&line.known, &line.fault) {
        (Some(known), Some(fault)) => Some(format!("{known}. {}", fault.loud())),
        _ => line.known.clone(),
    };
    PaperLine { what: line.what, known, why: line.why }
}

fn paper(gin: &Gin, product: &Product) -> Paper {
    let faults = ticket::faults(&gin.ticket, product, gin.wet);
    let lines: Vec<PaperLine> = ticket::lines(&gin.ticket, product).iter().map(paper_line).collect();
    Paper {
        product: product.kind.key(),
        name: match product.kind {
            Kind::Trash => format!("Gin trash ({}), {}", gin.harvest.words(), product.form.key()),
            Kind::Seed => "Whole cottonseed, gin run".to_owned(),
        },
        missing: lines.iter().filter(|line| line.known.is_none()).map(|line| line.what).collect(),
        lines,
        do_not_sell: said(&faults, true),
        warnings: said(&faults, false),
        sayings: ticket::sayings(product),
        cautions: product
            .feed
            .cautions
            .iter()
            .map(|caution| PaperCaution {
                text: caution.text.clone(),
                figure: caution.figure.clone(),
                origin: caution.origin,
                source: caution.source.clone(),
            })
            .collect(),
    }
}
