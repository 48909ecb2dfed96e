//! Pupils and the class's own steps.

use pumpkin_constraints as constraints;
use pumpkin_core::variables::DomainId;
use pumpkin_propagators::disjunctive::ArgDisjunctiveTask;

use super::super::profile::{Moment, Use};
use super::model::Model;
use super::modes::Mode;
use crate::graph::Problem;

/// Posts pupils, class steps and adults near.
pub(super) fn post(model: &mut Model<'_>) {
    let problem = model.problem;
    for mode in &model.modes {
        keep_clear(model.problem, mode, &mut model.engine);
    }
    let minutes = usize::try_from(problem.horizon).unwrap_or(0);
    for (g, group) in problem.groups.iter().enumerate() {
        let of: Vec<&Mode<'_>> = model.modes.iter().filter(|m| m.group == g).collect();
        let busy = |m: &&Mode<'_>| -> Vec<Use> {
            let tasks = m.choice.tasks.iter().enumerate();
            tasks.filter_map(|(t, task)| m.use_of(t, task.pupils)).collect()
        };
        let at_work: Vec<Use> = of.iter().flat_map(busy).collect();
        let hands = |m: &&Mode<'_>| -> Vec<Use> {
            let tasks = m.choice.tasks.iter().enumerate().filter(|(_, task)| task.kind.is_hand());
            tasks.filter_map(|(t, _)| m.use_of(t, 1)).collect()
        };
        let mut uses: Vec<Use> = of.iter().flat_map(hands).collect();
        let most = i32::try_from(uses.len()).unwrap_or(i32::MAX);
        for (step, &variable) in problem.floating.iter().zip(&model.floats) {
            if step.period == group.period && most > 0 {
                let moment = |plus| Moment { variable, plus };
                let (from, until) = (moment(0), moment(step.minutes));
                uses.push(Use { from, until, count: most, present: None });
            }
        }
        model.profile(at_work, vec![group.pupils; minutes]);
        model.profile(uses, vec![most; minutes]);
    }
    one_at_a_time(model);
    floats(model);
}

/// Fixed steps of the class and minutes without an adult, where one is to be
/// near.
fn keep_clear(problem: &Problem, mode: &Mode<'_>, engine: &mut super::super::engine::Engine) {
    let group = &problem.groups[mode.group];
    let near = problem.adult_near.get(group.room.0).map_or(&[][..], Vec::as_slice);
    for (t, task) in mode.choice.tasks.iter().enumerate() {
        if task.kind.is_hand() {
            for step in problem.fixed.iter().filter(|s| s.period == group.period) {
                mode.keep_out(engine, t, step.earliest, step.earliest + step.minutes);
            }
        }
        if task.adult_near {
            let mut from = 0;
            for stretch in near.chunk_by(|a, b| a == b) {
                let until = from + i32::try_from(stretch.len()).unwrap_or(0);
                if stretch.first() == Some(&false) {
                    mode.keep_out(engine, t, from, until);
                }
                from = until;
            }
        }
    }
}

/// Steps of a group of which no two find enough pupils, for the solver's own
/// edge finding; only for what is there in any case.
fn one_at_a_time(model: &mut Model<'_>) {
    let problem = model.problem;
    let mut sets: Vec<Vec<ArgDisjunctiveTask<DomainId>>> = Vec::new();
    for mode in model.modes.iter().filter(|m| m.taken.is_none()) {
        let pupils = problem.groups[mode.group].pupils;
        let alone = mode.choice.tasks.iter().enumerate().filter_map(|(t, task)| {
            let alone = 2 * task.pupils > pupils && task.minutes > 0;
            let start_time = mode.starts[t].filter(|_| alone)?;
            Some(ArgDisjunctiveTask { start_time, processing_time: task.minutes })
        });
        sets.push(alone.collect());
    }
    for set in sets.into_iter().filter(|s| s.len() > 1) {
        model.engine.post(|tag| constraints::disjunctive_strict(set, tag));
    }
}

/// Floating steps of the class lie apart from each other and from fixed ones.
fn floats(model: &mut Model<'_>) {
    let problem = model.problem;
    let minutes = usize::try_from(problem.horizon).unwrap_or(0);
    for period in 0..problem.periods.len() {
        let mut capacity = vec![1; minutes];
        for step in problem.fixed.iter().filter(|s| s.period == period) {
            for minute in step.earliest..step.earliest + step.minutes {
                if let Some(c) = usize::try_from(minute).ok().and_then(|m| capacity.get_mut(m)) {
                    *c = 0;
                }
            }
        }
        let steps = problem.floating.iter().zip(&model.floats).filter(|(s, _)| s.period == period);
        let uses = steps
            .map(|(step, &variable)| {
                let moment = |plus| Moment { variable, plus };
                Use { from: moment(0), until: moment(step.minutes), count: 1, present: None }
            })
            .collect();
        model.profile(uses, capacity);
    }
}
