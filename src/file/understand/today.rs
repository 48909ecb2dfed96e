//! The day of the lesson.

use super::Builder;
use super::findings::quoted;
use crate::file::format::{AfterwardsShape, HappenedShape};
use crate::finding::Path;
use crate::model::{Afterwards, Fact, FactKind, GroupId, Happened, Today};
use crate::units::{ClockTime, Minute, Minutes};

/// Nobody keeps more spare sets.
const MOST_SPARE_SETS: u32 = 60;
/// More does not happen in a day.
const MOST_HAPPENED: usize = 1000;
/// No bake lasts longer, in minutes: as no step does.
const LONGEST_BAKE: i32 = 600;
/// The longest account of something that happened, in characters.
const LONGEST: usize = 500;

impl Builder<'_> {
    pub(super) fn today(&mut self) {
        let Some(shape) = &self.file.today else { return };
        let path = Path::root().field("today");
        let mut today = Today {
            spare_sets: Today::SPARE_SETS,
            happened: vec![],
            facts: vec![],
            joined: vec![],
            afterwards: None,
        };
        if let Some(of) = &shape.of {
            self.pointer(&path.field("of"), of);
        }
        if let Some(sets) = shape.spare_sets {
            let at = path.field("spare_sets");
            let sets =
                self.findings.count(&at, "the number of spare sets", sets, (0, MOST_SPARE_SETS));
            today.spare_sets = sets.unwrap_or(Today::SPARE_SETS);
        }
        let list = path.field("happened");
        if self.findings.length(&list, "happenings", shape.happened.len(), MOST_HAPPENED) {
            for (i, happened) in shape.happened.iter().enumerate() {
                let path = list.index(i);
                let at = happened.at.as_ref().and_then(|at| self.time_of(&path.field("at"), at));
                if happened.what.chars().count() > LONGEST {
                    let message = format!("this account is over {LONGEST} characters long");
                    self.findings.error("long-name", &path.field("what"), message, "shorten it");
                }
                match &happened.who {
                    Some(who) => today.facts.extend(self.fact(&path, (who, at), happened)),
                    None => {
                        today.facts.iter_mut().for_each(|fact| fact.settled = true);
                        today.happened.push(Happened { at, what: happened.what.clone() });
                    }
                }
            }
        }
        self.doubts_of_facts(&list, &shape.happened, &today.facts);
        for (name, at) in &shape.out_from.0 {
            let path = path.field("out_from").key(name);
            let oven = self.ovens.find(&mut self.findings, &path, name);
            let (Some(oven), Some(at)) = (oven, self.time_of(&path, at)) else { continue };
            let Some(start) = self.parts.periods.first().map(|p| p.start_clock) else { continue };
            let from = Minute::BELL + at.minutes_since(start);
            if let Some(oven) = self.parts.ovens.get_mut(oven) {
                oven.out_from = Some(from);
            }
        }
        for (name, minutes) in &shape.baked_for.0 {
            let path = path.field("baked_for").key(name);
            let group = self.groups.find(&mut self.findings, &path, name);
            let what = "how long a bake lasts";
            let minutes = self.findings.whole(&path, what, *minutes, (1, LONGEST_BAKE));
            if let Some(group) = group.and_then(|group| self.parts.groups.get_mut(group)) {
                group.baked_for = minutes.map(Minutes::new);
            }
        }
        for (name, with) in &shape.joined.0 {
            let path = path.field("joined").key(name);
            let who = self.groups.find(&mut self.findings, &path, name).map(GroupId);
            let with = self.groups.find(&mut self.findings, &path, with).map(GroupId);
            let (Some(who), Some(with)) = (who, with) else { continue };
            if who == with || today.works_with(who).is_some() {
                let message = format!("{} cannot work with two groups or itself", quoted(name));
                self.findings.error("joined-twice", &path, message, "leave one of them out");
                continue;
            }
            today.joined.push((who, with));
        }
        today.afterwards = shape.afterwards.as_ref().map(|after| self.afterwards(&path, after));
        self.parts.today = Some(today);
    }

    fn afterwards(&mut self, path: &Path, shape: &AfterwardsShape) -> Afterwards {
        let path = path.field("afterwards");
        let at = shape.set_to_work.as_ref();
        let set_to_work = at.and_then(|at| self.time_of(&path.field("set_to_work"), at));
        for (field, words) in [("held", &shape.held), ("next", &shape.next)] {
            if words.chars().count() > LONGEST {
                let message = format!("this account is over {LONGEST} characters long");
                self.findings.error("long-name", &path.field(field), message, "shorten it");
            }
        }
        Afterwards { set_to_work, held: shape.held.clone(), next: shape.next.clone() }
    }

    fn fact(
        &mut self,
        path: &Path,
        (who, at): (&str, Option<ClockTime>),
        shape: &HappenedShape,
    ) -> Option<Fact> {
        if shape.at.is_none() {
            self.findings.error("fact", path, "a fact has the time at which it was so", "add `at`");
        }
        let group = self.groups.find(&mut self.findings, &path.field("who"), who).map(GroupId);
        let what: Result<FactKind, _> = shape.what.parse();
        if let Err(error) = &what {
            self.findings.error("fact", &path.field("what"), error.to_string(), "");
        }
        Some(Fact { at: at?, group: group?, what: what.ok()?, settled: false })
    }

    /// Facts that do not agree with each other: they count in the order in which
    /// they stand.
    fn doubts_of_facts(&mut self, list: &Path, shapes: &[HappenedShape], facts: &[Fact]) {
        let entries: Vec<usize> = (0..shapes.len()).filter(|&i| shapes[i].who.is_some()).collect();
        if entries.len() != facts.len() {
            return;
        }
        for (i, (fact, entry)) in facts.iter().zip(entries).enumerate() {
            let path = list.index(entry);
            if let Some(before) = facts[..i].last().filter(|before| fact.at < before.at) {
                let message = format!("told after {}, and before it by the clock", before.at);
                let hint = "they count in the order in which they were told";
                self.findings.warning("clock-set-back", &path.field("at"), message, hint);
            }
            let was_in = |f: &Fact| f.group == fact.group && f.what == FactKind::In;
            if fact.what == FactKind::Out && !facts[..i].iter().any(was_in) {
                let group = shapes[entry].who.as_deref().unwrap_or_default();
                let message = format!("{} was not told to be in", quoted(group));
                self.findings.warning("out-before-in", &path.field("what"), message, "tell it in");
            }
        }
    }

    fn time_of(&mut self, path: &Path, text: &str) -> Option<ClockTime> {
        match ClockTime::parse(text) {
            Ok(time) => Some(time),
            Err(error) => {
                self.findings.error("clock-time", path, error.to_string(), "");
                None
            }
        }
    }
}
