//! How wide texts are, and texts cut to the room there is for them.

use eframe::egui::{Color32, FontId, Painter, Ui};

use super::say::say;

/// As much of a text, as it is said, as fits a width, with an ellipsis if it is cut.
pub fn fitted(painter: &Painter, text: &str, font: FontId, width: f32) -> String {
    crate::view::scene::cut(&say(text), width, |words| {
        painter.layout_no_wrap(words.to_owned(), font.clone(), Color32::PLACEHOLDER).size().x
    })
}

/// Width of a text as it is said.
pub fn width_of(ui: &Ui, text: &str, font: FontId) -> f32 {
    ui.painter().layout_no_wrap(say(text).into_owned(), font, Color32::PLACEHOLDER).size().x
}
