//! What is done by hand, as a change of the lesson's file: its locks.

use std::sync::atomic::AtomicBool;

use super::drop::LockChange;
use super::put::{as_it_is, bakes};
use super::words::{held_words, lock_words, put_words};
use super::{Held, Spot, Thing, hold, let_go, let_go_lock};
use crate::check::CheckedPlan;
use crate::edit::FileChange;
use crate::file::format::LessonFile;
use crate::finding::{Finding, Path};
use crate::model::{Lesson, Lock};

/// Something done by hand to a plan.
#[derive(Clone, Copy)]
pub struct ByHand<'a> {
    /// The lesson.
    pub lesson: &'a Lesson,
    /// Its plan.
    pub plan: &'a CheckedPlan,
    /// What.
    pub what: Does<'a>,
}

/// What is done.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Does<'a> {
    /// Things are held as they are in the plan.
    Hold(&'a [Held]),
    /// Things are let go.
    LetGo(&'a [Held]),
    /// One lock is let go, whether its group is served or not.
    LetGoLock(&'a Lock),
    /// Things are put somewhere; whether there is a plan is not asked.
    Put(&'a [(Thing, Spot)]),
}

impl FileChange for ByHand<'_> {
    fn label(&self) -> String {
        let (lesson, plan) = (self.lesson, self.plan);
        match self.what {
            Does::Hold(all) => held_words(lesson, plan, all, true),
            Does::LetGo(all) => held_words(lesson, plan, all, false),
            Does::LetGoLock(lock) => format!("let go: {}", lock_words(lesson, lock)),
            Does::Put(spots) => put_words(lesson, plan, spots),
        }
    }

    fn apply(&self, file: &mut LessonFile) -> Result<(), Finding> {
        let (lesson, plan) = (self.lesson, self.plan);
        let before = file.clone();
        match self.what {
            Does::Hold(all) => {
                for &held in all {
                    *file = hold(file, lesson, plan, held);
                }
            }
            Does::LetGo(all) => {
                for &held in all {
                    *file = let_go(file, lesson, plan, held);
                }
            }
            Does::LetGoLock(lock) => *file = let_go_lock(file, lesson, lock),
            Does::Put(spots) => {
                let bakes = |(thing, _): &&(Thing, Spot)| match thing {
                    Thing::Bake(group) => bakes(lesson, *group),
                    Thing::Step(..) | Thing::Row(_) => true,
                };
                if let Some((thing, _)) = spots.iter().find(|spot| !bakes(spot)) {
                    let name = &lesson.group(thing.group()).name;
                    return Err(refused(format!("{name} bakes nothing.")));
                }
                *file = dropped((file, lesson, plan), spots, &AtomicBool::new(false));
                return Ok(());
            }
        }
        if *file == before {
            let what = match self.what {
                Does::Hold(_) => "the plan has nothing there that is not held",
                _ => "nothing of it is held",
            };
            return Err(refused(format!("cannot {}: {what}", self.label())));
        }
        Ok(())
    }
}

fn refused(message: String) -> Finding {
    Finding::error("not-by-hand", Path::root(), message)
}

/// The file with things put somewhere, as locks.
pub(super) fn dropped(
    (file, lesson, plan): super::AtHand<'_>,
    spots: &[(Thing, Spot)],
    stop: &AtomicBool,
) -> LessonFile {
    let mut after = file.clone();
    for &(thing, spot) in spots {
        let now = as_it_is(lesson, plan, thing.group(), stop);
        after = LockChange::of(lesson, &now, thing, spot).on_file(&after, lesson);
    }
    after
}
