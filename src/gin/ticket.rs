//! What a delivery slip and a buyer's sheet can say, and what is missing for them. No legal advice: laws on feed that is
//! sold differ from state to state, and the state feed control office knows them.

use super::product::{Kind, Product};
use crate::feed::Nutrient;
use jiff::civil::Date;

/// Aflatoxin above which a load is told loudly, ppb: the lowest federal action level for cattle feed, from memory.
pub const AFLATOXIN_PPB: f64 = 20.0;

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

/// One line of the slip: what, and what is known of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// What.
    pub what: &'static str,
    /// What is known; `None`: missing.
    pub known: Option<String>,
    /// Why a buyer asks.
    pub why: &'static str,
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

/// The lines of the slip of a byproduct, missing ones too.
#[must_use]
pub fn lines(ticket: &Ticket, product: &Product) -> Vec<Line> {
    let mut list = Vec::new();
    let own = |nutrient: Nutrient| {
        let figure = product.feed.values.get(&nutrient)?;
        (figure.origin == crate::source::Origin::Given).then_some(figure.mean)
    };
    list.push(Line {
        what: "net weight",
        known: ticket.weighed.filter(|yes| *yes).map(|_| "by scale ticket, each load".to_owned()),
        why: "the price is by the ton",
    });
    let moisture = own(Nutrient::Dm).map(|dm| dated(&format!("{:.1} %", 100.0 - dm), product.tested_on));
    let why = if product.kind == Kind::Trash {
        "above about 15 % it molds and heats"
    } else {
        "stored seed below 10 %; wet seed heats"
    };
    list.push(Line { what: "moisture", known: moisture, why });
    for (nutrient, what, why) in asked_tests(product.kind) {
        let known = own(*nutrient).map(|value| dated(&format!("{value} % of dry matter"), product.tested_on));
        list.push(Line { what, known, why });
    }
    let sprayed = ticket.sprayed.as_ref().map(|all| {
        if all.is_empty() {
            return "growers say nothing was sprayed".to_owned();
        }
        let each = all.iter().map(|one| {
            let on = one.on.map_or(String::new(), |day| format!(" {day}"));
            let by = one.told_by.as_ref().map_or(String::new(), |who| format!(" (told by {who})"));
            format!("{}{on}{by}", one.what)
        });
        each.collect::<Vec<_>>().join("; ")
    });
    list.push(Line {
        what: "sprayed on the cotton",
        known: sprayed,
        why: "some labels forbid feeding it or set a waiting time; the label decides",
    });
    if product.kind == Kind::Trash {
        let known = ticket.wrap_off.map(|off| if off { "taken off" } else { "STILL IN IT" }.to_owned());
        list.push(Line { what: "wrap, ties and wire", known, why: "cattle eat it and it stays in them" });
    } else {
        let known = ticket.aflatoxin.map(|(ppb, on)| {
            let over = if ppb > AFLATOXIN_PPB { ": ABOVE 20, ask the state feed office before it is fed" } else { "" };
            format!("{}{over}", dated(&format!("{ppb} ppb"), on))
        });
        list.push(Line {
            what: "aflatoxin",
            known,
            why: "buyers ask for a limit; the report of the lab goes with the load",
        });
        let known = ticket
            .no_treated_seed
            .map(|none| if none { "none in it" } else { "THERE IS SOME: DO NOT SELL" }.to_owned());
        list.push(Line { what: "treated planting seed", known, why: "it is poison and never feed" });
    }
    list
}

/// What a buyer must be told of a byproduct whatever the tests say.
#[must_use]
pub fn sayings(kind: Kind) -> Vec<&'static str> {
    let mut list = match kind {
        Kind::Trash => vec![
            "For beef cattle. Not for dairy animals, nor any animal whose milk people drink.",
            "Not for horses, hogs or poultry. Not for calves under four months. Sheep and goats: ask the veterinarian first.",
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
    list.push("Feed that is sold may need a license, a tonnage report, and a label or slip with seller, net weight and guaranteed protein, fat and fiber; grinding or mixing may change that. Ask your state feed control office. This is no legal advice.");
    list.push("Law, label and feed tag come first, then your veterinarian and nutritionist; this sheet comes last.");
    list
}
