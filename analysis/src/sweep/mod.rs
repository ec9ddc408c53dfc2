//! Sweeps: numbers of a site varied over many cells, each strategy tried in each cell.
//!
//! Every cell sees the same possible years as a comparison of the same site would: cell
//! and comparison agree to the last bit. What follows from the weather alone is
//! computed once per draw for all cells of a block that share the ground, the run of birds shut in once
//! per flock.
//!
//! - [`axis`], [`design`]: what is varied and which cells there are; [`weather_given`]: on which weather, if not generated;
//! - [`work`]: runs a block of cells; [`tally`]: running sums, so that memory does not hang
//!   on the number of draws;
//! - [`part`]: the file finished blocks are kept in, safe against a crash at any moment;
//! - [`merge`]: parts of one run, found whole; [`rows`]: what is told of a cell;
//!   [`columns`]: its table; [`pictures`]: its charts.

pub mod axis;
pub mod columns;
pub mod design;
mod error;
pub mod merge;
#[cfg(feature = "parquet")]
pub mod parquet;
pub mod part;
pub mod pictures;
mod plan;
pub mod row;
pub mod rows;
pub mod same_runs;
mod shard;
pub mod tally;
pub mod weather_given;
pub mod work;

pub use error::SweepError;
pub use plan::{LimitName, SweepPlan};
pub use shard::Shard;
