//! The folder while a run has it.

use super::error::ResultsError;
use super::list::{Standing, WrittenList};
use super::names::{LIST, OWN, OWNER};
use super::owner::{self, Origin, Owner};
use super::stage::{self, Staged};
use crate::output::{Files, OutputError};
use std::fs::Metadata;
use std::io::Write;
use std::path::{Path, PathBuf};

/// A folder that is ours until this is dropped.
#[derive(Debug)]
pub struct ResultsFolder {
    path: PathBuf,
    /// Folders this run made, innermost first.
    made: Vec<PathBuf>,
    // Holds the lock.
    _owner: Owner,
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
        let own = path.join(OWN);
        let made = |part: &&Path| !part.as_os_str().is_empty() && part.symlink_metadata().is_err();
        let made: Vec<PathBuf> = path.ancestors().take_while(made).map(Into::into).collect();
        let lead = Leading(made);
        if let Some(file) = own.ancestors().find(|part| part.exists() && !part.is_dir()) {
            let fault = "is a file, and a folder is to be there";
            return Err(ResultsError::refused(file, fault, "Choose another folder with --out."));
        }
        refuse_links(&own)?;
        std::fs::create_dir_all(&own).map_err(|cause| OutputError { path: path.to_owned(), cause })?;
        let owner = Owner::lock(path)?;
        let list = WrittenList::of(&own)?;
        // A folder of which no file is left belongs to nobody.
        owner.claim(path, origin, !list.any_left(path))?;
        stage::clear(&own)?;
        let folder = Self { path: path.to_owned(), made: lead.keep(), _owner: owner, list, staged: Vec::new() };
        names.iter().try_for_each(|name| folder.free(name))?;
        // Whether anything can be written is known now, not after the work.
        folder.list.save(&own)?;
        Ok(folder)
    }

    /// Where it is.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Writes all files of a run, after those that were streamed; gives the names of all.
    ///
    /// # Errors
    /// A file that could not be written, or that is in the way; then none took its place.
    pub fn write(&mut self, files: &Files) -> Result<Vec<String>, ResultsError> {
        for (name, content) in files.all() {
            let path = self.path.join(name);
            let fail = |cause| ResultsError::from(OutputError { path: path.clone(), cause });
            self.stream(name, |file| file.write_all(content).map_err(fail))?;
        }
        let names = self.staged.iter().map(|staged| staged.name().to_owned()).collect();
        self.take_places()?;
        Ok(names)
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
        self.free(name)?;
        let (given, staged) = Staged::new(&self.path, name, fill)?;
        self.staged.push(staged);
        Ok(given)
    }

    /// Refuses a name at which something stands that no run wrote.
    fn free(&self, name: &str) -> Result<(), ResultsError> {
        let path = self.path.join(name);
        match self.list.standing(&self.path, name)? {
            Standing::Absent | Standing::Ours => Ok(()),
            Standing::Foreign => {
                let fault = "is in the way: no run of hensward is known to have written it so";
                Err(ResultsError::refused(&path, fault, "Move it away, or choose another folder with --out."))
            }
        }
    }

    /// Renames what was written into its place, and removes what an earlier run left.
    fn take_places(&mut self) -> Result<(), ResultsError> {
        self.staged.iter().try_for_each(|staged| self.free(staged.name()))?;
        let own = self.path.join(OWN);
        let new = WrittenList::holding(self.staged.iter().map(Staged::entry));
        let stale = self.list.without(&new);
        self.list.add(&new);
        self.list.save(&own)?;
        for staged in self.staged.drain(..) {
            staged.take_place(&self.path)?;
        }
        for name in &stale {
            if self.list.standing(&self.path, name)? == Standing::Ours {
                let path = self.path.join(name);
                std::fs::remove_file(&path).map_err(|cause| OutputError { path, cause })?;
            }
        }
        new.save(&own)?;
        self.list = new;
        Ok(())
    }
}

impl Drop for ResultsFolder {
    /// A run that wrote nothing leaves nothing, where it may: what stands is no fault of its own.
    fn drop(&mut self) {
        self.staged.clear();
        if self.list.is_empty() {
            owner::remove(&self.path);
            drop(Leading(std::mem::take(&mut self.made)));
        }
    }
}

/// Refuses books that are links, pipes or devices: what they lead to is not ours.
fn refuse_links(own: &Path) -> Result<(), ResultsError> {
    let other_than = |path: &Path, wanted: fn(&Metadata) -> bool| {
        let other = path.symlink_metadata().is_ok_and(|kind| !wanted(&kind));
        other.then(|| {
            let fault = "is a link, a pipe or a device, which hensward never makes there";
            let remedy = "Choose another folder with --out, or move away this folder of results.";
            ResultsError::refused(path, fault, remedy)
        })
    };
    let found = other_than(own, Metadata::is_dir)
        .or_else(|| [OWNER, LIST].iter().find_map(|name| other_than(&own.join(name), Metadata::is_file)));
    found.map_or(Ok(()), Err)
}

/// Folders that were made on the way, innermost first; those that are empty go when this is dropped.
struct Leading(Vec<PathBuf>);

impl Leading {
    fn keep(mut self) -> Vec<PathBuf> {
        std::mem::take(&mut self.0)
    }
}

impl Drop for Leading {
    fn drop(&mut self) {
        self.0.iter().for_each(|made| drop(std::fs::remove_dir(made)));
    }
}
