//! The pages of `docs/` that are made from the program: limits, equations, feeds, sources, commands.

use super::shown;
use clap::CommandFactory as _;
use overwinter::feed::{Bibliography, Feed, FeedClass, FeedTable, Nutrient};
use overwinter::herd::AnimalClass;
use overwinter::limit::caution::CAUTIONS;
use overwinter::limit::rule::{Figure, Force};
use overwinter::limit::{RULES, Rule, Sense, figure_text};
use overwinter::need::registry::{EQUATIONS, NOT_PRINTED};
use overwinter::quantity::KG_PER_LB;
use overwinter::report::explain::measured;
use overwinter::source::Cite;
use std::fmt::Write as _;

/// Name and text of each page.
pub(crate) fn all() -> Vec<(&'static str, String)> {
    vec![
        ("limits.md", limits()),
        ("equations.md", equations()),
        ("feeds.md", feeds()),
        ("sources.md", sources()),
        ("commands.md", commands()),
        ("cautions.md", cautions()),
    ]
}

/// Said at the top of each.
fn made(from: &str) -> String {
    format!("<!-- Made from {from}; `UPDATE=1 cargo test --test docs` writes it anew. -->\n\n")
}

fn link(key: &str) -> String {
    format!("[{key}](sources.md#{key})")
}

/// A citation with its source linked.
fn cited(cite: &Cite) -> String {
    let origin = cite.origin.words();
    match (cite.source.is_empty(), cite.place.is_empty()) {
        (true, _) => format!("{} ({origin})", cite.place),
        (false, true) => format!("{} ({origin})", link(cite.source)),
        (false, false) => format!("{}: {} ({origin})", link(cite.source), cite.place),
    }
}

fn side(rule: &Rule) -> &'static str {
    match rule.sense {
        Sense::AtLeast => "at least",
        Sense::AtMost => "at most",
        Sense::Exactly => "just",
    }
}

fn force_words(rule: &Rule) -> String {
    let (cow, other) = (rule.force(AnimalClass::Cow).word(), rule.force(AnimalClass::Stocker).word());
    if cow == other { cow.to_owned() } else { format!("{cow} for cows, {other} for all others") }
}

fn limits() -> String {
    let mut page = made("`limit::RULES` and `limit::caution::CAUTIONS`");
    page.push_str(
        "# Needs, limits and cautions\n\n\
         Each is declared once, in `src/limit/catalog/`; from that one declaration come the row of the programme, the\n\
         check of a finished ration, the line of the report, `overwinter explain NAME`, and this page.\n\n\
         | force | a plan | a ration that is checked |\n|---|---|---|\n\
         | need | meets it | may fall short, and is told by how much and what that does |\n\
         | never | does not break it, whatever the file says | that breaks it is unfit: exit code 1 |\n\
         | keep | stays inside, unless the file lifts it under `limits:` with `because:` | outside it is warned about |\n\n\
         A limit may always be made stricter. Local law, the feed tag, the label of what was sprayed, the veterinarian and\n\
         the nutritionist come before anything here.\n\n\
         | name | what | force |\n|---|---|---|\n",
    );
    for rule in RULES {
        let _ = writeln!(page, "| [{0}](#{0}) | {1} | {2} |", rule.id, rule.title, force_words(rule));
    }
    for rule in RULES {
        let _ = write!(
            page,
            "\n## {}\n\n{}, {} ({}). {}.\n\n",
            rule.id,
            capital(rule.title),
            rule.unit,
            force_words(rule),
            capital(rule.why)
        );
        let _ = writeln!(page, "- Measured: {}", measured(rule));
        page.push_str(&figures(rule));
        let _ = writeln!(page, "- What to do: {}", rule.remedy);
        let _ = writeln!(page, "- Source: {}", cited(&rule.cite));
    }
    page.push_str(
        "\n# Cautions\n\nThings to know about a ration that are no rows of the programme. Each is told with its figures when it holds.\n\
         Cautions that go with a feed are shown by `overwinter feeds NAME`.\n",
    );
    for one in CAUTIONS {
        let _ = write!(
            page,
            "\n## {}\n\n{}. {}\n\n- Source: {}\n",
            one.id,
            capital(one.title),
            one.meaning,
            cited(&one.cite)
        );
    }
    page
}

fn figures(rule: &Rule) -> String {
    let class_words = |table: &[Option<f64>; 7]| -> String {
        let known: Vec<(AnimalClass, f64)> =
            AnimalClass::ALL[..7].iter().zip(table).filter_map(|(class, value)| Some((*class, (*value)?))).collect();
        let figure = |value: f64| figure_text(value, rule.digits);
        match known.first() {
            Some((_, first)) if known.len() == 7 && known.iter().all(|(_, value)| figure(*value) == figure(*first)) => {
                format!("{} for all classes", figure(*first))
            }
            _ => {
                let words: Vec<String> =
                    known.iter().map(|(class, value)| format!("{} {}", class.name(), figure(*value))).collect();
                words.join(", ")
            }
        }
    };
    match &rule.figure {
        Figure::ByClass(table) => format!("- Figure: {} {} ({})\n", side(rule), class_words(table), rule.unit),
        Figure::DryMilking(dry, milking) => format!(
            "- Figure, dry: {} {} ({})\n- Figure at peak milk: {} {}\n",
            side(rule),
            class_words(dry),
            rule.unit,
            side(rule),
            class_words(milking)
        ),
        Figure::Of(_) if rule.force_cow == Force::Need => {
            format!("- Figure: {} what the group needs in the period; `overwinter needs` prints it\n", side(rule))
        }
        Figure::Of(_) => {
            format!("- Figure: {} what class, stage and feeds of the group give; see the source\n", side(rule))
        }
    }
}

/// Every caution that goes with a feed, by kind of feed.
fn cautions() -> String {
    let table = FeedTable::shipped().unwrap();
    let mut page = made("`feeds/cautions.yaml`");
    page.push_str(
        "# What to watch\n\nBy kind of feed: what to do or leave, the figure behind it, and where it comes from. Those measured on a ration\n\
         stand in [limits.md](limits.md#cautions). They do not take the place of local law, the feed tag, the label of what was sprayed,\n\
         your veterinarian or your nutritionist: those come first.\n",
    );
    for class in FeedClass::ALL {
        let of_class: Vec<&Feed> = table.iter().filter(|feed| feed.class == class).collect();
        let mut told: Vec<&str> = Vec::new();
        let mut list = String::new();
        for feed in &of_class {
            for caution in &feed.cautions {
                if told.contains(&caution.about.as_str()) {
                    continue;
                }
                told.push(&caution.about);
                let only: Vec<&str> = of_class
                    .iter()
                    .filter(|feed| feed.cautions.iter().any(|other| other.about == caution.about))
                    .map(|feed| feed.id.as_str())
                    .collect();
                let whom =
                    if only.len() == of_class.len() { String::new() } else { format!("`{}`: ", only.join("`, `")) };
                let figure = caution.figure.as_ref().map_or(String::new(), |figure| format!(" Figure: {figure}."));
                let source = caution.source.as_ref().map_or(String::new(), |key| format!("{}, ", link(key)));
                let place = caution.place.as_ref().map_or(String::new(), |place| format!("{place}, "));
                let _ = writeln!(list, "- {whom}{}{figure} ({source}{place}{})", caution.text, caution.origin.words());
            }
        }
        if !list.is_empty() {
            let _ = write!(page, "\n## {}\n\n{list}", capital(class.heading()));
        }
    }
    page
}

fn equations() -> String {
    let mut page = made("`need::registry::EQUATIONS`");
    page.push_str(
        "# Equations of the needs\n\nInside the program everything is kg, Mcal, g, day and head. Where an equation is tested against printed values\nthe file is named; its rows, their source and any known difference stand in `tests/published/`.\n\n\
         | name | gives |\n|---|---|\n",
    );
    for one in EQUATIONS {
        let _ = writeln!(page, "| [{0}](#{0}) | {1} |", one.id, one.title);
    }
    for one in EQUATIONS {
        let _ = write!(page, "\n## {}\n\n{}\n\n```text\n{}\n```\n\n", one.id, capital(one.title), one.formula);
        if !one.symbols.is_empty() {
            page.push_str("| symbol | meaning |\n|---|---|\n");
            for (symbol, meaning) in one.symbols {
                let _ = writeln!(page, "| {symbol} | {meaning} |");
            }
            page.push('\n');
        }
        let tested = if one.tested == NOT_PRINTED {
            NOT_PRINTED.to_owned()
        } else {
            format!("[{0}](../tests/published/{0})", one.tested)
        };
        let _ =
            write!(page, "- Holds for: {}\n- Source: {}\n- Tested against: {tested}\n", one.range, cited(&one.cite));
    }
    page
}

fn feeds() -> String {
    let table = FeedTable::shipped().unwrap();
    let mut page = made("`feeds/*.yaml`");
    let _ = write!(
        page,
        "# The feed table\n\n{} feeds. Percent of dry matter, but dry matter itself of feed as fed; energy in Mcal per pound of dry matter, from\n\
         TDN. A blank is not known, which is not zero. These are averages of feeds that vary: test what you feed.\n\
         `overwinter feeds NAME` shows every value of a feed with its source, its spread and what other sources print; how\n\
         to add one stands in [feeds/README.md](../feeds/README.md).\n",
        table.len()
    );
    for class in FeedClass::ALL {
        let of_class: Vec<&Feed> = table.iter().filter(|feed| feed.class == class).collect();
        if of_class.is_empty() {
            continue;
        }
        let _ = write!(
            page,
            "\n## {}\n\n| name in herd files | what it is | DM | TDN | NEm | NEg | CP | NDF | fat | Ca | P | free gossypol | TDN is |\n\
             |---|---|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|---|\n",
            capital(class.heading())
        );
        for feed in of_class {
            let value = |nutrient, digits| figure(feed.get(nutrient), digits);
            let per_lb = |energy: Option<f64>| figure(energy.map(|per_kg| per_kg * KG_PER_LB), 2);
            let origin = feed.values.get(&Nutrient::Tdn).map_or(String::new(), |tdn| {
                let source = tdn.source.as_deref().map_or(String::new(), |key| format!(", {}", link(key)));
                format!("{}{source}", tdn.origin.words())
            });
            let _ = writeln!(
                page,
                "| `{}` | {} | {} | {} | {} | {} | {} | {} | {} | {} | {} | {} | {origin} |",
                feed.id,
                feed.name,
                value(Nutrient::Dm, 0),
                value(Nutrient::Tdn, 0),
                per_lb(feed.nem_mcal_per_kg()),
                per_lb(feed.neg_mcal_per_kg()),
                value(Nutrient::Cp, 1),
                value(Nutrient::Ndf, 0),
                value(Nutrient::Fat, 1),
                value(Nutrient::Ca, 2),
                value(Nutrient::P, 2),
                value(Nutrient::FreeGossypol, 2),
            );
        }
    }
    page
}

fn figure(value: Option<f64>, digits: usize) -> String {
    value.map_or(String::new(), |value| format!("{value:.digits$}"))
}

fn sources() -> String {
    let mut page = made("`feeds/sources.yaml`");
    page.push_str(
        "# Sources\n\nEvery key that a figure, an equation, a limit or a caution cites. Behind each stands how it was obtained: read,\n\
         read in part, abstract or summary only, known through a source that quotes it, from memory, or known to exist and\n\
         not read. A title in square brackets is a description: the exact title was not noted.\n",
    );
    for (key, source) in Bibliography::shipped().unwrap().iter() {
        let _ = write!(page, "\n### {key}\n\n{source}\n");
    }
    page
}

fn commands() -> String {
    let mut page = made("`--help` of each command");
    page.push_str(
        "# Commands\n\n`overwinter COMMAND --help` prints these. From a clone, `cargo run --release --` stands for `overwinter`.\n\n\
         The answer goes to standard output, errors and warnings to standard error. `NO_COLOR` is obeyed.\n\n\
         | exit code | means |\n|--:|---|\n\
         | 0 | an answer |\n\
         | 1 | no ration can meet it, or a checked ration breaks a limit that may never be broken |\n\
         | 2 | the input or the command line is wrong, or the answer cannot be written |\n\
         | 70 | a fault of the program; please report it |\n",
    );
    let _ = write!(page, "\n## overwinter\n\n```text\n{}\n```\n", shown::run("overwinter --help").trim_end());
    for command in overwinter::cli::Cli::command().get_subcommands() {
        let name = command.get_name();
        let help = shown::run(&format!("overwinter {name} --help"));
        let _ = write!(page, "\n## overwinter {name}\n\n```text\n{}\n```\n", help.trim_end());
    }
    page
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}
