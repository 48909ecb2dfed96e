//! A plan played on from a minute at which groups are late, as what happens where and
//! when: what is past is as planned, what comes is as it is expected.

use super::causes::Cause;
use super::network::{Network, Order, PlayedGroup, What};
use super::outlook::{DUST, FromHere, whole};
use super::run::{Play, Started};
use crate::check::CheckedPlan;
use crate::model::{GroupId, Lesson, Slip, StepId, StepKind};
use crate::plan::{DoorWatch, Plan, StepPlacement};
use crate::units::{Minute, Minutes};

/// What happens where and when in a lesson: a checked plan, or one that is played on.
pub trait Course {
    /// It, placed as in a plan.
    fn plan(&self) -> &Plan;
}

impl Course for CheckedPlan {
    fn plan(&self) -> &Plan {
        CheckedPlan::plan(self)
    }
}

/// A checked plan played on.
#[derive(Debug, Clone)]
pub struct PlayedOn {
    /// From when on.
    pub from: Minute,
    /// What holds groups up beside their own lateness, in the order of groups.
    pub held_up: Vec<HeldUp>,
    /// As a plan has it, kit in use apart.
    course: Plan,
}

/// What holds a group up the most beside its own lateness.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HeldUp {
    /// Which.
    pub group: GroupId,
    /// In which step.
    pub step: StepId,
    /// Until when.
    pub until: Minute,
    /// What it waits for.
    pub cause: Cause,
}

impl Course for PlayedOn {
    fn plan(&self) -> &Plan {
        &self.course
    }
}

impl PlayedOn {
    /// Plays a plan on from a minute, as [`super::outlook()`] does; `None` where something is
    /// never done, as nobody is there who could serve.
    pub fn of(lesson: &Lesson, plan: &CheckedPlan, slips: &[Slip], from: Minute) -> Option<Self> {
        let network = Network::new(lesson, plan);
        let here = FromHere::of(&network, slips, from);
        let (play, _) = here.played();
        let told = plan.plan();
        let mut course = Plan { uses: Vec::new(), ..told.clone() };
        let whole_minute = |time: f64| Minute::new(whole((time - DUST).ceil()));
        let times = |what: What| {
            let node = network.nodes.iter().position(|n| n.what == what)?;
            Some((play.start_of(node), play.end_of(node)))
        };
        for step in &mut course.steps {
            let Some((start, end)) = times(What::Step(step.group, step.step)) else { continue };
            if !end.is_finite() {
                return None;
            }
            (step.start, step.end) = (whole_minute(start), whole_minute(end));
        }
        for class in &mut course.class_steps {
            let Some((start, end)) = times(What::Class(class.step)) else { continue };
            if !end.is_finite() {
                return None;
            }
            (class.start, class.end) = (whole_minute(start), whole_minute(end));
        }
        bakes_and_ovens(lesson, told, &mut course);
        course.door_watches = watches(lesson, told, &course.steps);
        let groups = network.groups.iter();
        let held_up = groups.filter_map(|group| held_up(&play, group)).collect();
        Some(Self { from, held_up, course })
    }
}

/// Tins stand in their ovens from their loading until they are out, and ovens stay on as long.
fn bakes_and_ovens(lesson: &Lesson, told: &Plan, course: &mut Plan) {
    let at_oven = |steps: &[StepPlacement], group, kind| {
        steps.iter().find(|s| s.group == group && kind_of(lesson, told, s) == Some(kind)).cloned()
    };
    for load in &mut course.loads {
        if let Some(step) = at_oven(&course.steps, load.group, StepKind::Load) {
            load.start = step.start;
        }
        if let Some(step) = at_oven(&course.steps, load.group, StepKind::TakeOut) {
            load.end = step.end;
        }
    }
    let mut order: Vec<usize> = (0..told.settings.len()).collect();
    order.sort_by_key(|&i| (told.settings[i].oven, told.settings[i].set_at));
    let mut before: Option<usize> = None;
    for i in order {
        let setting = told.settings[i];
        let later = before.map(|b| &course.settings[b]).filter(|b| b.oven == setting.oven);
        let later = later.map_or(Minutes::ZERO, |b| b.until - setting.set_at).max(Minutes::ZERO);
        let loads = told.loads.iter().zip(&course.loads).filter(|(load, _)| {
            load.oven == setting.oven && setting.set_at <= load.start && load.end <= setting.until
        });
        let out = loads.map(|(_, played)| played.end).max();
        let of = &mut course.settings[i];
        (of.set_at, of.hot_from) = (setting.set_at + later, setting.hot_from + later);
        of.until = setting.until.max(of.hot_from).max(out.unwrap_or(setting.until));
        before = Some(i);
    }
}

/// Whoever stands at a door does so as much later as who opens it.
fn watches(lesson: &Lesson, told: &Plan, played: &[StepPlacement]) -> Vec<DoorWatch> {
    let mut all: Vec<DoorWatch> = Vec::new();
    for watch in &told.door_watches {
        let opens = told.steps.iter().zip(played).filter(|(step, _)| {
            let at_door =
                matches!(kind_of(lesson, told, step), Some(StepKind::Load | StepKind::TakeOut));
            let mut loads = told.loads.iter();
            at_door
                && step.start <= watch.minute
                && watch.minute < step.end
                && loads.any(|load| load.oven == watch.oven && load.group == step.group)
        });
        let mut minutes: Vec<Minute> =
            opens.map(|(step, played)| watch.minute + (played.start - step.start)).collect();
        if minutes.is_empty() {
            minutes.push(watch.minute);
        }
        minutes.sort_unstable();
        minutes.dedup();
        all.extend(minutes.into_iter().map(|minute| DoorWatch { minute, ..*watch }));
    }
    all
}

fn kind_of(lesson: &Lesson, told: &Plan, placed: &StepPlacement) -> Option<StepKind> {
    let choice = told.choice(placed.group)?;
    Some(lesson.method_of(placed.group, choice.method).steps[placed.step.0].kind)
}

fn held_up(play: &Play<'_>, group: &PlayedGroup) -> Option<HeldUp> {
    let waits = group.nodes.iter().filter_map(|&node| {
        let What::Step(group, step) = play.network().nodes[node].what else { return None };
        let (start, (ready, because)) = (play.start_of(node), play.ready_of(node));
        let others = match because {
            Started::After(_, Order::Kit(kit)) => Some(Cause::Kit(kit)),
            Started::After(_, Order::Tin(tin)) => Some(Cause::Tin(tin)),
            Started::After(_, Order::Adult(adult)) => Some(Cause::Adult(adult)),
            Started::After(_, Order::Place(oven) | Order::Temperature(oven)) => {
                Some(Cause::Place(oven))
            }
            _ => None,
        };
        let last = match play.why(node) {
            Started::Door(oven) => Some(Cause::Door(oven)),
            Started::Nobody(adult) | Started::Busy(adult) => Some(Cause::Adult(adult)),
            Started::NobodyNear => Some(Cause::AnyAdult),
            Started::Call => Some(Cause::Call),
            Started::Stop => Some(Cause::Stop),
            Started::OnTime | Started::After(..) => None,
        };
        let of = [(last, start - ready), (others, ready - play.own_ready(node))];
        let most = of.into_iter().filter_map(|(cause, waited)| Some((cause?, waited)));
        let (cause, waited) = most.max_by(|a, b| a.1.total_cmp(&b.1))?;
        let until = Minute::new(whole((start - DUST).ceil()));
        Some((HeldUp { group, step, until, cause }, waited))
    });
    let most = waits.max_by(|a, b| a.1.total_cmp(&b.1))?;
    (most.1 >= 1.0 - DUST).then_some(most.0)
}
