//! What is entered in fields: planned once the typing pauses, refused with a
//! reason.

use std::collections::BTreeMap;
use std::time::{Duration, Instant};

use super::{Session, first_of};
use crate::edit::{Edit, FileChange};
use crate::finding::{Finding, Path};

/// Planning waits so long for the next letter.
pub const PAUSE: Duration = Duration::from_millis(350);

/// What was refused, by field.
pub type Refused = BTreeMap<String, String>;

/// What is being typed.
#[derive(Debug, Default)]
pub(super) struct Typing {
    refused: Refused,
    /// When to plan what is being typed, and what that is.
    due: Option<(Instant, String)>,
}

impl Session {
    /// Whether something typed still waits to be planned.
    pub fn is_typing(&self) -> bool {
        self.typing.due.is_some()
    }

    /// What fields were refused, and why.
    pub fn refused(&self) -> &Refused {
        &self.typing.refused
    }

    /// Another document is on screen: nothing of the one before is typed.
    pub(super) fn forget_typed(&mut self) {
        self.typing = Typing::default();
    }

    /// Makes an edit, or says why not.
    pub(super) fn edit(&mut self, edit: &Edit) {
        let Some(made) = self.doc.as_mut().map(|doc| doc.apply(edit)) else { return };
        let field = edit.field();
        match made {
            Ok(()) => {
                if let Some((at, typing)) = field {
                    self.typing.refused.remove(&at.to_string());
                    if typing {
                        self.wait_for_more(edit.label());
                        return;
                    }
                }
                self.typing.due = None;
                self.changed(&edit.label());
            }
            Err(findings) => self.is_refused(edit, &findings),
        }
    }

    fn is_refused(&mut self, edit: &Edit, findings: &[Finding]) {
        let why = first_of(findings);
        match edit.field() {
            Some((at, true)) => {
                self.typing.refused.insert(at.to_string(), why);
                self.take_back_typed(at);
            }
            _ => self.tell(format!("Cannot: {}. {why}", edit.label())),
        }
    }

    /// What is typed in a field cannot be read: it holds what it held before.
    pub(super) fn untype(&mut self, at: &Path) {
        self.typing.refused.remove(&at.to_string());
        self.take_back_typed(at);
    }

    fn take_back_typed(&mut self, at: &Path) {
        if self.doc.as_mut().is_some_and(|doc| doc.untype(at)) {
            self.wait_for_more(format!("{at}"));
        }
    }

    /// A field was left: what is typed next is another change.
    pub(super) fn field_left(&mut self) {
        self.plan_typed();
        if let Some(doc) = &mut self.doc {
            doc.typed();
        }
    }

    fn wait_for_more(&mut self, what: String) {
        self.studies.plans.forget();
        self.stop_offers();
        self.typing.due = Some((Instant::now() + PAUSE, what));
    }

    /// Plans what was typed, once the typing pauses.
    pub(super) fn plan_when_due(&mut self) {
        if self.typing.due.as_ref().is_some_and(|(when, _)| *when <= Instant::now()) {
            self.plan_typed();
        }
    }

    /// Plans what was typed without waiting for more.
    pub fn plan_typed(&mut self) {
        if let Some((_, what)) = self.typing.due.take() {
            self.changed(&what);
        }
    }
}
