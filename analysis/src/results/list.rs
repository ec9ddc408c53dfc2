//! Which files of a folder a run wrote: `written.txt`, a line of format, then a line a file.
//!
//! ```text
//! hensward.written/1
//! file 6c62272e07bb014262b821756295c58d summary.json
//! half summary.json
//! ```
//!
//! `file`: digest (FNV-1a, 128 bits, of its bytes) and name; a name may have two while one takes the other's
//! place. `half`: beside it may stand a half-written `summary.json.part` of a run that was killed.

use super::ResultsError;
use crate::output::{OutputError, PART, stream};
use crate::provenance::Fnv;
use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::io::{BufReader, ErrorKind, Read};
use std::path::Path;

/// Its name.
pub(super) const LIST: &str = "written.txt";
const FORMAT: &str = "hensward.written/1";

/// A file that was written: its name and its digest.
pub(super) type Entry = (String, String);

/// What stands at a name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Standing {
    Absent,
    /// A run wrote it, and nobody changed it.
    Ours,
    Foreign,
}

/// The list.
#[derive(Debug, Default)]
pub(super) struct WrittenList {
    files: BTreeSet<Entry>,
    /// Files of which a half-written one may stand beside.
    pub half_written: BTreeSet<String>,
}

impl WrittenList {
    /// The list of a folder; empty where there is none.
    pub fn of(folder: &Path) -> Result<Self, ResultsError> {
        let path = folder.join(LIST);
        let text = match std::fs::read_to_string(&path) {
            Ok(text) => text,
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(Self::default()),
            Err(_) => return Err(damaged(&path)),
        };
        Self::parse(&text).ok_or_else(|| damaged(&path))
    }

    fn parse(text: &str) -> Option<Self> {
        let mut list = Self::default();
        let mut lines = text.lines();
        (lines.next()? == FORMAT).then_some(())?;
        for line in lines {
            let (kind, rest) = line.split_once(' ')?;
            let name = match kind {
                "file" => {
                    let (digest, name) = rest.split_once(' ')?;
                    list.files.insert((name.to_owned(), digest.to_owned()));
                    name
                }
                "half" => {
                    list.half_written.insert(rest.to_owned());
                    rest
                }
                _ => return None,
            };
            // A name and nothing else: no list leads out of its folder.
            (Path::new(name).file_name()? == name).then_some(())?;
        }
        Some(list)
    }

    pub fn holding(entries: impl Iterator<Item = Entry>) -> Self {
        Self { files: entries.collect(), half_written: BTreeSet::new() }
    }

    pub fn is_empty(&self) -> bool {
        self.files.is_empty() && self.half_written.is_empty()
    }

    pub fn add(&mut self, other: &Self) {
        self.files.extend(other.files.iter().cloned());
    }

    /// Names in this list and not in another.
    pub fn without(&self, other: &Self) -> BTreeSet<String> {
        let names = |list: &Self| list.files.iter().map(|(name, _)| name.clone()).collect::<BTreeSet<String>>();
        &names(self) - &names(other)
    }

    /// Writes it, whole or not at all.
    pub fn save(&self, folder: &Path) -> Result<(), OutputError> {
        let mut text = format!("{FORMAT}\n");
        // Writing to a string cannot fail.
        self.files.iter().for_each(|(name, digest)| writeln!(text, "file {digest} {name}").unwrap_or(()));
        self.half_written.iter().for_each(|name| writeln!(text, "half {name}").unwrap_or(()));
        let path = folder.join(LIST);
        stream(&path, |file| file.write_all(text.as_bytes()).map_err(|cause| OutputError { path: path.clone(), cause }))
    }

    /// What stands at a name of the folder.
    pub fn standing(&self, folder: &Path, name: &str) -> Result<Standing, OutputError> {
        let path = folder.join(name);
        let fail = |cause| OutputError { path: path.clone(), cause };
        let kind = match path.symlink_metadata() {
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(Standing::Absent),
            found => found.map_err(fail)?.file_type(),
        };
        let mut known = self.files.iter().filter(|(of, _)| of == name).peekable();
        if !kind.is_file() || known.peek().is_none() {
            return Ok(Standing::Foreign);
        }
        let digest = digest_of(&path).map_err(fail)?;
        Ok(if known.any(|(_, known)| *known == digest) { Standing::Ours } else { Standing::Foreign })
    }

    /// Takes away what a run that was killed left half-written.
    pub fn sweep_up(&self, folder: &Path) -> Result<(), OutputError> {
        for name in self.half_written.iter().map(String::as_str).chain([LIST]) {
            let path = folder.join(format!("{name}{PART}"));
            if path.symlink_metadata().is_ok_and(|found| found.is_file()) {
                std::fs::remove_file(&path).map_err(|cause| OutputError { path, cause })?;
            }
        }
        Ok(())
    }
}

fn digest_of(path: &Path) -> std::io::Result<String> {
    let mut file = BufReader::new(std::fs::File::open(path)?);
    let (mut digest, mut piece) = (Fnv::default(), vec![0; 65_536]);
    loop {
        match file.read(&mut piece)? {
            0 => return Ok(digest.hex()),
            count => digest.take(&piece[..count]),
        }
    }
}

fn damaged(path: &Path) -> ResultsError {
    let fault = "is no list of files that hensward wrote, or is damaged";
    ResultsError::refused(path, fault, "Choose another folder with --out; or remove it, and move away what it named.")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_list_is_read_back_and_leads_nowhere_else() {
        let text = "hensward.written/1\nfile 00ff a b.svg\nfile 00fe a b.svg\nhalf c.csv\n";
        let list = WrittenList::parse(text).unwrap();
        assert_eq!((list.files.len(), list.half_written.len()), (2, 1));
        for name in ["../x", "/etc/x", "a/b", "..", "."] {
            assert!(WrittenList::parse(&format!("{FORMAT}\nfile 00 {name}\n")).is_none(), "{name}");
            assert!(WrittenList::parse(&format!("{FORMAT}\nhalf {name}\n")).is_none(), "{name}");
        }
        assert!(
            ["", "hensward.written/2\n", "hensward.written/1\nmoo\n"].iter().all(|t| WrittenList::parse(t).is_none())
        );
    }
}
