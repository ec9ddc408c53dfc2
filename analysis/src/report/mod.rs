//! Reports: one HTML file, no network and no script needed, fit for phone, screen and paper.
//!
//! The order is that of a reader in a hurry: one sheet with the answer, the next eight weeks, what to watch, what it saves
//! and costs and how sure that is (of a season: what the gates did, and the harvest); the picture of the year with a card for each plot; the rest folded away. Each part is a
//! file of its own.

mod balance;
mod cards;
mod compared;
pub mod describe;
mod fans;
mod flows;
mod gate_dates;
mod grounds;
mod harvest;
mod limits;
mod measures;
mod moves;
pub(crate) mod page;
pub mod pictures;
mod plot_table;
mod plots;
pub mod practice;
mod rates;
mod reasons;
mod runs;
mod season_page;
mod season_sheet;
mod sheet;
mod strategies;
mod strip;
mod watch;
mod whole;

pub use compared::{CompareView, Report};
pub use season_page::{SeasonView, season_report};
pub use whole::compare_report;
