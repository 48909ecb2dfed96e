//! Asking for a file. The dialog is awaited on a thread of its own; where no
//! dialog service answers, the window offers a field for the path.

use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, channel};
use std::thread;
use std::time::{Duration, Instant};

use crate::session::RECIPE_ENDINGS;

/// What a path is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PathFor {
    /// A lesson to open, or a recipe to read.
    Open,
    /// A recipe to read.
    Recipe,
    /// A file to save the lesson to.
    Save,
    /// A file to print sheets to.
    Print,
    /// A file to begin a week in.
    Week,
    /// A file to begin the week after the one on screen in.
    WeekAfter,
    /// A lesson to put into the week.
    LessonOfWeek,
}

impl PathFor {
    /// What stands beside a field for it, and on the button that takes it.
    pub const fn words(self) -> (&'static str, &'static str) {
        match self {
            PathFor::Open => ("Open this file:", "Open it"),
            PathFor::Recipe => ("Read a recipe from this file:", "Read it in"),
            PathFor::Save => ("Save to this file:", "Save to it"),
            PathFor::Print => ("Print to this file:", "Print to it"),
            PathFor::Week => ("Begin a week in this file:", "Begin it"),
            PathFor::WeekAfter => ("Begin the week after in this file:", "Begin it"),
            PathFor::LessonOfWeek => ("Put the lesson of this file in:", "Put it in"),
        }
    }

    /// The kinds of files, and how their names end.
    fn kinds(self) -> Vec<(&'static str, &'static [&'static str])> {
        let recipe = ("Recipe, or a saved page with one", RECIPE_ENDINGS.as_slice());
        match self {
            PathFor::Open => vec![("Lesson", &["ron"]), recipe],
            PathFor::Save => vec![("Lesson", &["ron"])],
            PathFor::Recipe => vec![recipe],
            PathFor::Print => vec![("PDF", &["pdf"])],
            PathFor::Week | PathFor::WeekAfter => vec![("Week", &["ron"])],
            PathFor::LessonOfWeek => vec![("Lesson", &["ron"])],
        }
    }

    /// Whether a file is read, and not written.
    const fn reads(self) -> bool {
        matches!(self, PathFor::Open | PathFor::Recipe | PathFor::LessonOfWeek)
    }
}

/// A dialog under way.
pub struct Dialog {
    answer: Receiver<Option<PathBuf>>,
    begun: Instant,
    /// What for.
    pub path_for: PathFor,
}

/// How a dialog ended, or that it has not.
pub enum DialogEnd {
    /// Nothing yet.
    Waiting,
    /// A file.
    File(PathBuf),
    /// Cancelled, or no dialog service here: these cannot be told apart, but
    /// an answer at once is no person's.
    Nothing {
        /// It came too fast for a person.
        at_once: bool,
    },
}

impl Dialog {
    /// Shows the dialog, which starts from this path.
    pub fn show(path_for: PathFor, at: &Path, wake: impl Fn() + Send + 'static) -> Self {
        let (tell, answer) = channel();
        let kinds = path_for.kinds().into_iter();
        let dialog = kinds.fold(rfd::AsyncFileDialog::new(), |dialog, (kind, endings)| {
            dialog.add_filter(kind, endings)
        });
        let folder = at.parent().filter(|f| f.is_dir());
        let dialog = folder.into_iter().fold(dialog, |dialog, f| dialog.set_directory(f));
        let dialog = if !path_for.reads() {
            let name = at.file_name().unwrap_or_default().to_string_lossy().into_owned();
            let shown = dialog.set_file_name(name).save_file();
            Box::pin(shown) as std::pin::Pin<Box<dyn Future<Output = _> + Send>>
        } else {
            Box::pin(dialog.pick_file())
        };
        thread::spawn(move || {
            let file = pollster::block_on(dialog).map(|f| f.path().to_path_buf());
            // The window may be gone by now.
            let _ = tell.send(file);
            wake();
        });
        Self { answer, begun: Instant::now(), path_for }
    }

    /// How it ended, or that it has not.
    pub fn outcome(&self) -> DialogEnd {
        match self.answer.try_recv() {
            Ok(Some(path)) => DialogEnd::File(path),
            Ok(None) => {
                DialogEnd::Nothing { at_once: self.begun.elapsed() < Duration::from_millis(800) }
            }
            Err(std::sync::mpsc::TryRecvError::Empty) => DialogEnd::Waiting,
            Err(std::sync::mpsc::TryRecvError::Disconnected) => {
                DialogEnd::Nothing { at_once: true }
            }
        }
    }
}
