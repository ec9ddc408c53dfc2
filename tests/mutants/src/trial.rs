//! Putting a mutant to the tests, up to the first that fails.

use crate::build::Binary;
use crate::sample::Mutant;
use crate::settings::Settings;
use anyhow::{Context, Result, bail};
use serde::{Deserialize, Serialize};
use std::fmt;
use std::io::{BufRead, BufReader};
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::thread;
use std::time::{Duration, Instant};

/// Memory a test may ask for, kB: a mutant may ask for all there is.
const MEMORY_KB: u64 = 8_000_000;
/// A test binary may take this many times what it takes without a mutant, and …
const TIMES: u32 = 5;
/// … this much more.
const MORE: Duration = Duration::from_secs(20);

/// What became of a mutant.
#[derive(Clone, Debug, Deserialize, Serialize, PartialEq, Eq)]
#[serde(rename_all = "snake_case")]
pub enum Outcome {
    /// A test failed, or the process ended badly.
    Killed {
        /// Binary and test.
        by: String,
    },
    /// A test binary took far too long, which would be noticed.
    Timeout {
        /// Binary.
        by: String,
    },
    /// Every test passed.
    Survived,
    /// The compiler turned it down: no mutant at all.
    NotBuilt,
}

impl Outcome {
    /// Whether the tests noticed.
    #[must_use]
    pub fn noticed(&self) -> bool {
        matches!(self, Self::Killed { .. } | Self::Timeout { .. })
    }
}

impl fmt::Display for Outcome {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        match self {
            Self::Killed { by } => write!(f, "killed by {by}"),
            Self::Timeout { by } => write!(f, "{by} takes too long"),
            Self::Survived => f.write_str("SURVIVED"),
            Self::NotBuilt => f.write_str("turned down by the compiler"),
        }
    }
}

/// How a run of a test binary ended.
enum Ended {
    Well,
    Failed(String),
    Late,
}

/// The test binaries with the time each takes without a mutant.
pub struct Tests<'a> {
    binaries: Vec<(Binary, Duration)>,
    settings: &'a Settings,
}

impl<'a> Tests<'a> {
    /// Runs every binary once without a mutant.
    ///
    /// # Errors
    /// A test that fails: nothing can be said of mutants then.
    pub fn measured(binaries: &[Binary], settings: &'a Settings) -> Result<Self> {
        let mut measured = Vec::new();
        for binary in binaries {
            let begun = Instant::now();
            let ended = run(binary, "", 0, Duration::from_secs(600), settings)?;
            if let Ended::Failed(test) = ended {
                bail!("without any mutant {test} fails");
            }
            println!("{:>7.2} s  {}", begun.elapsed().as_secs_f64(), binary.name);
            measured.push((binary.clone(), begun.elapsed()));
        }
        measured.sort_by_key(|(_, took)| *took);
        Ok(Self { binaries: measured, settings })
    }

    /// The same times for another build of the same binaries.
    #[must_use]
    pub fn with(&self, binaries: &[Binary]) -> Self {
        let path = |old: &Binary| binaries.iter().find(|new| new.name == old.name).unwrap_or(old).clone();
        let binaries = self.binaries.iter().map(|(old, took)| (path(old), *took)).collect();
        Self { binaries, settings: self.settings }
    }

    /// Puts a mutant to the tests; `number` chooses it.
    ///
    /// # Errors
    /// A binary that cannot be run.
    pub fn try_out(&self, mutant: &Mutant, number: u32) -> Result<Outcome> {
        for (binary, module, took) in self.order(mutant) {
            match run(binary, &module, number, took * TIMES + MORE, self.settings)? {
                Ended::Well => {}
                Ended::Failed(by) => return Ok(Outcome::Killed { by }),
                Ended::Late => return Ok(Outcome::Timeout { by: binary.name.clone() }),
            }
        }
        Ok(Outcome::Survived)
    }

    /// First the unit tests of its module, then those of its package, then all that can see it,
    /// the quick first.
    fn order(&self, mutant: &Mutant) -> Vec<(&Binary, String, Duration)> {
        let packages = &self.settings.tests.packages;
        let sees = |binary: &Binary| {
            let rank = |package: &str| packages.iter().position(|name| name == package);
            rank(&binary.package) >= rank(&mutant.package)
        };
        let own = format!("{}/lib", mutant.package);
        let (mut order, mut others) = (Vec::new(), Vec::new());
        for (binary, took) in self.binaries.iter().filter(|(binary, _)| sees(binary)) {
            if binary.name == own {
                order.push((binary, module(mutant), *took));
                order.push((binary, String::new(), *took));
            } else {
                others.push((binary, String::new(), *took));
            }
        }
        order.extend(others);
        order
    }
}

/// `stats::t` of `analysis/src/stats/t.rs`.
fn module(mutant: &Mutant) -> String {
    let path = mutant.file.split_once("/src/").map_or("", |(_, path)| path);
    let path = path.trim_end_matches(".rs").trim_end_matches("/mod");
    path.replace('/', "::")
}

fn run(binary: &Binary, module: &str, number: u32, limit: Duration, settings: &Settings) -> Result<Ended> {
    let mut child = start(binary, module, number, settings).with_context(|| binary.name.clone())?;
    let Some(stdout) = child.stdout.take() else { bail!("{} has no output", binary.name) };
    let (said, hear) = channel();
    thread::spawn(move || {
        for line in BufReader::new(stdout).lines().map_while(Result::ok) {
            if let Some(test) = failed(&line) {
                _ = said.send(test);
            }
        }
    });
    let ended = match hear.recv_timeout(limit) {
        Ok(test) => Ended::Failed(format!("{} {test}", binary.name)),
        Err(RecvTimeoutError::Timeout) => Ended::Late,
        // Its output is at an end, and so is the process.
        Err(RecvTimeoutError::Disconnected) => {
            let status = child.wait()?;
            let died = || Ended::Failed(format!("{} ended with {status}", binary.name));
            return Ok(if status.success() { Ended::Well } else { died() });
        }
    };
    // It may be over by itself by now.
    _ = child.kill();
    child.wait()?;
    Ok(ended)
}

fn start(binary: &Binary, module: &str, number: u32, settings: &Settings) -> std::io::Result<Child> {
    let mut shell = Command::new("sh");
    shell.args(["-c", &format!("ulimit -v {MEMORY_KB}; exec \"$0\" \"$@\"")]).arg(&binary.path);
    shell.args(["--test-threads=1", module]);
    for test in settings.tests.skip.keys() {
        shell.args(["--skip", test]);
    }
    shell.current_dir(&binary.folder).env("CARGO_MANIFEST_DIR", &binary.folder).env("MUTANT", number.to_string());
    // The same cases every time, and none remembered from another mutant.
    shell.env("PROPTEST_RNG_SEED", "1").env("PROPTEST_DISABLE_FAILURE_PERSISTENCE", "1");
    shell.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::null()).spawn()
}

/// The name of the test a line of libtest calls failed.
fn failed(line: &str) -> Option<String> {
    let before = line.strip_suffix("FAILED")?;
    let name = before.strip_prefix("test ").unwrap_or(before).trim_end_matches([' ', '.']);
    Some(name.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_failed_test_is_read_by_its_name() {
        assert_eq!(failed("test a::b ... FAILED").as_deref(), Some("a::b"));
        assert_eq!(failed("test a::b ... ok"), None);
        assert_eq!(failed("test result: FAILED. 1 passed"), None);
    }
}
