//! A seeded generator of weeks: three rooms on two days, each with lessons of the
//! generator of lessons, and little of what goes from room to room. All of it is
//! invented.

use std::fs;
use std::path::{Path, PathBuf};

use ovenbell::file::format::{LessonFile, PeriodShape};
use ovenbell::file::write_lesson;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

use super::generate::lesson_of;

/// A generated week, to be changed before it is written.
#[derive(Clone)]
pub struct GeneratedWeek {
    /// What goes from room to room, and how many.
    pub moves: Vec<(String, i64)>,
    /// The hour at which the technician goes.
    pub technician_until: i64,
    /// The lessons.
    pub lessons: Vec<Taught>,
}

/// A lesson of a generated week.
#[derive(Clone)]
pub struct Taught {
    /// Its class, and its file.
    pub class: usize,
    /// Its day.
    pub day: &'static str,
    bell: String,
    room: i64,
    lesson: LessonFile,
}

const LENGTHS: [i32; 4] = [50, 60, 75, 100];
const DAYS: [&str; 2] = ["Tue", "Thu"];
const MOVING_TINS: [&str; 4] = ["18 cm square", "18 cm sandwich", "450 ml foil", "loaf"];

/// A generated week, with so few groups in each lesson.
pub fn week(seed: u64, most_groups: i64) -> GeneratedWeek {
    let mut rng = Pcg64Mcg::seed_from_u64(seed.wrapping_mul(0xD134_2543_DE82_EF95));
    let mut moves = vec![("whisk".to_owned(), rng.random_range(1..=2))];
    if rng.random_bool(0.6) {
        let tin = MOVING_TINS[rng.random_range(0..MOVING_TINS.len())];
        moves.push((tin.to_owned(), rng.random_range(3..=8)));
    }
    let mut lessons = Vec::new();
    for (day, period, room) in DAYS
        .iter()
        .flat_map(|day| [(day, 1, 1), (day, 1, 2), (day, 1, 3), (day, 2, 1), (day, 2, 2)])
    {
        if rng.random_bool(0.2) {
            continue;
        }
        let groups = rng.random_range(2..=most_groups);
        let number = seed * 100 + lessons.len() as u64;
        let lesson = lesson_of(number, groups);
        let bell = format!("P{period} of {}", length(&lesson.period));
        lessons.push(Taught { class: lessons.len(), day, bell, room, lesson });
    }
    GeneratedWeek { moves, technician_until: rng.random_range(11..=14), lessons }
}

/// Minutes from bell to bell; generated lessons begin at ten.
fn length(period: &PeriodShape) -> i32 {
    let part = |text: &str| text.parse::<i32>().unwrap();
    let (hours, minutes) = period.end.split_once(':').unwrap();
    (part(hours) - 10) * 60 + part(minutes)
}

impl GeneratedWeek {
    /// The text of the week's file; its lessons stand beside it.
    pub fn text(&self) -> String {
        let clock = |minutes: i32| format!("{:02}:{:02}", minutes / 60, minutes % 60);
        let bell = |(period, length): (i32, i32)| {
            let start = 420 + 120 * period;
            format!(
                "\"P{period} of {length}\": (\"{}\", \"{}\")",
                clock(start),
                clock(start + length)
            )
        };
        let bells = [1, 2].iter().flat_map(|p| LENGTHS.iter().map(move |length| (*p, *length)));
        let moves = self.moves.iter().map(|(name, count)| format!("\"{name}\": {count}"));
        let until = format!("from: \"08:00\", until: \"{}:00\"", self.technician_until);
        let hours = DAYS.iter().map(|day| format!("(on: {day}, {until})"));
        let lessons = self.lessons.iter().map(|Taught { class, day, bell, room, .. }| {
            format!(
                "(file: \"{class}.ron\", class: \"{class}\", on: {day}, at: \"{bell}\", room: \
                 \"Room {room}\")"
            )
        });
        let list = |lines: &mut dyn Iterator<Item = String>| lines.collect::<Vec<_>>().join(", ");
        format!(
            "(\nformat: 1, week: \"2026-11-30\",\nbells: {{{}}},\nrooms: [(name: \"Room 1\"), \
             (name: \"Room 2\"), (name: \"Room 3\")],\nmoves: {{{}}},\nadults: [(name: \
             \"technician\", hours: [{}])],\nlessons: [{}],\n)\n",
            list(&mut bells.map(bell)),
            list(&mut moves.into_iter()),
            list(&mut hours.into_iter()),
            list(&mut lessons.into_iter()),
        )
    }

    /// Writes the week and its lessons into a folder; the week's file.
    pub fn write(&self, folder: &Path) -> PathBuf {
        for Taught { class, lesson, .. } in &self.lessons {
            fs::write(folder.join(format!("{class}.ron")), write_lesson(lesson).unwrap()).unwrap();
        }
        let path = folder.join("week.ron");
        fs::write(&path, self.text()).unwrap();
        path
    }

    /// The same with the lessons in another order.
    #[allow(dead_code)] // not every program that takes this in wants it
    pub fn turned(mut self) -> Self {
        self.lessons.reverse();
        self
    }

    /// The same with so many more of everything that moves.
    #[allow(dead_code)] // as above
    pub fn with_more(mut self, more: i64) -> Self {
        self.moves.iter_mut().for_each(|(_, count)| *count += more);
        self
    }

    /// The same with lessons of one day only.
    #[allow(dead_code)] // as above
    pub fn only(mut self, day: &str) -> Self {
        self.lessons.retain(|taught| taught.day == day);
        self
    }
}
