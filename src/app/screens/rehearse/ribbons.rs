//! What there is along the clock, and the clock's own line over it: dragged, or moved
//! by arrows.

use std::sync::Arc;

use eframe::egui::{self, Id, Key, Modifiers, Rect, Role, Sense, Stroke, StrokeKind, Ui};
use eframe::egui::{WidgetInfo, pos2, vec2};

use super::Rehearsed;
use crate::app::looks::kept::{Same, kept};
use crate::app::looks::paint_scene::InWindow;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::looks::{is_low, paint, paint_scene};
use crate::app::screens::board::keep_keys;
use crate::app::state::{Command, Commands, RehearseChoice};
use crate::model::Lesson;
use crate::units::{Minute, Minutes};
use crate::view::board::Board;
use crate::view::rehearsal::{Many, Rehearsal, standing};
use crate::view::scale::TimeScale;
use crate::view::scene::Scene;
use crate::view::scene::rehearsal::{AlongTheClock, NAMES, TIMES};
use crate::view::words::clock;

/// Room for the names of the ribbons.
const LEFT: f32 = 104.0;
/// Air to the right of the clock.
const RIGHT: f32 = 24.0;

/// How high the ribbons are.
pub fn height(ctx: &egui::Context) -> f32 {
    if is_low(ctx) { 84.0 } else { 104.0 }
}

/// What the picture is made of.
#[derive(PartialEq)]
struct Of {
    lesson: Same<Lesson>,
    board: Same<Board>,
    rehearsal: Same<Rehearsal>,
    scale: TimeScale,
    size: (f32, f32),
    under_clock: Option<Minute>,
}

impl Of {
    fn picture(&self) -> AlongTheClock<'_> {
        AlongTheClock {
            lesson: &self.lesson.0,
            board: &self.board.0,
            rehearsal: &self.rehearsal.0,
            scale: self.scale,
            size: self.size,
            under_clock: self.under_clock,
        }
    }

    fn scene(&self, measure: &InWindow<'_>) -> Scene {
        self.picture().scene(measure)
    }
}

/// Shows them.
pub fn show(ui: &mut Ui, of: &Rehearsed<'_>, out: &mut Commands) {
    let Some((first, last)) = of.rehearsal.ends() else { return };
    let palette = Palette::of(ui.ctx());
    let size = vec2(ui.available_width(), height(ui.ctx()));
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    let scale = TimeScale {
        from: first.get() as f32 - 0.5,
        until: last.get() as f32 + 1.0,
        left: LEFT,
        width: (rect.width() - LEFT - RIGHT).max(80.0),
    };
    let mut made_of = Of {
        lesson: Same(Arc::clone(&of.planned.lesson)),
        board: Same(Arc::clone(&of.planned.board)),
        rehearsal: Same(Arc::clone(of.rehearsal)),
        scale,
        size: size.into(),
        under_clock: None,
    };
    made_of.under_clock = made_of.picture().bell_under(middle_of(of.minute(), scale));
    tell(ui, &made_of, (rect, of));
    let scene = kept(ui.painter(), "along the clock", made_of, Of::scene);
    paint_scene::scene(ui.painter(), rect.min, &scene, palette);
    let scale = TimeScale { left: rect.left() + LEFT, ..scale };
    line(ui, of, (rect, scale), out);
}

/// Each ribbon in words, for those who hear and where the pointer rests on its name.
fn tell(ui: &mut Ui, made_of: &Of, (rect, of): (Rect, &Rehearsed<'_>)) {
    for (row, name) in NAMES.into_iter().enumerate() {
        let area = made_of.picture().row(row);
        let top = rect.top() + area.y;
        let left = egui::Rangef::new(rect.left(), rect.left() + LEFT);
        let place = Rect::from_x_y_ranges(left, top..=top + area.h);
        let words = match row {
            0 => many(of.lesson(), name, &of.rehearsal.along.doors),
            1 => many(of.lesson(), name, &of.rehearsal.along.on),
            2 => many(of.lesson(), name, &of.rehearsal.along.free),
            _ => format!("{name}: {}", of.rehearsal.notes.len()),
        };
        let response = ui.interact(place, Id::unique(("along the clock", row)), Sense::hover());
        response.widget_info(|| WidgetInfo::labeled(Role::Label, true, say(&words)));
        response.on_hover_text(say(words));
    }
}

/// "ovens on: 2 from 10:09, 4 from 10:21, none from 11:02".
fn many(lesson: &Lesson, name: &str, spans: &[Many]) -> String {
    let mut told = Vec::new();
    for (i, (from, until, count)) in spans.iter().enumerate() {
        told.push(format!("{count} from {}", clock(lesson, *from)));
        if spans.get(i + 1).is_none_or(|next| next.0 > *until) {
            told.push(format!("none from {}", clock(lesson, *until)));
        }
    }
    if told.is_empty() { format!("{name}: none") } else { format!("{name}: {}", told.join(", ")) }
}

/// The clock's line stands in the middle of its minute.
fn middle_of(minute: Minute, scale: TimeScale) -> f32 {
    let to = minute + Minutes::new(1);
    f32::midpoint(scale.x(minute.get() as f32), scale.x(to.get() as f32))
}

fn line(ui: &mut Ui, of: &Rehearsed<'_>, (rect, scale): (Rect, TimeScale), out: &mut Commands) {
    let palette = Palette::of(ui.ctx());
    let across = egui::Rangef::new(scale.left, scale.left + scale.width);
    let across = Rect::from_x_y_ranges(across, rect.y_range());
    let id = Id::unique("clock of a rehearsal");
    let response = ui.interact(across, id, Sense::click_and_drag());
    let spoken =
        format!("Clock of the rehearsal at {}, {}", of.card.at, standing(of.lesson(), of.minute()));
    response.widget_info(|| WidgetInfo::labeled(Role::Slider, true, say(&spoken)));
    if (response.dragged() || response.clicked())
        && let Some(pointer) = response.interact_pointer_pos()
    {
        let minute = scale.minute(pointer.x).floor() as i32;
        if minute != of.minute().get() {
            out.push(Command::Minute(Some(minute)));
        }
    }
    if response.clicked() {
        response.request_focus();
    }
    if response.has_focus() {
        keep_keys(ui, id, false, false);
        let pressed = |key| ui.input_mut(|i| i.count_and_consume_key(Modifiers::NONE, key)) as i32;
        let by = pressed(Key::ArrowRight) - pressed(Key::ArrowLeft);
        if by != 0 {
            out.push(Command::StepMinute(by));
        }
        for (key, next) in [(Key::PageDown, true), (Key::PageUp, false)] {
            if pressed(key) > 0 {
                out.push(Command::Rehearse(RehearseChoice::Call(next)));
            }
        }
        let stroke = Stroke::new(2.0, palette.focus);
        ui.painter().rect_stroke(across.shrink(1.0), 4.0, stroke, StrokeKind::Inside);
    }
    let x = middle_of(of.minute(), scale);
    ui.painter().vline(x, rect.top() + TIMES..=rect.bottom(), Stroke::new(3.0, palette.ink));
    let time = of.card.at.to_string();
    paint::time_of_line(ui.painter(), pos2(x, rect.top() + TIMES / 2.0), time, palette);
}
