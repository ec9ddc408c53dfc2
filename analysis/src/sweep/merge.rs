//! Parts of one run, found whole: no gap, nothing twice, nothing mixed, nothing damaged.

use super::part::{Block, PartReader};
use super::{SweepError, SweepPlan};
use std::path::PathBuf;

/// Most missing parts that are named.
const MOST_NAMED: usize = 12;

/// Finished parts that make up one run, in the order of their cells.
#[derive(Clone, Debug)]
pub struct Whole {
    /// The plan they share.
    pub plan: SweepPlan,
    parts: Vec<PathBuf>,
}

impl Whole {
    /// Checks that parts make up one run: every line of every part is read.
    ///
    /// # Errors
    /// A part that cannot be read, is damaged, unfinished, of another run, twice there or missing.
    pub fn of(parts: &[PathBuf]) -> Result<Self, SweepError> {
        let mut whole: Option<(SweepPlan, PathBuf)> = None;
        let mut found: Vec<(u64, PathBuf)> = Vec::new();
        let mut of = 1;
        for path in parts {
            let shown = path.display().to_string();
            let mut reader = PartReader::open(path)?.ok_or_else(|| unfinished(&shown))?;
            match &whole {
                None => {
                    of = reader.shard.of;
                    whole = Some((reader.plan.clone(), path.clone()));
                }
                Some((plan, first)) => alike(&shown, &reader, plan, of, &first.display().to_string())?,
            }
            if let Some((_, other)) = found.iter().find(|(number, _)| *number == reader.shard.number) {
                let fault = format!("is part {}/{of}, and so is {}", reader.shard.number, other.display());
                return Err(SweepError::argument(&shown, fault, "Name each part once."));
            }
            while reader.block()?.is_some() {}
            if !reader.finished {
                return Err(unfinished(&shown));
            }
            found.push((reader.shard.number, path.clone()));
        }
        let Some((plan, first)) = whole else {
            return Err(SweepError::argument("PART", "no part was named", "Name the part files of one sweep."));
        };
        found.sort();
        let missing = (1..=of).filter(|number| found.iter().all(|(have, _)| have != number));
        let named: Vec<String> = missing.take(MOST_NAMED).map(|number| format!("{number}/{of}")).collect();
        if !named.is_empty() {
            let lacking = of - found.len() as u64;
            let more = if lacking > named.len() as u64 { format!(" … ({lacking} in all)") } else { String::new() };
            let fault = format!("of its run these parts are missing: {}{more}", named.join(", "));
            return Err(SweepError::argument(
                &first.display().to_string(),
                fault,
                "Run them with --shard, and name all parts.",
            ));
        }
        Ok(Self { plan, parts: found.into_iter().map(|(_, path)| path).collect() })
    }

    /// Goes through all blocks in the order of their cells.
    ///
    /// # Errors
    /// What `each` says, or a part that was changed meanwhile.
    pub fn blocks(&self, each: &mut dyn FnMut(&Block) -> Result<(), SweepError>) -> Result<(), SweepError> {
        for path in &self.parts {
            let shown = path.display().to_string();
            let mut reader = PartReader::open(path)?.ok_or_else(|| unfinished(&shown))?;
            while let Some(block) = reader.block()? {
                each(&block)?;
            }
        }
        Ok(())
    }
}

fn unfinished(shown: &str) -> SweepError {
    SweepError::argument(shown, "is not finished", "Run this part again with --resume; it goes on where it stopped.")
}

fn alike(shown: &str, reader: &PartReader, plan: &SweepPlan, of: u64, first: &str) -> Result<(), SweepError> {
    let difference = match plan.difference(&reader.plan) {
        None if reader.shard.of != of => Some(format!("the number of parts: {of} and {}", reader.shard.of)),
        difference => difference,
    };
    let Some(difference) = difference else { return Ok(()) };
    let fault = format!("belongs to another run than {first}; they differ in {difference}");
    Err(SweepError::argument(shown, fault, "Merge the parts of one run only."))
}
