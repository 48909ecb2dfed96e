//! What can be done with odds over the board and what they say: checkpoints along
//! the clock, a lens on each row, the row of the class.

use eframe::egui::{Id, Rect, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2};

use super::Canvas;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::screens::OnScreen;
use crate::app::state::{Command, Commands, Selection};
use crate::view::scale::TimeScale;
use crate::view::scene::sign::LOOK;

/// Width of what answers to a click on a checkpoint, and its height.
const FIELD: (f32, f32) = (16.0, 13.0);

/// The checkpoints along the clock.
pub fn looks(ui: &Ui, shown: &OnScreen<'_>, head: Rect, scale: &TimeScale, out: &mut Commands) {
    let palette = Palette::of(ui.ctx());
    let all = shown.odds.map(|odds| odds.looks.as_slice()).unwrap_or_default();
    for look in all {
        let x = scale.x(look.at.get() as f32);
        if !(scale.left..=scale.left + scale.width).contains(&x) {
            continue;
        }
        let foot = pos2(x, head.bottom());
        let rect = Rect::from_min_max(
            foot - vec2(FIELD.0 / 2.0, FIELD.1),
            foot + vec2(FIELD.0 / 2.0, 0.0),
        );
        let response = ui.interact(rect, Id::unique(("look", look.at)), Sense::click());
        response.widget_info(|| WidgetInfo::labeled(Role::Button, true, say(&look.spoken)));
        if response.clicked() {
            out.push(Command::Look(look.at));
        }
        let chosen = shown.view.selection == Selection::Odds && shown.view.look == Some(look.at);
        if response.has_focus() {
            let stroke = Stroke::new(2.0, palette.focus);
            ui.painter().rect_stroke(rect.expand(1.0), 3.0, stroke, StrokeKind::Outside);
        } else if chosen || response.hovered() {
            let line = foot.x - LOOK.0..=foot.x + LOOK.0;
            let stroke = Stroke::new(2.0, palette.ink);
            ui.painter().hline(line, foot.y - LOOK.1 - 2.5, stroke);
        }
        response.on_hover_text(say(&look.spoken));
    }
}

/// The lenses of groups, and the row of the class.
pub fn lenses(ui: &mut Ui, canvas: &Canvas<'_>, out: &mut Commands) {
    let Some(odds) = canvas.shown.odds else { return };
    let clip = ui.clip_rect().intersect(canvas.across);
    let told = |ui: &Ui, id: Id, rect: Rect, spoken: &str| {
        if clip.intersects(rect) {
            let response = ui.interact(rect.intersect(clip), id, Sense::hover());
            response.widget_info(|| WidgetInfo::labeled(Role::Label, true, say(spoken)));
            response.on_hover_text(say(spoken));
        }
    };
    for (i, (lens, area)) in odds.rows.iter().zip(&canvas.laid.lenses).enumerate() {
        if let (Some(lens), Some(area)) = (lens, area) {
            told(ui, Id::unique(("lens", i)), canvas.rect(area), &lens.spoken);
        }
    }
    if let (Some(lens), Some(area)) = (&odds.class, canvas.picture.class_lens()) {
        told(ui, Id::unique("lens of the class"), canvas.rect(&area), &lens.spoken);
    }
    class_name(ui, canvas, out);
}

/// The name of the class's row leads to the card.
fn class_name(ui: &Ui, canvas: &Canvas<'_>, out: &mut Commands) {
    let Some(place) = canvas.laid.class else { return };
    let rect = canvas.rect(&canvas.picture.name_area(place));
    let response = ui.interact(rect, Id::unique("the class"), Sense::click());
    let spoken = "The class: odds by the bell";
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, say(spoken)));
    if response.clicked() {
        response.request_focus();
        out.push(Command::Select(Selection::Odds));
    }
    if response.gained_focus() {
        ui.scroll_to_rect(rect.expand(20.0), None);
    }
    let painter = ui.painter();
    let is_chosen = canvas.shown.view.selection == Selection::Odds;
    if response.has_focus() {
        let stroke = Stroke::new(3.0, canvas.palette.focus);
        painter.rect_stroke(rect, 5.0, stroke, StrokeKind::Inside);
    } else if is_chosen || response.hovered() {
        let stroke = Stroke::new(if is_chosen { 1.5 } else { 1.0 }, canvas.palette.edge);
        painter.rect_stroke(rect, 4.0, stroke, StrokeKind::Inside);
    }
}
