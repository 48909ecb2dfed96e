//! What can be taken into a lesson: recipes, rooms and kinds of tins that come
//! with the program, and those and classes of the user's own.

use std::borrow::Cow;
use std::path::PathBuf;
use std::sync::Arc;

use super::Session;
use crate::file::format::{LessonFile, RecipeShape, RoomShape, SavedClass, TinShape};
use crate::file::library;
use crate::file::own_library::{LibraryShelf, OwnEntries, OwnEntry, OwnLibrary};
use crate::file::own_words;
use crate::file::{Disk, RealDisk};
use crate::setup;
use crate::speech::{English, say_of_library};

/// A part of the lesson to be kept in the user's own library.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ToKeep {
    /// A recipe, by its place in the lesson.
    Recipe(usize),
    /// A room: 0 is the lesson's own.
    Room(usize),
    /// The class with its groups.
    Class,
    /// A kind of tin.
    Tin(usize),
}

/// What can be taken into a lesson.
pub struct LibraryShelves {
    own_library: OwnLibrary,
    own: OwnEntries,
    recipes: Vec<RecipeShape>,
    rooms: Vec<RoomShape>,
    tins: Vec<TinShape>,
    /// In whose words those that come with the program are.
    english: English,
    /// How often the user's own have changed.
    changes: u64,
}

impl Default for LibraryShelves {
    fn default() -> Self {
        Self::at(None, Arc::new(RealDisk))
    }
}

/// Own entries first, and those that come with the program unless an own one
/// has the same name.
fn all<'a, T>(
    own: &'a [T],
    with_it: &'a [T],
    name: fn(&T) -> &str,
) -> impl Iterator<Item = (&'a T, bool)> {
    let hidden = move |t: &&T| own.iter().any(|o| name(o) == name(t));
    let more = with_it.iter().filter(move |t| !hidden(t)).map(|t| (t, false));
    own.iter().map(|t| (t, true)).chain(more)
}

impl LibraryShelves {
    /// With what the user keeps in this folder.
    pub fn at(data: Option<PathBuf>, disk: Arc<dyn Disk>) -> Self {
        let own_library = OwnLibrary::at(data, disk);
        let mut shelves = Self {
            own: own_library.list(),
            own_library,
            recipes: Vec::new(),
            rooms: Vec::new(),
            tins: Vec::new(),
            english: English::British,
            changes: 0,
        };
        shelves.fill();
        shelves
    }

    /// Has what comes with the program in these words from now on. What is in
    /// a lesson already stays as it is.
    pub fn speak(&mut self, english: English) {
        if self.english != english {
            self.english = english;
            self.fill();
        }
    }

    fn fill(&mut self) {
        self.recipes = library::recipes().unwrap_or_default();
        self.rooms = library::rooms().unwrap_or_default();
        self.tins = library::tins().unwrap_or_default();
        self.rooms =
            std::mem::take(&mut self.rooms).into_iter().map(setup::starter::unmeasured).collect();
        let english = self.english;
        let mut say = |word: &mut String| {
            if let Cow::Owned(said) = say_of_library(word, english) {
                *word = said;
            }
        };
        self.recipes.iter_mut().for_each(|r| own_words::recipe(r, &mut say));
        self.rooms.iter_mut().for_each(|r| own_words::room(r, &mut say));
        self.tins.iter_mut().for_each(|t| own_words::tin(t, &mut say));
    }

    /// In whose words entries that come with the program are.
    pub fn english(&self) -> English {
        self.english
    }

    /// The user's own library.
    pub fn own(&self) -> &OwnLibrary {
        &self.own_library
    }

    /// Words in the user's own entries.
    pub fn own_words(&self) -> Vec<String> {
        let recipes = self.own.recipes.iter().flat_map(own_words::of_recipe);
        let rooms = self.own.rooms.iter().flat_map(own_words::of_room);
        let classes = self.own.classes.iter().flat_map(own_words::of_class);
        let tins = self.own.tins.iter().map(|t| t.name.clone());
        recipes.chain(rooms).chain(classes).chain(tins).collect()
    }

    /// How often the user's own entries have changed.
    pub fn changes(&self) -> u64 {
        self.changes
    }

    /// Recipes, and whether they are the user's own.
    pub fn recipes(&self) -> impl Iterator<Item = (&RecipeShape, bool)> {
        all(&self.own.recipes, &self.recipes, |r| &r.name)
    }

    /// Rooms, likewise.
    pub fn rooms(&self) -> impl Iterator<Item = (&RoomShape, bool)> {
        all(&self.own.rooms, &self.rooms, |r| &r.name)
    }

    /// Kinds of tins, likewise.
    pub fn tins(&self) -> impl Iterator<Item = (&TinShape, bool)> {
        all(&self.own.tins, &self.tins, |t| &t.name)
    }

    /// Kinds of tins in a list.
    pub fn all_tins(&self) -> Vec<TinShape> {
        self.tins().map(|(tin, _)| tin.clone()).collect()
    }

    /// The user's classes.
    pub fn classes(&self) -> &[SavedClass] {
        &self.own.classes
    }

    /// Files of the own library that cannot be read, in words.
    pub fn unreadable(&self) -> Vec<String> {
        let told = |(path, finding): &(PathBuf, crate::finding::Finding)| {
            let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy();
            format!("{name} of your library cannot be read: {}", finding.message)
        };
        self.own.unreadable.iter().map(told).collect()
    }

    /// Keeps a part of a lesson; what was kept or why not, in words.
    ///
    /// # Errors
    /// Why it was not kept.
    pub fn keep(&mut self, file: &LessonFile, what: ToKeep) -> Result<String, String> {
        let entry = match what {
            ToKeep::Recipe(i) => file.recipes.get(i).cloned().map(Box::new).map(OwnEntry::Recipe),
            ToKeep::Room(i) => file.room(i).map(setup::borrowed::own_room).map(OwnEntry::Room),
            ToKeep::Class => Some(OwnEntry::Class(setup::class::of(file))),
            ToKeep::Tin(i) => file.tins.get(i).cloned().map(OwnEntry::Tin),
        };
        let Some(entry) = entry else { return Err("it is no longer there".to_owned()) };
        let name = entry.name().to_owned();
        let kept = self.own_library.keep(&entry);
        self.own = self.own_library.list();
        self.changes += 1;
        match kept {
            Ok(()) => Ok(format!("{name} is kept in your library.")),
            Err(error) => Err(format!("Not kept in your library: {error}.")),
        }
    }

    /// Removes an own entry.
    ///
    /// # Errors
    /// Why it was not removed.
    pub fn remove(&mut self, shelf: LibraryShelf, name: &str) -> Result<String, String> {
        let removed = self.own_library.remove(shelf, name);
        self.own = self.own_library.list();
        self.changes += 1;
        match removed {
            Ok(()) => Ok(format!("{name} is no longer in your library.")),
            Err(error) => Err(format!("Not removed: {error}.")),
        }
    }
}

impl Session {
    pub(super) fn keep_in_library(&mut self, what: ToKeep) {
        let Some(doc) = &self.doc else { return };
        let kept = self.library.keep(doc.file(), what);
        self.tell(kept.unwrap_or_else(|why| why));
    }

    pub(super) fn remove_from_library(&mut self, shelf: LibraryShelf, name: &str) {
        let removed = self.library.remove(shelf, name);
        self.tell(removed.unwrap_or_else(|why| why));
    }
}
