//! Thousands of price lists over one herd: the programme is built once, only its costs change, and the lists are shared out
//! among threads.

use super::answer::{Answer, NoAnswer, read, short};
use crate::lp;
use crate::winter::plan::{solve_growing, solve_growing_from};
use crate::winter::program::Program;
use crate::winter::{Case, Cells, assemble};
use std::collections::BTreeMap;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc;

/// Prices at the seller, US dollars per short ton as fed, by offer; `None`: that of the file.
pub type PriceList = Vec<Option<f64>>;

/// One herd, made ready for many price lists.
pub struct Sweep<'c> {
    case: &'c Case,
    cells: Cells<'c>,
    program: Program,
    /// The answer at the prices of the case.
    base: lp::Certified,
}

/// Lays a price list over the prices of a case. A feed priced by month keeps one price for all its months.
pub fn lay_over(case: &mut Case, prices: &[Option<f64>]) {
    for (offer, price) in case.offers.iter_mut().zip(prices) {
        let Some(price) = price else { continue };
        offer.price_usd_per_ton = Some(*price);
        for month in &mut offer.price_by_month {
            month.usd_per_ton = *price;
        }
    }
}

impl<'c> Sweep<'c> {
    /// Makes a case ready. Every feed that a price list will price must have a price in it, so that it can be bought.
    ///
    /// # Errors
    /// What is wrong with the case, or what is short: prices change no need and no limit, so what is short at one price
    /// list is short at all of them.
    pub fn new(case: &'c Case) -> Result<Self, NoAnswer> {
        let cells = assemble(case).map_err(NoAnswer::Input)?;
        let mut program = Program::build(case, &cells);
        match solve_growing(&mut program, &cells) {
            Ok(base) => Ok(Self { case, cells, program, base }),
            Err(failure) => Err(short(case, &cells, &program, &failure)),
        }
    }

    /// The answers to price lists, handed on in order, each as soon as those before it are there. `each` may end it by an
    /// error.
    ///
    /// # Errors
    /// That of `each`.
    pub fn run<E>(
        &self,
        lists: &[PriceList],
        threads: usize,
        mut each: impl FnMut(usize, Result<Answer, NoAnswer>) -> Result<(), E>,
    ) -> Result<(), E> {
        let next = AtomicUsize::new(0);
        std::thread::scope(|scope| {
            let (send, receive) = mpsc::channel();
            for _ in 0..threads.clamp(1, lists.len().max(1)) {
                let (send, next) = (send.clone(), &next);
                scope.spawn(move || {
                    let mut worker = Worker { sweep: self, case: self.case.clone(), program: self.program.clone() };
                    loop {
                        let index = next.fetch_add(1, Ordering::Relaxed);
                        let Some(list) = lists.get(index) else { break };
                        // The other end is gone when `each` has had enough.
                        if send.send((index, worker.answer(list))).is_err() {
                            break;
                        }
                    }
                });
            }
            drop(send);
            let mut waiting = BTreeMap::new();
            let mut due = 0;
            for (index, answer) in receive {
                waiting.insert(index, answer);
                while let Some(answer) = waiting.remove(&due) {
                    each(due, answer)?;
                    due += 1;
                }
            }
            Ok(())
        })
    }
}

/// One thread's own copy.
struct Worker<'s, 'c> {
    sweep: &'s Sweep<'c>,
    case: Case,
    program: Program,
}

impl Worker<'_, '_> {
    fn answer(&mut self, prices: &[Option<f64>]) -> Result<Answer, NoAnswer> {
        let cells = &self.sweep.cells;
        for (mine, own) in self.case.offers.iter_mut().zip(&self.sweep.case.offers) {
            mine.price_usd_per_ton = own.price_usd_per_ton;
            mine.price_by_month.clone_from(&own.price_by_month);
        }
        lay_over(&mut self.case, prices);
        self.program.reprice(&self.case);
        let answer = match solve(&mut self.program, cells, &self.sweep.base) {
            Ok(best) => read(&self.case, cells, &self.program, &best),
            Err(failure) => Err(NoAnswer::Unproven(failure.to_string())),
        };
        // Tangents found for one list are no part of the next: answers must not hang on who solved what before.
        self.program.forget(&self.sweep.program);
        answer
    }
}

/// The one solve of a price list. It starts at the answer to the prices of the case, always the same, so that no answer
/// hangs on who solved what before.
fn solve(program: &mut Program, cells: &Cells<'_>, base: &lp::Certified) -> Result<lp::Certified, lp::Failure> {
    solve_growing_from(program, cells, base)
}
