//! What the system says when a file cannot be read or written, in plain words.

use std::io::{Error, ErrorKind};

/// Why a file could not be read.
#[must_use]
pub fn unread(error: &Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "there is no such file".to_owned(),
        ErrorKind::PermissionDenied => "it may not be read by you".to_owned(),
        ErrorKind::InvalidData => "it is not text (UTF-8)".to_owned(),
        _ => words(error),
    }
}

/// Why a file could not be written.
#[must_use]
pub fn unwritten(error: &Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "there is no such folder".to_owned(),
        ErrorKind::PermissionDenied => "you may not write there".to_owned(),
        ErrorKind::IsADirectory => "a folder has this name".to_owned(),
        ErrorKind::AlreadyExists => "a file has this name".to_owned(),
        _ => words(error),
    }
}

/// What goes for both, and for anything else the system refuses.
#[must_use]
pub fn words(error: &Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "there is none of that name".to_owned(),
        ErrorKind::PermissionDenied => "you may not do this".to_owned(),
        ErrorKind::IsADirectory => "it is a folder".to_owned(),
        ErrorKind::NotADirectory => "a part of its path is a file, not a folder".to_owned(),
        ErrorKind::StorageFull => "the disk is full".to_owned(),
        ErrorKind::QuotaExceeded => "your share of the disk is used up".to_owned(),
        ErrorKind::FileTooLarge => "the file would be larger than this system's limit (ulimit -f) allows".to_owned(),
        ErrorKind::ReadOnlyFilesystem => "nothing can be written on this disk".to_owned(),
        _ if leads_back(error) => "it is a link that leads back to itself".to_owned(),
        ErrorKind::InvalidFilename => "the name is too long, or not one the system takes".to_owned(),
        _ => without_number(&error.to_string()),
    }
}

/// Whether a path goes round in links: ELOOP, 40 on Linux and 62 on macOS and the BSDs.
fn leads_back(error: &Error) -> bool {
    let number = if cfg!(target_os = "linux") { 40 } else { 62 };
    cfg!(unix) && error.raw_os_error() == Some(number)
}

/// Whether there is no room for what is to be written.
#[must_use]
pub fn no_room(error: &Error) -> bool {
    matches!(error.kind(), ErrorKind::StorageFull | ErrorKind::QuotaExceeded | ErrorKind::FileTooLarge)
}

/// The system's own words, without the number behind them, which helps nobody.
fn without_number(text: &str) -> String {
    let words = text.split(" (os error").next().unwrap_or(text);
    if words.is_empty() { "the system refused".to_owned() } else { words.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_number_of_the_system_is_shown() {
        for number in [1, 2, 5, 13, 20, 21, 22, 24, 27, 28, 30, 36, 40, 122] {
            let error = Error::from_raw_os_error(number);
            for told in [unread(&error), unwritten(&error), words(&error)] {
                assert!(!told.is_empty() && !told.contains("os error"), "{number}: {told}");
            }
        }
        assert_eq!(unread(&Error::from_raw_os_error(2)), "there is no such file");
        assert_eq!(unwritten(&ErrorKind::StorageFull.into()), "the disk is full");
        assert!(no_room(&ErrorKind::StorageFull.into()) && !no_room(&ErrorKind::NotFound.into()));
    }
}
