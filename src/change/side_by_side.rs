//! Partners side by side: a step of one pupil's hands done by two, half each.

use crate::file::format::{
    LessonFile, MethodShape, RecipeShape, StatedMinutes, StepKindShape, StepShape,
};

/// Work that two can share by halves, by how its name begins: each weighs,
/// washes, peels or shapes a part. Mixing is not such work (common practice of
/// the trade).
const SHARED: [&str; 14] = [
    "weigh", "measur", "wash", "dry", "wipe", "clear", "peel", "chop", "slice", "grate", "grating",
    "shap", "cut", "fill",
];
/// Halves of less are not worth the talking, in usual minutes.
const LEAST: f64 = 4.0;

/// Steps of a recipe's method that two could share.
fn steps_of<'a>(
    file: &'a LessonFile,
    recipe: &'a RecipeShape,
    method: &'a MethodShape,
) -> impl Iterator<Item = &'a StepShape> {
    method.steps.iter().filter(|step| {
        let name = step.name.to_lowercase();
        let is_shared = name
            .split(|c: char| !c.is_alphanumeric())
            .any(|word| SHARED.iter().any(|stem| word.starts_with(stem)));
        step.kind == StepKindShape::Hand
            && is_shared
            && !step.everyone
            && step.pupils.is_none_or(|n| n == 1)
            && step.minutes.as_ref().is_some_and(|m| usual(m) >= LEAST)
            && !is_spoken_of(file, recipe, &step.name)
    })
}

/// Names of the steps of a recipe that two could share, each once.
pub(super) fn shared_steps(file: &LessonFile, recipe: &RecipeShape) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for method in &recipe.methods {
        for step in steps_of(file, recipe, method) {
            if !names.contains(&step.name) {
                names.push(step.name.clone());
            }
        }
    }
    names
}

/// Whether more than its order is said of a step: a gap, kit held from it or
/// to it, minutes in a tin, a place outside the bells, a lock.
fn is_spoken_of(file: &LessonFile, recipe: &RecipeShape, name: &str) -> bool {
    let methods = || recipe.methods.iter();
    methods().flat_map(|m| &m.links).any(|l| l.from == name || l.to == name)
        || methods().flat_map(|m| &m.holds).any(|h| h.from == name || h.to == name)
        || methods().filter_map(|m| m.tin_held.as_ref()).any(|(a, b)| a == name || b == name)
        || recipe.tins.iter().flat_map(|t| &t.step_minutes.0).any(|(step, _)| step == name)
        || file.beforehand.iter().chain(&file.collected).any(|step| step == name)
        || file
            .groups
            .iter()
            .flat_map(|g| g.beforehand.iter().chain(&g.collected))
            .any(|s| s == name)
        || file.locks.iter().any(|lock| lock.step.as_deref() == Some(name))
}

/// Usual minutes; those of the middle ages stand for all.
fn usual(minutes: &StatedMinutes) -> f64 {
    match minutes {
        StatedMinutes::Usual(usual) | StatedMinutes::Three(_, usual, _) => *usual,
        StatedMinutes::ByBand(bands) => bands[1].1,
    }
}

fn half(minutes: &StatedMinutes) -> StatedMinutes {
    match minutes {
        StatedMinutes::Usual(usual) => StatedMinutes::Usual(usual / 2.0),
        StatedMinutes::Three(quick, usual, slow) => {
            StatedMinutes::Three(quick / 2.0, usual / 2.0, slow / 2.0)
        }
        StatedMinutes::ByBand(bands) => {
            StatedMinutes::ByBand(bands.map(|(q, u, s)| (q / 2.0, u / 2.0, s / 2.0)))
        }
    }
}

/// Writes the steps as two halves each; `false` if the recipe has none of them.
pub(super) fn split_steps(file: &mut LessonFile, recipe: &str, steps: &[String]) -> bool {
    let Some(at) = file.recipes.iter().position(|r| r.name == recipe) else { return false };
    let mut done = false;
    for method in &mut file.recipes[at].methods {
        for name in steps {
            done |= split_step(method, name);
        }
    }
    done
}

fn split_step(method: &mut MethodShape, name: &str) -> bool {
    let Some(at) = method.steps.iter().position(|s| s.name == name) else { return false };
    // What it comes after, and what comes after it, are said by name from now
    // on: two steps stand where one was.
    let before: Vec<String> = match (&method.steps[at].after, at.checked_sub(1)) {
        (Some(after), _) => after.clone(),
        (None, Some(one)) => vec![method.steps[one].name.clone()],
        (None, None) => Vec::new(),
    };
    let halves = [format!("{name}, one half"), format!("{name}, other half")];
    for (i, step) in method.steps.iter_mut().enumerate() {
        match &mut step.after {
            None if i == at + 1 => step.after = Some(halves.to_vec()),
            None => {}
            Some(after) => {
                if let Some(place) = after.iter().position(|n| n == name) {
                    after.splice(place..=place, halves.clone());
                }
            }
        }
    }
    let whole = method.steps.remove(at);
    for half_name in halves.into_iter().rev() {
        let step = StepShape {
            name: half_name,
            minutes: whole.minutes.as_ref().map(half),
            after: Some(before.clone()),
            pupils: Some(1),
            ..whole.clone()
        };
        method.steps.insert(at, step);
    }
    true
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn what_comes_after_a_step_comes_after_both_halves() {
        let step = |name: &str, after: Option<Vec<String>>| StepShape {
            name: name.to_owned(),
            minutes: Some(StatedMinutes::Usual(6.0)),
            after,
            ..StepShape::default()
        };
        let like = crate::file::library::recipes().unwrap().remove(0);
        let recipe = RecipeShape {
            name: "scones".into(),
            tins: Vec::new(),
            methods: vec![MethodShape {
                name: "rubbing-in".into(),
                steps: vec![
                    step("line", None),
                    step("weigh", None),
                    step("mix", None),
                    step("wash up", Some(vec!["weigh".into()])),
                ],
                links: Vec::new(),
                holds: Vec::new(),
                tin_held: None,
            }],
            ..like
        };
        let mut file = LessonFile { recipes: vec![recipe], ..LessonFile::default() };
        assert_eq!(shared_steps(&file, &file.recipes[0]), ["weigh", "wash up"]);
        assert!(split_steps(&mut file, "scones", &["weigh".to_owned()]));
        let steps = &file.recipes[0].methods[0].steps;
        let of = |i: usize| (steps[i].name.as_str(), steps[i].after.clone());
        let both = Some(vec!["weigh, one half".to_owned(), "weigh, other half".to_owned()]);
        assert_eq!(of(1), ("weigh, one half", Some(vec!["line".to_owned()])));
        assert_eq!(of(2), ("weigh, other half", Some(vec!["line".to_owned()])));
        assert_eq!(of(3), ("mix", both.clone()));
        assert_eq!(of(4), ("wash up", both));
        assert_eq!(steps[1].minutes, Some(StatedMinutes::Usual(3.0)));
        assert!(!split_steps(&mut file, "scones", &["weigh".to_owned()]), "not twice");
    }
}
