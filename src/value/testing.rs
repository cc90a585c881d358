//! What a lab test of a feed saves: the winter at the asked certainty with and without knowing.
//!
//! Without a test the plan must allow for all that the feed may be off by. A test comes out somewhere within that, and
//! leaves a smaller spread; the plan is then made for what it found. The mean cost over what tests may find is taken by
//! Gauss-Hermite points. Both sides meet every need with the same certainty, so their costs may be compared. The price of
//! the test, and what a poor lot would be sold or bought for, are not in it.

use crate::feed::spread::left_by_test;
use crate::feed::{Nutrient, Offer};
use crate::lp;
use crate::winter::plan::solve_growing;
use crate::winter::program::Program;
use crate::winter::{Case, assemble};

/// Points and weights of Gauss-Hermite quadrature for a standard normal variable (exact for polynomials to degree 9 and
/// 5; Abramowitz and Stegun table 25.10, from memory, tested by their moments).
const FIVE: [(f64, f64); 5] = [
    (-2.856_970_013_872_806, 0.011_257_411_327_720_7),
    (-1.355_626_179_974_266, 0.222_075_922_005_612_6),
    (0.0, 0.533_333_333_333_333_3),
    (1.355_626_179_974_266, 0.222_075_922_005_612_6),
    (2.856_970_013_872_806, 0.011_257_411_327_720_7),
];
const THREE: [(f64, f64); 3] =
    [(-1.732_050_807_568_877_2, 1.0 / 6.0), (0.0, 2.0 / 3.0), (1.732_050_807_568_877_2, 1.0 / 6.0)];

/// What a test of one feed saves.
#[derive(Debug, Clone, PartialEq)]
pub struct Tested {
    /// Which offer; lots that test alike are one pile and one test.
    pub offer: usize,
    /// Standard deviation of TDN before a test and after it, points.
    pub tdn_sd: (f64, f64),
    /// The same of crude protein.
    pub cp_sd: (f64, f64),
    /// Mean least cost of the winter when the plan is made for what the test finds, US dollars; of the outcomes that have
    /// a plan.
    pub with_usd: f64,
    /// Least and greatest of the outcomes counted, US dollars.
    pub outcomes_usd: (f64, f64),
    /// Share of outcomes in which nothing meets the needs as surely as asked, 0 to 1.
    pub no_plan_share: f64,
    /// Plans made.
    pub solved: usize,
}

/// Winters with and without tests.
#[derive(Debug, Clone, PartialEq)]
pub struct Tests {
    /// Least cost of the winter as the file has it, US dollars, in part loads.
    pub without_usd: f64,
    /// By feed that is not tested, in the order of the file.
    pub tests: Vec<Tested>,
}

/// What a test of each untested feed saves.
///
/// # Errors
/// Whatever the engine says of the winter without a test.
pub fn tests(case: &Case) -> Result<Tests, lp::Failure> {
    let without_usd = least_cost(case)?;
    let mut tests = Vec::new();
    for (f, offer) in case.offers.iter().enumerate() {
        let spread = offer.feed.spread(Nutrient::Tdn).is_some();
        let pile = |other: &Offer| other.feed_name() == offer.feed_name() && other.feed.values == offer.feed.values;
        if offer.tested || !spread || !offer.can_be_had() || case.offers[..f].iter().any(pile) {
            continue;
        }
        tests.push(test(case, f)?);
    }
    Ok(Tests { without_usd, tests })
}

fn least_cost(case: &Case) -> Result<f64, lp::Failure> {
    let cells = assemble(case).map_err(|_| lp::Failure::Invalid("a figure is missing".to_owned()))?;
    Ok(solve_growing(&mut Program::build(case, &cells), &cells)?.objective)
}

/// What a test may find: the causes it tells of by themselves, each with its points.
fn outcomes(offer: &Offer) -> Vec<(Vec<(Nutrient, f64)>, f64)> {
    let told = |nutrient: &Nutrient| matches!(nutrient, Nutrient::Tdn | Nutrient::Cp | Nutrient::Ash);
    let causes: Vec<_> = offer
        .feed
        .causes()
        .into_iter()
        .filter(|cause| cause.iter().any(|(nutrient, _)| matches!(nutrient, Nutrient::Tdn | Nutrient::Cp)))
        .collect();
    let points: &[(f64, f64)] = if causes.len() == 1 { &FIVE } else { &THREE };
    let mut list = vec![(Vec::new(), 1.0)];
    for cause in causes {
        let mut longer = Vec::new();
        for (found, weight) in &list {
            for (z, share) in points {
                let mut found: Vec<(Nutrient, f64)> = found.clone();
                // What is found varies by what the test takes off the spread: variances add.
                found.extend(cause.iter().filter(|(nutrient, _)| told(nutrient)).map(|(nutrient, sd)| {
                    let left = left_by_test(*nutrient);
                    (*nutrient, z * sd * (1.0 - left * left).sqrt())
                }));
                longer.push((found, weight * share));
            }
        }
        list = longer;
    }
    list
}

fn test(case: &Case, f: usize) -> Result<Tested, lp::Failure> {
    let offer = &case.offers[f];
    let sd = |nutrient: Nutrient| {
        let before = offer.feed.spread(nutrient).unwrap_or(0.0);
        (before, before * left_by_test(nutrient))
    };
    let pile: Vec<usize> = (0..case.offers.len())
        .filter(|other| {
            let other = &case.offers[*other];
            other.feed_name() == offer.feed_name() && other.feed.values == offer.feed.values
        })
        .collect();
    let (mut sum, mut share, mut none, mut solved) = (0.0, 0.0, 0.0, 0);
    let mut ends = (f64::INFINITY, f64::NEG_INFINITY);
    for (found, weight) in outcomes(offer) {
        let mut known = case.clone();
        for other in &pile {
            let feed = &mut known.offers[*other].feed;
            *feed = feed.moved(&found);
            for nutrient in [Nutrient::Tdn, Nutrient::Cp, Nutrient::Ca, Nutrient::P] {
                let before = offer.feed.spread(nutrient);
                if let (Some(figure), Some(before)) = (feed.values.get_mut(&nutrient), before) {
                    figure.sd = Some(before * left_by_test(nutrient));
                }
            }
        }
        match least_cost(&known) {
            Ok(usd) => {
                sum += weight * usd;
                share += weight;
                ends = (ends.0.min(usd), ends.1.max(usd));
            }
            Err(lp::Failure::Infeasible) => none += weight,
            Err(failure) => return Err(failure),
        }
        solved += 1;
    }
    Ok(Tested {
        offer: f,
        tdn_sd: sd(Nutrient::Tdn),
        cp_sd: sd(Nutrient::Cp),
        with_usd: if share > 0.0 { sum / share } else { f64::NAN },
        outcomes_usd: ends,
        no_plan_share: none,
        solved,
    })
}

#[cfg(test)]
mod tests {
    use super::{FIVE, THREE};

    /// Moments of the normal distribution: 1, 0, 1, 0, 3, 0, 15, 0, 105.
    #[test]
    fn quadrature_has_the_moments_of_a_normal_variable() {
        let moment = |points: &[(f64, f64)], power: i32| points.iter().map(|(z, w)| w * z.powi(power)).sum::<f64>();
        for (power, truth) in [(0, 1.0), (1, 0.0), (2, 1.0), (3, 0.0), (4, 3.0), (6, 15.0), (8, 105.0)] {
            assert!((moment(&FIVE, power) - truth).abs() < 1e-9 * truth.max(1.0), "{power}");
            assert!(power > 5 || (moment(&THREE, power) - truth).abs() < 1e-12 * truth.max(1.0), "{power}");
        }
    }
}
