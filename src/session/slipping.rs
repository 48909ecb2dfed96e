//! A slip thrown into a rehearsal: what would become of the lesson, worked out on a copy
//! in memory. The lesson stays as it is.

use std::sync::Arc;

use super::responding::ToRespond;
use super::study::Heard;
use super::{Revision, Session, first_of};
use crate::file::lesson_of_shapes;
use crate::model::{FactKind, Lesson};
use crate::today::{Response, Standing, minute_of, start_of_day, tell};
use crate::units::{ClockTime, Minutes};

/// A slip that is thrown in.
#[derive(Debug, Clone)]
pub struct RehearsedSlip {
    /// Whose.
    pub group: String,
    /// By how much it is late.
    pub late: Minutes,
    /// When that is.
    pub at: ClockTime,
    /// The lesson with it.
    pub lesson: Arc<Lesson>,
    /// How groups would stand.
    pub standing: Arc<Standing>,
    /// What could be done, the least effort first.
    pub responses: Vec<Response>,
    /// Still being worked out.
    pub looking: bool,
    revision: Revision,
}

impl Session {
    /// The slip that is thrown in, if one is.
    pub fn slip(&self) -> Option<&RehearsedSlip> {
        self.slip.as_ref().filter(|slip| Some(slip.revision) == self.revision())
    }

    /// A group is so much behind at a time of the lesson that is rehearsed.
    pub(super) fn throw_in_slip(&mut self, group: &str, late: Minutes, at: ClockTime) {
        self.take_slip_out();
        let Some((doc, _, plan)) = self.at_hand() else { return };
        let (revision, past, plan) = (doc.revision(), Arc::clone(&doc.past), Arc::clone(plan));
        let what = (group, FactKind::Late(late));
        let day = tell(&start_of_day(doc.file()), what, at, &past).map_err(|why| vec![why]);
        let read = day.and_then(|file| Ok((lesson_of_shapes(&file, &past)?, file)));
        let (lesson, file) = match read {
            Ok((lesson, file)) => (Arc::new(lesson), file),
            Err(findings) => {
                self.tell(format!("Not thrown in: {}", first_of(&findings)));
                return;
            }
        };
        let facts = lesson.today.as_ref().map_or(&[][..], |today| &today.facts);
        let standing = Standing::of(&lesson, &plan, facts, minute_of(&lesson, at));
        let (standing, told) = (Arc::new(standing), (Arc::clone(&lesson), plan));
        self.slip = Some(RehearsedSlip {
            group: group.to_owned(),
            late,
            at,
            lesson,
            standing: Arc::clone(&standing),
            responses: Vec::new(),
            looking: !standing.all_out(),
            revision,
        });
        if !standing.all_out() {
            self.studies.slip.ask(revision, ToRespond { file, told, standing, past });
        }
    }

    /// The rehearsal is as planned again.
    pub(super) fn take_slip_out(&mut self) {
        self.slip = None;
        self.studies.slip.forget();
    }

    pub(super) fn hear_of_slip(&mut self) {
        for heard in self.studies.slip.hear(self.revision()) {
            let Some(slip) = &mut self.slip else { continue };
            match heard {
                Heard::Answer(found) => slip.responses = found,
                Heard::Ended => slip.looking = false,
                Heard::Fault(fault) => {
                    slip.looking = false;
                    self.tell_of_fault(&fault);
                }
            }
        }
    }
}
