//! Steps done outside the bells: beforehand by whoever sets up, or collected.

use super::super::alteration::Alteration;
use super::Menu;
use crate::finding::shortened;
use crate::model::{AdultId, ChangeKind, GroupId, Lesson, Method, Step, StepKind, technician};
use crate::units::{Minute, plain_number};
use crate::words::{capital, list};

impl Menu<'_> {
    /// Steps of the methods that groups may use, with the group, its own
    /// steps outside the bells left out.
    fn steps(&self, wanted: impl Fn(&Step, GroupId) -> bool) -> Vec<(GroupId, &Step)> {
        let mut all = Vec::new();
        for g in self.groups() {
            let group = self.lesson.group(g);
            for &method in &group.methods {
                let steps = self.lesson.method_of(g, method).steps.iter();
                all.extend(steps.filter(|s| wanted(s, g)).map(|s| (g, s)));
            }
        }
        all
    }

    pub(super) fn beforehand(&mut self) {
        let open = |s: &Step, g: GroupId| {
            s.may_be_beforehand && !self.lesson.group(g).beforehand.contains(&s.name)
        };
        let steps = self.steps(open);
        let mut names: Vec<String> = Vec::new();
        for (_, step) in &steps {
            if !names.contains(&step.name) {
                names.push(step.name.clone());
            }
        }
        for name in names {
            let short = shortened(&name, 60);
            let words = format!("{short} done beforehand");
            let what = Alteration::Beforehand { steps: vec![name] };
            // What it asks is told of the lesson with all its changes.
            self.add(ChangeKind::Beforehand, what, words, Vec::new());
        }
    }

    /// Steps that anyone can do once the bake is out, though the recipe does
    /// not say so: cooling, and boxing or the like, where nothing but such work
    /// follows in any method that has the step.
    fn finishing(&self) -> Vec<String> {
        let mut steps: Vec<String> = Vec::new();
        let mut not: Vec<String> = Vec::new();
        for g in self.groups() {
            let group = self.lesson.group(g);
            for &id in &group.methods {
                let method = self.lesson.method_of(g, id);
                let ends = finishing_in(method);
                for (i, step) in method.steps.iter().enumerate() {
                    let list = if ends.contains(&i) { &mut steps } else { &mut not };
                    let known = list.contains(&step.name) || group.collected.contains(&step.name);
                    if !known {
                        list.push(step.name.clone());
                    }
                }
            }
        }
        steps.retain(|name| !not.contains(name));
        steps
    }

    pub(super) fn collect(&mut self) {
        let open = |s: &Step, g: GroupId| {
            s.may_be_collected && !self.lesson.group(g).collected.contains(&s.name)
        };
        let mut steps: Vec<String> = self.finishing();
        for (_, step) in self.steps(open) {
            if !steps.contains(&step.name) {
                steps.push(step.name.clone());
            }
        }
        if steps.is_empty() {
            return;
        }
        let named: Vec<String> = steps.iter().map(|s| shortened(s, 40)).collect();
        let words = format!("collected after the bell: {}", named.join(", "));
        let who = match technician(&self.lesson.adults) {
            Some(AdultId(i)) => format!("The {}", shortened(&self.lesson.adults[i].name, 40)),
            None => "Someone".to_owned(),
        };
        let asks = vec![format!(
            "{who} minds hot tins on labelled racks after the bell, finishes them and hands them \
             out later, at break or at the end of the day."
        )];
        self.add(ChangeKind::Collect, Alteration::Collect { steps }, words, asks);
    }
}

/// Work that ends a bake, by how a word of its name begins.
const ENDS: [&str; 5] = ["box", "pack", "wrap", "label", "bag"];

/// The steps of a method with which a bake is finished: after taking out, and
/// followed by none but such.
fn finishing_in(method: &Method) -> Vec<usize> {
    let Some(out) = method.steps.iter().position(|s| s.kind == StepKind::TakeOut) else {
        return Vec::new();
    };
    let mut after = vec![false; method.steps.len()];
    after[out] = true;
    // Links lead on in any order they are written in.
    for _ in 0..method.steps.len() {
        for link in &method.links {
            after[link.to.0] |= after[link.from.0];
        }
    }
    let ends = |step: &Step| {
        let name = step.name.to_lowercase();
        let mut words = name.split(|c: char| !c.is_alphanumeric());
        let by_name = words.any(|word| ENDS.iter().any(|stem| word.starts_with(stem)));
        step.kind == StepKind::Cool
            || step.may_be_collected
            || step.kind == StepKind::Hand && by_name
    };
    let mut found: Vec<usize> = (0..method.steps.len())
        .filter(|&i| i != out && after[i] && ends(&method.steps[i]))
        .collect();
    loop {
        let before = found.len();
        let leads_on = |i: usize| {
            method.links.iter().filter(|l| l.from.0 == i).any(|l| !found.contains(&l.to.0))
        };
        let kept: Vec<usize> = found.iter().copied().filter(|&i| !leads_on(i)).collect();
        found = kept;
        if found.len() == before {
            return found;
        }
    }
}

/// Minutes a technician takes to set out what one group needs for a step, such
/// as weighing it, where pupils take longer (common practice of the trade).
const A_SET: f64 = 4.0;

/// What it takes of whoever sets up that some steps are done beforehand,
/// against the hours the lesson gives them before the bell.
pub(in crate::change) fn beforehand_asks(lesson: &Lesson, steps: &[String]) -> String {
    let (mut minutes, mut groups) = (0.0, 0);
    for g in lesson.attending() {
        let methods = lesson.group(g).methods.iter().map(|&m| lesson.method_of(g, m));
        // Of several methods the first that has such a step counts.
        let of = |m: &Method| -> f64 {
            let mine = m.steps.iter().filter(|s| steps.contains(&s.name));
            mine.filter_map(|s| s.minutes).map(|m| m.usual().get().min(A_SET)).sum()
        };
        let work = methods.map(of).find(|&work| work > 0.0).unwrap_or(0.0);
        groups += usize::from(work > 0.0);
        minutes += work;
    }
    let step: Vec<String> = steps.iter().map(|s| shortened(s, 60)).collect();
    let work = format!(
        "{} for {groups} groups before the bell takes about {} minutes, counted as no more than \
         {} a group for each",
        capital(&list(&step)),
        plain_number(minutes.ceil()),
        plain_number(A_SET)
    );
    let Some(AdultId(technician)) = technician(&lesson.adults) else {
        return format!("{work}; the lesson names no technician, so it falls to the teacher.");
    };
    let technician = &lesson.adults[technician];
    let who = shortened(&technician.name, 40);
    let bell = lesson.periods[0].start.get();
    // Who is there always has no hours of their own to be set against.
    if technician.hours.iter().any(|&(from, _)| from.get() < bell - ALWAYS) {
        return format!("{work}; when the {who} is free for it is not stated.");
    }
    let before =
        |&(from, until): &(Minute, Minute)| (until.get().min(bell) - from.get().min(bell)).max(0);
    let free: i32 = technician.hours.iter().map(before).sum();
    let enough = if f64::from(free) >= minutes { "" } else { ", which is too little" };
    format!("{work}; the {who} has {free}{enough}.")
}

/// Hours that begin so long before the bell say that somebody is always there.
const ALWAYS: i32 = 600;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_technician_weighs_a_set_in_four_minutes() {
        let lesson = crate::file::read_lesson(include_str!("../../../lessons/a-scones-hour.ron"));
        let lesson = lesson.unwrap().lesson;
        let groups = lesson.attending().count();
        let asks = beforehand_asks(&lesson, &["weigh".to_owned()]);
        // Pupils take five.
        let wanted =
            format!("Weigh for {groups} groups before the bell takes about {}", 4 * groups);
        assert!(groups == 10 && asks.starts_with(&wanted), "{asks}");
    }
}
