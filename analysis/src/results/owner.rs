//! Whose a folder of results is: `owner`, three lines, locked while a run writes.
//!
//! ```text
//! hensward.folder/1
//! command season
//! site ../../../a/garden.toml
//! ```
//!
//! The path leads from the results to the site file, so that both may be moved together. A folder of joined
//! parts has no site: parts know none of their paths.

use super::error::ResultsError;
use super::names::{LIST, OWN, OWNER};
use crate::output::OutputError;
use std::fs::{File, OpenOptions, TryLockError};
use std::io::{ErrorKind, Read, Seek, Write};
use std::path::{Component, Path, PathBuf};

const FORMAT: &str = "hensward.folder/1";

/// What a run is of.
#[derive(Clone, Debug)]
pub enum SiteOrigin {
    /// A file.
    File(PathBuf),
    /// What is no file, in words: "the demo sallowmere".
    Named(String),
    /// Parts, which do not say.
    Unknown,
}

/// What results are from.
#[derive(Clone, Debug)]
pub struct Origin {
    /// The command's name.
    pub command: String,
    /// The site, or what else was read.
    pub site: SiteOrigin,
}

/// The claim of a run on its folder; it ends when this is dropped.
#[derive(Debug)]
pub(super) struct Owner {
    /// Holds the lock.
    file: File,
}

impl Owner {
    /// Keeps all other runs out of a folder.
    pub fn lock(folder: &Path) -> Result<Self, ResultsError> {
        let path = folder.join(OWN).join(OWNER);
        let mut open = OpenOptions::new();
        let file = open.read(true).write(true).create(true).truncate(false).open(&path);
        // The folder is what matters to whoever reads this.
        let file = file.map_err(|cause| OutputError { path: folder.to_owned(), cause })?;
        let busy = || {
            let remedy = "Wait for it, stop it, or choose another folder with --out.";
            ResultsError::refused(folder, "another run is writing here", remedy)
        };
        match file.try_lock() {
            Ok(()) if there(&path, &file) => Ok(Self { file }),
            // A disk without locks: nothing can be known of others.
            Err(TryLockError::Error(error)) if error.kind() == ErrorKind::Unsupported => Ok(Self { file }),
            Err(TryLockError::Error(cause)) => Err(OutputError { path, cause }.into()),
            // Locked; or taken away just now by a run that wrote nothing.
            Ok(()) | Err(TryLockError::WouldBlock) => Err(busy()),
        }
    }

    /// Writes down whose the folder is from now on, or says whose it is. `free`: it holds no results.
    pub fn claim(&self, folder: &Path, origin: &Origin, free: bool) -> Result<(), ResultsError> {
        let path = folder.join(OWN).join(OWNER);
        let wanted = Words::of(origin, folder);
        let mut text = String::new();
        (&self.file).read_to_string(&mut text).map_err(|_| foreign(&path))?;
        let found = Words::parse(&text);
        if !text.is_empty() && found.is_none() {
            return Err(foreign(&path));
        }
        if !free {
            let found = found.ok_or_else(|| foreign(&path))?;
            found.allows(&wanted, folder)?;
            // Parts take a folder as it is; one of theirs goes to the next sweep of any site.
            if !found.site.is_empty() {
                return Ok(());
            }
        }
        let mut file = &self.file;
        let written =
            file.set_len(0).and_then(|()| file.rewind()).and_then(|()| file.write_all(wanted.text().as_bytes()));
        Ok(written.map_err(|cause| OutputError { path, cause })?)
    }
}

/// Takes our own folder away, where nothing else is in it.
pub(super) fn remove(folder: &Path) {
    let own = folder.join(OWN);
    for name in [LIST, OWNER] {
        std::fs::remove_file(own.join(name)).ok();
    }
    std::fs::remove_dir(own).ok();
}

/// Whether the file is still the one of its name.
#[cfg(unix)]
fn there(path: &Path, file: &File) -> bool {
    use std::os::unix::fs::MetadataExt;
    let same = |one: &std::fs::Metadata, two: &std::fs::Metadata| (one.dev(), one.ino()) == (two.dev(), two.ino());
    matches!((path.symlink_metadata(), file.metadata()), (Ok(one), Ok(two)) if same(&one, &two))
}

#[cfg(not(unix))]
fn there(path: &Path, _: &File) -> bool {
    path.exists()
}

/// Command and site, as they are written.
#[derive(Debug, PartialEq, Eq)]
struct Words {
    command: String,
    site: String,
}

impl Words {
    fn of(origin: &Origin, folder: &Path) -> Self {
        let site = match &origin.site {
            SiteOrigin::File(path) => between(folder, path).display().to_string(),
            SiteOrigin::Named(name) => name.clone(),
            SiteOrigin::Unknown => String::new(),
        };
        // A line holds no line end, whatever a file is called.
        Self { command: origin.command.clone(), site: site.escape_debug().to_string() }
    }

    fn text(&self) -> String {
        format!("{FORMAT}\ncommand {}\nsite {}\n", self.command, self.site)
    }

    fn parse(text: &str) -> Option<Self> {
        let (head, rest) = text.split_once('\n')?;
        let (command, site) = rest.strip_prefix("command ")?.strip_suffix('\n')?.split_once("\nsite ")?;
        let whole = head == FORMAT && !site.contains('\n');
        whole.then(|| Self { command: command.to_owned(), site: site.to_owned() })
    }

    /// Refuses results of another command or site.
    fn allows(&self, wanted: &Self, folder: &Path) -> Result<(), ResultsError> {
        let any = self.site.is_empty() || wanted.site.is_empty();
        if self.command == wanted.command && (any || self.site == wanted.site) {
            return Ok(());
        }
        let of = |words: &Self| match words.site.as_str() {
            "" => format!("\"{}\"", words.command),
            site => format!("\"{}\" of {site}", words.command),
        };
        let fault = format!("holds the results of {}, and this is {}", of(self), of(wanted));
        Err(ResultsError::refused(folder, &fault, "Choose another folder with --out, or move that one away."))
    }
}

fn foreign(path: &Path) -> ResultsError {
    let fault = "does not say whose results these are, or is damaged";
    ResultsError::refused(path, fault, "Choose another folder with --out, or move away this folder of results.")
}

/// The path from a folder to a file.
fn between(folder: &Path, file: &Path) -> PathBuf {
    let whole = |path: &Path| std::fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    let (folder, file) = (whole(folder), whole(file));
    let alike = folder.components().zip(file.components()).take_while(|(one, two)| one == two).count();
    // Another disk of a machine that has letters for them.
    if alike == 0 {
        return file;
    }
    let up = folder.components().skip(alike).map(|_| Component::ParentDir);
    up.chain(file.components().skip(alike)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_path_leads_from_the_folder_to_the_file() {
        let between = |folder: &str, file: &str| super::between(Path::new(folder), Path::new(file));
        assert_eq!(between("/no/results/garden", "/no/a/garden.toml"), Path::new("../../a/garden.toml"));
        assert_eq!(between("/no", "/no/garden.toml"), Path::new("garden.toml"));
    }

    #[test]
    fn what_was_written_is_read_back() {
        let words = Words { command: "season".to_owned(), site: "../a b.toml".to_owned() };
        assert_eq!(Words::parse(&words.text()), Some(words));
        assert!(["moo", "hensward.folder/2\ncommand a\nsite b\n", ""].iter().all(|text| Words::parse(text).is_none()));
    }
}
