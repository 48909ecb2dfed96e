//! Looks whether any thread hangs.

use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use crate::at_work::{AtWork, keep};
use crate::kind::Kind;
use crate::mutate::mutant;
use crate::run::{Seeds, told};

/// Ends the program, with the input kept, as soon as one takes longer than so many
/// seconds: a thread that hangs cannot be ended otherwise.
pub fn watch(
    (kind, seeds): (Kind, &Seeds),
    threads: &[AtWork],
    longest: u64,
    is_done: &AtomicBool,
) {
    while !is_done.load(Ordering::Acquire) {
        std::thread::sleep(Duration::from_millis(100));
        let Some(seed) = threads.iter().find_map(|t| t.hangs(longest * 1000)) else { continue };
        let path = keep(kind, seed, &mutant(seeds, seed).bytes);
        let why = format!("it is not done after {longest} seconds");
        eprintln!("{}", told(kind, (seed, &path), &why));
        std::process::exit(1);
    }
}
