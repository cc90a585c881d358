//! Groups of cattle: what they are, how they stand, and where they are in the year.

pub mod calendar;
pub mod group;
pub mod stage;
pub mod weather;

pub use calendar::{ColdSpell, MonthWeather, Period, Place};
pub use group::{AnimalClass, Coat, Group, Hide, Sex};
pub use stage::Stage;
pub use weather::WeatherTable;
