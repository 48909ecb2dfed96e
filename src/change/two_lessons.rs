//! A recipe made in two lessons: up to a point at which everything may wait,
//! and from there. Written as a second period of the same day in the lesson's
//! file, so that both are planned and checked like any other.

use super::recipe_for::retain_known_outside;
use crate::edit::keep_known_steps;
use crate::file::format::{
    GroupShape, HoldShape, LessonFile, MethodShape, PeriodShape, RecipeShape, RoleShape,
    StatedMinutes, StepKindShape, StepShape,
};
use crate::units::{ClockTime, Minutes};

/// Minutes between the two, which are lessons of different days.
const BETWEEN: i32 = 10;

/// Each step's place among those it comes after; `None` if the steps are not
/// written in an order in which they can be done.
fn before(method: &MethodShape) -> Option<Vec<Vec<usize>>> {
    let place = |name: &str| method.steps.iter().position(|s| s.name == name);
    let mut all = Vec::new();
    for (i, step) in method.steps.iter().enumerate() {
        let of = match &step.after {
            None => i.checked_sub(1).into_iter().collect(),
            Some(names) => {
                let places: Option<Vec<usize>> = names.iter().map(|n| place(n)).collect();
                places?
            }
        };
        if of.iter().any(|&b| b >= i) {
            return None;
        }
        all.push(of);
    }
    Some(all)
}

fn usual(minutes: Option<&StatedMinutes>) -> f64 {
    match minutes {
        None => 0.0,
        Some(StatedMinutes::Usual(usual) | StatedMinutes::Three(_, usual, _)) => *usual,
        // Bands differ by little; this only weighs one cut against another.
        Some(StatedMinutes::ByBand(bands)) => bands[1].1,
    }
}

/// The number of steps of the first lesson at which the longer half is as
/// short as can be; `None` if there is no point at which all may wait.
pub(super) fn best_cut(recipe: &RecipeShape, method: &MethodShape) -> Option<usize> {
    let before = before(method)?;
    let bake = method.steps.iter().position(|s| s.kind == StepKindShape::Bake)?;
    let baked = recipe.tins.iter().map(|t| usual(t.minutes.as_ref())).reduce(f64::min);
    let length = |i: usize| match method.steps[i].kind {
        StepKindShape::Bake => baked.unwrap_or(0.0) + 2.0,
        _ => usual(method.steps[i].minutes.as_ref()),
    };
    let chain = |from: usize, until: usize| {
        let mut ends: Vec<f64> = vec![0.0; method.steps.len()];
        for i in from..until {
            let starts = before[i].iter().filter(|&&b| b >= from).map(|&b| ends[b]);
            ends[i] = starts.fold(0.0, f64::max) + length(i);
        }
        ends.into_iter().fold(0.0, f64::max)
    };
    let longer = |cut: usize| chain(0, cut).max(chain(cut, method.steps.len()));
    let raised = is_raised_by_powder(recipe);
    let cuts = (1..=bake).filter(|&cut| {
        may_wait(method, cut)
            && all_before_bake(&before, cut)
            && (!raised || method.steps[..cut].iter().all(is_dry))
    });
    cuts.min_by(|&a, &b| longer(a).total_cmp(&longer(b)))
}

/// Whether baking powder or the like raises it: once it is wet it works at
/// once, and a mixture that waits is flat (common practice of the trade). Yeast
/// can wait in the cold.
fn is_raised_by_powder(recipe: &RecipeShape) -> bool {
    recipe.ingredients.iter().any(|ingredient| {
        let name = ingredient.name.to_lowercase();
        let powder = ingredient.role == Some(RoleShape::Raising) && !name.contains("yeast");
        let flour = ["self-rais", "self rais", "self-ris", "self ris"];
        powder || flour.iter().any(|word| name.contains(word))
    })
}

/// Work, by how a word of its name begins, that leaves nothing wet: weighing,
/// lining, rubbing in.
const DRY: [&str; 12] = [
    "weigh", "measur", "line", "lining", "greas", "prepar", "set", "sift", "rub", "collect",
    "peel", "chop",
];

/// Whether nothing is wet after a step, as far as its name says.
fn is_dry(step: &StepShape) -> bool {
    let name = step.name.to_lowercase();
    name.split(|c: char| !c.is_alphanumeric())
        .any(|word| DRY.iter().any(|stem| word.starts_with(stem)))
}

/// Whether nothing that the first lesson leaves off has to go on soon.
fn may_wait(method: &MethodShape, cut: usize) -> bool {
    let first = |name: &str| method.steps[..cut].iter().any(|s| s.name == name);
    let second = |name: &str| method.steps[cut..].iter().any(|s| s.name == name);
    let rests = |from: &str, to: &str| first(from) && second(to);
    !method.links.iter().any(|l| l.longest.is_some() && rests(&l.from, &l.to))
        // What proves or rests by itself goes on with its own lesson.
        && method.steps.get(cut.wrapping_sub(1)).is_some_and(|s| s.kind == StepKindShape::Hand)
}

/// Something is made in the first lesson that the second goes on with.
fn all_before_bake(before: &[Vec<usize>], cut: usize) -> bool {
    before[cut..].iter().flatten().any(|&b| b + 1 == cut)
}

/// Splits a recipe's method after so many steps.
pub(super) fn split(file: &mut LessonFile, recipe: &str, method: &str, cut: usize) -> bool {
    let Some(at) = file.recipes.iter().position(|r| r.name == recipe) else { return false };
    let Some(of) = file.recipes[at].methods.iter().find(|m| m.name == method) else {
        return false;
    };
    let Some((first, second)) = halves(of, cut) else { return false };
    let Some(period) = second_period(file) else { return false };
    let shift = shift(file, &period);
    let whole = file.recipes[at].clone();
    let name = |which: &str| format!("{recipe}, {which} lesson");
    file.recipes[at] = RecipeShape {
        name: name("first"),
        methods: vec![first],
        tins: Vec::new(),
        ..whole.clone()
    };
    file.recipes
        .insert(at + 1, RecipeShape { name: name("second"), methods: vec![second], ..whole });
    let mut again: Vec<GroupShape> = Vec::new();
    for group in file.groups.iter_mut().filter(|g| g.recipe == recipe) {
        again.push(GroupShape {
            name: format!("Second lesson, {}", group.name),
            period: Some(period.name.clone()),
            recipe: name("second"),
            methods: Vec::new(),
            ..group.clone()
        });
        group.recipe = name("first");
        group.methods.clear();
        group.tins.clear();
    }
    file.groups.extend(again);
    file.other_periods.push(period);
    for adult in &mut file.adults {
        let later: Vec<(i32, i32)> =
            adult.hours.iter().map(|&(from, until)| (from + shift, until + shift)).collect();
        adult.hours.extend(later);
    }
    file.adults.iter_mut().for_each(|a| join(&mut a.hours));
    known_steps(file);
    true
}

/// Hours that overlap put together.
fn join(hours: &mut Vec<(i32, i32)>) {
    hours.sort_unstable();
    let mut joined: Vec<(i32, i32)> = Vec::new();
    for &(from, until) in hours.iter() {
        match joined.last_mut() {
            Some(last) if from <= last.1 => last.1 = last.1.max(until),
            _ => joined.push((from, until)),
        }
    }
    *hours = joined;
}

/// The recipe's tins speak of steps that are in the other half now.
fn known_steps(file: &mut LessonFile) {
    for recipe in &mut file.recipes {
        let mut tins = std::mem::take(&mut recipe.tins);
        for tin in &mut tins {
            keep_known_steps(recipe, tin);
            tin.methods.clear();
        }
        recipe.tins = tins;
    }
    retain_known_outside(file);
}

fn halves(method: &MethodShape, cut: usize) -> Option<(MethodShape, MethodShape)> {
    let before = before(method)?;
    if cut == 0 || cut >= method.steps.len() {
        return None;
    }
    let name = |i: usize| method.steps[i].name.clone();
    let explicit = |i: usize, of: &[usize]| StepShape {
        after: Some(of.iter().map(|&b| name(b)).collect()),
        ..method.steps[i].clone()
    };
    let mut first: Vec<StepShape> = (0..cut).map(|i| explicit(i, &before[i])).collect();
    let second: Vec<StepShape> = (cut..method.steps.len())
        .map(|i| {
            let of: Vec<usize> = before[i].iter().copied().filter(|&b| b >= cut).collect();
            explicit(i, &of)
        })
        .collect();
    // Each lesson clears away after itself.
    let last = name(cut - 1);
    for i in clearing(method, &before, cut) {
        let kept: Vec<String> = before[i]
            .iter()
            .filter(|&&b| first.iter().any(|s| s.name == method.steps[b].name))
            .map(|&b| name(b))
            .collect();
        let after = if kept.is_empty() { vec![last.clone()] } else { kept };
        first.push(StepShape { after: Some(after), ..method.steps[i].clone() });
    }
    let within = |steps: &[StepShape], name: &str| steps.iter().any(|s| s.name == name);
    let links = |steps: &[StepShape]| {
        let both =
            |l: &&crate::file::format::LinkShape| within(steps, &l.from) && within(steps, &l.to);
        method.links.iter().filter(both).cloned().collect()
    };
    let ends = (last, name(cut));
    Some((
        MethodShape {
            name: method.name.clone(),
            links: links(&first),
            holds: holds(method, &first, &ends),
            steps: first,
            tin_held: None,
        },
        MethodShape {
            name: method.name.clone(),
            links: links(&second),
            holds: holds(method, &second, &ends),
            tin_held: method
                .tin_held
                .clone()
                .filter(|(a, b)| within(&second, a) && within(&second, b)),
            steps: second,
        },
    ))
}

/// Steps of the second half that neither lead to the bake nor follow from it.
fn clearing(method: &MethodShape, before: &[Vec<usize>], cut: usize) -> Vec<usize> {
    let Some(bake) = method.steps.iter().position(|s| s.kind == StepKindShape::Bake) else {
        return Vec::new();
    };
    let mut leads = vec![false; method.steps.len()];
    leads[bake] = true;
    for i in (0..method.steps.len()).rev().filter(|&i| i <= bake) {
        if leads[i] {
            for &b in &before[i] {
                leads[b] = true;
            }
        }
    }
    let mut follows = vec![false; method.steps.len()];
    follows[bake] = true;
    for i in bake + 1..method.steps.len() {
        follows[i] = before[i].iter().any(|&b| follows[b]);
    }
    (cut..method.steps.len())
        .filter(|&i| !leads[i] && !follows[i] && method.steps[i].kind == StepKindShape::Hand)
        .collect()
}

/// What is held over the cut is held to the end of the first half, and from
/// the start of the second again.
fn holds(method: &MethodShape, steps: &[StepShape], ends: &(String, String)) -> Vec<HoldShape> {
    let within = |name: &str| steps.iter().any(|s| s.name == name);
    let first = within(&ends.0);
    let cut_off = |hold: &HoldShape| match (within(&hold.from), within(&hold.to)) {
        (true, true) => Some(hold.clone()),
        (true, false) if first => Some(HoldShape { to: ends.0.clone(), ..hold.clone() }),
        (false, true) if !first => Some(HoldShape { from: ends.1.clone(), ..hold.clone() }),
        _ => None,
    };
    method.holds.iter().filter_map(cut_off).collect()
}

/// A period like the first, after all others, with no demo in it.
fn second_period(file: &LessonFile) -> Option<PeriodShape> {
    let (start, end) =
        (ClockTime::parse(&file.period.start).ok()?, ClockTime::parse(&file.period.end).ok()?);
    let length = end.minutes_since(start);
    let last = (0..=file.other_periods.len())
        .filter_map(|i| ClockTime::parse(&file.period(i)?.end).ok())
        .max()?;
    let (start, end) =
        (last.after(Minutes::new(BETWEEN)), last.after(Minutes::new(BETWEEN) + length));
    if start <= last || end <= start {
        return None; // round midnight
    }
    let mut period = PeriodShape {
        name: "second lesson".to_owned(),
        start: start.to_string(),
        end: end.to_string(),
        ..file.period.clone()
    };
    period.opening.retain(|s| !super::menu::class::is_demo(&s.name));
    period.during.clear();
    Some(period)
}

/// Minutes from the start of the first period to that of another.
fn shift(file: &LessonFile, period: &PeriodShape) -> i32 {
    let (Ok(first), Ok(second)) =
        (ClockTime::parse(&file.period.start), ClockTime::parse(&period.start))
    else {
        return 0;
    };
    second.minutes_since(first).get()
}
