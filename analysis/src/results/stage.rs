//! A file written whole beside its place, which it takes later.

use super::ResultsError;
use super::list::Entry;
use crate::output::{OutputError, PART};
use crate::provenance::Fnv;
use std::fs::OpenOptions;
use std::io::{BufWriter, ErrorKind, Write};
use std::path::Path;
use tempfile::{Builder, NamedTempFile};

/// A file beside its place; it goes when it is dropped.
#[derive(Debug)]
pub(super) struct Staged {
    name: String,
    digest: String,
    file: NamedTempFile,
}

impl Staged {
    /// Writes it through `fill`; gives what that gives.
    pub fn new<T, E: From<ResultsError>>(
        folder: &Path,
        name: &str,
        fill: impl FnOnce(&mut (dyn Write + Send)) -> Result<T, E>,
    ) -> Result<(T, Self), E> {
        let path = folder.join(name);
        let fail = |cause| ResultsError::from(OutputError { path: path.clone(), cause });
        // Never over anything: what a killed run left is gone by now.
        let make = |part: &Path| OpenOptions::new().write(true).create_new(true).open(part);
        let file = Builder::new().prefix(name).suffix(PART).rand_bytes(0).make_in(folder, make);
        let file = file.map_err(|error| match error.kind() {
            ErrorKind::AlreadyExists => in_the_way(folder, name),
            _ => fail(error),
        })?;
        let mut to = Counted { to: BufWriter::new(file.as_file()), digest: Fnv::default() };
        let given = fill(&mut to)?;
        to.flush().map_err(fail)?;
        let digest = to.digest.hex();
        drop(to);
        file.as_file().sync_all().map_err(fail)?;
        Ok((given, Self { name: name.to_owned(), digest, file }))
    }

    pub fn name(&self) -> &str {
        &self.name
    }

    pub fn entry(&self) -> Entry {
        (self.name.clone(), self.digest.clone())
    }

    pub fn take_place(self, folder: &Path) -> Result<(), OutputError> {
        let path = folder.join(&self.name);
        self.file.persist(&path).map(drop).map_err(|refused| OutputError { path, cause: refused.error })
    }
}

fn in_the_way(folder: &Path, name: &str) -> ResultsError {
    let path = folder.join(format!("{name}{PART}"));
    let remedy = "Move it away, or choose another folder with --out.";
    ResultsError::refused(&path, "is in the way: hensward does not know it", remedy)
}

/// Writes on, and digests what went through.
struct Counted<W> {
    to: W,
    digest: Fnv,
}

impl<W: Write> Write for Counted<W> {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        let count = self.to.write(bytes)?;
        self.digest.take(&bytes[..count]);
        Ok(count)
    }

    fn flush(&mut self) -> std::io::Result<()> {
        self.to.flush()
    }
}
