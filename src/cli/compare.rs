//! `overwinter compare`: herds, price sheets or what-ifs side by side, and what carries the difference.

use super::input::{Shipped, herd_file, tell};
use super::plan::to_json;
use super::{BAD_INPUT, CANNOT, DONE, Format, HerdArgs, OUR_FAULT, Out, PrintArgs};
use crate::report::compare::{Comparison, CsvShape, column};
use crate::report::compare_page::{ListLine, SIDE_BY_SIDE, list_page, page};
use crate::report::{driver, html};
use crate::scenario::{self, NamedPrices};
use crate::value::answer::{Answer, NoAnswer, answer, head_days};
use crate::value::driver as value;
use crate::value::nutrient_cost;
use crate::value::sweep::{PriceList, Sweep, lay_over};
use crate::winter::{Case, assemble};
use clap::Args;
use std::path::PathBuf;
use std::time::{Duration, Instant};

/// Arguments of `compare`.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  overwinter compare examples/ranches/bitter-creek.yaml examples/ranches/salt-fork.yaml\n  overwinter compare examples/ranches/bitter-creek.yaml --prices examples/ranches/prices.csv\n  overwinter compare examples/dry-fork/herd.yaml --case \"dear hay: feeds.prairie_hay.value_usd_per_ton=120\" --case \"no burrs: feeds.gin_trash_stripper=\"\n\nEvery cost is that of the least-cost winter in part loads, not made steadier."
)]
pub struct CompareArgs {
    /// Herd files; one with `--prices` or `--case`, else two or more
    #[arg(required = true, value_name = "FILE")]
    files: Vec<PathBuf>,
    /// A CSV sheet of price lists, at the seller: `feed,LIST,LIST` with a line a feed, or `case,FEED_usd_per_ton` with a line
    /// a list; each list is a case
    #[arg(long, value_name = "SHEET.csv", conflicts_with = "cases")]
    prices: Option<PathBuf>,
    /// A what-if as a case beside the file as written: a name, a colon, and values laid over the file, semicolons between
    /// them; may be given several times
    #[arg(long = "case", value_name = "NAME: PATH=VALUE; …")]
    cases: Vec<String>,
    /// A what-if for every case: lay a value over the files; may be given several times
    #[arg(long = "set", value_name = "PATH=VALUE")]
    sets: Vec<String>,
    #[command(flatten)]
    print: PrintArgs,
}

/// A case to be compared.
struct Named {
    name: String,
    case: Case,
}

pub(super) fn run(args: &CompareArgs, out: &mut Out<'_>) -> std::io::Result<u8> {
    let many = args.files.len() > 1;
    if many && (args.prices.is_some() || !args.cases.is_empty()) {
        writeln!(out.rest, "error: `--prices` and `--case` go with one herd file, and {} are named", args.files.len())?;
        writeln!(out.rest, "  = help: name one file, or leave them out to compare the files")?;
        return Ok(BAD_INPUT);
    }
    if !many && args.prices.is_none() && args.cases.is_empty() {
        writeln!(out.rest, "error: there is nothing to compare the file with")?;
        writeln!(
            out.rest,
            "  = help: name a second herd file, `--prices SHEET.csv`, or `--case \"NAME: PATH=VALUE\"`"
        )?;
        return Ok(BAD_INPUT);
    }
    if let Some(sheet) = &args.prices {
        return prices(args, sheet, out);
    }
    let cases = if many { files(args, out)? } else { what_ifs(args, out)? };
    match cases {
        Ok(cases) => side_by_side(&cases, args, out),
        Err(code) => Ok(code),
    }
}

fn herd_args(args: &CompareArgs, file: &std::path::Path) -> HerdArgs {
    HerdArgs {
        file: file.to_path_buf(),
        sets: args.sets.clone(),
        print: PrintArgs { html: None, ..args.print.clone() },
    }
}

/// Several herd files, each under the name of its place, or of its file where that says less or the same as another's.
fn files(args: &CompareArgs, out: &mut Out<'_>) -> std::io::Result<Result<Vec<Named>, u8>> {
    let mut cases: Vec<Named> = Vec::new();
    let mut wrong = None;
    for file in &args.files {
        match herd_file(&herd_args(args, file), out)? {
            Ok(read) => {
                let name = name_of(&read.case, file, &cases);
                cases.push(Named { name, case: read.case });
            }
            // Every file is read, so that all that is wrong is told at once.
            Err(code) => wrong = Some(code),
        }
    }
    Ok(wrong.map_or(Ok(cases), Err))
}

/// The name of the place; of the file where there is none or another has it; with its folder, with its number.
fn name_of(case: &Case, file: &std::path::Path, before: &[Named]) -> String {
    let end = |parts: usize| -> String {
        let path = file.with_extension("");
        let all: Vec<_> = path.components().map(|part| part.as_os_str().to_string_lossy()).collect();
        all[all.len().saturating_sub(parts)..].join("/")
    };
    let names = [case.place.name.clone(), end(1), end(2), format!("{} ({})", end(2), before.len() + 1)];
    let free = |name: &&String| !name.is_empty() && before.iter().all(|one| one.name != **name);
    names.iter().find(free).cloned().unwrap_or_else(|| file.display().to_string())
}

/// The file as written, and each what-if.
fn what_ifs(args: &CompareArgs, out: &mut Out<'_>) -> std::io::Result<Result<Vec<Named>, u8>> {
    let base = match herd_file(&herd_args(args, &args.files[0]), out)? {
        Ok(base) => base,
        Err(code) => return Ok(Err(code)),
    };
    let shipped = match Shipped::load(out)? {
        Ok(shipped) => shipped,
        Err(code) => return Ok(Err(code)),
    };
    let mut cases = vec![Named { name: "as written".to_owned(), case: base.case }];
    let mut wrong = false;
    for text in &args.cases {
        let Some((name, sets)) =
            text.split_once(':').filter(|(name, _)| !name.trim().is_empty() && !name.contains('='))
        else {
            writeln!(out.rest, "error: `--case {text}` has no name")?;
            writeln!(
                out.rest,
                "  = help: write a name, a colon and the values: `--case \"dear hay: feeds.prairie_hay.price_usd_per_ton=150\"`"
            )?;
            wrong = true;
            continue;
        };
        let name = name.trim();
        if cases.iter().any(|one| one.name == name) {
            writeln!(out.rest, "error: two cases are called `{name}`")?;
            writeln!(out.rest, "  = help: give each a name of its own; the file itself is called `as written`")?;
            wrong = true;
            continue;
        }
        let mut all = args.sets.clone();
        all.extend(sets.split(';').map(str::trim).filter(|set| !set.is_empty()).map(str::to_owned));
        let joined = scenario::set::joined(scenario::set::file_of(&base.text), &all);
        match shipped.read(&joined) {
            // Warnings of the file were told once, when it was read as written.
            Ok(read) => cases.push(Named { name: name.to_owned(), case: read.value }),
            Err(list) => {
                writeln!(out.rest, "case `{name}`:")?;
                tell(&list, &base.name, &joined, args.print.message_format, out)?;
                wrong = true;
            }
        }
    }
    Ok(if wrong { Err(BAD_INPUT) } else { Ok(cases) })
}

/// One herd at the price lists of a sheet.
fn prices(args: &CompareArgs, sheet: &std::path::Path, out: &mut Out<'_>) -> std::io::Result<u8> {
    let base = match herd_file(&herd_args(args, &args.files[0]), out)? {
        Ok(base) => base.case,
        Err(code) => return Ok(code),
    };
    let name = sheet.display().to_string();
    let text = match scenario::load_sheet(sheet) {
        Ok(text) => text,
        Err(one) => {
            tell(&[one], &name, "", args.print.message_format, out)?;
            return Ok(BAD_INPUT);
        }
    };
    let lists = match scenario::read_prices(&text, &base) {
        Ok(lists) => lists,
        Err(list) => {
            tell(&list, &name, &text, args.print.message_format, out)?;
            return Ok(BAD_INPUT);
        }
    };
    if args.print.format != Format::Csv && lists.len() <= SIDE_BY_SIDE {
        let at = |list: &NamedPrices| {
            let mut case = base.clone();
            lay_over(&mut case, &list.usd_per_ton);
            Named { name: list.name.clone(), case }
        };
        return side_by_side(&lists.iter().map(at).collect::<Vec<_>>(), args, out);
    }
    sweep(&base, lists, args, out)
}

/// Many price lists over one herd, a line each.
fn sweep(base: &Case, lists: Vec<NamedPrices>, args: &CompareArgs, out: &mut Out<'_>) -> std::io::Result<u8> {
    let mut case = base.clone();
    // Every feed the sheet prices can be bought.
    if let Some(first) = lists.first() {
        lay_over(&mut case, &first.usd_per_ton);
        for (offer, own) in case.offers.iter_mut().zip(&base.offers) {
            if own.price_usd_per_ton.is_some() {
                offer.price_usd_per_ton = own.price_usd_per_ton;
                offer.price_by_month.clone_from(&own.price_by_month);
            }
        }
    }
    let sweep = Sweep::new(&case);
    let (names, prices): (Vec<String>, Vec<PriceList>) =
        lists.into_iter().map(|list| (list.name, list.usd_per_ton)).unzip();
    let mut told = Told::default();
    let mut lines = Vec::new();
    let mut columns = Vec::new();
    let mut shape = CsvShape::default();
    shape.add(&case);
    if args.print.format == Format::Csv {
        out.answer.write_all(shape.header().as_bytes())?;
    }
    let mut progress = Progress::new(names.len());
    let cells = assemble(&case).unwrap_or_default();
    let mut each = |index: usize, answer: Result<Answer, NoAnswer>| -> std::io::Result<()> {
        told.count(&answer);
        let name = &names[index];
        match args.print.format {
            Format::Csv => out.answer.write_all(shape.row(name, &case, &answer).as_bytes())?,
            Format::Json => {
                let mut at = case.clone();
                lay_over(&mut at, &prices[index]);
                columns.push(column(name, &at, &cells, &answer, None));
            }
            Format::Table => lines.push(ListLine {
                name: name.clone(),
                winter_usd: answer.as_ref().ok().map(|answer| answer.cost_usd),
                usd_per_head_day: answer.as_ref().ok().map(|answer| answer.cost_usd / head_days(&case).max(1.0)),
            }),
        }
        if out.live { progress.tell(index + 1, out.rest) } else { Ok(()) }
    };
    match &sweep {
        Ok(sweep) => {
            let threads = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
            sweep.run(&prices, threads, &mut each)?;
        }
        Err(no) => {
            for index in 0..names.len() {
                each(index, Err(no.clone()))?;
            }
        }
    }
    if out.live {
        progress.clear(out.rest)?;
    }
    match args.print.format {
        Format::Csv => {}
        Format::Json => {
            writeln!(out.answer, "{}", to_json(&Comparison { cases: columns, differences: Vec::new() })?)?;
        }
        Format::Table => {
            let page = list_page(&lines);
            if let Some(path) = &args.print.html {
                let names = lines.iter().map(|line| line.name.as_str());
                return super::output::page(path, &html::simple(&page, names, "overwinter compare"), told.code(), out);
            }
            write!(out.answer, "{}", page.text())?;
        }
    }
    Ok(told.code())
}

/// A few cases, with what carries the difference.
fn side_by_side(cases: &[Named], args: &CompareArgs, out: &mut Out<'_>) -> std::io::Result<u8> {
    let mut told = Told::default();
    let answers: Vec<Result<Answer, NoAnswer>> = cases.iter().map(|one| answer(&one.case)).collect();
    let mut wrong = false;
    for (one, answer) in cases.iter().zip(&answers) {
        if let Err(NoAnswer::Input(list)) = answer {
            writeln!(out.rest, "case `{}`:", one.name)?;
            tell(list, &one.name, "", args.print.message_format, out)?;
            wrong = true;
        }
        told.count(answer);
    }
    if wrong {
        return Ok(BAD_INPUT);
    }
    if args.print.format == Format::Csv {
        let mut shape = CsvShape::default();
        for one in cases {
            shape.add(&one.case);
        }
        out.answer.write_all(shape.header().as_bytes())?;
        for (one, answer) in cases.iter().zip(&answers) {
            out.answer.write_all(shape.row(&one.name, &one.case, answer).as_bytes())?;
        }
        return Ok(told.code());
    }
    let columns = cases
        .iter()
        .zip(&answers)
        .map(|(one, answer)| {
            // Every case was assembled once, so this cannot fail.
            let cells = assemble(&one.case).unwrap_or_default();
            column(&one.name, &one.case, &cells, answer, Some(&nutrient_cost::of(&one.case, &cells)))
        })
        .collect();
    let mut differences = Vec::new();
    if let (Some(first), Some(Ok(base))) = (cases.first(), answers.first()) {
        for (one, answer) in cases.iter().zip(&answers).skip(1) {
            if let Ok(answer) = answer {
                let driver = value::driver((&first.case, base.cost_usd), (&one.case, answer.cost_usd));
                differences.push(driver::of((&first.name, &first.case), (&one.name, &one.case), &driver));
            }
        }
    }
    let comparison = Comparison { cases: columns, differences };
    if let Some(path) = &args.print.html {
        return super::output::page(path, &html::compare(&comparison), told.code(), out);
    }
    if args.print.format == Format::Json {
        writeln!(out.answer, "{}", to_json(&comparison)?)?;
    } else {
        write!(out.answer, "{}", page(&comparison))?;
    }
    Ok(told.code())
}

/// How many cases were answered.
#[derive(Default)]
struct Told {
    plans: usize,
    unproven: usize,
}

impl Told {
    fn count(&mut self, answer: &Result<Answer, NoAnswer>) {
        match answer {
            Ok(_) => self.plans += 1,
            Err(NoAnswer::Unproven(_)) => self.unproven += 1,
            Err(_) => {}
        }
    }
    /// Done if any case has a plan: the others say in their column what they lack.
    fn code(&self) -> u8 {
        match (self.unproven, self.plans) {
            (0, 0) => CANNOT,
            (0, _) => DONE,
            _ => OUR_FAULT,
        }
    }
}

/// A line on the error side that says how far it is, once it has taken a while.
struct Progress {
    all: usize,
    begun: Instant,
    last: Option<Instant>,
}

impl Progress {
    const WHILE: Duration = Duration::from_secs(1);
    const BETWEEN: Duration = Duration::from_millis(200);

    fn new(all: usize) -> Self {
        Self { all, begun: Instant::now(), last: None }
    }
    fn tell(&mut self, done: usize, rest: &mut dyn std::io::Write) -> std::io::Result<()> {
        let now = Instant::now();
        if now - self.begun < Self::WHILE || self.last.is_some_and(|last| now - last < Self::BETWEEN) {
            return Ok(());
        }
        self.last = Some(now);
        let share = done as f64 / self.all.max(1) as f64;
        let left = (now - self.begun).as_secs_f64() * (1.0 - share) / share.max(1e-9);
        let cells: String = (0..30).map(|cell| if f64::from(cell) < 30.0 * share { '#' } else { '.' }).collect();
        write!(rest, "\r[{cells}] {done} of {} cases, {left:.0} s left ", self.all)?;
        rest.flush()
    }
    fn clear(&self, rest: &mut dyn std::io::Write) -> std::io::Result<()> {
        if self.last.is_some() {
            write!(rest, "\r{:70}\r", "")?;
            rest.flush()?;
        }
        Ok(())
    }
}
