//! Temporary files that broken-off writings left behind.

use std::path::{Path, PathBuf};

use super::disk::Disk;

/// Temporary files that broken-off writings of a file, or of others that stand
/// beside it in its name, left behind.
pub(super) fn strays(disk: &dyn Disk, path: &Path) -> Vec<PathBuf> {
    let (Some(folder), Some(name)) = (path.parent(), path.file_name().and_then(|n| n.to_str()))
    else {
        return Vec::new();
    };
    let Ok(mut files) = disk.list(folder) else { return Vec::new() };
    files.retain(|file| {
        let file = file.file_name().and_then(|n| n.to_str());
        file.is_some_and(|n| is_temporary_of(n, name))
    });
    files
}

/// Whether a file name is one under which `name`, its `.bak` or its copy of
/// unsaved changes is written at first: `.name.` and six letters or digits.
fn is_temporary_of(file: &str, name: &str) -> bool {
    let of = |name: &str| {
        file.strip_prefix('.')
            .and_then(|f| f.strip_prefix(name))
            .and_then(|f| f.strip_prefix('.'))
            .is_some_and(|rest| rest.len() == 6 && rest.bytes().all(|b| b.is_ascii_alphanumeric()))
    };
    // The one word of six letters that a person may well have put there.
    let by_hand = file.ends_with(".backup");
    !by_hand && (of(name) || of(&format!("{name}.bak")) || of(&format!(".{name}.unsaved")))
}

/// Removes what broken-off writings left beside a file that we hold.
pub(super) fn sweep(disk: &dyn Disk, path: &Path) {
    for stray in strays(disk, path) {
        // It is no matter if that fails.
        let _ = disk.remove(&stray);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_temporary_files_of_ours_are_swept() {
        assert!(is_temporary_of(".lesson.ron.a1B2c3", "lesson.ron"));
        assert!(is_temporary_of(".lesson.ron.bak.a1B2c3", "lesson.ron"));
        assert!(is_temporary_of("..lesson.ron.unsaved.a1B2c3", "lesson.ron"));
        assert!(!is_temporary_of(".lesson.ron.backup1", "lesson.ron"));
        assert!(!is_temporary_of(".lesson.ron.backup", "lesson.ron"));
        assert!(!is_temporary_of(".lesson.ron.unsaved", "lesson.ron"));
        assert!(!is_temporary_of(".lesson.ron.open", "lesson.ron"));
        assert!(!is_temporary_of("lesson.ron.a1B2c3", "lesson.ron"));
    }
}
