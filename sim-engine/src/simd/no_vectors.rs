//! A processor whose vectors we do not know: runs go one by one.

use super::real::OnLanes;

/// How many runs go side by side on this processor, whose vectors we do not know.
#[must_use]
pub fn lanes() -> usize {
    1
}

/// The lanes for so many runs.
#[must_use]
pub fn lanes_for(_: usize) -> usize {
    1
}

/// There are no vectors to do it on.
pub fn on_vectors<W: OnLanes>(_: usize, _: W) -> Option<W::Output> {
    None
}
