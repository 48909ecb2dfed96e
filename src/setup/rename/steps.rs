//! Steps. Other parts of a file refer to them by a name that several methods
//! may have, so that a reference may have to mean both the step that was
//! renamed and one that was not.

use super::{follow, follow_in, free, notes};
use crate::edit::tin_label;
use crate::file::format::{LessonFile, MethodShape, RecipeShape, StepKindShape, TinChoiceShape};
use crate::finding::shortened;
use crate::setup::makers::{Makers, expand, may_use};

const GONE: &str = "it is not there any more";
/// Steps a method with a bake has of its own.
const OF_BAKE: [&str; 3] = ["load", "bake", "take out"];

/// A step of one method.
pub(super) fn one(
    file: &mut LessonFile,
    (recipe, method, step): (usize, usize, usize),
    to: &str,
) -> Result<(), String> {
    let of = file.recipes.get(recipe).ok_or(GONE)?.methods.get(method).ok_or(GONE)?;
    let old = of.steps.get(step).ok_or(GONE)?.name.clone();
    if of.steps.iter().position(|s| s.name == old) != Some(step) {
        // The second of a name: nothing refers to it.
        allowed(of, step, to)?;
        let steps = &mut file.recipes[recipe].methods[method].steps;
        to.clone_into(&mut steps[step].name);
        return Ok(());
    }
    Renaming { recipe, methods: vec![method], old: &old, to }.make(file)
}

/// Steps of one name in all methods of a recipe.
pub(super) fn all(file: &mut LessonFile, recipe: usize, old: &str, to: &str) -> Result<(), String> {
    let of = file.recipes.get(recipe).ok_or(GONE)?;
    let methods: Vec<usize> = (0..of.methods.len()).filter(|&m| has(&of.methods[m], old)).collect();
    Renaming { recipe, methods, old, to }.make(file)
}

fn has(method: &MethodShape, step: &str) -> bool {
    method.steps.iter().any(|s| s.name == step)
}

/// Refuses a name that another step of the method has, or is bound to have.
fn allowed(method: &MethodShape, step: usize, to: &str) -> Result<(), String> {
    let others = method.steps.iter().enumerate().filter(|(i, _)| *i != step);
    free("step in this method", to, others.map(|(_, s)| s.name.as_str()))?;
    let bake = method.steps.iter().position(|s| s.kind == StepKindShape::Bake);
    let taken = match bake {
        None => false,
        Some(bake) if bake == step => to != "bake" && OF_BAKE.contains(&to),
        Some(_) => OF_BAKE.contains(&to),
    };
    if taken { Err(format!("a method with a bake has a step {to} of its own")) } else { Ok(()) }
}

struct Renaming<'a> {
    recipe: usize,
    /// In which methods of it.
    methods: Vec<usize>,
    old: &'a str,
    to: &'a str,
}

/// Whether a reference speaks of the step that is renamed, and of one that
/// keeps its name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Means {
    renamed: bool,
    other: bool,
}

impl Renaming<'_> {
    fn make(&self, file: &mut LessonFile) -> Result<(), String> {
        for &method in &self.methods {
            let of = &file.recipes[self.recipe].methods[method];
            let step = of.steps.iter().position(|s| s.name == self.old).ok_or(GONE)?;
            allowed(of, step, self.to)?;
        }
        // While references are looked at, all steps have their old names.
        self.lists_of_lesson(file);
        self.groups(file);
        self.locks(file)?;
        self.tins(&mut file.recipes[self.recipe])?;
        self.notes(file);
        for &method in &self.methods {
            in_method(&mut file.recipes[self.recipe].methods[method], self.old, self.to);
        }
        Ok(())
    }

    /// What a name means among these methods of this recipe.
    fn means(&self, recipe: &RecipeShape, methods: impl Iterator<Item = usize>) -> Means {
        let mut means = Means { renamed: false, other: false };
        for method in methods {
            if self.methods.contains(&method) {
                means.renamed = true;
            } else if recipe.methods.get(method).is_some_and(|m| has(m, self.old)) {
                means.other = true;
            }
        }
        means
    }

    fn list(&self, list: &mut Vec<String>, means: Means) {
        match means {
            Means { renamed: false, .. } => {}
            Means { other: false, .. } => follow_in(list, self.old, self.to),
            Means { other: true, .. } => {
                if list.iter().all(|name| name != self.to)
                    && let Some(at) = list.iter().position(|name| name == self.old)
                {
                    list.insert(at + 1, self.to.to_owned());
                }
            }
        }
    }

    /// Steps done outside the period for every group: they mean the steps of
    /// all methods that some group may use; while none has one of that name,
    /// those of all methods.
    fn lists_of_lesson(&self, file: &mut LessonFile) {
        let mut used = self.in_use(file, |file, recipe| {
            let groups = Makers::of(file, recipe).entries;
            let of = &file.recipes[recipe];
            (0..of.methods.len())
                .filter(|m| groups.iter().any(|&g| may_use(&file.groups[g], of, *m)))
                .collect()
        });
        if used == (Means { renamed: false, other: false }) {
            used =
                self.in_use(file, |file, recipe| (0..file.recipes[recipe].methods.len()).collect());
        }
        self.list(&mut file.beforehand, used);
        self.list(&mut file.collected, used);
    }

    fn in_use(
        &self,
        file: &LessonFile,
        methods: impl Fn(&LessonFile, usize) -> Vec<usize>,
    ) -> Means {
        let mut all = Means { renamed: false, other: false };
        for (number, recipe) in file.recipes.iter().enumerate() {
            let used = methods(file, number);
            if number == self.recipe {
                let means = self.means(recipe, used.into_iter());
                all.renamed |= means.renamed;
                all.other |= means.other;
            } else {
                all.other |= used.into_iter().any(|m| has(&recipe.methods[m], self.old));
            }
        }
        all
    }

    fn groups(&self, file: &mut LessonFile) {
        for entry in Makers::of(file, self.recipe).entries {
            let recipe = &file.recipes[self.recipe];
            let group = &file.groups[entry];
            let may = (0..recipe.methods.len()).filter(|&m| may_use(group, recipe, m));
            let means = self.means(recipe, may);
            let group = &mut file.groups[entry];
            self.list(&mut group.beforehand, means);
            self.list(&mut group.collected, means);
        }
    }

    /// Notes mean the step in whichever method; they stay where another method of
    /// their group has one of the old name.
    fn notes(&self, file: &mut LessonFile) {
        let mut theirs = Vec::new();
        let recipe = &file.recipes[self.recipe];
        for entry in Makers::of(file, self.recipe).entries {
            let group = &file.groups[entry];
            let may = (0..recipe.methods.len()).filter(|&m| may_use(group, recipe, m));
            let means = self.means(recipe, may);
            if means.renamed && !means.other {
                theirs.extend(expand(&group.name, group.count));
            }
        }
        notes::step(file, &theirs, self.old, self.to);
    }

    fn locks(&self, file: &mut LessonFile) -> Result<(), String> {
        let recipe = &file.recipes[self.recipe];
        let is_bake = self.methods.iter().any(|&m| {
            let steps = &recipe.methods[m].steps;
            steps.iter().any(|s| s.name == self.old && s.kind == StepKindShape::Bake)
        });
        if is_bake && self.old == "bake" {
            return Ok(()); // a bake may be called so whatever its name
        }
        for entry in Makers::of(file, self.recipe).entries {
            let recipe = &file.recipes[self.recipe];
            let group = &file.groups[entry];
            for name in expand(&group.name, group.count) {
                let of_group = || file.locks.iter().filter(|l| l.group == name);
                if !of_group().any(|l| l.step.as_deref() == Some(self.old)) {
                    continue;
                }
                let fixed = of_group().find_map(|l| l.method.as_deref());
                let may = (0..recipe.methods.len()).filter(|&m| match fixed {
                    Some(method) => recipe.methods[m].name == method,
                    None => may_use(group, recipe, m),
                });
                let means = self.means(recipe, may);
                if means.renamed && means.other && !is_bake {
                    let name = shortened(&name, 40);
                    return Err(format!(
                        "the start of {} is fixed for {name}, which may use another method with \
                         that step: rename it in all methods, or let it go first",
                        shortened(self.old, 40)
                    ));
                }
                if means.renamed {
                    // Where another method's bake has the old name, "bake" means both.
                    let to = if means.other { "bake" } else { self.to };
                    let locks = file.locks.iter_mut().filter(|l| l.group == name);
                    locks.filter_map(|l| l.step.as_mut()).for_each(|s| follow(s, self.old, to));
                }
            }
        }
        Ok(())
    }

    fn tins(&self, recipe: &mut RecipeShape) -> Result<(), String> {
        for at in 0..recipe.tins.len() {
            let goes = |m: &usize| goes_with(&recipe.tins[at], &recipe.methods[*m]);
            let means = self.means(recipe, (0..recipe.methods.len()).filter(goes));
            let tin = &mut recipe.tins[at];
            let entry = |name: &str| tin.step_minutes.0.iter().position(|(n, _)| n == name);
            let (Some(old), true) = (entry(self.old), means.renamed) else { continue };
            let minutes = tin.step_minutes.0[old].1;
            match entry(self.to) {
                Some(there) if tin.step_minutes.0[there].1 != minutes => {
                    return Err(format!(
                        "{} and {} take different minutes in {}, and one name cannot have both",
                        shortened(self.old, 40),
                        shortened(self.to, 40),
                        shortened(tin_label(tin), 40)
                    ));
                }
                Some(_) if means.other => {}
                Some(_) => {
                    tin.step_minutes.0.remove(old);
                }
                None if means.other => {
                    tin.step_minutes.0.insert(old + 1, (self.to.to_owned(), minutes));
                }
                None => self.to.clone_into(&mut tin.step_minutes.0[old].0),
            }
        }
        Ok(())
    }
}

fn goes_with(tin: &TinChoiceShape, method: &MethodShape) -> bool {
    tin.methods.is_empty() || tin.methods.contains(&method.name)
}

/// The step, and what the method itself says of it.
fn in_method(method: &mut MethodShape, old: &str, to: &str) {
    if let Some(step) = method.steps.iter_mut().find(|s| s.name == old) {
        to.clone_into(&mut step.name);
    }
    let afters = method.steps.iter_mut().filter_map(|s| s.after.as_mut()).flatten();
    let links = method.links.iter_mut().flat_map(|l| [&mut l.from, &mut l.to]);
    let holds = method.holds.iter_mut().flat_map(|h| [&mut h.from, &mut h.to]);
    let tin = method.tin_held.iter_mut().flat_map(|(from, until)| [from, until]);
    let all = afters.chain(links).chain(holds).chain(tin);
    all.for_each(|name| follow(name, old, to));
}
