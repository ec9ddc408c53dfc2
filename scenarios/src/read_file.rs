//! Texts of files that a user names: files only, of bounded size, in UTF-8, with any line ends.

use crate::io_errors;
use std::fs::File;
use std::io::{ErrorKind, Read};
use std::path::Path;

/// Most bytes of a site file, a strategy file or a list beside it.
pub const SITE_BYTES: u64 = 1_000_000;

/// Most bytes of a station's file: a hundred years of days and more.
pub const STATION_BYTES: u64 = 32_000_000;

/// Why a text could not be read, and what to do where that is more than giving another path.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unread {
    /// What is wrong, as the end of "cannot be read: …".
    pub why: String,
    /// What to do about it.
    pub remedy: Option<&'static str>,
}

impl Unread {
    /// In one sentence, for a file that another file names.
    #[must_use]
    pub fn sentence(&self) -> String {
        match self.remedy {
            Some(remedy) => format!("{}. {remedy}", self.why),
            None => self.why.clone(),
        }
    }

    fn because(why: impl Into<String>) -> Self {
        Self { why: why.into(), remedy: None }
    }
}

/// The text of a file of at most so many bytes, its line ends made `\n` where a carriage return stands alone.
///
/// # Errors
/// No file of that name, a folder, pipe or device, too many bytes, or no text in UTF-8.
pub fn text(path: &Path, most_bytes: u64) -> Result<String, Unread> {
    let bytes = bytes(path, most_bytes)?;
    decoded(bytes).map(with_line_feeds)
}

/// The bytes of a file of at most so many.
///
/// # Errors
/// No file of that name, a folder, pipe or device, or too many bytes.
pub fn bytes(path: &Path, most_bytes: u64) -> Result<Vec<u8>, Unread> {
    let mut bytes = Vec::new();
    let read = open(path)?.take(most_bytes + 1).read_to_end(&mut bytes);
    read.map_err(|error| Unread::because(io_errors::unread(&error)))?;
    if bytes.len() as u64 > most_bytes {
        return Err(Unread::because(format!("it has more than {} MB, the most it may have", most_bytes / 1_000_000)));
    }
    Ok(bytes)
}

/// A file, opened to be read.
///
/// # Errors
/// No file of that name, or a folder, pipe or device.
pub fn open(path: &Path) -> Result<File, Unread> {
    let told = |error: &std::io::Error| Unread::because(io_errors::unread(error));
    // A pipe would be waited for and a device never ends: neither is opened.
    let kind = std::fs::metadata(path).map_err(|error| match error.kind() {
        ErrorKind::NotFound if path.is_symlink() => Unread::because("it is a link, and what it leads to is not there"),
        _ => told(&error),
    })?;
    if kind.is_dir() {
        return Err(Unread::because("it is a folder"));
    }
    if !kind.is_file() {
        return Err(Unread::because("it is a pipe or a device, not a file"));
    }
    File::open(path).map_err(|error| told(&error))
}

/// Bytes as text, if they are UTF-8.
fn decoded(bytes: Vec<u8>) -> Result<String, Unread> {
    const SAVE: &str = "Save it as UTF-8 (in a spreadsheet: \"CSV UTF-8\").";
    let not_utf8 = |why: String| Unread { why, remedy: Some(SAVE) };
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        return Err(not_utf8("it is text in UTF-16".to_owned()));
    }
    String::from_utf8(bytes).map_err(|error| {
        let valid = &error.as_bytes()[..error.utf8_error().valid_up_to()];
        let line = 1 + valid.iter().filter(|byte| **byte == b'\n').count();
        not_utf8(format!("line {line} is not text in UTF-8"))
    })
}

/// Old line ends, a carriage return alone, become line feeds.
fn with_line_feeds(text: String) -> String {
    let alone = text.bytes().zip(text.bytes().skip(1).chain([0])).any(|(byte, next)| byte == b'\r' && next != b'\n');
    if alone { text.replace("\r\n", "\n").replace('\r', "\n") } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(bytes: &[u8]) -> Result<String, Unread> {
        decoded(bytes.to_vec()).map(with_line_feeds)
    }

    #[test]
    fn line_ends_of_any_age_are_read() {
        assert_eq!(of(b"a\r\nb\r\n").unwrap(), "a\r\nb\r\n");
        assert_eq!(of(b"a\rb\r").unwrap(), "a\nb\n");
        assert_eq!(of(b"a\r\nb\rc").unwrap(), "a\nb\nc");
    }

    #[test]
    fn other_encodings_are_told_with_what_to_do() {
        let utf16 = of(&[0xff, 0xfe, b'a', 0]).unwrap_err();
        assert!(utf16.why.contains("UTF-16") && utf16.remedy.unwrap().contains("UTF-8"));
        let latin = of(b"a = 1\nb = \"caf\xe9\"\n").unwrap_err();
        assert_eq!(latin.why, "line 2 is not text in UTF-8");
    }

    #[test]
    fn only_files_of_bounded_size_are_read() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.toml");
        std::fs::write(&path, "x = 12345").unwrap();
        assert_eq!(text(&path, 9).unwrap(), "x = 12345");
        assert!(text(&path, 8).unwrap_err().why.contains("the most it may have"));
        assert_eq!(text(folder.path(), 9).unwrap_err().why, "it is a folder");
        assert_eq!(text(&folder.path().join("b"), 9).unwrap_err().why, "there is no such file");
        #[cfg(unix)]
        {
            assert_eq!(text(Path::new("/dev/zero"), 9).unwrap_err().why, "it is a pipe or a device, not a file");
            let [round, nowhere] = ["round.toml", "nowhere.toml"].map(|name| folder.path().join(name));
            std::os::unix::fs::symlink(&round, &round).unwrap();
            std::os::unix::fs::symlink(folder.path().join("b"), &nowhere).unwrap();
            assert_eq!(text(&round, 9).unwrap_err().why, "it is a link that leads back to itself");
            assert_eq!(text(&nowhere, 9).unwrap_err().why, "it is a link, and what it leads to is not there");
        }
    }
}
