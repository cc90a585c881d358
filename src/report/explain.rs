//! Where a number comes from: rules, equations, cautions, feed values, error codes.

use super::grid::{grid, paragraph};
use crate::feed::{FeedTable, Figure, Nutrient};
use crate::herd::AnimalClass;
use crate::limit::caution::CAUTIONS;
use crate::limit::rule::Figure as RuleFigure;
use crate::limit::{RULES, Rule, Sense, figure_text};
use crate::need::registry::{EQUATIONS, Equation, NOT_PRINTED};
use crate::scenario::Code;
use std::fmt::Write as _;

/// What there is to explain.
#[must_use]
pub fn list() -> String {
    let mut out = String::new();
    let mut section = |title: &str, rows: Vec<Vec<String>>| {
        let _ = writeln!(out, "{title}");
        for row in rows {
            let _ = writeln!(out, "  {:<28} {}", row[0], row[1]);
        }
        out.push('\n');
    };
    section(
        "RULES (needs and limits)",
        RULES.iter().map(|rule| vec![rule.id.to_owned(), rule.title.to_owned()]).collect(),
    );
    section("CAUTIONS", CAUTIONS.iter().map(|one| vec![one.id.to_owned(), one.title.to_owned()]).collect());
    section("EQUATIONS", EQUATIONS.iter().map(|one| vec![one.id.to_owned(), one.title.to_owned()]).collect());
    section("ERRORS", Code::ALL.iter().map(|code| vec![code.text().to_owned(), code.title().to_owned()]).collect());
    out.push_str("FEED VALUES: any feed of `overwinter feeds`, or FEED.NUTRIENT such as whole_cottonseed.fat_pct_dm\n");
    out
}

/// Explains everything that is called so: a rule and an equation may share a name.
///
/// # Errors
/// Names that are near, if nothing is called so.
pub fn topic(name: &str, feeds: &FeedTable) -> Result<String, Vec<String>> {
    let mut parts = Vec::new();
    if let Some(rule) = crate::limit::rule(name) {
        parts.push(of_rule(rule, feeds));
    }
    if let Some(one) = EQUATIONS.iter().find(|one| one.id == name) {
        parts.push(of_equation(one, feeds));
    }
    if let Some(one) = CAUTIONS.iter().find(|one| one.id == name) {
        let mut out = format!("{}: {} (a caution: no row of the programme)\n\n", one.id, one.title);
        out.push_str(&paragraph("  ", one.meaning));
        out.push_str(&paragraph("  source     ", &one.cite.to_string()));
        out.push_str(&source_line(one.cite.source, feeds));
        parts.push(out);
    }
    if let Some(code) = Code::ALL.iter().find(|code| code.text().eq_ignore_ascii_case(name)) {
        let mut out = format!("{}: {}\n\n", code.text(), code.title());
        out.push_str(&paragraph("  ", code.explanation()));
        parts.push(out);
    }
    if let Some(feed) = feeds.get(name) {
        parts.push(super::feeds::one(feed, feeds.bibliography()));
    }
    if let Some((feed, key)) = name.split_once('.')
        && let (Some(feed), Some(nutrient)) = (feeds.get(feed), Nutrient::from_key(key))
    {
        parts.push(of_value(&feed.name, nutrient, feed.values.get(&nutrient), feeds));
    }
    if parts.is_empty() { Err(near(name, feeds)) } else { Ok(parts.join("\n")) }
}

fn of_equation(one: &Equation, feeds: &FeedTable) -> String {
    let mut out = format!("{}: {}\n\n", one.id, one.title);
    out.push_str(&paragraph("  ", one.formula));
    out.push('\n');
    for (symbol, meaning) in one.symbols {
        out.push_str(&paragraph(&format!("  {symbol:<10} "), meaning));
    }
    if !one.symbols.is_empty() {
        out.push('\n');
    }
    out.push_str(&paragraph("  holds for  ", one.range));
    out.push_str(&paragraph("  source     ", &one.cite.to_string()));
    out.push_str(&source_line(one.cite.source, feeds));
    let tested =
        if one.tested == NOT_PRINTED { NOT_PRINTED.to_owned() } else { format!("tests/published/{}", one.tested) };
    out.push_str(&paragraph("  tested     ", &tested));
    out
}

fn near(name: &str, feeds: &FeedTable) -> Vec<String> {
    let mut all: Vec<String> = RULES.iter().map(|rule| rule.id.to_owned()).collect();
    all.extend(CAUTIONS.iter().map(|one| one.id.to_owned()));
    all.extend(EQUATIONS.iter().map(|one| one.id.to_owned()));
    all.extend(feeds.iter().map(|feed| feed.id.clone()));
    let mut scored: Vec<(f64, String)> = all.into_iter().map(|one| (strsim::jaro_winkler(name, &one), one)).collect();
    scored.sort_by(|a, b| b.0.total_cmp(&a.0));
    scored.into_iter().take(3).filter(|(score, _)| *score > 0.75).map(|(_, one)| one).collect()
}

fn source_line(key: &str, feeds: &FeedTable) -> String {
    feeds.bibliography().get(key).map_or(String::new(), |source| paragraph("             ", &source.to_string()))
}

fn of_rule(rule: &Rule, feeds: &FeedTable) -> String {
    let mut out = format!("{}: {} ({})\n\n", rule.id, rule.title, rule.unit);
    let side = match rule.sense {
        Sense::AtLeast => "at least",
        Sense::AtMost => "at most",
        Sense::Exactly => "just",
    };
    out.push_str(&paragraph("  measure    ", &measured(rule)));
    let class_rows = |dry: &[Option<f64>; 7], milking: Option<&[Option<f64>; 7]>| -> Vec<Vec<String>> {
        AnimalClass::ALL[..7]
            .iter()
            .enumerate()
            .filter_map(|(index, class)| {
                let value = dry[index]?;
                let mut row = vec![format!("  {}", class.name()), figure_text(value, rule.digits)];
                if let Some(milking) = milking {
                    row.push(milking[index].map_or(String::new(), |value| figure_text(value, rule.digits)));
                }
                row.push(rule.force(*class).word().to_owned());
                Some(row)
            })
            .collect()
    };
    match rule.figure {
        RuleFigure::ByClass(table) => {
            let _ = writeln!(out, "  figure     {side}, by class:");
            out.push_str(&grid(
                1,
                &[String::new(), rule.unit.to_owned(), "force".to_owned()],
                &class_rows(&table, None),
            ));
        }
        RuleFigure::DryMilking(dry, milking) => {
            let _ = writeln!(out, "  figure     {side}, by class, dry and milking:");
            let header = ["", "dry", "milking", "force"].map(str::to_owned);
            out.push_str(&grid(1, &header, &class_rows(&dry, Some(&milking))));
        }
        RuleFigure::Of(_) => {
            let _ = writeln!(
                out,
                "  figure     {side} what the group's needs, class and feeds give; force: {} (cows), {} (others)",
                rule.force(AnimalClass::Cow).word(),
                rule.force(AnimalClass::Stocker).word()
            );
        }
    }
    out.push_str(&paragraph("  why        ", rule.why));
    out.push_str(&paragraph("  remedy     ", rule.remedy));
    out.push_str(&paragraph("  source     ", &rule.cite.to_string()));
    out.push_str(&source_line(rule.cite.source, feeds));
    out.push_str(&paragraph(
        "  forces     ",
        "need: a plan meets it, a check says how short; never: no plan breaks it, a checked ration that does is unfit; keep: a plan stays \
         inside unless the file lifts it under `limits:` with `because:`",
    ));
    out
}

/// What a rule measures, in words.
#[must_use]
pub fn measured(rule: &Rule) -> String {
    use crate::limit::Measure;
    let over = measure_words(rule.over);
    match rule.per {
        Measure::Head => format!("{over}, per head and day"),
        Measure::BodyWeight => format!("{over} / body weight"),
        Measure::OrganicDm => format!("{over} / dry matter without minerals"),
        other => format!("{over} / {}", measure_words(other)),
    }
}

fn measure_words(measure: crate::limit::Measure) -> &'static str {
    use crate::limit::Measure as M;
    match measure {
        M::Nem => "net energy for maintenance of the mix, by the cubic of each feed's TDN",
        M::Retained => "(1 − maintenance need / NEm of the mix) × NEg of the mix",
        M::Tdn => "total digestible nutrients",
        M::Cp => "crude protein; that of urea and liquid feed not credited to growing cattle",
        M::MpByEnergy => "0.64 × 0.13 TDN + 0.80 × undegraded protein",
        M::MpByDegradable => "0.64 × degradable protein + 0.80 × undegraded protein",
        M::Ca => "calcium",
        M::P => "phosphorus",
        M::Sulfur => "sulfur of feed and water",
        M::Dm => "dry matter",
        M::OrganicDm => "dry matter without minerals",
        M::SulfurRoom => "0.18 % of dry matter + 0.80 % of roughage",
        M::LongRoughage => "roughage dry matter; ground or pelleted, by the effective share of its fiber",
        M::ForageNdf => "NDF of roughage",
        M::EffectiveNdf => "effective NDF",
        M::StrawDm => "straw and stover dry matter",
        M::Fat => "fat",
        M::AddedFat => "fat above 2 % in feeds that are neither roughage nor mineral",
        M::Gossypol => {
            "free gossypol of seed, and of meal, hulls and cubes times (seed limit / meal limit); gin trash's own is not counted"
        }
        M::GossypolOfMeal => "free gossypol of meal, hulls and cubes",
        M::SeedAsFed => "whole cottonseed as fed",
        M::SeedDm => "whole cottonseed dry matter",
        M::DistillersAsFed => "distillers feed as fed",
        M::GinTrashDm => "gin trash dry matter",
        M::LimestoneAsFed => "limestone as fed",
        M::GrainAsFed => "grain as fed",
        M::NpnCp => "crude protein of urea and liquid feed that is not protein",
        M::AllCp => "all crude protein",
        M::UreaDm => "urea dry matter",
        M::Nitrate => {
            "dry matter of each feed tested for nitrate / the share of the ration printed for its ppm; up to 1,000 ppm, × ppm/1,000"
        }
        M::UreaEquivalent => "urea, and crude protein of liquid feed that is not protein / 2.84",
        M::UreaRoom => "0.1 lb, and 0.01 lb for each lb of grain as fed",
        M::AtWill => "roughage × its NDF / NDF of the base + substitution × supplement; minerals take no room",
        M::SupplementTdn => "TDN of everything that is neither roughage nor mineral",
        M::Rdp => "degradable protein",
        M::OneFeed(_) => "one feed as fed",
        M::Head => "one",
        M::BodyWeight => "body weight",
    }
}

fn of_value(feed: &str, nutrient: Nutrient, figure: Option<&Figure>, feeds: &FeedTable) -> String {
    let mut out = format!("{feed}: {} ({})\n\n", nutrient.name(), nutrient.unit());
    let Some(figure) = figure else {
        out.push_str("  not known, which is not zero\n");
        return out;
    };
    let _ = writeln!(out, "  value      {}", figure.mean);
    if let Some(sd) = figure.sd {
        let _ = writeln!(
            out,
            "  spread     {sd} (one standard deviation; {})",
            figure.sd_origin.map_or("origin not stated", crate::source::Origin::words)
        );
    }
    let _ = writeln!(out, "  obtained   {}", figure.origin.words());
    if let Some(place) = &figure.place {
        out.push_str(&paragraph("  place      ", place));
    }
    if let Some(source) = &figure.source {
        let _ = writeln!(out, "  source     {source}");
        out.push_str(&source_line(source, feeds));
    }
    out
}
