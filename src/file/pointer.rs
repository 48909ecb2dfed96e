//! Where a pointer leads: to the file at its path, or to wherever the lesson of
//! that id has gone below the folder of the file that points.

use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

use super::disk::{Access, Disk};
use super::file_hold::{FileHold, HoldAttempt};
use super::format::{FORMAT, LessonFile, PointerShape};
use super::lesson_id::LessonId;
use super::load::{LARGEST_FILE, read_lesson_shapes};
use super::locate::Locator;
use super::merge::merged;
use super::plain_file::resolved;
use super::strays::sweep;
use super::syntax::without_mark;
use crate::finding::{Finding, Path as Where};

/// So many folders below the one of the file that points are looked through.
const MOST_FOLDERS: usize = 500;
/// So many files in them are looked at.
const MOST_FILES: usize = 2_000;

/// Where a pointer leads.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Target {
    /// To the file at its path.
    There {
        /// That file.
        file: PathBuf,
        /// Others that have the same id.
        twins: Vec<PathBuf>,
    },
    /// Not to its path, but one file below has its id.
    Found(PathBuf),
    /// Not to its path, and several files below have its id.
    Several(Vec<PathBuf>),
    /// Nowhere.
    Nowhere,
}

impl PointerShape {
    /// A pointer from a folder to a file; the whole path of the file where none
    /// leads there from the folder. `None` if its name cannot be written down.
    pub fn to(file: &Path, folder: Option<&Path>, id: Option<String>) -> Option<Self> {
        let file = resolved(file);
        let from_folder = folder.and_then(|folder| from(&whole(folder), &file));
        Some(Self { file: from_folder.or_else(|| with_slashes(&file))?, id })
    }

    /// The path it names, in a file of that folder.
    pub fn path(&self, folder: &Path) -> PathBuf {
        resolved(&folder.join(&self.file))
    }

    /// The same in a file of another folder, or of none.
    #[must_use]
    pub fn moved(&self, from: &Path, to: Option<&Path>) -> Self {
        if self.file.trim().is_empty() {
            return self.clone();
        }
        Self::to(&self.path(from), to, self.id.clone()).unwrap_or_else(|| self.clone())
    }

    /// Where it leads, in a file of that folder. Of two files with its id the
    /// one at its path is meant.
    pub fn leads(&self, disk: &dyn Disk, folder: &Path) -> Target {
        let folder = whole(folder);
        let file = self.path(&folder);
        let at_path = id_in(disk, &file);
        let Some(id) = self.id.as_deref() else {
            let there = Target::There { file, twins: Vec::new() };
            return at_path.map_or(Target::Nowhere, |_| there);
        };
        let mut same = with_id(disk, &folder, id);
        same.retain(|other| *other != file);
        match (at_path, same.len()) {
            (Some(Some(there)), _) if there == id => Target::There { file, twins: same },
            // The file at its path has another id, or none.
            (_, 1) => same.pop().map_or(Target::Nowhere, Target::Found),
            (_, 2..) => Target::Several(same),
            (Some(None), _) => Target::There { file, twins: Vec::new() },
            _ => Target::Nowhere,
        }
    }
}

impl Target {
    /// What someone should look at, if the pointer does not just lead to its
    /// path; it stands at `at` in a file of that folder.
    pub fn doubt(&self, pointer: &PointerShape, at: Where, folder: &Path) -> Option<Finding> {
        let shown = |file: &Path| {
            let of = PointerShape::to(file, Some(folder), None);
            of.map_or_else(|| file.display().to_string(), |of| of.file)
        };
        let named = |files: &[PathBuf]| {
            let names: Vec<String> = files.iter().map(|f| format!("\"{}\"", shown(f))).collect();
            names.join(", ")
        };
        let file = shown(&pointer.path(folder));
        let id = pointer.id.as_deref().map(|id| format!(" ({id})")).unwrap_or_default();
        let (message, hint) = match self {
            Self::There { twins, .. } if twins.is_empty() => return None,
            Self::There { twins, .. } => (
                format!("\"{file}\" and {} have one id{id}", named(twins)),
                format!(
                    "\"{file}\" is taken; take the line `id` out of the other, and it is given one \
                     of its own when it needs one"
                ),
            ),
            Self::Found(found) => {
                let place = found.parent().map(shown).filter(|name| !name.is_empty());
                let place = place.unwrap_or_else(|| "this folder".to_owned());
                (
                    format!("\"{file}\"{id} is not there; found in {place}"),
                    format!("to use it, write `file: \"{}\"`", shown(found)),
                )
            }
            Self::Several(files) => (
                format!("\"{file}\"{id} is not there; {} have its id", named(files)),
                "write the path of the one that is meant, and take the line `id` out of the others"
                    .to_owned(),
            ),
            Self::Nowhere => (
                format!("\"{file}\"{id} is not there, nor below this folder"),
                "put it back, or write the path at which it is now".to_owned(),
            ),
        };
        Some(Finding::warning("pointer", at, message).hint(hint))
    }
}

/// Where a lesson's file says which lesson it is the day of.
fn of_day() -> Where {
    Where::root().field("today").field("of")
}

/// What someone should look at in the pointer of a copy for the day, which is
/// the file at `path`.
pub fn doubt_of_day(disk: &dyn Disk, path: &Path, file: &LessonFile) -> Option<Finding> {
    let pointer = file.today.as_ref()?.of.as_ref()?;
    let path = resolved(path);
    let folder = path.parent()?;
    pointer.leads(disk, folder).doubt(pointer, of_day(), folder)
}

/// A folder by its whole path, links followed.
fn whole(folder: &Path) -> PathBuf {
    resolved(if folder.as_os_str().is_empty() { Path::new(".") } else { folder })
}

/// The way to a file from a folder, with `/`; `None` if there is none, or it
/// cannot be written down.
fn from(folder: &Path, file: &Path) -> Option<String> {
    let (folder, file): (Vec<_>, Vec<_>) =
        (folder.components().collect(), file.components().collect());
    let same = folder.iter().zip(&file).take_while(|(a, b)| a == b).count();
    if same == 0 {
        return None;
    }
    let up = folder[same..].iter().map(|_| Some("..".to_owned()));
    let down = file[same..].iter().map(|part| part_of(*part));
    Some(up.chain(down).collect::<Option<Vec<String>>>()?.join("/"))
}

fn part_of(part: Component<'_>) -> Option<String> {
    // A backslash in a name would be taken for a folder on other systems.
    part.as_os_str().to_str().filter(|name| !name.contains('\\')).map(str::to_owned)
}

fn with_slashes(file: &Path) -> Option<String> {
    let name = file.to_str()?;
    let name = if cfg!(windows) { name.replace('\\', "/") } else { name.to_owned() };
    (!name.contains('\\')).then_some(name)
}

/// The id that a file says it has, nothing if it says none; `None` if it cannot
/// be read as a text of ours.
fn id_in(disk: &dyn Disk, file: &Path) -> Option<Option<String>> {
    let text = String::from_utf8(disk.read(file, LARGEST_FILE).ok()?).ok()?;
    let text = without_mark(&text);
    Some(text_at(text, "id"))
}

/// A text that stands at the top of a file.
fn text_at(text: &str, field: &str) -> Option<String> {
    let value = Locator::new(text).value(&Where::root().field(field))?;
    ron::from_str(value).ok()
}

/// Lessons with an id in a folder and below it, as far as it is looked through.
fn with_id(disk: &dyn Disk, folder: &Path, id: &str) -> Vec<PathBuf> {
    let (mut folders, mut files) = (vec![folder.to_owned()], Vec::new());
    let mut next = 0;
    while let Some(folder) = folders.get(next).cloned() {
        next += 1;
        files.extend(disk.list(&folder).unwrap_or_default().into_iter().filter(|f| is_lesson(f)));
        if folders.len() < MOST_FOLDERS {
            let below = disk.folders(&folder).unwrap_or_default();
            folders.extend(below.into_iter().filter(|f| !is_hidden(f)));
            folders.truncate(MOST_FOLDERS);
        }
    }
    files.truncate(MOST_FILES);
    files.retain(|file| id_in(disk, file).flatten().as_deref() == Some(id));
    files.sort();
    files
}

fn is_hidden(path: &Path) -> bool {
    path.file_name().is_none_or(|name| name.as_encoded_bytes().starts_with(b"."))
}

/// By its name it may be a lesson, and is no copy of unsaved changes.
fn is_lesson(file: &Path) -> bool {
    !is_hidden(file) && file.extension().is_some_and(|e| e.eq_ignore_ascii_case("ron"))
}

/// The id of the lesson in a file, so that another file can point to it. A
/// lesson without one is given one: its file is written with the id and all
/// else as it stands. `None` where that may not be, as the file is open
/// elsewhere, protected, or of an older format.
pub fn id_of(disk: &Arc<dyn Disk>, file: &Path) -> Option<LessonId> {
    let file = disk.resolved(file);
    if let Some(id) = id_in(&**disk, &file)? {
        return id.parse().ok();
    }
    let hold = match FileHold::take(disk, &file) {
        HoldAttempt::Ours(hold) => Some(hold),
        HoldAttempt::Unguarded => None,
        HoldAttempt::Elsewhere(_) | HoldAttempt::Refused(_) => return None,
    };
    if disk.is_protected(&file) {
        return None;
    }
    // Read once nobody else of ours can write it.
    let text = String::from_utf8(disk.read(&file, LARGEST_FILE).ok()?).ok()?;
    let text = without_mark(&text);
    let format = Locator::new(text).value(&Where::root().field("format"))?.trim().parse();
    if format != Ok(FORMAT) {
        return None;
    }
    let id = LessonId::fresh();
    let shapes = read_lesson_shapes(text).ok().filter(|shapes| shapes.id.is_none())?;
    let named = merged(text, &LessonFile { id: Some(id.to_string()), ..shapes }).ok()?;
    let written = disk.replace(&file, named.as_bytes(), Access::AsBefore);
    if hold.is_some() {
        sweep(&**disk, &file);
    }
    written.ok().map(|()| id)
}
