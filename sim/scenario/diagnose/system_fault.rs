//! Errors of the system in words, each with what to do about it.

use std::io::{self, ErrorKind};

/// What the system reported, once, and what to do about it, in one line.
#[cfg(feature = "program")]
pub(crate) fn system_fault(error: &io::Error) -> String {
    let (problem, fix) = system_problem(error);
    format!("{problem}; {fix}")
}

/// What the system reported, without its number, and what to do about it.
pub(crate) fn system_problem(error: &io::Error) -> (String, &'static str) {
    let (problem, fix) = match error.kind() {
        ErrorKind::StorageFull => {
            ("the disk is full", "free some space, then run the same command again")
        }
        ErrorKind::QuotaExceeded => (
            "your share of the disk is used up",
            "free some space, then run the same command again",
        ),
        ErrorKind::FileTooLarge => (
            "the file would be larger than the system allows",
            "raise the limit, or choose another disk",
        ),
        ErrorKind::PermissionDenied => {
            ("you have no permission", "change the permissions, or choose another folder")
        }
        ErrorKind::ReadOnlyFilesystem => {
            ("the disk is read-only", "choose a folder on another disk")
        }
        ErrorKind::NotFound => {
            ("there is no such file or folder", "create the folder first, or check the path")
        }
        ErrorKind::NotADirectory => {
            ("a file is in the place of a folder", "move it, or choose another folder")
        }
        ErrorKind::IsADirectory => {
            ("a folder is in the place of a file", "move it, or choose another name")
        }
        ErrorKind::InvalidFilename => {
            ("the system does not allow this name", "choose another, shorter one")
        }
        _ => {
            let words = error.to_string();
            let problem = words.split(" (os error").next().unwrap_or_default();
            return (problem.to_owned(), "try again, or choose another folder");
        }
    };
    (problem.to_owned(), fix)
}

#[cfg(all(test, feature = "program"))]
mod tests {
    use super::*;

    #[test]
    fn each_error_says_what_to_do_and_nothing_twice() {
        for kind in [
            ErrorKind::StorageFull,
            ErrorKind::PermissionDenied,
            ErrorKind::NotFound,
            ErrorKind::Other,
        ] {
            let fault = system_fault(&io::Error::from(kind));
            assert_eq!(fault.matches("; ").count(), 1, "{fault}");
        }
        let numbered = system_fault(&io::Error::from_raw_os_error(40));
        assert!(!numbered.contains("os error") && numbered.contains("; try again"), "{numbered}");
    }
}
