//! Whether there is little height.

use eframe::egui;

/// Whether the window is so low that the head gives way to the board.
pub fn is_low(ctx: &egui::Context) -> bool {
    ctx.content_rect().height() < 560.0
}
