//! Copies for the day.

use ovenbell::edit::FileChange;
use ovenbell::model::FactKind;
use ovenbell::today::{Standing, TakeBack, differences, minute_of, presumed, tell};
use ovenbell::units::ClockTime;

use super::lesson::{is_written_back, planned, read};
use super::outward;
use crate::input::Input;

/// It is planned and told as a lesson is, and more is told of its groups.
pub fn is_accepted(input: &Input<'_>) -> bool {
    let Some(loaded) = read(input) else { return false };
    let lesson = &loaded.lesson;
    if input.of.lesson.as_deref() == Some(lesson) && !input.is_one_in(8) {
        return true;
    }
    is_written_back(input, &loaded);
    let Some(plan) = planned(input, lesson) else { return true };
    outward::told(input, (lesson, &plan));
    let at = ClockTime::parse("10:30").unwrap();
    let now = minute_of(lesson, at);
    let facts = lesson.today.as_ref().map_or(&[][..], |today| &today.facts);
    let standing = Standing::of(lesson, &plan, facts, now);
    for group in &standing.groups {
        let _ = group.to_tell(lesson, &plan, now);
    }
    let _ = presumed((lesson, &plan), at);
    assert!(differences((lesson, &plan), (lesson, &plan)).sentences().len() < 2);
    let group = &lesson.groups[0].name;
    if let Ok(file) = tell(&loaded.file, (group, FactKind::In), at, &[]) {
        assert!(TakeBack.made(&file).unwrap() == loaded.file);
    }
    true
}
