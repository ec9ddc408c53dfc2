//! Files appear whole or not at all: written beside their place, then renamed into it.

use scenarios::io_errors::{no_room, unwritten};
use std::io::Write;
use std::path::{Path, PathBuf};

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
            write_whole(&path, content).map_err(fail(&path))?;
        }
        Ok(())
    }
}

/// Writes one large file through `fill`, whole or not at all; gives what `fill` gives.
///
/// # Errors
/// What `fill` says, or with the file what the system says.
pub fn stream<T, E: From<OutputError>>(
    path: &Path,
    fill: impl FnOnce(&mut (dyn Write + Send)) -> Result<T, E>,
) -> Result<T, E> {
    let beside = beside(path);
    let fail = |cause| OutputError { path: path.to_owned(), cause };
    let filled = std::fs::File::create(&beside).map_err(|error| E::from(fail(error))).and_then(|file| {
        let mut buffer = std::io::BufWriter::new(file);
        let given = fill(&mut buffer)?;
        let file = buffer.into_inner().map_err(|error| fail(error.into_error()))?;
        file.sync_all().map_err(fail)?;
        std::fs::rename(&beside, path).map_err(fail)?;
        Ok(given)
    });
    if filled.is_err() {
        // The half-written file is of no use to anyone; the first error is the one to tell.
        std::fs::remove_file(&beside).ok();
    }
    filled
}

/// The name a file has while it is being written.
fn beside(path: &Path) -> PathBuf {
    let mut beside = path.as_os_str().to_owned();
    beside.push(".part");
    PathBuf::from(beside)
}

fn write_whole(path: &Path, content: &[u8]) -> std::io::Result<()> {
    let beside = beside(path);
    let written = std::fs::File::create(&beside).and_then(|mut file| {
        file.write_all(content)?;
        file.sync_all()
    });
    match written.and_then(|()| std::fs::rename(&beside, path)) {
        Ok(()) => Ok(()),
        Err(error) => {
            // The half-written file is of no use to anyone; the first error is the one to tell.
            std::fs::remove_file(&beside).ok();
            Err(error)
        }
    }
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
}
