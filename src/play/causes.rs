//! What makes a class late: from the last step of the group that is latest back
//! along whatever it really waited for.

use std::collections::BTreeMap;

use super::network::{Minutes, Network, Order, What, Work};
use super::run::{Play, Started};
use crate::model::{AdultId, ClassStepId, KitId, Lesson, OvenId, TinId};

/// Something that makes a class late.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cause {
    /// A step took longer than planned, whoever did it, by its name.
    Step(String),
    /// A bake took longer than planned, by its recipe's name.
    Bake(String),
    /// A step of the class took longer than planned.
    ClassStep(ClassStepId),
    /// The opening of the period took longer than planned.
    Opening,
    /// The closing of the period took longer than planned.
    Closing,
    /// A kind of kit was waited for.
    Kit(KitId),
    /// A kind of tin was waited for.
    Tin(TinId),
    /// An adult was waited for.
    Adult(AdultId),
    /// Anybody in the room was waited for.
    AnyAdult,
    /// A place in an oven was waited for, or for it to be at its temperature.
    Place(OvenId),
    /// A door had to stay shut, or was busy.
    Door(OvenId),
    /// A call waited for its slowest group.
    Call,
    /// The class was called together.
    Stop,
    /// A bake was looked at, and taken out, on the next minute.
    Looking,
}

impl Cause {
    /// In a few words.
    pub fn words(&self, lesson: &Lesson) -> String {
        match self {
            Cause::Step(name) => format!("{name} took longer"),
            Cause::Bake(recipe) => format!("{recipe} baked longer"),
            Cause::ClassStep(step) => format!("{} took longer", lesson.class_steps[step.0].name),
            Cause::Opening => "the opening took longer".to_owned(),
            Cause::Closing => "the closing steps took longer".to_owned(),
            Cause::Kit(kit) => format!("waited for {}", lesson.kit_kinds[kit.0].name),
            Cause::Tin(tin) => format!("waited for {}", lesson.tins[tin.0].name),
            Cause::Adult(adult) => format!("waited for the {}", lesson.adults[adult.0].name),
            Cause::AnyAdult => "waited for an adult in the room".to_owned(),
            Cause::Place(oven) => format!("waited for a place in {}", lesson.ovens[oven.0].name),
            Cause::Door(oven) => format!("waited for the door of {}", lesson.ovens[oven.0].name),
            Cause::Call => "a call waited for its slowest group".to_owned(),
            Cause::Stop => "the class was called together".to_owned(),
            Cause::Looking => "the bake was looked at on the next minute".to_owned(),
        }
    }

    /// Its kind, as a fixed name.
    pub fn kind(&self) -> &'static str {
        match self {
            Cause::Step(_) => "step",
            Cause::Bake(_) => "bake",
            Cause::ClassStep(_) => "class-step",
            Cause::Opening => "opening",
            Cause::Closing => "closing",
            Cause::Kit(_) => "kit",
            Cause::Tin(_) => "tin",
            Cause::Adult(_) | Cause::AnyAdult => "adult",
            Cause::Place(_) => "place",
            Cause::Door(_) => "door",
            Cause::Call => "call",
            Cause::Stop => "stop",
            Cause::Looking => "looking",
        }
    }
}

/// A cause and how much of the lateness is its.
#[derive(Debug, Clone, PartialEq)]
pub struct CauseOfLateness {
    /// The cause.
    pub what: Cause,
    /// Mean minutes over the late runs, 0 in those it has no part in.
    pub minutes: f64,
    /// Share of the late runs in which it has a part.
    pub share: f64,
}

/// Causes summed up over runs: in millionths of a minute, so that sums do not
/// depend on the order of the runs.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Tally(BTreeMap<Cause, (i64, u32)>);

impl Tally {
    pub(super) fn take(&mut self, other: Self) {
        for (cause, (minutes, runs)) in other.0 {
            let sum = self.0.entry(cause).or_default();
            *sum = (sum.0 + minutes, sum.1 + runs);
        }
    }

    /// The causes, the greatest first.
    #[allow(clippy::cast_precision_loss)] // far below 2^53
    pub(super) fn causes(self, late_runs: u32) -> Vec<CauseOfLateness> {
        let runs = f64::from(late_runs.max(1));
        let causes = self.0.into_iter().map(|(what, (minutes, in_runs))| CauseOfLateness {
            what,
            minutes: minutes as f64 / 1e6 / runs,
            share: f64::from(in_runs) / runs,
        });
        let mut causes: Vec<CauseOfLateness> = causes.collect();
        causes.sort_by(|a, b| b.minutes.total_cmp(&a.minutes).then(a.what.cmp(&b.what)));
        causes
    }

    /// Adds a run in which a group, by its position, was the latest.
    #[allow(clippy::cast_possible_truncation)] // minutes of a day
    pub(super) fn add(&mut self, play: &Play<'_>, group: usize, minutes: &Minutes) {
        let mut shares = BTreeMap::new();
        for (cause, of_it) in walked_back(play, group, minutes) {
            *shares.entry(cause).or_insert(0.0) += of_it;
        }
        for (cause, of_it) in shares {
            let sum = self.0.entry(cause).or_default();
            *sum = (sum.0 + (of_it * 1e6_f64).round() as i64, sum.1 + 1);
        }
    }
}

/// Less than this of a minute is nobody's.
const CRUMB: f64 = 1e-3;

/// The minutes by which a group was later than planned against the closing
/// steps, shared out along the chain of what it waited for.
fn walked_back(play: &Play<'_>, group: usize, minutes: &Minutes) -> Vec<(Cause, f64)> {
    let network = play.network();
    let of = &network.groups[group];
    let mut found: Vec<(Cause, f64)> = Vec::new();
    let last = of.nodes.iter().copied().max_by(|&a, &b| play.end_of(a).total_cmp(&play.end_of(b)));
    let Some(mut node) = last.filter(|&n| play.end_of(n).is_finite()) else { return found };
    let planned = play.planned();
    let sooner = planned.closing[of.period.0] - minutes.closing[of.period.0];
    if sooner > CRUMB {
        found.push((Cause::Closing, sooner));
    }
    let ready = of.nodes.iter().map(|&n| network.nodes[n].end).fold(f64::NEG_INFINITY, f64::max);
    let mut left = play.end_of(node) - ready;
    let mut share = |cause: Cause, of_it: f64, left: &mut f64| {
        let of_it = of_it.min(*left);
        if of_it > CRUMB {
            found.push((cause, of_it));
            *left -= of_it;
        }
    };
    while left > CRUMB {
        let (takes, of) = (minutes.nodes[node], &network.nodes[node]);
        share(cause_of_step(network, node), takes - (of.end - of.start), &mut left);
        share(Cause::Stop, play.end_of(node) - play.start_of(node) - takes, &mut left);
        let (ready, because) = play.ready_of(node);
        let waited = play.start_of(node) - ready;
        match play.why(node) {
            Started::Door(oven) => share(Cause::Door(oven), waited, &mut left),
            Started::Nobody(adult) | Started::Busy(adult) => {
                share(Cause::Adult(adult), waited, &mut left);
            }
            Started::Call => share(Cause::Call, waited, &mut left),
            Started::Stop => share(Cause::Stop, waited, &mut left),
            Started::NobodyNear => share(Cause::AnyAdult, waited, &mut left),
            Started::OnTime | Started::After(..) => share(Cause::Looking, waited, &mut left),
        }
        let Started::After(before, order) = because else {
            if network.nodes[node].work != Work::Load {
                let opened = minutes.opened[network.nodes[node].period.0];
                let late = opened - planned.opened[network.nodes[node].period.0];
                share(Cause::Opening, late, &mut left);
            }
            break;
        };
        let for_it = ready - play.own_ready(node);
        match order {
            Order::Kit(kit) => share(Cause::Kit(kit), for_it, &mut left),
            Order::Tin(tin) => share(Cause::Tin(tin), for_it, &mut left),
            Order::Adult(adult) => share(Cause::Adult(adult), for_it, &mut left),
            Order::Place(oven) | Order::Temperature(oven) => {
                share(Cause::Place(oven), for_it, &mut left);
            }
            Order::Link | Order::Pupil | Order::Class => {}
        }
        node = before;
    }
    found
}

fn cause_of_step(network: &Network<'_>, node: usize) -> Cause {
    match network.nodes[node].what {
        What::Class(step) => Cause::ClassStep(step),
        What::Step(group, step) => {
            let (lesson, plan) = (network.lesson(), network.plan().plan());
            let recipe = lesson.recipe_of(group);
            let method = plan.choice(group).map(|c| lesson.method_of(group, c.method));
            match method.map(|m| &m.steps[step.0]) {
                Some(step) if step.kind == crate::model::StepKind::Bake => {
                    Cause::Bake(recipe.name.clone())
                }
                Some(step) => Cause::Step(step.name.clone()),
                None => Cause::Step(String::new()),
            }
        }
    }
}
