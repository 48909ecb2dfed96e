//! Copies of unsaved changes: where they are, and what is found there. They
//! stand beside the lesson's file, or in the user's own data where that cannot
//! be or where the lesson has no file yet.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::SystemTime;

use super::disk::Disk;
use super::file_hold::{FileHold, HoldAttempt, beside};
use super::format::LessonFile;
use super::load::{LARGEST_FILE, read_lesson_shapes, text_of};
use super::safe_name::safe_name;
use super::strays::strays;

/// First line of a copy that stands elsewhere than beside its lesson.
const OF: &str = "// Changes not saved yet, of the lesson in the file ";

/// The copy beside a lesson's file.
pub fn copy_beside(of: &Path) -> PathBuf {
    beside(of, ".unsaved")
}

/// The folder of copies in the user's data.
pub fn unsaved_folder(data: &Path) -> PathBuf {
    data.join("unsaved")
}

/// The copy of a lesson's changes in the user's data.
pub fn copy_elsewhere(data: &Path, of: &Path) -> PathBuf {
    let stem = of.file_stem().map(|s| s.to_string_lossy().into_owned()).unwrap_or_default();
    let name = format!("{} {:016x}.ron", safe_name(&stem), hash(of));
    unsaved_folder(data).join(name)
}

/// A copy for a lesson that has no file; no other has it for long.
pub fn copy_of_new(data: &Path, title: &str) -> PathBuf {
    let title = if title.trim().is_empty() { "lesson" } else { title };
    let now = crate::units::local_now().format("%Y-%m-%d %H-%M-%S-%3f");
    let name = format!("{} {now} {}.ron", safe_name(title), std::process::id());
    unsaved_folder(data).join(name)
}

/// A number of a path that is the same on every machine (FNV-1a).
fn hash(path: &Path) -> u64 {
    let step = |hash: u64, byte: &u8| (hash ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3);
    path.as_os_str().as_encoded_bytes().iter().fold(0xcbf2_9ce4_8422_2325, step)
}

/// The text of a copy that stands elsewhere than beside `of`.
pub(super) fn with_heading(of: &Path, text: &str) -> String {
    format!("{OF}{:?}\n{text}", of.to_string_lossy())
}

/// The lesson's file that a copy is of, if it names one, and its text.
fn without_heading(text: &str) -> (Option<PathBuf>, &str) {
    let split = text.strip_prefix(OF).and_then(|rest| rest.split_once('\n'));
    match split.map(|(name, text)| (ron::from_str::<String>(name), text)) {
        Some((Ok(name), text)) => (Some(PathBuf::from(name)), text),
        _ => (None, text),
    }
}

/// A copy as found.
#[derive(Debug, Clone)]
pub struct UnsavedCopy {
    /// Where it is.
    pub path: PathBuf,
    /// The lesson's file it is of, if it says so.
    pub of: Option<PathBuf>,
    /// When it was written, if that is known.
    pub written: Option<SystemTime>,
    /// Its text, and what that says; or why it cannot be read.
    pub says: Result<(String, LessonFile), String>,
}

/// The copy at a path, if there is one.
pub fn find(disk: &dyn Disk, path: &Path) -> Option<UnsavedCopy> {
    let read = disk.read(path, LARGEST_FILE);
    if read.as_ref().is_err_and(|e| e.kind() == std::io::ErrorKind::NotFound) {
        return None;
    }
    let mut of = None;
    let says = text_of(read).map_err(|f| vec![f]).and_then(|whole| {
        let (named, text) = without_heading(&whole);
        of = named;
        read_lesson_shapes(text).map(|file| (text.to_owned(), file))
    });
    let says = says.map_err(|findings| {
        let why = findings.first().map(|f| f.message.clone()).unwrap_or_default();
        why.strip_prefix("cannot be read: ").unwrap_or(&why).to_owned()
    });
    Some(UnsavedCopy { path: path.to_owned(), of, written: disk.written_at(path).ok(), says })
}

/// Copies in the user's data that no window has open, the newest first: those
/// of runs that ended without saving or dropping them.
pub fn left_behind(disk: &Arc<dyn Disk>, data: &Path) -> Vec<UnsavedCopy> {
    let Ok(paths) = disk.list(&unsaved_folder(data)) else { return Vec::new() };
    paths.iter().for_each(|path| clear_away(disk, path));
    let is_copy = |path: &&PathBuf| {
        let hidden = path.file_name().is_some_and(|n| n.to_string_lossy().starts_with('.'));
        !hidden && path.extension().is_some_and(|e| e == "ron")
    };
    let mut copies: Vec<UnsavedCopy> =
        paths.iter().filter(is_copy).filter_map(|path| find(&**disk, path)).collect();
    copies.retain(|copy| {
        let open = |of: &Path| matches!(FileHold::take(disk, of), HoldAttempt::Elsewhere(_));
        !open(&copy.path) && !copy.of.as_deref().is_some_and(open)
    });
    copies.sort_by_key(|copy| std::cmp::Reverse(copy.written));
    copies
}

/// Removes a file of the folder if it is one that a run which has ended left of
/// a copy that never came to be, or was being written.
fn clear_away(disk: &Arc<dyn Disk>, path: &Path) {
    let name = path.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
    let Some((of, ending)) = name.strip_prefix('.').and_then(|n| n.rsplit_once('.')) else {
        return;
    };
    let of = path.with_file_name(of);
    let is_stray = ending != "open" && strays(&**disk, &of).iter().any(|s| s == path);
    if ending != "open" && !is_stray {
        return;
    }
    // Whoever has the copy open has its hold; ours goes at once.
    if let HoldAttempt::Ours(_hold) = FileHold::take(disk, &of)
        && is_stray
    {
        // It is no matter if that fails.
        let _ = disk.remove(path);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_copy_elsewhere_says_what_it_is_of() {
        for name in ["/home/a/lesson.ron", "C:\\lessons\\\"x\".ron", "/a\nb/ä.ron"] {
            let text = with_heading(Path::new(name), "(\n    format: 1,\n)\n");
            assert_eq!(text.lines().count(), 4);
            let (of, text) = without_heading(&text);
            assert_eq!((of.as_deref(), text), (Some(Path::new(name)), "(\n    format: 1,\n)\n"));
        }
        assert_eq!(without_heading("// a lesson\n()").1, "// a lesson\n()");
    }

    #[test]
    fn copies_of_different_files_have_different_names() {
        let data = Path::new("/data");
        let one = copy_elsewhere(data, Path::new("/a/lesson.ron"));
        assert_eq!(one, copy_elsewhere(data, Path::new("/a/lesson.ron")));
        assert_ne!(one, copy_elsewhere(data, Path::new("/b/lesson.ron")));
        assert_eq!(copy_beside(Path::new("/a/lesson.ron")), Path::new("/a/.lesson.ron.unsaved"));
    }
}
