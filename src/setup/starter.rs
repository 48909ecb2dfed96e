//! A new lesson, and what is put into it from a library.

use super::usual_kit;
use crate::edit::retain_that_fix;
use crate::file::format::{
    AdultShape, ClassStepShape, FORMAT, GroupShape, LessonFile, OvenKindShape, PeriodShape,
    RecipeShape, RoomShape, StatedMinutes, TinShape,
};
use crate::file::library::{self, LibraryError};

/// Steps of the class that a practical usually has, by their names in the
/// library's table of minutes; those that take the teacher.
const OPENING: [(&str, bool); 3] =
    [("register", false), ("aprons and hands", false), ("demo", true)];
const PLENARY: (&str, bool) = ("plenary", true);
const CLOSING: [(&str, bool); 2] = [("unit check", true), ("dismissal", false)];
/// The plenary lies in so many minutes before the closing, while bakes cool
/// (common practice of the trade).
const WHILE_BAKES_COOL: i32 = 20;
/// The adult every lesson has.
const TEACHER: &str = "teacher";

/// A lesson with nothing in it but a teacher and the class steps a practical
/// usually has, with the library's minutes for ages 12 to 14.
///
/// # Errors
/// If the program was built with a broken library.
pub fn new_lesson() -> Result<LessonFile, LibraryError> {
    Ok(LessonFile {
        format: FORMAT,
        period: PeriodShape {
            opening: steps(&OPENING)?,
            during: vec![ClassStepShape {
                before_closing: Some(WHILE_BAKES_COOL),
                ..step(PLENARY)?
            }],
            closing: steps(&CLOSING)?,
            ..PeriodShape::default()
        },
        adults: vec![AdultShape { name: TEACHER.to_owned(), ..AdultShape::default() }],
        ..LessonFile::default()
    })
}

fn steps(names: &[(&str, bool)]) -> Result<Vec<ClassStepShape>, LibraryError> {
    names.iter().map(|&named| step(named)).collect()
}

fn step((name, teacher): (&str, bool)) -> Result<ClassStepShape, LibraryError> {
    Ok(ClassStepShape {
        name: name.to_owned(),
        minutes: library::step_minutes(name)?.unwrap_or(StatedMinutes::Usual(3.0)),
        adults: if teacher { vec![TEACHER.to_owned()] } else { Vec::new() },
        at: None,
        between: None,
        before_closing: None,
        may_be_dropped: None,
    })
}

/// Whether a lesson has a recipe of this name.
pub fn has_recipe(file: &LessonFile, name: &str) -> bool {
    file.recipes.iter().any(|r| r.name == name)
}

/// Puts a recipe into a lesson, with the kinds of tins it names. Groups that
/// have no recipe yet get it.
pub fn take_recipe(file: &mut LessonFile, recipe: &RecipeShape, tins: &[TinShape]) {
    for choice in &recipe.tins {
        if file.tins.iter().all(|t| t.name != choice.tin)
            && let Some(tin) = tins.iter().find(|t| t.name == choice.tin)
        {
            file.tins.push(tin.clone());
        }
    }
    match file.recipes.iter_mut().find(|r| r.name == recipe.name) {
        Some(there) => there.clone_from(recipe),
        None => file.recipes.push(recipe.clone()),
    }
    let known: Vec<String> = file.recipes.iter().map(|r| r.name.clone()).collect();
    for group in file.groups.iter_mut().filter(|g| !known.contains(&g.recipe)) {
        choose(group, &recipe.name);
    }
    if file.title.is_empty() {
        file.title.clone_from(&recipe.name);
    }
}

/// Takes a recipe out of a lesson; groups that made it make the first of the
/// others, if there is one.
pub fn remove_recipe(file: &mut LessonFile, name: &str) {
    file.recipes.retain(|r| r.name != name);
    if file.title == name {
        file.title = file.recipes.first().map(|r| r.name.clone()).unwrap_or_default();
    }
    let other = file.recipes.first().map(|r| r.name.clone()).unwrap_or_default();
    for group in file.groups.iter_mut().filter(|g| g.recipe == name) {
        choose(group, &other);
    }
}

/// A group makes this recipe, in any way it can be made.
pub fn choose(group: &mut GroupShape, recipe: &str) {
    if group.recipe != recipe {
        recipe.clone_into(&mut group.recipe);
        group.methods.clear();
        group.tins.clear();
        group.beforehand.clear();
        group.collected.clear();
    }
}

/// A room to start from, without the figures that are assumed anyway: nobody
/// has measured them, and so they count as assumed.
#[must_use]
pub fn unmeasured(mut room: RoomShape) -> RoomShape {
    let ovens = room.ovens.iter_mut().chain(room.units.iter_mut().flat_map(|u| &mut u.ovens));
    for oven in ovens {
        let usual = if oven.kind == Some(OvenKindShape::Fan) { 2 } else { 1 };
        oven.shelves = oven.shelves.filter(|n| *n != usual);
        oven.shelf_mm = oven.shelf_mm.filter(|size| *size != (420.0, 360.0));
    }
    room
}

/// The lesson is in this room. Units of the room before are forgotten, and steps
/// of the lesson's own recipes get kit they usually use and could not before.
pub fn take_room(file: &mut LessonFile, room: &RoomShape) {
    let kit_before = usual_kit::counted(file);
    let before = std::mem::replace(&mut file.room, room.clone());
    let named = |unit: &String| room.units.iter().any(|u| u.name == *unit);
    let in_it = |r: &Option<String>| r.is_none() || r.as_deref() == Some(before.name.as_str());
    let units: Vec<&String> = room.units.iter().map(|u| &u.name).collect();
    for (i, group) in file.groups.iter_mut().enumerate().filter(|(_, g)| in_it(&g.room)) {
        group.room = None;
        if !group.unit.as_ref().is_some_and(named) {
            group.unit = (!units.is_empty()).then(|| units[i % units.len()].clone());
        }
    }
    for adult in file.adults.iter_mut().filter(|a| in_it(&a.room)) {
        adult.room = None;
    }
    for lock in &mut file.locks {
        (lock.oven, lock.shelf) = (None, None);
    }
    retain_that_fix(&mut file.locks);
    usual_kit::give_new(file, &kit_before);
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::file::lesson_or_findings;
    use crate::setup::groups;

    #[test]
    fn any_recipe_in_any_room_makes_a_lesson() {
        let tins = library::tins().unwrap();
        for room in library::rooms().unwrap() {
            for recipe in library::recipes().unwrap() {
                let mut file = new_lesson().unwrap();
                assert!(lesson_or_findings(&file, &[]).0.is_none(), "an empty lesson is none");
                take_recipe(&mut file, &recipe, &tins);
                take_room(&mut file, &room);
                groups::make(&mut file, 20, 2);
                (file.period.start, file.period.end) = ("10:00".into(), "11:40".into());
                let (lesson, findings) = lesson_or_findings(&file, &[]);
                // Only what the room lacks may keep it from being one.
                let lacks = |f: &crate::finding::Finding| {
                    f.severity < crate::finding::Severity::Error
                        || ["no-oven", "too-little-kit", "kit"].iter().any(|c| f.code.contains(c))
                };
                assert!(
                    lesson.is_some() || findings.iter().all(lacks),
                    "{} in {}: {findings:?}",
                    recipe.name,
                    room.name
                );
            }
        }
    }

    #[test]
    fn what_nobody_has_measured_counts_as_assumed() {
        let (recipes, tins) = (library::recipes().unwrap(), library::tins().unwrap());
        let rooms = library::rooms().unwrap();
        let room = rooms.into_iter().find(|r| r.name == "usual room").unwrap();
        let mut file = new_lesson().unwrap();
        take_recipe(&mut file, &recipes[0], &tins);
        groups::make(&mut file, 20, 2);
        (file.period.start, file.period.end) = ("10:00".into(), "11:40".into());
        take_room(&mut file, &room);
        let stated = lesson_or_findings(&file, &[]).0.unwrap();
        take_room(&mut file, &unmeasured(room));
        let assumed = lesson_or_findings(&file, &[]).0.unwrap();
        let shelves = |l: &crate::model::Lesson| {
            l.ovens.iter().map(|o| o.shelves.len()).collect::<Vec<usize>>()
        };
        assert_eq!(shelves(&stated), shelves(&assumed), "the room is the same");
        let told = |l: &crate::model::Lesson| l.assumed.len();
        assert!(told(&assumed) > told(&stated));
    }

    #[test]
    fn what_is_taken_out_leaves_no_group_behind() {
        let (recipes, tins) = (library::recipes().unwrap(), library::tins().unwrap());
        let mut file = new_lesson().unwrap();
        groups::make(&mut file, 4, 2);
        take_recipe(&mut file, &recipes[0], &tins);
        take_recipe(&mut file, &recipes[1], &tins);
        assert!(file.groups.iter().all(|g| g.recipe == recipes[0].name));
        remove_recipe(&mut file, &recipes[0].name);
        assert!(file.groups.iter().all(|g| g.recipe == recipes[1].name));
    }
}
