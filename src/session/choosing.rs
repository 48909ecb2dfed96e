//! What a choice on a group's card would come to: its plan is laid over the
//! board before it is made, like that of a change that is offered.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use super::study::Heard;
use super::{Session, first_of};
use crate::change::{Alteration, Item, Offer};
use crate::check::CheckedPlan;
use crate::edit::{Edit, FileChange};
use crate::file::format::LessonFile;
use crate::file::lesson_of_shapes;
use crate::model::{ChangeKind, Lesson};
use crate::planner::Budget;
use crate::today::{Replanned, replan_read};

/// A choice, and the plan that the others keep to as far as can be.
pub(super) struct ToChoose {
    before: (Arc<Lesson>, Arc<CheckedPlan>),
    item: Item,
    file: LessonFile,
    after: Arc<Lesson>,
    budget: Budget,
}

/// What it comes to, and every better plan of that.
pub(super) fn choose(of: ToChoose, stop: &AtomicBool, tell: &dyn Fn(Offer)) -> Result<(), String> {
    let offer = |found: &Replanned| {
        tell(Offer {
            cost: of.item.cost,
            items: vec![of.item.clone()],
            file: of.file.clone(),
            lesson: Arc::clone(&of.after),
            plan: Arc::new(found.plan.clone()),
        });
    };
    let before = (&*of.before.0, &*of.before.1);
    let found = replan_read(before, &of.after, &of.budget, stop, offer);
    found.map(|found| offer(&found)).map_err(|fault| fault.to_string())
}

impl Session {
    /// Looks what choices on a group's card would come to together; the lesson
    /// stays as it is until that is kept.
    pub(super) fn try_choice(&mut self, choices: Vec<Edit>) {
        let (Some(doc), Some(planned)) = (&self.doc, &self.planned) else { return };
        let words: Vec<String> = choices.iter().map(FileChange::label).collect();
        let item = Item {
            kind: ChangeKind::Tin,
            what: Alteration::OnCard(choices),
            cost: ChangeKind::Tin.usual_cost(),
            words: words.join("; "),
            asks: Vec::new(),
            ladder: None,
        };
        let read = item
            .made(doc.file())
            .map_err(|why| vec![why])
            .and_then(|file| Ok((lesson_of_shapes(&file, &doc.past)?, file)));
        let (before, revision) =
            ((Arc::clone(&planned.lesson), Arc::clone(&planned.plan)), doc.revision());
        match read {
            Ok((after, file)) => {
                self.put_away();
                self.laid.awaited = Some(item.words.clone());
                let (after, budget) = (Arc::new(after), self.planning_budget());
                let what = ToChoose { before, item, file, after, budget };
                self.studies.choice.ask(revision, what);
            }
            Err(findings) => self.tell(format!("Cannot: {}. {}", item.words, first_of(&findings))),
        }
    }

    /// Whether it is being looked what a choice would come to.
    pub fn is_trying_choice(&self) -> bool {
        self.laid.awaited.is_some() && self.studies.choice.is_busy()
    }

    pub(super) fn hear_of_choices(&mut self) {
        let Some(now) = self.revision() else { return };
        for heard in self.studies.choice.hear(Some(now)) {
            match heard {
                Heard::Answer(offer) => {
                    let name = offer.words();
                    let is_laid = self.laid.overlay.as_ref().is_some_and(|o| o.name == name);
                    let is_awaited = self.laid.awaited.take().is_some_and(|a| a == name);
                    if is_laid || is_awaited {
                        self.lay_change(now, offer);
                    }
                    if is_awaited {
                        self.events.push(super::Event::ChoiceLaid);
                    }
                }
                Heard::Ended => {}
                Heard::Fault(fault) => {
                    self.laid.awaited = None;
                    self.tell_of_fault(&fault);
                }
            }
        }
    }
}
