//! A week of forty practicals of ten groups, five days of six periods in three rooms:
//! how soon there is a first picture, how soon all are planned and checked, what a
//! change costs, and how much memory it takes; and frames of a week of two hundred.
//!
//! `cargo bench --bench week`

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

use std::fs;
use std::path::Path;
use std::sync::Mutex;
use std::sync::atomic::AtomicBool;
use std::time::{Duration, Instant};

use egui_kittest::Harness;
use ovenbell::app::{App, Start};
use ovenbell::view::scene::week::{StandsOut, WeekPicture};
use ovenbell::view::scene::{Measure, Weight};
use ovenbell::view::week::WeekBoard;
use ovenbell::week::{
    Asked, EntryNo, Memory, Planner, Stage, USUAL_DECODINGS, Week, load, out_of_order,
    report_as_it_comes,
};

const BAKES: [&str; 5] = ["sponge.ron", "buns.ron", "muffins.ron", "scones.ron", "lemon.ron"];
const DAYS: [&str; 5] = ["Mon", "Tue", "Wed", "Thu", "Fri"];

/// Letters that are all half as wide as they are high.
struct Letters;

impl Measure for Letters {
    fn width(&self, words: &str, size: f32, _: Weight) -> f32 {
        words.chars().count() as f32 * size / 2.0
    }
    fn height(&self, size: f32, _: Weight) -> f32 {
        size * 1.2
    }
}

/// The lesson that is edited.
const EDITED: &str = "edited.ron";

/// The worked week's bells, rooms and bakes with so many practicals, one after another
/// through the periods, three rooms at a time; seven if there are more than three hold.
/// The first is of a file of its own, with so many groups.
fn week_of(practicals: usize, groups: u32, folder: &Path) -> Week {
    let lessons = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/week");
    for bake in BAKES {
        let text = fs::read_to_string(lessons.join(bake)).unwrap();
        let of =
            |groups: u32| text.replace("count: 8, recipe", &format!("count: {groups}, recipe"));
        fs::write(folder.join(bake), of(10)).unwrap();
        if bake == BAKES[2] {
            let text = of(groups);
            assert!(text.contains(&format!("count: {groups}, recipe")));
            fs::write(folder.join(EDITED), text).unwrap();
        }
    }
    let worked = fs::read_to_string(lessons.join("week.ron")).unwrap();
    let is_entry = |line: &&str| {
        let line = line.trim_start();
        line.starts_with("(file:") || line.starts_with("(booking:")
    };
    let is_day =
        |line: &&str| line.contains("(on: Wed, closed") || line.contains("\"P5\": (\"13:30\"");
    let mut lines: Vec<String> =
        worked.lines().filter(|l| !is_entry(l) && !is_day(l)).map(str::to_owned).collect();
    let rooms = if practicals <= 90 { 3 } else { 7 };
    let third = lines.iter().position(|line| line.contains("name: \"Room 3\"")).unwrap();
    let room: Vec<String> = lines[third - 1..third + 4].to_vec();
    assert_eq!((room[0].trim(), room[4].trim()), ("(", "),"));
    for number in 4..=rooms {
        let other = room.iter().map(|line| line.replace("Room 3", &format!("Room {number}")));
        lines.splice(third + 4..third + 4, other);
    }
    let at = lines.iter().position(|line| line.contains("lessons: [")).unwrap() + 1;
    let (each_day, all) = (6 * rooms, 30 * rooms);
    for n in 0..practicals {
        // Every second period first, so that the days fill evenly.
        let slot = (n * 2 % all + n * 2 / all) % all;
        let (day, period, room) =
            (DAYS[slot / each_day], slot % each_day / rooms + 1, slot % rooms + 1);
        let bake = if n == 0 { EDITED } else { BAKES[n % 5] };
        let class = format!("{}{}", 7 + n % 5, ["A", "B", "C"][n / 5 % 3]);
        let line = format!(
            "(file: \"{bake}\", class: \"{class} {n}\", on: {day}, at: \"P{period}\", room: \"Room {room}\"),"
        );
        lines.insert(at, line);
    }
    let path = folder.join("week.ron");
    fs::write(&path, lines.join("\n")).unwrap();
    let loaded = load(&path, &[]).unwrap_or_else(|findings| panic!("{findings:#?}"));
    assert_eq!(loaded.week.entries.len(), practicals, "{:#?}", loaded.findings);
    loaded.week
}

fn ms(since: Instant) -> f64 {
    since.elapsed().as_secs_f64() * 1000.0
}

/// The most memory this process has had, in MB; 0 where the system does not say.
fn memory() -> u64 {
    let status = fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    let kb = line.and_then(|line| line.trim().trim_end_matches(" kB").parse::<u64>().ok());
    kb.unwrap_or(0) / 1024
}

fn picture(week: &Week, report: Option<&ovenbell::week::Report>) -> usize {
    let board = WeekBoard::of(week, report);
    let picture = WeekPicture { board: &board, day: None, width: 920.0, height: 560.0 };
    picture.scene(&StandsOut::default(), &Letters).items.len()
}

/// Processor time of this thread so far, where the system tells: other work on the
/// machine does not count in it.
fn processor_ms() -> f64 {
    let text = fs::read_to_string("/proc/thread-self/schedstat").unwrap_or_default();
    let ns = text.split_whitespace().next().and_then(|ns| ns.parse::<f64>().ok());
    ns.map_or(f64::NAN, |ns| ns / 1e6)
}

/// When what was asked for was first told.
type First = Mutex<Option<f64>>;

fn note(first: &First, begun: Instant) {
    first.lock().unwrap().get_or_insert_with(|| ms(begun));
}

fn told(first: First) -> f64 {
    first.into_inner().unwrap().unwrap_or(f64::NAN)
}

fn planned(practicals: usize) {
    let stop = AtomicBool::new(false);
    let folder = tempfile::tempdir().unwrap();
    let begun = Instant::now();
    let week = week_of(practicals, 10, folder.path());
    let read = ms(begun);
    let memory_of = Memory::default();
    let planner = Planner::new(&[], USUAL_DECODINGS, &stop).remembering(&memory_of);
    let [first, alone, ovens]: [First; 3] = Default::default();
    let begun = Instant::now();
    let asked = Asked { day: None, moves: true };
    let report = report_as_it_comes(&week, &planner, asked, &|report| match report.stage {
        Stage::Lessons => note(&first, begun),
        Stage::Ovens => note(&alone, begun),
        Stage::Moves | Stage::Whole => note(&ovens, begun),
    });
    let whole = ms(begun);
    let begun = Instant::now();
    let items = picture(&week, Some(&report));
    println!(
        "{practicals} practicals: read {read:.0} ms, first lesson {:.0} ms, all alone {:.0} ms, \
         ovens and what is out {:.0} ms, moves {whole:.0} ms, picture {:.1} ms ({items} items), \
         {} MB",
        told(first),
        told(alone),
        told(ovens),
        ms(begun),
        memory()
    );
    // What is changed is told first; what is as before was planned before.
    let again = |what: &str, week: &Week, entry: EntryNo| {
        let planner = Planner::new(&[], USUAL_DECODINGS, &stop).remembering(&memory_of);
        let [own, all]: [First; 2] = Default::default();
        let begun = Instant::now();
        report_as_it_comes(week, &planner, Asked::default(), &|report| {
            let is_planned = |t: &ovenbell::week::Told| t.entry == entry && t.alone.is_some();
            if report.lessons.iter().any(is_planned) {
                note(&own, begun);
            }
            if report.stage == Stage::Ovens {
                note(&all, begun);
            }
        });
        let (own, all, whole) = (told(own), told(all), ms(begun));
        println!("  {what}: its plan {own:.0} ms, what is wanted {all:.0} ms, ovens {whole:.0} ms");
    };
    let mut out = week.clone();
    out.out.push(out_of_order(&week, "Room 2/Oven 1=thu").unwrap());
    let thursday = week.day_called("thu").unwrap();
    let there = week.on(thursday).find(|e| week.room_name(e.slot.rooms[0]) == "Room 2");
    again("an oven out", &out, there.unwrap().number);
    let begun = Instant::now();
    let edited = week_of(practicals, 9, folder.path());
    println!("  read again {:.0} ms", ms(begun));
    again("a lesson edited", &edited, edited.entries.last().unwrap().number);
}

/// Frames of a week in the window, while it is planned and after.
fn frames(practicals: usize) {
    let folder = tempfile::tempdir().unwrap();
    week_of(practicals, 10, folder.path());
    let start = Start { file: Some(folder.path().join("week.ron")), ..Start::default() };
    let begun = Instant::now();
    let mut harness = Harness::builder()
        .with_size([1280.0, 800.0])
        .build_eframe(|cc| App::new(&cc.egui_ctx, start));
    harness.step();
    println!("{practicals} practicals in the window: first frame {:.0} ms", ms(begun));
    let mut times = Vec::new();
    while harness.state().session().is_planning_week() && begun.elapsed() < Duration::from_secs(60)
    {
        times.push(frame(&mut harness, times.len()));
    }
    println!("  planned {:.0} ms; frames meanwhile: {}", ms(begun), of_frames(times));
    harness.run_steps(20);
    let times = (0..200).map(|n| frame(&mut harness, n)).collect();
    println!("  scrolled: {}; {} MB", of_frames(times), memory());
}

/// Processor time of a frame in which the wheel is turned, and the pointer is elsewhere
/// on the picture.
fn frame(harness: &mut Harness<'static, App>, number: usize) -> f64 {
    let at = egui::pos2(200.0 + (number * 37 % 600) as f32, 300.0 + (number % 7) as f32 * 30.0);
    let down = if (number / 20).is_multiple_of(2) { -30.0 } else { 30.0 };
    harness.event(egui::Event::PointerMoved(at));
    harness.event(egui::Event::MouseWheel {
        unit: egui::MouseWheelUnit::Point,
        delta: egui::vec2(0.0, down),
        phase: egui::TouchPhase::Move,
        source: egui::MouseWheelSource::Unknown,
        modifiers: egui::Modifiers::NONE,
    });
    let before = processor_ms();
    harness.step();
    processor_ms() - before
}

fn of_frames(mut times: Vec<f64>) -> String {
    times.sort_by(f64::total_cmp);
    let at = |hundredths: usize| times.get(times.len() * hundredths / 100).copied().unwrap_or(0.0);
    format!("{} of median {:.1} ms, worst of 100 {:.1} ms", times.len(), at(50), at(99))
}

fn main() {
    planned(40);
    frames(40);
    frames(200);
}
