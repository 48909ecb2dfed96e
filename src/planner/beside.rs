//! Plans beside a plan: something of it later, sooner, in another order or in
//! another place. Whoever asks judges them and says from which to go on.

use super::class_starts::class_starts;
use super::construct::{Constructor, UNPLACED};
use super::exact::lesson::{ModelPlan, Seed};
use super::genome::Genome;
use super::vary::{Vary, loads};
use super::write_out::write_out;
use crate::graph::Problem;
use crate::graph::problem::{Choice, ClassTask, GroupTask};
use crate::plan::Plan;
use crate::units::Minute;

/// Builds plans beside one.
pub struct Beside<'p> {
    problem: &'p Problem,
    built: Constructor<'p>,
    vary: Vary<'p>,
    /// The genome of the plan that is changed, and when its groups load.
    here: (Genome, Vec<Option<i32>>),
    /// The genome of the plan built last.
    last: Genome,
    /// Whether the next plan has its loads moved.
    stagger_next: bool,
}

impl<'p> Beside<'p> {
    /// Begins at a plan of the problem's lesson; `None` if the class's own
    /// steps find no place. The same seed gives the same plans.
    pub fn new(problem: &'p Problem, plan: &Plan, seed: u64) -> Option<Self> {
        let floats = class_starts(problem).ok()?;
        let known =
            ModelPlan { groups: seeds(problem, plan), floats: placed(problem, plan, &floats) };
        let here = Genome::first(problem, floats).after(problem, &known);
        let mut built = Constructor::new(problem);
        built.build(&here);
        let vary = Vary::new(problem, seed);
        let last = here.clone();
        let mut beside =
            Self { problem, built, vary, here: (here, Vec::new()), last, stagger_next: true };
        beside.go_on();
        Some(beside)
    }

    /// One more plan beside the one it is at, without reasons and bounds; `None`
    /// if the class's own steps find no place in it.
    pub fn build(&mut self) -> Option<Plan> {
        let (mut genome, loads) = (self.here.0.clone(), &self.here.1);
        if self.stagger_next {
            self.vary.stagger(&mut genome, loads);
        } else {
            self.vary.change(&mut genome);
        }
        self.stagger_next = !self.stagger_next;
        self.built.build_tidy(&genome);
        self.last = genome;
        (!self.built.crowded()).then(|| write_out(self.problem, &self.built))
    }

    /// Goes on from the plan built last.
    pub fn go_on(&mut self) {
        self.vary.look_at(&self.built);
        self.here = (self.last.clone(), loads(self.problem, &self.built));
    }
}

/// Where the plan has the class's own steps that may lie here or there.
fn placed(problem: &Problem, plan: &Plan, else_at: &[i32]) -> Vec<i32> {
    let start = |(step, &other): (&ClassTask, &i32)| {
        let placed = plan.class_steps.iter().find(|p| p.step == step.step);
        placed.map_or(other, |p| p.start.get())
    };
    problem.floating.iter().zip(else_at).map(start).collect()
}

/// Where the plan has everything of each group; `None` for those it does not
/// serve.
fn seeds(problem: &Problem, plan: &Plan) -> Vec<Option<Seed>> {
    let seed = |group: &GroupTask| {
        let choice = plan.choice(group.group)?;
        let loads = || plan.loads.iter().filter(|l| l.group == group.group);
        let celsius = loads().next().map(|l| l.celsius);
        let is_it = |option: &Choice| {
            let heat = option.bake.as_ref().map(|bake| problem.heats[bake.heat]);
            (option.method, option.tin) == (choice.method, choice.tin) && heat == celsius
        };
        let option = group.options.iter().position(is_it)?;
        let start = |step| {
            let of = plan.steps.iter().find(|s| s.group == group.group && s.step == step);
            of.map(|s| s.start).map_or(UNPLACED, Minute::get)
        };
        let starts = group.options[option].tasks.iter().map(|task| start(task.step)).collect();
        let oven = |oven| problem.ovens.iter().position(|o| o.oven == oven);
        let ovens = loads().filter_map(|l| oven(l.oven)).collect();
        Some(Seed { option, starts, ovens })
    };
    problem.groups.iter().map(seed).collect()
}
