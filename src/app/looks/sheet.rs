//! A sheet: what parts of a place lie on, framed on the paper of the window; and the
//! card beside, a sheet along the right.

use eframe::egui::{Frame, Margin, Panel, Rect, Stroke, Ui, UiBuilder};

use super::landmark;
use super::theme::Palette;
use crate::app::state::Region;

/// A sheet with its usual air.
pub fn sheet(palette: &Palette) -> Frame {
    Frame::new()
        .fill(palette.card)
        .stroke(Stroke::new(1.0, palette.line))
        .corner_radius(8)
        .inner_margin(Margin::same(10))
}

/// The card along the right, so wide in points: a part of the window by this name,
/// which has the keyboard if it is the region gone to now. Where it is.
pub fn card_beside(
    ui: &mut Ui,
    width: f32,
    (name, now): (&'static str, Option<Region>),
    add: impl FnOnce(&mut Ui),
) -> Rect {
    let frame = sheet(Palette::of(ui.ctx()));
    let card = Panel::right(name)
        .exact_size(width)
        .resizable(false)
        .frame(frame.outer_margin(Margin { left: 0, right: 14, top: 0, bottom: 12 }))
        .show_separator_line(false)
        .show(ui, |ui| {
            // What is too wide for the card must not widen it: what fills the place
            // would be drawn over it.
            let place = ui.available_rect_before_wrap();
            let mut inside = ui.new_child(UiBuilder::new().max_rect(place));
            inside.shrink_clip_rect(place.expand(5.0));
            landmark(&inside, Region::Card, now, name);
            add(&mut inside);
            ui.advance_cursor_after_rect(place);
        });
    card.response.rect
}
