//! A named linear programme: build it, solve it, prove the answer, say what is short when there is none.
//!
//! The only user of `good_lp`. Inside, always minimize. A dual is d(cost)/d(right-hand side), whatever the
//! sense of the row; of a range, with respect to the side that is tight.

mod body;
mod certify;
mod dual;
mod elastic;
mod engine;
mod fold;
pub mod model;
mod scale;
mod solve;
mod tight;
mod unique;

pub use certify::{Certificate, Refused, TOLERANCE, certify};
pub use elastic::{Elastic, Missed, Relax, Shortfall, elastic, single_relief};
pub use model::{ColId, Lp, RowId};
pub use solve::{Certified, Failure, solve};
pub use unique::{Uniqueness, uniqueness};
