//! The library looked up: what a word finds, how well it is known, and its pages.

mod count;
mod find;
mod found;
mod markdown;
mod months;
mod units;
mod waiting_rules;
mod words;

pub use count::{Count, count, from_memory};
pub use find::find;
pub use found::FoundEntry;
pub use markdown::markdown;
pub use units::printed;
pub use words::{by_entry, details, overview};
