//! Another plan's bars over the board: outlines with cut corners, its ready
//! times below those now, its bells and steps of the class as dashed lines.

use eframe::egui::{
    Align2, Id, Painter, Pos2, Rect, Role, Sense, Shape, Stroke, Ui, WidgetInfo, pos2, vec2,
};

use super::parts::across;
use crate::app::looks::fitted;
use crate::app::looks::fonts;
use crate::app::looks::paint;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::screens::board::Canvas;
use crate::view::board::{Bar, BarId, Work};
use crate::view::overlay::{GhostRow, Ghosts, Tense};

/// Bells and steps of the class where the other plan has them.
pub fn lines(ui: &mut Ui, canvas: &Canvas<'_>, ghosts: &Ghosts) {
    let painter = across(ui, canvas);
    let dashed = |x: f32, stroke: Stroke| {
        let line = [pos2(x, canvas.across.top()), pos2(x, canvas.across.bottom())];
        painter.extend(Shape::dashed_line(&line, stroke, 6.0, 4.0));
    };
    for band in &ghosts.bands {
        let (from, until) =
            (canvas.scale.x(band.from.get() as f32), canvas.scale.x(band.until.get() as f32));
        for x in [from, until] {
            dashed(x, Stroke::new(1.5, canvas.palette.class.1));
        }
        let rect = Rect::from_x_y_ranges(from..=until, canvas.across.y_range());
        let rect = rect.intersect(ui.clip_rect()).intersect(canvas.across);
        let id = Id::unique(("ghost band", band.step));
        let response = ui.interact(rect, id, Sense::hover());
        response.widget_info(|| WidgetInfo::labeled(Role::Label, true, say(&band.spoken)));
        response.on_hover_text(say(&band.spoken));
    }
    for bell in &ghosts.bells {
        dashed(canvas.scale.x(bell.get() as f32), Stroke::new(2.0, canvas.palette.ink));
    }
}

/// What the outlines are, at the left of the clock.
pub fn legend(ui: &Ui, at: Pos2, ghosts: &Ghosts) {
    let palette = Palette::of(ui.ctx());
    let sample = Rect::from_center_size(at + vec2(14.0, 0.0), vec2(28.0, 15.0));
    paint::ghost(ui.painter(), sample, Work::Bake, palette);
    let words = match ghosts.tense {
        Tense::Then => "then",
        Tense::Before => "before",
    };
    let at = pos2(sample.right() + 7.0, at.y);
    ui.painter().text(at, Align2::LEFT_CENTER, say(words), fonts::plain(13.0), palette.soft);
}

/// The other plan's bars.
pub fn bars(ui: &mut Ui, canvas: &Canvas<'_>, ghosts: &Ghosts) {
    let clip = ui.clip_rect().intersect(canvas.across.expand(1.0));
    let painter = ui.painter().with_clip_rect(clip);
    for (bar, area) in ghosts.bars().zip(&canvas.laid.ghosts) {
        let rect = canvas.rect(area).shrink2(vec2(0.5, 0.0));
        if !clip.intersects(rect) {
            continue;
        }
        let id = Id::unique(("ghost", bar.id));
        let response = ui.interact(rect.intersect(clip), id, Sense::hover());
        response.widget_info(|| WidgetInfo::labeled(Role::Label, true, say(&bar.spoken)));
        paint::ghost(&painter, rect, bar.work, canvas.palette);
        label(&painter, rect, bar, canvas);
        response.on_hover_text(say(&bar.spoken));
    }
}

fn label(painter: &Painter, rect: Rect, bar: &Bar, canvas: &Canvas<'_>) {
    if rect.height() < 12.5 || rect.width() < 24.0 {
        return;
    }
    let font = fonts::plain(13.0_f32.min(rect.height() - 1.5));
    let room = rect.width() - 10.0;
    let words = match bar.id {
        // Whose a tin is must be read, if only in part.
        BarId::Tin(..) => fitted(painter, &bar.label, font.clone(), room),
        _ => bar.label.clone(),
    };
    let galley = painter.layout_no_wrap(say(words).into_owned(), font, canvas.palette.ink);
    if galley.size().x <= room {
        let place = Rect::from_center_size(rect.center(), galley.size());
        if rect.height() < 16.0 {
            // Dashes are kept off the words.
            painter.rect_filled(place.expand2(vec2(2.0, 0.0)), 0.0, canvas.palette.ghost);
        }
        painter.galley(place.min, galley, canvas.palette.ink);
    }
}

/// The other plan's ready time, below the one now.
pub fn ready(ui: &Ui, canvas: &Canvas<'_>, ghost: &GhostRow, y: f32) {
    let x = canvas.across.right() + 18.0;
    let rect = Rect::from_min_max(pos2(x - 10.0, y), pos2(ui.max_rect().right() - 2.0, y + 34.0));
    let id = Id::unique(("ready", ghost.name.as_str()));
    let response = ui.interact(rect.intersect(ui.clip_rect()), id, Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, say(&ghost.spoken)));
    let painter = ui.painter();
    if let Some(verdict) = ghost.verdict.filter(|_| !ghost.ready.is_empty()) {
        paint::verdict(painter, pos2(x, y + 26.0), verdict, canvas.palette);
    }
    let words = fitted(painter, &ghost.ready, fonts::bold(14.0), rect.right() - x - 11.0);
    let at = pos2(x + 11.0, y + 17.0);
    painter.text(at, Align2::LEFT_TOP, say(words), fonts::bold(14.0), canvas.palette.ink);
    response.on_hover_text(say(&ghost.spoken));
}

/// A group or an oven only the other plan has: its name, set apart.
pub fn only_there(
    ui: &mut Ui,
    canvas: &Canvas<'_>,
    (top, height): (f32, f32),
    (title, under): (&str, &str),
) {
    let left = ui.max_rect().left() + 4.0;
    let rect = Rect::from_min_max(
        pos2(left, canvas.origin.y + top),
        pos2(canvas.scale.left - 8.0, canvas.origin.y + top + height),
    );
    let seen = rect.intersect(ui.clip_rect());
    if !seen.is_positive() {
        return;
    }
    let spoken = format!("{title}, only in the plan laid over, {under}");
    let response = ui.interact(seen, Id::unique(("only there", title)), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, say(&spoken)));
    let painter = ui.painter().with_clip_rect(seen);
    let width = rect.width() - 8.0;
    let title = fitted(&painter, title, fonts::bold(14.0), width);
    let under = fitted(&painter, under, fonts::plain(13.0), width);
    let at = rect.left_top() + vec2(5.0, 1.0);
    painter.text(at, Align2::LEFT_TOP, title, fonts::bold(14.0), canvas.palette.soft);
    let at = at + vec2(0.0, 16.0);
    painter.text(at, Align2::LEFT_TOP, say(under), fonts::plain(13.0), canvas.palette.soft);
    response.on_hover_text(say(&spoken));
}
