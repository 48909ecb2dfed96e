//! Holding things of the plan where they are, and what is held becoming part of
//! the lesson's file.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use super::study::Heard;
use super::{Session, first_of};
use crate::check::CheckedPlan;
use crate::edit::FileChange;
use crate::file::format::LessonFile;
use crate::hand::{self, ByHand, Contradiction, Does, Held};
use crate::model::{Lesson, Lock};

pub(super) fn find_contradiction(
    lesson: Arc<Lesson>,
    stop: &AtomicBool,
    tell: &dyn Fn(Option<Contradiction>),
) -> Result<(), String> {
    let found = hand::contradiction(&lesson, stop);
    if !stop.load(Ordering::Relaxed) {
        tell(found);
    }
    Ok(())
}

impl Session {
    /// Holds something where it is, or lets go of it.
    pub(super) fn hold(&mut self, what: &[Held], on: bool) {
        if !self.may_move() {
            return;
        }
        if what.is_empty() {
            return;
        }
        let Some((doc, lesson, plan)) = self.at_hand() else { return };
        let what = if on { Does::Hold(what) } else { Does::LetGo(what) };
        let change = ByHand { lesson, plan, what };
        // What is held already, or let go of, is left as it is.
        let Ok(file) = change.made(doc.file()) else { return };
        let label = change.label();
        self.become_file_with_same_plan(&label, file);
    }

    /// Lets go of one lock, whether its group is served or not.
    pub(super) fn let_go_of(&mut self, lock: &Lock) {
        let Some(doc) = &self.doc else { return };
        let Some(lesson) = doc.lesson() else { return };
        let label = format!("let go: {}", hand::words::lock_words(lesson, lock));
        let file = hand::let_go_lock(doc.file(), lesson, lock);
        self.become_file(&label, file, None);
    }

    /// Changes the lesson to a file of which the plan on screen is a plan too, so
    /// that nothing moves.
    pub(super) fn become_file_with_same_plan(&mut self, label: &str, file: LessonFile) {
        let plan = self.at_hand().map(|(_, _, plan)| Arc::clone(plan));
        self.become_file(label, file, plan);
    }

    /// Changes the lesson to another file, as one step of undo, with a plan of
    /// that if there is one already.
    pub(super) fn become_file(
        &mut self,
        label: &str,
        file: LessonFile,
        plan: Option<Arc<CheckedPlan>>,
    ) {
        let Some(doc) = &mut self.doc else { return };
        if *doc.file() == file {
            return;
        }
        match doc.change_to(label.to_owned(), file) {
            Ok(()) => {
                if let Some(plan) = plan {
                    doc.has_plan(plan);
                }
                self.changed(label);
            }
            Err(findings) => self.tell(format!("Cannot: {label}. {}", first_of(&findings))),
        }
    }

    /// Takes in whether what is held contradicts itself, and asks that once a
    /// plan stands.
    pub(super) fn hear_of_contradictions(&mut self) {
        if self.moving.carried.is_some() {
            // Nothing new is said under what is being moved.
            return;
        }
        let now = self.revision();
        for heard in self.studies.contradictions.hear(now) {
            match heard {
                Heard::Answer(found) => self.moving.contradiction = now.zip(found),
                Heard::Ended => {}
                Heard::Fault(fault) => self.tell_of_fault(&fault),
            }
        }
        self.look_at_locks();
    }

    fn look_at_locks(&mut self) {
        if self.is_planning() || self.moving.is_busy() || self.moving.carried.is_some() {
            return;
        }
        let Some((doc, lesson, plan)) = self.at_hand() else { return };
        let revision = doc.revision();
        if self.moving.looked_at == Some(revision) {
            return;
        }
        let left_out = lesson.attending().any(|g| plan.plan().choice(g).is_none());
        let of = (left_out && !lesson.locks.is_empty()).then(|| Arc::clone(lesson));
        self.moving.looked_at = Some(revision);
        self.moving.contradiction = None;
        if let Some(lesson) = of {
            self.studies.contradictions.ask(revision, lesson);
        }
    }
}
