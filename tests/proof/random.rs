//! Random winters: each is planned with a proof, or told to be short. Nothing else may happen.

use super::kit::{line, read, words};
use overwinter::herd::AnimalClass;
use overwinter::{Stop, plan};
use std::fmt::Write as _;
use std::time::Instant;

const WINTERS: u64 = 200;

/// A small generator of our own, so that a seed names a winter for good (xorshift64*).
struct Dice(u64);

impl Dice {
    fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ 0x2545_F491_4F6C_DD1D)
    }
    fn next(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_F491_4F6C_DD1D)
    }
    #[allow(clippy::cast_precision_loss)]
    fn unit(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }
    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }
    #[allow(clippy::cast_possible_truncation)]
    fn one_of<T: Copy>(&mut self, list: &[T]) -> T {
        list[(self.next() % list.len() as u64) as usize]
    }
    fn chance(&mut self, share: f64) -> bool {
        self.unit() < share
    }
}

const ROUGHAGES: [&str; 10] = [
    "prairie_hay",
    "bermuda_hay_good",
    "bermuda_hay_mature",
    "gin_trash_picker",
    "gin_trash_stripper",
    "wheat_hay",
    "alfalfa_hay_fair",
    "wheat_straw",
    "sorghum_silage",
    "native_range_dormant",
];
const SUPPLEMENTS: [&str; 10] = [
    "whole_cottonseed",
    "distillers_grains",
    "range_cube_20",
    "range_cube_38",
    "cottonseed_meal_prepress",
    "corn",
    "soybean_hulls",
    "corn_gluten_feed",
    "liquid_feed_32",
    "molasses",
];

/// A herd file of two groups, four periods and up to eight feeds.
pub(crate) fn winter(seed: u64) -> String {
    let mut dice = Dice::new(seed);
    let mut text = "winter: {from: 2026-12-01, to: 2027-04-01, periods: months}\n".to_owned();
    if dice.chance(0.5) {
        text.push_str("place: {name: Somewhere, weather: rolling_plains}\n");
    }
    if dice.chance(0.4) {
        text.push_str("steady_pct: 0\n");
    }
    text.push_str("groups:\n");
    for name in ["first", "second"] {
        let class = dice.one_of(&AnimalClass::ALL[..7]);
        let head = dice.between(1.0, 300.0).floor();
        let mature = dice.between(1050.0, 1400.0).round();
        let young = matches!(class, AnimalClass::Stocker | AnimalClass::ReplacementHeifer | AnimalClass::YoungBull);
        let weight = match class {
            AnimalClass::Cow | AnimalClass::Bull => mature,
            _ if young => (mature * dice.between(0.35, 0.7)).round(),
            _ => (mature * dice.between(0.75, 0.88)).round(),
        };
        write!(text, "  {name}: {{kind: {}, head: {head}, weight_lb: {weight}", class.key()).unwrap();
        if class.grows() {
            write!(text, ", mature_weight_lb: {mature}").unwrap();
        }
        if young {
            write!(text, ", gain_lb_per_day: {:.2}", dice.between(0.3, 2.0)).unwrap();
        }
        if class.calves() {
            let month = if class == AnimalClass::BredHeifer { 1 + dice.next() % 4 } else { 1 + dice.next() % 9 };
            let year = if month > 6 { 2026 } else { 2027 };
            write!(text, ", calving: {year}-{month:02}-{:02}", 1 + dice.next() % 27).unwrap();
        }
        text.push_str("}\n");
    }
    text.push_str("feeds:\n");
    let mut feeds: Vec<&str> = Vec::new();
    let roughages = 1 + dice.next() % 3;
    for _ in 0..roughages {
        feeds.push(dice.one_of(&ROUGHAGES));
    }
    for _ in 0..2 + dice.next() % 3 {
        feeds.push(dice.one_of(&SUPPLEMENTS));
    }
    feeds.extend(["limestone", "mineral_12_12"]);
    feeds.sort_unstable();
    feeds.dedup();
    for feed in feeds {
        let roughage = ROUGHAGES.contains(&feed);
        let usd = if roughage { dice.between(10.0, 180.0) } else { dice.between(120.0, 480.0) };
        write!(text, "  {feed}: {{price_usd_per_ton: {usd:.0}").unwrap();
        if roughage && dice.chance(0.4) {
            write!(
                text,
                ", on_hand_tons: {:.0}, value_usd_per_ton: {:.0}",
                dice.between(5.0, 400.0),
                dice.between(0.0, 90.0)
            )
            .unwrap();
        }
        if roughage && dice.chance(0.3) {
            text.push_str(", fed: free_choice");
        }
        if roughage && dice.chance(0.3) {
            write!(text, ", loss_pct_per_month: {:.1}", dice.between(0.0, 6.0)).unwrap();
        }
        if !roughage && dice.chance(0.15) {
            write!(text, ", max_lb: {:.1}", dice.between(0.5, 6.0)).unwrap();
        }
        if dice.chance(0.1) {
            text.push_str(", to: 2027-02-15");
        }
        text.push_str("}\n");
    }
    text
}

#[test]
fn random_winters_are_proved_or_short() {
    let start = Instant::now();
    let (mut plans, mut shorts, mut ways, mut faults) = (0, 0, 0, Vec::new());
    for seed in 0..WINTERS {
        let text = winter(seed);
        let case = read(&text);
        match plan(&case) {
            Ok(report) => {
                plans += 1;
                let proof = report.certificate.unwrap();
                assert!(proof.primal.max(proof.dual).max(proof.relative_gap) <= 1e-9, "seed {seed}: {proof:?}");
                for period in report.groups.iter().flat_map(|group| &group.periods) {
                    assert!(line(period, "protein-floor").value >= 7.0 - 1e-6, "seed {seed}");
                    assert!(line(period, "distillers").value <= 0.5 + 1e-6, "seed {seed}");
                    assert!(period.limits.iter().all(|line| line.kept), "seed {seed}");
                }
            }
            Err(Stop::Short(short)) => {
                shorts += 1;
                assert!(!short.shortfalls.is_empty(), "seed {seed}");
                for way in &short.ways_out {
                    assert!(super::short::leads_out(&case, way), "seed {seed}: {way:?}\n{text}");
                    ways += 1;
                }
            }
            Err(other) => faults.push(format!("seed {seed}: {}\n{text}", words(&other))),
        }
    }
    let took = start.elapsed();
    // Shown by `cargo test -- --nocapture`.
    #[allow(clippy::print_stderr)]
    {
        eprintln!(
            "{WINTERS} random winters: {plans} plans, {shorts} short with {ways} ways out, {} faults, {took:.1?}",
            faults.len()
        );
    }
    assert!(faults.is_empty(), "{} of {WINTERS} neither proved nor short:\n{}", faults.len(), faults.join("\n"));
    assert!(plans > WINTERS / 4 && shorts > WINTERS / 20, "{plans} plans, {shorts} short: the winters do not vary");
}
