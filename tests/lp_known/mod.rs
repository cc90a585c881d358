//! Random programmes made from their answer: the optimum and its prices are chosen first, sides and costs follow.

// Each test binary uses its own part.
#![allow(dead_code, unreachable_pub)]

use overwinter::lp::{Certified, ColId, Lp, certify, solve};

pub const INF: f64 = f64::INFINITY;

/// A small generator (`splitmix64`), so that a failing seed can be run again anywhere.
pub struct Dice(pub u64);

impl Dice {
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }
    /// A whole number from `low` to `high`.
    pub fn whole(&mut self, low: i32, high: i32) -> f64 {
        let width = u64::from(high.abs_diff(low)) + 1;
        f64::from(low) + (self.next() % width) as f64
    }
    pub fn real(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }
    pub fn chance(&mut self, percent: u64) -> bool {
        self.next() % 100 < percent
    }
    pub fn upto(&mut self, most: usize) -> usize {
        usize::try_from(self.next()).unwrap() % (most + 1)
    }
}

/// A programme and an answer it must have.
pub struct Known {
    pub lp: Lp,
    pub x: Vec<f64>,
}

/// How the known answer is shaped.
#[derive(Clone, Copy)]
pub struct Shape {
    pub rows: usize,
    pub cols: usize,
    pub density: u64,
    /// Share of priceless rows that are tight all the same.
    pub degenerate: u64,
    /// Share of columns that cost exactly what they bring although they stand on a bound.
    pub tied: u64,
}

pub fn known(dice: &mut Dice, shape: Shape) -> Known {
    let mut lp = Lp::default();
    let mut x = Vec::new();
    let mut cost = Vec::new();
    for j in 0..shape.cols {
        let low = if dice.chance(80) { 0.0 } else { dice.whole(-5, 5) };
        let high = low + dice.whole(1, 9);
        let push = if dice.chance(shape.tied) { 0.0 } else { dice.whole(1, 9) };
        let (value, reduced, lower, upper) = match dice.next() % 6 {
            0 | 1 => (low, push, low, if dice.chance(50) { INF } else { high }),
            2 => (high, -push, if dice.chance(80) { low } else { -INF }, high),
            3 => (low, dice.whole(-4, 4), low, low),
            4 => (low + (high - low) / 2.0, 0.0, if dice.chance(70) { low } else { -INF }, high),
            _ => (dice.whole(1, 9), 0.0, 0.0, INF),
        };
        lp.col(format!("x{j}"), 0.0, lower, upper);
        x.push(value);
        cost.push(reduced);
    }
    for i in 0..shape.rows {
        let mut terms = Vec::new();
        for j in 0..shape.cols {
            let value = dice.whole(-9, 9);
            if dice.chance(shape.density) && value != 0.0 {
                terms.push((ColId(j), value));
            }
        }
        let value: f64 = terms.iter().map(|(j, a)| a * x[j.0]).sum();
        let far = if dice.chance(shape.degenerate) { 0.0 } else { dice.whole(1, 20) };
        let push = dice.whole(1, 9);
        let (price, lower, upper) = match dice.next() % 7 {
            0 => (push, value, INF),
            1 => (-push, -INF, value),
            2 => (dice.whole(-6, 6), value, value),
            3 => (push, value, value + dice.whole(1, 20)),
            4 => (-push, value - dice.whole(1, 20), value),
            5 => (0.0, value - far, INF),
            _ => (0.0, value - dice.whole(1, 20), value + far),
        };
        for (j, a) in &terms {
            cost[j.0] += a * price;
        }
        lp.row(format!("r{i}"), lower, upper, terms);
    }
    for (col, cost) in lp.cols.iter_mut().zip(cost) {
        col.cost = cost;
    }
    lp.constant = dice.whole(-50, 50);
    Known { lp, x }
}

impl Known {
    pub fn cost(&self) -> f64 {
        self.lp.cost(&self.x)
    }
    /// The largest number in the cost, against which rounding is to be judged.
    pub fn size(&self) -> f64 {
        let terms = self.lp.cols.iter().zip(&self.x).map(|(col, x)| (col.cost * x).abs());
        terms.fold(self.cost().abs().max(1.0), f64::max)
    }
    /// Solves, and holds the answer against what is known and against the certificate as anyone may ask for it.
    pub fn confirm(&self, seed: u64) -> Certified {
        let answer = solve(&self.lp).unwrap_or_else(|failure| panic!("seed {seed}: {failure}"));
        let off = (answer.objective - self.cost()).abs();
        assert!(off <= 1e-8 * self.size(), "seed {seed}: {} is not {}", answer.objective, self.cost());
        let certificate = certify(&self.lp, &answer.x, &answer.row_dual).expect("the certificate is repeatable");
        assert_eq!(certificate, answer.certificate);
        answer
    }
}

pub fn sized(dice: &mut Dice, most_rows: usize, most_cols: usize) -> Shape {
    Shape {
        rows: dice.upto(most_rows),
        cols: dice.upto(most_cols),
        density: 20 + dice.next() % 80,
        degenerate: dice.next() % 100,
        tied: dice.next() % 40,
    }
}

/// Repeats a column under another name and price.
pub fn twin(lp: &mut Lp, of: usize, more: f64) -> ColId {
    let new = lp.col("twin", lp.cols[of].cost + more, 0.0, INF);
    for row in &mut lp.rows {
        if let Some(&(_, value)) = row.terms.iter().find(|term| term.0.0 == of) {
            row.terms.push((new, value));
        }
    }
    new
}
