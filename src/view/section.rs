//! Tins in section, to scale: walls, raw mixture, and how far it may rise to.

use crate::bake::tin_table::TinRow;
use crate::model::{Lesson, Recipe, TinForm};

/// One tin cut through the middle, in millimetres; of a tray, one hole.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// What it is.
    pub name: String,
    /// Inner width at the cut.
    pub width: f64,
    /// Height of the wall.
    pub height: f64,
    /// Depth of the raw mixture.
    pub depth: Option<f64>,
    /// Depth at the fill limit.
    pub limit: Option<f64>,
    /// The same in words.
    pub spoken: String,
}

/// The section of a row; `None` where the inner size is not known. A round
/// tin is cut through its middle, an oblong one along its shorter side.
pub fn section(lesson: &Lesson, recipe: &Recipe, row: &TinRow) -> Option<Section> {
    let tin = &lesson.tins[row.tin().0];
    let (width, what) = match tin.form? {
        TinForm::Round { across } => (across, "round"),
        TinForm::Rect { long, wide } => (long.min(wide), "cut across"),
        TinForm::Holes { across, .. } => (across, "one hole"),
        TinForm::Sheet => return None,
    };
    let height = f64::from(tin.height.get());
    let limit = row.depth.zip(row.fill).map(|(depth, fill)| {
        // Where walls slope, depth and fill do not go together exactly; the
        // line is where the walls would be upright.
        (depth / fill.value * recipe.bake.fill_limit.value).min(height)
    });
    let depth = row.depth.map_or(String::new(), |d| format!(", mixture {d:.0} mm deep"));
    let to = limit.map_or(String::new(), |l| format!(", to be filled to {l:.0} mm at most"));
    let spoken =
        format!("{} ({what}), {} mm wide, {height:.0} mm high{depth}{to}", tin.name, width.get());
    Some(Section {
        name: row.as_choice.label.clone(),
        width: f64::from(width.get()),
        height,
        depth: row.depth,
        limit,
        spoken,
    })
}

/// The recipe's own tin to set beside another: the first whose minutes the
/// recipe states.
pub fn own_row(table: &[TinRow]) -> Option<&TinRow> {
    let stated = |row: &&TinRow| {
        row.choice.is_some()
            && row.expected.as_ref().is_ok_and(|e| !crate::bake::anchor::is_worked_out(e.origin))
    };
    table.iter().find(stated)
}
