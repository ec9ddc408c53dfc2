//! Many runs.

pub mod stats;
pub mod verdict;
pub mod charts;
