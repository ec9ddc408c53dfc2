//! The model: what one simulated day does to a site of plots, birds, plants,
//! pests and soil, under a gate strategy.
//!
//! Pure: no files, clock, threads, printing or globals. The same input and the
//! same random stream give the same bytes.

// What tests build is written for those in `tests` and for those beside the formulas.
#[cfg(test)]
extern crate self as sim_engine;
#[cfg(test)]
#[path = "../tests/common/mod.rs"]
mod testing;

pub mod agenda;
pub mod birds_day;
pub mod dates;
pub mod domain;
pub mod drivers;
pub mod flock;
pub mod gates;
pub mod ledger;
pub mod load;
pub mod math;
pub mod measures;
pub mod orders;
pub mod parameters;
pub mod plot;
pub mod run;
pub mod schedule;
pub mod simd;
pub mod site;
pub mod species;
pub mod state;
pub mod streams;
pub mod summary;
pub mod units;
pub mod waiting;
pub mod weather;
