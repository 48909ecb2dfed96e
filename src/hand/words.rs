//! What is moved, held and let go of by hand, in words.

use super::{Held, Spot, Thing};
use crate::check::CheckedPlan;
use crate::finding::shortened;
use crate::model::{GroupId, Lesson, Lock, LockedTo, OvenId, ShelfId, StepId};
use crate::view::words::{clock, minutes, shelf};

/// Names in messages are no longer than this.
const NAME: usize = 40;

fn name(lesson: &Lesson, group: GroupId) -> String {
    shortened(&lesson.group(group).name, NAME)
}

fn step_name(lesson: &Lesson, plan: &CheckedPlan, group: GroupId, step: StepId) -> String {
    let choice = plan.plan().choice(group);
    let step = choice.and_then(|c| lesson.method_of(group, c.method).steps.get(step.0));
    step.map(|s| shortened(&s.name, NAME)).unwrap_or_default()
}

/// "Unit 3, cream", "Unit 3's bake", "all of Unit 3".
pub fn thing_words(lesson: &Lesson, plan: &CheckedPlan, thing: Thing) -> String {
    match thing {
        Thing::Step(g, s) => format!("{}, {}", name(lesson, g), step_name(lesson, plan, g, s)),
        Thing::Bake(g) => format!("{}'s bake", name(lesson, g)),
        Thing::Row(g) => format!("all of {}", name(lesson, g)),
    }
}

/// "Oven B, top shelf".
pub fn place_words(lesson: &Lesson, oven: OvenId, of: Option<ShelfId>) -> String {
    let Some(found) = lesson.ovens.get(oven.0) else { return String::new() };
    let oven = shortened(&found.name, NAME);
    match of {
        Some(s) => format!("{oven}, {}", shelf(s.0, found.shelves.len())),
        None => oven,
    }
}

/// "Unit 3, cream to 10:24", "Unit 3's bake to Oven B, top shelf", "Unit 3's bake to load at
/// 10:24".
pub fn put_words(lesson: &Lesson, plan: &CheckedPlan, spots: &[(Thing, Spot)]) -> String {
    let Some(&(thing, spot)) = spots.first() else { return String::new() };
    let at = spot.at.or_else(|| thing.start(lesson, plan));
    // The minute of a bake is that of its loading, not the one at which its own bar begins.
    let at = at.map(|m| match thing {
        Thing::Bake(_) => format!("load at {}", clock(lesson, m)),
        Thing::Step(..) | Thing::Row(_) => clock(lesson, m).to_string(),
    });
    let to = match (spot.place, spot.at) {
        (Some((oven, shelf)), None) => place_words(lesson, oven, shelf),
        (Some((oven, shelf)), Some(_)) => {
            format!("{}, {}", place_words(lesson, oven, shelf), at.unwrap_or_default())
        }
        (None, _) => at.unwrap_or_default(),
    };
    let what = thing_words(lesson, plan, thing);
    if let (Thing::Row(_), None, Some(at)) = (thing, spot.place, spot.at)
        && let Some(start) = thing.start(lesson, plan)
    {
        let by = (at - start).get();
        let way = if by < 0 { "earlier" } else { "later" };
        return format!("{what} {} {way}", minutes(by.abs()));
    }
    match spots.len() {
        0 | 1 => format!("{what} to {to}"),
        n => format!("{what} to {to}, and {} more", n - 1),
    }
}

/// "hold Unit 3's tin", "let go of Unit 3's tin and 2 more".
pub fn held_words(lesson: &Lesson, plan: &CheckedPlan, all: &[Held], on: bool) -> String {
    let Some(&first) = all.first() else { return String::new() };
    let what = match first {
        Held::Step(g, s) => format!("{}, {}", name(lesson, g), step_name(lesson, plan, g, s)),
        Held::Tin(g) => format!("{}'s tin", name(lesson, g)),
        Held::Method(g) => format!("{}'s method", name(lesson, g)),
        Held::Oven(g) => format!("{}'s oven", name(lesson, g)),
        Held::Group(g) => format!("all of {}", name(lesson, g)),
    };
    let what = if on { format!("hold {what}") } else { format!("let go of {what}") };
    match all.len() {
        1 => what,
        n => format!("{what} and {} more", n - 1),
    }
}

/// A lock: "Unit 3's bake at 10:24", "Unit 3 in Oven B, top shelf".
pub fn lock_words(lesson: &Lesson, lock: &Lock) -> String {
    let group = name(lesson, lock.group);
    match &lock.to {
        LockedTo::Start(step, at) => {
            format!("{group}, {} at {}", shortened(step, NAME), clock(lesson, *at))
        }
        LockedTo::Tin(tin) => {
            let label = lesson.recipe_of(lock.group).tins.get(tin.0).map(|t| t.label.as_str());
            format!("{group} in {}", shortened(label.unwrap_or_default(), NAME))
        }
        LockedTo::Method(method) => {
            let methods = &lesson.recipe_of(lock.group).methods;
            let name = methods.get(method.0).map(|m| m.name.as_str());
            format!("{group} by {}", shortened(name.unwrap_or_default(), NAME))
        }
        LockedTo::Oven(oven, shelf) => format!("{group} in {}", place_words(lesson, *oven, *shelf)),
    }
}
