//! Being asked to stop: the first time what is running is finished, the second time it ends at once.
//!
//! Asked by Ctrl-C; on Unix by SIGTERM and SIGHUP too, as queues of jobs and closed terminals do.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// What a shell reports for a program ended by a signal: this and the number of the signal.
const ENDED_BY: i32 = 128;

/// Listens from now on: the sign that turns true when a stop is asked for, for the job of this command.
///
/// # Errors
/// If the system refuses.
pub fn listen(quiet: bool) -> anyhow::Result<Arc<AtomicBool>> {
    listen_and(quiet, || ())
}

/// The same, with what must be done yet before the second time ends it.
///
/// # Errors
/// If the system refuses.
pub fn listen_and(quiet: bool, before_the_end: impl Fn() + Send + 'static) -> anyhow::Result<Arc<AtomicBool>> {
    let sign = Arc::new(AtomicBool::new(false));
    let raised = Arc::clone(&sign);
    signals::each(move |signal| {
        if raised.swap(true, Ordering::SeqCst) {
            before_the_end();
            std::process::exit(ENDED_BY + signal);
        }
        crate::screen::talk(quiet, "\nStopping after the possible years that are running; once more to end at once.");
    })?;
    Ok(sign)
}

#[cfg(unix)]
mod signals {
    use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM};
    use signal_hook::iterator::Signals;
    use std::io::IsTerminal;
    use std::time::{Duration, Instant};

    /// A terminal that closes may tell it twice, itself and through its shell: within this it is once.
    const SAME_CLOSING: Duration = Duration::from_secs(1);

    /// Does this with the number of each signal that asks for a stop.
    pub fn each(asked: impl Fn(i32) + Send + 'static) -> anyhow::Result<()> {
        let mut signals = Signals::new([SIGINT, SIGTERM])?;
        if !outlives_its_terminal() {
            signals.add_signal(SIGHUP)?;
        }
        std::thread::Builder::new().name("signals".into()).spawn(move || {
            let mut closed: Option<Instant> = None;
            for signal in signals.forever() {
                let again = closed.is_some_and(|at| at.elapsed() < SAME_CLOSING);
                if signal != SIGHUP || !again {
                    asked(signal);
                }
                if signal == SIGHUP {
                    closed = Some(Instant::now());
                }
            }
        })?;
        Ok(())
    }

    /// Whether it was started so as to outlive its terminal (`nohup`).
    fn outlives_its_terminal() -> bool {
        match std::fs::read_to_string("/proc/self/status") {
            Ok(status) => ignores(&status, SIGHUP),
            // What is ignored is shown by Linux alone; `nohup` leaves no stream on a terminal.
            Err(_) => {
                let (stdin, stdout, stderr) = (std::io::stdin(), std::io::stdout(), std::io::stderr());
                !stdin.is_terminal() && !stdout.is_terminal() && !stderr.is_terminal()
            }
        }
    }

    /// Whether a process of this status ignores a signal.
    fn ignores(status: &str, signal: i32) -> bool {
        let ignored = status.lines().find_map(|line| line.strip_prefix("SigIgn:"));
        let ignored = ignored.and_then(|mask| u64::from_str_radix(mask.trim(), 16).ok()).unwrap_or(0);
        ignored >> (signal - 1) & 1 == 1
    }

    #[cfg(test)]
    mod tests {
        use super::*;

        #[test]
        fn a_status_tells_which_signals_are_ignored() {
            let status = "Name:\thensward\nSigBlk:\t0000000000000001\nSigIgn:\t0000000000001001\n";
            assert!(ignores(status, SIGHUP) && !ignores(status, SIGINT) && !ignores("", SIGHUP));
        }
    }
}

#[cfg(not(unix))]
mod signals {
    /// Ctrl-C, by the number it has elsewhere.
    const SIGINT: i32 = 2;

    /// Does this at each Ctrl-C.
    pub fn each(asked: impl Fn(i32) + Send + 'static) -> anyhow::Result<()> {
        ctrlc::set_handler(move || asked(SIGINT))?;
        Ok(())
    }
}
