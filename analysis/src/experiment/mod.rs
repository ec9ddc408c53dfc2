//! Draws × arms × recorders: every run the program makes for an answer is made here.
//!
//! A [`Trial`] holds some draws with their run of birds shut in, and runs any arm on them; many draws
//! go over the threads in [`over_draws()`]. What comes out is plain data: tables, JSON, charts and pages are
//! made from it and never run anything.

mod cover;
mod job;
mod outcome;
mod over_draws;
mod trial;

pub use cover::CoverRecorder;
pub use job::Job;
pub use outcome::{ArmId, DrawOutcome, Outcome, gain, outcome_given, outcomes};
pub use over_draws::{draws_of, over_draws};
pub use trial::{Arm, Judged, Trial};
