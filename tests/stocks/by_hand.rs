//! Winters solved by hand and by trying every vertex.

use super::{case, plan_by};
use approx::assert_relative_eq;
use overwinter::feed::Nutrient;
use overwinter::winter::Case;

/// Two groups, own hay for half of what they need, a cube to buy: 4 amounts, an energy and an intake row each, the stack.
fn own_hay(hay_tons: f64) -> Case {
    case(&format!(
        "place: {{weather: rolling_plains}}
winter: {{from: 2026-12-01, to: 2026-12-31, periods: months}}
groups:
  dry: {{kind: cow, head: 50, weight_lb: 1200, calving: open}}
  wet: {{kind: cow, head: 30, weight_lb: 1200, calving: open}}
needs_override:
  dry: {{nem_mcal: 10, dmi_max_kg: 12}}
  wet: {{nem_mcal: 15, dmi_max_kg: 12}}
feeds:
  prairie_hay: {{on_hand_tons: {hay_tons}, value_usd_per_ton: 40, waste_pct: 10, loss_pct: 5, test: {{dm_pct: 90, tdn_pct_dm: 50}}}}
  straw: {{like: wheat_straw, price_usd_per_ton: 90, waste_pct: 20, loss_pct: 0, test: {{dm_pct: 90, tdn_pct_dm: 42}}}}
  range_cube_38: {{price_usd_per_ton: 400, waste_pct: 0, loss_pct: 0, test: {{dm_pct: 90, tdn_pct_dm: 75}}}}
steady_pct: 0
"
    ))
}

/// The same winter as numbers: minimize cost·x over `rows·x ≤ sides`, x ≥ 0; columns are dry hay, straw, cube, wet
/// hay, straw, cube.
fn by_vertices(case: &Case, hay_tons: f64) -> f64 {
    let nem: Vec<f64> = case
        .offers
        .iter()
        .map(|offer| overwinter::feed::energy::nem_mcal_per_kg(offer.feed.get(Nutrient::Tdn).unwrap()))
        .collect();
    let ton = 907.184_74;
    // Tons for a kg of dry matter eaten, written out anew.
    let tons = [1.0 / 0.9 / (0.95 * 0.9) / ton, 1.0 / 0.9 / 0.8 / ton, 1.0 / 0.9 / ton];
    let days = 30.0;
    let price = [40.0, 90.0, 400.0];
    let mut cost = Vec::new();
    for head in [50.0, 30.0] {
        cost.extend((0..3).map(|f| head * days * tons[f] * price[f]));
    }
    let mut rows: Vec<([f64; 6], f64)> = Vec::new();
    for (group, need) in [(0, 10.0), (1, 15.0)] {
        let (mut energy, mut intake) = ([0.0; 6], [0.0; 6]);
        for f in 0..3 {
            energy[3 * group + f] = -nem[f];
            intake[3 * group + f] = 1.0;
        }
        rows.push((energy, -need));
        rows.push((intake, 12.0));
    }
    rows.push(([50.0 * days * tons[0], 0.0, 0.0, 30.0 * days * tons[0], 0.0, 0.0], hay_tons));
    for j in 0..6 {
        let mut least = [0.0; 6];
        least[j] = -1.0;
        rows.push((least, 0.0));
    }
    let mut best = f64::INFINITY;
    // Every choice of six of the eleven rows.
    for mask in 0_u32..1 << rows.len() {
        if mask.count_ones() != 6 {
            continue;
        }
        let chosen: Vec<_> = (0..rows.len()).filter(|i| mask >> i & 1 == 1).map(|i| rows[i]).collect();
        let Some(x) = solved(&chosen) else { continue };
        let inside = rows.iter().all(|(row, side)| {
            row.iter().zip(&x).map(|(a, b)| a * b).sum::<f64>() <= side + 1e-9 * side.abs().max(1.0)
        });
        if inside {
            best = best.min(cost.iter().zip(&x).map(|(a, b)| a * b).sum());
        }
    }
    best
}

/// Six equations by elimination.
fn solved(rows: &[([f64; 6], f64)]) -> Option<[f64; 6]> {
    let mut a: Vec<[f64; 7]> =
        rows.iter().map(|(row, side)| std::array::from_fn(|j| if j < 6 { row[j] } else { *side })).collect();
    for k in 0..6 {
        let pivot = (k..6).max_by(|p, q| a[*p][k].abs().total_cmp(&a[*q][k].abs()))?;
        if a[pivot][k].abs() < 1e-9 {
            return None;
        }
        a.swap(k, pivot);
        for i in 0..6 {
            if i != k {
                let factor = a[i][k] / a[k][k];
                let row = a[k];
                a[i].iter_mut().zip(row).for_each(|(x, y)| *x -= factor * y);
            }
        }
    }
    Some(std::array::from_fn(|k| a[k][6] / a[k][k]))
}

#[test]
fn own_hay_of_two_groups_as_every_vertex_has_it() {
    for hay in [5.0, 12.0, 20.0, 30.0, 45.0] {
        let case = own_hay(hay);
        let plan = plan_by(&case, &["energy", "intake"]);
        assert_relative_eq!(plan.cost_usd, by_vertices(&case, hay), max_relative = 1e-8);
        // The worth of a ton, held against a hundredth of a ton more and less.
        let step = 0.01;
        let slope = (by_vertices(&case, hay - step) - by_vertices(&case, hay + step)) / (2.0 * step);
        let own = case.offers[0].value_usd_per_ton;
        let worth = plan.feeds[0].one_more_ton_usd.unwrap();
        assert_relative_eq!(worth, slope + own, max_relative = 1e-5, epsilon = 1e-5);
    }
}

/// By hand: with plenty of room to eat, only energy counts, so a ton of hay is worth the straw or cube, whichever is
/// cheaper by the Mcal, whose energy it takes the place of.
#[test]
fn worth_of_hay_by_hand() {
    let case = own_hay(5.0);
    let plan = plan_by(&case, &["energy"]);
    let nem = |f: usize| overwinter::feed::energy::nem_mcal_per_kg(case.offers[f].feed.get(Nutrient::Tdn).unwrap());
    let kg_dm_of_ton = 907.184_74 * 0.9;
    let hay_mcal = kg_dm_of_ton * 0.95 * 0.9 * nem(0);
    let usd_per_mcal = (90.0 / (kg_dm_of_ton * 0.8 * nem(1))).min(400.0 / (kg_dm_of_ton * nem(2)));
    let mcal = (50.0 * 10.0 + 30.0 * 15.0) * 30.0;
    assert_relative_eq!(plan.feeds[0].one_more_ton_usd.unwrap(), hay_mcal * usd_per_mcal, max_relative = 1e-8);
    assert_relative_eq!(plan.cost_usd, 5.0 * 40.0 + (mcal - 5.0 * hay_mcal) * usd_per_mcal, max_relative = 1e-8);
}
