//! A file written whole beside the results, which takes its place among them later.

use super::error::ResultsError;
use super::names::OWN;
use crate::output::{OutputError, PART};
use crate::provenance::Fnv;
use std::fs::File;
use std::io::{BufWriter, ErrorKind, Write};
use std::path::Path;
use tempfile::{Builder, NamedTempFile};

/// A file that waits; it goes when it is dropped.
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
        let fail = |cause| ResultsError::from(OutputError { path: folder.join(name), cause });
        let mut beside = Builder::new();
        beside.prefix(name).suffix(PART).rand_bytes(0);
        let file = beside.make_in(folder.join(OWN), |part| File::create(part)).map_err(fail)?;
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

    pub fn entry(&self) -> (String, String) {
        (self.name.clone(), self.digest.clone())
    }

    pub fn take_place(self, folder: &Path) -> Result<(), OutputError> {
        let path = folder.join(&self.name);
        self.file.persist(&path).map(drop).map_err(|refused| OutputError { path, cause: refused.error })
    }
}

/// Takes away what a run that was killed left half-written in our own folder.
pub(super) fn clear(own: &Path) -> Result<(), OutputError> {
    let fail = |path: &Path| {
        let path = path.to_owned();
        move |cause| OutputError { path, cause }
    };
    for entry in std::fs::read_dir(own).map_err(fail(own))? {
        let path = entry.map_err(fail(own))?.path();
        if path.to_string_lossy().ends_with(PART) {
            match std::fs::remove_file(&path) {
                Err(error) if error.kind() != ErrorKind::NotFound => return Err(fail(&path)(error)),
                _ => {}
            }
        }
    }
    Ok(())
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
