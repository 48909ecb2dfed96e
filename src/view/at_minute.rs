//! What every group, oven and adult does at one minute.

use super::ovens::dial_words;
use super::words::{clock, list};
use crate::model::{AdultId, GroupId, Lesson, OvenId, Phase, StepKind};
use crate::plan::StepPlacement;
use crate::play::Course;
use crate::units::{Minute, Minutes};

/// Who, and what they do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Doing {
    /// Name of the group, oven or adult.
    pub who: String,
    /// What they do, in words.
    pub what: String,
    /// It is a group that is there, is not ready and has nothing in hand.
    pub waits: bool,
}

/// All that goes on at a minute.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AtMinute {
    /// "10:25, minute 20".
    pub title: String,
    /// What the class does together, if it does.
    pub class: Option<String>,
    /// Groups.
    pub groups: Vec<Doing>,
    /// Ovens.
    pub ovens: Vec<Doing>,
    /// Adults.
    pub adults: Vec<Doing>,
}

/// What goes on at a minute.
pub fn at_minute(lesson: &Lesson, plan: &dyn Course, minute: Minute) -> AtMinute {
    let class = plan.plan().class_steps.iter().find(|c| c.start <= minute && minute < c.end);
    AtMinute {
        title: format!("{}, minute {}", clock(lesson, minute), minute.get()),
        class: class.map(|c| {
            let step = &lesson.class_steps[c.step.0];
            format!("{} until {}", step.name, clock(lesson, c.end))
        }),
        groups: lesson.attending().map(|g| group(lesson, plan, g, minute)).collect(),
        ovens: (0..lesson.ovens.len()).map(|o| oven(lesson, plan, OvenId(o), minute)).collect(),
        adults: (0..lesson.adults.len()).map(|a| adult(lesson, plan, AdultId(a), minute)).collect(),
    }
}

fn doing(who: String, what: impl Into<String>) -> Doing {
    Doing { who, what: what.into(), waits: false }
}

fn group(lesson: &Lesson, plan: &dyn Course, id: GroupId, minute: Minute) -> Doing {
    let group = lesson.group(id);
    let who = group.name.clone();
    let Some(choice) = plan.plan().choice(id) else {
        return doing(who, "not out by the bell");
    };
    let method = lesson.method_of(id, choice.method);
    let name = |s: &StepPlacement| &method.steps[s.step.0].name;
    let of_group = || plan.plan().steps.iter().filter(|s| s.group == id);
    // What is collected keeps nobody from being ready.
    let own = || of_group().filter(|s| !group.collected.contains(name(s)));
    let period = &lesson.periods[group.period.0];
    let is_left = own().any(|s| minute < s.end);
    let together = plan.plan().class_steps.iter().any(|c| {
        let step = &lesson.class_steps[c.step.0];
        step.period == group.period && c.start <= minute && minute < c.end
    });
    let (mut doing, mut in_hand): (Vec<String>, bool) = (Vec::new(), false);
    for s in of_group().filter(|s| s.start <= minute && minute < s.end) {
        let pupils: Vec<String> = s.pupils.iter().map(|p| (p + 1).to_string()).collect();
        let with = match pupils.len() {
            0 if group.collected.contains(name(s)) => ", collected later,".to_owned(),
            0 => String::new(),
            1 => format!(" (pupil {})", pupils[0]),
            _ => format!(" (pupils {})", list(&pupils)),
        };
        in_hand |= !pupils.is_empty();
        doing.push(format!("{}{with} until {}", name(s), clock(lesson, s.end)));
    }
    let waits = is_left && !in_hand && !together && period.start <= minute;
    let next = own().filter(|s| s.start > minute).min_by_key(|s| s.start);
    let what = match next {
        _ if !doing.is_empty() && is_left => doing.join("; "),
        _ if !doing.is_empty() => format!("ready; {}", doing.join("; ")),
        _ if together => "with the class".to_owned(),
        Some(next) if minute < period.start => {
            format!("not there yet; {} at {}", name(next), clock(lesson, next.start))
        }
        Some(next) => format!("waits; {} at {}", name(next), clock(lesson, next.start)),
        None if minute >= period.end => "gone".to_owned(),
        None => "ready".to_owned(),
    };
    Doing { who, what, waits }
}

fn oven(lesson: &Lesson, plan: &dyn Course, id: OvenId, minute: Minute) -> Doing {
    let oven = &lesson.ovens[id.0];
    let who = oven.name.clone();
    if !oven.works_until(minute + Minutes::new(1)) {
        return doing(who, "out of order");
    }
    let setting = plan
        .plan()
        .settings
        .iter()
        .filter(|s| s.oven == id && s.set_at <= minute && minute < s.until)
        .max_by_key(|s| s.set_at);
    let Some(setting) = setting else { return doing(who, "off") };
    let dial = dial_words(oven, setting.celsius);
    if minute < setting.hot_from {
        let hot = clock(lesson, setting.hot_from);
        return doing(who, format!("heating to {dial}, hot at {hot}"));
    }
    let mut groups: Vec<GroupId> = plan
        .plan()
        .loads
        .iter()
        .filter(|l| l.oven == id && l.start <= minute && minute < l.end)
        .map(|l| l.group)
        .collect();
    groups.sort_unstable();
    groups.dedup();
    let names: Vec<String> = groups.iter().map(|g| lesson.group(*g).name.clone()).collect();
    let inside = if names.is_empty() { "empty".to_owned() } else { list(&names) };
    let moved = plan.plan().steps.iter().any(|s| {
        let opens = plan.plan().choice(s.group).is_some_and(|c| {
            let kind = lesson.method_of(s.group, c.method).steps[s.step.0].kind;
            matches!(kind, StepKind::Load | StepKind::TakeOut)
        });
        opens && groups.contains(&s.group) && s.start <= minute && minute < s.end
    });
    let door = if moved { ", door open" } else { "" };
    doing(who, format!("{dial}: {inside}{door}"))
}

fn adult(lesson: &Lesson, plan: &dyn Course, id: AdultId, minute: Minute) -> Doing {
    let adult = &lesson.adults[id.0];
    let who = adult.name.clone();
    if !adult.is_there(minute) {
        return doing(who, "not in the room");
    }
    let class = plan.plan().class_steps.iter().find(|c| {
        c.start <= minute && minute < c.end && lesson.class_steps[c.step.0].adults.contains(&id)
    });
    if let Some(class) = class {
        let step = &lesson.class_steps[class.step.0];
        let phase = if step.phase == Phase::During { "stops the class: " } else { "" };
        return doing(who, format!("{phase}{}", step.name));
    }
    if let Some(watch) =
        plan.plan().door_watches.iter().find(|w| w.adult == id && w.minute == minute)
    {
        return doing(who, format!("at the door of {}", lesson.ovens[watch.oven.0].name));
    }
    let step = plan
        .plan()
        .steps
        .iter()
        .find(|s| s.adult == Some(id) && s.start <= minute && minute < s.end);
    let what = match step {
        Some(s) => format!("with {}", lesson.group(s.group).name),
        None => "free to walk the room".to_owned(),
    };
    doing(who, what)
}
