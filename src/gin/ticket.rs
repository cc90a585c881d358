//! What a delivery slip and a buyer's sheet can say, and what is missing for them. No legal advice: laws on feed that is
//! sold differ from state to state, and the state feed control office knows them.

use super::product::{Kind, Product};
use crate::feed::Nutrient;
use jiff::civil::Date;

/// Aflatoxin above which no price is asked, ppb: the lowest federal action level for cattle feed, from memory.
pub const AFLATOXIN_PPB: f64 = 20.0;
/// Moisture from which trash molds, percent: 14 to 15, published for hay and from memory for trash.
pub const WET_TRASH_PCT: f64 = 15.0;
/// Moisture above which trash is not sold from a pile, percent: the limit for baling hay, from memory.
pub const SOAKED_TRASH_PCT: f64 = 20.0;
/// Moisture below which seed keeps, percent: published.
pub const WET_SEED_PCT: f64 = 10.0;
/// Moisture above which seed is not stored, percent: published.
pub const SOAKED_SEED_PCT: f64 = 14.0;

/// Something sprayed on the cotton, as growers told it.
#[derive(Debug, Clone, PartialEq)]
pub struct Sprayed {
    /// What.
    pub what: String,
    /// When, if told.
    pub on: Option<Date>,
    /// Who told it, if noted.
    pub told_by: Option<String>,
}

/// What the gin can say of its loads.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Ticket {
    /// What was sprayed; `None`: nobody asked.
    pub sprayed: Option<Vec<Sprayed>>,
    /// All wrap and ties taken off; `None`: not said.
    pub wrap_off: Option<bool>,
    /// Aflatoxin of the seed, ppb, with the date of the test.
    pub aflatoxin: Option<(f64, Option<Date>)>,
    /// No treated planting seed in it; `None`: not said.
    pub no_treated_seed: Option<bool>,
    /// Loads are weighed on a scale; `None`: not said.
    pub weighed: Option<bool>,
}

/// Something known to be wrong with a byproduct.
#[derive(Debug, Clone, PartialEq)]
pub struct Fault {
    /// It is not sold as feed as it is; otherwise it is told loudly beside the price.
    pub stops: bool,
    /// What, why, and what to do.
    pub text: String,
}

impl Fault {
    fn stop(text: impl Into<String>) -> Self {
        Self { stops: true, text: text.into() }
    }
    fn warn(text: impl Into<String>) -> Self {
        Self { stops: false, text: text.into() }
    }
    /// The words it begins with where it stands alone.
    #[must_use]
    pub fn loud(&self) -> String {
        format!("{}: {}", if self.stops { "DO NOT SELL" } else { "CAUTION" }, self.text)
    }
}

/// One line of the slip: what, and what is known of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// What.
    pub what: &'static str,
    /// What is known; `None`: missing.
    pub known: Option<String>,
    /// Why a buyer asks.
    pub why: &'static str,
    /// What is wrong with what is known.
    pub fault: Option<Fault>,
}

impl Line {
    fn new(what: &'static str, known: Option<String>, why: &'static str) -> Self {
        Self { what, known, why, fault: None }
    }
    fn with(self, fault: Option<Fault>) -> Self {
        Self { fault, ..self }
    }
}

/// What is wrong with a moisture, percent as fed.
fn wet(kind: Kind, pct: f64) -> Option<Fault> {
    match kind {
        Kind::Trash if pct > SOAKED_TRASH_PCT => Some(Fault::stop(format!(
            "{pct:.1} % moisture is far too wet to keep: it molds and heats, and above about 22 % hay takes fire (from \
             memory). Dry it under 15 % and test again; what has heated is no longer the same feed"
        ))),
        Kind::Trash if pct >= WET_TRASH_PCT => Some(Fault::warn(format!(
            "{pct:.1} % moisture is too wet to keep: above 14 to 15 % it molds and heats. Keep it under 15 %; what has \
             heated is no longer the same feed"
        ))),
        Kind::Seed if pct > SOAKED_SEED_PCT => Some(Fault::stop(format!(
            "{pct:.1} % moisture: no seed is stored above 14 %, piled wet it heats and can burn. Dry it below 10 % and \
             test again, mold and aflatoxin too"
        ))),
        Kind::Seed if pct >= WET_SEED_PCT => Some(Fault::warn(format!(
            "{pct:.1} % moisture is too wet to keep: stored seed below 10 %, with air through it; never above 14 %"
        ))),
        _ => None,
    }
}

/// Everything known to be wrong with a byproduct, what stops its sale first; after a wet harvest also that nobody measured
/// how wet it is.
#[must_use]
pub fn faults(ticket: &Ticket, product: &Product, wet_harvest: bool) -> Vec<Fault> {
    let lines = lines(ticket, product);
    let unmeasured = lines.iter().any(|line| line.what == MOISTURE && line.known.is_none());
    let mut list: Vec<Fault> = lines.into_iter().filter_map(|line| line.fault).collect();
    if wet_harvest && unmeasured {
        let most = if product.kind == Kind::Trash { "under 15 %" } else { "below 10 %" };
        list.push(Fault::warn(format!(
            "a wet harvest and no moisture test: measure it before it is piled or sold, and keep it {most}"
        )));
    }
    list.sort_by_key(|fault| !fault.stops);
    list
}

/// Whether anything known of it stops its sale as feed.
#[must_use]
pub fn is_stopped(ticket: &Ticket, product: &Product) -> bool {
    lines(ticket, product).iter().any(|line| line.fault.as_ref().is_some_and(|fault| fault.stops))
}

/// What of the tests a slip of each byproduct names.
fn asked_tests(kind: Kind) -> &'static [(Nutrient, &'static str, &'static str)] {
    match kind {
        Kind::Trash => &[
            (Nutrient::Cp, "crude protein", "4 to 12 % by source; no other feed varies so much"),
            (Nutrient::Ash, "ash", "above about 15 % of dry matter it is dirt, and energy falls with it"),
            (Nutrient::Tdn, "TDN", "38 to 47 % by source"),
        ],
        Kind::Seed => &[
            (Nutrient::Cp, "crude protein", "part of its price"),
            (Nutrient::Fat, "fat", "limits how much a cow may have"),
            (Nutrient::FreeGossypol, "free gossypol", "limits bulls, young and breeding stock"),
        ],
    }
}

fn dated(text: &str, on: Option<Date>) -> String {
    on.map_or_else(|| format!("{text}, date not given"), |day| format!("{text}, tested {day}"))
}

/// What the line of the moisture is called.
const MOISTURE: &str = "moisture";

/// The lines of the slip of a byproduct, missing ones too.
#[must_use]
pub fn lines(ticket: &Ticket, product: &Product) -> Vec<Line> {
    let mut list = Vec::new();
    let own = |nutrient: Nutrient| {
        let figure = product.feed.values.get(&nutrient)?;
        (figure.origin == crate::source::Origin::Given).then_some(figure.mean)
    };
    list.push(Line::new(
        "net weight",
        ticket.weighed.filter(|yes| *yes).map(|_| "by scale ticket, each load".to_owned()),
        "the price is by the ton",
    ));
    let moisture = own(Nutrient::Dm).map(|dm| 100.0 - dm);
    let known = moisture.map(|pct| dated(&format!("{pct:.1} %"), product.tested_on));
    let why = if product.kind == Kind::Trash {
        "above about 15 % it molds and heats"
    } else {
        "stored seed below 10 %; wet seed heats"
    };
    list.push(Line::new(MOISTURE, known, why).with(moisture.and_then(|pct| wet(product.kind, pct))));
    for (nutrient, what, why) in asked_tests(product.kind) {
        let known = own(*nutrient).map(|value| dated(&format!("{value} % of dry matter"), product.tested_on));
        list.push(Line::new(what, known, why));
    }
    list.push(Line::new(
        "sprayed on the cotton",
        ticket.sprayed.as_deref().map(sprayed_words),
        "some labels forbid feeding it or set a waiting time; the label decides",
    ));
    if product.kind == Kind::Trash {
        let known = ticket.wrap_off.map(|off| if off { "taken off" } else { "STILL IN IT" }.to_owned());
        let fault = ticket.wrap_off.filter(|off| !off).map(|_| {
            Fault::stop(
                "wrap, ties or wire are still in it: cattle eat them, and they stay in them. Take them out first",
            )
        });
        list.push(Line::new("wrap, ties and wire", known, "cattle eat it and it stays in them").with(fault));
    } else {
        let known = ticket.aflatoxin.map(|(ppb, on)| dated(&format!("{ppb} ppb"), on));
        let over = ticket.aflatoxin.filter(|(ppb, _)| *ppb > AFLATOXIN_PPB);
        let fault = over.map(|(ppb, _)| {
            Fault::stop(format!(
                "aflatoxin {ppb} ppb is above 20, the lowest limit for cattle feed (from memory). Ask the state feed \
                 control office before any of it is fed, sold or mixed"
            ))
        });
        let why = "buyers ask for a limit; the report of the lab goes with the load";
        list.push(Line::new("aflatoxin", known, why).with(fault));
        let known = ticket.no_treated_seed.map(|none| if none { "none in it" } else { "THERE IS SOME" }.to_owned());
        let fault = ticket.no_treated_seed.filter(|none| !none).map(|_| {
            Fault::stop("treated planting seed is in it: it is poison and never feed. A crusher must know of it before he takes any")
        });
        list.push(Line::new("treated planting seed", known, "it is poison and never feed").with(fault));
    }
    list
}

/// What was sprayed, as growers told it, and what that leaves open.
fn sprayed_words(all: &[Sprayed]) -> String {
    if all.is_empty() {
        return "nothing, it is said. Cotton is seldom grown so: write down who was asked, and of which fields"
            .to_owned();
    }
    let each = all.iter().map(|one| {
        let on = one.on.map_or(String::new(), |day| format!(" {day}"));
        let by =
            one.told_by.as_ref().map_or(", nobody named who told it".to_owned(), |who| format!(" (told by {who})"));
        format!("{}{on}{by}", one.what)
    });
    format!("{}. What other fields got is not known", each.collect::<Vec<_>>().join("; "))
}

/// What is told of ground trash: from memory.
pub const DUST: &str = "Ground trash is dusty, for cattle and people: grind it coarse and damp it with water or molasses when it is fed (from memory).";

/// What a buyer must be told of a byproduct whatever the tests say.
#[must_use]
pub fn sayings(product: &Product) -> Vec<&'static str> {
    let mut list = match product.kind {
        Kind::Trash => vec![
            "For beef cattle. Not for dairy animals, nor any animal whose milk people drink.",
            "Not for horses, hogs or poultry. Not for calves under four months. Sheep and goats: ask the veterinarian first.",
            "Ask every grower what was sprayed, and read each label: some forbid feeding the trash, some set a waiting time. If nobody can tell you what was sprayed, do not feed it.",
            "Look every load over for wrap, ties, wire and plastic, and take them out before feeding or grinding.",
            "It is roughage poor in protein and with next to no vitamin A: never feed it without protein, mineral and open water.",
            "Keep it dry, under 15 % moisture, away from buildings, engines and sparks. A pile that heats is no longer the same feed.",
            "Do not feed old, rotted or composted trash.",
        ],
        Kind::Seed => vec![
            "Cottonseed holds gossypol. Not for horses, hogs or poultry. Not for calves under four months.",
            "Bulls, young stock, sheep and goats: ask the veterinarian or nutritionist how much, if any.",
            "Too much fat scours cattle: grown cows get a few pounds a day, by hand, never a pile to eat at will.",
            "It bridges and caves in: never climb on it or undercut it. It burns: no sparks, no hot engines.",
            "Store it under roof below 10 % moisture, with air through it. Do not feed wet, hot or moldy seed.",
            "Sell it on a written aflatoxin report. The 300 ppb level names cottonseed meal; other feeds fall under 20 ppb (judgement): ask the state feed office which limit holds.",
        ],
    };
    if product.kind == Kind::Trash && product.form == super::product::Form::Ground {
        list.insert(4, DUST);
    }
    list.push("Feed that is sold may need a license, a tonnage report, and a label or slip with seller, net weight and guaranteed protein, fat and fiber; grinding or mixing may change that. Ask your state feed control office. This is no legal advice.");
    list.push("Law, label and feed tag come first, then your veterinarian and nutritionist; this sheet comes last.");
    list
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stops(kind: Kind, pct: f64) -> Option<bool> {
        wet(kind, pct).map(|fault| fault.stops)
    }

    /// Trash under 15 %, seed below 10 % and never above 14 %.
    #[test]
    fn wet_products_are_told_of_and_soaked_ones_stopped() {
        assert_eq!(
            [10.0, 14.9, 15.0, 20.0, 20.1, 40.0].map(|pct| stops(Kind::Trash, pct)),
            [None, None, Some(false), Some(false), Some(true), Some(true)]
        );
        assert_eq!(
            [8.0, 9.9, 10.0, 14.0, 14.1, 22.0].map(|pct| stops(Kind::Seed, pct)),
            [None, None, Some(false), Some(false), Some(true), Some(true)]
        );
    }

    #[test]
    fn what_growers_did_not_tell_stays_open() {
        assert!(sprayed_words(&[]).contains("who was asked"));
        let one =
            Sprayed { what: "ethephon".to_owned(), on: None, told_by: Some("growers of 62 of 70 fields".to_owned()) };
        assert!(sprayed_words(&[one]).contains("What other fields got is not known"));
    }
}
