//! Published trials with poultry as site files, played and judged.

pub mod judge;
pub mod page;
pub mod play;
pub mod rows;
pub mod watch;

use std::path::{Path, PathBuf};

/// The page that is made, from the top of the repository.
pub const PAGE: &str = "docs/trust.md";
/// Where its site files are, likewise.
pub const SITES: &str = "scenarios/hindcasts";

/// The top of the repository.
#[must_use]
pub fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}
