//! Which files of a folder a run wrote: `written`, a line of format, then a line a file with the digest of its
//! bytes (FNV-1a, 128 bits) and its name.
//!
//! ```text
//! hensward.written/1
//! 6c62272e07bb014262b821756295c58d summary.json
//! ```
//!
//! A name may have two digests while one file takes the other's place.

use super::error::ResultsError;
use super::names::LIST;
use crate::output::{OutputError, stream};
use crate::provenance::Fnv;
use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::io::{BufReader, ErrorKind, Read};
use std::path::Path;

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
pub(super) struct WrittenList(BTreeSet<Entry>);

impl WrittenList {
    /// The list that lies in a folder of our own; empty where there is none.
    pub fn of(own: &Path) -> Result<Self, ResultsError> {
        let path = own.join(LIST);
        let text = match std::fs::read_to_string(&path) {
            Ok(text) => text,
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(Self::default()),
            Err(_) => return Err(damaged(&path)),
        };
        Self::parse(&text).ok_or_else(|| damaged(&path))
    }

    fn parse(text: &str) -> Option<Self> {
        let mut lines = text.lines();
        (lines.next()? == FORMAT).then_some(())?;
        let entry = |line: &str| {
            let (digest, name) = line.split_once(' ')?;
            // A name and nothing else: no list leads out of its folder.
            (Path::new(name).file_name()? == name).then(|| (name.to_owned(), digest.to_owned()))
        };
        lines.map(entry).collect::<Option<_>>().map(Self)
    }

    pub fn holding(entries: impl Iterator<Item = Entry>) -> Self {
        Self(entries.collect())
    }

    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    pub fn add(&mut self, other: &Self) {
        self.0.extend(other.0.iter().cloned());
    }

    /// Names in this list and not in another.
    pub fn without(&self, other: &Self) -> BTreeSet<String> {
        let names = |list: &Self| list.0.iter().map(|(name, _)| name.clone()).collect::<BTreeSet<String>>();
        &names(self) - &names(other)
    }

    /// Whether anything stands at one of its names.
    pub fn any_left(&self, folder: &Path) -> bool {
        self.0.iter().any(|(name, _)| folder.join(name).symlink_metadata().is_ok())
    }

    /// Writes it, whole or not at all.
    pub fn save(&self, own: &Path) -> Result<(), OutputError> {
        let mut text = format!("{FORMAT}\n");
        // Writing to a string cannot fail.
        self.0.iter().for_each(|(name, digest)| writeln!(text, "{digest} {name}").unwrap_or(()));
        let path = own.join(LIST);
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
        let mut known = self.0.iter().filter(|(of, _)| of == name).peekable();
        if !kind.is_file() || known.peek().is_none() {
            return Ok(Standing::Foreign);
        }
        let digest = digest_of(&path).map_err(fail)?;
        Ok(if known.any(|(_, known)| *known == digest) { Standing::Ours } else { Standing::Foreign })
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
    ResultsError::refused(path, fault, "Choose another folder with --out; or move away this folder of results.")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_list_is_read_back_and_leads_nowhere_else() {
        let list = WrittenList::parse("hensward.written/1\n00ff a b.svg\n00fe a b.svg\n").unwrap();
        assert_eq!(list.0.len(), 2);
        for name in ["../x", "/etc/x", "a/b", "..", "."] {
            assert!(WrittenList::parse(&format!("{FORMAT}\n00 {name}\n")).is_none(), "{name}");
        }
        for text in ["", "hensward.written/2\n", "hensward.written/1\nmoo\n"] {
            assert!(WrittenList::parse(text).is_none(), "{text}");
        }
    }
}
