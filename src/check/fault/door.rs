//! What is wrong by the rule `door`.

use super::Words;
use crate::check::span::Span;
use crate::model::{GroupId, OvenId};

/// A door is opened while a delicate bake wants it shut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DoorFault {
    /// Who opens it.
    pub opener: GroupId,
    /// Of which oven.
    pub oven: OvenId,
    /// When.
    pub span: Span,
    /// To load, or else to take out.
    pub loading: bool,
    /// Whose bake wants it shut.
    pub baker: GroupId,
    /// When it wants that.
    pub shut: Span,
}

impl DoorFault {
    pub(super) fn told(&self, words: &Words<'_>) -> String {
        format!(
            "{} opens the door of {} {} to {}; the bake of {} wants it shut {}",
            words.group(self.opener),
            words.oven(self.oven),
            words.span(self.span),
            if self.loading { "load" } else { "take out" },
            words.group(self.baker),
            words.span(self.shut)
        )
    }
}
