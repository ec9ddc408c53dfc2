//! A keeper's practice: rules read from the top each morning, and a home where none of them has an answer.

mod morning;
mod plots;
pub mod rule;
pub mod tally;
mod year_mark;

pub use morning::Practice;
