//! Small words: numbers, clock times, lists.

use crate::model::{Lesson, PeriodId};
use crate::units::{ClockTime, Minute};

/// Numbers up to twenty in words, larger ones in figures.
pub fn number(n: usize) -> String {
    const WORDS: [&str; 21] = [
        "none",
        "one",
        "two",
        "three",
        "four",
        "five",
        "six",
        "seven",
        "eight",
        "nine",
        "ten",
        "eleven",
        "twelve",
        "thirteen",
        "fourteen",
        "fifteen",
        "sixteen",
        "seventeen",
        "eighteen",
        "nineteen",
        "twenty",
    ];
    WORDS.get(n).map_or_else(|| n.to_string(), |w| (*w).to_owned())
}

/// With a capital first letter.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

/// "1 minute", "6 minutes".
pub fn minutes(n: i32) -> String {
    if n == 1 { "1 minute".to_owned() } else { format!("{n} minutes") }
}

/// "A", "A and B", "A, B and C".
pub fn list(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [front @ .., last] => format!("{} and {last}", front.join(", ")),
    }
}

/// Names with runs of numbers told by their ends: "Unit 3 to Unit 6" for four.
pub fn in_short(names: &[String]) -> Vec<String> {
    let numbered = |name: &String| -> Option<(String, u32)> {
        let (stem, number) = name.rsplit_once(' ')?;
        Some((stem.to_owned(), number.parse().ok()?))
    };
    let mut short = Vec::new();
    let mut from = 0;
    while from < names.len() {
        let mut to = from;
        while let Some(next) = names.get(to + 1)
            && let (Some((stem, n)), Some((next_stem, m))) = (numbered(&names[to]), numbered(next))
            && stem == next_stem
            && n.checked_add(1) == Some(m)
        {
            to += 1;
        }
        if to > from + 1 {
            short.push(format!("{} to {}", names[from], names[to]));
        } else {
            short.extend_from_slice(&names[from..=to]);
        }
        from = to + 1;
    }
    short
}

/// A minute of the lesson by the clock.
pub fn clock(lesson: &Lesson, minute: Minute) -> ClockTime {
    lesson.periods[0].start_clock.after(minute - Minute::BELL)
}

/// Minutes from a period's own start bell, by the clock.
pub fn clock_in(lesson: &Lesson, period: PeriodId, minute: Minute) -> ClockTime {
    lesson.periods[period.0].start_clock.after(minute - Minute::BELL)
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
    fn words_read_as_a_person_would_write_them() {
        assert_eq!(capital(&number(7)), "Seven");
        assert_eq!(number(21), "21");
        assert_eq!(minutes(1), "1 minute");
        let names = ["Unit 1", "Unit 2", "Unit 4"].map(String::from);
        assert_eq!(list(&names), "Unit 1, Unit 2 and Unit 4");
        let names = ["Unit 1", "Unit 2", "Unit 4", "Unit 5", "Unit 6", "Pair 7", "Pair"];
        let names = names.map(String::from);
        assert_eq!(in_short(&names), ["Unit 1", "Unit 2", "Unit 4 to Unit 6", "Pair 7", "Pair"]);
        assert_eq!(shelf(1, 2), "bottom shelf");
        assert_eq!(shelf(0, 1), "shelf");
    }
}
