//! The places of the lesson, the bell between what is done before it and what after; the
//! one that is shown is bold and underlined.

use eframe::egui::{
    Align2, Key, KeyboardShortcut, Modifiers, Rect, Response, Role, Sense, Stroke, StrokeKind, Ui,
    WidgetInfo, vec2,
};

use super::Head;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::looks::{fonts, is_low, width_of};
use crate::app::state::{Command, Commands, Hint, PLACES, Place, WEEK_PLACES, WeekChoice};

/// How they are measured.
#[derive(Clone, Copy)]
struct Sizes {
    /// Size of the letters.
    letters: f32,
    /// Height of a name with its air.
    height: f32,
    /// Width of the bell among them.
    bell: f32,
    /// Air on either side of a name.
    air: f32,
}

/// Between the grounds of two names, so that no press is meant for both.
const APART: f32 = 1.0;

impl Sizes {
    /// In a low window all of them stand in one row with the rest.
    fn of(ui: &Ui) -> Self {
        match is_low(ui.ctx()) {
            true => Self { letters: 12.5, height: 21.0, bell: 5.0, air: 2.5 },
            false => Self { letters: 16.0, height: 24.0, bell: 20.0, air: 12.5 },
        }
    }
}

/// How wide they are together, with the air that follows the last.
pub fn width(ui: &Ui, head: &Head<'_>) -> f32 {
    let sizes = Sizes::of(ui);
    let wide = |name: &str| place_width(ui, name, sizes) + APART;
    let all: f32 = match head.session.week_on_screen() {
        Some(_) => WEEK_PLACES.iter().map(|stop| wide(stop.name)).sum(),
        None => PLACES.iter().map(|stop| wide(stop.name)).sum::<f32>() + sizes.bell,
    };
    all + ui.spacing().item_spacing.x
}

/// A name is as wide as it is in bold, so that none moves when it is gone to.
fn place_width(ui: &Ui, name: &str, sizes: Sizes) -> f32 {
    width_of(ui, name, fonts::bold(sizes.letters)).ceil() + 2.0 * sizes.air
}

/// Shows them; where the way to setting up is.
pub fn show(ui: &mut Ui, head: &Head<'_>, out: &mut Commands) -> Option<Rect> {
    let gap = std::mem::replace(&mut ui.spacing_mut().item_spacing.x, APART);
    let set_up = match head.session.week_on_screen() {
        Some(_) => {
            of_week(ui, head, out);
            None
        }
        None => of_lesson(ui, head, out),
    };
    ui.spacing_mut().item_spacing.x = gap;
    set_up
}

fn of_lesson(ui: &mut Ui, head: &Head<'_>, out: &mut Commands) -> Option<Rect> {
    let palette = Palette::of(ui.ctx());
    let may = head.session.document().is_some();
    let mut set_up = None;
    for stop in PLACES {
        if stop.place == Place::Day {
            bell(ui, palette);
        }
        let is_here = head.view.place == stop.place && head.session.broken().is_none();
        let way = place(ui, (stop.name, may, is_here && may), palette);
        if way.clicked() {
            out.push(Command::Go(stop.place));
        }
        if stop.place == Place::SetUp {
            set_up = Some(way.rect);
            if head.hints.now == Some(Hint::SetUp) {
                let stroke = Stroke::new(2.0, palette.focus);
                ui.painter().rect_stroke(way.rect, 6.0, stroke, StrokeKind::Inside);
            }
        }
        hint(way, stop.what, stop.key);
    }
    set_up
}

fn of_week(ui: &mut Ui, head: &Head<'_>, out: &mut Commands) {
    let palette = Palette::of(ui.ctx());
    for stop in &WEEK_PLACES {
        let is_here = head.view.week.place == stop.place;
        let way = place(ui, (stop.name, true, is_here), palette);
        if way.clicked() {
            out.push(Command::Week(WeekChoice::Go(stop.place)));
        }
        hint(way, stop.what, stop.key);
    }
}

/// What is there, and the key that leads there.
fn hint(way: Response, what: &str, key: Key) {
    let keys = way.ctx.format_shortcut(&KeyboardShortcut::new(Modifiers::COMMAND, key));
    way.on_hover_text(say(format!("{what} ({keys})")));
}

fn place(ui: &mut Ui, (name, may, is_here): (&str, bool, bool), palette: &Palette) -> Response {
    let sizes = Sizes::of(ui);
    let height = ui.spacing().interact_size.y.max(sizes.height);
    let sense = if may { Sense::click() } else { Sense::hover() };
    let (rect, response) =
        ui.allocate_exact_size(vec2(place_width(ui, name, sizes), height), sense);
    response.widget_info(|| WidgetInfo::selected(Role::Button, may, is_here, say(name)));
    let font = if is_here { fonts::bold(sizes.letters) } else { fonts::plain(sizes.letters) };
    let colour = if may { palette.ink } else { palette.soft };
    if response.hovered() && may {
        ui.painter().rect_filled(rect, 5.0, palette.chosen);
    }
    ui.painter().text(rect.center(), Align2::CENTER_CENTER, say(name), font, colour);
    if is_here {
        let line = rect.x_range().shrink(sizes.air);
        ui.painter().hline(line, rect.bottom() - 1.5, Stroke::new(2.5, palette.ink));
    }
    if response.has_focus() {
        let stroke = Stroke::new(3.0, palette.focus);
        ui.painter().rect_stroke(rect, 5.0, stroke, StrokeKind::Inside);
    }
    response
}

/// The bell, as on the running order.
fn bell(ui: &mut Ui, palette: &Palette) {
    let (rect, response) = ui.allocate_exact_size(vec2(Sizes::of(ui).bell, 18.0), Sense::hover());
    ui.painter().vline(rect.center().x, rect.y_range(), Stroke::new(2.5, palette.ink));
    response.on_hover_text(say("the bell: what stands before it is done before the lesson"));
}
