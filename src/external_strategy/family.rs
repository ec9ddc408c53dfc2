//! A program and all that it starts, to be ended together, from any thread.
//!
//! The program leads a process group. What it starts may leave that group (`setsid`), and what loses its parent
//! belongs to nobody; on Linux such a process becomes a child of ours, and all our children's children are found.

#[cfg(target_os = "linux")]
mod descendants;

use std::process::{Child, ChildStderr, ChildStdin, ChildStdout, Command};
use std::sync::{Mutex, MutexGuard, PoisonError};

/// Where the program is asked, answers and complains.
pub struct Streams {
    /// Its standard input.
    pub stdin: Option<ChildStdin>,
    /// Its standard output.
    pub stdout: Option<ChildStdout>,
    /// Its standard error.
    pub stderr: Option<ChildStderr>,
}

/// At most one program, with all that it starts.
#[derive(Default)]
pub struct Family(Mutex<Option<Started>>);

struct Started {
    program: Child,
    /// Children that we had before, which whoever became us had started.
    #[cfg(target_os = "linux")]
    strangers: Vec<descendants::ListedProcess>,
}

impl Family {
    /// Starts the program.
    ///
    /// # Errors
    /// What the system says.
    pub fn start(&self, command: &mut Command) -> std::io::Result<Streams> {
        // Held while it starts: who ends the family then waits for it.
        let mut started = self.lock();
        #[cfg(target_os = "linux")]
        let strangers = descendants::children();
        #[cfg(target_os = "linux")]
        rustix::process::set_child_subreaper(Some(rustix::process::getpid()))?;
        #[cfg(unix)]
        std::os::unix::process::CommandExt::process_group(command, 0);
        let mut program = command.spawn()?;
        let streams =
            Streams { stdin: program.stdin.take(), stdout: program.stdout.take(), stderr: program.stderr.take() };
        *started = Some(Started {
            program,
            #[cfg(target_os = "linux")]
            strangers,
        });
        Ok(streams)
    }

    /// Ends the program and all that it started, if it runs; returns when they are gone.
    pub fn end(&self) {
        // Held to the end: whoever ends the process next waits for it.
        let mut started = self.lock();
        if let Some(mut started) = started.take() {
            started.end();
        }
    }

    /// What a thread that panicked has left is still to be ended.
    fn lock(&self) -> MutexGuard<'_, Option<Started>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Started {
    #[cfg(target_os = "linux")]
    fn end(&mut self) {
        kill_group(&self.program);
        descendants::end_all_but(&self.strangers);
    }

    #[cfg(not(target_os = "linux"))]
    fn end(&mut self) {
        #[cfg(unix)]
        kill_group(&self.program);
        // Both fail only if it is gone already.
        self.program.kill().ok();
        self.program.wait().ok();
    }
}

/// The group keeps its number until the program is waited for, which nobody did yet.
#[cfg(unix)]
fn kill_group(program: &Child) {
    let group = i32::try_from(program.id()).ok().and_then(rustix::process::Pid::from_raw);
    if let Some(group) = group {
        rustix::process::kill_process_group(group, rustix::process::Signal::KILL).ok();
    }
}
