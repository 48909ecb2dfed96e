//! No lesson is open: one can be begun, opened, or taken from those used last.

use eframe::egui::{RichText, ScrollArea, Ui};

use crate::app::looks::button::button;
use crate::app::looks::follow::Follow as _;
use crate::app::looks::fonts;
use crate::app::looks::say::say;
use crate::app::state::{Command, Commands, Prefs};
use crate::session::{Command as LessonCommand, Session};

/// Shows the ways to a lesson.
pub fn show(ui: &mut Ui, session: &Session, prefs: &Prefs, out: &mut Commands) {
    ui.label(RichText::new(say("No lesson is open.")).font(fonts::bold(22.0)));
    ui.add_space(6.0);
    ui.horizontal_wrapped(|ui| {
        button(ui, true, LessonCommand::New, Some("a new lesson".to_owned()), out);
        button(ui, true, Command::AskOpen, None, out);
        button(ui, true, LessonCommand::OpenDemo, None, out);
        button(ui, true, Command::AskWeek, None, out);
    });
    let left = session.left_behind();
    if left.is_empty() && prefs.recent.is_empty() {
        return;
    }
    ui.add_space(12.0);
    ui.label(RichText::new(say("Recent")).font(fonts::bold(16.0)));
    ScrollArea::vertical().id_salt("recent").follow(ui, |ui| {
        for copy in left {
            let name = copy.path.file_stem().unwrap_or_default().to_string_lossy();
            file(ui, format!("{} {name}", say("Not saved:")), &copy.path, out);
        }
        for path in &prefs.recent {
            let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy();
            file(ui, name.into_owned(), path, out);
        }
    });
}

fn file(ui: &mut Ui, name: String, path: &std::path::Path, out: &mut Commands) {
    if ui.button(name).on_hover_text(path.to_string_lossy()).clicked() {
        out.push(LessonCommand::Open(path.to_path_buf()));
    }
}
