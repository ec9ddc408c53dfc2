//! Ctrl-C: the first asks for a clean stop, the second ends at once.

use std::sync::atomic::{AtomicBool, Ordering};

static ASKED: AtomicBool = AtomicBool::new(false);
/// What a shell reports for a program ended by Ctrl-C (128 + SIGINT).
const ENDED: i32 = 130;

/// Listens for Ctrl-C from now on.
///
/// # Errors
/// If the system refuses.
pub fn listen(quiet: bool) -> anyhow::Result<()> {
    ctrlc::set_handler(move || {
        if ASKED.swap(true, Ordering::SeqCst) {
            std::process::exit(ENDED);
        }
        crate::screen::talk(quiet, "\nStopping after the possible years that are running; once more to end at once.");
    })?;
    Ok(())
}

/// Whether a stop was asked for.
pub fn asked() -> bool {
    ASKED.load(Ordering::SeqCst)
}
