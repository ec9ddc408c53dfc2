//! Files appear whole or not at all: written beside their place, then renamed into it.
//!
//! `tempfile` takes away what a fault left half-written. Its names by chance and its files that
//! only the owner may read are not wanted here: a run that was killed leaves a name that the next
//! one takes again, and a result may be read by whoever may read any other new file. Results have a
//! folder that knows them: [`crate::results`].

use scenarios::io_errors::{no_room, unwritten};
use std::fs::{File, OpenOptions};
use std::io::{BufWriter, Write};
use std::path::{Path, PathBuf};
use tempfile::{Builder, NamedTempFile};

/// Why a file could not be written.
#[derive(Debug, thiserror::Error)]
#[error("cannot write {path}: {}; {}", unwritten(.cause), remedy(.cause))]
pub struct OutputError {
    /// The file or folder.
    pub path: PathBuf,
    /// The system's reason.
    pub cause: std::io::Error,
}

fn remedy(cause: &std::io::Error) -> &'static str {
    if cause.kind() == std::io::ErrorKind::FileTooLarge {
        "raise the limit, or choose another folder with --out"
    } else if no_room(cause) {
        "free some space, or choose another folder with --out"
    } else {
        "choose another folder with --out"
    }
}

/// What a file is called at its end while it is written.
pub(crate) const PART: &str = ".part";

/// A set of files that is written to one folder.
#[derive(Debug, Default)]
pub struct Files {
    files: Vec<(String, Vec<u8>)>,
}

impl Files {
    /// Adds a file by its name within the folder.
    pub fn add(&mut self, name: impl Into<String>, content: impl Into<Vec<u8>>) {
        self.files.push((name.into(), content.into()));
    }

    /// Names in the order they were added.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.files.iter().map(|(name, _)| name.as_str())
    }

    /// Files in the order they were added.
    pub(crate) fn all(&self) -> impl Iterator<Item = (&str, &[u8])> {
        self.files.iter().map(|(name, content)| (name.as_str(), content.as_slice()))
    }
}

/// Writes a new file, whole or not at all, and never over another.
///
/// # Errors
/// It is there already, or the system's reason.
pub fn create(path: &Path, content: &[u8]) -> Result<(), OutputError> {
    let fail = |cause| OutputError { path: path.to_owned(), cause };
    let (folder, name) = (path.parent().unwrap_or(path), path.file_name().unwrap_or_default());
    std::fs::create_dir_all(folder).map_err(|cause| OutputError { path: folder.to_owned(), cause })?;
    let part = folder.join(format!("{}{PART}", name.to_string_lossy()));
    // Left by a run that was killed; any other file of this name is somebody's.
    if std::fs::read(&part).is_ok_and(|left| content.starts_with(&left)) {
        std::fs::remove_file(&part).map_err(|cause| OutputError { path: part.clone(), cause })?;
    }
    let new = |part: &Path| OpenOptions::new().write(true).create_new(true).open(part);
    let beside = Builder::new().prefix(name).suffix(PART).rand_bytes(0).make_in(folder, new);
    let beside = beside.map_err(|cause| OutputError { path: part, cause })?;
    beside.as_file().write_all(content).and_then(|()| beside.as_file().sync_all()).map_err(fail)?;
    beside.persist_noclobber(path).map(drop).map_err(|refused| fail(refused.error))
}

/// Writes one file through `fill`, whole or not at all; gives what `fill` gives.
///
/// # Errors
/// What `fill` says, or with the file what the system says.
pub fn stream<T, E: From<OutputError>>(
    path: &Path,
    fill: impl FnOnce(&mut (dyn Write + Send)) -> Result<T, E>,
) -> Result<T, E> {
    let fail = |cause| OutputError { path: path.to_owned(), cause };
    let beside = beside(path).map_err(fail)?;
    let mut buffer = BufWriter::new(beside.as_file());
    let given = fill(&mut buffer)?;
    buffer.flush().map_err(fail)?;
    drop(buffer);
    beside.as_file().sync_all().map_err(fail)?;
    beside.persist(path).map_err(|refused| fail(refused.error))?;
    Ok(given)
}

/// An empty file beside a path, called like it and `.part`; it goes when it is dropped.
fn beside(path: &Path) -> std::io::Result<NamedTempFile> {
    let (folder, name) = (path.parent().unwrap_or(path), path.file_name().unwrap_or_default());
    Builder::new().prefix(name).suffix(PART).rand_bytes(0).make_in(folder, |part| File::create(part))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(folder: &Path) -> Vec<String> {
        let entries = std::fs::read_dir(folder).unwrap();
        let mut names: Vec<_> = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
        names.sort();
        names
    }

    #[test]
    fn a_new_file_is_never_written_over_another() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("new/a.txt");
        create(&path, b"one").unwrap();
        let error = create(&path, b"two").unwrap_err();
        let said = error.to_string();
        assert!(said.contains("a.txt: a file has this name; choose another folder"), "{said}");
        assert!(std::error::Error::source(&error).is_none(), "the system's reason would be told twice");
        assert_eq!((std::fs::read(&path).unwrap(), names(path.parent().unwrap()).len()), (b"one".to_vec(), 1));
    }

    #[test]
    fn a_half_written_file_is_taken_up_again_and_nobodys_else() {
        let folder = tempfile::tempdir().unwrap();
        let (path, part) = (folder.path().join("a.txt"), folder.path().join("a.txt.part"));
        std::fs::write(&part, "mine").unwrap();
        let said = create(&path, b"one").unwrap_err().to_string();
        assert!(said.contains("a.txt.part: a file has this name"), "{said}");
        assert_eq!(names(folder.path()), ["a.txt.part"]);
        std::fs::write(&part, "on").unwrap();
        create(&path, b"one").unwrap();
        assert_eq!((std::fs::read(&path).unwrap(), names(folder.path()).len()), (b"one".to_vec(), 1));
    }

    #[test]
    fn what_breaks_off_leaves_the_old_file_and_nothing_beside() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.txt");
        std::fs::write(&path, "old").unwrap();
        let broken = || OutputError { path: path.clone(), cause: std::io::ErrorKind::StorageFull.into() };
        let told: Result<(), OutputError> = stream(&path, |file| {
            file.write_all(b"half").and_then(|()| file.flush()).unwrap();
            assert_eq!(std::fs::read(folder.path().join("a.txt.part")).unwrap(), b"half");
            Err(broken())
        });
        assert!(told.unwrap_err().to_string().contains("the disk is full"));
        let panics = std::panic::catch_unwind(|| stream::<(), OutputError>(&path, |_| panic!("a fault of ours")));
        assert!(panics.is_err());
        assert_eq!(std::fs::read_to_string(&path).unwrap(), "old");
        assert_eq!(names(folder.path()), ["a.txt"]);
    }
}
