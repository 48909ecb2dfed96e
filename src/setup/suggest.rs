//! What the library knows of a step by its name, and a recipe to begin with.

use super::usual_kit::{self, KIT};
use crate::file::format::{
    AdultShapeNeed, LessonFile, MethodShape, RecipeShape, StatedMinutes, StepKindShape, StepShape,
    TinChoiceShape,
};
use crate::file::library::{self, LibraryError};

/// The tin of a recipe to begin with, where the lesson has none.
const TIN: &str = "12-hole bun tray";

/// What is known of a step.
#[derive(Debug, Clone, PartialEq)]
pub struct Suggestion {
    /// The step as it would be, with its name; nothing is said of its order.
    pub step: StepShape,
    /// Where its minutes come from, in words; empty without minutes.
    pub minutes_from: String,
}

/// Steps the library knows, by name, those of its table of minutes first.
///
/// # Errors
/// If the program was built with a broken library.
pub fn names() -> Result<Vec<String>, LibraryError> {
    let mut names: Vec<String> = library::minutes()?.into_iter().map(|m| m.step).collect();
    for recipe in library::recipes()? {
        for step in recipe.methods.into_iter().flat_map(|m| m.steps) {
            if !names.contains(&step.name) {
                names.push(step.name);
            }
        }
    }
    Ok(names)
}

/// What the library knows of a step of that name; capital letters do not
/// count. `None` if it knows none.
///
/// # Errors
/// If the program was built with a broken library.
pub fn step(name: &str) -> Result<Option<Suggestion>, LibraryError> {
    let wanted = name.trim().to_lowercase();
    let is_it = |other: &str| other.to_lowercase() == wanted;
    let row = library::minutes()?.into_iter().find(|m| is_it(&m.step));
    let recipes = library::recipes()?;
    let of_recipes: Vec<(&str, &StepShape)> = recipes
        .iter()
        .flat_map(|r| r.methods.iter().flat_map(|m| &m.steps).map(|s| (r.name.as_str(), s)))
        .filter(|(_, s)| is_it(&s.name))
        .collect();
    let usual = of_recipes.first().map(|(_, s)| (*s).clone());
    let mut step = match (&row, usual) {
        (None, None) => return Ok(None),
        (_, Some(step)) => StepShape { after: None, minutes: None, ..step },
        (Some(row), None) => StepShape { name: row.step.clone(), ..StepShape::default() },
    };
    name.trim().clone_into(&mut step.name);
    let mut minutes_from = String::new();
    if let Some(row) = row {
        step.minutes = Some(row.minutes);
        minutes_from = "the library's table of minutes".to_owned();
        for need in KIT.iter().filter(|kit| row.needs.iter().any(|n| n == *kit)) {
            if step.kit.0.iter().all(|(n, _)| n != need) {
                step.kit.0.push(((*need).to_owned(), 1));
            }
        }
        if row.needs.iter().any(|n| n == "adult near") {
            step.adult = AdultShapeNeed::Near;
        }
    } else if let Some((minutes, recipe)) = commonest(&of_recipes) {
        step.minutes = Some(minutes);
        minutes_from = format!("the library's {recipe}");
    }
    Ok(Some(Suggestion { step, minutes_from }))
}

/// The minutes most of some steps have; of those that are as common the first.
fn commonest<'a>(steps: &[(&'a str, &StepShape)]) -> Option<(StatedMinutes, &'a str)> {
    let mut tally: Vec<(StatedMinutes, &str, usize)> = Vec::new();
    for (recipe, step) in steps {
        let Some(minutes) = step.minutes else { continue };
        match tally.iter_mut().find(|(m, _, _)| *m == minutes) {
            Some((_, _, count)) => *count += 1,
            None => tally.push((minutes, recipe, 1)),
        }
    }
    let most = tally.iter().map(|(_, _, count)| *count).max()?;
    tally.into_iter().find(|(_, _, count)| *count == most).map(|(m, recipe, _)| (m, recipe))
}

/// Fills into a step what nobody has said of it yet, as far as there is the kit;
/// kit there is not is named in the answer.
pub fn fill(step: &mut StepShape, known: &Suggestion, kit: &[String]) -> Vec<String> {
    let from = &known.step;
    if step.kind == StepKindShape::Hand {
        step.kind = from.kind;
    }
    // A bake's minutes are its tin's, and only hands have such needs.
    if step.minutes.is_none() && step.kind == from.kind {
        step.minutes = from.minutes;
    }
    let missing = usual_kit::give(step, kit);
    let nobody = step.pupils.is_none() && !step.everyone && step.adult == AdultShapeNeed::None;
    if nobody && step.kind == from.kind {
        (step.pupils, step.everyone, step.adult) = (from.pupils, from.everyone, from.adult);
    }
    if !step.may_be_beforehand && !step.may_be_collected && step.kind == from.kind {
        step.may_be_beforehand = from.may_be_beforehand;
        step.may_be_collected = from.may_be_collected;
    }
    if step.words.is_empty() {
        step.words.clone_from(&from.words);
    }
    if step.pupil_words.is_empty() {
        step.pupil_words.clone_from(&from.pupil_words);
    }
    if step.done_when.is_empty() && step.kind == from.kind {
        step.done_when.clone_from(&from.done_when);
    }
    missing
}

/// Kit a lesson has, by name.
pub fn kit_of(file: &LessonFile) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    let of_rooms = file.rooms().flat_map(|r| r.units.iter().map(|u| &u.kit).chain([&r.kit]));
    for (name, _) in of_rooms.chain([&file.shared_kit]).flat_map(|kit| &kit.0) {
        if !names.contains(name) {
            names.push(name.clone());
        }
    }
    names
}

/// A recipe of one's own to begin with: the fewest steps that make a bake,
/// with the library's minutes, and a tin of which nothing is said yet.
/// The kind of tin is put into the lesson if it has none.
///
/// # Errors
/// If the program was built with a broken library.
pub fn new_recipe(file: &mut LessonFile, name: &str) -> Result<RecipeShape, LibraryError> {
    if file.tins.is_empty() {
        file.tins.extend(library::tin(TIN)?);
    }
    let kit = usual_kit::counted(file);
    let mut steps = Vec::new();
    for (name, after) in [
        ("weigh", None),
        ("mix", None),
        ("fill", None),
        ("bake", None),
        ("cool", None),
        ("wash up", Some(vec!["fill".to_owned()])),
    ] {
        let mut of = StepShape { name: name.to_owned(), after, ..StepShape::default() };
        if let Some(known) = step(name)? {
            fill(&mut of, &known, &kit);
        }
        // Words are the library recipes' own.
        (of.words, of.pupil_words, of.done_when) = Default::default();
        steps.push(of);
    }
    let method = MethodShape {
        name: "usual way".to_owned(),
        steps,
        links: Vec::new(),
        holds: Vec::new(),
        tin_held: None,
    };
    let tins = file.tins.first().map(|t| TinChoiceShape::new(&t.name, None));
    Ok(RecipeShape {
        name: name.to_owned(),
        methods: vec![method],
        tins: tins.into_iter().collect(),
        ..RecipeShape::default()
    })
}
