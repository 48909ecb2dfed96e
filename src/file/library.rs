//! The library that comes with the program: recipes, kinds of tins, rooms to
//! start from, and the minutes of hands that recipes are written with.

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::format::{
    AdultShape, FORMAT, GroupShape, LessonFile, PeriodShape, RecipeShape, RoomShape, StatedMinutes,
    TinShape,
};

/// A file of the library that does not read as what it should be: the program
/// was built wrongly.
#[derive(Debug, Clone, PartialEq, Error)]
#[error("the library's own {file} cannot be read: {problem}")]
pub struct LibraryError {
    /// The file.
    pub file: &'static str,
    /// The reader's error, with line and column.
    pub problem: Box<ron::error::SpannedError>,
}

/// Minutes of hands for one pair and one batch.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StepMinutesShape {
    /// The step.
    pub step: String,
    /// Quick, usual and slow minutes for each pace band.
    pub minutes: StatedMinutes,
    /// The things it needs, in a word or two each.
    pub needs: Vec<String>,
}

macro_rules! recipe_files {
    ($($file:literal),* $(,)?) => {
        [$(($file, include_str!(concat!("../../assets/library/recipes/", $file)))),*]
    };
}

/// Files of one recipe each, in the order in which they are offered.
const RECIPES: [(&str, &str); 12] = recipe_files![
    "dockside-ginger-traybake.ron",
    "skylight-sponge.ron",
    "harbour-lemon-traybake.ron",
    "market-savoury-muffins.ron",
    "tower-scones.ron",
    "harbour-rolls.ron",
    "harbour-rolls-first-lesson.ron",
    "shoreline-shortbread.ron",
    "orchard-crumble.ron",
    "quayside-pizza.ron",
    "quayside-calzone.ron",
    "clear-day-buns.ron",
];

fn read<T: DeserializeOwned>(file: &'static str, text: &str) -> Result<T, LibraryError> {
    super::syntax::options()
        .from_str(text)
        .map_err(|problem| LibraryError { file, problem: Box::new(problem) })
}

/// All recipes.
///
/// # Errors
/// If the program was built with a broken library.
pub fn recipes() -> Result<Vec<RecipeShape>, LibraryError> {
    RECIPES.into_iter().map(|(file, text)| read(file, text)).collect()
}

/// All kinds of tins.
///
/// # Errors
/// If the program was built with a broken library.
pub fn tins() -> Result<Vec<TinShape>, LibraryError> {
    read("tins.ron", include_str!("../../assets/library/tins.ron"))
}

/// All rooms to start from.
///
/// # Errors
/// If the program was built with a broken library.
pub fn rooms() -> Result<Vec<RoomShape>, LibraryError> {
    read("rooms.ron", include_str!("../../assets/library/rooms.ron"))
}

/// Minutes of hands, step by step.
///
/// # Errors
/// If the program was built with a broken library.
pub fn minutes() -> Result<Vec<StepMinutesShape>, LibraryError> {
    read("minutes.ron", include_str!("../../assets/library/minutes.ron"))
}

/// The recipe of that name, if there is one.
///
/// # Errors
/// If the program was built with a broken library.
pub fn recipe(name: &str) -> Result<Option<RecipeShape>, LibraryError> {
    Ok(recipes()?.into_iter().find(|r| r.name == name))
}

/// The kind of tin of that name, if there is one.
///
/// # Errors
/// If the program was built with a broken library.
pub fn tin(name: &str) -> Result<Option<TinShape>, LibraryError> {
    Ok(tins()?.into_iter().find(|t| t.name == name))
}

/// The room of that name, if there is one.
///
/// # Errors
/// If the program was built with a broken library.
pub fn room(name: &str) -> Result<Option<RoomShape>, LibraryError> {
    Ok(rooms()?.into_iter().find(|r| r.name == name))
}

/// The minutes of that step, if they are listed.
///
/// # Errors
/// If the program was built with a broken library.
pub fn step_minutes(step: &str) -> Result<Option<StatedMinutes>, LibraryError> {
    Ok(minutes()?.into_iter().find(|m| m.step == step).map(|m| m.minutes))
}

/// A lesson of one pair in the library's usual room, to look at a recipe that
/// stands by itself.
///
/// # Errors
/// If the program was built with a broken library.
pub fn lesson_of(recipe: RecipeShape) -> Result<LessonFile, LibraryError> {
    let mut rooms = rooms()?;
    let usual = rooms.iter().position(|r| r.name == "usual room").unwrap_or(0);
    let room = rooms.swap_remove(usual);
    let pair = GroupShape {
        name: "Pair".into(),
        recipe: recipe.name.clone(),
        unit: room.units.first().map(|u| u.name.clone()),
        ..GroupShape::default()
    };
    Ok(LessonFile {
        format: FORMAT,
        period: PeriodShape {
            start: "09:00".into(),
            end: "10:40".into(),
            ..PeriodShape::default()
        },
        tins: tins()?,
        room,
        adults: vec![AdultShape { name: "teacher".into(), ..AdultShape::default() }],
        recipes: vec![recipe],
        groups: vec![pair],
        ..LessonFile::default()
    })
}
