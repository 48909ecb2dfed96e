//! The time by which an answer is wanted: it sets the flag that all work heeds.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{RecvTimeoutError, Sender, channel};
use std::thread;
use std::time::{Duration, Instant};

/// A time by which work is to end, counted from when it was made. Everything
/// that takes its time is handed [`Deadline::stop`] and ends soon after that is
/// set.
#[derive(Debug)]
pub struct Deadline {
    until: Option<Instant>,
    stop: Arc<AtomicBool>,
    /// The thread that sets the flag ends once this is gone.
    _waited_for: Option<Sender<()>>,
}

impl Deadline {
    /// So long from now; without end if `None`.
    pub fn within(time: Option<Duration>) -> Self {
        let until = time.and_then(|time| Instant::now().checked_add(time));
        let is_over = time.is_some_and(|time| time.is_zero());
        let stop = Arc::new(AtomicBool::new(is_over));
        let waited_for = until.and_then(|until| watch(until, Arc::clone(&stop)));
        Self { until, stop, _waited_for: waited_for }
    }

    /// The flag that is set when time is up.
    pub fn stop(&self) -> &AtomicBool {
        &self.stop
    }

    /// Whether time is up.
    pub fn is_over(&self) -> bool {
        self.stop.load(Ordering::Relaxed) || self.left().is_some_and(|left| left.is_zero())
    }

    /// The time that is left; `None` if there is no end.
    pub fn left(&self) -> Option<Duration> {
        self.until.map(|until| until.saturating_duration_since(Instant::now()))
    }

    /// A part of the time that is left.
    pub fn part_of_left(&self, part: f64) -> Option<Duration> {
        self.left().map(|left| left.mul_f64(part))
    }
}

/// Sets a flag at a time. Where the system has no more threads to give, only
/// those who look at the clock themselves end in time.
fn watch(until: Instant, stop: Arc<AtomicBool>) -> Option<Sender<()>> {
    let (waited_for, gone) = channel();
    let wait = move || {
        let left = until.saturating_duration_since(Instant::now());
        if gone.recv_timeout(left) == Err(RecvTimeoutError::Timeout) {
            stop.store(true, Ordering::Relaxed);
        }
    };
    thread::Builder::new().name("deadline".to_owned()).spawn(wait).ok().map(|_| waited_for)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_flag_is_set_when_time_is_up() {
        assert!(Deadline::within(Some(Duration::ZERO)).stop().load(Ordering::Relaxed));
        let deadline = Deadline::within(Some(Duration::from_nanos(1)));
        while !deadline.stop().load(Ordering::Relaxed) {
            thread::yield_now();
        }
        assert!(deadline.is_over());
    }

    #[test]
    fn without_an_end_it_is_never_over() {
        let deadline = Deadline::within(None);
        assert!(!deadline.is_over());
        assert_eq!(deadline.part_of_left(0.5), None);
    }
}
