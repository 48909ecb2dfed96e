//! Texts cut to the room there is for them.

use eframe::egui::{FontId, Painter};

use super::say::say;

/// As much of a text, as it is said, as fits a width, with an ellipsis if it is cut.
pub fn fitted(painter: &Painter, text: &str, font: FontId, width: f32) -> String {
    let wide = |t: &str| {
        let galley =
            painter.layout_no_wrap(t.to_owned(), font.clone(), eframe::egui::Color32::WHITE);
        galley.size().x <= width
    };
    // A name of thousands of letters is not laid out to find that it is long.
    let short = crate::finding::shortened(&say(text), 60);
    if wide(&short) {
        return short;
    }
    let letters: Vec<char> = short.chars().collect();
    let (mut low, mut high) = (0, letters.len());
    while low < high {
        let mid = (low + high).div_ceil(2);
        let part: String = letters[..mid].iter().chain(&['…']).collect();
        if wide(&part) { low = mid } else { high = mid - 1 }
    }
    letters[..low].iter().chain(&['…']).collect()
}
