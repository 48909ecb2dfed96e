//! What is said of a tin: minutes with their band, how full, where from.

use crate::bake::Estimate;
use crate::bake::tin_table::TinRow;
use crate::model::{Lesson, Origin, Recipe};
use crate::units::plain_number;

/// "16 to 27": four of five bakes.
pub fn band(estimate: &Estimate) -> String {
    format!("{:.0} to {:.0}", estimate.eighty.0.get().floor(), estimate.eighty.1.get().ceil())
}

/// "2 × round 18 cm" where the label is another, or more than one is filled.
pub fn how_many(lesson_tin: &str, row: &TinRow) -> String {
    let count = row.as_choice.count;
    if count == 1 { lesson_tin.to_owned() } else { format!("{count} × {lesson_tin}") }
}

/// "31 mm deep, 58 % full (limit 67 %)"; empty where nothing is known.
pub fn filled(recipe: &Recipe, row: &TinRow) -> String {
    let mut parts = Vec::new();
    if let Some(depth) = row.depth {
        parts.push(format!("{depth:.0} mm deep"));
    }
    if let Some(fill) = row.fill {
        let limit = recipe.bake.fill_limit.value;
        let over = if fill.value > limit + 1e-9 { ", over the limit" } else { "" };
        let assumed = if fill.origin == Origin::Assumed { ", assumed" } else { "" };
        parts.push(format!(
            "{:.0} % full{over} (limit {:.0} %){assumed}",
            100.0 * fill.value,
            100.0 * limit
        ));
    }
    parts.join(", ")
}

/// What makes the minutes doubtful, in sentences.
pub fn doubts(row: &TinRow) -> Vec<String> {
    let Ok(expected) = &row.expected else { return Vec::new() };
    let mut doubts = Vec::new();
    if let Some(others) = row.is_odd() {
        doubts.push(format!(
            "the recipe's other tins say {:.0}, nine times in ten {:.0} to {:.0}",
            others.usual.get(),
            others.ninety.0.get(),
            others.ninety.1.get()
        ));
    }
    if let Some((bakes, learned)) = expected.by_bakes {
        let bakes = if bakes == 1 { "1 bake".to_owned() } else { format!("{bakes} bakes") };
        let (usual, stated) = (learned.usual.get(), expected.estimate.usual.get());
        if (usual - stated).abs() >= 1.0 {
            doubts.push(format!("with {bakes} noted it comes to {usual:.0}"));
        }
    }
    let (low, high) = (expected.estimate.ninety.0, expected.estimate.ninety.1);
    for strange in row.took.iter().filter(|&&took| took < low || took > high) {
        doubts.push(format!(
            "a bake of {} min is noted, outside nine of ten: a slip of the pen?",
            plain_number(strange.get())
        ));
    }
    if let Some(differ) = expected.estimate.disagreement {
        doubts.push(differ.to_string());
    }
    if let Some(kappa) = expected.kappa.and_then(crate::bake::estimate::suspicious) {
        doubts.push(kappa.to_string());
    }
    doubts
}

/// Minutes that were noted: "took 22, 24 and 23.5".
pub fn took(row: &TinRow) -> String {
    let noted: Vec<String> = row.took.iter().map(|m| plain_number(m.get())).collect();
    if noted.is_empty() { String::new() } else { format!("took {}", super::words::list(&noted)) }
}

/// The kind of tin of a row.
pub fn tin_name<'a>(lesson: &'a Lesson, row: &TinRow) -> &'a str {
    &lesson.tins[row.tin().0].name
}

/// With a capital and a full stop.
pub fn sentence(text: &str) -> String {
    let text = crate::view::words::capital(text);
    if text.ends_with(['.', '?']) { text } else { format!("{text}.") }
}
