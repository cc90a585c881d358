//! A named linear programme: build it, solve it, prove the answer, say what is short when there is none.
//!
//! The only user of `good_lp`. Inside, always minimize. A dual is d(cost)/d(right-hand side), whatever the
//! sense of the row; of a range, with respect to the side that is tight.

mod attempt;
mod body;
mod certify;
mod dual;
mod elastic;
mod engine;
mod fold;
pub mod model;
mod proof;
mod range;
mod scale;
mod simplex;
mod solve;
mod start;
mod steps;
mod tight;
mod unique;
mod whole;

pub use certify::{Certificate, Refused, TOLERANCE, certify};
pub use elastic::{Elastic, Missed, Relax, Shortfall, conflict, elastic, single_relief};
pub use model::{ColId, Lp, RowId};
pub use range::{Change, PriceEnd, PriceRange, SideEnd, SideRange, price_range, price_sides, side_range};
pub use solve::{Certified, Failure, solve, solve_from};
pub use start::{Start, solve_near};
pub use steps::{Priced, Step, step_table};
pub use unique::{Uniqueness, uniqueness};
pub use whole::{Ended, WholeAnswer, solve_whole};
