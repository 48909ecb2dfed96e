//! The same work on many things, on all cores.

use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, PoisonError};
use std::thread;

/// What comes of some work on each thing, in the order of the things.
pub(super) fn each<T: Sync, R: Send>(things: &[T], work: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let next = AtomicUsize::new(0);
    let done = Mutex::new(Vec::with_capacity(things.len()));
    let go_on = || {
        loop {
            let number = next.fetch_add(1, Ordering::Relaxed);
            let Some(thing) = things.get(number) else { break };
            let result = work(thing);
            done.lock().unwrap_or_else(PoisonError::into_inner).push((number, result));
        }
    };
    let threads = thread::available_parallelism().map_or(1, usize::from).min(things.len());
    thread::scope(|scope| {
        for _ in 1..threads {
            // Where the system has no more threads to give, fewer do it all.
            let _ = thread::Builder::new().name("week".to_owned()).spawn_scoped(scope, go_on);
        }
        go_on();
    });
    let mut done = done.into_inner().unwrap_or_else(PoisonError::into_inner);
    done.sort_by_key(|(number, _)| *number);
    done.into_iter().map(|(_, result)| result).collect()
}

#[cfg(test)]
mod tests {
    use super::each;

    #[test]
    fn results_come_in_the_order_of_the_things() {
        let things: Vec<u64> = (0..100).collect();
        let squares: Vec<u64> = things.iter().map(|n| n * n).collect();
        assert_eq!(each(&things, |n| n * n), squares);
        assert!(each(&[] as &[u64], |n| *n).is_empty());
    }
}
