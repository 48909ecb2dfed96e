//! How the user's work is to be kept safe, and what saving comes to.

use std::fmt;
use std::path::PathBuf;
use std::sync::Arc;
use std::time::{Duration, SystemTime};

use super::disk::{Disk, RealDisk};
use super::format::LessonFile;
use super::plain_words::when;

/// Where and how the user's work is kept safe.
#[derive(Clone)]
pub struct Safekeeping {
    /// The disk.
    pub disk: Arc<dyn Disk>,
    /// The folder of the user's own data; none is used if `None`.
    pub data: Option<PathBuf>,
    /// Copies of unsaved changes are written no oftener than this.
    pub every: Duration,
    /// Called when copies can no longer be written, or can again.
    pub wake: Arc<dyn Fn() + Send + Sync>,
}

impl Safekeeping {
    /// How often copies of unsaved changes are written. With the time that
    /// takes, no more than two seconds' work is ever without one.
    pub const EVERY: Duration = Duration::from_millis(250);

    /// On this disk, with this folder of the user's own data.
    pub fn new(disk: Arc<dyn Disk>, data: Option<PathBuf>) -> Self {
        Self { disk, data, every: Self::EVERY, wake: Arc::new(|| {}) }
    }
}

impl Default for Safekeeping {
    /// On the real disk, beside lessons' files only.
    fn default() -> Self {
        Self::new(Arc::new(RealDisk), None)
    }
}

/// The files that a saving may write over.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Over {
    /// Nothing that is not known to be this lesson as it was.
    Nothing,
    /// The file, but not unsaved changes kept beside it.
    File,
    /// Any file that is there.
    All,
}

/// Why a lesson was not saved. Its file and its unsaved changes are as they
/// were.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NotSaved {
    /// The lesson may only be read, for this reason.
    ReadOnly(String),
    /// Another program has changed the file since it was read.
    ChangedOnDisk,
    /// There is another file of that name.
    Exists(PathBuf),
    /// There are unsaved changes of another file of that name, of this time.
    HasCopy(PathBuf, Option<SystemTime>),
    /// Writing failed: what happened and what to do.
    Failed(String),
}

impl fmt::Display for NotSaved {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NotSaved::ReadOnly(reason) => write!(f, "{reason}; \"Save as…\" makes it your own"),
            NotSaved::ChangedOnDisk => {
                write!(f, "another program has changed the file since it was read")
            }
            NotSaved::Exists(path) => write!(f, "there is a file {} already", path.display()),
            NotSaved::HasCopy(path, written) => {
                let of = written.map(|t| format!(" of {}", when(t))).unwrap_or_default();
                write!(f, "there are unsaved changes{of} of another {} beside it", path.display())
            }
            NotSaved::Failed(words) => write!(f, "{words}"),
        }
    }
}

/// A lesson that was saved.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Saved {
    /// The text that was written.
    pub text: String,
    /// Leftovers that could not be put away, in words.
    pub told: Option<String>,
}

/// Changes of a run that ended before they were saved.
#[derive(Debug, Clone)]
pub struct Recovered {
    /// The lesson's text with them.
    pub text: String,
    /// The shapes of that text; perhaps not yet a lesson.
    pub file: LessonFile,
    /// When they were kept, in words for a person, if that is known.
    pub when: Option<String>,
}
