//! The row along the top: the lesson and its file, its places, and what is
//! there at every place. Nothing in it moves from place to place.

use eframe::egui::{self, Align, Layout, Rect, RichText, Ui, vec2};

use super::{Head, lesson_menu, looks_menu, places};
use crate::app::looks::button::{button, named};
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::looks::{fonts, is_low, width_of};
use crate::app::state::{Command, Commands, Follows};
use crate::session::{Command as LessonCommand, Document, WeekCommand, WeekDocument};

/// What may be said of how the lesson stands to its file.
const STANDINGS: [&str; 5] = ["Saved", "Not saved", "No file yet", "Sample", "Read only"];

/// Shows the row; where the way to setting up is.
pub fn show(ui: &mut Ui, head: &Head<'_>, out: &mut Commands) -> Option<Rect> {
    if is_low(ui.ctx()) {
        ui.spacing_mut().button_padding = vec2(3.0, 2.0);
        ui.spacing_mut().item_spacing.x = 3.0;
    }
    let gap = ui.spacing().item_spacing.x;
    let left = widths(ui, &["Lesson", "Undo", "Redo"]) + standing_width(ui) + 4.0 * gap;
    let left = left + back_to_week(ui, head);
    let right = widths(ui, &["Class view", "Help", "Looks"]) + 3.0 * gap;
    let room = ui.available_width();
    let apart = apart(ui);
    if left + places::width(ui, head) + right + apart <= room {
        return ui.horizontal(|ui| all(ui, head, out)).inner;
    }
    // The places have a row of their own, with the rest where the first is full.
    let both = left + right <= room;
    ui.horizontal(|ui| {
        of_the_lesson(ui, head, out);
        if both {
            at_the_right(ui, head, out);
        }
    });
    let way = |ui: &mut Ui| {
        to_the_week(ui, head, out);
        let set_up = places::show(ui, head, out);
        if !both {
            at_every_place(ui, head, out);
        }
        set_up
    };
    ui.horizontal_wrapped(way).inner
}

fn all(ui: &mut Ui, head: &Head<'_>, out: &mut Commands) -> Option<Rect> {
    of_the_lesson(ui, head, out);
    ui.add_space(apart(ui));
    to_the_week(ui, head, out);
    let set_up = places::show(ui, head, out);
    at_the_right(ui, head, out);
    set_up
}

/// Air between the lesson's own buttons, its places, and the rest.
fn apart(ui: &Ui) -> f32 {
    if is_low(ui.ctx()) { 2.0 } else { 14.0 }
}

/// Its menu, undo, and whether it is saved.
fn of_the_lesson(ui: &mut Ui, head: &Head<'_>, out: &mut Commands) {
    lesson_menu::show(ui, head, out);
    let week = head.session.week_on_screen();
    let doc = head.session.document().filter(|_| week.is_none());
    let undo = doc.and_then(Document::can_undo).or(week.and_then(WeekDocument::can_undo));
    let undo = undo.map(|what| format!("take back: {what}"));
    button(ui, undo.is_some(), LessonCommand::Undo, undo, out);
    let redo = doc.and_then(Document::can_redo).or(week.and_then(WeekDocument::can_redo));
    let redo = redo.map(|what| format!("again: {what}"));
    button(ui, redo.is_some(), LessonCommand::Redo, redo, out);
    // What follows it stays where it is whatever it says.
    let width = standing_width(ui);
    let of_week = week.map_or("", |week| if week.changed() { STANDINGS[1] } else { STANDINGS[0] });
    let standing = doc.map_or(of_week, standing);
    let height = ui.spacing().interact_size.y;
    ui.allocate_ui_with_layout(vec2(width, height), Layout::left_to_right(Align::Center), |ui| {
        ui.set_width(width);
        let words = RichText::new(say(standing)).color(Palette::of(ui.ctx()).soft);
        ui.label(words);
    });
}

/// From a lesson back to the week that is open.
const BACK: &str = "‹ Week";

/// The room that the way back to the week takes.
fn back_to_week(ui: &Ui, head: &Head<'_>) -> f32 {
    match head.session.week() {
        Some(_) if head.session.week_on_screen().is_none() => {
            widths(ui, &[BACK]) + 2.0 * ui.spacing().item_spacing.x
        }
        _ => 0.0,
    }
}

fn to_the_week(ui: &mut Ui, head: &Head<'_>, out: &mut Commands) {
    if head.session.week_on_screen().is_some() || head.session.week().is_none() {
        return;
    }
    let from = head.session.from_week();
    let hint = from.unwrap_or_else(|| "the week that is open beside the lesson".to_owned());
    named(ui, true, BACK, LessonCommand::Week(WeekCommand::Show), Some(hint), out);
}

/// How a lesson stands to its file.
fn standing(doc: &Document) -> &'static str {
    let [saved, not_saved, no_file, sample, read_only] = STANDINGS;
    if doc.care().read_only().is_some() {
        read_only
    } else if doc.changed {
        not_saved
    } else if doc.is_sample {
        sample
    } else if doc.path.is_none() {
        no_file
    } else {
        saved
    }
}

fn at_the_right(ui: &mut Ui, head: &Head<'_>, out: &mut Commands) {
    let width = widths(ui, &["Class view", "Help", "Looks"]) + 2.0 * ui.spacing().item_spacing.x;
    ui.add_space((ui.available_width() - width).max(0.0));
    at_every_place(ui, head, out);
}

/// What is there at every place: the class view, help, looks.
fn at_every_place(ui: &mut Ui, head: &Head<'_>, out: &mut Commands) {
    class_view(ui, head, out);
    let hint = if head.view.help.is_some() { "leave it" } else { "what everything means" };
    named(ui, true, "Help", Command::Help(None), Some(hint.to_owned()), out);
    looks_menu::show(ui, head, out);
}

/// What a projector shows, and what that follows.
fn class_view(ui: &mut Ui, head: &Head<'_>, out: &mut Commands) {
    if head.session.planned().is_none() || head.session.week_on_screen().is_some() {
        ui.add_enabled(false, egui::Button::new(say("Class view")));
        return;
    }
    ui.menu_button(say("Class view"), |ui| {
        let (label, hint) = match head.class_view {
            None => (Command::ClassView.label(), "the clock, calls and ovens, and no more"),
            Some(_) => ("Close it", "the class sees nothing more"),
        };
        if named(ui, true, label, Command::ClassView, Some(hint.to_owned()), out) {
            ui.close();
        }
        for follows in [Follows::Clock, Follows::Line] {
            let command = Command::ClassViewFollows(follows);
            let chosen = head.class_view == Some(follows);
            let choice = egui::RadioButton::new(chosen, say(command.label()));
            if ui.add_enabled(head.class_view.is_some(), choice).clicked() {
                out.push(command);
                ui.close();
            }
        }
        rooms(ui, head, out);
    });
}

/// Which room the class sees, where the lesson has several.
fn rooms(ui: &mut Ui, head: &Head<'_>, out: &mut Commands) {
    let Some(lesson) = head.session.planned().map(|p| &p.lesson) else { return };
    let (Some(_), true) = (head.class_view, lesson.rooms.len() > 1) else { return };
    ui.separator();
    let all = std::iter::once((None, "All rooms"));
    let rooms = lesson.rooms.iter().enumerate().map(|(i, room)| (Some(i), room.name.as_str()));
    for (room, name) in all.chain(rooms) {
        let is_shown = head.class_view_room.map(|room| room.0) == room;
        if ui.radio(is_shown, say(name)).clicked() {
            out.push(Command::ClassViewRoom(room));
            ui.close();
        }
    }
}

/// Width of buttons with these words, without the air between them.
fn widths(ui: &Ui, all: &[&str]) -> f32 {
    let font = egui::TextStyle::Button.resolve(ui.style());
    let padding = 2.0 * ui.spacing().button_padding.x;
    all.iter().map(|words| width_of(ui, words, font.clone()) + padding).sum()
}

/// Width of the longest word on how a lesson stands to its file.
fn standing_width(ui: &Ui) -> f32 {
    let font = fonts::plain(egui::TextStyle::Body.resolve(ui.style()).size);
    STANDINGS.iter().map(|words| width_of(ui, words, font.clone())).fold(0.0, f32::max).ceil()
}
