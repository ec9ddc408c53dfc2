//! A folder of results: one run at a time writes into it, it belongs to one site and one command, and it
//! knows which files of it a run wrote.
//!
//! Beside the results stand two files of its own:
//!
//! - `.hensward`: whose the folder is ([`owner`]); locked while a run writes;
//! - `written.txt`: the files a run wrote, with their digests ([`list`]).
//!
//! Whatever is not in that list, or was changed since, is the keeper's: it is never written over and never
//! removed. All files are first written whole beside their places, then renamed together, and what an earlier
//! run wrote and this one does not goes. The list is told before each of these steps what may be found after
//! it, so that a run that is killed at any moment leaves nothing the next one does not know.

mod list;
mod owner;
mod stage;

pub use owner::{Origin, SiteOrigin};

use crate::output::{Files, OutputError};
use list::{LIST, Standing, WrittenList};
use owner::{OWNER, Owner};
use scenarios::{Fault, Faults};
use stage::Staged;
use std::io::Write;
use std::path::{Path, PathBuf};

/// Why results could not be written.
#[derive(Debug, thiserror::Error)]
pub enum ResultsError {
    /// The folder cannot be used as it is; nothing was written.
    #[error(transparent)]
    Refused(#[from] Faults),
    /// The system refused.
    #[error(transparent)]
    Output(#[from] OutputError),
}

impl ResultsError {
    fn refused(path: &Path, fault: &str, remedy: &str) -> Self {
        Self::Refused(Faults::one(Fault::of_file(&path.display().to_string(), fault, remedy)))
    }
}

/// A folder that is ours until this is dropped.
#[derive(Debug)]
pub struct ResultsFolder {
    path: PathBuf,
    /// Folders this run made, innermost first.
    made: Vec<PathBuf>,
    owner: Owner,
    list: WrittenList,
    staged: Vec<Staged>,
}

impl ResultsFolder {
    /// Takes a folder, which is made if need be, before any work is done. `names` are files that the run
    /// is known to write.
    ///
    /// # Errors
    /// Another run writes there; it holds the results of another site or command; a file that is none of
    /// ours has one of the names; nothing can be written there.
    pub fn open(path: &Path, origin: &Origin, names: &[&str]) -> Result<Self, ResultsError> {
        let path = if path.as_os_str().is_empty() { Path::new(".") } else { path };
        let made: Vec<PathBuf> = path
            .ancestors()
            .take_while(|part| !part.as_os_str().is_empty() && !part.exists())
            .map(Into::into)
            .collect();
        std::fs::create_dir_all(path).map_err(|cause| OutputError { path: path.to_owned(), cause })?;
        let owner = Owner::claim(path, origin)?;
        let list = WrittenList::of(path)?;
        let folder = Self { path: path.to_owned(), made, owner, list, staged: Vec::new() };
        names.iter().try_for_each(|name| folder.free(name))?;
        folder.list.sweep_up(&folder.path)?;
        Ok(folder)
    }

    /// Where it is.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Writes all files of a run, after those that were streamed.
    ///
    /// # Errors
    /// A file that could not be written, or that is in the way; then none took its place.
    pub fn write(&mut self, files: &Files) -> Result<(), ResultsError> {
        let names: Vec<&str> = files.names().collect();
        self.announce(&names)?;
        for (name, content) in files.all() {
            let fail = |cause| OutputError { path: self.path.join(name), cause };
            let staged =
                Staged::new(&self.path, name, |file| file.write_all(content).map_err(|cause| fail(cause).into()));
            self.staged.push(staged.map(|((), staged)| staged).map_err(|error: ResultsError| error)?);
        }
        self.take_places()
    }

    /// Writes one file through `fill`; it takes its place with the others. Gives what `fill` gives.
    ///
    /// # Errors
    /// What `fill` says, or with the file what the system says.
    pub fn stream<T, E: From<ResultsError>>(
        &mut self,
        name: &str,
        fill: impl FnOnce(&mut (dyn Write + Send)) -> Result<T, E>,
    ) -> Result<T, E> {
        self.announce(&[name])?;
        let (given, staged) = Staged::new(&self.path, name, fill)?;
        self.staged.push(staged);
        Ok(given)
    }

    /// Names that may be found half-written from now on.
    fn announce(&mut self, names: &[&str]) -> Result<(), ResultsError> {
        names.iter().try_for_each(|name| self.free(name))?;
        self.list.half_written.extend(names.iter().map(|name| (*name).to_owned()));
        Ok(self.list.save(&self.path)?)
    }

    /// Refuses a name at which something stands that no run wrote.
    fn free(&self, name: &str) -> Result<(), ResultsError> {
        let path = self.path.join(name);
        match self.list.standing(&self.path, name)? {
            Standing::Absent | Standing::Ours => Ok(()),
            Standing::Foreign => {
                let fault = "is in the way: hensward did not write it, or it was changed since";
                Err(ResultsError::refused(&path, fault, "Move it away, or choose another folder with --out."))
            }
        }
    }

    /// Renames what was written into its place, and removes what an earlier run left.
    fn take_places(&mut self) -> Result<(), ResultsError> {
        self.staged.iter().try_for_each(|staged| self.free(staged.name()))?;
        let new = WrittenList::holding(self.staged.iter().map(|staged| staged.entry()));
        let stale = self.list.without(&new);
        self.list.add(&new);
        self.list.save(&self.path)?;
        for staged in self.staged.drain(..) {
            staged.take_place(&self.path)?;
        }
        for name in &stale {
            if self.list.standing(&self.path, name)? == Standing::Ours {
                let path = self.path.join(name);
                std::fs::remove_file(&path).map_err(|cause| OutputError { path, cause })?;
            }
        }
        new.save(&self.path)?;
        self.list = new;
        Ok(())
    }
}

impl Drop for ResultsFolder {
    /// A run that wrote nothing leaves nothing, where it may: what stands is no fault of its own.
    fn drop(&mut self) {
        self.staged.clear();
        if !self.list.half_written.is_empty() {
            self.list.half_written.clear();
            self.list.save(&self.path).ok();
        }
        if self.list.is_empty() {
            std::fs::remove_file(self.path.join(LIST)).ok();
        }
        let alone = |entry: std::io::Result<std::fs::DirEntry>| entry.is_ok_and(|entry| entry.file_name() == OWNER);
        if self.owner.fresh && std::fs::read_dir(&self.path).is_ok_and(|mut entries| entries.all(alone)) {
            std::fs::remove_file(self.path.join(OWNER)).ok();
            self.made.iter().for_each(|made| drop(std::fs::remove_dir(made)));
        }
    }
}

#[cfg(test)]
mod tests;
