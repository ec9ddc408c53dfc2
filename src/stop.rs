//! Ctrl-C: the first asks for a clean stop, the second ends at once.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// What a shell reports for a program ended by Ctrl-C (128 + SIGINT).
const ENDED: i32 = 130;

/// Listens for Ctrl-C from now on: the sign that turns true when a stop is asked for, for the job of
/// this command.
///
/// # Errors
/// If the system refuses.
pub fn on_ctrl_c(quiet: bool) -> anyhow::Result<Arc<AtomicBool>> {
    let sign = Arc::new(AtomicBool::new(false));
    let raised = Arc::clone(&sign);
    ctrlc::set_handler(move || {
        if raised.swap(true, Ordering::SeqCst) {
            std::process::exit(ENDED);
        }
        crate::screen::talk(quiet, "\nStopping after the possible years that are running; once more to end at once.");
    })?;
    Ok(sign)
}
