//! What can be done when a group that is behind will not be out, or keeps others
//! from it. Only what is still possible on the day and while groups are at work;
//! each is planned with what has begun held, and judged by the checker.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use super::bakes_told::BakesTold;
use super::differences::{Differences, differences};
use super::replan::{Replanned, replan_begun};
use crate::change::{Goal, Item, is_plenary, menu};
use crate::check::CheckedPlan;
use crate::edit::{FileChange, own_group};
use crate::file::format::LessonFile;
use crate::file::lesson_of_shapes;
use crate::finding::Finding;
use crate::model::{Attendance, ChangeKind, GroupId, Lesson, PastBake, Phase, Slip};
use crate::planner::Budget;
use crate::play::{GroupStanding, Settings, Spread, Standing, odds_from_here};
use crate::units::Minute;

/// No more are shown: who is asked has a class in front of them.
const MOST: usize = 4;

/// So many plans are built at most for one way, and of the time this part is taken.
const DECODINGS: u64 = 2_000;
const WAYS: u32 = 4;

/// Ways of answering, the least effort first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Way {
    /// Others places and times.
    Rearrange,
    /// Hands go on while the class has a step.
    HandsGoOn,
    /// Last steps are done after the bell.
    Collect,
    /// A step of the class is shorter.
    Shorten,
    /// A closing step is left out.
    NoClosing,
    /// A group is left out.
    LeaveOut,
}

/// Something that can be done.
#[derive(Debug, Clone)]
pub struct Response {
    /// In which way.
    pub way: Way,
    /// What, in words: "collected after the bell by Unit 3".
    pub words: String,
    /// What it asks of others, in sentences.
    pub asks: Vec<String>,
    /// The file with it.
    pub file: LessonFile,
    /// The lesson with it, and its plan.
    pub after: Replanned,
    /// Who moves.
    pub moves: Differences,
    /// In which share of lessons all would be out, with minutes that spread as listed
    /// and with half of that.
    pub all_out: [f64; 2],
}

/// So often the rest of a lesson is played for its odds: who waits for them has a class
/// in front of them.
const RUNS: u32 = 200;

/// In which share of lessons all are out that go on from here, with minutes that spread
/// as listed and with half of that.
pub fn all_out_from_here(of: (&Lesson, &CheckedPlan), slips: &[Slip], now: Minute) -> [f64; 2] {
    [Spread::LISTED, Spread::HALF].map(|spread| {
        let settings = Settings { runs: RUNS, spread, ..Settings::default() };
        odds_from_here(of, slips, now, &settings)
    })
}

/// A lesson as it stands: its file, and the plan that groups were told.
#[derive(Debug, Clone, Copy)]
pub struct AsTold<'a> {
    /// The copy for the day.
    pub file: &'a LessonFile,
    /// It as a lesson.
    pub lesson: &'a Lesson,
    /// The plan.
    pub plan: &'a CheckedPlan,
}

/// A change of the day.
enum Change {
    /// None: others places and times.
    Rearrange,
    /// Hands go on while the class has a step, or it is left out at the end.
    Drop { period: usize, step: String, closing: bool },
    /// One of the menu.
    Item(Box<Item>),
    /// A group's last steps are done after the bell.
    Collect { group: String, steps: Vec<String> },
    /// A group is left out.
    LeaveOut { group: String },
}

impl Change {
    fn way(&self) -> Way {
        match self {
            Self::Rearrange => Way::Rearrange,
            Self::Drop { closing: false, .. } => Way::HandsGoOn,
            Self::Drop { closing: true, .. } => Way::NoClosing,
            Self::Item(_) => Way::Shorten,
            Self::Collect { .. } => Way::Collect,
            Self::LeaveOut { .. } => Way::LeaveOut,
        }
    }

    fn asks(&self) -> Vec<String> {
        match self {
            Self::Rearrange => Vec::new(),
            Self::Drop { closing: true, .. } => {
                vec!["It is taken up in the next lesson.".to_owned()]
            }
            Self::Drop { .. } => {
                vec!["The teacher speaks while hands are at work, or speaks later.".to_owned()]
            }
            Self::Item(item) => item.asks.clone(),
            Self::Collect { .. } => {
                let asks = "Someone minds what is left after the bell, and hands it out later.";
                vec![asks.to_owned()]
            }
            Self::LeaveOut { group } => {
                vec![format!("{group} stops where it is; its mixture is kept or thrown away.")]
            }
        }
    }
}

impl FileChange for Change {
    fn label(&self) -> String {
        match self {
            Self::Rearrange => "another place or time".to_owned(),
            Self::Drop { step, closing: true, .. } => format!("no {step}"),
            Self::Drop { step, .. } => format!("hands go on in the {step}"),
            Self::Item(item) => item.label(),
            Self::Collect { group, .. } => format!("{group} collects after the bell"),
            Self::LeaveOut { group } => format!("{group} is left out"),
        }
    }

    fn apply(&self, file: &mut LessonFile) -> Result<(), Finding> {
        match self {
            Self::Rearrange => {}
            Self::Drop { period, step, closing } => {
                let Some(of) = file.period_mut(*period) else { return Err(self.no_such_entry()) };
                let steps = if *closing { &mut of.closing } else { &mut of.during };
                steps.retain(|s| s.name != *step);
            }
            Self::Item(item) => item.apply(file)?,
            Self::Collect { group, steps } => {
                let Some(index) = own_group(file, group) else { return Err(self.no_such_entry()) };
                file.groups[index].collected.extend(steps.iter().cloned());
            }
            Self::LeaveOut { group } => {
                let Some(index) = own_group(file, group) else { return Err(self.no_such_entry()) };
                file.groups[index].left_out = true;
            }
        }
        Ok(())
    }
}

/// What can be done about a lesson in which, as it stands, not all will be out
/// that were to be: up to four ways, the least effort first. The plan that was told
/// stays until one of them is chosen.
pub fn responses(
    told: AsTold<'_>,
    standing: &Standing,
    past: &[PastBake],
    budget: &Budget,
    stop: &AtomicBool,
) -> Vec<Response> {
    if standing.all_out() {
        return Vec::new();
    }
    // Whoever asks waits for all of them.
    let budget = Budget {
        within: budget.within.map(|within| within / WAYS),
        decodings: Some(budget.decodings.unwrap_or(DECODINGS).min(DECODINGS)),
        seed: budget.seed,
    };
    let respond = |change: &Change| respond(told, standing, (change, past), &budget, stop);
    let mut found = Vec::new();
    let rearranged = respond(&Change::Rearrange);
    let in_need = rearranged.as_ref().map_or_else(|| told.plan.clone(), |r| r.after.plan.clone());
    found.extend(rearranged.filter(|r| serves_all(told, r)));
    for change in changes(told, standing, &in_need, past) {
        if found.len() == MOST || stop.load(Ordering::Relaxed) {
            break;
        }
        found.extend(respond(&change).filter(|r| serves_all(told, r)));
    }
    found
}

/// How many responses are less effort than an adult's help (`play::Help`), which is none of
/// them: nobody's plan is another by it.
pub fn before_help(responses: &[Response]) -> usize {
    responses.iter().take_while(|response| response.way <= Way::Collect).count()
}

/// Whether all are served that were, and still take part.
fn serves_all(told: AsTold<'_>, response: &Response) -> bool {
    let lesson = &response.after.lesson;
    told.plan.plan().choices.iter().all(|choice| {
        let name = &told.lesson.group(choice.group).name;
        let now = lesson.groups.iter().position(|g| g.name == *name).map(GroupId);
        now.is_some_and(|now| {
            lesson.group(now).attendance == Attendance::LeftOut
                || response.after.plan.plan().choice(now).is_some()
        })
    })
}

fn respond(
    told: AsTold<'_>,
    standing: &Standing,
    (change, past): (&Change, &[PastBake]),
    budget: &Budget,
    stop: &AtomicBool,
) -> Option<Response> {
    let before = (told.lesson, told.plan);
    let bakes = BakesTold { told: before, slips: &standing.slips };
    let file = bakes.made(&change.made(told.file).ok()?).ok()?;
    let lesson = Arc::new(lesson_of_shapes(&file, past).ok()?);
    let by = (standing.now, standing.slips.as_slice());
    let after = replan_begun(before, &lesson, by, budget, stop, |_| {}).ok()?;
    let moves = differences(before, (&after.lesson, &after.plan));
    let all_out = all_out_from_here((&after.lesson, &after.plan), &[], standing.now);
    let (way, words, asks) = (change.way(), change.label(), change.asks());
    Some(Response { way, words, asks, file, after, moves, all_out })
}

/// Changes that might help, the least effort first. What has begun is not among
/// them.
fn changes(
    told: AsTold<'_>,
    standing: &Standing,
    in_need: &CheckedPlan,
    past: &[PastBake],
) -> Vec<Change> {
    let mut all = Vec::new();
    all.extend(dropped(told, standing, Phase::During));
    all.extend(collected(told, standing));
    let items = menu((told.file, told.lesson), past, in_need, Goal::Everyone);
    let shorter = items.into_iter().filter(|item| item.kind == ChangeKind::Shorten);
    let open = open_class_steps(told, standing);
    let is_open = |item: &Item| match &item.what {
        crate::change::Alteration::Shorten { period, step, .. } => {
            open.iter().any(|(p, name, _)| p == period && name == step)
        }
        _ => false,
    };
    all.extend(shorter.filter(is_open).map(|item| Change::Item(Box::new(item))));
    all.extend(dropped(told, standing, Phase::Closing));
    let others_suffer = standing.groups.iter().any(|g| !g.ready.is_out() && g.behind == 0);
    if others_suffer {
        let late = standing.behind().map(|g| told.lesson.group(g.group).name.clone());
        all.extend(late.map(|group| Change::LeaveOut { group }));
    }
    all
}

/// The class's own steps that have not begun: period, name and phase.
fn open_class_steps(told: AsTold<'_>, standing: &Standing) -> Vec<(usize, String, Phase)> {
    let placed = told.plan.plan().class_steps.iter().filter(|c| standing.now <= c.start);
    let open = placed.map(|c| {
        let step = &told.lesson.class_steps[c.step.0];
        (step.period.0, step.name.clone(), step.phase)
    });
    open.collect()
}

fn dropped(told: AsTold<'_>, standing: &Standing, phase: Phase) -> Vec<Change> {
    let may = |period: usize, name: &str| {
        let mut steps = told.lesson.class_steps.iter();
        let is_it = |s: &&crate::model::ClassStep| s.period.0 == period && s.name == name;
        steps.find(is_it).is_some_and(|s| s.may_be_dropped)
    };
    let open = open_class_steps(told, standing).into_iter().filter(|(_, _, of)| *of == phase);
    let closing = phase == Phase::Closing;
    let can = |(period, name, _): &(usize, String, Phase)| {
        if closing { may(*period, name) } else { is_plenary(name) }
    };
    open.filter(can).map(|(period, step, _)| Change::Drop { period, step, closing }).collect()
}

/// Groups that will not be out do their last steps after the bell, where these
/// allow it and have not begun.
fn collected(told: AsTold<'_>, standing: &Standing) -> Vec<Change> {
    let late = standing.groups.iter().filter(|g| !g.ready.is_out());
    let of = |g: &GroupStanding| {
        let choice = told.plan.plan().choice(g.group)?;
        let (group, method) =
            (told.lesson.group(g.group), told.lesson.method_of(g.group, choice.method));
        let placed = told.plan.plan().steps.iter().filter(|s| s.group == g.group);
        let open = placed.filter(|s| standing.now <= s.start);
        let steps = open.map(|s| &method.steps[s.step.0]);
        let steps = steps.filter(|s| s.may_be_collected && !group.collected.contains(&s.name));
        let steps: Vec<String> = steps.map(|s| s.name.clone()).collect();
        (!steps.is_empty()).then(|| Change::Collect { group: group.name.clone(), steps })
    };
    late.filter_map(of).collect()
}
