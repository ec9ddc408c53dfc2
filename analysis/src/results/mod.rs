//! A folder of results: one run at a time writes into it, it belongs to one site and one command, and it
//! knows which files of it a run wrote.
//!
//! What it needs for that lies in a folder of its own among the results, `.hensward`:
//!
//! - `owner`: whose the results are (`owner.rs`); locked while a run writes;
//! - `written`: the files the last run wrote, with their digests (`list.rs`);
//! - while a run writes, each file whole (`stage.rs`), before all are renamed into their places together.
//!
//! Whatever is not in the list, or was changed since, is the keeper's: it is never written over and never
//! removed. What an earlier run wrote and this one does not goes. Before files take their places the list
//! holds the old ones and the new, so that a run that is killed at any moment leaves nothing the next one does
//! not know.

mod error;
mod folder;
mod list;
mod names;
mod owner;
mod stage;

pub use error::ResultsError;
pub use folder::ResultsFolder;
pub use owner::{Origin, SiteOrigin};

#[cfg(test)]
mod tests;
