//! Steps done outside the bells: beforehand by whoever sets up, or collected.

use super::super::alteration::Alteration;
use super::Menu;
use crate::finding::shortened;
use crate::model::{Adult, ChangeKind, GroupId, Lesson, Method, Step};
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

    pub(super) fn collect(&mut self) {
        let open = |s: &Step, g: GroupId| {
            s.may_be_collected && !self.lesson.group(g).collected.contains(&s.name)
        };
        let mut steps: Vec<String> = Vec::new();
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
        let asks = vec![
            "Someone minds hot tins on labelled racks after the bell and hands them out later, at \
             break or at the end of the day."
                .to_owned(),
        ];
        self.add(ChangeKind::Collect, Alteration::Collect { steps }, words, asks);
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
    let Some(technician) = technician(&lesson.adults) else {
        return format!("{work}; the lesson names no technician, so it falls to the teacher.");
    };
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

/// The adult who sets up, by the name of the post.
fn technician(adults: &[Adult]) -> Option<&Adult> {
    let post = |word: &str| adults.iter().find(|a| a.name.to_lowercase().contains(word));
    post("technician").or_else(|| post("assistant"))
}

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
