//! Who washes up and clears away at a minute, and who does so next: what a
//! class is told while nobody is called to an oven.

use super::board::Work;
use super::rows::{kind_of_work, on_the_way};
use super::words::{clock, in_short, list};
use crate::model::{GroupId, Lesson};
use crate::play::Course;
use crate::units::{ClockTime, Minute};

/// What all groups are called together.
pub(super) const ALL: &str = "all groups";

/// Who washes up.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct WashingUp {
    /// Now.
    pub now: Vec<String>,
    /// Those who come to it next, and when.
    pub next: Option<(ClockTime, Vec<String>)>,
    /// How many groups take part in the lesson.
    of: usize,
}

/// Who washes up at a minute, and who comes to it next, before the bell, of the groups
/// that are shown.
pub(super) fn washing_up(
    lesson: &Lesson,
    plan: &dyn Course,
    minute: Minute,
    is_shown: impl Fn(GroupId) -> bool,
) -> WashingUp {
    let mut now = Vec::new();
    let mut next: Option<(Minute, Vec<String>)> = None;
    let shown = || lesson.attending().filter(|id| is_shown(*id));
    for id in shown() {
        let group = lesson.group(id);
        let period = &lesson.periods[group.period.0];
        if minute < period.start || period.end <= minute {
            continue;
        }
        let stretches = clearing(lesson, plan, id);
        if stretches.iter().any(|&(from, until)| from <= minute && minute < until) {
            now.push(group.name.clone());
            continue;
        }
        let later = stretches.iter().map(|s| s.0).filter(|&s| minute < s && s < period.end).min();
        match (later, &mut next) {
            (None, _) => {}
            (Some(at), Some((first, names))) if at == *first => names.push(group.name.clone()),
            (Some(at), Some((first, _))) if at > *first => {}
            (Some(at), _) => next = Some((at, vec![group.name.clone()])),
        }
    }
    let next = next.map(|(at, names)| (clock(lesson, at), names));
    WashingUp { now, next, of: shown().count() }
}

/// When a group clears away.
fn clearing(lesson: &Lesson, plan: &dyn Course, id: GroupId) -> Vec<(Minute, Minute)> {
    let Some(choice) = plan.plan().choice(id) else { return Vec::new() };
    let method = lesson.method_of(id, choice.method);
    let on_way = on_the_way(method);
    let clears = |step: usize| kind_of_work(method.steps[step].kind, on_way[step]) == Work::Clear;
    let of_group = plan.plan().steps.iter().filter(|s| s.group == id && clears(s.step.0));
    of_group.map(|s| (s.start, s.end)).collect()
}

impl WashingUp {
    /// "Wash up now: Unit 1, 3 and 4; from 11:35: Unit 2 and 6".
    pub fn words(&self) -> String {
        let who = |names: &[String]| called(names, self.of);
        match (self.now.as_slice(), &self.next) {
            ([], None) => "Carry on in your groups".to_owned(),
            ([], Some((at, next))) => {
                format!("Carry on in your groups; wash up from {at}: {}", who(next))
            }
            (now, None) => format!("Wash up now: {}", who(now)),
            (now, Some((at, next))) => {
                format!("Wash up now: {}; from {at}: {}", who(now), who(next))
            }
        }
    }
}

/// Names of groups as they are called out: all of them, or a list in which what
/// they have in common is said once: "Unit 1, 3 and 5".
pub(super) fn called(names: &[String], of: usize) -> String {
    if names.len() == of && of > 2 {
        return ALL.to_owned();
    }
    let mut stem = "";
    let mut words = Vec::new();
    let short = in_short(names);
    for name in &short {
        // "Unit 3 to Unit 6".
        let parts: Vec<(&str, &str)> =
            name.split(" to ").filter_map(|part| part.rsplit_once(' ')).collect();
        let numbered = parts.iter().all(|(_, n)| n.bytes().all(|b| b.is_ascii_digit()));
        match parts.first() {
            Some(&(this, _)) if numbered && parts.iter().all(|(s, _)| *s == this) => {
                let numbers: Vec<&str> = parts.iter().map(|(_, n)| *n).collect();
                let numbers = numbers.join(" to ");
                let again = this == stem;
                stem = this;
                words.push(if again { numbers } else { format!("{this} {numbers}") });
            }
            _ => {
                stem = "";
                words.push(name.clone());
            }
        }
    }
    list(&words)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(all: &[&str]) -> Vec<String> {
        all.iter().map(|name| (*name).to_owned()).collect()
    }

    #[test]
    fn what_names_have_in_common_is_said_once() {
        for (all, said) in [
            (&["Unit 1", "Unit 3", "Unit 4"][..], "Unit 1, 3 and 4"),
            (&["Unit 1", "Unit 2", "Unit 3", "Unit 5"], "Unit 1 to 3 and 5"),
            (&["Pair 1", "Unit 1"], "Pair 1 and Unit 1"),
            (&["Window table", "Unit 2"], "Window table and Unit 2"),
            (&["Back to back", "Up to 4"], "Back to back and Up to 4"),
            (&["Unit 9"], "Unit 9"),
        ] {
            assert_eq!(called(&names(all), 10), said);
        }
        assert_eq!(called(&names(&["Unit 1", "Unit 2", "Unit 3"]), 3), "all groups");
        assert_eq!(called(&names(&["Unit 1", "Unit 2"]), 2), "Unit 1 and 2", "two are named");
    }
}
