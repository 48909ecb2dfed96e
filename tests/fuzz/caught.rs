//! Panics, caught with what they say.

use std::backtrace::Backtrace;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::{Mutex, PoisonError};

/// What panics said, those of threads that the library started too.
static SAID: Mutex<Vec<String>> = Mutex::new(Vec::new());

/// Panics are kept instead of being printed as they come.
pub fn keep_quiet() {
    std::panic::set_hook(Box::new(|panic| {
        let mut said = SAID.lock().unwrap_or_else(PoisonError::into_inner);
        said.push(format!("{panic}\n{}", Backtrace::capture()));
    }));
}

/// What it comes to, or what was said as it panicked.
pub fn caught<T>(work: impl FnOnce() -> T) -> Result<T, String> {
    catch_unwind(AssertUnwindSafe(work)).map_err(|_| {
        let mut said = SAID.lock().unwrap_or_else(PoisonError::into_inner);
        std::mem::take(&mut *said).join("\n")
    })
}
