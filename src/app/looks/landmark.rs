//! Regions of the window that F6 gives the keyboard to.

use eframe::egui::{Id, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo};

use super::say::say;
use super::theme::Palette;
use crate::app::state::Region;

/// A region that can have the keyboard as a whole: the Tab key goes on from it
/// to what is in it, and stops at the region itself only once it has been gone
/// to.
pub fn landmark(ui: &Ui, region: Region, now: Option<Region>, name: &str) {
    let id = Id::unique(("region", region));
    let wanted = now == Some(region);
    if !wanted && !ui.memory(|m| m.has_focus(id)) {
        return;
    }
    let rect = ui.max_rect();
    let response = ui.interact(rect, id, Sense::focusable_noninteractive());
    response.widget_info(|| WidgetInfo::labeled(Role::Group, true, say(name)));
    if wanted {
        response.request_focus();
    }
    let stroke = Stroke::new(3.0, Palette::of(ui.ctx()).focus);
    ui.painter().rect_stroke(rect.expand(5.0), 6.0, stroke, StrokeKind::Inside);
}
