//! A program that writes the files beside lessons without pause is killed at some
//! moment: tables of bakes and of minutes, a week, a plan by itself. Each is then as it
//! was said to be written last, or one further, and whole; so is what it was before, and
//! whoever writes next clears away whatever else lies about.

use std::fs;
use std::path::Path;

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

use crate::killed::{CHILD, killed_after, kills, names_in, side_by_side, tell};
use crate::kinds_of_files::BESIDE;

/// Writes each of the files once more.
fn write_all(folder: &Path, number: u64) {
    BESIDE.iter().for_each(|kind| (kind.write)(folder, number).unwrap());
}

/// What is killed.
#[test]
#[ignore = "not a test by itself: it is run and killed by the other"]
fn child() {
    let Some(folder) = std::env::var_os(CHILD) else { return };
    for number in 1.. {
        write_all(Path::new(&folder), number);
        tell("kept", number);
    }
}

/// The numbers of what was written last of each kind; none are torn, nor what they were
/// before.
fn found(folder: &Path, run: usize) -> [u64; 4] {
    let before = tempfile::tempdir().unwrap();
    BESIDE.map(|kind| {
        let backup = folder.join(format!("{}.bak", kind.name));
        if backup.exists() {
            fs::copy(backup, before.path().join(kind.name)).unwrap();
        }
        let [before, now] = [before.path(), folder].map(|folder| (kind.number)(folder));
        let follows = before == now || before + 1 == now;
        assert!(follows, "run {run}: {}: {before} before {now}", kind.name);
        now
    })
}

fn kill_one(seed: usize) -> u64 {
    let mut rng = Pcg64Mcg::seed_from_u64(seed as u64);
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let seconds = rng.random_range(0.0..2.0);
    let (heard, _) = killed_after("killed_beside::child", folder, seconds);
    let kept = heard.kept;
    for found in found(folder, seed) {
        assert!((kept..=kept + 1).contains(&found), "run {seed}: {found} found, {kept} kept");
    }
    write_all(folder, kept + 2);
    let files = ["minutes.csv", "outcomes.csv", "plan.ron", "week.ron"];
    for name in names_in(folder) {
        let file = name.strip_suffix(".bak").unwrap_or(&name);
        assert!(files.contains(&file), "run {seed}: {name} lies about");
    }
    kept
}

#[test]
fn killed_while_they_are_written_the_files_beside_lessons_stay_whole() {
    let kept: u64 = side_by_side(kill_one).iter().sum();
    println!("{} killed, {kept} times all four were written", kills());
    assert!(4 * kept > kills(), "the children hardly did anything: {kept} written");
}
