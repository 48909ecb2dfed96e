//! Why a step can begin no earlier, or no later, than at some minute: the chain
//! of steps, gaps, bells and held steps that says so, as a sum.

use crate::graph::problem::{Choice, PeriodTask, WhenDone};
use crate::model::{Lesson, Method, PeriodId, Phase};
use crate::units::Minute;
use crate::view::words::{clock, list, minutes};

/// What binds two steps, or a step and the clock.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    /// Not before the opening is over.
    Opening,
    /// Not before the start bell.
    StartBell,
    /// Not before the end bell.
    EndBell,
    /// Done before the start bell.
    Beforehand,
    /// Over when the closing begins.
    Closing,
    /// Held.
    Held,
    /// The one after the other, with a least gap.
    Link(i32),
    /// No longer than this after it.
    Longest(i32),
}

/// The later end starts at least so long after the earlier one; the clock is
/// the node after the last step.
#[derive(Debug, Clone, Copy)]
struct Edge {
    from: usize,
    to: usize,
    least: i32,
    kind: Kind,
}

/// The bounds of one choice of a group.
pub(super) struct Paths<'a> {
    lesson: &'a Lesson,
    method: &'a Method,
    period: PeriodId,
    option: &'a Choice,
    edges: Vec<Edge>,
    clock: usize,
}

/// Far below any sum of minutes.
const NONE: i32 = i32::MIN / 4;

/// A bound, and the sentence that shows it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Bound {
    pub(super) at: i32,
    pub(super) words: String,
    /// The latest start, or else the earliest.
    pub(super) late: bool,
}

impl<'a> Paths<'a> {
    /// Without what binds the steps of `moved` to their minutes.
    pub(super) fn new(
        lesson: &'a Lesson,
        method: &'a Method,
        (period, bells): (PeriodId, &PeriodTask),
        option: &'a Choice,
        moved: &[&str],
    ) -> Self {
        let clock = option.tasks.len();
        let mut edges = Vec::new();
        let mut add = |from, to, least, kind| edges.push(Edge { from, to, least, kind });
        for (i, task) in option.tasks.iter().enumerate() {
            for gap in &task.before {
                let end = option.tasks[gap.task].minutes;
                add(gap.task, i, end + gap.least, Kind::Link(gap.least));
                if let Some(longest) = gap.longest {
                    add(i, gap.task, -(end + longest), Kind::Longest(longest));
                }
            }
            let hand = task.kind.is_hand();
            match task.when {
                WhenDone::Beforehand => {
                    add(i, clock, -(bells.start - task.minutes), Kind::Beforehand);
                }
                WhenDone::InLesson if hand => add(clock, i, bells.opening_end, Kind::Opening),
                WhenDone::InLesson => add(clock, i, bells.start, Kind::StartBell),
                WhenDone::Collected if hand => add(clock, i, bells.end, Kind::EndBell),
                WhenDone::Collected => add(clock, i, bells.start, Kind::StartBell),
            }
            if task.when == WhenDone::InLesson {
                add(i, clock, -(bells.closing_start - task.minutes), Kind::Closing);
            }
            let name = method.steps[task.step.0].name.as_str();
            if let Some(at) = task.locked.filter(|_| !moved.contains(&name)) {
                add(clock, i, at, Kind::Held);
                add(i, clock, -at, Kind::Held);
            }
        }
        if let Some(bake) = &option.bake {
            for (a, b) in [(bake.load, bake.bake), (bake.bake, bake.out)] {
                add(a, b, option.tasks[a].minutes, Kind::Link(0));
                add(b, a, -option.tasks[a].minutes, Kind::Longest(0));
            }
        }
        Self { lesson, method, period, option, edges, clock }
    }

    /// The earliest start of a step.
    pub(super) fn earliest(&self, task: usize) -> Option<Bound> {
        let path = self.longest(self.clock, task)?;
        let at = path.iter().map(|e| e.least).sum();
        Some(Bound { at, words: self.early(&path), late: false })
    }

    /// The latest start of a step.
    pub(super) fn latest(&self, task: usize) -> Option<Bound> {
        let path = self.longest(task, self.clock)?;
        let at = -path.iter().map(|e| e.least).sum::<i32>();
        Some(Bound { at, words: self.late(&path), late: true })
    }

    /// The longest way from one node to another; `None` if there is none, or
    /// if it goes round in circles.
    fn longest(&self, from: usize, to: usize) -> Option<Vec<Edge>> {
        let mut far = vec![NONE; self.clock + 1];
        let mut came: Vec<Option<Edge>> = vec![None; self.clock + 1];
        far[from] = 0;
        // Through the clock only at the ends: the way there and the way on are
        // told apart.
        let through = |e: &Edge| (e.from != self.clock || from == self.clock) && e.to != from;
        for _ in 0..=self.clock {
            for edge in self.edges.iter().filter(|e| through(e)) {
                let reach = far[edge.from].saturating_add(edge.least);
                if far[edge.from] > NONE && reach > far[edge.to] {
                    far[edge.to] = reach;
                    came[edge.to] = Some(*edge);
                }
            }
        }
        let mut path = Vec::new();
        let mut at = to;
        while at != from {
            let edge = came[at]?;
            path.push(edge);
            at = edge.from;
            if path.len() > self.clock + 1 {
                return None;
            }
        }
        path.reverse();
        Some(path)
    }

    fn name(&self, task: usize) -> &str {
        &self.method.steps[self.option.tasks[task].step.0].name
    }

    fn takes(&self, task: usize) -> String {
        format!("{} {} min", self.name(task), self.option.tasks[task].minutes)
    }

    fn at(&self, minute: i32) -> String {
        clock(self.lesson, Minute::new(minute)).to_string()
    }

    /// The name of a step of the class at the end of the opening, or at the
    /// beginning of the closing.
    fn class(&self, phase: Phase) -> Option<&str> {
        let mut steps = self.lesson.class_steps_in(self.period, phase);
        let step = if phase == Phase::Opening { steps.last() } else { steps.next() };
        step.map(|(_, s)| s.name.as_str())
    }

    /// What the clock says at one end of a path, for a step that stands there.
    fn end(&self, edge: Edge, at: i32) -> String {
        let by = self.at(at);
        match edge.kind {
            Kind::Opening => match self.class(Phase::Opening) {
                Some(name) => format!("{} at {by}", verb(name, "end")),
                None => format!("the lesson begins at {by}"),
            },
            Kind::StartBell => format!("the lesson begins at {by}"),
            Kind::EndBell => format!("{} is done after the end bell at {by}", self.name(edge.to)),
            Kind::Beforehand => {
                format!("{} is done before the start bell at {by}", self.name(edge.from))
            }
            Kind::Closing => match self.class(Phase::Closing) {
                Some(name) => format!("{} at {by}", verb(name, "begin")),
                None => format!("the lesson ends at {by}"),
            },
            Kind::Held if edge.from == self.clock => {
                format!("{} is held at {by}", self.name(edge.to))
            }
            Kind::Held => format!("{} is held at {by}", self.name(edge.from)),
            Kind::Link(_) | Kind::Longest(_) => by,
        }
    }

    /// "weigh 5 min and rub in 5 min come first".
    fn come(&self, run: &[String], when: &str) -> String {
        let verb = if run.len() == 1 { "comes" } else { "come" };
        format!("{} {verb} {when}", list(run))
    }

    fn early(&self, path: &[Edge]) -> String {
        let Some((first, rest)) = path.split_first() else { return String::new() };
        let mut at = first.least;
        let mut from = self.end(*first, at);
        let (mut run, mut told): (Vec<String>, Vec<String>) = (Vec::new(), Vec::new());
        let joined = |run: &[String], from: &str| match run {
            [] => from.to_owned(),
            run => format!("{} and {from}", self.come(run, "first")),
        };
        for (i, edge) in rest.iter().enumerate() {
            match edge.kind {
                Kind::Link(0) if i == 0 && first.kind == Kind::Held => {
                    let takes = minutes(self.option.tasks[edge.from].minutes);
                    from = format!("{from} and takes {takes}");
                }
                Kind::Longest(longest) => {
                    let later = self.name(edge.from);
                    let no_sooner = format!(
                        "{}, so {later} begins at {} at the earliest",
                        joined(&run, &from),
                        self.at(at)
                    );
                    told.push(no_sooner);
                    run.clear();
                    from = match longest {
                        0 => format!("{} comes right before {later}", self.takes(edge.to)),
                        n => format!(
                            "{} may end {} before {later}, no more",
                            self.takes(edge.to),
                            minutes(n)
                        ),
                    };
                }
                Kind::Link(least) => {
                    run.push(self.takes(edge.from));
                    run.extend((least > 0).then(|| format!("{} between", minutes(least))));
                }
                _ => {}
            }
            at += edge.least;
        }
        told.push(joined(&run, &from));
        format!("{}: not before {}", told.join("; "), self.at(at))
    }

    fn late(&self, path: &[Edge]) -> String {
        let latest = -path.iter().map(|e| e.least).sum::<i32>();
        format!("{}: not after {}", self.bound_of(path), self.at(latest))
    }

    /// What keeps the first step of a path from starting later.
    fn bound_of(&self, path: &[Edge]) -> String {
        let back = path.iter().position(|e| matches!(e.kind, Kind::Longest(_)));
        let whole = back.unwrap_or(path.len().saturating_sub(1));
        let mut run = Vec::new();
        for edge in &path[..whole] {
            run.push(self.takes(edge.from));
            if let Kind::Link(least) = edge.kind {
                run.extend((least > 0).then(|| format!("{} between", minutes(least))));
            }
        }
        if let Some(Edge { from, to, kind: Kind::Longest(longest), .. }) = back.map(|b| path[b]) {
            let rest = &path[whole + 1..];
            let latest = -rest.iter().map(|e| e.least).sum::<i32>();
            let (later, earlier) = (self.name(from), self.name(to));
            let gap = match longest {
                0 => format!("{later} follows {earlier} at once"),
                n => format!("{later} begins {} after {earlier} ends, no more", minutes(n)),
            };
            let before = match &run[..] {
                [] => String::new(),
                run => format!(" and {}", self.come(run, "before it")),
            };
            let known = self.bound_of(rest);
            return format!(
                "{known}, so {earlier} begins at {} at the latest; {gap}{before}",
                self.at(latest)
            );
        }
        let Some(last) = path.last() else { return String::new() };
        let of_last = match last.kind {
            Kind::Closing | Kind::Beforehand => {
                run.push(self.takes(last.from));
                self.option.tasks[last.from].minutes
            }
            _ => 0,
        };
        let end = self.end(*last, -last.least + of_last);
        let total = path[..whole].iter().map(|e| e.least).sum::<i32>() + of_last;
        match &run[..] {
            [] => end,
            run => {
                let sum = if run.len() > 2 {
                    format!(", {} in all,", minutes(total))
                } else {
                    String::new()
                };
                let verb = if run.len() == 1 { "is" } else { "are" };
                format!("{}{sum} {verb} to come and {end}", list(run))
            }
        }
    }
}

/// "the demo ends", "the aprons and hands end".
fn verb(name: &str, of: &str) -> String {
    let the = if name.starts_with("the ") { "" } else { "the " };
    let several = name.contains(" and ") || name.ends_with('s') && !name.ends_with("ss");
    format!("{the}{name} {of}{}", if several { "" } else { "s" })
}
