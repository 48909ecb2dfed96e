//! Editing in its place on the board: a group's or an oven's name, and when a
//! step or a bake starts.

use eframe::egui::{self, Id, Key, Rect, Ui, vec2};

use super::board::{Canvas, bar_widget};
use super::command::Command;
use super::fonts;
use super::say::say;
use super::shell::App;
use crate::edit::{FileChange, own_group};
use crate::file::format::{LessonFile, RoomShape};
use crate::hand::{Spot, Thing};
use crate::model::{GroupId, OvenId};
use crate::setup::SetUp;
use crate::setup::rename::Named;
use crate::units::{ClockTime, Minute};
use crate::view::words::clock;

/// What is edited in its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum InPlace {
    /// When a thing starts, by the clock.
    Start(Thing),
    /// A group's name.
    Group(GroupId),
    /// An oven's name.
    Oven(OvenId),
}

impl App {
    /// Begins to edit something in its place, or leaves it as it was.
    pub(super) fn edit_in_place(&mut self, what: Option<InPlace>) {
        self.put_back();
        self.view.in_place = what;
    }

    /// Takes what was typed in its place.
    pub(super) fn typed_in_place(&mut self, text: &str) {
        let Some(what) = self.view.in_place.take() else { return };
        match what {
            InPlace::Start(thing) => match self.minute_of(text) {
                Ok(at) => self.put(vec![(thing, Spot { at: Some(at), place: None })]),
                Err(why) => self.message = Some(format!("Not moved: {why}.")),
            },
            InPlace::Group(_) | InPlace::Oven(_) => {
                if let Err(why) = self.rename_in_place(what, text) {
                    self.message = Some(format!("Not renamed: {why}."));
                }
            }
        }
    }

    fn minute_of(&self, text: &str) -> Result<Minute, String> {
        let lesson = self.planned.as_ref().ok_or("the plan is not there yet")?;
        let time = ClockTime::parse(text.trim()).map_err(|e| e.to_string())?;
        let since = time.minutes_since(lesson.periods[0].start_clock);
        Ok(Minute::BELL + since)
    }

    fn rename_in_place(&mut self, what: InPlace, to: &str) -> Result<(), String> {
        let (doc, lesson) = self.doc.as_ref().zip(self.planned.as_ref()).ok_or("no lesson")?;
        let mut file = doc.file().clone();
        let (old, named) = match what {
            InPlace::Group(g) => {
                let old = lesson.group(g).name.clone();
                let entry = own_group(&mut file, &old).ok_or("there is no such group")?;
                (old, Named::Group(entry))
            }
            InPlace::Oven(o) => {
                let old = lesson.ovens[o.0].name.clone();
                let entry = oven_entry(&file, &old).ok_or(
                    "several ovens are written as one entry: give them names under Set up, Room",
                )?;
                (old, entry)
            }
            InPlace::Start(_) => return Ok(()),
        };
        let change = SetUp::Called { what: &named, old: &old, to };
        let file = change.made(&file).map_err(|why| why.message)?;
        self.becomes_with_same_plan(&change.label(), file);
        Ok(())
    }
}

/// The entry of an oven that stands for it alone.
fn oven_entry(file: &LessonFile, name: &str) -> Option<Named> {
    let rooms = std::iter::once(&file.room).chain(&file.other_rooms);
    rooms.enumerate().find_map(|(room, shape)| in_room(shape, room, name))
}

fn in_room(shape: &RoomShape, room: usize, name: &str) -> Option<Named> {
    let own = shape.ovens.iter().position(|o| o.count.is_none() && o.name == name);
    if let Some(oven) = own {
        return Some(Named::Oven { room, unit: None, oven });
    }
    shape.units.iter().enumerate().find_map(|(unit, of)| {
        let oven = of.ovens.iter().position(|o| o.count.is_none() && o.name == name)?;
        Some(Named::Oven { room, unit: Some(unit), oven })
    })
}

/// The field, over what is edited.
pub fn show(ui: &mut Ui, canvas: &Canvas<'_>, out: &mut Vec<Command>) {
    let Some(what) = canvas.shown.view.in_place else { return };
    let (Some(lesson), Some(plan)) = (canvas.shown.lesson, canvas.shown.plan) else { return };
    let Some((place, name, now)) = (match what {
        InPlace::Start(thing) => {
            let place = super::carry::home(canvas, thing);
            let now = thing.start(lesson, plan).map(|m| clock(lesson, m).to_string());
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
