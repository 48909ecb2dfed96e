//! Writing copies of unsaved changes, on a thread of its own: soon after a
//! change, and at most once in a while however fast changes come.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError, Weak};
use std::thread::{self, JoinHandle};
use std::time::{Duration, Instant};

use super::copies::with_heading;
use super::disk::{Access, Disk};
use super::format::LessonFile;
use super::merge::merged;
use super::plain_words::{Doing, why};

/// Where copies go.
#[derive(Debug, Clone, Default)]
pub(super) struct Targets {
    /// The copy itself.
    pub first: Option<PathBuf>,
    /// Where it goes while that cannot be written, and the file it is of.
    pub second: Option<(PathBuf, PathBuf)>,
    /// The lesson's own file: whoever may read it may read the copies.
    pub of: Option<PathBuf>,
}

/// A lesson with changes not saved yet: the text it was read from, and what it says now.
#[derive(Debug, Clone)]
pub(super) struct UnsavedLesson {
    pub text: Arc<str>,
    pub file: Arc<LessonFile>,
}

#[derive(Default)]
struct Shared {
    pending: Option<UnsavedLesson>,
    targets: Targets,
    urgent: bool,
    stop: bool,
    busy: bool,
    /// Why the last attempt failed.
    trouble: Option<String>,
}

/// What the thread and those who ask of it share.
type Watched = (Mutex<Shared>, Condvar);

/// The thread and the way to it.
pub(super) struct Autosave {
    shared: Arc<Watched>,
    thread: Option<JoinHandle<()>>,
}

impl Autosave {
    /// Starts the thread. Between the beginnings of two writings lies `every`
    /// at least; `wake` is called when there is trouble, or no more.
    pub fn start(
        disk: Arc<dyn Disk>,
        targets: Targets,
        every: Duration,
        wake: Arc<dyn Fn() + Send + Sync>,
    ) -> Self {
        let shared =
            Arc::new((Mutex::new(Shared { targets, ..Shared::default() }), Condvar::new()));
        let of_thread = Arc::clone(&shared);
        let mut kept = lock(&KEPT);
        kept.retain(|kept| kept.strong_count() > 0);
        kept.push(Arc::downgrade(&shared));
        drop(kept);
        let thread = thread::spawn(move || write_on(&of_thread, &*disk, every, &*wake));
        Self { shared, thread: Some(thread) }
    }

    fn lock(&self) -> MutexGuard<'_, Shared> {
        lock(&self.shared.0)
    }

    /// The lesson has become this.
    pub fn note(&self, state: UnsavedLesson) {
        self.lock().pending = Some(state);
        self.shared.1.notify_all();
    }

    /// Writes what is pending now; returns when that has been tried.
    pub fn flush(&self) {
        let mut shared = self.lock();
        if shared.pending.is_some() {
            shared.urgent = true;
            self.shared.1.notify_all();
        }
        while shared.busy || shared.urgent {
            shared = self.wait(shared);
        }
    }

    /// Forgets what is pending; once it returns nothing is being written.
    pub fn cancel(&self) {
        let mut shared = self.lock();
        (shared.pending, shared.urgent, shared.trouble) = (None, false, None);
        while shared.busy {
            shared = self.wait(shared);
        }
        // What failed meanwhile would be tried again.
        (shared.pending, shared.trouble) = (None, None);
    }

    /// Why changes are not being kept, if they are not.
    pub fn trouble(&self) -> Option<String> {
        self.lock().trouble.clone()
    }

    fn wait<'a>(&self, shared: MutexGuard<'a, Shared>) -> MutexGuard<'a, Shared> {
        self.shared.1.wait(shared).unwrap_or_else(PoisonError::into_inner)
    }
}

/// Every copy that is being kept in this program.
static KEPT: Mutex<Vec<Weak<Watched>>> = Mutex::new(Vec::new());

/// Keeps what is not saved of every open lesson now, because the program is
/// about to be ended; returns when that is done, or after `patience`.
pub fn keep_all(patience: Duration) {
    let until = Instant::now() + patience;
    let kept = lock(&KEPT).clone();
    for kept in kept.iter().filter_map(Weak::upgrade) {
        let (mutex, changed) = &*kept;
        let mut shared = lock(mutex);
        shared.urgent |= shared.pending.is_some();
        changed.notify_all();
        while shared.busy || shared.urgent {
            let left = until.saturating_duration_since(Instant::now());
            if left.is_zero() {
                return;
            }
            shared = changed.wait_timeout(shared, left).unwrap_or_else(PoisonError::into_inner).0;
        }
    }
}

impl Drop for Autosave {
    /// Writes what is pending.
    fn drop(&mut self) {
        self.lock().stop = true;
        self.shared.1.notify_all();
        if let Some(thread) = self.thread.take() {
            // It catches its own faults.
            let _ = thread.join();
        }
    }
}

fn lock<T>(shared: &Mutex<T>) -> MutexGuard<'_, T> {
    shared.lock().unwrap_or_else(PoisonError::into_inner)
}

fn write_on(shared: &(Mutex<Shared>, Condvar), disk: &dyn Disk, every: Duration, wake: &dyn Fn()) {
    let (mutex, changed) = shared;
    let mut last: Option<Instant> = None;
    let mut guard = lock(mutex);
    loop {
        let wait = last.map_or(Duration::ZERO, |l| every.saturating_sub(l.elapsed()));
        let now = guard.urgent || guard.stop || wait.is_zero();
        guard = match (guard.pending.take(), now) {
            (Some(state), true) => {
                last = Some(Instant::now());
                // What is noted from here on is not in it: who asks for that to be
                // written now is not answered by this writing.
                (guard.busy, guard.urgent) = (true, false);
                let targets = guard.targets.clone();
                drop(guard);
                let work = AssertUnwindSafe(|| write(disk, &targets, &state));
                let fault = |_| Err("a fault of the program's own".to_owned());
                let trouble = catch_unwind(work).unwrap_or_else(fault).err();
                let mut guard = lock(mutex);
                guard.busy = false;
                if trouble.is_some() && guard.pending.is_none() && !guard.stop {
                    guard.pending = Some(state); // tried again
                }
                let news = guard.trouble != trouble;
                guard.trouble = trouble;
                changed.notify_all();
                if news {
                    drop(guard);
                    wake();
                    guard = lock(mutex);
                }
                guard
            }
            (pending, _) => {
                let waits = pending.is_some();
                guard.pending = pending;
                guard.urgent &= waits;
                if guard.stop {
                    return;
                }
                if waits {
                    let woken = changed.wait_timeout(guard, wait);
                    woken.unwrap_or_else(PoisonError::into_inner).0
                } else {
                    changed.wait(guard).unwrap_or_else(PoisonError::into_inner)
                }
            }
        };
    }
}

fn write(disk: &dyn Disk, targets: &Targets, state: &UnsavedLesson) -> Result<(), String> {
    let text = merged(&state.text, &state.file).map_err(|e| e.to_string())?;
    let access = targets.of.as_deref().map_or(Access::OwnerOnly, Access::As);
    let mut trouble = "there is no folder to keep them in, or it is not to be used".to_owned();
    if let Some(path) = &targets.first {
        // The folder of copies of lessons that have no file yet may be new.
        let made = match (&targets.of, path.parent()) {
            (None, Some(folder)) => disk.make_folder(folder),
            _ => Ok(()),
        };
        match made.and_then(|()| disk.replace(path, text.as_bytes(), access)) {
            Ok(()) => return Ok(()),
            Err(error) => trouble = why(&error, Doing::Writing(path)),
        }
    }
    let Some((path, of)) = &targets.second else { return Err(trouble) };
    let made = path.parent().map_or(Ok(()), |folder| disk.make_folder(folder));
    let text = with_heading(of, &text);
    made.and_then(|()| disk.replace(path, text.as_bytes(), access)).map_err(|_| trouble)
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::super::disk::{Locked, RealDisk};
    use super::super::load::read_lesson_shapes;
    use super::*;

    const TEXT: &str = include_str!("../../lessons/a-scones-hour.ron");

    fn state(title: &str) -> UnsavedLesson {
        let file = read_lesson_shapes(TEXT).unwrap_or_default();
        let file = Arc::new(LessonFile { title: title.into(), ..file });
        UnsavedLesson { text: Arc::from(TEXT), file }
    }

    #[test]
    fn all_that_is_not_saved_is_kept_before_the_end() -> std::io::Result<()> {
        let folder = tempfile::tempdir()?;
        let path = folder.path().join("copy.ron");
        let targets = Targets { first: Some(path.clone()), ..Targets::default() };
        let hour = Duration::from_secs(3600);
        let autosave = Autosave::start(Arc::new(RealDisk), targets, hour, Arc::new(|| {}));
        autosave.note(state("one"));
        autosave.flush();
        // The next copy would be written in an hour.
        autosave.note(state("two"));
        assert!(std::fs::read_to_string(&path)?.contains("\"one\""));
        keep_all(Duration::from_secs(60));
        assert!(std::fs::read_to_string(&path)?.contains("\"two\""));
        Ok(())
    }

    /// A disk that takes its time.
    struct Slow(Mutex<()>);

    impl Disk for Slow {
        fn read(&self, path: &Path, most: u64) -> std::io::Result<Vec<u8>> {
            RealDisk.read(path, most)
        }

        fn replace(&self, path: &Path, bytes: &[u8], access: Access<'_>) -> std::io::Result<()> {
            let _turn = lock(&self.0);
            RealDisk.replace(path, bytes, access)
        }

        fn remove(&self, path: &Path) -> std::io::Result<()> {
            RealDisk.remove(path)
        }

        fn list(&self, folder: &Path) -> std::io::Result<Vec<PathBuf>> {
            RealDisk.list(folder)
        }

        fn folders(&self, folder: &Path) -> std::io::Result<Vec<PathBuf>> {
            RealDisk.folders(folder)
        }

        fn make_folder(&self, folder: &Path) -> std::io::Result<()> {
            RealDisk.make_folder(folder)
        }

        fn written_at(&self, path: &Path) -> std::io::Result<std::time::SystemTime> {
            RealDisk.written_at(path)
        }

        fn lock(&self, path: &Path, note: &str) -> std::io::Result<Locked> {
            RealDisk.lock(path, note)
        }

        fn resolved(&self, path: &Path) -> PathBuf {
            RealDisk.resolved(path)
        }

        fn is_protected(&self, path: &Path) -> bool {
            RealDisk.is_protected(path)
        }
    }

    #[test]
    fn who_asks_while_an_older_state_is_written_waits_for_the_newer() -> std::io::Result<()> {
        let folder = tempfile::tempdir()?;
        let path = folder.path().join("copy.ron");
        let targets = Targets { first: Some(path.clone()), ..Targets::default() };
        let slow = Arc::new(Slow(Mutex::new(())));
        let hour = Duration::from_secs(3600);
        let disk: Arc<dyn Disk> = slow.clone();
        let autosave = Autosave::start(disk, targets, hour, Arc::new(|| {}));
        let turn = lock(&slow.0);
        autosave.note(state("one"));
        while !autosave.lock().busy {
            thread::yield_now();
        }
        autosave.note(state("two"));
        thread::scope(|scope| {
            let flushed = scope.spawn(|| autosave.flush());
            while !autosave.lock().urgent {
                thread::yield_now();
            }
            drop(turn);
            let _ = flushed.join();
        });
        assert!(std::fs::read_to_string(&path)?.contains("\"two\""));
        Ok(())
    }
}
