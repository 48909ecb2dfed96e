//! CP-SAT on an exported problem, run as a program of its own.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use ovenbell::export::problem::problem;
use ovenbell::graph::expand;
use ovenbell::model::Lesson;
use serde::Deserialize;

use super::race::{Run, Values};

#[derive(Deserialize)]
struct Line {
    problem: String,
    seen: Vec<(f64, (i64, i64, i64))>,
    proved: bool,
    seconds: f64,
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// For each lesson the runs of CP-SAT, one for each number of workers and way
/// of modelling.
pub fn runs(lessons: &[Lesson], seconds: f64) -> Result<Vec<Vec<Run>>, String> {
    let python = root().join("target/differential/bin/python");
    if !python.exists() {
        return Err("CP-SAT is not there; `tests/differential/run` installs it".into());
    }
    let folder = root().join("target/race");
    fs::create_dir_all(&folder).map_err(|e| e.to_string())?;
    let mut files: Vec<PathBuf> = Vec::new();
    for (i, lesson) in lessons.iter().enumerate() {
        let path = folder.join(format!("{i}.json"));
        let text = problem(lesson, &expand(lesson)).map_err(|e| e.to_string())?;
        fs::write(&path, text).map_err(|e| e.to_string())?;
        files.push(path);
    }
    let out = Command::new(python)
        .arg(root().join("tests/differential/race.py"))
        .args(&files)
        .args(["--seconds", &seconds.to_string()])
        .output()
        .map_err(|e| e.to_string())?;
    if !out.status.success() {
        return Err(String::from_utf8_lossy(&out.stderr).into_owned());
    }
    let mut runs: Vec<Vec<Run>> = vec![Vec::new(); lessons.len()];
    for line in String::from_utf8_lossy(&out.stdout).lines() {
        let line: Line = serde_json::from_str(line).map_err(|e| e.to_string())?;
        let at: usize = line.problem.parse().map_err(|_| "a stray answer".to_owned())?;
        let seen = line.seen.into_iter().map(|(at, (served, departures, shortfall))| {
            (at, Values { not_served: -served, departures, shortfall })
        });
        runs[at].push(Run { seen: seen.collect(), proved: line.proved.then_some(line.seconds) });
    }
    Ok(runs)
}
