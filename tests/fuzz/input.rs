//! One input, and what is known of the good file it was made of.

use std::path::Path;
use std::sync::Arc;

use ovenbell::model::Lesson;

/// A good file that others are made of.
#[derive(Debug, Clone)]
pub struct Seed {
    pub bytes: Vec<u8>,
    /// The lesson it holds, or of which it is a plan.
    pub lesson: Option<Arc<Lesson>>,
}

/// What is read.
#[derive(Debug, Clone, Copy)]
pub struct Input<'a> {
    pub bytes: &'a [u8],
    /// What it was made of.
    pub of: &'a Seed,
    /// Where chance begins, and what decides which of the rarer things are done.
    pub seed: u64,
    /// A folder in which files may be written.
    pub folder: &'a Path,
}

impl Input<'_> {
    /// Whether it is one in so many on which something dear is done.
    pub fn is_one_in(&self, many: u64) -> bool {
        self.seed.is_multiple_of(many)
    }

    /// The text, unless it is none.
    pub fn text(&self) -> Option<&str> {
        std::str::from_utf8(self.bytes).ok()
    }

    /// As a file of that name.
    pub fn written(&self, name: &str) -> std::path::PathBuf {
        let path = self.folder.join(name);
        std::fs::write(&path, self.bytes).unwrap();
        path
    }
}
