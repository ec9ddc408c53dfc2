//! What is run, and how.

use crate::drivers::Drivers;
use crate::site::Site;

/// A site with its unknowns settled, and what its weather and calendar decide.
pub type Realization<'a> = (&'a Site, &'a Drivers);

/// How a run is made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RunOptions {
    /// There are birds.
    pub birds: bool,
    /// Manual care is done: hoeing, mowing, clearing and so on.
    pub care: bool,
    /// One decision inverted: day of the run and plot.
    pub counterfactual: Option<(usize, usize)>,
}

impl Default for RunOptions {
    fn default() -> Self {
        Self { birds: true, care: true, counterfactual: None }
    }
}

impl RunOptions {
    /// No birds, usual care.
    #[must_use]
    pub fn no_birds() -> Self {
        Self { birds: false, ..Self::default() }
    }

    /// No birds and no care.
    #[must_use]
    pub fn nothing() -> Self {
        Self { birds: false, care: false, ..Self::default() }
    }
}
