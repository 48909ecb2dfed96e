//! Weeks, whose lessons stand in their folder as they are.

use std::sync::atomic::AtomicBool;

use ovenbell::export::week::{json, text};
use ovenbell::file::{load_week, merged_week, read_week};
use ovenbell::week::{Asked, Planner, report_as_it_comes, understood};

use super::{can_be_told, or_told};
use crate::corpus;
use crate::input::Input;

/// Whatever is accepted is written; of one in so many all is told, moves too of fewer.
pub fn is_accepted(input: &Input<'_>) -> bool {
    let read = match input.text() {
        Some(text) => read_week(text),
        None => load_week(&input.written("week.ron")),
    };
    let Some(week) = or_told(read) else { return false };
    let written = merged_week(week.text(), &week.file).unwrap();
    let again = read_week(&written).unwrap_or_else(|f| panic!("{f:?}")).file;
    // By their letters: a length that is no number is not equal to itself.
    assert_eq!(format!("{again:?}"), format!("{:?}", week.file));
    let Some(loaded) = or_told(understood(&week, &corpus::week_folder(), &[])) else {
        return false;
    };
    loaded.findings.iter().for_each(can_be_told);
    if input.is_one_in(16) {
        let stop = AtomicBool::new(false);
        let planner = Planner::new(&[], 3, &stop);
        let asked = Asked { day: None, moves: input.is_one_in(64) };
        let report = report_as_it_comes(&loaded.week, &planner, asked, &|_| {});
        assert!(!text(&loaded.week, &report).is_empty());
        let told = json(&loaded.week, &report, Vec::new()).unwrap();
        serde_json::from_str::<serde_json::Value>(&told).unwrap();
    }
    true
}
