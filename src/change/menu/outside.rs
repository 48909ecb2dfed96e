//! Steps done outside the bells: beforehand by whoever sets up, or collected.

use std::collections::BTreeSet;

use super::super::alteration::Alteration;
use super::Menu;
use crate::finding::shortened;
use crate::model::{Adult, ChangeKind, GroupId, Step};
use crate::units::plain_number;

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
        let mut items = Vec::new();
        for name in names {
            let mut minutes = 0.0;
            let mut groups: BTreeSet<GroupId> = BTreeSet::new();
            for (g, step) in steps.iter().filter(|(_, s)| s.name == name) {
                // Of several methods the first counts.
                if groups.insert(*g) {
                    minutes += step.minutes.map_or(0.0, |m| m.usual().get());
                }
            }
            items.push((name, minutes, groups.len()));
        }
        for (name, minutes, groups) in items {
            let short = shortened(&name, 60);
            let words = format!("{short} done beforehand");
            let asks = vec![self.beforehand_asks(&short, minutes, groups)];
            let what = Alteration::Beforehand { steps: vec![name] };
            self.add(ChangeKind::Beforehand, what, words, asks);
        }
    }

    /// What it takes of whoever does it, against the hours the lesson gives
    /// them before the bell.
    fn beforehand_asks(&self, step: &str, minutes: f64, groups: usize) -> String {
        let work = format!(
            "Doing {step} for {groups} groups takes about {} minutes before the bell, at the pupils' own \
             pace",
            plain_number(minutes.ceil())
        );
        let Some(technician) = technician(&self.lesson.adults) else {
            return format!("{work}; the lesson names no technician, so it falls to the teacher.");
        };
        let who = shortened(&technician.name, 40);
        if technician.hours.is_empty() || technician.hours.iter().any(|h| h.0.get() < -600) {
            return format!("{work} for the {who}, whose free time is not stated.");
        }
        let before = |&(from, until): &(crate::units::Minute, crate::units::Minute)| {
            (until.get().min(0) - from.get().min(0)).max(0)
        };
        let free: i32 = technician.hours.iter().map(before).sum();
        let enough = if f64::from(free) >= minutes { "" } else { ": too little" };
        format!("{work} for the {who}, who has {free} before it{enough}.")
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

/// The adult who sets up, by the name of the post.
fn technician(adults: &[Adult]) -> Option<&Adult> {
    let post = |word: &str| adults.iter().find(|a| a.name.to_lowercase().contains(word));
    post("technician").or_else(|| post("assistant"))
}
