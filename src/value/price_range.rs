//! Between which prices of one feed the least-cost winter stays of one kind: the same feeds are fed and the same rules bind.
//!
//! The range ends where the cost of this kind of plan meets that of the next; it is a row of the feed's step table (see
//! [`super::worth`]), found from the price outward.

use super::worth::{self, HIGHEST_USD_PER_TON, Use};
use crate::lp;
use crate::winter::program::Program;
use crate::winter::{Case, Cells};
use rayon::iter::Either;
use rayon::prelude::*;

/// One end of a price range.
#[derive(Debug, Clone, PartialEq)]
pub struct PriceEnd {
    /// Delivered price, US dollars per short ton; `None`: no price up to the most a file may hold, or down to what the
    /// feed would sell for, changes the kind of plan.
    pub usd_per_ton: Option<f64>,
    /// Least cost of the winter there, US dollars.
    pub winter_usd: f64,
    /// What changes beyond: tons of each feed over the winter, the largest first.
    pub changes: Vec<Use>,
}

/// The prices of one feed between which the same feeds are fed and the same rules bind.
#[derive(Debug, Clone, PartialEq)]
pub struct PriceRange {
    /// Which offer.
    pub offer: usize,
    /// Delivered price now, US dollars per short ton.
    pub usd_per_ton: f64,
    /// Short tons bought over the winter.
    pub tons: f64,
    /// Lower end.
    pub down: PriceEnd,
    /// Upper end.
    pub up: PriceEnd,
    /// The price is itself such an end: two plans cost the same.
    pub tied: bool,
}

/// The least-cost winter at one price of a feed.
struct Piece {
    usd_per_ton: f64,
    tons: f64,
    winter_usd: f64,
    /// Which feeds are fed and which rules bind.
    kind: Vec<bool>,
    drawn_tons: Vec<f64>,
}

impl Piece {
    /// Cost at another price if the amounts stayed.
    fn at(&self, usd_per_ton: f64) -> f64 {
        self.winter_usd + self.tons * (usd_per_ton - self.usd_per_ton)
    }
}

/// Where the next kind is looked for first, as shares of the price.
const PROBES: [f64; 2] = [0.1, 0.4];

/// A feed whose price moves.
struct Moving<'a> {
    case: &'a Case,
    cells: &'a Cells<'a>,
    program: Program,
    /// The answer found last: the next is near it.
    last: lp::Certified,
    /// How far short of a curve of growth counts as held.
    curve: f64,
    /// Columns that buy it: their cost at no price, and the tons of one unit.
    bought: Vec<(lp::ColId, f64, f64)>,
}

impl Moving<'_> {
    fn solve(&mut self, usd_per_ton: f64) -> Result<Piece, lp::Failure> {
        for (col, fixed, tons) in &self.bought {
            self.program.lp.cols[col.0].cost = fixed + tons * usd_per_ton;
        }
        for _ in 0..MOST_SOLVES {
            let found = lp::solve_from(&self.program.lp, &self.last)?;
            self.last.clone_from(&found);
            if !worth::bend(&mut self.program, self.cells, &found.x, self.curve) {
                return Ok(Piece {
                    usd_per_ton,
                    tons: self.bought.iter().map(|(col, _, tons)| found.x[col.0] * tons).sum(),
                    winter_usd: found.objective,
                    kind: worth::kind_of(&self.program, &found.x),
                    drawn_tons: worth::drawn_tons(self.case, self.cells, &self.program, &found.x),
                });
            }
        }
        Err(lp::Failure::Solver("the split between maintenance and gain did not settle".to_owned()))
    }

    /// Where the kind of plan at `here` ends on the way to the price `far`: where its cost and that of the next kind
    /// meet and nothing between costs less.
    fn end(&mut self, here: &Piece, far: f64) -> Result<PriceEnd, lp::Failure> {
        let open = |winter_usd: f64| PriceEnd { usd_per_ton: None, winter_usd, changes: Vec::new() };
        if far > here.usd_per_ton && here.tons < 1e-9 {
            // Of what is not bought, less than nothing cannot be bought.
            return Ok(open(here.winter_usd));
        }
        // Most ends are near; from there fewer kinds lie between.
        let whole = far - here.usd_per_ton;
        let mut beyond = None;
        for usd in PROBES {
            let step = (usd * here.usd_per_ton.max(50.0)).copysign(whole);
            if beyond.is_none() && step.abs() < whole.abs() {
                let probe = self.solve(here.usd_per_ton + step)?;
                beyond = Some(probe).filter(|probe| probe.kind != here.kind);
            }
        }
        let mut beyond = match beyond {
            Some(beyond) => beyond,
            None => self.solve(far)?,
        };
        if beyond.kind == here.kind {
            return Ok(open(beyond.winter_usd));
        }
        let mut near = Piece { kind: here.kind.clone(), drawn_tons: here.drawn_tons.clone(), ..*here };
        for _ in 0..MOST_SOLVES {
            let (low, high) = (near.usd_per_ton.min(beyond.usd_per_ton), near.usd_per_ton.max(beyond.usd_per_ton));
            let slope = near.tons - beyond.tons;
            let middle = 0.5 * (low + high);
            let meet = if slope.abs() > 1e-9 * near.tons.abs().max(1.0) {
                near.usd_per_ton + (beyond.at(near.usd_per_ton) - near.winter_usd) / slope
            } else {
                middle
            };
            let meet = if meet.is_finite() { meet.clamp(low, high) } else { middle };
            let between = self.solve(meet)?;
            let line = near.at(meet).min(beyond.at(meet));
            let is_break = between.winter_usd >= line - 1e-9 * line.abs().max(1.0);
            if is_break || high - low < 1e-4 {
                let mut changes: Vec<Use> = (0..near.drawn_tons.len())
                    .map(|f| Use { offer: f, tons: beyond.drawn_tons[f] - near.drawn_tons[f] })
                    .filter(|change| change.tons.abs() > 0.005)
                    .collect();
                changes.sort_by(|a, b| b.tons.abs().total_cmp(&a.tons.abs()));
                return Ok(PriceEnd { usd_per_ton: Some(meet), winter_usd: between.winter_usd, changes });
            }
            if between.kind == near.kind {
                near = between;
            } else {
                beyond = between;
            }
        }
        Err(lp::Failure::Solver("the end of a price range did not settle".to_owned()))
    }
}

/// Most programmes solved for one end.
const MOST_SOLVES: usize = 200;

/// The ranges of the feeds asked for that can be bought, minerals aside; and the feeds for which none could be proved.
/// `curve` is how far short of a curve of growth counts as held: the looser, the sooner, and the coarser the ends of herds
/// that grow.
#[must_use]
pub fn price_ranges(
    case: &Case,
    cells: &Cells<'_>,
    asked: impl Fn(usize) -> bool + Sync,
    curve: f64,
) -> (Vec<PriceRange>, Vec<usize>) {
    let feeds: Vec<usize> =
        (0..case.offers.len()).filter(|f| !case.offers[*f].feed.class.is_mineral() && asked(*f)).collect();
    let Ok(start) = Start::of(case, cells, curve) else { return (Vec::new(), feeds) };
    feeds
        .into_par_iter()
        .filter_map(|f| match range_from(case, cells, f, &start) {
            Ok(range) => range.map(Either::Left),
            Err(_) => Some(Either::Right(f)),
        })
        .partition_map(|one| one)
}

/// The winter solved at its own prices.
struct Start {
    program: Program,
    found: lp::Certified,
    curve: f64,
}

impl Start {
    fn of(case: &Case, cells: &Cells<'_>, curve: f64) -> Result<Self, lp::Failure> {
        let mut program = Program::build(case, cells);
        let mut found = lp::solve(&program.lp)?;
        for _ in 0..MOST_SOLVES {
            if !worth::bend(&mut program, cells, &found.x, curve) {
                return Ok(Self { program, found, curve });
            }
            found = lp::solve_from(&program.lp, &found)?;
        }
        Err(lp::Failure::Solver("the split between maintenance and gain did not settle".to_owned()))
    }
}

/// The range of one feed's price. `None`: its price lies below what feed on hand would sell for.
///
/// # Errors
/// Whatever the engine says.
pub fn price_range(case: &Case, cells: &Cells<'_>, offer: usize) -> Result<Option<PriceRange>, lp::Failure> {
    range_from(case, cells, offer, &Start::of(case, cells, worth::CURVE)?)
}

fn range_from(case: &Case, cells: &Cells<'_>, offer: usize, start: &Start) -> Result<Option<PriceRange>, lp::Failure> {
    let Some(price) = case.offers[offer].delivered_usd_per_ton() else { return Ok(None) };
    let lowest = worth::lowest_price(&case.offers[offer]);
    if price < lowest {
        return Ok(None);
    }
    let program = start.program.clone();
    let bought = program.purchases(case, offer).into_iter();
    let bought = bought.map(|(col, tons)| (col, program.lp.cols[col.0].cost - tons * price, tons)).collect();
    let mut moving = Moving { case, cells, program, last: start.found.clone(), curve: start.curve, bought };
    let here = moving.solve(price)?;
    let down = moving.end(&here, lowest)?;
    let up = moving.end(&here, HIGHEST_USD_PER_TON)?;
    let near = |end: &PriceEnd| end.usd_per_ton.is_some_and(|at| (at - price).abs() < 1e-6 * price.max(1.0));
    let tied = near(&down) || near(&up);
    Ok(Some(PriceRange { offer, usd_per_ton: price, tons: here.tons, down, up, tied }))
}
