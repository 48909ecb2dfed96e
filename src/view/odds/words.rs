//! Odds in words.

use crate::check::CheckedPlan;
use crate::model::{GroupId, Lesson, StepId};
use crate::play::{Checkpoint, Mark, TrueAt, Whom};
use crate::units::Minute;
use crate::view::words::{clock, list};

/// Odds in words, never as a percentage.
pub fn odds_words(shares: &[f64]) -> String {
    let low = shares.iter().copied().fold(f64::INFINITY, f64::min);
    let high = shares.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    match (tenths(low), tenths(high)) {
        (a, b) if a == b && matches!(a, Tenths::Of(_)) => format!("about {} of 10", a.words()),
        (a, b) if a == b => a.words(),
        (a @ Tenths::Of(_), b @ Tenths::Of(_)) => format!("{} to {} of 10", a.words(), b.words()),
        (Tenths::Seldom, b @ Tenths::Of(_)) => format!("seldom to {} of 10", b.words()),
        (a @ Tenths::Of(_), b) => format!("{} of 10 to {}", a.words(), b.words()),
        (a, b) => format!("{} to {}", a.words(), b.words()),
    }
}

/// A share as it is told.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Tenths {
    /// Less than one in ten.
    Seldom,
    /// From 1 to 9 of ten.
    Of(u8),
    /// All but a few.
    NearlyAlways,
}

impl Tenths {
    fn words(self) -> String {
        match self {
            Self::Seldom => "seldom".to_owned(),
            Self::Of(n) => n.to_string(),
            Self::NearlyAlways => "nearly always".to_owned(),
        }
    }
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // 1 to 9
pub(super) fn tenths(share: f64) -> Tenths {
    match share {
        s if s < 0.1 => Tenths::Seldom,
        s if s >= 0.95 => Tenths::NearlyAlways,
        s => Tenths::Of((s * 10.0).round().clamp(1.0, 9.0) as u8),
    }
}

/// The name of a step of the method a group has in a plan.
pub fn step_name<'a>(
    lesson: &'a Lesson,
    plan: &CheckedPlan,
    group: GroupId,
    step: StepId,
) -> &'a str {
    let choice = plan.plan().choice(group);
    let method = choice.map(|c| lesson.method_of(group, c.method));
    method.map_or("", |m| &m.steps[step.0].name)
}

/// What has been done at a checkpoint.
pub fn mark_words(mark: Mark) -> &'static str {
    match mark {
        Mark::First => "done the first step",
        Mark::Filled => "filled",
        Mark::Loaded => "loaded",
    }
}

/// "everyone has filled", "Unit 5 has done whisk".
pub fn who_has_done(lesson: &Lesson, plan: &CheckedPlan, point: &Checkpoint) -> String {
    let who = match point.whom {
        Whom::Class => "everyone",
        Whom::Group(group, _) => &lesson.group(group).name,
    };
    match (point.mark, point.whom) {
        (Mark::First, Whom::Group(group, step)) => {
            format!("{who} has done {}", step_name(lesson, plan, group, step))
        }
        (mark, _) => format!("{who} has {}", mark_words(mark)),
    }
}

/// "out 8 of 10 if so, about 3 of 10 if not".
pub fn if_words(point: &Checkpoint) -> String {
    let (so, not) = (odds_words(&[point.odds_if]), odds_words(&[point.odds_if_later]));
    format!("out {so} if so, {not} if not")
}

/// "weigh and mix over, load begun".
pub fn true_words(lesson: &Lesson, plan: &CheckedPlan, of: &TrueAt) -> String {
    let names = |steps: &[StepId]| {
        let name = |&step: &StepId| step_name(lesson, plan, of.group, step).to_owned();
        list(&steps.iter().map(name).collect::<Vec<_>>())
    };
    match (of.over.as_slice(), of.begun.as_slice()) {
        ([], []) => "nothing yet".to_owned(),
        ([], begun) => format!("{} begun", names(begun)),
        (over, []) => format!("{} over", names(over)),
        (over, begun) => format!("{} over, {} begun", names(over), names(begun)),
    }
}

/// A minute by the clock, rounded up.
pub fn at(lesson: &Lesson, minute: f64) -> String {
    clock(lesson, whole(minute)).to_string()
}

/// The whole minute by which a moment has come.
#[allow(clippy::cast_possible_truncation)] // minutes of a day
fn whole(minute: f64) -> Minute {
    Minute::new((minute - 1e-6).ceil() as i32)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn odds_are_told_in_tenths_and_never_as_certain() {
        assert_eq!(odds_words(&[0.21, 0.68]), "2 to 7 of 10");
        assert_eq!(odds_words(&[0.62]), "about 6 of 10");
        assert_eq!(odds_words(&[0.58, 0.62]), "about 6 of 10");
        assert_eq!(odds_words(&[0.04, 0.06]), "seldom");
        assert_eq!(odds_words(&[0.04, 0.33]), "seldom to 3 of 10");
        assert_eq!(odds_words(&[0.7, 1.0]), "7 of 10 to nearly always");
        assert_eq!(odds_words(&[0.0, 1.0]), "seldom to nearly always");
        assert_eq!(odds_words(&[1.0]), "nearly always");
        assert_eq!(odds_words(&[0.94]), "about 9 of 10");
    }
}
