//! What a class took for parts of its lessons, beside the minutes that are planned for
//! it now.

use super::take_up::LearnedMinutes;
use super::told::half;
use super::{Part, hint_words, learned};
use crate::check::CheckedPlan;
use crate::model::{Lesson, LessonPart, PastMinutes};
use crate::units::plain_number;
use crate::view::words::list;

/// What is learned is offered where it is off the plan by this share (judgement).
const WORTH_IT: f64 = 0.1;
/// Minutes as near as this, as a share, are the same minutes (judgement).
const SAME: f64 = 0.05;
/// So many of a class's last lessons are named.
const NAMED: usize = 6;

/// What a class took for a part of the lesson.
#[derive(Debug, Clone, PartialEq)]
pub struct ClassTook {
    /// Which part.
    pub part: LessonPart,
    /// "8 Harbour took 24, 26 and 25 min for making up: 3 lessons: a hint, no more".
    pub words: String,
    /// What may be put into the lesson, never unasked, and in words: "22 min, from 5
    /// lessons".
    pub offer: Option<(String, LearnedMinutes)>,
}

/// What the lesson's class took for the parts that are planned, as far as it is noted.
/// Minutes are offered only while those are planned by which it took so long.
pub fn class_took(lesson: &Lesson, plan: &CheckedPlan, past: &[PastMinutes]) -> Vec<ClassTook> {
    let parts = super::observed::as_planned(lesson, plan);
    parts.iter().filter_map(|part| of_part(part, past)).collect()
}

fn of_part(part: &Part, past: &[PastMinutes]) -> Option<ClassTook> {
    let Part { minutes: now, spread } = part;
    let same = |m: &&PastMinutes| m.part == now.part && m.is_of(&now.class);
    let mut took: Vec<&PastMinutes> = past.iter().filter(same).collect();
    took.sort_by_key(|m| m.date);
    let last = took.last()?;
    let named = &took[took.len().saturating_sub(NAMED)..];
    let named: Vec<String> = named.iter().map(|m| plain_number(m.took.get())).collect();
    let is_same = |m: &&&PastMinutes| near(m.planned.get(), last.planned.get());
    let of_same: Vec<&PastMinutes> = took.iter().filter(is_same).copied().collect();
    let learned = learned(*spread, &of_same);
    let minutes = half(now.planned.get() * learned.median);
    let (step, ..) = now.part.names();
    let offered = learned.is_offered()
        && WORTH_IT <= (learned.median - 1.0).abs()
        && near(now.planned.get(), last.planned.get());
    Some(ClassTook {
        part: now.part.clone(),
        words: format!(
            "{} took {} min for {step}, {} are planned: {}.",
            now.class.trim(),
            list(&named),
            plain_number(now.planned.get()),
            hint_words(took.len()),
        ),
        offer: offered.then(|| {
            let words = format!("{} min, {}", plain_number(minutes), hint_words(of_same.len()));
            (words, LearnedMinutes { part: now.part.clone(), factor: learned.median })
        }),
    })
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= SAME * b
}
