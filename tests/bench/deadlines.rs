//! How long after its time a command answers: the program itself over generated
//! lessons and demanding ones, with `--within`.
//!
//! `-- --commands N` runs another number than 500, `-- --program PATH` another
//! build of the program.

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

#[path = "../common/generate.rs"]
mod generate;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Instant;

use ovenbell::file::write_lesson;

/// Statuses that are documented for a lesson that is read.
const DOCUMENTED: [i32; 3] = [0, 1, 2];

const WITHIN: [&str; 3] = ["0.2", "1", "3"];

const COMMANDS: [&[&str]; 4] = [&["plan"], &["why"], &["changes"], &["today", "--late", "3"]];

/// Of every so many commands one is for a demanding lesson.
const DEMANDING_EVERY: usize = 5;

/// What is said after a word of the command.
fn said(word: &str) -> Option<String> {
    std::env::args().skip_while(|a| a != word).nth(1)
}

fn demanding() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/demanding");
    let mut files: Vec<PathBuf> =
        fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    files
}

fn main() {
    let folder = tempfile::tempdir().unwrap();
    let demanding = demanding();
    let commands: usize = said("--commands").and_then(|n| n.parse().ok()).unwrap_or(500);
    let program = said("--program").unwrap_or(env!("CARGO_BIN_EXE_ovenbell").to_owned());
    let mut over: Vec<(f64, String)> = Vec::new();
    for number in 0..commands {
        let file = if number.is_multiple_of(DEMANDING_EVERY) {
            demanding[number / DEMANDING_EVERY % demanding.len()].clone()
        } else {
            let path = folder.path().join(format!("{number}.ron"));
            let seed = u64::try_from(number).unwrap();
            fs::write(&path, write_lesson(&generate::lesson(seed)).unwrap()).unwrap();
            path
        };
        // Every demanding lesson comes to every command and time.
        let command = COMMANDS[(number + number / 20) % COMMANDS.len()];
        let within = WITHIN[(number + number / 60) % WITHIN.len()];
        let mut run = Command::new(&program);
        run.arg(command[0]).arg(&file).args(&command[1..]).args(["--within", within]);
        run.env("OVENBELL_DATA", folder.path().join("no-data"));
        run.stdout(Stdio::null()).stderr(Stdio::null());
        let begun = Instant::now();
        let status = run.status().unwrap();
        let took = begun.elapsed().as_secs_f64();
        let of = format!("{} {} --within {within}", command.join(" "), file.display());
        assert!(status.code().is_some_and(|c| DOCUMENTED.contains(&c)), "{of}: {status}");
        over.push((took - within.parse::<f64>().unwrap(), of));
    }
    over.sort_by(|a, b| a.0.total_cmp(&b.0));
    let at = |share: f64| {
        #[allow(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            clippy::cast_precision_loss
        )]
        let place = ((over.len() - 1) as f64 * share).round() as usize;
        over[place].0
    };
    println!("{} commands, seconds after their time (under 0: sooner):", over.len());
    println!("p50 {:.3}, p90 {:.3}, p99 {:.3}", at(0.5), at(0.9), at(0.99));
    for (late, of) in over.iter().rev().take(5) {
        println!("{late:8.3} {of}");
    }
}
