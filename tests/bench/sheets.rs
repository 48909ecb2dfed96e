//! How long the sheets of a class take: to be made and laid out, and to become a
//! PDF.
//!
//! `cargo bench --no-default-features --bench sheets`

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

#[path = "../common/planned.rs"]
mod planned;

use std::path::Path;
use std::time::Instant;

use chrono::NaiveDate;
use ovenbell::file::load_lesson;
use ovenbell::model::Lesson;
use ovenbell::papers::head::Head;
use ovenbell::papers::paper::Print;
use ovenbell::papers::{LaidSheet, Matter, Part, laid_out, printed, sheets};
use ovenbell::speech::English;
use ovenbell::speech::allergens::list;
use ovenbell::stores::{Extra, Stores};
use planned::planned;

/// The least of so many runs is told.
const RUNS: u32 = 5;

/// The demo's lesson with so many groups, each again with another number.
fn of_groups(groups: usize) -> Lesson {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron");
    let mut parts = load_lesson(&path).unwrap().lesson.into_parts();
    let own = parts.groups.clone();
    parts.groups = own.iter().cycle().take(groups).cloned().collect();
    for (i, group) in parts.groups.iter_mut().enumerate() {
        group.name = format!("Unit {}", i + 1);
    }
    Lesson::new(parts).unwrap()
}

fn main() {
    println!("groups | served | pages | ms: laid out | PDF | kB");
    for groups in [8, 12, 20] {
        let lesson = of_groups(groups);
        let plan = planned(&lesson, 2_000);
        let stores = Stores::of(&lesson, Some(&plan), Extra::usual(&lesson));
        let matter = Matter {
            lesson: &lesson,
            plan: Some(&plan),
            stores,
            set_out: None,
            allergens: list(English::British),
        };
        let issued = NaiveDate::from_ymd_opt(2026, 11, 20).unwrap().and_hms_opt(8, 0, 0).unwrap();
        let head = Head::of(&lesson, issued);
        let (mut to_lay, mut to_print) = (f64::MAX, f64::MAX);
        let (mut pages, mut bytes) = (0, 0);
        for _ in 0..RUNS {
            let begun = Instant::now();
            let (all, _) = sheets(&matter, &Part::ALL, "");
            let laid = laid_out(&all, &head, Print::default(), &str::to_owned).unwrap();
            to_lay = to_lay.min(begun.elapsed().as_secs_f64());
            let begun = Instant::now();
            let made = printed(&laid.iter().collect::<Vec<_>>(), &head, "en-GB").unwrap();
            to_print = to_print.min(begun.elapsed().as_secs_f64());
            pages = laid.iter().map(|sheet: &LaidSheet| sheet.pages.len()).sum();
            bytes = made.bytes.len();
        }
        let served = plan.objective().served;
        let (to_lay, to_print) = (1_000.0 * to_lay, 1_000.0 * to_print);
        let kilobytes = bytes / 1_000;
        println!("{groups} | {served} | {pages} | {to_lay:.0} | {to_print:.0} | {kilobytes}");
    }
}
