//! What another plan's parts over the board say: outlines, ready times, steps
//! of the class, and groups and ovens that only it has.

use eframe::egui::{Id, Rect, Role, Sense, Ui, WidgetInfo, vec2};

use super::Canvas;
use crate::app::looks::say::say;
use crate::view::overlay::{GhostRow, Ghosts};

/// Steps of the class where the other plan has them.
pub fn bands(ui: &mut Ui, canvas: &Canvas<'_>, ghosts: &Ghosts) {
    for band in &ghosts.bands {
        let x = canvas.scale.x(band.from.get() as f32)..=canvas.scale.x(band.until.get() as f32);
        let rect = Rect::from_x_y_ranges(x, canvas.across.y_range());
        let seen = rect.intersect(ui.clip_rect()).intersect(canvas.across);
        told(ui, Id::unique(("ghost band", band.step)), seen, &band.spoken);
    }
}

/// The other plan's bars.
pub fn bars(ui: &mut Ui, canvas: &Canvas<'_>, ghosts: &Ghosts) {
    let clip = ui.clip_rect().intersect(canvas.across.expand(1.0));
    for (bar, area) in ghosts.bars().zip(&canvas.laid.ghosts) {
        let rect = canvas.rect(area).shrink2(vec2(0.5, 0.0));
        if clip.intersects(rect) {
            told(ui, Id::unique(("ghost", bar.id)), rect.intersect(clip), &bar.spoken);
        }
    }
}

/// The ready times of a row with its top here.
pub fn ready(ui: &mut Ui, canvas: &Canvas<'_>, ghost: &GhostRow, top: f32) {
    let rect = canvas.rect(&canvas.picture.ready_area(top));
    let id = Id::unique(("ready", ghost.name.as_str()));
    told(ui, id, rect.intersect(ui.clip_rect()), &ghost.spoken);
}

/// A group or an oven only the other plan has.
pub fn only_there(
    ui: &mut Ui,
    canvas: &Canvas<'_>,
    place: (f32, f32),
    (title, under): (&str, &str),
) {
    let seen = canvas.rect(&canvas.picture.name_area(place)).intersect(ui.clip_rect());
    if seen.is_positive() {
        let spoken = format!("{title}, only in the plan laid over, {under}");
        told(ui, Id::unique(("only there", title)), seen, &spoken);
    }
}

/// Says what something is to a pointer over it and to a screen reader.
fn told(ui: &Ui, id: Id, rect: Rect, spoken: &str) {
    let response = ui.interact(rect, id, Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, say(spoken)));
    response.on_hover_text(say(spoken));
}
