//! The bar of the board that a time on paper is of.

use super::board::{Bar, BarId, Board};
use super::words::clock;
use crate::model::Lesson;
use crate::units::Minute;

/// The minute that a time of day is of a lesson, and a bar that begins or ends
/// then: of a group or an oven that is named beside the time, if one is.
/// `None` if nothing on the board begins or ends then.
pub fn bar_of_time(
    lesson: &Lesson,
    board: &Board,
    (time, beside): (&str, &str),
) -> Option<(Minute, BarId)> {
    let is_then = |minute: Minute| clock(lesson, minute).to_string() == time;
    // What begins then is meant before what ends.
    let begins: Vec<(&str, &Bar)> = named(board).filter(|(_, bar)| is_then(bar.from)).collect();
    let ends = named(board).filter(|(_, bar)| is_then(bar.until));
    let all: Vec<(&str, &Bar)> = begins.into_iter().chain(ends).collect();
    let is_named = |(name, _): &&(&str, &Bar)| !name.is_empty() && says(beside, name);
    let (_, bar) = all.iter().find(is_named).or_else(|| all.first())?;
    let minute = if is_then(bar.from) { bar.from } else { bar.until };
    Some((minute, bar.id))
}

/// All bars of groups and ovens, each with the name of its row or oven.
fn named(board: &Board) -> impl Iterator<Item = (&str, &Bar)> {
    let rows = board.rows.iter().flat_map(|row| row.bars.iter().map(|bar| (&*row.name, bar)));
    let ovens = board.ovens.iter().flat_map(|oven| {
        let bars = oven.shelves.iter().flatten();
        bars.map(|bar| (&*oven.name, bar))
    });
    rows.chain(ovens)
}

/// Whether a text has a name that no letter or digit goes on from.
fn says(text: &str, name: &str) -> bool {
    let goes_on = |at: usize| text[at..].chars().next().is_some_and(char::is_alphanumeric);
    text.match_indices(name).any(|(at, name)| !goes_on(at + name.len()))
}

#[cfg(test)]
mod tests {
    use super::says;

    #[test]
    fn a_name_is_no_part_of_a_longer_one() {
        assert!(says("IN: Oven 1, top shelf", "Oven 1") && says("Unit 1", "Unit 1"));
        assert!(!says("Unit 12", "Unit 1") && !says("", "Unit 1"));
    }
}
