//! The gin's side: what comes out of the seed cotton, when, what neighbors can pay for it, and what it nets.
//!
//! `balance` splits the seed cotton, `weeks` spreads it over the season, `buyer` asks each neighbor's least-cost winter
//! what it buys at which price, `pile` keeps the books week by week at one price, `price` finds the price that nets most,
//! `radius` and `process` say how far it hauls and what handling does, `answer` puts
//! them together, `ticket` what the buyer must be told.

pub mod answer;
pub mod balance;
pub mod buyer;
pub mod case;
pub mod harvest;
pub mod pile;
pub mod price;
pub mod process;
pub mod product;
pub mod radius;
pub mod reference;
pub mod ticket;
pub mod two_prices;
pub mod weeks;
pub mod yard;

pub use balance::Balance;
pub use buyer::Buyer;
pub use case::{Gin, Neighbor, Who};
pub use harvest::Harvest;
pub use product::{Form, Kind, Outlet, Product};
