//! What can be taken into a lesson: recipes, rooms and kinds of tins that come
//! with the program.

use crate::file::format::{RecipeShape, RoomShape, TinShape};
use crate::file::library;

/// What can be taken into a lesson.
#[derive(Debug, Clone, Default)]
pub struct Shelves {
    /// Recipes.
    pub recipes: Vec<RecipeShape>,
    /// Rooms.
    pub rooms: Vec<RoomShape>,
    /// Kinds of tins.
    pub tins: Vec<TinShape>,
}

impl Shelves {
    /// As they now are.
    pub fn read() -> Self {
        Self {
            recipes: library::recipes().unwrap_or_default(),
            rooms: library::rooms().unwrap_or_default(),
            tins: library::tins().unwrap_or_default(),
        }
    }
}
