//! The user's own library: recipes, rooms, classes and kinds of tins kept from
//! lessons, one file each, to be brought into others.

use std::collections::BTreeSet;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use thiserror::Error;

use super::disk::{Access, Disk};
use super::file_hold::FileHold;
use super::format::{RecipeShape, RoomShape, SavedClass, TinShape};
use super::load::{LARGEST_FILE, text_of};
use super::locate::Locator;
use super::plain_words::{Doing, why};
use super::safe_name::{folded, safe_name};
use super::strays::sweep;
use super::syntax;
use crate::finding::{Finding, Path as Where};

/// How long another program's change of a shelf is waited for.
const PATIENCE: Duration = Duration::from_secs(5);

/// A part of the library, which has a folder of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LibraryShelf {
    /// Recipes.
    Recipes,
    /// Rooms.
    Rooms,
    /// Classes.
    Classes,
    /// Kinds of tins.
    Tins,
}

impl LibraryShelf {
    /// All shelves.
    pub const ALL: [LibraryShelf; 4] =
        [LibraryShelf::Recipes, LibraryShelf::Rooms, LibraryShelf::Classes, LibraryShelf::Tins];

    fn folder(self) -> &'static str {
        match self {
            LibraryShelf::Recipes => "recipes",
            LibraryShelf::Rooms => "rooms",
            LibraryShelf::Classes => "classes",
            LibraryShelf::Tins => "tins",
        }
    }
}

/// An entry of the library.
#[derive(Debug, Clone, PartialEq)]
pub enum OwnEntry {
    /// A recipe.
    Recipe(Box<RecipeShape>),
    /// A room.
    Room(RoomShape),
    /// A class.
    Class(SavedClass),
    /// A kind of tin.
    Tin(TinShape),
}

impl OwnEntry {
    /// Its name: another of the same name takes its place.
    pub fn name(&self) -> &str {
        match self {
            OwnEntry::Recipe(recipe) => &recipe.name,
            OwnEntry::Room(room) => &room.name,
            OwnEntry::Class(class) => &class.class.name,
            OwnEntry::Tin(tin) => &tin.name,
        }
    }

    /// Where it belongs.
    pub fn shelf(&self) -> LibraryShelf {
        match self {
            OwnEntry::Recipe(_) => LibraryShelf::Recipes,
            OwnEntry::Room(_) => LibraryShelf::Rooms,
            OwnEntry::Class(_) => LibraryShelf::Classes,
            OwnEntry::Tin(_) => LibraryShelf::Tins,
        }
    }

    fn text(&self) -> Result<String, ron::Error> {
        match self {
            OwnEntry::Recipe(recipe) => syntax::written(recipe),
            OwnEntry::Room(room) => syntax::written(room),
            OwnEntry::Class(class) => syntax::written(class),
            OwnEntry::Tin(tin) => syntax::written(tin),
        }
    }

    fn read(shelf: LibraryShelf, text: &str) -> Result<OwnEntry, Finding> {
        let text = syntax::without_mark(text);
        let locator = Locator::new(text);
        let entry = match shelf {
            LibraryShelf::Recipes => {
                syntax::read(text, &locator).map(Box::new).map(OwnEntry::Recipe)
            }
            LibraryShelf::Rooms => syntax::read(text, &locator).map(OwnEntry::Room),
            LibraryShelf::Classes => syntax::read(text, &locator).map(OwnEntry::Class),
            LibraryShelf::Tins => syntax::read(text, &locator).map(OwnEntry::Tin),
        }?;
        if entry.name().trim().is_empty() {
            let words = "this entry has no name";
            return Err(Finding::error("empty-name", Where::root().field("name"), words));
        }
        Ok(entry)
    }
}

/// All that is kept, each shelf by name.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct OwnEntries {
    /// Recipes.
    pub recipes: Vec<RecipeShape>,
    /// Rooms.
    pub rooms: Vec<RoomShape>,
    /// Classes.
    pub classes: Vec<SavedClass>,
    /// Kinds of tins.
    pub tins: Vec<TinShape>,
    /// Files and folders that cannot be read, and why. They are left alone.
    pub unreadable: Vec<(PathBuf, Finding)>,
}

/// Why an entry was not kept or not removed. The library is as it was, or has
/// the entry already.
#[derive(Debug, Error)]
pub enum OwnError {
    /// There is no folder to keep it in.
    #[error("there is no folder here to keep it in")]
    Nowhere,
    /// The entry has no name.
    #[error("it has no name; give it one first")]
    NoName,
    /// The entry cannot be written down so that it reads the same again.
    #[error("it cannot be written down: {0}")]
    Text(String),
    /// A file that may be the entry of that name cannot be read.
    #[error("{} cannot be read just now, and may be the one of that name; try again", .0.display())]
    Unread(PathBuf),
    /// The disk refuses.
    #[error("{}", why(.error, Doing::Writing(.path)))]
    Disk {
        /// Which file or folder.
        path: PathBuf,
        /// What the system says.
        error: io::Error,
    },
}

/// A file of the library.
struct LibraryFile {
    path: PathBuf,
    entry: Result<OwnEntry, Finding>,
}

impl LibraryFile {
    /// The disk does not give it just now, and by its name it may well hold
    /// the entry in question.
    fn may_hold(&self, name: &str) -> bool {
        let unread = self.entry.as_ref().is_err_and(|f| f.code == "unreadable");
        unread && folded(&name_of(&self.path)).starts_with(&folded(&safe_name(name)))
    }
}

/// The user's own library.
#[derive(Clone)]
pub struct OwnLibrary {
    folder: Option<PathBuf>,
    disk: Arc<dyn Disk>,
}

impl OwnLibrary {
    /// The library of the user whose data are kept in `data`; one that is empty
    /// and takes nothing if there is no such folder.
    pub fn at(data: Option<PathBuf>, disk: Arc<dyn Disk>) -> Self {
        Self { folder: data.map(|data| data.join("library")), disk }
    }

    /// All that is kept. What cannot be read is told.
    pub fn list(&self) -> OwnEntries {
        let mut all = OwnEntries::default();
        for shelf in LibraryShelf::ALL {
            let Some(folder) = self.folder_of(shelf) else { continue };
            let files = match self.files(&folder, shelf) {
                Ok(files) => files,
                Err(error) => {
                    let words = format!("cannot be read: {error}");
                    all.unreadable
                        .push((folder, Finding::error("unreadable", Where::root(), words)));
                    continue;
                }
            };
            let mut seen = BTreeSet::new();
            let mut entries = Vec::new();
            for LibraryFile { path, entry } in files {
                match entry {
                    Ok(entry) if seen.insert(entry.name().to_owned()) => entries.push(entry),
                    Ok(entry) => {
                        let name = crate::finding::shortened(entry.name(), 60);
                        let words = format!("another file holds \"{name}\" already");
                        let finding = Finding::error("duplicate-name", Where::root(), words)
                            .hint("remove one of them, or give it another name inside");
                        all.unreadable.push((path, finding));
                    }
                    Err(finding) => all.unreadable.push((path, finding)),
                }
            }
            entries.sort_by_key(|e| (folded(e.name()), e.name().to_owned()));
            for entry in entries {
                match entry {
                    OwnEntry::Recipe(recipe) => all.recipes.push(*recipe),
                    OwnEntry::Room(room) => all.rooms.push(room),
                    OwnEntry::Class(class) => all.classes.push(class),
                    OwnEntry::Tin(tin) => all.tins.push(tin),
                }
            }
        }
        all
    }

    /// Keeps an entry, in place of one of the same name if there is one.
    ///
    /// # Errors
    /// If it cannot be written; what was kept before is there still.
    pub fn keep(&self, entry: &OwnEntry) -> Result<(), OwnError> {
        if entry.name().trim().is_empty() {
            return Err(OwnError::NoName);
        }
        let folder = self.folder_of(entry.shelf()).ok_or(OwnError::Nowhere)?;
        let text = entry.text().map_err(|e| OwnError::Text(e.to_string()))?;
        match OwnEntry::read(entry.shelf(), &text) {
            Ok(again) if again == *entry => {}
            Ok(_) => return Err(OwnError::Text("it would not read the same again".into())),
            Err(finding) => return Err(OwnError::Text(finding.message)),
        }
        let refused = |path: &Path, error| OwnError::Disk { path: path.to_owned(), error };
        self.disk.make_folder(&folder).map_err(|e| refused(&folder, e))?;
        let _hold = self.held(&folder)?;
        let files = self.files(&folder, entry.shelf()).map_err(|e| refused(&folder, e))?;
        let same =
            |kept: &&LibraryFile| kept.entry.as_ref().is_ok_and(|e| e.name() == entry.name());
        let path = match files.iter().find(same) {
            Some(kept) => kept.path.clone(),
            None => {
                // Another file beside it would leave two of the name.
                if let Some(kept) = files.iter().find(|k| k.may_hold(entry.name())) {
                    return Err(OwnError::Unread(kept.path.clone()));
                }
                self.free_path(&folder, entry.name()).map_err(|e| refused(&folder, e))?
            }
        };
        let path = self.disk.resolved(&path);
        self.disk
            .replace(&path, text.as_bytes(), Access::AsBefore)
            .map_err(|e| refused(&path, e))?;
        sweep(&*self.disk, &path);
        Ok(())
    }

    /// Removes the entry of that name, if there is one: every file that holds
    /// it.
    ///
    /// # Errors
    /// If the shelf cannot be read or the file not removed; it is there still.
    pub fn remove(&self, shelf: LibraryShelf, name: &str) -> Result<(), OwnError> {
        let Some(folder) = self.folder_of(shelf) else { return Ok(()) };
        let refused = |path: &Path, error| OwnError::Disk { path: path.to_owned(), error };
        let _hold = match self.disk.written_at(&folder) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(()),
            _ => self.held(&folder)?,
        };
        for kept in self.files(&folder, shelf).map_err(|e| refused(&folder, e))? {
            if kept.may_hold(name) {
                return Err(OwnError::Unread(kept.path));
            }
            if kept.entry.is_ok_and(|e| e.name() == name) {
                self.disk.remove(&kept.path).map_err(|e| refused(&kept.path, e))?;
                sweep(&*self.disk, &kept.path);
            }
        }
        Ok(())
    }

    fn folder_of(&self, shelf: LibraryShelf) -> Option<PathBuf> {
        self.folder.as_ref().map(|f| f.join(shelf.folder()))
    }

    /// Keeps other programs of ours from changing a shelf meanwhile.
    fn held(&self, shelf: &Path) -> Result<Option<FileHold>, OwnError> {
        let refused = |error| OwnError::Disk { path: shelf.to_owned(), error };
        FileHold::wait(&self.disk, &self.disk.resolved(shelf), PATIENCE).map_err(refused)
    }

    /// What a folder holds; nothing if it is not there.
    fn files(&self, folder: &Path, shelf: LibraryShelf) -> io::Result<Vec<LibraryFile>> {
        let paths = match self.disk.list(folder) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
            paths => paths?,
        };
        let is_entry = |path: &PathBuf| {
            let hidden = name_of(path).starts_with('.');
            !hidden && path.extension().is_some_and(|e| e.eq_ignore_ascii_case("ron"))
        };
        let read = |path: PathBuf| {
            let text = text_of(self.disk.read(&self.disk.resolved(&path), LARGEST_FILE));
            LibraryFile { entry: text.and_then(|text| OwnEntry::read(shelf, &text)), path }
        };
        Ok(paths.into_iter().filter(is_entry).map(read).collect())
    }

    /// A path in the folder that no file has, on any system.
    fn free_path(&self, folder: &Path, name: &str) -> io::Result<PathBuf> {
        let taken: BTreeSet<String> =
            self.disk.list(folder)?.iter().map(|p| folded(&name_of(p))).collect();
        let safe = safe_name(name);
        // Folders, which are not listed, may have some.
        for number in 1..=taken.len() + 100 {
            let file = match number {
                1 => format!("{safe}.ron"),
                n => format!("{safe} {n}.ron"),
            };
            let path = folder.join(&file);
            // The system is asked too: it may take names for the same that look
            // different here.
            let there = || {
                let found = self.disk.written_at(&path);
                !found.is_err_and(|e| e.kind() == io::ErrorKind::NotFound)
            };
            if !taken.contains(&folded(&file)) && !there() {
                return Ok(path);
            }
        }
        Err(io::Error::other("every name that would do is taken"))
    }
}

fn name_of(path: &Path) -> String {
    path.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default()
}
