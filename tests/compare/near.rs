//! Plans within a share of the least cost.

use super::{BITTER_CREEK, example};
use overwinter::value::within::{Aim, within};
use overwinter::winter::assemble;
use overwinter::winter::plan::solve_growing;
use overwinter::winter::program::Program;

/// Plans within a share of the least cost keep to it, are best at what they are called, and more money never makes them worse.
#[test]
fn plans_within_a_share_keep_to_it_and_are_best_at_their_aim() {
    let case = example("examples/high-plains/herd.yaml", &[]);
    let cells = assemble(&case).unwrap();
    let mut before: Option<Vec<(Aim, f64)>> = None;
    for pct in [0.0, 1.0, 3.0] {
        let list = within(&case, &cells, pct).unwrap_or_else(|no| panic!("{no:?}"));
        let all = list.choices.iter().chain(list.no_other.iter().map(|(choice, _)| choice));
        let mut reached = Vec::new();
        let least = list.choices[0].answer.cost_usd;
        for choice in all {
            let cost = choice.answer.cost_usd;
            assert!(
                cost >= least * (1.0 - 1e-8) && cost <= list.ceiling_usd * (1.0 + 1e-6),
                "{:?} at {pct}: {cost}",
                choice.aim
            );
            let figure = match choice.aim {
                Aim::Cheapest => cost,
                Aim::FewestFeeds => f64::from(u32::try_from(choice.measures.feeds).unwrap()),
                Aim::LeastHauling => choice.measures.hauled_tons,
                Aim::LeastGinTrash => choice.measures.gin_trash_tons,
                Aim::MostOwnRoughage => -choice.measures.own_roughage_tons,
            };
            reached.push((choice.aim, figure));
        }
        assert_eq!(reached.len(), Aim::ALL.len(), "{reached:?}");
        // No other plan of the list is better at an aim than the one called after it.
        for choice in &list.choices {
            let of = |aim: Aim| reached.iter().find(|(one, _)| *one == aim).unwrap().1;
            assert!(choice.measures.hauled_tons >= of(Aim::LeastHauling) - 1e-3, "{:?}", choice.aim);
            assert!(choice.measures.gin_trash_tons >= of(Aim::LeastGinTrash) - 1e-3, "{:?}", choice.aim);
            assert!(-choice.measures.own_roughage_tons >= of(Aim::MostOwnRoughage) - 1e-3, "{:?}", choice.aim);
        }
        if let Some(before) = &before {
            for (aim, figure) in before {
                let now = reached.iter().find(|(one, _)| one == aim).unwrap().1;
                assert!(now <= figure + 1e-3, "{aim:?}: {now} at {pct} against {figure}");
            }
        }
        before = Some(reached);
    }
}

/// On a small herd the fewest feeds found are the fewest there are: every set of feeds is tried.
#[test]
fn the_fewest_feeds_found_are_the_fewest_of_all_sets() {
    for (pct, sets) in [(3.0, [].as_slice()), (12.0, &[]), (25.0, &["winter.to=2027-02-01"])] {
        let case = example(BITTER_CREEK, sets);
        let cells = assemble(&case).unwrap();
        let list = within(&case, &cells, pct).unwrap_or_else(|no| panic!("{no:?}"));
        let all = list.choices.iter().chain(list.no_other.iter().map(|(choice, _)| choice));
        let found =
            all.filter(|choice| choice.aim == Aim::FewestFeeds).map(|choice| choice.measures.feeds).next().unwrap();
        let feeds: Vec<usize> = (0..case.offers.len()).filter(|f| !case.offers[*f].feed.class.is_mineral()).collect();
        let fewest = (1_u32..1 << feeds.len())
            .filter(|set| {
                let mut program = Program::build(&case, &cells);
                for (_, f) in feeds.iter().enumerate().filter(|(bit, _)| set & (1 << bit) == 0) {
                    for block in program.blocks.iter().flatten() {
                        if let Some(col) = block.amounts[*f] {
                            program.lp.cols[col.0].upper = 0.0;
                        }
                    }
                }
                solve_growing(&mut program, &cells).is_ok_and(|best| best.objective <= list.ceiling_usd)
            })
            .map(u32::count_ones)
            .min()
            .unwrap();
        assert_eq!(found, usize::try_from(fewest).unwrap(), "within {pct} %");
    }
}
