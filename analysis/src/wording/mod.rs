//! Words for people, made from data at the face.

mod birds_or_none;
mod countries;
mod dates;
mod harvest_dates;
mod limits;
mod numbers;
mod rates;
mod shut_in;
mod text;
mod work;

pub use birds_or_none::{birds_or_none, flock_in_words};
pub use countries::longest_of_countries;
pub use dates::{month_name, plain_date, short_month_name};
pub use harvest_dates::{WINDFALL, birds_until, harvest_in_words};
pub use limits::limit_in_words;
pub use numbers::{BLANK, figure, held, interval, measured, number, percent, signed, signed_interval, typeset, unit};
pub use rates::{one_of, rates, worth};
pub use shut_in::limits_shut_in;
pub use text::{capital, either, list, possible_years};
pub use work::{WORK_KINDS, work};
