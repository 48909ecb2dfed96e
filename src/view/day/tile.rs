//! A group as it is seen from two metres: who, what it does, its next time at a door,
//! and what can be told of it.

use crate::check::CheckedPlan;
use crate::model::{FactKind, GroupId, Lesson};
use crate::play::{GroupStanding, Standing};
use crate::units::Minute;
use crate::view::words::{clock, clock_in, in_short, list};

/// How it is known what a group does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Known {
    /// It was told.
    Told,
    /// It is presumed.
    Presumed,
    /// It is behind by so many minutes.
    Behind(i32),
    /// It is not served: nothing is known of it.
    NotServed,
}

impl Known {
    /// "told", "as planned", "3 behind".
    pub fn words(self) -> String {
        match self {
            Self::Told => "told".to_owned(),
            Self::Presumed => "as planned".to_owned(),
            Self::Behind(minutes) => format!("{minutes} behind"),
            Self::NotServed => "not served".to_owned(),
        }
    }
}

/// A group's tile.
#[derive(Debug, Clone, PartialEq)]
pub struct Tile {
    /// Which.
    pub group: GroupId,
    /// Its name.
    pub name: String,
    /// The name's own number with the words before it, if it ends in one.
    pub number: Option<(String, String)>,
    /// How it is known.
    pub known: Known,
    /// What it does: "in Oven 2", "fold in and line tins".
    pub doing: String,
    /// The first of it, where there is less room.
    pub brief: String,
    /// Its next time at a door, or when it is ready.
    pub next: String,
    /// What is to be told of it next.
    pub tell: Option<FactKind>,
}

/// What is told, as it is said: "in", "2 late".
pub fn fact_words(what: FactKind) -> String {
    match what {
        FactKind::Late(minutes) if minutes.get() == 0 => "on plan again".to_owned(),
        FactKind::Late(minutes) => format!("{} late", minutes.get()),
        other => other.to_string(),
    }
}

impl Tile {
    pub(super) fn of(
        lesson: &Lesson,
        plan: &CheckedPlan,
        standing: &Standing,
        id: GroupId,
    ) -> Self {
        let name = lesson.group(id).name.clone();
        let number = name.rsplit_once(' ').and_then(|(words, number)| {
            let is_number = number.len() <= 3 && number.chars().all(|c| c.is_ascii_digit());
            is_number.then(|| (words.to_owned(), number.to_owned()))
        });
        let tile = |known, (doing, next): (Vec<String>, String), tell| Self {
            group: id,
            name: name.clone(),
            number: number.clone(),
            known,
            brief: doing.first().cloned().unwrap_or_default(),
            doing: list(&doing),
            next,
            tell,
        };
        let Some(stands) = standing.groups.iter().find(|g| g.group == id) else {
            return tile(Known::NotServed, (Vec::new(), String::new()), None);
        };
        let known = match stands.told {
            _ if stands.behind > 0 => Known::Behind(stands.behind),
            Some(_) => Known::Told,
            None => Known::Presumed,
        };
        let does = Does { lesson, plan, stands, now: standing.now };
        tile(known, does.words(), stands.to_tell(lesson, plan, standing.now))
    }

    /// All of it, for a screen reader.
    pub fn spoken(&self) -> String {
        let known = self.known.words();
        let all = [self.doing.as_str(), self.next.as_str(), known.as_str()];
        let all: Vec<&str> = all.into_iter().filter(|words| !words.is_empty()).collect();
        format!("{}: {}", self.name, all.join(", "))
    }
}

fn one(words: impl Into<String>) -> Vec<String> {
    vec![words.into()]
}

/// A group at a minute.
struct Does<'a> {
    lesson: &'a Lesson,
    plan: &'a CheckedPlan,
    stands: &'a GroupStanding,
    now: Minute,
}

impl Does<'_> {
    /// What it does, and its next time.
    fn words(&self) -> (Vec<String>, String) {
        match self.stands.reached(self.lesson, self.plan, self.now) {
            Some(FactKind::Ready) => (one("ready"), String::new()),
            Some(FactKind::In) => {
                (one(format!("in {}", self.ovens())), self.at(FactKind::Out, "out"))
            }
            Some(FactKind::Out) => (self.work(true), self.ready()),
            _ if self.expected(FactKind::In).is_none() => (self.work(false), self.ready()),
            _ => (self.work(false), self.at(FactKind::In, "in")),
        }
    }

    fn expected(&self, what: FactKind) -> Option<Minute> {
        self.stands.expected(self.lesson, self.plan, what).map(|(from, _)| from)
    }

    /// "in 10:29"; once that has passed, "was to be in 10:29".
    fn at(&self, what: FactKind, word: &str) -> String {
        let Some(at) = self.expected(what) else { return String::new() };
        let is_over = what == FactKind::In && at < self.now && !self.stands.is_told(what);
        let was_to_be = if is_over { "was to be " } else { "" };
        format!("{was_to_be}{word} {}", clock(self.lesson, at))
    }

    fn ready(&self) -> String {
        let period = self.lesson.group(self.stands.group).period;
        let ready = self.stands.ready.ready;
        ready.map_or(String::new(), |at| format!("ready {}", clock_in(self.lesson, period, at)))
    }

    fn ovens(&self) -> String {
        let loads = self.plan.plan().loads.iter().filter(|l| l.group == self.stands.group);
        let mut names: Vec<String> =
            loads.map(|l| self.lesson.ovens[l.oven.0].name.clone()).collect();
        names.dedup();
        list(&in_short(&names))
    }

    /// The work of its hands, by its plan as much later as it is behind.
    fn work(&self, is_out: bool) -> Vec<String> {
        let by_plan = self.now - self.stands.late();
        let group = self.stands.group;
        let Some(choice) = self.plan.plan().choice(group) else { return Vec::new() };
        let method = self.lesson.method_of(group, choice.method);
        let bake = method.bake_steps().map(|(load, bake, out)| [load, bake, out]);
        let of_bake = |step| bake.is_some_and(|bake| bake.contains(&step));
        let steps = || self.plan.plan().steps.iter().filter(|s| s.group == group);
        let is_on = steps().filter(|s| s.start <= by_plan && by_plan < s.end && !of_bake(s.step));
        let mut names: Vec<String> = is_on.map(|s| method.steps[s.step.0].name.clone()).collect();
        names.dedup();
        if !names.is_empty() {
            return names;
        }
        let period = self.lesson.group(group).period;
        let class = self.plan.plan().class_steps.iter().find(|c| {
            self.lesson.class_steps[c.step.0].period == period
                && c.start <= self.now
                && self.now < c.end
        });
        if class.is_some() {
            return one("with the class");
        }
        let bell = self.lesson.periods[period.0].start;
        match steps().all(|s| by_plan < s.start || s.start < bell) {
            true => one("not begun"),
            false if is_out => one("out of the oven"),
            false => one("waits"),
        }
    }
}
