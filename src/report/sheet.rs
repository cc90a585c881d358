//! The feeding sheet: what to put out, for each group and time, a head, for the whole group, and by the batch.

use super::model::{GroupReport, Report};
use super::page::{Block, Page, Table};
use super::text::{count, usd};
use crate::feed::{FedHow, FeedClass};
use crate::limit::figure_text;
use crate::quantity::{KgDm, lb_from_kg};
use crate::winter::practical::Unrounded;
use crate::winter::{Case, Plan};

/// Ounces in a pound.
const OUNCES_PER_LB: f64 = 16.0;

/// What is less than this a head at one feeding shows as nothing, lb.
const LEAST_LB: f64 = 0.005;

/// One feed on the sheet.
#[derive(Debug, Clone)]
pub struct SheetLine {
    /// Feed.
    pub feed: String,
    /// Pounds as fed eaten per head and day.
    pub lb_per_head_day: f64,
    /// Days from one feeding to the next.
    pub every_days: f64,
    /// Eaten at will: put out so that it lasts, not measured.
    pub at_will: bool,
    /// Pounds to put out for the whole group at one feeding, waste at the feeder on top.
    pub lb_per_feeding: f64,
    /// Goes into the mixer.
    pub mixed: bool,
    /// Buckets at one feeding, where the file says what one holds.
    pub buckets: Option<f64>,
    /// Bales at one feeding, where the file says what one weighs.
    pub bales: Option<f64>,
    /// Ounces as fed a head and day, of minerals.
    pub ounces: Option<f64>,
}

impl SheetLine {
    /// How often it is put out, in words.
    pub(super) fn how(&self) -> String {
        if self.at_will {
            "at will".to_owned()
        } else if self.every_days <= 1.0 {
            "daily".to_owned()
        } else if (self.every_days - 7.0 / 3.0).abs() < 0.01 {
            "3 times a week".to_owned()
        } else {
            format!("every {} days", figure_text(self.every_days, usize::from(self.every_days.fract() > 0.01)))
        }
    }
}

/// One run of days of one group.
#[derive(Debug, Clone)]
pub struct PeriodSheet {
    /// First day.
    pub from: String,
    /// Last day.
    pub last: String,
    /// Days, both of them counted.
    pub days: u32,
    /// Feeds.
    pub lines: Vec<SheetLine>,
    /// Batches of the mixer a day, where there is one.
    pub batches: Option<f64>,
    /// What is begun slowly, in words.
    pub slowly: Vec<String>,
}

/// The sheet of one group.
#[derive(Debug, Clone)]
pub struct GroupSheet {
    /// Group.
    pub name: String,
    /// Head.
    pub head: u32,
    /// Periods.
    pub periods: Vec<PeriodSheet>,
}

/// The sheet of a plan.
#[must_use]
pub fn sheet(case: &Case, plan: &Plan) -> Vec<GroupSheet> {
    let of_group = |g: usize| {
        let group = &case.groups[g];
        let head = f64::from(group.head);
        let periods = case.periods.iter().zip(&plan.rations[g]).map(|(period, ration)| {
            let lines: Vec<SheetLine> = case
                .offers
                .iter()
                .zip(&ration.kg_dm)
                .filter(|(_, kg)| **kg > 1e-6)
                .map(|(offer, kg)| {
                    let lb = lb_from_kg(KgDm(*kg).as_fed(offer.feed.dm_pct()).0);
                    let at_will = offer.fed_for(&group.name) == FedHow::FreeChoice;
                    let every_days = if at_will { 1.0 } else { offer.feeding.every_days };
                    let class = offer.feed.class;
                    let lb_per_feeding = lb * head * every_days / (1.0 - offer.waste);
                    SheetLine {
                        feed: offer.id.clone(),
                        lb_per_head_day: lb,
                        every_days,
                        at_will,
                        lb_per_feeding,
                        mixed: !at_will
                            && every_days <= 1.0
                            && !class.is_grazed()
                            && !matches!(class, FeedClass::Mineral),
                        buckets: offer.feeding.bucket_lb.filter(|_| !at_will).map(|bucket| lb_per_feeding / bucket),
                        bales: offer.feeding.bale_lb.map(|bale| lb_per_feeding / bale),
                        ounces: matches!(class, FeedClass::Mineral | FeedClass::Limestone | FeedClass::Urea)
                            .then(|| lb * OUNCES_PER_LB),
                    }
                })
                // Nobody puts out what no scale shows.
                .filter(|line| line.lb_per_head_day * line.every_days >= LEAST_LB || line.ounces.is_some())
                .collect();
            let mixed: f64 = lines.iter().filter(|line| line.mixed).map(|line| line.lb_per_feeding).sum();
            PeriodSheet {
                from: period.from.to_string(),
                last: period.to.yesterday().unwrap_or(period.to).to_string(),
                days: period.days(),
                batches: case.settings.mixer_lb.filter(|_| mixed > 0.0).map(|lb| (mixed / lb - 1e-9).ceil().max(1.0)),
                lines,
                slowly: Vec::new(),
            }
        });
        GroupSheet { name: group.name.clone(), head: group.head, periods: periods.collect() }
    };
    (0..case.groups.len()).map(of_group).collect()
}

/// Writes what is begun slowly to the periods of a sheet.
pub(super) fn begin_slowly(sheet: &mut [GroupSheet], groups: &[GroupReport]) {
    let sheets = sheet.iter_mut().flat_map(|group| &mut group.periods);
    for (sheet, period) in sheets.zip(groups.iter().flat_map(|group| &group.periods)) {
        for begun in &period.learning {
            let Some(line) = sheet.lines.iter().find(|line| line.feed == begun.feed) else { continue };
            let part = |lb: f64| {
                let out = line.lb_per_feeding * lb / line.lb_per_head_day;
                format!("{} lb a head, {} to put out", pounds(lb * line.every_days), pounds(out))
            };
            sheet.slowly.push(format!(
                "{} to {}: {}; after it {}. Above is the mean; other roughage makes up the rest.",
                begun.feed,
                begun.last,
                part(begun.first_lb_as_fed),
                part(begun.after_lb_as_fed)
            ));
        }
    }
}

/// The sheet for the truck's dash.
#[must_use]
pub fn page(report: &Report) -> String {
    sections(report).text()
}

/// The sheet as data.
#[must_use]
pub fn sections(report: &Report) -> Page {
    let place = super::text::place(report);
    let mut page = Page::new(place, format!(": FEEDING SHEET, {} to {}", report.winter.from, report.winter.to));
    page.words("", "Pounds as fed. What is put out has waste at the feeder on top.");
    rounding(&mut page, report);
    for group in &report.sheet {
        for period in merged(&group.periods) {
            page.section(
                "group",
                &group.name,
                format!(" ({} head)   {} to {}", count(group.head), period.from, period.last),
            );
            lines(&mut page, &period, &group.name);
        }
    }
    page.section("watch", "Watch", "");
    for text in watch(report) {
        page.item(text);
    }
    page
}

/// Runs of periods in which a group gets the same, as far as the page shows it.
fn merged(periods: &[PeriodSheet]) -> Vec<PeriodSheet> {
    let mut list: Vec<PeriodSheet> = Vec::new();
    for period in periods {
        match list.last_mut().filter(|before| words(before) == words(period)) {
            Some(before) => {
                before.last.clone_from(&period.last);
                before.days += period.days;
            }
            None => list.push(period.clone()),
        }
    }
    list
}

/// What the page says of a period.
fn words(period: &PeriodSheet) -> String {
    let mut page = Page::default();
    lines(&mut page, period, "");
    page.text()
}

fn lines(page: &mut Page, period: &PeriodSheet, group: &str) {
    page.push(Block::Table(period_table(period, group)));
    if let Some(words) = period.mixer_words() {
        page.words("  ", words);
    }
    for words in &period.slowly {
        page.words("  ", words);
    }
}

impl PeriodSheet {
    /// What goes into each batch of the mixer, where there is one.
    pub(super) fn mixer_words(&self) -> Option<String> {
        let batches = self.batches?;
        let mixed = self.lines.iter().filter(|line| line.mixed);
        let each: Vec<String> =
            mixed.map(|line| format!("{} {}", line.feed, pounds(line.lb_per_feeding / batches))).collect();
        let word = if batches > 1.0 { "batches" } else { "batch" };
        Some(format!("Mixer: {} {word} a day, each {} lb.", figure_text(batches, 0), each.join(", ")))
    }
}

/// What to put out in a run of days.
fn period_table(period: &PeriodSheet, group: &str) -> Table {
    let buckets = period.lines.iter().any(|line| line.buckets.is_some());
    let bales = period.lines.iter().any(|line| line.bales.is_some());
    let ounces = period.lines.iter().any(|line| line.ounces.is_some());
    let rows: Vec<Vec<String>> = period
        .lines
        .iter()
        .map(|line| {
            let a_head = line.lb_per_head_day * line.every_days;
            let mut cells = vec![format!("  {}", line.feed), line.how(), pounds(a_head)];
            if ounces {
                cells.push(line.ounces.map_or(String::new(), |oz| figure_text(oz * line.every_days, 1)));
            }
            let out = pounds(line.lb_per_feeding);
            cells.push(if line.at_will { format!("about {out}") } else { out });
            if bales {
                cells.push(line.bales.map_or(String::new(), |count| figure_text(count, 1)));
            }
            if buckets {
                cells.push(line.buckets.map_or(String::new(), |count| figure_text(count, 1)));
            }
            cells
        })
        .collect();
    let mut header = ["", "", "lb a head"].map(str::to_owned).to_vec();
    if ounces {
        header.push("oz a head".to_owned());
    }
    header.push("lb to put out".to_owned());
    if bales {
        header.push("bales".to_owned());
    }
    if buckets {
        header.push("buckets".to_owned());
    }
    let caption = format!("{group}: what to put out at one feeding, {} to {}", period.from, period.last);
    Table { caption, left: 2, header, rows, ..Table::default() }
}
/// Pounds as a scale shows them.
pub(super) fn pounds(lb: f64) -> String {
    let digits = if lb >= 100.0 {
        0
    } else if lb >= 1.0 {
        1
    } else {
        2
    };
    figure_text(lb, digits)
}

/// What kills, of each feed, and the two gravest of the herd's own cautions.
fn watch(report: &Report) -> Vec<String> {
    let mut list = super::cautions::deadly(&report.cautions);
    let mut of_herd: Vec<&str> = Vec::new();
    for caution in report.cautions.iter().filter(|caution| caution.group.is_some()) {
        if of_herd.len() < 2 && !of_herd.contains(&caution.text.as_str()) {
            of_herd.push(&caution.text);
        }
    }
    list.extend(of_herd.into_iter().map(str::to_owned));
    list.push("Manure, flanks and leftovers tell first when a ration is wrong.".to_owned());
    list
}

/// What rounding costs, or why it was not done; nothing where it was not asked for.
pub fn rounding(page: &mut Page, report: &Report) {
    if let Some(words) = rounding_words(report) {
        page.section("rounding", "", "");
        page.words("", words);
    }
}

pub(super) fn rounding_words(report: &Report) -> Option<String> {
    match (&report.not_rounded, report.rounding_usd) {
        (Some(why), _) => Some(why.clone()),
        (None, Some(cost)) => Some(format!(
            "Rounded to the scoop, minerals and urea to the ounce; every ration was checked again. Rounding {} {}.",
            if cost >= 0.0 { "costs" } else { "saves" },
            usd(cost.abs())
        )),
        (None, None) => None,
    }
}

/// Why a plan is not rounded, in words.
#[must_use]
pub fn not_rounded(case: &Case, why: &Unrounded) -> String {
    match why {
        Unrounded::Block(g, t) => format!(
            "Not rounded: no amounts in scoops of {} lb near the ration of {} in {} keep every need and limit. These are the exact \
             amounts; a smaller `scoop_lb` may do.",
            figure_text(case.settings.scoop_lb, 2),
            case.groups[*g].name,
            case.periods[*t].label
        ),
        Unrounded::Stores => {
            "Not rounded: in whole scoops the stacks do not reach. These are the exact amounts; a smaller \
                              `scoop_lb` may do."
                .to_owned()
        }
    }
}
