//! Writes generated lessons into a folder, for solvers outside.
//!
//! `cargo run --no-default-features --example generated -- FOLDER FROM UNTIL
//! [--groups N] [--hard] [--round] [--wild]`: lessons of the seeds from `FROM` up to
//! `UNTIL`, as `seed-0007.ron`. With `--hard` the whole period is wanted as
//! spare time, so that the third aim is the earliest finish; with `--round` some
//! tins are round; with `--wild` there is one of each family for each seed, as
//! `shelves-0007.ron`, but for those that are no lesson.

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

use std::fs;
use std::path::Path;

use ovenbell::file::format::LessonFile;
use ovenbell::file::{read_lesson, write_lesson};

#[path = "../common/generate.rs"]
mod generate;
#[path = "../common/generate_wild.rs"]
mod generate_wild;

fn text(mut file: LessonFile, hard: bool) -> String {
    let text = write_lesson(&file).unwrap();
    if !hard {
        return text;
    }
    let lesson = read_lesson(&text).unwrap().lesson;
    file.rules.wanted_spare = lesson.periods.iter().map(|p| p.length().get()).max();
    write_lesson(&file).unwrap()
}

fn main() {
    let mut words: Vec<String> = std::env::args().skip(1).collect();
    let hard = words.iter().any(|w| w == "--hard");
    let round = words.iter().any(|w| w == "--round");
    let wild = words.iter().any(|w| w == "--wild");
    words.retain(|w| w != "--hard" && w != "--round" && w != "--wild");
    let groups = words.iter().position(|w| w == "--groups").map(|at| {
        let number = words[at + 1].parse().expect("--groups takes a number");
        words.drain(at..at + 2);
        number
    });
    let [folder, from, until] = &words[..] else {
        panic!("wanted: FOLDER FROM UNTIL [--groups N] [--hard] [--round]");
    };
    fs::create_dir_all(folder).unwrap();
    for seed in from.parse().unwrap()..until.parse::<u64>().unwrap() {
        if wild {
            for family in generate_wild::FAMILIES {
                let file = generate_wild::wild_lesson(family, seed);
                match write_lesson(&file).map(|text| read_lesson(&text)) {
                    Ok(Ok(_)) => {
                        let name = format!("{}-{seed:04}.ron", family.name());
                        fs::write(Path::new(folder).join(name), text(file, hard)).unwrap();
                    }
                    other => eprintln!("{} {seed} is no lesson: {other:?}", family.name()),
                }
            }
            continue;
        }
        let file = match groups {
            Some(groups) => generate::lesson_of(seed, groups),
            None if round => generate::round_lesson(seed),
            None => generate::lesson(seed),
        };
        let path = Path::new(folder).join(format!("seed-{seed:04}.ron"));
        fs::write(path, text(file, hard)).unwrap();
    }
}
