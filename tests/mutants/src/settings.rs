//! What the two files beside the sources say: what is drawn, what counts, what may live.

use anyhow::{Context, Result, ensure};
use serde::Deserialize;
use serde::de::DeserializeOwned;
use std::collections::BTreeMap;
use std::path::Path;

/// `sample.toml`.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Settings {
    /// Orders the mutants.
    pub seed: String,
    /// How many are drawn.
    pub size: usize,
    /// Release of cargo-mutants.
    pub tool: String,
    /// Beginnings of paths, by area.
    pub areas: BTreeMap<String, Vec<String>>,
    /// What runs.
    pub tests: Tests,
    /// What must be reached.
    pub bar: Bar,
}

/// Which tests a mutant is put to.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tests {
    /// In the order they use each other.
    pub packages: Vec<String>,
    /// Binaries that do not run, with the reason.
    pub left_out: BTreeMap<String, String>,
    /// Tests that do not run, with the reason.
    pub skip: BTreeMap<String, String>,
}

/// What must be reached.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Bar {
    /// Share killed.
    pub share: f64,
    /// Lower end of its interval.
    pub low: f64,
}

/// `survivors.toml`.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Survivors {
    #[serde(default)]
    may_live: Vec<Excused>,
}

/// A mutant that may live.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Excused {
    mutant: String,
    why: String,
}

/// Reads `sample.toml`.
///
/// # Errors
/// A file that is not there or says something else.
pub fn settings(folder: &Path) -> Result<Settings> {
    read(&folder.join("sample.toml"))
}

/// Reads why mutants may live, by name.
///
/// # Errors
/// A file that is not there or says something else, or gives no reason.
pub fn excuses(folder: &Path) -> Result<BTreeMap<String, String>> {
    let survivors: Survivors = read(&folder.join("survivors.toml"))?;
    let mut by_name = BTreeMap::new();
    for Excused { mutant, why } in survivors.may_live {
        ensure!(!why.trim().is_empty(), "survivors.toml gives no reason for {mutant}");
        ensure!(by_name.insert(mutant.clone(), why).is_none(), "survivors.toml has {mutant} twice");
    }
    Ok(by_name)
}

fn read<T: DeserializeOwned>(path: &Path) -> Result<T> {
    let text = std::fs::read_to_string(path).with_context(|| path.display().to_string())?;
    toml::from_str(&text).with_context(|| path.display().to_string())
}
