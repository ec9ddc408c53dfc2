//! What became of the mutants so far, a line each, so that a run that stopped goes on.

use crate::trial::Outcome;
use anyhow::{Context, Result};
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};
use std::fs::{self, File};
use std::io::Write;
use std::path::Path;

/// A line of the file.
#[derive(Deserialize, Serialize)]
#[serde(untagged)]
enum Line {
    /// The first: of which tree the others are.
    Tree { tree: String },
    /// A mutant that cannot be chosen at run time.
    Unswitched { unswitched: String },
    /// What became of a mutant.
    Tried { mutant: String, outcome: Outcome, seconds: f64 },
}

/// What is known of a tree's mutants, in memory and on disk.
pub struct Record {
    outcomes: BTreeMap<String, Outcome>,
    unswitched: BTreeSet<String>,
    file: File,
}

impl Record {
    /// Opens the record of a tree. One of another tree is begun anew, but for what was killed if
    /// that is to be kept.
    ///
    /// # Errors
    /// A file that cannot be read or written.
    pub fn open(path: &Path, tree: &str, keep_killed: bool) -> Result<Self> {
        let old = fs::read_to_string(path).unwrap_or_default();
        // A last line cut short by a stop is left.
        let mut old = old.lines().filter_map(|line| serde_json::from_str(line).ok());
        let same = matches!(old.next(), Some(Line::Tree { tree: of }) if of == tree);
        let file = File::create(path).with_context(|| path.display().to_string())?;
        let mut record = Self { outcomes: BTreeMap::new(), unswitched: BTreeSet::new(), file };
        record.write(&Line::Tree { tree: tree.into() })?;
        for line in old {
            match line {
                Line::Tried { mutant, outcome, seconds } if same || (keep_killed && outcome.noticed()) => {
                    record.add(&mutant, outcome, seconds)?;
                }
                Line::Unswitched { unswitched } if same => record.set_unswitched([unswitched].into_iter())?,
                _ => {}
            }
        }
        Ok(record)
    }

    /// What became of a mutant.
    #[must_use]
    pub fn of(&self, mutant: &str) -> Option<&Outcome> {
        self.outcomes.get(mutant)
    }

    /// Adds what became of a mutant.
    ///
    /// # Errors
    /// A file that cannot be written.
    pub fn add(&mut self, mutant: &str, outcome: Outcome, seconds: f64) -> Result<()> {
        self.outcomes.insert(mutant.into(), outcome.clone());
        self.write(&Line::Tried { mutant: mutant.into(), outcome, seconds })
    }

    /// Whether a mutant is known not to be choosable at run time.
    #[must_use]
    pub fn is_unswitched(&self, mutant: &str) -> bool {
        self.unswitched.contains(mutant)
    }

    /// Adds mutants that cannot be chosen at run time.
    ///
    /// # Errors
    /// A file that cannot be written.
    pub fn set_unswitched(&mut self, mutants: impl Iterator<Item = String>) -> Result<()> {
        for unswitched in mutants {
            if self.unswitched.insert(unswitched.clone()) {
                self.write(&Line::Unswitched { unswitched })?;
            }
        }
        Ok(())
    }

    fn write(&mut self, line: &Line) -> Result<()> {
        Ok(writeln!(self.file, "{}", serde_json::to_string(line)?)?)
    }
}
