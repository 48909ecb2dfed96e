//! In which order the tasks of a choice are placed, and those done before the
//! start bell.

use super::dag::Dag;
use super::problem::{BakeTask, Task, WhenDone};
use super::windows::Windows;
use crate::model::Method;

/// Works out the longest chains before and after each task.
pub(super) fn heads_and_tails(tasks: &mut [Task]) {
    for i in 0..tasks.len() {
        let head = tasks[i]
            .before
            .iter()
            .filter(|g| tasks[g.task].when == WhenDone::InLesson)
            .map(|g| tasks[g.task].head + tasks[g.task].minutes + g.least)
            .max();
        tasks[i].head = head.unwrap_or(0);
    }
    for i in (0..tasks.len()).rev() {
        if tasks[i].when != WhenDone::InLesson {
            continue;
        }
        let hung = tasks[i]
            .after
            .iter()
            .filter(|g| tasks[g.task].when == WhenDone::InLesson)
            .map(|g| tasks[g.task].tail + g.least)
            .max();
        tasks[i].tail = tasks[i].minutes + hung.unwrap_or(0);
    }
}

/// Backward order of what precedes loading, forward order of the rest: first
/// what is locked, which has no choice; among tasks that could come next, the
/// one with the longer chain first.
pub(super) fn orders(
    method: &Method,
    tasks: &[Task],
    bake: Option<&BakeTask>,
) -> (Vec<usize>, Vec<usize>) {
    let in_lesson = |i: &usize| tasks[*i].when != WhenDone::Beforehand;
    let mut before = vec![false; tasks.len()];
    let mut baked = vec![false; tasks.len()];
    if let Some(bake) = bake {
        for step in Dag::new(method).before(tasks[bake.load].step) {
            before[step.0] = true;
        }
        for i in [bake.load, bake.bake, bake.out] {
            baked[i] = true;
        }
    }
    let wanted: Vec<usize> = (0..tasks.len()).filter(|&i| before[i]).filter(in_lesson).collect();
    let mut ancestors = in_turn(
        &wanted,
        |i, placed| tasks[i].after.iter().all(|g| !before[g.task] || placed.contains(&g.task)),
        |i| (tasks[i].head + tasks[i].minutes, i),
    );
    let wanted: Vec<usize> =
        (0..tasks.len()).filter(|&i| !before[i] && !baked[i]).filter(in_lesson).collect();
    let mut rest = in_turn(
        &wanted,
        |i, placed| {
            let before = &tasks[i].before;
            before.iter().all(|g| !wanted.contains(&g.task) || placed.contains(&g.task))
        },
        |i| (tasks[i].tail, usize::MAX - i),
    );
    // Windows hold in whatever order tasks are placed.
    let free = |&i: &usize| tasks[i].locked.is_none();
    ancestors.sort_by_key(free);
    rest.sort_by_key(free);
    (ancestors, rest)
}

/// Tasks one after another, each of those that are `ready` after the ones before
/// it the one with the greatest key.
fn in_turn(
    wanted: &[usize],
    ready: impl Fn(usize, &[usize]) -> bool,
    key: impl Fn(usize) -> (i32, usize),
) -> Vec<usize> {
    let mut placed = Vec::new();
    while placed.len() < wanted.len() {
        let open = wanted.iter().copied().filter(|i| !placed.contains(i));
        let Some(next) = open.filter(|&i| ready(i, &placed)).max_by_key(|&i| key(i)) else {
            break;
        };
        placed.push(next);
    }
    placed
}

/// Steps done beforehand are laid out backwards from the start bell.
pub(super) fn beforehand(tasks: &[Task], windows: &Windows) -> Vec<(usize, i32, i32)> {
    let mut starts = vec![i32::MIN; tasks.len()];
    let mut placed = Vec::new();
    for i in (0..tasks.len()).rev().filter(|&i| tasks[i].when == WhenDone::Beforehand) {
        let (earliest, latest) = windows.of(i, &starts, i32::MIN);
        if earliest > latest {
            continue;
        }
        starts[i] = latest;
        placed.push((i, latest, latest + tasks[i].minutes));
    }
    placed
}
