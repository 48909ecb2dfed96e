//! Words of the lesson: clock times and shelves, beside the small words of
//! every layer.

use crate::model::{Adult, Lesson, PeriodId};
use crate::units::{ClockTime, Minute, Minutes};
pub use crate::words::{capital, counted, in_short, list, minutes, number, plural};

/// A minute of the lesson by the clock.
pub fn clock(lesson: &Lesson, minute: Minute) -> ClockTime {
    lesson.periods[0].start_clock.after(minute - Minute::BELL)
}

/// Minutes from a period's own start bell, by the clock.
pub fn clock_in(lesson: &Lesson, period: PeriodId, minute: Minute) -> ClockTime {
    lesson.periods[period.0].start_clock.after(minute - Minute::BELL)
}

/// "there 08:30 to 12:30", "not there that day". Hours of other days are none of it: by
/// the clock they would look like the day's own.
pub fn when_there(lesson: &Lesson, adult: &Adult) -> String {
    let midnight = Minute::BELL - lesson.periods[0].start_clock.minutes_since(ClockTime::MIDNIGHT);
    let (next, last) = (midnight + Minutes::new(24 * 60), midnight + Minutes::new(24 * 60 - 1));
    let hours = adult.hours.iter().filter(|&&(from, until)| from < next && midnight < until);
    let told: Vec<String> = hours
        .map(|&(from, until)| {
            let (from, until) = (from.max(midnight), until.min(last));
            format!("{} to {}", clock(lesson, from), clock(lesson, until))
        })
        .collect();
    match told.as_slice() {
        [] => "not there that day".to_owned(),
        hours => format!("there {}", list(hours)),
    }
}

/// Where a shelf is: "top shelf" and so on; "shelf" if there is only one.
pub fn shelf(index: usize, of: usize) -> String {
    match (index, of) {
        (_, 0 | 1) => "shelf".to_owned(),
        (0, _) => "top shelf".to_owned(),
        (i, n) if i + 1 == n => "bottom shelf".to_owned(),
        (1, 3) => "middle shelf".to_owned(),
        (i, _) => format!("shelf {}", i + 1),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shelves_are_named_by_their_place() {
        assert_eq!(shelf(1, 2), "bottom shelf");
        assert_eq!(shelf(0, 1), "shelf");
    }
}
