//! Reports: one HTML file, no network and no script needed, fit for phone, screen and paper.
//!
//! The order is that of a reader in a hurry: the answer, what to do and what to watch, what
//! each strategy costs and buys, the pictures, plot after plot, then everything it rests on.
//! Each part is a file of its own.

mod answer;
mod compared;
pub mod describe;
mod fans;
mod flows;
mod grounds;
mod harvest;
mod limits;
mod measures;
pub(crate) mod page;
pub mod pictures;
mod plan;
mod plot_table;
mod plots;
pub mod practice;
mod rates;
mod season_page;
mod strategies;
mod watch;
mod whole;

pub use compared::{CompareView, Report};
pub use season_page::{SeasonView, season_report};
pub use whole::compare_report;
