//! Words for people, made from data at the face.

mod dates;
mod limits;
mod numbers;
mod text;

pub use dates::{month_name, plain_date, short_month_name};
pub use limits::limit_in_words;
pub use numbers::{BLANK, figure, held, interval, measured, number, percent, signed, signed_interval, typeset, unit};
pub use text::{capital, list, possible_years};
