//! Lessons with the plan that groups were told.

use ovenbell::keep::told;

use super::lesson::{is_written_back, read};
use super::{can_be_told, outward};
use crate::input::Input;

/// The plan holds, or it is told why not; what still holds of it is a plan.
pub fn is_accepted(input: &Input<'_>) -> bool {
    let Some(loaded) = read(input) else { return false };
    if input.is_one_in(8) {
        is_written_back(input, &loaded);
    }
    let Some(kept) = &loaded.told else { return true };
    match told(&loaded.lesson, kept) {
        Ok(plan) if input.is_one_in(16) => outward::told(input, (&loaded.lesson, &plan)),
        Ok(_) => {}
        Err(no_longer) => {
            no_longer.findings.iter().for_each(can_be_told);
            if let Some((lesson, plan)) = &no_longer.rest {
                outward::told(input, (lesson, plan));
            }
        }
    }
    true
}
