//! Files appear whole or not at all: written beside their place, then renamed into it.
//!
//! `tempfile` takes away what a fault left half-written. Its names by chance and its files that
//! only the owner may read are not wanted here: a run that was killed leaves a name that the next
//! one takes again, and a result may be read by whoever may read any other new file.

use scenarios::io_errors::{no_room, unwritten};
use std::fs::File;
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
    if no_room(cause) {
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

    /// Writes all files into `folder`, which is made if need be.
    ///
    /// # Errors
    /// With the file that failed; files written before it stand whole, none is half-written.
    pub fn write(&self, folder: &Path) -> Result<(), OutputError> {
        let fail = |path: &Path| {
            let path = path.to_owned();
            move |cause| OutputError { path, cause }
        };
        std::fs::create_dir_all(folder).map_err(fail(folder))?;
        for (name, content) in &self.files {
            let path = folder.join(name);
            stream(&path, |file| file.write_all(content).map_err(fail(&path)))?;
        }
        Ok(())
    }
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

    #[test]
    fn files_appear_whole_and_leave_nothing_beside() {
        let folder = tempfile::tempdir().unwrap();
        let mut files = Files::default();
        files.add("a.txt", "one");
        files.add("b.txt", "two");
        let inner = folder.path().join("new");
        files.write(&inner).unwrap();
        let mut names: Vec<_> = std::fs::read_dir(&inner).unwrap().map(|e| e.unwrap().file_name()).collect();
        names.sort();
        assert_eq!(names, ["a.txt", "b.txt"]);
    }

    #[test]
    fn a_file_that_cannot_be_written_is_named() {
        let folder = tempfile::tempdir().unwrap();
        std::fs::create_dir(folder.path().join("a.txt")).unwrap();
        let mut files = Files::default();
        files.add("a.txt", "one");
        let error = files.write(folder.path()).unwrap_err();
        let said = error.to_string();
        assert!(said.contains("a.txt: a folder has this name; choose another folder"), "{said}");
        assert!(std::error::Error::source(&error).is_none(), "the system's reason would be told twice");
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
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
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn what_a_killed_run_left_is_written_over() {
        let folder = tempfile::tempdir().unwrap();
        std::fs::write(folder.path().join("a.txt.part"), "left by a run that was killed").unwrap();
        let mut files = Files::default();
        files.add("a.txt", "one");
        files.write(folder.path()).unwrap();
        assert_eq!(std::fs::read_to_string(folder.path().join("a.txt")).unwrap(), "one");
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[cfg(unix)]
    #[test]
    fn files_may_be_read_by_whoever_may_read_any_new_file() {
        use std::os::unix::fs::PermissionsExt;
        let folder = tempfile::tempdir().unwrap();
        std::fs::write(folder.path().join("any.txt"), "one").unwrap();
        let mut files = Files::default();
        files.add("a.txt", "one");
        files.write(folder.path()).unwrap();
        let mode = |name| std::fs::metadata(folder.path().join(name)).unwrap().permissions().mode();
        assert_eq!(mode("a.txt"), mode("any.txt"));
    }
}
