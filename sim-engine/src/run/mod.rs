//! Runs of a site under a strategy: one ([`Run`], [`simulate`]), or several side by side ([`Batch`]).
//! Both go through the order of a day that [`day`] has on its first page.

pub(crate) mod accumulate;
pub mod batch;
mod care;
pub mod day;
pub mod events;
pub(crate) mod forcing;
pub(crate) mod gate_control;
pub(crate) mod ground;
mod ground_day;
pub(crate) mod grown_on;
mod guards;
pub mod options;
pub mod plot_sums;
pub mod recorder;
pub mod single;
pub mod start;
pub mod world;
pub(crate) mod zone_editor;

pub use batch::Batch;
pub use options::{Realization, RunOptions};
pub use single::{Run, simulate};
