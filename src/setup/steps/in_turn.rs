//! Two steps that stand one after the other change places, and with them, where
//! one simply follows the other, what is done first.

use super::order::{arrows, keep_tin_held, names_before, tin_held, write_out};
use super::{At, GONE, method_mut};
use crate::file::format::{LessonFile, MethodShape, StepKindShape};
use crate::finding::shortened;

/// A step changes places with the one below it. Where the one below waits for it
/// and for nothing else, and nothing else waits for it, it is done after that one
/// from now on; else only the list changes. What is not as a teacher would expect
/// is told.
///
/// # Errors
/// If there are no such two steps.
pub fn change_turns(file: &mut LessonFile, at: At, upper: usize) -> Result<Vec<String>, String> {
    let method = method_mut(file, at)?;
    let lower = upper + 1;
    if lower >= method.steps.len() {
        return Err(GONE.to_owned());
    }
    let before = method.clone();
    let mut wanted = names_before(method);
    let held = tin_held(method);
    let in_turn = is_chain(method, upper);
    if in_turn {
        let (first, then) = (method.steps[upper].name.clone(), method.steps[lower].name.clone());
        for names in wanted.iter_mut().filter(|names| names.contains(&then)) {
            names.retain(|name| *name != first);
            names.iter_mut().filter(|name| **name == then).for_each(|n| n.clone_from(&first));
        }
        wanted[lower] = std::mem::replace(&mut wanted[upper], vec![then]);
    }
    method.steps.swap(upper, lower);
    wanted.swap(upper, lower);
    write_out(method, &wanted);
    keep_tin_held(method, held);
    let mut told = Vec::new();
    if !in_turn && arrows(&before).iter().any(|a| (a.from, a.to) == (upper, lower)) {
        let name = |i: usize| shortened(&before.steps[i].name, 40);
        told.push(format!(
            "{} still waits for {}: set what each waits for to change that",
            name(lower),
            name(upper)
        ));
    }
    told.extend(loosened(&before, method));
    Ok(told)
}

/// Whether the step below simply follows a step: nothing lies between them but
/// that one comes first. What is baked is cooled after it, whatever else.
fn is_chain(method: &MethodShape, upper: usize) -> bool {
    let lower = upper + 1;
    let all = arrows(method);
    let mut out = all.iter().filter(|a| a.from == upper);
    let mut into = all.iter().filter(|a| a.to == lower);
    let (first, then) = (&method.steps[upper].name, &method.steps[lower].name);
    let spans = |from: &str, to: &str| from == first && to == then;
    let held = tin_held(method);
    let kinds = (method.steps[upper].kind, method.steps[lower].kind);
    kinds != (StepKindShape::Bake, StepKindShape::Cool)
        && matches!((out.next(), out.next()), (Some(a), None) if a.to == lower)
        && matches!((into.next(), into.next()), (Some(a), None) if a.from == upper)
        && !method.links.iter().any(|l| spans(&l.from, &l.to))
        && !method.holds.iter().any(|h| spans(&h.from, &h.to))
        && !held.is_some_and(|(from, to)| spans(&from, &to))
}

/// Steps for which something waited before, or that were not there, and for which
/// nothing waits now: they have become ends of the method, which is told of all
/// but the last in the list.
pub fn loosened(before: &MethodShape, now: &MethodShape) -> Vec<String> {
    let is_end = |method: &MethodShape, name: &str| {
        let place = method.steps.iter().position(|s| s.name == name);
        place.is_some_and(|i| arrows(method).iter().all(|a| a.from != i))
    };
    let ends = now.steps.iter().rev().skip(1).rev().map(|s| s.name.as_str());
    let loose = ends.filter(|name| is_end(now, name) && !is_end(before, name));
    let told = |name: &str| {
        format!(
            "nothing waits for {} now: it may be done as late as the closing",
            shortened(name, 40)
        )
    };
    loose.map(told).collect()
}
