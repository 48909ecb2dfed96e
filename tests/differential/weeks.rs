//! Writes what hangs together in generated weeks into a folder, for solvers outside.
//!
//! `cargo run --no-default-features --example weeks -- FOLDER FROM UNTIL [DECODINGS]`:
//! for weeks of the seeds from `FROM` up to `UNTIL` each set of lessons that hang
//! together, joined, as `week-0007-1.json`, and beside it what is said of it, as
//! `week-0007-1.claim.json`.

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

use std::fs;
use std::path::Path;
use std::sync::atomic::AtomicBool;

use ovenbell::export::problem::problem;
use ovenbell::graph::expand;
use ovenbell::week::{Planner, coupled_sets, load};
use serde_json::json;

#[path = "../common/generate.rs"]
mod generate;
#[path = "../common/generate_week.rs"]
mod generate_week;

fn main() {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let [folder, from, until, more @ ..] = &words[..] else {
        panic!("wanted: FOLDER FROM UNTIL [DECODINGS]");
    };
    let decodings = more.first().map_or(2000, |n| n.parse().expect("DECODINGS is a number"));
    fs::create_dir_all(folder).unwrap();
    let stop = AtomicBool::new(false);
    for seed in from.parse().unwrap()..until.parse::<u64>().unwrap() {
        let own = tempfile::tempdir().unwrap();
        let path = generate_week::week(seed, 4).write(own.path());
        let loaded = load(&path, &[]).unwrap_or_else(|findings| panic!("{findings:#?}"));
        let planner = Planner::new(&[], decodings, &stop);
        let days = loaded.week.days.iter();
        let sets = days.flat_map(|day| coupled_sets(&loaded.week, &planner, day.date));
        for (number, set) in sets.enumerate() {
            let name = Path::new(folder).join(format!("week-{seed:04}-{}", number + 1));
            let text = problem(&set.lesson, &expand(&set.lesson)).unwrap();
            fs::write(name.with_extension("json"), text).unwrap();
            let found = set.found.as_ref();
            let claim = json!({
                "served": found.map(|found| found.served),
                "at_most": found.map(|found| found.at_most),
                "of": found.map(|found| found.of),
                "is_exact": set.is_exact,
            });
            fs::write(name.with_extension("claim.json"), claim.to_string()).unwrap();
        }
    }
}
