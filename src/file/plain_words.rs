//! The system's refusals about a file, in words that say what to do.

use std::io::{Error, ErrorKind};
use std::path::Path;
use std::time::SystemTime;

use chrono::{DateTime, Datelike, Local};

use super::plain_file::NotPlain;
use crate::units::local_now;

/// The operation that the system refused.
#[derive(Debug, Clone, Copy)]
pub enum Doing<'a> {
    /// Reading a file or a folder.
    Reading(&'a Path),
    /// Writing or removing a file.
    Writing(&'a Path),
}

/// The cause of a refusal and what to do about it: one or two sentences without
/// the last full stop.
pub fn why(error: &Error, doing: Doing<'_>) -> String {
    let (path, writes) = match doing {
        Doing::Reading(path) => (path, false),
        Doing::Writing(path) => (path, true),
    };
    let folder = path.parent().unwrap_or(path).display();
    match NotPlain::with_path(error) {
        None | Some((NotPlain::Folder, _)) => {}
        Some((what, of)) => {
            let name = of.file_name().unwrap_or(of.as_os_str()).display();
            return format!("{name} {what}; move it away, or choose another");
        }
    }
    match error.kind() {
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => {
            "there is no space left on the disk; make some, or save to another disk".to_owned()
        }
        ErrorKind::ReadOnlyFilesystem => {
            "the disk can only be read; save to another folder".to_owned()
        }
        ErrorKind::PermissionDenied if writes => {
            format!("the folder {folder} or the file may not be written to; save to another folder")
        }
        ErrorKind::PermissionDenied => {
            "it may not be read; ask whoever owns it for permission".to_owned()
        }
        ErrorKind::NotFound if writes => {
            format!(
                "the folder {folder} is not there; if it is on a stick or a network drive, \
                 connect it again, or save to another folder"
            )
        }
        ErrorKind::NotFound => "there is no such file".to_owned(),
        ErrorKind::InvalidFilename | ErrorKind::InvalidInput => {
            "a file cannot have this name here; choose another".to_owned()
        }
        ErrorKind::NotADirectory => {
            format!("{folder} is no folder; save to another folder")
        }
        ErrorKind::IsADirectory => "there is a folder of this name; choose another".to_owned(),
        _ if writes => format!("the system says \"{error}\"; try again, or save to another folder"),
        _ => format!("the system says \"{error}\"; try again"),
    }
}

/// A time of today as "10:05", of another day as "10:05 on 24 November".
pub fn when(time: SystemTime) -> String {
    let now = local_now();
    let time: DateTime<Local> = time.into();
    let days = |format| time.format(format).to_string();
    if time.date_naive() == now.date_naive() {
        days("%H:%M")
    } else if time.year() == now.year() {
        days("%H:%M on %-d %B")
    } else {
        days("%H:%M on %-d %B %Y")
    }
}
