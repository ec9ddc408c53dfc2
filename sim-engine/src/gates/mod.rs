//! Gates: what a keeper sees, the strategies, the hard rules, and reasons for the diary.
//!
//! A new strategy is one file that implements [`Strategy`] and one entry of
//! [`spec::StrategyKind`]; the compiler asks for the rest.

mod all_open;
mod between_crops;
mod build;
mod by_eye;
mod continuous;
mod dated;
mod fixed_turn;
mod layered;
pub mod open_hours;
mod pest_date;
pub mod practice;
pub mod reason;
pub mod rules;
pub mod spec;
pub mod strategy;
mod weather;

pub use build::build;
pub use open_hours::{OpenHours, TimeOfDay};
pub use strategy::{CloneStrategy, Observation, Opening, PlotObservation, Proposal, Strategy};
