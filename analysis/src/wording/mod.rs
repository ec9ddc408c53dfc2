//! Words for people, made from data at the face.

mod birds_or_none;
mod limits;
mod months;
mod numbers;
mod text;

pub use birds_or_none::birds_or_none;
pub use limits::limit_in_words;
pub use months::{month_name, short_month_name};
pub use numbers::{BLANK, figure, held, interval, measured, number, percent, signed, signed_interval, typeset, unit};
pub use text::{capital, list, possible_years};
