//! Tables for the terminal: aligned, names wrapped, within 80 columns.

mod compare;
mod layout;
mod season;
mod sweep;
mod why;
mod wrapping;

pub use compare::{compare_table, few_years};
pub use layout::{TextColumn, TextTable};
pub use season::season_table;
pub use sweep::{setting, settings, sweep_table};
pub use why::why_text;
pub use wrapping::{WIDTH, indented, paragraph, wrap, wrapped};
