//! A class, kept from one lesson and brought into another.

use crate::file::format::{GroupShape, LessonFile, SavedClass};

use super::groups;

/// What a lesson's class brings to other lessons: all of a group but what it
/// bakes and how it fares today.
pub fn of(file: &LessonFile) -> SavedClass {
    let group = |g: &GroupShape| GroupShape {
        recipe: String::new(),
        methods: Vec::new(),
        tins: Vec::new(),
        beforehand: Vec::new(),
        collected: Vec::new(),
        left_out: false,
        room: None,
        period: None,
        ..g.clone()
    };
    let some = |text: &String| (!text.is_empty()).then(|| text.clone());
    SavedClass {
        class: file.class.clone(),
        groups: file.groups.iter().map(group).collect(),
        opening: file.period.opening.clone(),
        during: file.period.during.clone(),
        closing: file.period.closing.clone(),
        start: some(&file.period.start),
        end: some(&file.period.end),
    }
}

/// The lesson is this class's. Its groups make the lesson's first recipe.
pub fn take(file: &mut LessonFile, class: &SavedClass) {
    file.class.clone_from(&class.class);
    if !class.groups.is_empty() {
        for gone in std::mem::take(&mut file.groups) {
            groups::forget(file, &gone.name);
        }
        let recipe = file.recipes.first().map(|r| r.name.clone()).unwrap_or_default();
        let unit = |name: &String| file.room.units.iter().any(|u| u.name == *name);
        file.groups = class
            .groups
            .iter()
            .map(|g| GroupShape {
                recipe: recipe.clone(),
                unit: g.unit.clone().filter(unit),
                ..g.clone()
            })
            .collect();
    }
    let adults: Vec<String> = file.adults.iter().map(|a| a.name.clone()).collect();
    for (list, saved) in [
        (&mut file.period.opening, &class.opening),
        (&mut file.period.during, &class.during),
        (&mut file.period.closing, &class.closing),
    ] {
        if !saved.is_empty() {
            list.clone_from(saved);
            for step in list.iter_mut() {
                step.adults.retain(|a| adults.contains(a));
            }
        }
    }
    for (bell, saved) in
        [(&mut file.period.start, &class.start), (&mut file.period.end, &class.end)]
    {
        if let Some(saved) = saved {
            bell.clone_from(saved);
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::file::library;
    use crate::setup::starter;

    #[test]
    fn a_class_comes_into_another_lesson_as_it_was() {
        let (recipes, tins) = (library::recipes().unwrap(), library::tins().unwrap());
        let mut first = starter::new_lesson().unwrap();
        starter::take_recipe(&mut first, &recipes[0], &tins);
        groups::make(&mut first, 21, 2);
        first.groups[2].needs = vec!["made without egg".into()];
        (first.period.start, first.period.end) = ("10:05".into(), "11:05".into());
        let kept = of(&first);
        assert!(kept.groups.iter().all(|g| g.recipe.is_empty()));
        let mut second = starter::new_lesson().unwrap();
        starter::take_recipe(&mut second, &recipes[3], &tins);
        take(&mut second, &kept);
        assert_eq!(groups::pupils(&second), 21);
        assert_eq!(second.groups[2].needs, first.groups[2].needs);
        assert!(second.groups.iter().all(|g| g.recipe == recipes[3].name));
        assert_eq!(second.period, first.period);
        assert_eq!(of(&second), kept, "and out again");
    }
}
