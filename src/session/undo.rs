//! What undo goes back to. Files that follow one another differ in one part,
//! so the other parts are kept once.

use std::sync::Arc;

use super::{Document, Session};
use crate::check::CheckedPlan;
use crate::file::format::{GroupShape, LessonFile, RecipeShape, RoomShape, TinShape};

/// Undo goes back so many changes.
const REMEMBERED: usize = 20_000;

/// A file in parts that are shared with the files before and after it.
#[derive(Debug, Clone)]
struct SharedFile {
    recipes: Vec<Arc<RecipeShape>>,
    groups: Vec<Arc<GroupShape>>,
    tins: Vec<Arc<TinShape>>,
    room: Arc<RoomShape>,
    /// All the rest, the parts above empty.
    rest: Arc<LessonFile>,
}

impl SharedFile {
    fn of(mut file: LessonFile, like: Option<&SharedFile>) -> Self {
        let recipes = std::mem::take(&mut file.recipes);
        let groups = std::mem::take(&mut file.groups);
        let tins = std::mem::take(&mut file.tins);
        let room = std::mem::take(&mut file.room);
        let room_before = like.map(|k| std::slice::from_ref(&k.room)).unwrap_or_default();
        let rest_before = like.map(|k| std::slice::from_ref(&k.rest)).unwrap_or_default();
        Self {
            recipes: all_shared(recipes, like.map(|k| k.recipes.as_slice())),
            groups: all_shared(groups, like.map(|k| k.groups.as_slice())),
            tins: all_shared(tins, like.map(|k| k.tins.as_slice())),
            room: shared(room, 0, room_before),
            rest: shared(file, 0, rest_before),
        }
    }

    fn file(&self) -> LessonFile {
        let mut file = (*self.rest).clone();
        file.recipes = self.recipes.iter().map(|r| (**r).clone()).collect();
        file.groups = self.groups.iter().map(|g| (**g).clone()).collect();
        file.tins = self.tins.iter().map(|t| (**t).clone()).collect();
        file.room = (*self.room).clone();
        file
    }
}

fn all_shared<T: PartialEq>(parts: Vec<T>, before: Option<&[Arc<T>]>) -> Vec<Arc<T>> {
    let before = before.unwrap_or_default();
    parts.into_iter().enumerate().map(|(i, part)| shared(part, i, before)).collect()
}

/// The part that was there, if it is the same: at its place or near it, where
/// an entry was put in or taken out.
fn shared<T: PartialEq>(part: T, at: usize, before: &[Arc<T>]) -> Arc<T> {
    let near = [Some(at), at.checked_sub(1), at.checked_add(1)];
    let near = near.into_iter().flatten().filter_map(|i| before.get(i));
    let same = near.into_iter().find(|b| ***b == part).cloned();
    same.unwrap_or_else(|| Arc::new(part))
}

/// A lesson's file and the plan that was shown of it, if one was.
pub(super) type WithPlan = (LessonFile, Option<Arc<CheckedPlan>>);

/// How many changes back a lesson is looked for that is again as it was.
const LOOKED_BACK: usize = 24;

#[derive(Debug, Clone)]
struct Step {
    label: String,
    file: SharedFile,
    plan: Option<Arc<CheckedPlan>>,
}

impl Step {
    fn with_plan(&self) -> WithPlan {
        (self.file.file(), self.plan.clone())
    }
}

/// Changes that can be taken back, and those taken back.
#[derive(Debug, Clone, Default)]
pub struct Undo {
    back: Vec<Step>,
    again: Vec<Step>,
    /// The field whose typing the last change was, while it goes on.
    typing: Option<String>,
}

impl Undo {
    /// A change has been made to what was `before`, of which this plan was shown.
    /// The typing in one field is one change.
    pub fn made(
        &mut self,
        label: String,
        before: LessonFile,
        plan: Option<Arc<CheckedPlan>>,
        typing: Option<String>,
    ) {
        self.again.clear();
        let goes_on = typing.is_some() && self.typing == typing;
        self.typing = typing;
        if goes_on && let Some(last) = self.back.last_mut() {
            last.label = label;
            return;
        }
        let file = SharedFile::of(before, self.back.last().map(|s| &s.file));
        self.back.push(Step { label, file, plan });
        if self.back.len() > REMEMBERED {
            self.back.remove(0);
        }
    }

    /// Renames the last step if it is the typing in this field. The file is as it
    /// was, so no step is added.
    pub fn still(&mut self, field: Option<&str>, label: String) {
        if field.is_some()
            && self.typing.as_deref() == field
            && let Some(last) = self.back.last_mut()
        {
            last.label = label;
        }
    }

    /// The file before what is being typed in a field, if anything is.
    pub fn before_typing(&self, field: &str) -> Option<LessonFile> {
        let typing = self.typing.as_deref() == Some(field);
        if typing { self.before().map(|(file, _)| file) } else { None }
    }

    /// The file before what is being typed in a field, which is forgotten.
    pub fn untype(&mut self, field: &str) -> Option<WithPlan> {
        if self.typing.as_deref() != Some(field) {
            return None;
        }
        self.typing = None;
        self.back.pop().map(|s| s.with_plan())
    }

    /// The file and plan before what is being typed in whatever field, if anything
    /// is and there was a plan.
    pub fn before_what_is_typed(&self) -> Option<(LessonFile, Arc<CheckedPlan>)> {
        let last = self.back.last().filter(|_| self.typing.is_some())?;
        Some((last.file.file(), last.plan.clone()?))
    }

    /// The plan last shown of this very file, if it was there some changes ago.
    pub fn plan_of(&self, file: &LessonFile) -> Option<Arc<CheckedPlan>> {
        let last = |steps: &'_ [Step]| -> Option<Arc<CheckedPlan>> {
            let mut near = steps.iter().rev().take(LOOKED_BACK).filter(|s| s.plan.is_some());
            near.find(|s| s.file.file() == *file).and_then(|s| s.plan.clone())
        };
        last(&self.back).or_else(|| last(&self.again))
    }

    /// What is typed next is another change.
    pub fn typed(&mut self) {
        self.typing = None;
    }

    /// What would be taken back.
    pub fn can_undo(&self) -> Option<&str> {
        self.back.last().map(|s| s.label.as_str())
    }

    /// What would be made again.
    pub fn can_redo(&self) -> Option<&str> {
        self.again.last().map(|s| s.label.as_str())
    }

    /// The lesson before the last change.
    pub fn before(&self) -> Option<WithPlan> {
        self.back.last().map(Step::with_plan)
    }

    /// The lesson after the change taken back last.
    pub fn after(&self) -> Option<WithPlan> {
        self.again.last().map(Step::with_plan)
    }

    /// The last change was taken back; the lesson was `now`.
    pub fn went_back(&mut self, (now, plan): WithPlan) {
        self.typing = None;
        if let Some(step) = self.back.pop() {
            let file = SharedFile::of(now, Some(&step.file));
            self.again.push(Step { label: step.label, file, plan });
        }
    }

    /// The change taken back last was made again; the lesson was `now`.
    pub fn went_again(&mut self, (now, plan): WithPlan) {
        self.typing = None;
        if let Some(step) = self.again.pop() {
            let file = SharedFile::of(now, Some(&step.file));
            self.back.push(Step { label: step.label, file, plan });
        }
    }
}

impl Session {
    /// Takes the last change back.
    pub(super) fn undo(&mut self) {
        let what = |doc: &Document| doc.can_undo().map(|w| format!("taking back {w}"));
        self.step_back(what, Document::undo);
    }

    /// Makes the change taken back last again.
    pub(super) fn redo(&mut self) {
        self.step_back(|doc| doc.can_redo().map(str::to_owned), Document::redo);
    }

    fn step_back(&mut self, what: impl Fn(&Document) -> Option<String>, way: fn(&mut Document)) {
        let Some(doc) = &mut self.doc else { return };
        let before = doc.revision();
        let what = what(doc);
        way(doc);
        if doc.revision() != before {
            // What was told of it is no longer so.
            self.message = None;
            self.changed(&what.unwrap_or_default());
            self.write_the_day_when_planned();
        }
    }
}
