//! Every kind of file written again and again where a disk has hardly any room, can only
//! be read, fails in the middle or takes its time: nothing is torn, nothing lies about,
//! what was there is there still, and who is told of it learns what to do.
//!
//! `OVENBELL_SAVES=1000 cargo test --test window disks_in_trouble -- --nocapture` writes
//! each so often.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use crate::common::how_many::how_many;
use crate::common::skipped::skipped;
use crate::disks::{Small, run};
use crate::killed::CHILD;
use crate::kinds_of_files::{BESIDE, Kind, LESSONS, OWN, files_in};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// How often each is written; `OVENBELL_SAVES` sets another number.
fn saves() -> u64 {
    how_many("OVENBELL_SAVES", 20)
}

fn kinds() -> impl Iterator<Item = Kind> {
    LESSONS.into_iter().chain(BESIDE).chain(OWN)
}

/// Whether this is a temporary file, or a note that a file is held.
fn lies_about(path: &Path) -> bool {
    let name = path.file_name().unwrap().to_string_lossy();
    // The shelf of a library keeps its note.
    name.starts_with('.') && !name.ends_with(".unsaved") && !name.ends_with(".classes.open")
}

/// What is there after a refusal is what was there before, which may have been copied.
fn is_as_before(before: &BTreeMap<PathBuf, Vec<u8>>, after: &BTreeMap<PathBuf, Vec<u8>>) {
    for (path, bytes) in after {
        let backed_up = path.with_extension("");
        let is_backup = path.extension().is_some_and(|ending| ending == "bak");
        let is_copy = is_backup && before.get(&backed_up) == Some(bytes);
        let is_same = is_copy || before.get(path) == Some(bytes);
        assert!(is_same, "{} is another, of {:?}", path.display(), before.keys());
    }
    let gone = before.keys().find(|path| !after.contains_key(*path));
    assert_eq!(gone, None, "gone");
}

/// Writes one once more; whether that is done. Where the disk may do what it says it has
/// not, `strict` is false.
fn once_more(kind: &Kind, folder: &Path, strict: bool) -> bool {
    let (number, before) = ((kind.number)(folder), files_in(folder));
    let done = (kind.write)(folder, number + 1);
    let (now, after) = ((kind.number)(folder), files_in(folder));
    let strays: Vec<_> = after.keys().filter(|path| lies_about(path)).collect();
    assert!(strays.is_empty(), "{}: {strays:?} after {done:?}", kind.name);
    let Err(words) = done else {
        assert_eq!(now, number + 1, "{}: done", kind.name);
        return true;
    };
    let advice = ["make some", "another folder", "Save as…", "try again"];
    let tells = advice.iter().any(|advice| words.contains(advice));
    assert!(tells || kind.name == "settings", "{}: {words}", kind.name);
    if strict {
        is_as_before(&before, &after);
    }
    assert!(now == number || !strict && now == number + 1, "{}: {now}, {number}", kind.name);
    false
}

/// Each kind in a folder of its own, written once.
fn begun(at: &Path) -> Vec<(Kind, PathBuf)> {
    let begin = |kind: Kind| {
        let folder = at.join(kind.name);
        fs::create_dir(&folder).unwrap();
        assert!(once_more(&kind, &folder, true));
        (kind, folder)
    };
    kinds().map(begin).collect()
}

/// Nothing of all that can be written, so often.
fn nothing_is_written(kinds: &[(Kind, PathBuf)]) {
    for (kind, folder) in kinds {
        for _ in 0..saves() {
            assert!(!once_more(kind, folder, true), "{} was written", kind.name);
        }
        println!("{}: {} times refused", kind.name, saves());
    }
}

#[test]
fn where_there_is_hardly_any_room_each_is_written_whole_or_not_at_all() {
    let Some(disk) = Small::mount(1000) else { return };
    let mut rng = Pcg64Mcg::seed_from_u64(3);
    for (kind, folder) in begun(disk.at()) {
        let mut written = 0;
        for _ in 0..saves() {
            // In the end the disk is full halfway through some writing.
            disk.fill_but(rng.random_range(0..2 * room(&folder)));
            written += u64::from(once_more(&kind, &folder, true));
            fs::remove_file(disk.at().join("filler")).unwrap();
        }
        println!("{}: {written} times written, {} refused", kind.name, saves() - written);
        assert!(0 < written && written < saves(), "{}: {written}", kind.name);
    }
}

/// The room that the files of a folder take, each by pages, and one for a note, in bytes.
fn room(folder: &Path) -> u64 {
    let pages = |bytes: &Vec<u8>| bytes.len() as u64 / 4096 + 1;
    4096 * (1 + files_in(folder).values().map(pages).sum::<u64>())
}

#[test]
fn on_a_disk_that_can_only_be_read_nothing_is_written_and_all_is_told() {
    let Some(disk) = Small::mount(1000) else { return };
    let kinds = begun(disk.at());
    disk.read_only();
    nothing_is_written(&kinds);
}

/// Folders that may be written to again when dropped.
struct Closed(Vec<PathBuf>);

impl Drop for Closed {
    fn drop(&mut self) {
        for folder in &self.0 {
            run("chattr", &["-i"], folder);
        }
    }
}

fn folders_in(folder: &Path) -> Vec<PathBuf> {
    let mut folders = vec![folder.to_owned()];
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            folders.extend(folders_in(&path));
        }
    }
    folders
}

#[test]
fn in_a_folder_that_may_not_be_written_to_nothing_is_written_and_all_is_told() {
    let place = tempfile::tempdir().unwrap();
    let kinds = begun(place.path());
    let closed = Closed(folders_in(place.path()));
    if !closed.0.iter().all(|folder| run("chattr", &["+i"], folder)) {
        skipped("this system does not let tests close folders");
        return;
    }
    nothing_is_written(&kinds);
}

/// This program's own child with something done to some of what it asks of the system;
/// `None`, and said so, where that cannot be.
fn child_with(done: &str, folder: &Path) -> Option<Command> {
    let looks_on = ["-f", "--seccomp-bpf", "-qqq", "-o", "/dev/null"];
    if !run("strace", &looks_on, Path::new("/bin/true")) {
        skipped("there is no strace, or it may not look at programs here");
        return None;
    }
    // What brings a file to its place; the rest is what the test itself does, too.
    let calls = "fsync,fdatasync,rename,renameat,renameat2";
    let mut command = Command::new("strace");
    command
        .args(looks_on)
        .args(["-e", &format!("trace={calls}"), "-e", &format!("inject={calls}:{done}")])
        .arg(std::env::current_exe().unwrap())
        .args(["--exact", "disks_in_trouble::child", "--include-ignored", "--nocapture"])
        .env(CHILD, folder)
        .stderr(Stdio::inherit());
    Some(command)
}

/// What writes each kind so often on a disk that is in trouble.
#[test]
#[ignore = "not a test by itself: it is run by others, on a disk in trouble"]
fn child() {
    let Some(folder) = std::env::var_os(CHILD) else { return };
    for kind in kinds() {
        let folder = Path::new(&folder).join(kind.name);
        let again = |_: &u64| once_more(&kind, &folder, false);
        let written = (0..saves()).filter(again).count() as u64;
        println!("{}: {written} times written, {} refused", kind.name, saves() - written);
    }
}

#[test]
fn where_the_disk_fails_each_is_written_whole_or_not_at_all() {
    let place = tempfile::tempdir().unwrap();
    let mut all = BTreeMap::new();
    // The first of these that a thread asks for and every third after it, and so on.
    for when in ["1+3", "3+5", "5+7"] {
        let at = place.path().join(when);
        fs::create_dir(&at).unwrap();
        begun(&at);
        let Some(mut child) = child_with(&format!("error=EIO:when={when}"), &at) else { return };
        let output = child.output().unwrap();
        let said = String::from_utf8_lossy(&output.stdout);
        assert!(output.status.success(), "{said}");
        for line in said.lines().filter_map(|line| line.split_once(": ")) {
            let mut numbers = line.1.split(' ').filter_map(|word| word.parse::<u64>().ok());
            if let (Some(written), Some(refused)) = (numbers.next(), numbers.next()) {
                let of = all.entry(line.0.to_owned()).or_insert((0, 0));
                *of = (of.0 + written, of.1 + refused);
            }
        }
    }
    for kind in kinds() {
        let (written, refused) = all[kind.name];
        println!("{}: {written} times written, {refused} refused", kind.name);
        // A copy is tried once more, and kept then.
        let some_refused = refused > 0 || kind.name == "copy";
        assert!(written > 0 && some_refused, "{}: {written}, {refused}", kind.name);
    }
}

#[test]
fn where_the_disk_takes_its_time_whoever_reads_meanwhile_reads_what_is_whole() {
    let place = tempfile::tempdir().unwrap();
    let kinds = begun(place.path());
    // Thousandths of a millisecond.
    let Some(mut child) = child_with("delay_enter=3000", place.path()) else { return };
    let mut child = child.stdout(Stdio::piped()).spawn().unwrap();
    let mut read = 0_u64;
    while child.try_wait().unwrap().is_none() {
        for (kind, folder) in &kinds {
            assert!((kind.number)(folder) > 0, "{}", kind.name);
            read += 1;
        }
    }
    let output = child.wait_with_output().unwrap();
    let said = String::from_utf8_lossy(&output.stdout);
    println!("{said}{read} times read meanwhile");
    assert!(output.status.success() && read > 0, "{said}");
}
