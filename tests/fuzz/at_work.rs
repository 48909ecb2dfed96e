//! What each thread is at, so that it is known should it never come to an end or the
//! system end the program.

use std::fs::{self, File};
use std::io::{Seek, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Instant;

use crate::kind::Kind;

/// The folder into which everything is written that is kept of a run.
pub fn kept_in() -> PathBuf {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("target/fuzz");
    fs::create_dir_all(&folder).unwrap();
    folder
}

/// An input kept for whoever looks into it.
pub fn keep(kind: Kind, seed: u64, bytes: &[u8]) -> PathBuf {
    let path = kept_in().join(format!("{}-{seed}", kind.name()));
    fs::write(&path, bytes).unwrap();
    path
}

/// What a thread is at.
#[derive(Debug)]
pub struct AtWork {
    begun: Instant,
    /// Milliseconds since then at which the input was begun; 0 between inputs.
    since: AtomicU64,
    seed: AtomicU64,
}

impl AtWork {
    pub fn new() -> Self {
        Self { begun: Instant::now(), since: AtomicU64::new(0), seed: AtomicU64::new(0) }
    }

    fn now(&self) -> u64 {
        u64::try_from(self.begun.elapsed().as_millis()).unwrap().max(1)
    }

    /// It has begun with an input.
    pub fn begin(&self, seed: u64) {
        self.seed.store(seed, Ordering::Release);
        self.since.store(self.now(), Ordering::Release);
    }

    /// It has done with it.
    pub fn end(&self) {
        self.since.store(0, Ordering::Release);
    }

    /// The input it has been at for longer than so many milliseconds.
    pub fn hangs(&self, longest: u64) -> Option<u64> {
        let since = self.since.load(Ordering::Acquire);
        let hangs = since > 0 && self.now().saturating_sub(since) > longest;
        hangs.then(|| self.seed.load(Ordering::Acquire))
    }
}

/// A file that says what a thread is at.
#[derive(Debug)]
pub struct Note(File);

impl Note {
    pub fn of_thread(number: u16) -> Self {
        Self(File::create(kept_in().join(format!("at-work-{number}"))).unwrap())
    }

    /// Always of one length, so that nothing older is left behind it.
    pub fn say(&mut self, kind: Kind, seed: u64) {
        self.0.rewind().unwrap();
        writeln!(self.0, "{:>10} {seed:>20}", kind.name()).unwrap();
    }
}
