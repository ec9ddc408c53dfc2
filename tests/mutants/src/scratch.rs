//! Copies of the workspace to change. They lie under `target/`; the workspace itself is left alone.

use crate::sample::{Mutant, Place};
use anyhow::{Context, Result};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// Folders that are not copied.
const LEFT: [&str; 4] = ["target", ".git", "results", "mutants"];

/// The crate that mutated code asks. The number is read once; after that asking is one load.
const SWITCH: &str = r#"//! Which mutant is on.
use std::sync::atomic::{AtomicU32, Ordering::Relaxed};

const UNREAD: u32 = u32::MAX;
static CHOSEN: AtomicU32 = AtomicU32::new(UNREAD);

/// Whether a mutant is on.
#[inline(always)]
pub fn on(number: u32) -> bool {
    let chosen = CHOSEN.load(Relaxed);
    if chosen == UNREAD { read() == number } else { chosen == number }
}

#[cold]
#[inline(never)]
fn read() -> u32 {
    let chosen = std::env::var("MUTANT").ok().and_then(|text| text.parse().ok()).unwrap_or(0);
    CHOSEN.store(chosen, Relaxed);
    chosen
}
"#;
const SWITCH_MANIFEST: &str = r#"[package]
name = "mutant-switch"
version = "0.1.0"
edition = "2024"
publish = false
"#;
const DEPENDS: &str = "[dependencies]\nmutant-switch = { path = \"../mutant-switch\" }\n";

/// The files of a workspace, by path from its top.
#[derive(Clone)]
pub struct Tree(BTreeMap<PathBuf, Vec<u8>>);

impl Tree {
    /// Reads a workspace.
    ///
    /// # Errors
    /// A file that cannot be read.
    pub fn read(root: &Path) -> Result<Self> {
        let file = |path: PathBuf| {
            let bytes = fs::read(root.join(&path)).with_context(|| path.display().to_string())?;
            Ok((path, bytes))
        };
        files(root)?.into_iter().map(file).collect::<Result<_>>().map(Self)
    }

    /// Text of a file.
    ///
    /// # Errors
    /// A file that is not there, or no text.
    pub fn text(&self, path: &str) -> Result<&str> {
        let bytes = self.0.get(Path::new(path)).with_context(|| format!("no file {path}"))?;
        Ok(std::str::from_utf8(bytes)?)
    }

    /// Whether a source file says something.
    #[must_use]
    pub fn says(&self, words: &str) -> bool {
        let source = |path: &Path| path.extension().is_some_and(|kind| kind == "rs");
        self.0.iter().any(|(path, bytes)| source(path) && String::from_utf8_lossy(bytes).contains(words))
    }

    /// Gives a file another text.
    pub fn set(&mut self, path: &str, text: &str) {
        self.0.insert(path.into(), text.into());
    }

    /// Adds the crate with the switch, for these packages.
    ///
    /// # Errors
    /// A package without a manifest.
    pub fn add_switch<'a>(&mut self, packages: impl Iterator<Item = &'a str>) -> Result<()> {
        self.set("mutant-switch/Cargo.toml", SWITCH_MANIFEST);
        self.set("mutant-switch/src/lib.rs", SWITCH);
        for package in packages {
            let path = format!("{package}/Cargo.toml");
            let manifest = self.text(&path)?.replacen("[dependencies]\n", DEPENDS, 1);
            self.set(&path, &manifest);
        }
        Ok(())
    }

    /// Puts one mutant in, as cargo-mutants does.
    ///
    /// # Errors
    /// A place that is not in its file.
    pub fn mutate(&mut self, mutant: &Mutant) -> Result<()> {
        let text = self.text(&mutant.file)?;
        let (start, end) = (byte(text, mutant.span.start)?, byte(text, mutant.span.end)?);
        let mutated = format!("{}{}{}", &text[..start], mutant.replacement, &text[end..]);
        self.set(&mutant.file, &mutated);
        Ok(())
    }

    /// Digest of all files: another digest, another tree.
    #[must_use]
    pub fn digest(&self) -> String {
        let mut digest = Sha256::new();
        for (path, bytes) in &self.0 {
            digest.update(path.to_string_lossy().as_bytes());
            digest.update(Sha256::digest(bytes));
        }
        digest.finalize().iter().take(8).map(|byte| format!("{byte:02x}")).collect()
    }

    /// Writes the files; those that say the same already keep their date, so that cargo builds less.
    ///
    /// # Errors
    /// A file that cannot be written.
    pub fn write(&self, root: &Path) -> Result<()> {
        fs::create_dir_all(root)?;
        for old in files(root)?.iter().filter(|path| !self.0.contains_key(*path)) {
            fs::remove_file(root.join(old))?;
        }
        for (path, bytes) in &self.0 {
            put(&root.join(path), bytes).with_context(|| path.display().to_string())?;
        }
        Ok(())
    }
}

fn put(path: &Path, bytes: &[u8]) -> Result<()> {
    if fs::read(path).is_ok_and(|old| old == bytes) {
        return Ok(());
    }
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder)?;
    }
    Ok(fs::write(path, bytes)?)
}

fn byte(text: &str, place: Place) -> Result<usize> {
    let before: usize = text.split_inclusive('\n').take(place.line - 1).map(str::len).sum();
    let line = text.get(before..).context("a line past the end")?;
    Ok(before + line.chars().take(place.column - 1).map(char::len_utf8).sum::<usize>())
}

/// Paths below a folder.
fn files(root: &Path) -> Result<Vec<PathBuf>> {
    let mut found = Vec::new();
    let mut folders = vec![PathBuf::new()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(root.join(&folder))? {
            let entry = entry?;
            let path = folder.join(entry.file_name());
            if !entry.file_type()?.is_dir() {
                found.push(path);
            } else if !LEFT.iter().any(|left| entry.file_name() == *left) {
                folders.push(path);
            }
        }
    }
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_count_characters() {
        let text = "a\n°b\n";
        let at = byte(text, Place { line: 2, column: 2 }).unwrap();
        assert_eq!(&text[at..=at], "b");
    }
}
