//! Reading a herd file, and telling what is wrong.

use super::{BAD_INPUT, HerdArgs, MessageFormat, OUR_FAULT, Out, diagnostics};
use crate::diagnostic::{Diagnostic, Warned};
use crate::feed::{Bibliography, FeedTable, Losses};
use crate::herd::weather::WeatherTable;
use crate::scenario::{self, Library};
use crate::winter::Case;
use std::io::Read as _;
use std::path::Path;

/// What ships with the program.
pub(super) struct Shipped {
    pub(super) feeds: FeedTable,
    pub(super) losses: Losses,
    pub(super) weather: WeatherTable,
}

impl Shipped {
    /// Reads it; a fault in it is ours.
    pub(super) fn load(out: &mut Out<'_>) -> std::io::Result<Result<Self, u8>> {
        let made = FeedTable::shipped().and_then(|feeds| {
            let losses = Losses::shipped(feeds.bibliography())?;
            let weather = WeatherTable::shipped()
                .map_err(|fault| vec![Diagnostic::error("F001", format!("feeds/weather.yaml: {fault}"))])?;
            Ok(Self { feeds, losses, weather })
        });
        match made {
            Ok(shipped) => Ok(Ok(shipped)),
            Err(list) => {
                for one in list {
                    writeln!(out.rest, "error[{}]: the shipped tables: {}", one.code, one.message)?;
                }
                Ok(Err(OUR_FAULT))
            }
        }
    }
    /// The case of a joined text with its warnings, or every error.
    pub(super) fn read(&self, text: &str) -> Result<Warned<Case>, Vec<Diagnostic>> {
        with_library(self, |library| scenario::read(text, library))
    }
    /// The bibliography.
    pub(super) fn bibliography(&self) -> &Bibliography {
        self.feeds.bibliography()
    }
}

/// A herd file that was read: its name, its text and the case.
pub(super) struct HerdFile {
    pub(super) name: String,
    pub(super) text: String,
    pub(super) case: Case,
}

/// Reads a herd file; warnings are told, errors end it with their exit code.
pub(super) fn herd_file(args: &HerdArgs, out: &mut Out<'_>) -> std::io::Result<Result<HerdFile, u8>> {
    let shipped = match Shipped::load(out)? {
        Ok(shipped) => shipped,
        Err(code) => return Ok(Err(code)),
    };
    let name = if args.file == Path::new("-") { "standard input".to_owned() } else { args.file.display().to_string() };
    let text = match read_text(&args.file, &name) {
        Ok(text) => text,
        Err(one) => {
            tell(&[one], &name, "", args.print.message_format, out)?;
            return Ok(Err(BAD_INPUT));
        }
    };
    let text = scenario::set::joined(&text, &args.sets);
    let case = read_case(&text, &name, args.print.message_format, &shipped, out)?;
    Ok(case.map(|case| HerdFile { name, text, case }))
}

/// The case of a joined text; warnings are told, errors end it with their exit code.
pub(super) fn read_case(
    text: &str,
    name: &str,
    format: MessageFormat,
    shipped: &Shipped,
    out: &mut Out<'_>,
) -> std::io::Result<Result<Case, u8>> {
    match shipped.read(text) {
        Ok(read) => {
            tell(&read.warnings, name, text, format, out)?;
            Ok(Ok(read.value))
        }
        Err(list) => {
            tell(&list, name, text, format, out)?;
            Ok(Err(BAD_INPUT))
        }
    }
}

/// Runs with what ships with the program as the reader wants it.
pub(super) fn with_library<T>(shipped: &Shipped, run: impl FnOnce(Library<'_>) -> T) -> T {
    let regions: Vec<_> =
        shipped.weather.regions.iter().map(|(key, region)| (key.as_str(), region.by_month())).collect();
    let rules: Vec<&str> = crate::limit::RULES.iter().map(|rule| rule.id).collect();
    let spells: Vec<_> =
        shipped.weather.cold_spells.iter().map(|(key, row)| (key.as_str(), row.days, row.below_mean_f)).collect();
    let library =
        Library { feeds: &shipped.feeds, losses: &shipped.losses, regions: &regions, spells: &spells, rules: &rules };
    run(library)
}

/// The text of a file, or of standard input.
pub(super) fn read_text(file: &Path, name: &str) -> Result<String, Diagnostic> {
    if file != Path::new("-") {
        return scenario::load(file);
    }
    let mut bytes = Vec::new();
    // One byte more than a herd file may have tells that it is too long.
    std::io::stdin()
        .take(scenario::LARGEST_BYTES + 1)
        .read_to_end(&mut bytes)
        .map_err(|fault| Diagnostic::error("H001", format!("standard input cannot be read: {fault}")))?;
    scenario::text_of(bytes, name)
}

/// Tells errors and warnings.
pub(super) fn tell(
    list: &[Diagnostic],
    name: &str,
    text: &str,
    format: MessageFormat,
    out: &mut Out<'_>,
) -> std::io::Result<()> {
    if list.is_empty() {
        return Ok(());
    }
    match format {
        MessageFormat::Text => write!(out.rest, "{}", diagnostics::render(list, name, text, out.color)),
        MessageFormat::Json => writeln!(out.rest, "{}", diagnostics::render_json(list, name, text)?),
    }
}
