//! Editing in its place on the board: a group's or an oven's name, and when a
//! step or a bake starts.

use crate::app::state::Commands;
use eframe::egui::{self, Id, Key, Rect, Ui, vec2};

use crate::app::looks::fonts;
use crate::app::looks::say::say;
use crate::app::screens::board::{Canvas, bar_widget};
use crate::app::state::{Command, InPlace};
use crate::session::start_of;
use crate::view::words::clock;

/// The field, over what is edited.
pub fn show(ui: &mut Ui, canvas: &Canvas<'_>, out: &mut Commands) {
    let Some(what) = canvas.shown.view.in_place else { return };
    let (lesson, plan) = (canvas.shown.lesson(), canvas.shown.plan());
    let Some((place, name, now)) = (match what {
        InPlace::Start(thing) => {
            let place = crate::app::screens::board::carry::home(canvas, thing);
            let now = start_of(lesson, plan, thing).map(|m| clock(lesson, m).to_string());
            place.zip(now).map(|(place, now)| (place, "Starts at", now))
        }
        InPlace::Group(g) => {
            let rows = &canvas.board.rows;
            let at = rows.iter().position(|r| r.group == g).and_then(|i| canvas.laid.rows.get(i));
            at.map(|&at| {
                (name_place(ui, canvas, at), "Name of the group", lesson.group(g).name.clone())
            })
        }
        InPlace::Oven(o) => {
            let ovens = &canvas.board.ovens;
            let at = ovens.iter().position(|l| l.oven == o).and_then(|i| canvas.laid.ovens.get(i));
            let now = lesson.ovens[o.0].name.clone();
            at.map(|&at| (name_place(ui, canvas, at), "Name of the oven", now))
        }
    }) else {
        return;
    };
    let id = Id::unique(("in place", format!("{what:?}")));
    let mut text = ui.data(|d| d.get_temp::<String>(id)).unwrap_or_else(|| now.clone());
    let new = ui.data(|d| d.get_temp::<String>(id)).is_none();
    let area = egui::Area::new(id.with("area")).fixed_pos(place.min).order(egui::Order::Foreground);
    area.show(ui.ctx(), |ui| {
        egui::Frame::popup(ui.style()).show(ui, |ui| {
            let label = ui.label(say(name));
            let edit = egui::TextEdit::singleline(&mut text)
                .id(id)
                .font(fonts::plain(14.5))
                .desired_width(place.width().clamp(120.0, 220.0));
            let response = ui.add(edit).labelled_by(label.id);
            if new {
                response.request_focus();
            }
            ui.horizontal(|ui| {
                let enter = response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
                if ui.button(say("Take it")).clicked() || enter {
                    out.push(Command::TypedInPlace(text.clone()));
                }
                let escape = response.lost_focus() && ui.input(|i| i.key_pressed(Key::Escape));
                if ui.button(say("Leave it")).clicked() || escape {
                    out.push(Command::InPlace(None));
                }
            });
        });
    });
    let done = out.iter().any(|c| matches!(c, Command::TypedInPlace(_) | Command::InPlace(_)));
    // The keyboard goes back to where it came from.
    let came_from = match what {
        InPlace::Start(_) => canvas.shown.view.current.map(bar_widget),
        InPlace::Group(group) => Some(Id::unique(("group", group))),
        InPlace::Oven(oven) => Some(Id::unique(("oven", oven))),
    };
    if let Some(id) = came_from.filter(|_| done) {
        ui.memory_mut(|m| m.request_focus(id));
    }
    ui.data_mut(|d| {
        if done {
            d.remove::<String>(id);
        } else {
            d.insert_temp(id, text);
        }
    });
}

fn name_place(ui: &Ui, canvas: &Canvas<'_>, (top, height): (f32, f32)) -> Rect {
    let left = ui.max_rect().left() + 4.0;
    let at = egui::pos2(left, canvas.origin.y + top);
    Rect::from_min_size(at, vec2(canvas.scale.left - 8.0 - left, height))
}
