//! Temporary files that broken-off writings left behind.

use std::fs::File;
use std::path::{Path, PathBuf};

use super::disk::Disk;
use super::plain_file::is_at;

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

/// Removes the temporary file of a writing of a file that was broken off: of those that
/// there are, the one that is `ours`. The others may be somebody's who is writing.
pub(super) fn remove_own(disk: &dyn Disk, path: &Path, ours: &File) {
    for stray in strays(disk, path).iter().filter(|stray| is_at(ours, stray)) {
        // Whoever writes next clears it away.
        let _ = disk.remove(stray);
    }
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
    use crate::file::disk::RealDisk;

    #[test]
    fn of_two_broken_off_writings_ones_own_is_removed() -> std::io::Result<()> {
        let folder = tempfile::tempdir()?;
        let at = |name: &str| folder.path().join(name);
        let ours = File::create(at(".lesson.ron.a1B2c3"))?;
        std::fs::write(at(".lesson.ron.d4E5f6"), "somebody else's")?;
        remove_own(&RealDisk, &at("lesson.ron"), &ours);
        assert!(!at(".lesson.ron.a1B2c3").exists() && at(".lesson.ron.d4E5f6").exists());
        Ok(())
    }

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
