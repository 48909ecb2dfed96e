//! A program that changes a lesson without pause is killed at some moment:
//! after that nothing is missing that was saved or whose copy was written, no
//! file is torn, and once the lesson was opened and closed nothing else lies
//! about. How much time's work is lost is printed. One that writes the user's own
//! library, or the window's settings, leaves one of the two last states, whole. Whatever
//! was told on the day of a lesson is there again.

use std::fs;
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, OnceLock};
use std::time::{Duration, SystemTime, UNIX_EPOCH};

use crate::common::how_many::{FEW_PLANS, how_many};
use crate::kinds_of_files::{OWN, files_in};
use ovenbell::file::copies::{left_behind, unsaved_folder};
use ovenbell::file::open_lesson::{Over, Safekeeping};
use ovenbell::file::{Disk, RealDisk, load_lesson};
use ovenbell::model::FactKind;
use ovenbell::session::{
    Clock, Command as LessonCommand, Document, DocumentId, Session, SessionStart,
};
use ovenbell::units::{ClockTime, Minutes};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// Names the folder in which the child works.
pub(crate) const CHILD: &str = "OVENBELL_KILLED_IN";
/// Children at one time.
const AT_ONCE: usize = 8;
const SMALL: &str = include_str!("../../lessons/a-scones-hour.ron");
const LARGE: &str = include_str!("../../lessons/demo.ron");

/// How many are killed; `OVENBELL_KILLS` sets another number.
pub(crate) fn kills() -> u64 {
    how_many("OVENBELL_KILLS", 40)
}

fn now() -> Duration {
    SystemTime::now().duration_since(UNIX_EPOCH).unwrap()
}

pub(crate) fn tell(what: &str, number: u64) {
    let mut out = std::io::stdout().lock();
    writeln!(out, "\n{what} {number} {}", now().as_micros()).unwrap();
    out.flush().unwrap();
}

fn keeping(folder: &Path) -> Safekeeping {
    Safekeeping::new(Arc::new(RealDisk), Some(folder.join("data")))
}

/// What is killed.
#[test]
#[ignore = "not a test by itself: it is run and killed by the other"]
fn child() {
    let Some(folder) = std::env::var_os(CHILD) else { return };
    let folder = Path::new(&folder);
    let path = folder.join("lessons/lesson.ron");
    let mut doc = if path.exists() {
        Document::open(
            Document::read,
            &path,
            &keeping(folder),
            DocumentId::default(),
            Arc::from([]),
        )
        .unwrap()
        .0
    } else {
        let mut doc = Document::read(SMALL, None, DocumentId::default(), Arc::from([])).unwrap();
        doc.keep_safe(&keeping(folder));
        doc
    };
    for number in 1.. {
        let mut file = doc.file().clone();
        file.title = format!("{number}");
        doc.change_to("title".into(), file).unwrap();
        tell("changed", number);
        if number.is_multiple_of(83) && path.exists() {
            doc.save(Over::Nothing).unwrap();
            tell("kept", number);
        } else if number.is_multiple_of(151) {
            doc.care().flush();
            tell("kept", number);
        }
        std::thread::sleep(Duration::from_millis(10));
    }
}

/// Writes a class into the library, then the settings.
fn write_own(folder: &Path, number: u64) {
    OWN.iter().for_each(|kind| (kind.write)(folder, number).unwrap());
}

/// What is killed while it writes the user's own library and the settings.
#[test]
#[ignore = "not a test by itself: it is run and killed by the other"]
fn child_of_the_library() {
    let Some(folder) = std::env::var_os(CHILD) else { return };
    for number in 1.. {
        write_own(Path::new(&folder), number);
        tell("kept", number);
    }
}

/// A session on the day of a lesson, twenty minutes after its bell.
fn on_the_day(folder: &Path, lesson: PathBuf) -> Session {
    let file = load_lesson(&lesson).unwrap().file;
    let start = ClockTime::parse(&file.period.start).unwrap();
    let day = file.date.unwrap_or_else(|| "2026-11-26".to_owned()).parse().ok();
    let clock = Clock { day, time: Some(start.after(Minutes::new(20))), ahead: 0 };
    let mut session = Session::new(SessionStart {
        wake: Arc::new(|| {}),
        disk: Arc::new(RealDisk),
        clock,
        outcomes: None,
        data: Some(folder.join("data")),
        documents: Some(folder.to_owned()),
        runs: Some(10),
        decodings: Some(FEW_PLANS),
    });
    session.begin(Some(lesson), None);
    while session.is_busy() {
        std::thread::sleep(Duration::from_millis(5));
        session.listen(None);
    }
    session
}

/// What is killed while it is told things, one after another.
#[test]
#[ignore = "not a test by itself: it is run and killed by the other"]
fn child_of_the_day() {
    let Some(folder) = std::env::var_os(CHILD) else { return };
    let folder = Path::new(&folder);
    let mut session = on_the_day(folder, folder.join("day.ron"));
    let groups: Vec<String> = {
        let lesson = session.document().unwrap().lesson().unwrap();
        lesson.groups.iter().map(|group| group.name.clone()).collect()
    };
    session.apply(LessonCommand::Dismiss);
    for number in 1.. {
        let group = groups[number as usize % groups.len()].clone();
        let what =
            [FactKind::Go, FactKind::In, FactKind::Out, FactKind::Ready][number as usize % 4];
        session.apply(LessonCommand::Tell(vec![group], what));
        assert_eq!(session.message(), None);
        tell("kept", number);
        session.listen(None);
    }
}

/// How many facts a copy for the day holds.
fn facts(session: &Session) -> u64 {
    let lesson = session.document().unwrap().lesson().unwrap();
    lesson.today.as_ref().unwrap().facts.len() as u64
}

/// A copy for the day with its plan, as it is written.
fn begun_day() -> &'static [u8] {
    static DAY: OnceLock<Vec<u8>> = OnceLock::new();
    DAY.get_or_init(|| {
        let folder = tempfile::tempdir().unwrap();
        let lesson = folder.path().join("lesson.ron");
        fs::write(&lesson, LARGE).unwrap();
        let mut session = on_the_day(folder.path(), lesson);
        session.apply(LessonCommand::Today);
        session.apply(LessonCommand::SaveAs(folder.path().join("day.ron")));
        fs::read(folder.path().join("day.ron")).unwrap()
    })
}

fn kill_one_of_the_day(seed: usize) -> u64 {
    let mut rng = Pcg64Mcg::seed_from_u64(seed as u64);
    let folder = tempfile::tempdir().unwrap();
    let copy = folder.path().join("day.ron");
    fs::write(&copy, begun_day()).unwrap();
    let seconds = rng.random_range(0.0..4.0);
    let (heard, _) = killed_after("killed::child_of_the_day", folder.path(), seconds);
    // In the file itself, and once more to whoever starts the program again.
    let told = load_lesson(&copy).unwrap().lesson.today.as_ref().unwrap().facts.len() as u64;
    let found = facts(&on_the_day(folder.path(), copy));
    for found in [told, found] {
        let kept = heard.kept..=heard.kept + 1;
        assert!(kept.contains(&found), "run {seed}: {found} found, {} told", heard.kept);
    }
    heard.kept
}

#[test]
fn killed_on_the_day_nothing_that_was_told_is_lost() {
    begun_day();
    let told: u64 = side_by_side(kill_one_of_the_day).iter().sum();
    println!("{} killed, {told} facts told", kills());
    assert!(4 * told > kills(), "the children hardly heard anything: {told} told");
}

/// What a child told before it ended: changes with their times, and the last
/// one it saved or wrote a copy of.
#[derive(Default)]
pub(crate) struct Heard {
    changes: Vec<(u64, Duration)>,
    pub(crate) kept: u64,
}

fn kill_one(seed: usize) -> (usize, Duration) {
    let mut rng = Pcg64Mcg::seed_from_u64(seed as u64);
    let folder = tempfile::tempdir().unwrap();
    fs::create_dir(folder.path().join("lessons")).unwrap();
    let path = folder.path().join("lessons/lesson.ron");
    let has_file = seed % 5 != 4;
    if has_file {
        fs::write(&path, if seed.is_multiple_of(2) { SMALL } else { LARGE }).unwrap();
    }
    let (heard, killed) = killed_after("killed::child", folder.path(), rng.random_range(0.0..6.0));
    let found = look(folder.path(), has_file, seed);
    assert!(found >= heard.kept, "run {seed}: {found} found, {} were kept", heard.kept);
    let lost = heard.changes.iter().find(|(n, _)| *n > found);
    let lost = lost.map_or(Duration::ZERO, |(_, at)| killed.saturating_sub(*at));
    (heard.changes.len(), lost)
}

/// What a child told in so many seconds, and when it was killed.
pub(crate) fn killed_after(child: &str, folder: &Path, seconds: f64) -> (Heard, Duration) {
    let mut child = Command::new(std::env::current_exe().unwrap())
        .args(["--exact", child, "--include-ignored", "--nocapture", "--test-threads", "1"])
        .env(CHILD, folder)
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let out = BufReader::new(child.stdout.take().unwrap());
    let listener = std::thread::spawn(move || {
        let mut heard = Heard::default();
        for line in out.lines().map_while(Result::ok) {
            let words: Vec<&str> = line.split(' ').collect();
            let number = |i: usize| words.get(i).and_then(|w| w.parse::<u64>().ok());
            match (words[0], number(1), number(2)) {
                ("changed", Some(n), Some(at)) => {
                    heard.changes.push((n, Duration::from_micros(at)));
                }
                ("kept", Some(n), Some(_)) => heard.kept = n,
                _ => {}
            }
        }
        heard
    });
    std::thread::sleep(Duration::from_secs_f64(seconds));
    let killed = now();
    child.kill().unwrap();
    child.wait().unwrap();
    (listener.join().unwrap(), killed)
}

/// The number of the change that is found again.
fn look(folder: &Path, has_file: bool, seed: usize) -> u64 {
    let keeping = keeping(folder);
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    let path = folder.join("lessons/lesson.ron");
    let number = |doc: &Document| doc.file().title.parse().unwrap_or(0);
    let left = left_behind(&disk, &folder.join("data"));
    let mut found = 0;
    if has_file {
        assert!(left.is_empty(), "run {seed}");
        for path in [path.clone(), folder.join("lessons/lesson.ron.bak")] {
            assert!(!path.exists() || load_lesson(&path).is_ok(), "run {seed}: torn");
        }
        let (mut doc, told) =
            Document::open(Document::read, &path, &keeping, DocumentId::default(), Arc::from([]))
                .unwrap();
        assert!(doc.care().read_only().is_none(), "run {seed}: {told:?}");
        assert_eq!(doc.changed, !told.is_empty(), "run {seed}: {told:?}");
        found = number(&doc);
        // By turns saved and dropped.
        if seed.is_multiple_of(3) {
            doc.save(Over::Nothing).map(|_| ()).unwrap()
        } else {
            doc.lose_changes().unwrap()
        }
    } else if let [copy] = left.as_slice() {
        let (mut doc, _) =
            Document::take_up(&copy.path, &keeping, DocumentId::default(), Arc::from([])).unwrap();
        found = number(&doc);
        doc.lose_changes().unwrap();
    } else {
        assert!(left.is_empty(), "run {seed}: {left:?}");
    }
    let known = ["lesson.ron", "lesson.ron.bak"];
    for folder in [folder.join("lessons"), unsaved_folder(&folder.join("data"))] {
        let Ok(entries) = fs::read_dir(folder) else { continue };
        for entry in entries {
            let name = entry.unwrap().file_name().to_string_lossy().into_owned();
            assert!(known.contains(&name.as_str()), "run {seed}: {name} lies about");
        }
    }
    found
}

/// One killed, as often as is asked for, several at a time.
pub(crate) fn side_by_side<T: Send>(kill: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let next = AtomicUsize::new(0);
    std::thread::scope(|scope| {
        let work = || {
            let mut runs = Vec::new();
            loop {
                let seed = next.fetch_add(1, Ordering::Relaxed);
                if seed >= kills() as usize {
                    return runs;
                }
                runs.push(kill(seed));
            }
        };
        let threads: Vec<_> = (0..AT_ONCE).map(|_| scope.spawn(work)).collect();
        threads.into_iter().flat_map(|t| t.join().unwrap()).collect()
    })
}

#[test]
fn killed_at_any_moment_nothing_that_was_kept_is_lost() {
    let runs = side_by_side(kill_one);
    let changes: usize = runs.iter().map(|(changes, _)| changes).sum();
    let mut lost: Vec<Duration> = runs.iter().map(|(_, lost)| *lost).collect();
    lost.sort();
    println!(
        "{} killed after {changes} changes; lost {:?} in the median, {:?} at most",
        runs.len(),
        lost[lost.len() / 2],
        lost[lost.len() - 1]
    );
    assert!(changes > 10 * runs.len(), "the children hardly did anything: {changes} changes");
}

/// What stands in a folder and those in it, by name.
pub(crate) fn names_in(folder: &Path) -> Vec<String> {
    let name = |path: &PathBuf| path.file_name().unwrap().to_string_lossy().into_owned();
    files_in(folder).keys().map(name).collect()
}

fn kill_one_of_the_library(seed: usize) -> u64 {
    let mut rng = Pcg64Mcg::seed_from_u64(seed as u64);
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let seconds = rng.random_range(0.0..2.0);
    let (heard, _) = killed_after("killed::child_of_the_library", folder, seconds);
    for found in OWN.map(|kind| (kind.number)(folder)) {
        assert!((heard.kept..=heard.kept + 1).contains(&found), "run {seed}: {found}");
    }
    // What lay about is cleared away by whoever writes next.
    write_own(folder, 1);
    let names = names_in(folder);
    let known = |n: &String| n == "9 Harbour.ron" || n == "window.ron" || n.ends_with(".open");
    assert!(names.iter().all(known), "run {seed}: {names:?}");
    heard.kept
}

#[test]
fn killed_while_it_writes_the_library_and_the_settings_both_stay_whole() {
    let kept: u64 = side_by_side(kill_one_of_the_library).iter().sum();
    println!("{} killed, {kept} times both were written", kills());
    assert!(kept > 10 * kills(), "the children hardly did anything: {kept} written");
}
