//! A week of forty practicals of ten groups, five days of six periods in three rooms:
//! how soon there is a first picture, how soon all are planned and checked, what a
//! change costs, and how much memory it takes.
//!
//! `cargo bench --no-default-features --bench week`

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

use std::fs;
use std::path::Path;
use std::sync::Mutex;
use std::sync::atomic::AtomicBool;
use std::time::Instant;

use ovenbell::view::scene::week::{StandsOut, WeekPicture};
use ovenbell::view::scene::{Measure, Weight};
use ovenbell::view::week::WeekBoard;
use ovenbell::week::{
    Asked, Memory, Planner, Stage, USUAL_DECODINGS, Week, load, out_of_order, report_as_it_comes,
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

/// The worked week's bells, rooms and bakes with so many practicals, one after another
/// through the periods, three rooms at a time.
fn week_of(practicals: usize, folder: &Path) -> Week {
    let lessons = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/week");
    for bake in BAKES {
        let text = fs::read_to_string(lessons.join(bake)).unwrap();
        fs::write(folder.join(bake), text.replace("count: 8, recipe", "count: 10, recipe"))
            .unwrap();
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
    let at = lines.iter().position(|line| line.contains("lessons: [")).unwrap() + 1;
    for n in 0..practicals {
        // Every second period first, so that the days fill evenly.
        let slot = n * 2 % 90 + n * 2 / 90;
        let (day, period, room) = (DAYS[slot / 18 % 5], slot % 18 / 3 + 1, slot % 3 + 1);
        let (bake, class) = (BAKES[n % 5], format!("{}{}", 7 + n % 5, ["A", "B", "C"][n / 5 % 3]));
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

fn main() {
    let stop = AtomicBool::new(false);
    println!(
        "practicals | ms: read | first lesson | all alone | ovens and what is out | whole | an oven \
         out: first, all | picture | MB"
    );
    for practicals in [20, 40] {
        let folder = tempfile::tempdir().unwrap();
        let begun = Instant::now();
        let week = week_of(practicals, folder.path());
        let read = ms(begun);
        let memory_of = Memory::default();
        let begun = Instant::now();
        let reached: Mutex<[Option<f64>; 3]> = Mutex::new([None; 3]);
        let planner = Planner::new(&[], USUAL_DECODINGS, &stop).remembering(&memory_of);
        let asked = Asked { day: None, moves: true };
        let report = report_as_it_comes(&week, &planner, asked, &|report| {
            let at = match report.stage {
                Stage::Lessons => 0,
                Stage::Ovens => 1,
                _ => 2,
            };
            reached.lock().unwrap()[at].get_or_insert_with(|| ms(begun));
        });
        let whole = ms(begun);
        let reached = reached.into_inner().unwrap().map(Option::unwrap_or_default);
        let begun = Instant::now();
        let items = picture(&week, Some(&report));
        let to_picture = ms(begun);
        // An oven goes out: only lessons of its room and days are planned again.
        let mut other = week.clone();
        other.out.push(out_of_order(&week, "Room 2/Oven 1=thu").unwrap());
        let begun = Instant::now();
        let first: Mutex<Option<f64>> = Mutex::new(None);
        let planner = Planner::new(&[], USUAL_DECODINGS, &stop).remembering(&memory_of);
        report_as_it_comes(&other, &planner, Asked::default(), &|_| {
            first.lock().unwrap().get_or_insert_with(|| ms(begun));
        });
        let again = (first.into_inner().unwrap().unwrap_or_default(), ms(begun));
        println!(
            "{practicals} | {read:.0} | {:.0} | {:.0} | {:.0} | {whole:.0} | {:.0}, {:.0} | \
             {to_picture:.1} ({items} items) | {}",
            reached[0],
            reached[1],
            reached[2],
            again.0,
            again.1,
            memory()
        );
    }
}
