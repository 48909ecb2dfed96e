//! Files that commands keep: never over what they read, over each other, over a
//! file of another kind, or over what is not the user's; and never half.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use crate::common::how_many::how_many;
use crate::common::skipped::skipped;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

fn program() -> Command {
    Command::new(env!("CARGO_BIN_EXE_ovenbell"))
}

fn run(program: &mut Command, args: &[&str]) -> Output {
    let nowhere = Path::new(env!("CARGO_TARGET_TMPDIR")).join("no-data");
    program.args(args).env("OVENBELL_DATA", nowhere).output().unwrap()
}

fn ovenbell(args: &[&str]) -> Output {
    run(&mut program(), args)
}

fn said(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).unwrap()
}

/// A folder with a lesson in it.
struct Place(tempfile::TempDir);

impl Place {
    fn new() -> Self {
        let place = Self(tempfile::tempdir().unwrap());
        let lesson = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/a-scones-hour.ron");
        fs::copy(lesson, place.0.path().join("lesson.ron")).unwrap();
        place
    }

    fn at(&self, name: &str) -> String {
        self.0.path().join(name).to_str().unwrap().to_owned()
    }

    fn read(&self, name: &str) -> String {
        fs::read_to_string(self.at(name)).unwrap()
    }

    fn names(&self) -> Vec<String> {
        let name = |e: std::io::Result<fs::DirEntry>| e.unwrap().file_name().into_string().unwrap();
        let mut names: Vec<String> = fs::read_dir(self.0.path()).unwrap().map(name).collect();
        names.sort();
        names
    }
}

const FEW: [&str; 2] = ["--decodings", "100"];

#[test]
fn a_plan_is_kept_over_a_plan_and_over_nothing_else() {
    let place = Place::new();
    let (lesson, plan) = (place.at("lesson.ron"), place.at("plan.ron"));
    let save = |to: &str| ovenbell(&[&["plan", &lesson, "--save", to], &FEW[..]].concat());
    assert_eq!(save(&plan).status.code(), Some(0));
    assert_eq!(save(&plan).status.code(), Some(0), "over the plan before");
    let before = place.read("lesson.ron");
    let mut refused = vec![(lesson.clone(), "is read by the command")];
    fs::write(place.at("letter.txt"), "Dear all").unwrap();
    refused.push((place.at("letter.txt"), "is no plan"));
    fs::copy(&lesson, place.at("other.ron")).unwrap();
    refused.push((place.at("other.ron"), "is no plan"));
    fs::create_dir(place.at("folder")).unwrap();
    refused.push((place.at("folder"), "folder"));
    let mut protected = fs::metadata(&plan).unwrap().permissions();
    protected.set_readonly(true);
    fs::copy(&plan, place.at("protected.ron")).unwrap();
    fs::set_permissions(place.at("protected.ron"), protected).unwrap();
    refused.push((place.at("protected.ron"), "write-protected"));
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink(&lesson, place.at("link.ron")).unwrap();
        refused.push((place.at("link.ron"), "is read by the command"));
        fs::hard_link(&lesson, place.at("hard.ron")).unwrap();
        refused.push((place.at("hard.ron"), "is read by the command"));
        assert!(Command::new("mkfifo").arg(place.at("pipe")).status().unwrap().success());
        refused.push((place.at("pipe"), "pipe"));
        refused.push(("/dev/null".into(), "device"));
        refused.push(("/dev/stdout".into(), "link"));
    }
    for (to, why) in refused {
        let output = save(&to);
        assert_eq!(output.status.code(), Some(2), "{to}");
        assert!(said(&output).contains(why), "{to}: {}", said(&output));
        assert!(output.stdout.is_empty(), "refused before anything is planned");
    }
    // What a command reads is not lost as what was there before, either.
    fs::copy(&lesson, place.at("plan.ron.bak")).unwrap();
    let back = ["plan", &place.at("plan.ron.bak"), "--save", &plan];
    assert_eq!(ovenbell(&[&back[..], &FEW[..]].concat()).status.code(), Some(2));
    assert_eq!(place.read("plan.ron.bak"), before);
    assert_eq!(place.read("lesson.ron"), before);
    assert_eq!(place.read("other.ron"), before);
    assert_eq!(place.read("letter.txt"), "Dear all");
}

#[test]
fn a_day_and_its_plan_are_two_files() {
    let place = Place::new();
    let lesson = place.at("lesson.ron");
    let (one, two) = (place.at("one.ron"), place.at("two.ron"));
    let day = |save: &str, plan: &str| {
        let args = ["today", &lesson, "--late", "2", "--save", save, "--save-plan", plan];
        ovenbell(&[&args[..], &FEW[..]].concat()).status.code()
    };
    assert_eq!(day(&one, &one), Some(2));
    assert_eq!(day(&lesson, &two), Some(2));
    assert_eq!(day(&one, &format!("{one}.bak")), Some(2));
    fs::copy(&lesson, place.at("tuesday.ron")).unwrap();
    assert_eq!(day(&place.at("tuesday.ron"), &two), Some(2), "another lesson is no day's");
    fs::remove_file(place.at("tuesday.ron")).unwrap();
    assert_eq!(day(&one, &lesson), Some(2));
    assert_eq!(place.names(), ["lesson.ron"]);
    assert!(day(&one, &two).is_some_and(|status| status < 2));
    assert_eq!(day(&two, &one), Some(2), "each is of the other kind");
    assert!(day(&one, &two).is_some_and(|status| status < 2), "once more over the same");
}

#[test]
#[cfg(unix)]
fn a_lesson_of_the_day_is_no_more_open_than_the_lesson() {
    use std::os::unix::fs::PermissionsExt;
    let place = Place::new();
    let mode = |name: &str| fs::metadata(place.at(name)).unwrap().permissions().mode() & 0o777;
    fs::set_permissions(place.at("lesson.ron"), fs::Permissions::from_mode(0o600)).unwrap();
    let (lesson, day) = (place.at("lesson.ron"), place.at("day.ron"));
    ovenbell(&[&["today", &lesson, "--late", "2", "--save", &day], &FEW[..]].concat());
    assert_eq!(mode("day.ron"), 0o600);
}

fn took_args(place: &Place, note: &str) -> Vec<String> {
    let lesson = place.at("lesson.ron");
    let table = place.at("bakes.csv");
    let args = ["took", &lesson, "--recipe", "scones", "--tin", "8 scones", "--minutes"];
    let more = ["12", "--note", note, "--outcomes", &table];
    args.iter().chain(&more).map(|a| (*a).to_owned()).collect()
}

/// The recipe and tin of the lesson, whatever they are called.
fn took(place: &Place, note: &str) -> Command {
    let mut command = program();
    command.args(took_args(place, note)).stdout(Stdio::null()).stderr(Stdio::piped());
    command
}

fn rows(place: &Place) -> usize {
    let mut reader = csv::Reader::from_path(place.at("bakes.csv")).unwrap();
    reader.records().map(Result::unwrap).count()
}

#[test]
fn bakes_noted_at_the_same_time_are_all_there() {
    for round in 0..how_many("OVENBELL_ROUNDS", 1) {
        let place = Place::new();
        let start = |n: usize| took(&place, &format!("bake {n}")).spawn().unwrap();
        let children: Vec<_> = (0..60).map(start).collect();
        for child in children {
            let output = child.wait_with_output().unwrap();
            assert!(output.status.success(), "round {round}: {}", said(&output));
        }
        assert_eq!(rows(&place), 60, "round {round}");
        assert_eq!(place.names(), ["bakes.csv", "bakes.csv.bak", "lesson.ron"], "round {round}");
    }
}

#[test]
fn killed_while_it_writes_nothing_is_torn() {
    let place = Place::new();
    let mut rng = Pcg64Mcg::seed_from_u64(7);
    // Killed at any moment of what such a command takes on this machine.
    let begun = std::time::Instant::now();
    assert!(took(&place, "first").output().unwrap().status.success());
    let usual = begun.elapsed();
    let mut wait = || usual.mul_f64(rng.random_range(0.0..1.5));
    let lesson = place.at("lesson.ron");
    let plan = place.at("plan.ron");
    let (mut noted, mut torn_off) = (1, 0);
    for n in 0..how_many("OVENBELL_KILLS", 40) {
        let mut child = took(&place, &format!("bake {n}")).spawn().unwrap();
        // Some are let go to their end, and some hardly begin, however busy the
        // machine is.
        match n % 4 {
            0 => drop(child.wait()),
            1 => {}
            _ => std::thread::sleep(wait()),
        }
        let _ = child.kill();
        let is_noted = child.wait().unwrap().success();
        noted += usize::from(is_noted);
        torn_off += usize::from(!is_noted);
        let args = [&["plan", &lesson, "--save", &plan], &["--decodings", "1"][..]].concat();
        let mut child =
            program().args(args).stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap();
        std::thread::sleep(wait());
        let _ = child.kill();
        child.wait().unwrap();
        if Path::new(&plan).exists() {
            let checked = ovenbell(&["check", &lesson, "--plan", &plan]);
            assert_eq!(checked.status.code(), Some(0), "{}", said(&checked));
        }
    }
    println!("{noted} noted, {torn_off} killed before they said so");
    assert!(noted > 1 && torn_off > 0, "{noted} noted, {torn_off} killed");
    // What was said to be noted is there; one more may be that was not said.
    let before = rows(&place);
    assert!(before >= noted, "{before} of {noted}");
    // Whoever comes next goes on, and clears away what was left.
    let last = took(&place, "last").output().unwrap();
    assert!(last.status.success(), "{}", said(&last));
    assert_eq!(rows(&place), before + 1);
    ovenbell(&[&["plan", &lesson, "--save", &plan], &FEW[..]].concat());
    let known = ["bakes.csv", "bakes.csv.bak", "lesson.ron", "plan.ron", "plan.ron.bak"];
    for name in place.names() {
        assert!(known.contains(&name.as_str()), "{name} lies about");
    }
}

/// The program as somebody else runs it; `None`, and said so, where it cannot
/// be run so.
#[cfg(unix)]
fn as_a_colleague(place: &Place) -> Option<PathBuf> {
    use std::os::unix::fs::PermissionsExt;
    use std::os::unix::process::CommandExt;
    let copy = place.0.path().join("program");
    fs::copy(env!("CARGO_BIN_EXE_ovenbell"), &copy).unwrap();
    let open = |path: &Path, mode| fs::set_permissions(path, fs::Permissions::from_mode(mode));
    open(&copy, 0o755).unwrap();
    open(place.0.path(), 0o777).unwrap();
    let tried = Command::new(&copy).arg("--version").uid(COLLEAGUE).gid(COLLEAGUE).output();
    if tried.is_ok_and(|output| output.status.success()) {
        return Some(copy);
    }
    skipped("the program cannot be run as another user here");
    None
}

/// A user who is nobody in particular.
#[cfg(unix)]
const COLLEAGUE: u32 = 65534;

#[test]
#[cfg(unix)]
fn what_belongs_to_a_colleague_is_not_written_over() {
    use std::os::unix::fs::{MetadataExt, PermissionsExt};
    use std::os::unix::process::CommandExt;
    let place = Place::new();
    let Some(copy) = as_a_colleague(&place) else { return };
    let colleague = || {
        let mut command = Command::new(&copy);
        command.uid(COLLEAGUE).gid(COLLEAGUE);
        command
    };
    let (lesson, plan) = (place.at("lesson.ron"), place.at("plan.ron"));
    ovenbell(&[&["plan", &lesson, "--save", &plan], &FEW[..]].concat());
    let before = place.read("plan.ron");
    let owner = fs::metadata(&plan).unwrap().uid();
    let args = [&["plan", &lesson, "--save", &plan], &FEW[..]].concat();
    let refused = run(&mut colleague(), &args);
    assert_eq!(refused.status.code(), Some(2));
    assert!(said(&refused).contains("write-protected"), "{}", said(&refused));
    assert_eq!(place.read("plan.ron"), before);
    assert_eq!(fs::metadata(&plan).unwrap().uid(), owner);
    // A note that our crash left keeps nobody out.
    fs::write(place.at(".bakes.csv.open"), "open in ovenbell since long ago\n").unwrap();
    let args = took_args(&place, "theirs");
    let args: Vec<&str> = args.iter().map(String::as_str).collect();
    let noted = run(&mut colleague(), &args);
    assert_eq!(noted.status.code(), Some(0), "{}", said(&noted));
    assert!(!Path::new(&place.at(".bakes.csv.open")).exists());
    // Nor in a folder where only the owner of a file may remove it.
    fs::set_permissions(place.0.path(), fs::Permissions::from_mode(0o1777)).unwrap();
    fs::write(place.at(".bakes.csv.open"), "open in ovenbell since long ago\n").unwrap();
    let noted = run(&mut colleague(), &args);
    assert_eq!(noted.status.code(), Some(0), "{}", said(&noted));
    assert_eq!(rows(&place), 2);
}

#[test]
#[cfg(unix)]
fn what_is_no_file_is_not_read() {
    let place = Place::new();
    let pipe = place.at("pipe");
    assert!(Command::new("mkfifo").arg(&pipe).status().unwrap().success());
    let lesson = place.at("lesson.ron");
    for path in [&pipe, "/dev/zero", "/dev/null", "/dev/stdin"] {
        let args = took_args(&place, "");
        let mut took: Vec<&str> = args.iter().map(String::as_str).collect();
        *took.last_mut().unwrap() = path;
        let commands: [&[&str]; 8] = [
            &["plan", path],
            &["check", path],
            &["why", path],
            &["changes", path],
            &["today", path, "--late", "2"],
            &["problem", path],
            &["check", &lesson, "--plan", path],
            &["today", &lesson, "--late", "2", "--plan", path],
        ];
        for args in commands {
            let output = ovenbell(args);
            assert_eq!(output.status.code(), Some(2), "{args:?}: {}", said(&output));
        }
        let output = ovenbell(&took);
        assert_eq!(output.status.code(), Some(1), "{took:?}: {}", said(&output));
        // A table of bakes that is none is told and left aside.
        let output = ovenbell(&["check", &lesson, "--outcomes", path]);
        assert_eq!(output.status.code(), Some(0), "{path}");
        assert!(said(&output).contains("cannot be read"), "{}", said(&output));
    }
}
