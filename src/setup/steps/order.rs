//! What comes after what in a method, and the gaps between.

use std::collections::VecDeque;

use super::{At, GONE, method_mut};
use crate::file::format::{LessonFile, LinkShape, MethodShape, StepKindShape};
use crate::finding::shortened;

/// Longest gap between two steps, in minutes.
const LONGEST: f64 = 1440.0;

/// One step comes after another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arrow {
    /// The earlier step, by its place in the list.
    pub from: usize,
    /// The later one.
    pub to: usize,
    /// It is among what the later step comes after; else only a gap says so.
    pub listed: bool,
    /// Least minutes between them, if said.
    pub least: Option<f64>,
    /// Longest minutes between them, if said.
    pub longest: Option<f64>,
}

/// All that comes after anything in a method, by `after`, by the list, or by a
/// gap. Names of no step are passed over.
pub fn arrows(method: &MethodShape) -> Vec<Arrow> {
    let mut all: Vec<Arrow> = Vec::new();
    for (to, names) in names_before(method).iter().enumerate() {
        for from in names.iter().filter_map(|name| place(method, name)) {
            if all.iter().all(|a| (a.from, a.to) != (from, to)) {
                all.push(Arrow { from, to, listed: true, least: None, longest: None });
            }
        }
    }
    for link in &method.links {
        let (Some(from), Some(to)) = (place(method, &link.from), place(method, &link.to)) else {
            continue;
        };
        match all.iter_mut().find(|a| (a.from, a.to) == (from, to)) {
            Some(arrow) => {
                arrow.least = more(arrow.least, link.least, f64::max);
                arrow.longest = more(arrow.longest, link.longest, f64::min);
            }
            None => {
                let (least, longest) = (link.least, link.longest);
                all.push(Arrow { from, to, listed: false, least, longest });
            }
        }
    }
    all
}

fn more(a: Option<f64>, b: Option<f64>, of: impl Fn(f64, f64) -> f64) -> Option<f64> {
    match (a, b) {
        (Some(a), Some(b)) => Some(of(a, b)),
        (a, b) => a.or(b),
    }
}

fn place(method: &MethodShape, name: &str) -> Option<usize> {
    method.steps.iter().position(|s| s.name == name)
}

/// Of each step: the names of those it comes after, said or not.
pub(super) fn names_before(method: &MethodShape) -> Vec<Vec<String>> {
    let steps = &method.steps;
    let of = |i: usize| match &steps[i].after {
        Some(names) => names.clone(),
        None => i.checked_sub(1).map(|b| steps[b].name.clone()).into_iter().collect(),
    };
    (0..steps.len()).map(of).collect()
}

/// Sees to it that each step comes after these, writing out no more than is
/// needed.
pub(super) fn write_out(method: &mut MethodShape, wanted: &[Vec<String>]) {
    let now = names_before(method);
    for ((step, wanted), now) in method.steps.iter_mut().zip(wanted).zip(now) {
        if *wanted != now {
            step.after = Some(wanted.clone());
        }
    }
}

/// The steps over which the tin is held, by name: as said, or as `file` has it
/// where nothing is.
pub fn tin_held(method: &MethodShape) -> Option<(String, String)> {
    if method.tin_held.is_some() {
        return method.tin_held.clone();
    }
    let bake = method.steps.iter().position(|s| s.kind == StepKindShape::Bake)?;
    let from = arrows(method).iter().filter(|a| a.to == bake).map(|a| a.from).max();
    let cools = |i: &usize| method.steps[*i].kind == StepKindShape::Cool;
    let until = (bake + 1..method.steps.len()).find(cools);
    let name = |i: usize| method.steps[i].name.clone();
    Some((name(from.unwrap_or(bake)), name(until.unwrap_or(bake))))
}

/// Writes out over which steps the tin is held, if that would be others now.
pub(super) fn keep_tin_held(method: &mut MethodShape, before: Option<(String, String)>) {
    if tin_held(method) != before {
        method.tin_held = before;
    }
}

/// The steps on a shortest way from one to another, both ends included; `None`
/// if there is none.
pub(super) fn way(arrows: &[Arrow], from: usize, to: usize) -> Option<Vec<usize>> {
    let steps =
        arrows.iter().map(|a| a.from.max(a.to) + 1).max().unwrap_or(0).max(from.max(to) + 1);
    let mut came: Vec<Option<usize>> = vec![None; steps];
    let mut queue = VecDeque::from([from]);
    while let Some(at) = queue.pop_front() {
        if at == to {
            let mut way = vec![to];
            while let Some(&last) = way.last()
                && last != from
            {
                way.push(came[last]?);
            }
            way.reverse();
            return Some(way);
        }
        for arrow in arrows.iter().filter(|a| a.from == at) {
            if arrow.to != from && came[arrow.to].is_none() {
                came[arrow.to] = Some(at);
                queue.push_back(arrow.to);
            }
        }
    }
    None
}

/// Why a step cannot wait for another, if so: the ring it would make.
fn ring(method: &MethodShape, from: usize, to: usize) -> Result<(), String> {
    let name = |i: usize| shortened(&method.steps[i].name, 40);
    if from == to {
        return Err(format!("{} cannot wait for itself", name(from)));
    }
    let Some(way) = way(&arrows(method), to, from) else { return Ok(()) };
    let between: Vec<String> =
        way.iter().filter(|&&i| i != from && i != to).map(|&i| name(i)).collect();
    let by_way = if between.is_empty() {
        String::new()
    } else {
        format!(", by way of {}", between.join(", "))
    };
    Err(format!("{} waits for {} already{by_way}", name(from), name(to)))
}

/// Lets `to` wait for `from`, as carrying it onto that one does.
///
/// # Errors
/// If the first waits for the second already, told with what lies between.
pub fn draw(file: &mut LessonFile, at: At, from: usize, to: usize) -> Result<(), String> {
    let method = method_mut(file, at)?;
    exist(method, from, to)?;
    ring(method, from, to)?;
    let mut before = names_before(method);
    let name = &method.steps[from].name;
    if !before[to].contains(name) {
        before[to].push(name.clone());
        write_out(method, &before);
    }
    Ok(())
}

/// No longer sets a step after another.
///
/// # Errors
/// If a gap is set between them, which would have to go first.
pub fn erase(file: &mut LessonFile, at: At, from: usize, to: usize) -> Result<(), String> {
    let method = method_mut(file, at)?;
    exist(method, from, to)?;
    let name = method.steps[from].name.clone();
    if method.links.iter().any(|l| l.from == name && l.to == method.steps[to].name) {
        let to = shortened(&method.steps[to].name, 40);
        let name = shortened(&name, 40);
        return Err(format!("how long {to} may wait after {name} is set; take that away first"));
    }
    let mut before = names_before(method);
    before[to].retain(|n| *n != name);
    write_out(method, &before);
    Ok(())
}

fn exist(method: &MethodShape, from: usize, to: usize) -> Result<(), String> {
    if from.max(to) < method.steps.len() { Ok(()) } else { Err(GONE.to_owned()) }
}

/// Sets the least and the longest minutes between the end of a step and the
/// start of a later one; with neither the gap no longer matters. The later one
/// comes after the earlier either way.
///
/// # Errors
/// If the first comes after the second, or the minutes make no sense.
pub fn set_gap(
    file: &mut LessonFile,
    at: At,
    (from, to): (usize, usize),
    (least, longest): (Option<f64>, Option<f64>),
) -> Result<(), String> {
    let method = method_mut(file, at)?;
    exist(method, from, to)?;
    ring(method, from, to)?;
    let sane = |gap: Option<f64>| gap.is_none_or(|m| (0.0..=LONGEST).contains(&m));
    if !sane(least) || !sane(longest) {
        return Err(format!("a gap lies between 0 and {LONGEST} min"));
    }
    if let (Some(least), Some(longest)) = (least, longest)
        && longest < least
    {
        return Err(format!("the longest gap, {longest} min, is less than the least, {least} min"));
    }
    let by_gap_alone = arrows(method).iter().any(|a| (a.from, a.to) == (from, to) && !a.listed);
    let (from_name, to_name) = (method.steps[from].name.clone(), method.steps[to].name.clone());
    let is_it = |l: &LinkShape| l.from == from_name && l.to == to_name;
    if least.is_none() && longest.is_none() {
        method.links.retain(|l| !is_it(l));
        if by_gap_alone {
            let mut before = names_before(method);
            before[to].push(from_name);
            write_out(method, &before);
        }
        return Ok(());
    }
    let first = method.links.iter().position(is_it);
    match first {
        Some(first) => {
            let mut place = 0;
            method.links.retain(|l| {
                place += 1;
                !is_it(l) || place == first + 1
            });
            (method.links[first].least, method.links[first].longest) = (least, longest);
        }
        None => {
            method.links.push(LinkShape { from: from_name, to: to_name, least, longest });
        }
    }
    Ok(())
}
