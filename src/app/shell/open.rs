//! Asking for a file. The dialog is awaited on a thread of its own; where no
//! dialog service answers, the window offers a field for the path.

use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, channel};
use std::thread;
use std::time::{Duration, Instant};

/// A dialog under way.
pub struct Dialog {
    answer: Receiver<Option<PathBuf>>,
    begun: Instant,
    /// The file is to be written.
    pub to_save: bool,
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
    pub fn show(to_save: bool, at: &Path, wake: impl Fn() + Send + 'static) -> Self {
        let (tell, answer) = channel();
        let dialog = rfd::AsyncFileDialog::new().add_filter("Lesson", &["ron"]);
        let folder = at.parent().filter(|f| f.is_dir());
        let dialog = folder.into_iter().fold(dialog, |dialog, f| dialog.set_directory(f));
        let dialog = if to_save {
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
        Self { answer, begun: Instant::now(), to_save }
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
