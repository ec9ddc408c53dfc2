//! The birds: who they are, where their day goes, what they need, what they carry.

pub mod activity;
pub mod energy;
pub mod excretion;
pub mod foraging;
pub mod infection;
pub mod party;
