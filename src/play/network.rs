//! A checked plan as a network: every step that is played, and what each waits
//! for.

use super::{held_back, orders};
use crate::check::CheckedPlan;
use crate::model::{
    AdultId, AdultNeed, AtOvens, ClassStepId, GroupId, KitId, Lesson, OvenId, PeriodId, Phase,
    Step, StepId, StepKind, ThreePoint, TinId,
};
use crate::plan::StepPlacement;
use crate::units::{self, Celsius, ExactMinutes, Minute};

/// The thing a node stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum What {
    /// A step of a group.
    Step(GroupId, StepId),
    /// A step of the class in the course of the lesson.
    Class(ClassStepId),
}

/// How a node is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Work {
    /// By hands, which a step of the class interrupts.
    Hands,
    /// By itself: waiting, baking, cooling.
    Alone,
    /// By hands at an oven: tins go in.
    Load,
    /// By hands at an oven: tins come out.
    TakeOut,
    /// By the class.
    Class,
}

/// Why one node waits for another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Order {
    /// One step of a group comes after another.
    Link,
    /// A pupil does one thing after another.
    Pupil,
    /// An item of kit serves one after another.
    Kit(KitId),
    /// A tin serves one after another.
    Tin(TinId),
    /// An adult serves one after another.
    Adult(AdultId),
    /// A place in an oven is taken, or must not be shared.
    Place(OvenId),
    /// An oven is at another temperature.
    Temperature(OvenId),
    /// The class does one thing after another.
    Class,
}

/// One node waits for another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wait {
    /// The node waited for.
    pub from: usize,
    /// The node that waits.
    pub to: usize,
    /// Minutes from the end of the one to the start of the other.
    pub lag: f64,
    /// Why.
    pub order: Order,
}

/// The tins that a node moves through the door of one oven.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DoorUse {
    /// The oven.
    pub oven: OvenId,
    /// How many tins in one minute.
    pub tins: u32,
}

/// An adult who takes over at an open door, so that the one before may go.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Relief {
    /// Minutes since the node began.
    pub after: f64,
    /// The door.
    pub oven: OvenId,
    /// Who has stood there.
    pub from: AdultId,
    /// Who takes over.
    pub to: AdultId,
}

/// Something that is played.
#[derive(Debug, Clone, PartialEq)]
pub struct Node {
    /// The thing it stands for.
    pub what: What,
    /// How it is done.
    pub work: Work,
    /// Its period.
    pub period: PeriodId,
    /// Its planned start, in minutes from the first start bell.
    pub start: f64,
    /// Its planned end.
    pub end: f64,
    /// Fixed times it waits for: what was done beforehand, with its gap.
    pub earliest: f64,
    /// The doors it opens.
    pub doors: Vec<DoorUse>,
    /// The adults it occupies, and at whose oven; at a door who stands there in
    /// its first minute.
    pub adults: Vec<(AdultId, Option<OvenId>)>,
    /// Who takes over at an open door, in the order of their minutes.
    pub reliefs: Vec<Relief>,
    /// It wants some adult in the room.
    pub near: bool,
    /// The door stays shut so many minutes from the end of its loading.
    pub shut: Option<f64>,
    /// Its three minutes, those of hands at the group's pace.
    pub listed: ThreePoint,
    /// The least minutes it takes whatever is drawn: the openings it needs.
    pub least: f64,
}

/// A longest gap between two nodes, or from a step done beforehand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct LongestGap {
    /// The earlier node, or when the earlier step was over.
    pub(super) from: Result<usize, f64>,
    pub(super) to: usize,
    /// Minutes.
    pub(super) longest: f64,
    /// By position in `Network::groups`.
    pub(super) group: usize,
}

/// A group that is played.
#[derive(Debug, Clone, PartialEq)]
pub struct PlayedGroup {
    /// Which.
    pub group: GroupId,
    /// Its period.
    pub period: PeriodId,
    /// Its nodes that count for being ready.
    pub nodes: Vec<usize>,
}

/// The bells of a period and the class's steps at its ends.
#[derive(Debug, Clone, PartialEq)]
pub struct PlayedPeriod {
    /// Start bell.
    pub start: f64,
    /// End bell.
    pub end: f64,
    /// Steps that open it.
    pub opening: Vec<ClassStepId>,
    /// Steps that close it.
    pub closing: Vec<ClassStepId>,
}

/// How long everything takes in one run.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Minutes {
    /// By node.
    pub nodes: Vec<f64>,
    /// By period: when its opening steps are over.
    pub opened: Vec<f64>,
    /// By period: when its closing steps must begin.
    pub closing: Vec<f64>,
    /// By period: when they must begin without those that can be dropped.
    pub closing_needed: Vec<f64>,
}

/// A checked plan as it is played.
#[derive(Debug, Clone, PartialEq)]
pub struct Network<'a> {
    pub(super) lesson: &'a Lesson,
    pub(super) plan: &'a CheckedPlan,
    /// Everything that is played, in the order of its planned start; at one
    /// minute by group and step.
    pub nodes: Vec<Node>,
    /// What waits for what.
    pub waits: Vec<Wait>,
    /// Groups served.
    pub groups: Vec<PlayedGroup>,
    /// By period of the lesson.
    pub periods: Vec<PlayedPeriod>,
    pub(super) gaps: Vec<LongestGap>,
}

pub(super) fn minutes(at: Minute) -> f64 {
    f64::from(at.get())
}

impl<'a> Network<'a> {
    /// The network of a checked plan.
    pub fn new(lesson: &'a Lesson, plan: &'a CheckedPlan) -> Self {
        let periods = (0..lesson.periods.len()).map(|p| period(lesson, PeriodId(p))).collect();
        let mut network = Self {
            lesson,
            plan,
            nodes: nodes(lesson, plan),
            waits: Vec::new(),
            groups: Vec::new(),
            periods,
            gaps: Vec::new(),
        };
        for choice in &plan.plan().choices {
            let group = lesson.group(choice.group);
            let mine = |n: &Node| matches!(n.what, What::Step(g, _) if g == choice.group);
            let nodes = network.nodes.iter().enumerate().filter(|(_, n)| mine(n));
            let nodes = nodes.map(|(i, _)| i).collect();
            network.groups.push(PlayedGroup { group: choice.group, period: group.period, nodes });
        }
        network.groups.sort_by_key(|g| g.group);
        orders::lay_down(&mut network);
        network
    }

    /// The lesson it is of.
    pub fn lesson(&self) -> &'a Lesson {
        self.lesson
    }

    /// The plan it is of.
    pub fn plan(&self) -> &'a CheckedPlan {
        self.plan
    }

    /// The node of a group's step; `None` for a step that is not played: one
    /// done beforehand or collected, or of a group that is not served.
    pub fn node(&self, group: GroupId, step: StepId) -> Option<usize> {
        self.nodes.iter().position(|n| n.what == What::Step(group, step))
    }

    /// The planned minutes of everything.
    pub fn planned_minutes(&self) -> Minutes {
        let class = |id: &ClassStepId| {
            let caution = self.lesson.rules.caution;
            let exact = self.lesson.class_steps[id.0].minutes.with_caution(caution);
            f64::from(exact.rounded_up().get())
        };
        self.minutes_with(|n| n.end - n.start, class)
    }

    /// The usual minutes of everything, unrounded.
    pub fn usual_minutes(&self) -> Minutes {
        let class = |id: &ClassStepId| self.lesson.class_steps[id.0].minutes.usual().get();
        self.minutes_with(|n| n.listed.usual().get().max(n.least), class)
    }

    fn minutes_with(
        &self,
        node: impl Fn(&Node) -> f64,
        class: impl Fn(&ClassStepId) -> f64,
    ) -> Minutes {
        let mut minutes =
            Minutes { nodes: self.nodes.iter().map(node).collect(), ..Minutes::default() };
        for period in &self.periods {
            let needed = period.closing.iter().filter(|c| !self.may_be_dropped(**c));
            minutes.opened.push(period.start + period.opening.iter().map(&class).sum::<f64>());
            minutes.closing.push(period.end - period.closing.iter().map(&class).sum::<f64>());
            minutes.closing_needed.push(period.end - needed.map(&class).sum::<f64>());
        }
        minutes
    }

    pub(super) fn may_be_dropped(&self, step: ClassStepId) -> bool {
        self.lesson.class_steps[step.0].may_be_dropped
    }

    /// Before which minute no node begins, whatever it waits for: loads keep to
    /// their timetable, steps of the class to theirs, and what may not wait
    /// long is not begun too soon. `quick` has the least minutes each may take.
    pub fn earliest_starts(&self, quick: &[f64]) -> Vec<f64> {
        let mut starts: Vec<f64> = self.nodes.iter().map(|n| n.earliest).collect();
        for (start, node) in starts.iter_mut().zip(&self.nodes) {
            if matches!(node.work, Work::Load | Work::Class) {
                *start = start.max(node.start);
            }
        }
        held_back::hold_back(self, quick, &mut starts);
        starts
    }
}

fn period(lesson: &Lesson, id: PeriodId) -> PlayedPeriod {
    let steps = |phase| lesson.class_steps_in(id, phase).map(|(step, _)| step).collect();
    let period = &lesson.periods[id.0];
    PlayedPeriod {
        start: minutes(period.start),
        end: minutes(period.end),
        opening: steps(Phase::Opening),
        closing: steps(Phase::Closing),
    }
}

fn nodes(lesson: &Lesson, plan: &CheckedPlan) -> Vec<Node> {
    let steps = plan.plan().steps.iter().filter_map(|placed| step_node(lesson, plan, placed));
    let class = plan.plan().class_steps.iter().filter_map(|placed| {
        let step = &lesson.class_steps[placed.step.0];
        (step.phase == Phase::During).then(|| Node {
            what: What::Class(placed.step),
            work: Work::Class,
            period: step.period,
            start: minutes(placed.start),
            end: minutes(placed.end),
            earliest: f64::NEG_INFINITY,
            doors: Vec::new(),
            adults: step.adults.iter().map(|&a| (a, None)).collect(),
            reliefs: Vec::new(),
            near: false,
            shut: None,
            listed: step.minutes,
            least: 0.0,
        })
    });
    let mut nodes: Vec<Node> = class.chain(steps).collect();
    nodes.sort_by(|a, b| a.start.total_cmp(&b.start).then(a.what.cmp(&b.what)));
    nodes
}

fn step_node(lesson: &Lesson, plan: &CheckedPlan, placed: &StepPlacement) -> Option<Node> {
    let id = placed.group;
    let choice = plan.plan().choice(id)?;
    let (group, recipe) = (lesson.group(id), lesson.recipe_of(id));
    let method = lesson.method_of(id, choice.method);
    let step = &method.steps[placed.step.0];
    if group.beforehand.contains(&step.name) || group.collected.contains(&step.name) {
        return None;
    }
    let tin = choice.tin.map(|t| lesson.tin_choice_of(id, t));
    let of_group = plan.plan().loads.iter().find(|l| l.group == id);
    let celsius = of_group.map(|l| l.celsius).or(tin.map(|t| t.celsius)).unwrap_or(Celsius::BAKING);
    let listed = lesson.minutes_at(step, tin, celsius)?;
    let listed = match step.kind {
        StepKind::Bake => group.baked_for.map_or(listed, |told| lasts(listed, told)),
        kind if kind.is_hand() => at_pace(listed, group.pace),
        _ => listed,
    };
    let mut node = Node {
        what: What::Step(id, placed.step),
        work: work(step),
        period: group.period,
        start: minutes(placed.start),
        end: minutes(placed.end),
        earliest: f64::NEG_INFINITY,
        doors: Vec::new(),
        adults: placed.adult.iter().map(|&a| (a, None)).collect(),
        reliefs: Vec::new(),
        near: step.adult == AdultNeed::Near,
        shut: None,
        listed,
        least: 0.0,
    };
    if matches!(node.work, Work::Load | Work::TakeOut) {
        at_the_doors(&mut node, lesson, plan, placed);
        let openings =
            tin.map_or(0, |t| t.count).div_ceil(lesson.rules.tins_per_opening.value.max(1));
        node.least = if openings > 1 { f64::from(openings) } else { 0.0 };
    }
    if let (Work::Load, Some(stated), Some((_, bake, _))) =
        (node.work, recipe.bake.shut, method.bake_steps())
    {
        let placed = plan.plan().steps.iter().find(|s| s.group == id && s.step == bake);
        let planned = placed.map_or(0.0, |s| f64::from((s.end - s.start).get()));
        let share = planned * recipe.bake.shut_share;
        node.shut = Some((stated.value.get().min(share) - 1e-6).ceil().max(0.0));
    }
    Some(node)
}

/// A group's pace stretches or shrinks all three of its minutes.
fn at_pace(listed: ThreePoint, pace: f64) -> ThreePoint {
    let times = |exact: ExactMinutes| exact.times(pace).get().min(ThreePoint::LONGEST_STEP);
    let (quick, usual, slow) = (times(listed.quick()), times(listed.usual()), times(listed.slow()));
    ThreePoint::new(quick, usual, slow, listed.origin).unwrap_or(listed)
}

/// So many minutes and no others, as they were told.
fn lasts(listed: ThreePoint, told: units::Minutes) -> ThreePoint {
    let told = f64::from(told.get());
    ThreePoint::new(told, told, told, listed.origin).unwrap_or(listed)
}

fn work(step: &Step) -> Work {
    match step.kind {
        StepKind::Hand => Work::Hands,
        StepKind::Wait | StepKind::Bake | StepKind::Cool => Work::Alone,
        StepKind::Load => Work::Load,
        StepKind::TakeOut => Work::TakeOut,
    }
}

/// The doors it opens, who stands there and who takes over.
fn at_the_doors(node: &mut Node, lesson: &Lesson, plan: &CheckedPlan, placed: &StepPlacement) {
    let minutes = u32::try_from((placed.end - placed.start).get()).unwrap_or(1).max(1);
    let mut ovens: Vec<(OvenId, u32)> = Vec::new();
    for load in plan.plan().loads.iter().filter(|l| l.group == placed.group) {
        match ovens.iter_mut().find(|(oven, _)| *oven == load.oven) {
            Some((_, tins)) => *tins += 1,
            None => ovens.push((load.oven, 1)),
        }
    }
    for (oven, tins) in ovens {
        node.doors.push(DoorUse { oven, tins: tins.div_ceil(minutes) });
        if lesson.rules.at_ovens == AtOvens::AtDoor {
            stand_there(node, oven, plan, placed);
        }
    }
}

fn stand_there(node: &mut Node, oven: OvenId, plan: &CheckedPlan, placed: &StepPlacement) {
    let here = |minute: Minute| {
        let watches = plan.plan().door_watches.iter();
        watches.filter(move |w| w.oven == oven && w.minute == minute).map(|w| w.adult)
    };
    let Some(mut stands) = here(placed.start).next() else { return };
    node.adults.push((stands, Some(oven)));
    let mut minute = placed.start + units::Minutes::new(1);
    while minute < placed.end {
        if let Some(to) = here(minute).next().filter(|_| here(minute).all(|a| a != stands)) {
            let after = f64::from((minute - placed.start).get());
            node.reliefs.push(Relief { after, oven, from: stands, to });
            stands = to;
        }
        minute = minute + units::Minutes::new(1);
    }
}
