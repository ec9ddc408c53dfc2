//! Work that takes long: it can be stopped, and says how far it has come.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// A piece of work under way, told apart from every other: its stop sign and who hears of its
/// progress, in whatever counts as progress for it.
pub struct Job<'j, P = usize> {
    stop: Arc<AtomicBool>,
    progress: &'j (dyn Fn(P) + Sync),
}

impl<'j, P> Job<'j, P> {
    /// A job that stops when `stop` turns true; `progress` hears how far it has come.
    #[must_use]
    pub fn new(stop: Arc<AtomicBool>, progress: &'j (dyn Fn(P) + Sync)) -> Self {
        Self { stop, progress }
    }

    /// A job that runs to its end, unheard.
    #[must_use]
    pub fn unheard() -> Self {
        Self { stop: Arc::default(), progress: &|_| () }
    }

    /// The same job, whose progress is heard in other terms.
    #[must_use]
    pub fn heard_as<'k, Q>(&self, progress: &'k (dyn Fn(Q) + Sync)) -> Job<'k, Q> {
        Job { stop: Arc::clone(&self.stop), progress }
    }

    /// Whether it was asked to stop. What is finished by then is kept.
    #[must_use]
    pub fn stopped(&self) -> bool {
        self.stop.load(Ordering::SeqCst)
    }

    /// So far it has come.
    pub fn come_to(&self, far: P) {
        (self.progress)(far);
    }
}
