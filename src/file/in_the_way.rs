//! What stands where a file is to be written.

use std::path::Path;
use std::sync::Arc;

use super::copies::copy_beside;
use super::file_hold::{FileHold, HoldAttempt};
use super::plain_words::{Doing, why};
use super::{Disk, LARGEST_FILE};

/// What stands at a path and is not of a kind that may be written over, or is in
/// use: as in "the file that is there is no plan". The kind is told by its bytes
/// and has a name.
pub fn in_the_way(
    disk: &Arc<dyn Disk>,
    path: &Path,
    is_kind: &dyn Fn(&[u8]) -> bool,
    name: &str,
) -> Option<String> {
    let resolved = disk.resolved(path);
    if disk.is_protected(&resolved) {
        return Some("the file is write-protected".to_owned());
    }
    if copy_beside(&resolved).exists() {
        return Some("changes of it that were not saved stand beside it".to_owned());
    }
    match disk.read(&resolved, LARGEST_FILE) {
        Ok(bytes) => {
            if !bytes.trim_ascii().is_empty() && !is_kind(&bytes) {
                return Some(format!("the file that is there is no {name}"));
            }
        }
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => {}
        Err(error) => return Some(why(&error, Doing::Writing(&resolved))),
    }
    match FileHold::take(disk, &resolved) {
        HoldAttempt::Elsewhere(holder) => Some(holder.to_string()),
        _ => None,
    }
}
