//! Why results could not be written.

use crate::output::OutputError;
use scenarios::{Fault, Faults};
use std::path::Path;

/// Why results could not be written.
#[derive(Debug, thiserror::Error)]
pub enum ResultsError {
    /// The folder cannot be used as it is; nothing was written.
    #[error(transparent)]
    Refused(#[from] Faults),
    /// The system refused.
    #[error(transparent)]
    Output(#[from] OutputError),
}

impl ResultsError {
    /// The folder or a file in it, what is wrong, what to do.
    pub(super) fn refused(path: &Path, fault: &str, remedy: &str) -> Self {
        Self::Refused(Faults::one(Fault::of_file(&path.display().to_string(), fault, remedy)))
    }
}
