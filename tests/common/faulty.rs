//! A disk of which one operation fails, or all from one on.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::SystemTime;

use ovenbell::file::{Access, Disk, Locked, RealDisk};

/// How an operation fails.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// Nothing is done.
    Refused,
    /// Nothing is done, but a temporary file stays behind.
    Stray,
    /// It is done, and reported as failed.
    DoneButFailed,
}

/// All of them.
pub const WAYS: [Way; 3] = [Way::Refused, Way::Stray, Way::DoneButFailed];

/// A disk that fails once or from some operation on.
#[derive(Debug)]
pub struct Faulty {
    /// The operation that fails, from 0.
    at: AtomicUsize,
    for_ever: bool,
    way: Way,
    done: AtomicUsize,
    /// What was asked of it, in order, and whether it failed.
    pub asked: Mutex<Vec<String>>,
}

impl Faulty {
    /// Fails at the `at`-th operation, from 0; `usize::MAX` never fails.
    pub fn new(at: usize, for_ever: bool, way: Way) -> Self {
        let (at, done) = (AtomicUsize::new(at), AtomicUsize::new(0));
        Self { at, for_ever, way, done, asked: Mutex::default() }
    }

    /// How many operations were asked for.
    pub fn operations(&self) -> usize {
        self.done.load(Ordering::SeqCst)
    }

    /// Everything fails from now on, where it fails for ever.
    #[allow(dead_code)] // only some tests break it halfway
    pub fn break_now(&self) {
        self.at.store(0, Ordering::SeqCst);
    }

    /// Nothing fails any more.
    #[allow(dead_code)] // only the tests of the window mend it
    pub fn mend(&self) {
        self.at.store(usize::MAX, Ordering::SeqCst);
    }

    /// Whether the next operation is to fail.
    fn fails(&self, what: &str, path: &Path) -> bool {
        let number = self.done.fetch_add(1, Ordering::SeqCst);
        let at = self.at.load(Ordering::SeqCst);
        let fails = if self.for_ever { number >= at } else { number == at };
        let mark = if fails { " fails" } else { "" };
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        self.asked.lock().unwrap().push(format!("{what} {name}{mark}"));
        fails
    }

    fn error() -> io::Error {
        io::Error::from(io::ErrorKind::StorageFull)
    }

    fn reading<T>(
        &self,
        (what, path): (&str, &Path),
        read: impl FnOnce() -> io::Result<T>,
    ) -> io::Result<T> {
        if self.fails(what, path) { Err(io::Error::other("input/output error")) } else { read() }
    }

    fn writing<T>(
        &self,
        (what, path): (&str, &Path),
        write: impl FnOnce() -> io::Result<T>,
    ) -> io::Result<T> {
        if !self.fails(what, path) {
            return write();
        }
        match self.way {
            Way::Refused => {}
            // Only what is written as a whole is first written beside.
            Way::Stray if what != "replace" => {}
            Way::Stray => {
                let name = path.file_name().unwrap_or_default().to_string_lossy();
                let stray = path.with_file_name(format!(".{name}.xY12zW"));
                // There may be no such folder.
                let _ = fs::write(stray, "half of it");
            }
            Way::DoneButFailed => {
                let _ = write()?;
            }
        }
        Err(Self::error())
    }
}

impl Disk for Faulty {
    fn read(&self, path: &Path, most: u64) -> io::Result<Vec<u8>> {
        self.reading(("read", path), || RealDisk.read(path, most))
    }

    fn replace(&self, path: &Path, contents: &[u8], access: Access<'_>) -> io::Result<()> {
        self.writing(("replace", path), || RealDisk.replace(path, contents, access))
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        self.writing(("remove", path), || RealDisk.remove(path))
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<PathBuf>> {
        self.reading(("list", folder), || RealDisk.list(folder))
    }

    fn folders(&self, folder: &Path) -> io::Result<Vec<PathBuf>> {
        self.reading(("folders", folder), || RealDisk.folders(folder))
    }

    fn make_folder(&self, folder: &Path) -> io::Result<()> {
        self.writing(("make folder", folder), || RealDisk.make_folder(folder))
    }

    fn written_at(&self, path: &Path) -> io::Result<SystemTime> {
        self.reading(("written at", path), || RealDisk.written_at(path))
    }

    fn lock(&self, path: &Path, note: &str) -> io::Result<Locked> {
        self.writing(("lock", path), || RealDisk.lock(path, note))
    }

    fn is_protected(&self, path: &Path) -> bool {
        RealDisk.is_protected(path)
    }

    fn resolved(&self, path: &Path) -> PathBuf {
        RealDisk.resolved(path)
    }
}
