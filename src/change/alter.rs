//! Carrying out alterations of a lesson file.

use super::alteration::Alteration;
use super::recipe_for::make_instead;
use super::side_by_side::split_steps;
use super::two_lessons;
use crate::edit::{
    FileChange, keep_known_steps, own_group, put_first, put_last, tin_label, tin_labels,
};
use crate::file::format::{
    ClassStepShape, GroupShape, KitCount, LessonFile, MethodShape, RecipeShape, StatedMinutes,
    TinChoiceShape, TinShape,
};
use crate::units::{ClockTime, Minutes};

/// Minutes of a recap of a demo taught before (common practice of the trade).
const RECAP: StatedMinutes = StatedMinutes::Three(1.5, 2.0, 3.0);

impl Alteration {
    /// Makes it; `false` if there is nothing of the kind to alter.
    pub(super) fn make(&self, file: &mut LessonFile) -> bool {
        match self {
            Alteration::Unlock(lock) => {
                let before = file.locks.len();
                file.locks.retain(|l| l != lock);
                file.locks.len() < before
            }
            Alteration::OvensOn { period, minute } => {
                file.period_mut(*period).map(|p| p.ovens_on_from = Some(*minute)).is_some()
            }
            Alteration::Beforehand { steps } => extend(&mut file.beforehand, steps),
            Alteration::Collect { steps } => collect(file, steps),
            Alteration::Recap { period, step } => recap(file, *period, step),
            Alteration::Shorten { period, step, minutes } => shorten(file, *period, step, minutes),
            Alteration::SideBySide { recipe, steps } => split_steps(file, recipe, steps),
            Alteration::Share => {
                let news = file.rules.sharing != Some(true);
                file.rules.sharing = Some(true);
                news
            }
            Alteration::Kit { room, kit, more } => more_kit(file, *room, kit, *more),
            Alteration::Stock { room, tin, more } => more_tins(file, *room, tin, *more),
            Alteration::Tin { recipe, tin, kind, first } => {
                add_tin(file, recipe, tin, kind.as_ref(), *first)
            }
            Alteration::Method { recipe, method, first } => {
                add_method(file, recipe, method, *first)
            }
            Alteration::Join { alone, with } => join(file, alone, with),
            Alteration::Recipe { from, to, tins } => make_instead(file, from, to, tins),
            Alteration::Pairs => pair_up(file),
            Alteration::Oven { room, oven } => {
                file.room_mut(*room).map(|r| r.ovens.push(oven.clone())).is_some()
            }
            Alteration::Longer { period, minutes } => longer(file, *period, *minutes),
            Alteration::TwoLessons { recipe, method, first } => {
                two_lessons::split(file, recipe, method, *first)
            }
            Alteration::OnCard(choices) => choices.iter().all(|choice| choice.apply(file).is_ok()),
        }
    }
}

fn extend(list: &mut Vec<String>, steps: &[String]) -> bool {
    let before = list.len();
    for step in steps {
        if !list.contains(step) {
            list.push(step.clone());
        }
    }
    list.len() > before
}

fn recap(file: &mut LessonFile, period: usize, step: &str) -> bool {
    let Some(period) = file.period_mut(period) else { return false };
    let mut all = period.opening.iter_mut().chain(&mut period.during);
    let Some(found) = all.find(|s| s.name == step) else { return false };
    *found = ClassStepShape { name: format!("recap: {step}"), minutes: RECAP, ..found.clone() };
    true
}

fn shorten(file: &mut LessonFile, period: usize, step: &str, minutes: &StatedMinutes) -> bool {
    let Some(period) = file.period_mut(period) else { return false };
    let Some(found) = period.class_steps_mut().find(|s| s.name == step) else { return false };
    found.minutes = *minutes;
    true
}

/// Steps of the recipes may be collected, and are.
fn collect(file: &mut LessonFile, steps: &[String]) -> bool {
    let all = file.recipes.iter_mut().flat_map(|r| &mut r.methods).flat_map(|m| &mut m.steps);
    for step in all.filter(|s| steps.contains(&s.name)) {
        step.may_be_collected = true;
    }
    extend(&mut file.collected, steps)
}

/// On the day the group stays in the list, so that what happened to it is
/// seen; before that it is none.
fn join(file: &mut LessonFile, alone: &str, with: &str) -> bool {
    let Some(to) = own_group(file, with) else { return false };
    let pupils = file.groups[to].pupils.unwrap_or(2);
    file.groups[to].pupils = Some(pupils + 1);
    let Some(from) = own_group(file, alone) else { return false };
    match &mut file.today {
        Some(today) => {
            today.joined.0.push((alone.to_owned(), with.to_owned()));
            file.groups[from].left_out = true;
        }
        None => {
            file.groups.remove(from);
        }
    }
    true
}

fn more_kit(file: &mut LessonFile, room: Option<usize>, kit: &str, more: i64) -> bool {
    let entries = match room {
        None => &mut file.shared_kit,
        Some(room) => match file.room_mut(room) {
            Some(room) => &mut room.kit,
            None => return false,
        },
    };
    match entries.0.iter_mut().find(|(name, _)| name == kit) {
        Some((_, count)) => count.borrowed += more,
        None => {
            let count = KitCount { borrowed: more, ..KitCount::of(0) };
            entries.0.push((kit.to_owned(), count));
        }
    }
    true
}

fn more_tins(file: &mut LessonFile, room: usize, tin: &str, more: i64) -> bool {
    let stock = file.room_mut(room).map(|r| &mut r.tins.0);
    match stock.and_then(|tins| tins.iter_mut().find(|(name, _)| name == tin)) {
        Some((_, count)) => {
            *count += more;
            true
        }
        // As many as are wanted are there.
        None => false,
    }
}

fn add_tin(
    file: &mut LessonFile,
    recipe: &str,
    tin: &TinChoiceShape,
    kind: Option<&TinShape>,
    first: bool,
) -> bool {
    let Some(of) = file.recipes.iter_mut().find(|r| r.name == recipe) else { return false };
    let before = tin_labels(of);
    let label = tin_label(tin).to_owned();
    if !before.contains(&label) {
        let mut tin = tin.clone();
        keep_known(of, &mut tin);
        of.tins.push(tin);
    }
    if let Some(kind) = kind.filter(|k| file.tins.iter().all(|t| t.name != k.name)) {
        file.tins.push(kind.clone());
    }
    let all = if before.contains(&label) { before } else { [before, vec![label.clone()]].concat() };
    prefer(file, recipe, |g| &mut g.tins, &all, &label, first);
    true
}

/// A tin made for another file's recipe speaks only of steps and methods this
/// one has.
fn keep_known(recipe: &RecipeShape, tin: &mut TinChoiceShape) {
    keep_known_steps(recipe, tin);
    tin.methods.retain(|name| recipe.methods.iter().any(|m| m.name == *name));
}

fn add_method(file: &mut LessonFile, recipe: &str, method: &MethodShape, first: bool) -> bool {
    let Some(of) = file.recipes.iter_mut().find(|r| r.name == recipe) else { return false };
    if of.methods.iter().all(|m| m.name != method.name) {
        of.methods.push(method.clone());
    }
    let all: Vec<String> = of.methods.iter().map(|m| m.name.clone()).collect();
    prefer(file, recipe, |g| &mut g.methods, &all, &method.name, first);
    true
}

/// Puts a name into the lists of all groups that make a recipe. An empty list
/// stands for `all`.
fn prefer(
    file: &mut LessonFile,
    recipe: &str,
    list: impl Fn(&mut GroupShape) -> &mut Vec<String>,
    all: &[String],
    name: &str,
    first: bool,
) {
    for group in file.groups.iter_mut().filter(|g| g.recipe == recipe) {
        let list = list(group);
        if first { put_first(list, all, name) } else { put_last(list, name) }
    }
}

/// Whether an entry's pupils work by themselves and may be joined: nobody is
/// kept apart or has needs of their own, and no lock or adult speaks of them.
pub(super) fn may_pair(file: &LessonFile, group: &GroupShape) -> bool {
    let named = |name: &str| match group.count {
        None => name == group.name,
        Some(n) => (1..=n).any(|i| name == format!("{} {i}", group.name)),
    };
    group.pupils == Some(1)
        && !group.keep_apart
        && group.needs.is_empty()
        && !group.left_out
        && !file.locks.iter().any(|l| named(&l.group))
        && !file.adults.iter().filter_map(|a| a.only_for.as_deref()).any(named)
}

fn pair_up(file: &mut LessonFile) -> bool {
    let single: Vec<bool> = file.groups.iter().map(|g| may_pair(file, g)).collect();
    let alike = |a: &GroupShape, b: &GroupShape| {
        let bare = |g: &GroupShape| GroupShape { name: String::new(), count: None, ..g.clone() };
        bare(a) == bare(b)
    };
    let mut groups: Vec<GroupShape> = Vec::new();
    let mut done = false;
    let mut at = 0;
    while at < file.groups.len() {
        let first = &file.groups[at];
        if !single[at] {
            groups.push(first.clone());
            at += 1;
            continue;
        }
        let mut end = at + 1;
        while end < file.groups.len() && single[end] && alike(first, &file.groups[end]) {
            end += 1;
        }
        let pupils: i64 = file.groups[at..end].iter().map(|g| g.count.unwrap_or(1)).sum();
        done |= pupils > 1;
        groups.extend(twos(first, pupils, groups.len()));
        at = end;
    }
    file.groups = groups;
    done
}

/// So many pupils in twos, with a three if they are odd.
fn twos(like: &GroupShape, pupils: i64, number: usize) -> Vec<GroupShape> {
    if pupils < 2 {
        return vec![like.clone()];
    }
    let (twos, three) = if pupils % 2 == 0 { (pupils / 2, 0) } else { ((pupils - 3) / 2, 1) };
    // Names of their own, should there be several such entries.
    let name = |word: &str| if number == 0 { word.to_owned() } else { format!("{word} {number}.") };
    let of = |word: &str, count: i64, pupils: i64| GroupShape {
        name: name(word),
        count: Some(count),
        pupils: Some(pupils),
        ..like.clone()
    };
    let mut all = Vec::new();
    if twos > 0 {
        all.push(of("Pair", twos, 2));
    }
    if three > 0 {
        all.push(of("Three", 1, 3));
    }
    all
}

fn longer(file: &mut LessonFile, number: usize, minutes: i32) -> bool {
    let Some(period) = file.period_mut(number) else { return false };
    let (Ok(start), Ok(end)) = (ClockTime::parse(&period.start), ClockTime::parse(&period.end))
    else {
        return false;
    };
    let later = end.after(Minutes::new(minutes));
    if later <= start {
        return false; // round midnight
    }
    let Ok(first) = ClockTime::parse(&file.period.start) else { return false };
    let before = end.minutes_since(first).get();
    if let Some(period) = file.period_mut(number) {
        period.end = later.to_string();
    }
    // Who stays to the bell stays to the later one.
    for adult in &mut file.adults {
        for hours in adult.hours.iter_mut().filter(|h| h.1 >= before) {
            hours.1 = hours.1.max(before + minutes);
        }
    }
    true
}
