//! Whose a folder of results is: `.hensward`, three lines, locked while a run writes.
//!
//! ```text
//! hensward.folder/1
//! command season
//! site ../../../a/garden.toml
//! ```
//!
//! The path leads from the folder to the site file, so that both may be moved together. A folder of joined
//! parts has no site: parts know none of their paths.

use super::ResultsError;
use crate::output::OutputError;
use std::fs::{File, OpenOptions, TryLockError};
use std::io::{ErrorKind, Read, Seek, Write};
use std::path::{Component, Path, PathBuf};

/// Its name.
pub(super) const OWNER: &str = ".hensward";
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
    _file: File,
    /// Nobody had the folder before.
    pub fresh: bool,
}

impl Owner {
    pub fn claim(folder: &Path, origin: &Origin) -> Result<Self, ResultsError> {
        let path = folder.join(OWNER);
        let fail = |cause| ResultsError::Output(OutputError { path: path.clone(), cause });
        let mut file =
            OpenOptions::new().read(true).write(true).create(true).truncate(false).open(&path).map_err(|cause| {
                // The folder is what matters to whoever reads this.
                ResultsError::Output(OutputError { path: folder.to_owned(), cause })
            })?;
        lock(folder, &path, &file)?;
        let mut text = String::new();
        file.read_to_string(&mut text).map_err(|_| foreign(&path))?;
        let wanted = words(origin, folder);
        let fresh = text.is_empty();
        if !fresh {
            let found = parse(&text).ok_or_else(|| foreign(&path))?;
            same(folder, &found, &wanted)?;
        }
        // Parts take a folder as it is, and leave it to the next sweep of any site.
        if fresh || (parse(&text).is_some_and(|(_, site)| site.is_empty()) && !wanted.1.is_empty()) {
            let text = format!("{FORMAT}\ncommand {}\nsite {}\n", wanted.0, wanted.1);
            let written = file.set_len(0).and_then(|()| file.rewind()).and_then(|()| file.write_all(text.as_bytes()));
            if let Err(cause) = written {
                file.set_len(0).ok();
                return Err(fail(cause));
            }
        }
        Ok(Self { _file: file, fresh })
    }
}

/// Locks it, or says who is there.
fn lock(folder: &Path, path: &Path, file: &File) -> Result<(), ResultsError> {
    let busy = || {
        let remedy = "Wait for it, stop it, or choose another folder with --out.";
        ResultsError::refused(folder, "another run is writing here", remedy)
    };
    match file.try_lock() {
        Ok(()) if there(path, file) => Ok(()),
        // A disk without locks: nothing can be known of others.
        Err(TryLockError::Error(error)) if error.kind() == ErrorKind::Unsupported => Ok(()),
        Err(TryLockError::Error(cause)) => Err(OutputError { path: path.to_owned(), cause }.into()),
        // Locked; or taken away just now by a run that wrote nothing.
        Ok(()) | Err(TryLockError::WouldBlock) => Err(busy()),
    }
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
type Words = (String, String);

fn words(origin: &Origin, folder: &Path) -> Words {
    let site = match &origin.site {
        SiteOrigin::File(path) => between(folder, path).display().to_string(),
        SiteOrigin::Named(name) => name.clone(),
        SiteOrigin::Unknown => String::new(),
    };
    // A line holds no line end, whatever a file is called.
    (origin.command.clone(), site.escape_debug().to_string())
}

fn parse(text: &str) -> Option<Words> {
    let (head, rest) = text.split_once('\n')?;
    let (command, site) = rest.strip_prefix("command ")?.strip_suffix('\n')?.split_once("\nsite ")?;
    (head == FORMAT && !site.contains('\n')).then(|| (command.to_owned(), site.to_owned()))
}

fn same(folder: &Path, found: &Words, wanted: &Words) -> Result<(), ResultsError> {
    let ((command, site), any) = (found, found.1.is_empty() || wanted.1.is_empty());
    if *command == wanted.0 && (any || *site == wanted.1) {
        return Ok(());
    }
    let of = if site.is_empty() { String::new() } else { format!(" of {site}") };
    let fault = format!("holds the results of \"{command}\"{of}, and this is \"{}\" of {}", wanted.0, wanted.1);
    Err(ResultsError::refused(folder, &fault, "Choose another folder with --out."))
}

fn foreign(path: &Path) -> ResultsError {
    let fault = "does not say whose results these are, or is damaged";
    ResultsError::refused(path, fault, "Choose another folder with --out; or remove it, if you know whose they are.")
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
        let text = format!("{FORMAT}\ncommand season\nsite ../a b.toml\n");
        assert_eq!(parse(&text), Some(("season".to_owned(), "../a b.toml".to_owned())));
        assert!(["moo", "hensward.folder/2\ncommand a\nsite b\n", ""].iter().all(|text| parse(text).is_none()));
    }
}
