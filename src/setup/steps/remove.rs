//! Taking a step out, with all that spoke of it.

use super::order::{arrows, names_before, way, write_out};
use super::{At, GONE, OF_BAKE, method_mut};
use crate::file::format::{HoldShape, LessonFile, MethodShape, StepKindShape};
use crate::finding::shortened;
use crate::setup::makers::{Makers, may_use};

/// Takes a step out. What came after it comes after what it came after; what
/// else spoke of it is changed or taken out as well, which is told.
///
/// # Errors
/// If it is not there, or the only one.
pub fn remove(file: &mut LessonFile, at: At, step: usize) -> Result<Vec<String>, String> {
    let method = method_mut(file, at)?;
    if step >= method.steps.len() {
        return Err(GONE.to_owned());
    }
    if method.steps.len() == 1 {
        return Err("a method has at least one step".to_owned());
    }
    let mut told = Vec::new();
    let name = method.steps[step].name.clone();
    let baked = method.steps[step].kind == StepKindShape::Bake;
    spans(method, step, &mut told);
    take_out(method, step);
    let of_it = |l: &str| l == name;
    let links = method.links.len();
    method.links.retain(|l| !of_it(&l.from) && !of_it(&l.to));
    if method.links.len() < links {
        told.push(format!("how long {} may wait no longer matters", shortened(&name, 40)));
    }
    let mut gone = vec![name];
    if baked {
        gone.extend(OF_BAKE.map(str::to_owned));
    }
    for name in gone {
        outside(file, at.recipe, &name, &mut told);
    }
    told.dedup();
    Ok(told)
}

/// Takes the step itself out. What came after it comes after what it came
/// after, unless it does so anyway by another way.
fn take_out(method: &mut MethodShape, step: usize) {
    let all = arrows(method);
    let name = method.steps[step].name.clone();
    let others: Vec<_> = all.iter().filter(|a| a.from != step && a.to != step).copied().collect();
    let came: Vec<usize> = all.iter().filter(|a| a.to == step).map(|a| a.from).collect();
    // One that another of them comes after comes before by way of that one.
    let last = |&from: &usize| came.iter().all(|&b| b == from || way(&others, from, b).is_none());
    let mut wanted = names_before(method);
    for after in all.iter().filter(|a| a.from == step).map(|a| a.to) {
        wanted[after].retain(|n| *n != name);
        for from in came.iter().copied().filter(last) {
            let there = &method.steps[from].name;
            if way(&others, from, after).is_none() && !wanted[after].contains(there) {
                wanted[after].push(there.clone());
            }
        }
    }
    wanted.remove(step);
    method.steps.remove(step);
    write_out(method, &wanted);
}

/// Kit and tin that were held from or to the step are held from the one after
/// it or to the one before it.
fn spans(method: &mut MethodShape, step: usize, told: &mut Vec<String>) {
    let all = arrows(method);
    let name = method.steps[step].name.clone();
    let baked = method.steps[step].kind == StepKindShape::Bake;
    let is_it = |n: &str| n == name || (baked && OF_BAKE.contains(&n));
    let place = |n: &str| method.steps.iter().position(|s| s.name == n);
    let anchored = |from: &str, to: &str| -> Option<(String, String)> {
        let (mut a, mut b) = (place(from), place(to));
        if is_it(from) && is_it(to) {
            return None;
        }
        if is_it(from) {
            let to = b?;
            let after = all.iter().filter(|x| x.from == step).map(|x| x.to);
            a = after.filter(|&x| way(&all, x, to).is_some()).min();
        }
        if is_it(to) {
            let from = a?;
            let before = all.iter().filter(|x| x.to == step).map(|x| x.from);
            b = before.filter(|&x| way(&all, from, x).is_some()).max();
        }
        Some((method.steps.get(a?)?.name.clone(), method.steps.get(b?)?.name.clone()))
    };
    let mut holds: Vec<HoldShape> = Vec::new();
    for hold in &method.holds {
        if !is_it(&hold.from) && !is_it(&hold.to) {
            holds.push(hold.clone());
            continue;
        }
        let kit = shortened(&hold.kit, 40);
        match anchored(&hold.from, &hold.to) {
            Some((from, to)) => {
                told.push(format!(
                    "{kit} is now held from {} to {}",
                    shortened(&from, 40),
                    shortened(&to, 40)
                ));
                holds.push(HoldShape { from, to, ..hold.clone() });
            }
            None => told.push(format!("{kit} is no longer held over several steps")),
        }
    }
    let tin = match &method.tin_held {
        Some((from, to)) if is_it(from) || is_it(to) => {
            let tin = if baked { None } else { anchored(from, to) };
            told.push(match &tin {
                Some((from, to)) => format!(
                    "the tin is now held from {} to {}",
                    shortened(from, 40),
                    shortened(to, 40)
                ),
                None => "the tin is held as it usually is".to_owned(),
            });
            tin
        }
        tin => tin.clone(),
    };
    method.holds = holds;
    method.tin_held = tin;
}

/// What other parts of the file say of a step that is gone, unless another
/// method has it.
pub(in crate::setup) fn outside(
    file: &mut LessonFile,
    recipe: usize,
    name: &str,
    told: &mut Vec<String>,
) {
    let has = |m: &MethodShape| {
        let bakes = m.steps.iter().any(|s| s.kind == StepKindShape::Bake);
        m.steps.iter().any(|s| s.name == name) || (bakes && OF_BAKE.contains(&name))
    };
    let of = &mut file.recipes[recipe];
    for tin in &mut of.tins {
        let goes = |m: &&MethodShape| tin.methods.is_empty() || tin.methods.contains(&m.name);
        if !of.methods.iter().filter(goes).any(has) {
            tin.step_minutes.0.retain(|(step, _)| step != name);
        }
    }
    let shown = shortened(name, 40);
    let Makers { entries, names } = Makers::of(file, recipe);
    let of = &file.recipes[recipe];
    let mut unknown_to: Vec<usize> = entries;
    unknown_to.retain(|&g| {
        let may = |(i, m): (usize, &MethodShape)| may_use(&file.groups[g], of, i) && has(m);
        !of.methods.iter().enumerate().any(may)
    });
    let names: Vec<String> =
        names.into_iter().filter(|(entry, _)| unknown_to.contains(entry)).map(|(_, n)| n).collect();
    for &entry in &unknown_to {
        let group = &mut file.groups[entry];
        group.beforehand.retain(|n| n != name);
        group.collected.retain(|n| n != name);
    }
    let locks = file.locks.len();
    file.locks.retain(|l| !(names.contains(&l.group) && l.step.as_deref() == Some(name)));
    if file.locks.len() < locks {
        told.push(format!("the start of {shown} is no longer fixed"));
    }
    if !known(file, &has) {
        let lists = file.beforehand.len() + file.collected.len();
        file.beforehand.retain(|n| n != name);
        file.collected.retain(|n| n != name);
        if file.beforehand.len() + file.collected.len() < lists {
            told.push(format!("{shown} is no longer done outside the lesson"));
        }
    }
}

/// Whether some group's recipe has such a method; while there are no groups,
/// any recipe.
fn known(file: &LessonFile, has: &dyn Fn(&MethodShape) -> bool) -> bool {
    let any = |number: usize| {
        let of = &file.recipes[number];
        let Makers { entries, .. } = Makers::of(file, number);
        of.methods.iter().enumerate().any(|(i, m)| {
            let used = entries.iter().any(|&g| may_use(&file.groups[g], of, i));
            (used || file.groups.is_empty()) && has(m)
        })
    };
    (0..file.recipes.len()).any(any)
}
