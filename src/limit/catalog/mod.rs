//! Every rule, its figures by class, and where they come from.
//!
//! One file a subject; [`RULES`] holds them all in the order of the page.

mod hazards;
mod intake;
mod minerals;
mod needs;
mod practice;

pub use hazards::{GOSSYPOL_MEAL_PPM, GOSSYPOL_SEED_PPM};
pub use intake::forage_ndf_pct;
pub use needs::PROTEIN_FLOOR_PCT;

use super::measure::Measure;
use super::rule::{Figure, Force, Rule, Sense};
use crate::quantity::KG_PER_LB;
use crate::source::{Cite, Origin};

const LB: f64 = 1.0 / KG_PER_LB;
const PCT: f64 = 100.0;
const NRC1996: &str = "nrc1996";

/// By class: cow, first-calf cow, bred heifer, replacement heifer, stocker, young bull, bull.
type ByClass = [Option<f64>; 7];

const fn all(value: f64) -> ByClass {
    [Some(value); 7]
}
const fn by(values: [f64; 7]) -> ByClass {
    let mut out = [None; 7];
    let mut i = 0;
    while i < 7 {
        out[i] = Some(values[i]);
        i += 1;
    }
    out
}

const BASE: Rule = Rule {
    id: "",
    title: "",
    unit: "",
    digits: 2,
    over: Measure::Dm,
    per: Measure::Head,
    scale: 1.0,
    sense: Sense::AtMost,
    figure: Figure::ByClass([None; 7]),
    force_cow: Force::Keep,
    force_other: Force::Keep,
    cite: Cite::judgement(""),
    why: "",
    remedy: "",
};

const NEED: Rule = Rule { sense: Sense::AtLeast, force_cow: Force::Need, force_other: Force::Need, ..BASE };
const NEVER: Rule = Rule { force_cow: Force::Never, force_other: Force::Never, ..BASE };

/// Your own least amount of one feed.
pub static YOUR_MIN: Rule = Rule {
    id: "your-min",
    title: "your least amount",
    unit: "lb as fed",
    digits: 1,
    sense: Sense::AtLeast,
    cite: Cite::new("", "herd file", Origin::Given),
    why: "you asked for at least this much",
    remedy: "change `min_lb` of the feed",
    ..BASE
};
/// Your own largest amount of one feed.
pub static YOUR_MAX: Rule = Rule {
    id: "your-max",
    title: "your largest amount",
    unit: "lb as fed",
    digits: 1,
    cite: Cite::new("", "herd file", Origin::Given),
    why: "you asked for at most this much",
    remedy: "change `max_lb` of the feed",
    ..BASE
};
/// Your own largest share of a grazed feed.
pub static YOUR_SHARE: Rule = Rule {
    id: "your-share",
    title: "your largest share of what is eaten",
    unit: "% of DM",
    digits: 0,
    cite: Cite::new("", "herd file", Origin::Given),
    why: "there is no more of it within reach of a mouth",
    remedy: "change `max_share_of_intake_pct` of the feed",
    ..BASE
};
/// A feed that is never given to the class; `limit::barred` says which and why.
pub static BARRED: Rule = Rule {
    id: "barred",
    title: "a feed that is not for these cattle",
    unit: "lb as fed",
    digits: 1,
    cite: Cite::judgement("each feed's reason and source stand in `limit::barred`"),
    why: "some feeds are never for some cattle, in any amount; the page says why",
    remedy: "leave it out",
    ..NEVER
};
/// Your own fixed amount of one feed.
pub static YOUR_FIXED: Rule = Rule {
    id: "your-fixed",
    title: "your fixed amount",
    unit: "lb as fed",
    digits: 2,
    sense: Sense::Exactly,
    cite: Cite::new("", "herd file, or 3 oz of a mineral by default", Origin::Given),
    why: "you asked for exactly this much, or it is a mineral with no amount of its own",
    remedy: "change `fixed_lb` or `fixed_oz` of the feed",
    ..BASE
};

const PAGES: [&[Rule]; 5] = [&needs::RULES, &minerals::RULES, &intake::RULES, &hazards::RULES, &practice::RULES];

const COUNT: usize = {
    let mut count = 0;
    let mut page = 0;
    while page < PAGES.len() {
        count += PAGES[page].len();
        page += 1;
    }
    count
};

static ALL: [Rule; COUNT] = {
    let mut all = [BASE; COUNT];
    let mut at = 0;
    let mut page = 0;
    while page < PAGES.len() {
        let mut i = 0;
        while i < PAGES[page].len() {
            all[at] = PAGES[page][i];
            at += 1;
            i += 1;
        }
        page += 1;
    }
    all
};

/// Every rule, in the order of the page.
pub static RULES: &[Rule] = &ALL;
