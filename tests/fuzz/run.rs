//! Makes inputs and reads them, kind by kind.

use std::fmt::Write as _;
use std::path::Path;
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::time::{Duration, Instant};

use crate::at_work::{AtWork, Note, keep};
use crate::caught::caught;
use crate::corpus;
use crate::door;
use crate::input::{Input, Seed};
use crate::kind::Kind;
use crate::mutate::mutant;
use crate::watch::watch;
use crate::words::{Limit, Words};

/// The good files of a kind.
pub type Seeds = Vec<Seed>;

/// What came of a kind.
#[derive(Debug, Default)]
struct Tally {
    inputs: AtomicU64,
    accepted: AtomicU64,
}

/// Reads all that was asked for and prints how much it was.
///
/// # Errors
/// The first input that failed, and how to make it again.
pub fn all(words: &Words) -> Result<(), String> {
    let kinds = words.asked();
    let mut sum = 0;
    for kind in &kinds {
        let begun = Instant::now();
        let tally = of_kind(*kind, words.limit(kinds.len()), words)?;
        let (inputs, accepted) = (tally.inputs.into_inner(), tally.accepted.into_inner());
        sum += inputs;
        println!("{}", line(&kind.name(), inputs, accepted, begun.elapsed()));
    }
    println!("{sum} inputs, none of which panicked or hung");
    Ok(())
}

#[allow(clippy::cast_precision_loss)] // a rate, for people
fn line(name: &str, inputs: u64, accepted: u64, took: Duration) -> String {
    let rate = inputs as f64 / took.as_secs_f64().max(1e-9);
    format!("{name:>9}: {inputs:>9} inputs, {accepted:>9} accepted, {rate:>8.0} a second")
}

fn of_kind(kind: Kind, limit: Limit, words: &Words) -> Result<Tally, String> {
    let seeds = corpus::of(kind);
    let (tally, next, is_done) = (Tally::default(), AtomicU64::new(0), AtomicBool::new(false));
    let failed = Mutex::new(None);
    let begun = Instant::now();
    let is_over = |number: u64| match limit {
        Limit::Inputs(most) => number >= most,
        Limit::Time(most) => begun.elapsed() >= most,
    };
    let threads: Vec<AtWork> = (0..words.threads).map(|_| AtWork::new()).collect();
    let work = |thread: u16| {
        let (at_work, mut note) = (&threads[usize::from(thread)], Note::of_thread(thread));
        let folder = corpus::folder();
        loop {
            let number = next.fetch_add(1, Ordering::Relaxed);
            if is_over(number) || is_done.load(Ordering::Acquire) {
                break;
            }
            let seed = words.seed.wrapping_add(number);
            note.say(kind, seed);
            at_work.begin(seed);
            let mutant = mutant(&seeds, seed);
            let input = Input { bytes: &mutant.bytes, of: mutant.of, seed, folder: folder.path() };
            let read = caught(|| door::is_accepted(kind, &input));
            at_work.end();
            tally.inputs.fetch_add(1, Ordering::Relaxed);
            match read {
                Ok(accepted) => {
                    tally.accepted.fetch_add(u64::from(accepted), Ordering::Relaxed);
                }
                Err(why) => {
                    let path = keep(kind, seed, &mutant.bytes);
                    let told = told(kind, (seed, &path), &why);
                    failed.lock().unwrap().get_or_insert(told);
                    is_done.store(true, Ordering::Release);
                }
            }
        }
    };
    std::thread::scope(|scope| {
        let watcher = scope.spawn(|| watch((kind, &seeds), &threads, words.longest, &is_done));
        let work = &work;
        let working: Vec<_> =
            (0..words.threads).map(|thread| scope.spawn(move || work(thread))).collect();
        working.into_iter().for_each(|thread| thread.join().unwrap());
        is_done.store(true, Ordering::Release);
        watcher.join().unwrap();
    });
    match failed.into_inner().unwrap() {
        Some(told) => Err(told),
        None => Ok(tally),
    }
}

/// What failed, and how it is made again.
pub fn told(kind: Kind, (seed, path): (u64, &Path), why: &str) -> String {
    let kind = kind.name();
    let mut told = format!("{kind} {seed} FAILED: {why}\n");
    let _ = writeln!(told, "again: cargo run --example fuzz -- {kind} --inputs 1 --seed {seed}");
    let _ = write!(told, "or:    cargo run --example fuzz -- {kind} --file {}", path.display());
    told
}

/// Reads a file that was kept, as one made of each of the good files in turn.
///
/// # Errors
/// If it cannot be read, or fails.
pub fn one_file(words: &Words, file: &Path) -> Result<(), String> {
    let [kind] = words.kinds[..] else {
        return Err("name the one kind of file that it is".to_owned());
    };
    let bytes = std::fs::read(file).map_err(|e| format!("{}: {e}", file.display()))?;
    let folder = corpus::folder();
    for of in &corpus::of(kind) {
        let input = Input { bytes: &bytes, of, seed: 0, folder: folder.path() };
        let accepted = caught(|| door::is_accepted(kind, &input))?;
        println!("{}", if accepted { "accepted" } else { "refused" });
    }
    Ok(())
}
