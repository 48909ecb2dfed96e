//! Scrolled areas that come to what the keyboard comes to.

use eframe::egui::scroll_area::ScrollAreaOutput;
use eframe::egui::{Id, Rangef, Rect, Response, ScrollArea, Ui};

/// Scrolled areas that follow the keyboard: every one that holds what can be focused should.
pub trait Follow {
    /// Shows what is inside, and scrolls to what has just been focused.
    fn follow<R>(self, ui: &mut Ui, inside: impl FnOnce(&mut Ui) -> R) -> ScrollAreaOutput<R>;
}

impl Follow for ScrollArea {
    fn follow<R>(self, ui: &mut Ui, inside: impl FnOnce(&mut Ui) -> R) -> ScrollAreaOutput<R> {
        self.show(ui, |ui| {
            let out = inside(ui);
            follow_focus(ui);
            out
        })
    }
}

/// A table that may be wider than the page.
pub fn sideways(ui: &mut Ui, name: &str, inside: impl FnOnce(&mut Ui)) {
    let area = ScrollArea::horizontal().id_salt(Id::unique(name));
    // No wider than what is seen of the page, or both would have to be scrolled.
    let width = ui.available_width().min(ui.clip_rect().width() - 16.0);
    let shown = area.max_width(width).auto_shrink([false, true]).show(ui, |ui| {
        inside(ui);
        let focused = come_to(ui).filter(|f| ui.min_rect().contains(f.rect.center()))?;
        ui.scroll_to_rect(focused.rect.expand(4.0), None);
        Some(focused.id)
    });
    if let Some(id) = shown.inner {
        let across = shown.inner_rect.x_range();
        ui.data_mut(|d| d.insert_temp(Id::unique(FOLLOWED), (id, across)));
    }
}

/// Scrolls to what the keyboard has just come to. Where one scrolled area lies
/// in another each has to, since the inner one keeps what it scrolls to for
/// itself; the outer one then goes to where the inner one lies, or both would go
/// the same way twice.
fn follow_focus(ui: &Ui) {
    let inner: Option<(Id, Rangef)> = ui.data(|d| d.get_temp(Id::unique(FOLLOWED)));
    let Some(focused) = come_to(ui) else { return };
    let inner = inner.filter(|(id, _)| *id == focused.id);
    let across = inner.map_or(focused.rect.x_range(), |(_, across)| across);
    // It may itself lie beside the page yet, where the inner area is scrolled away from it.
    let rect = Rect::from_x_y_ranges(across, focused.rect.y_range());
    if ui.min_rect().contains(rect.center()) {
        ui.scroll_to_rect(rect.expand(4.0), None);
    }
}

/// Which inner area has scrolled to what, and where that lies across the page.
const FOLLOWED: &str = "followed in an inner area";

/// What the keyboard has just come to.
fn come_to(ui: &Ui) -> Option<Response> {
    let gained = ui.memory(|m| m.focused().filter(|&id| !m.had_focus_last_frame(id)))?;
    ui.ctx().read_response(gained)
}
