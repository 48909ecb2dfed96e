//! What every change of a lesson's file has.

use crate::file::format::LessonFile;
use crate::finding::{Finding, Path};

/// One change of a lesson's file.
pub trait FileChange {
    /// What it is called, for undo and redo: "Oven 3 out of order".
    fn label(&self) -> String;

    /// Makes it.
    ///
    /// # Errors
    /// Why it cannot be made. The file may then be changed in part;
    /// [`FileChange::made`] leaves it alone.
    fn apply(&self, file: &mut LessonFile) -> Result<(), Finding>;

    /// The field it is entered in, if it is, and whether it is being typed.
    fn field(&self) -> Option<(&Path, bool)> {
        None
    }

    /// The file with the change.
    ///
    /// # Errors
    /// Why it cannot be made.
    fn made(&self, file: &LessonFile) -> Result<LessonFile, Finding> {
        let mut file = file.clone();
        self.apply(&mut file)?;
        Ok(file)
    }

    /// What says that the file has nothing for the change to be made to.
    fn no_such_entry(&self) -> Finding {
        let message = format!("cannot {}: there is no such entry", self.label());
        Finding::error("no-such-entry", Path::root(), message)
    }
}
