//! Tables of what was noted.

use ovenbell::afterwards::learned;
use ovenbell::file::outcomes::{load_outcomes, note_outcome, read_outcomes, with_outcome};
use ovenbell::file::past_minutes::{forget_class, load_minutes, note_minutes, read_minutes};
use ovenbell::file::read_lesson_knowing;
use ovenbell::model::{PastBake, PastMinutes};

use super::can_be_told;
use crate::input::Input;

/// What is read can be noted once more, and lessons are read by it.
pub fn outcomes(input: &Input<'_>) -> bool {
    let (bakes, findings) = match input.text() {
        Some(text) => read_outcomes(text),
        None => load_outcomes(&input.written("outcomes.csv")),
    };
    findings.iter().for_each(can_be_told);
    let (Some(text), Some(bake)) = (input.text(), bakes.last()) else { return false };
    if let Ok(more) = with_outcome(text, bake) {
        assert!(more.starts_with(text));
        let (again, _) = read_outcomes(&more);
        assert_eq!(again.len(), bakes.len() + 1);
        assert_eq!(again.last().map(|b| &b.tin), Some(&bake.tin));
    }
    if input.is_one_in(64) {
        let _ = note_outcome(&input.written("outcomes.csv"), bake);
        changes_no_more_than_minutes(&bakes);
    }
    true
}

/// A lesson in which minutes are not stated is one whatever bakes took.
fn changes_no_more_than_minutes(bakes: &[PastBake]) {
    let lesson = include_str!("../../../lessons/demo.ron");
    read_lesson_knowing(lesson, bakes).unwrap_or_else(|f| panic!("{f:?}"));
}

/// What is read is noted, learned from and forgotten.
pub fn minutes(input: &Input<'_>) -> bool {
    let (all, findings) = match input.text() {
        Some(text) => read_minutes(text),
        None => load_minutes(&input.written("minutes.csv")),
    };
    findings.iter().for_each(can_be_told);
    let Some(first) = all.first() else { return false };
    let took: Vec<&PastMinutes> = all.iter().filter(|m| m.is_of(&first.class)).collect();
    let learned = learned((0.8, 1.3), &took);
    assert!(learned.median > 0.0, "{learned:?}");
    assert!(learned.band.0 <= learned.median && learned.median <= learned.band.1, "{learned:?}");
    if input.is_one_in(64) {
        let path = input.written("minutes.csv");
        let more = PastMinutes { class: "9 Harbour".to_owned(), ..first.clone() };
        if note_minutes(&path, &[more]).is_ok() {
            forget_class(&path, "9 Harbour").unwrap();
            assert!(!load_minutes(&path).0.iter().any(|m| m.is_of("9 Harbour")));
        }
    }
    true
}
