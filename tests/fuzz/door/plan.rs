//! Plans by themselves, read against the lesson they are of.

use ovenbell::check::check;
use ovenbell::file::{is_plan, load_plan, read_plan, write_plan};

use super::{or_told, outward};
use crate::input::Input;

/// Whatever is read is judged; what the checker accepts is told.
pub fn is_accepted(input: &Input<'_>) -> bool {
    let lesson = input.of.lesson.as_deref().unwrap();
    let read = match input.text() {
        Some(text) => read_plan(lesson, text),
        None => load_plan(&input.written("plan.ron"), lesson),
    };
    let Some(plan) = or_told(read) else { return false };
    assert!(input.text().is_some_and(is_plan));
    let again = read_plan(lesson, &write_plan(lesson, &plan));
    assert_eq!(again.as_ref(), Ok(&plan));
    match check(lesson, plan) {
        Ok(plan) if input.is_one_in(16) => outward::told(input, (lesson, &plan)),
        Ok(_) => {}
        Err(breaches) => {
            assert!(!breaches.is_empty());
            for breach in &breaches {
                assert!(!breach.sentence(lesson).is_empty());
                assert!(!breach.by_the_clock(lesson).is_empty());
            }
        }
    }
    true
}
