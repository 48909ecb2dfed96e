//! The words of a lesson's file that are its owner's: names, references to
//! them, notes, needs. What a file says by the program's own words, such as
//! kinds of steps and times of the day, is none of them.

use super::format::{
    ClassStepShape, Entries, GroupShape, LessonFile, MethodShape, OvenShape, PacketShape,
    PeriodShape, RecipeShape, RoomShape, SavedClass, StepShape, TinChoiceShape, TinShape,
};

/// The operation on each word.
type EachWord<'a> = &'a mut dyn FnMut(&mut String);

/// All own words of a lesson's file.
pub fn of_lesson(file: &LessonFile) -> Vec<String> {
    gathered(&mut file.clone(), lesson)
}

/// All own words of a recipe.
pub fn of_recipe(shape: &RecipeShape) -> Vec<String> {
    gathered(&mut shape.clone(), recipe)
}

/// All own words of a room.
pub fn of_room(shape: &RoomShape) -> Vec<String> {
    gathered(&mut shape.clone(), room)
}

/// All own words of a class.
pub fn of_class(shape: &SavedClass) -> Vec<String> {
    gathered(&mut shape.clone(), class)
}

fn gathered<T>(shape: &mut T, visit: fn(&mut T, EachWord<'_>)) -> Vec<String> {
    let mut words = Vec::new();
    visit(shape, &mut |word| words.push(std::mem::take(word)));
    words.sort_unstable();
    words.dedup();
    words
}

fn all(list: &mut [String], each: EachWord<'_>) {
    list.iter_mut().for_each(each);
}

fn keys<T>(entries: &mut Entries<T>, each: EachWord<'_>) {
    entries.0.iter_mut().for_each(|(key, _)| each(key));
}

/// Every own word of a lesson's file.
pub fn lesson(file: &mut LessonFile, each: EachWord<'_>) {
    each(&mut file.title);
    each(&mut file.class.name);
    period(&mut file.period, each);
    file.other_periods.iter_mut().for_each(|p| period(p, each));
    room(&mut file.room, each);
    file.other_rooms.iter_mut().for_each(|r| room(r, each));
    keys(&mut file.shared_kit, each);
    for adult in &mut file.adults {
        each(&mut adult.name);
        adult.room.iter_mut().chain(&mut adult.only_for).for_each(&mut *each);
    }
    all(&mut file.beforehand, each);
    all(&mut file.collected, each);
    file.recipes.iter_mut().for_each(|r| recipe(r, each));
    file.tins.iter_mut().for_each(|t| tin(t, each));
    file.groups.iter_mut().for_each(|g| group(g, each));
    for lock in &mut file.locks {
        each(&mut lock.group);
        let named = [&mut lock.step, &mut lock.tin, &mut lock.method, &mut lock.oven];
        named.into_iter().flatten().for_each(&mut *each);
    }
    for packet in &mut file.packets {
        let PacketShape { of, brand, supplier, store, read_by, .. } = packet;
        [of, brand, supplier, store, read_by].into_iter().for_each(&mut *each);
        packet.names.iter_mut().flatten().for_each(&mut *each);
    }
    for note in &mut file.teacher {
        [&mut note.at, &mut note.say, &mut note.r#do].into_iter().for_each(&mut *each);
    }
    if let Some(today) = &mut file.today {
        keys(&mut today.out_from, each);
        keys(&mut today.baked_for, each);
        today.happened.iter_mut().filter_map(|h| h.who.as_mut()).for_each(&mut *each);
        for after in today.afterwards.iter_mut() {
            each(&mut after.held);
            each(&mut after.next);
        }
        for (group, with) in &mut today.joined.0 {
            each(group);
            each(with);
        }
    }
}

fn period(period: &mut PeriodShape, each: EachWord<'_>) {
    each(&mut period.name);
    period.ovens_on_by.iter_mut().for_each(&mut *each);
    let steps = [&mut period.opening, &mut period.during, &mut period.closing];
    steps.into_iter().for_each(|steps| class_steps(steps, each));
}

fn class_steps(steps: &mut [ClassStepShape], each: EachWord<'_>) {
    for step in steps {
        each(&mut step.name);
        all(&mut step.adults, each);
    }
}

/// Every own word of a room.
pub fn room(room: &mut RoomShape, each: EachWord<'_>) {
    each(&mut room.name);
    ovens(&mut room.ovens, each);
    keys(&mut room.kit, each);
    for unit in &mut room.units {
        each(&mut unit.name);
        ovens(&mut unit.ovens, each);
        keys(&mut unit.kit, each);
    }
    keys(&mut room.tins, each);
    all(&mut room.out_of_order, each);
}

fn ovens(ovens: &mut [OvenShape], each: EachWord<'_>) {
    ovens.iter_mut().for_each(|oven| each(&mut oven.name));
}

/// Every own word of a kind of tin.
pub fn tin(tin: &mut TinShape, each: EachWord<'_>) {
    each(&mut tin.name);
}

/// Every own word of a recipe.
pub fn recipe(recipe: &mut RecipeShape, each: EachWord<'_>) {
    each(&mut recipe.name);
    all(&mut recipe.notes, each);
    for ingredient in &mut recipe.ingredients {
        each(&mut ingredient.name);
        ingredient.allergens.iter_mut().flatten().for_each(&mut *each);
    }
    recipe.methods.iter_mut().for_each(|m| method(m, each));
    recipe.tins.iter_mut().for_each(|t| choice(t, each));
    recipe.review.iter_mut().for_each(|of| each(&mut of.text));
}

fn method(method: &mut MethodShape, each: EachWord<'_>) {
    each(&mut method.name);
    method.steps.iter_mut().for_each(|s| step(s, each));
    for link in &mut method.links {
        each(&mut link.from);
        each(&mut link.to);
    }
    for hold in &mut method.holds {
        each(&mut hold.kit);
        each(&mut hold.from);
        each(&mut hold.to);
    }
    if let Some((from, to)) = &mut method.tin_held {
        each(from);
        each(to);
    }
}

/// Every own word of a step.
pub fn step(step: &mut StepShape, each: EachWord<'_>) {
    each(&mut step.name);
    step.after.iter_mut().flatten().for_each(&mut *each);
    keys(&mut step.kit, each);
    each(&mut step.words);
    each(&mut step.pupil_words);
    each(&mut step.done_when);
    step.home.0.iter_mut().for_each(|(_, words)| each(words));
}

fn choice(choice: &mut TinChoiceShape, each: EachWord<'_>) {
    each(&mut choice.tin);
    choice.label.iter_mut().for_each(&mut *each);
    all(&mut choice.methods, each);
    keys(&mut choice.step_minutes, each);
}

fn group(group: &mut GroupShape, each: EachWord<'_>) {
    each(&mut group.name);
    each(&mut group.recipe);
    let named = [&mut group.room, &mut group.unit, &mut group.period];
    named.into_iter().flatten().for_each(&mut *each);
    let lists = [
        &mut group.methods,
        &mut group.tins,
        &mut group.needs,
        &mut group.beforehand,
        &mut group.collected,
    ];
    lists.into_iter().for_each(|list| all(list, each));
}

/// Every own word of a class.
pub fn class(class: &mut SavedClass, each: EachWord<'_>) {
    each(&mut class.class.name);
    class.groups.iter_mut().for_each(|g| group(g, each));
    for steps in [&mut class.opening, &mut class.during, &mut class.closing] {
        class_steps(steps, each);
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::file::library;

    #[test]
    fn every_word_of_the_library_is_found_and_references_still_hold() {
        for shape in library::recipes().unwrap() {
            let mut file = library::lesson_of(shape).unwrap();
            let words = of_lesson(&file);
            let recipe = &file.recipes[0];
            for wanted in [&recipe.name, &recipe.ingredients[0].name, &file.adults[0].name] {
                assert!(words.contains(wanted), "{wanted}");
            }
            assert!(!words.iter().any(|w| w == "09:00" || w == "Fan"));
            lesson(&mut file, &mut |word| {
                if !word.is_empty() {
                    word.push('*');
                }
            });
            let text = crate::file::write_lesson(&file).unwrap();
            let read = crate::file::read_lesson(&text);
            assert!(read.is_ok(), "{:?}", read.err());
        }
    }
}
