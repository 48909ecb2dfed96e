//! What the menu offers: an alteration with its cost, in words.

use super::alteration::Alteration;
use crate::edit::FileChange;
use crate::file::format::LessonFile;
use crate::finding::Finding;
use crate::model::ChangeKind;

/// One change of the menu.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// What kind of change.
    pub kind: ChangeKind,
    /// What is altered.
    pub what: Alteration,
    /// What it costs.
    pub cost: f64,
    /// In words, as what is then so: "weigh done beforehand".
    pub words: String,
    /// What it asks of others, in sentences.
    pub asks: Vec<String>,
    /// Items of one ladder are the same change by more and more: its number
    /// and the rung. Only the lowest rung that is enough is offered.
    pub ladder: Option<(usize, u32)>,
}

impl Item {
    /// Whether two changes make sense together.
    pub fn goes_with(&self, other: &Item) -> bool {
        let whole = |i: &Item| matches!(i.kind, ChangeKind::TwoLessons | ChangeKind::Recipe);
        let same_ladder = match (self.ladder, other.ladder) {
            (Some((a, _)), Some((b, _))) => a == b,
            _ => false,
        };
        !whole(self) && !whole(other) && !same_ladder && self.what != other.what
    }

    /// Whether it is the other one, or the same by no less.
    pub fn covers(&self, other: &Item) -> bool {
        match (self.ladder, other.ladder) {
            (Some((a, mine)), Some((b, theirs))) => a == b && mine >= theirs,
            _ => self.what == other.what,
        }
    }
}

impl FileChange for Item {
    fn label(&self) -> String {
        self.words.clone()
    }

    fn apply(&self, file: &mut LessonFile) -> Result<(), Finding> {
        if self.what.make(file) { Ok(()) } else { Err(self.no_such_entry()) }
    }
}

/// Makes the changes in the order in which they build on each other.
///
/// # Errors
/// If there is nothing to which one of them could be made.
pub fn apply_all<'a>(
    file: &mut LessonFile,
    items: impl IntoIterator<Item = &'a Item>,
) -> Result<(), Finding> {
    let mut all: Vec<&Item> = items.into_iter().collect();
    // Methods before tins: a tin brings the minutes of its methods' steps.
    all.sort_by_key(|item| match item.kind {
        ChangeKind::Method => 0,
        ChangeKind::TwoLessons => 2,
        _ => 1,
    });
    all.into_iter().try_for_each(|item| item.apply(file))
}
