//! Rules and cautions: needs, limits and hazards, each declared once and used for the programme, the check and the page.

pub mod barred;
pub mod block;
pub mod catalog;
pub mod caution;
pub mod change;
pub mod growth;
pub mod learning;
pub mod measure;
pub mod nitrate;
pub mod normal;
pub mod rule;
pub mod spread;

pub use block::{BaseRoughage, Block, Demands, Trouble};
pub use catalog::RULES;
pub use change::LimitChange;
pub use growth::Growth;
pub use measure::{Measure, Missing};
pub use rule::{Force, Instance, Rule, Sense};
pub use spread::{Piles, Spread};

/// A figure with the decimals a person wants, thousands set off by commas.
#[must_use]
pub fn figure_text(value: f64, digits: usize) -> String {
    let text = format!("{:.*}", digits, value.abs());
    let (whole, rest) = text.split_once('.').map_or((text.as_str(), String::new()), |(w, r)| (w, format!(".{r}")));
    let mut grouped = String::new();
    for (place, digit) in whole.chars().enumerate() {
        if place > 0 && (whole.len() - place) % 3 == 0 {
            grouped.push(',');
        }
        grouped.push(digit);
    }
    let zero = text.chars().all(|c| matches!(c, '0' | '.'));
    format!("{}{grouped}{rest}", if value < 0.0 && !zero { "−" } else { "" })
}

/// The rule with an id.
#[must_use]
pub fn rule(id: &str) -> Option<&'static Rule> {
    RULES.iter().find(|rule| rule.id == id)
}
