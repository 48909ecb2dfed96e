//! Scheduling problems with published optima, for the tests of the planner:
//! `tests/data/psplib`, whose `SOURCE.md` says where they come from.

use std::path::{Path, PathBuf};

use super::scheduling::Scheduling;

use super::rcpsp;

/// A project with four renewable resources. The first and the last activity are
/// its start and end and take no time.
pub struct Project {
    /// Its name.
    pub name: String,
    /// The least time in which it can be done.
    pub optimum: i32,
    /// The problem itself.
    pub problem: Scheduling,
}

/// A job shop: each job goes through its machines in the order given.
pub struct JobShop {
    /// Its name.
    pub name: String,
    /// The least time in which all jobs can be done.
    pub optimum: i32,
    /// Jobs by machine (from 0) and time.
    pub jobs: Vec<Vec<(usize, i32)>>,
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/psplib")
}

/// Names and optima of the problems whose name begins so.
fn published(begins: &str) -> Vec<(String, i32)> {
    let mut rows = csv::Reader::from_path(folder().join("optima.csv")).unwrap();
    let all = rows.deserialize().map(|row| row.unwrap());
    all.filter(|(name, _): &(String, i32)| name.starts_with(begins)).collect()
}

/// Three easy ones, then five whose resources are scarce.
pub fn j30() -> Vec<Project> {
    let projects = published("j30").into_iter().map(|(name, optimum)| {
        let problem = rcpsp::read(&folder().join(format!("{name}.sm"))).unwrap();
        assert_eq!((problem.activities.len(), problem.resources.len()), (32, 4), "{name}");
        Project { name, optimum, problem }
    });
    let projects: Vec<Project> = projects.collect();
    assert_eq!(projects.len(), 8);
    projects
}

/// Six jobs on six machines.
pub fn ft06() -> JobShop {
    let (name, optimum) = published("ft06").remove(0);
    let text = std::fs::read_to_string(folder().join("ft06.txt")).unwrap();
    let jobs: Vec<Vec<(usize, i32)>> = text
        .lines()
        .skip(1)
        .map(|line| {
            let words: Vec<&str> = line.split_whitespace().collect();
            words.chunks(2).map(|w| (w[0].parse().unwrap(), w[1].parse().unwrap())).collect()
        })
        .collect();
    assert!(jobs.len() == 6 && jobs.iter().all(|job| job.len() == 6), "six jobs, six machines");
    JobShop { name, optimum, jobs }
}
