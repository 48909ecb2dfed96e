//! What was unsure of a recipe and has been looked at.

use crate::edit::FileChange;
use crate::file::format::{LessonFile, ReviewShape};
use crate::finding::{Finding, shortened};

/// Something of a recipe is as it should be, or has been put right: it is no longer to
/// be reviewed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LookedAt<'a> {
    /// The recipe, by its place in the lesson.
    pub recipe: usize,
    /// What.
    pub entry: &'a ReviewShape,
}

impl FileChange for LookedAt<'_> {
    fn label(&self) -> String {
        let ReviewShape { text, why, .. } = self.entry;
        let what = if text.is_empty() { why } else { text };
        format!("looked at: {}", shortened(what, 40))
    }

    fn apply(&self, file: &mut LessonFile) -> Result<(), Finding> {
        let review = file.recipes.get_mut(self.recipe).map(|recipe| &mut recipe.review);
        let found = review.and_then(|all| {
            let at = all.iter().position(|of| of == self.entry)?;
            Some(all.remove(at))
        });
        found.map(|_| ()).ok_or_else(|| self.no_such_entry())
    }
}
